//! One paper in several sizes: what is taken, what is bought, and what never happens.

use proptest::prelude::*;
use tablefold_geometry::{
    CutError, CutPart, Faces, Grain, Length, Paper, PatternDirection, Plan, verify,
};

use super::paper_need::asked_of;
use super::sizes::Sizes;
use super::*;
use crate::demo;

/// A sheet in inches.
fn size(id: i64, (width, height): (i64, i64), on_hand: u32, price: Option<u64>) -> StockPaper {
    StockPaper {
        id,
        paper: Paper {
            name: format!("Moss card {width} x {height} in"),
            width: Length::inches(width),
            height: Length::inches(height),
            gsm: None,
            caliper: Length::from_nm(250_000),
            grain: Grain::Unknown,
            direction: PatternDirection::None,
            faces: Faces::SameBothSides,
        },
        price_minor: price,
        on_hand,
        same_as: (id > 1).then_some(1),
        sizes: Vec::new(),
    }
}

fn part(name: &str, (width, height): (i64, i64), quantity: u32) -> CutPart {
    CutPart {
        name: name.to_owned(),
        width: Length::inches(width),
        height: Length::inches(height),
        quantity,
        turnable: true,
    }
}

struct Cut {
    sizes: Sizes,
    plan: Plan,
    proven: bool,
}

impl Cut {
    /// Sheets that are taken of a size.
    fn take(&self, id: i64) -> u32 {
        let of_size = |stock: usize| self.sizes.sheets[stock].id == id;
        let sheets = self.plan.sheets.iter().filter(|it| of_size(it.stock));
        sheets.map(|it| it.count).sum()
    }
}

/// Plans the parts, checks both plans against the planner's question, and gives the least one.
fn cut(sizes: &[StockPaper], named: &[i64], parts: &[CutPart]) -> Result<Cut, CutError> {
    let sizes = Sizes::new(sizes, named, parts);
    let job = asked_of(&sizes, parts.to_vec())?;
    let plans = plan_now(&job)?;
    for plan in [&plans.least_paper, &plans.least_fiddling] {
        assert_eq!(verify(&job, plan), Ok(()));
        let merged = sizes.by_size(plan.clone());
        assert!(merged.cost <= plan.cost);
        for (index, size) in sizes.sheets.iter().enumerate() {
            let taken = merged.sheets.iter().filter(|it| it.stock == index);
            let taken: u32 = taken.map(|it| it.count).sum();
            assert!(size.is_sold || taken <= size.on_hand, "{}", size.paper.name);
        }
    }
    Ok(Cut {
        plan: sizes.by_size(plans.least_paper.clone()),
        proven: plans.proven,
        sizes,
    })
}

#[test]
fn a_left_over_is_taken_where_it_saves_buying() {
    // 5 squares: a sheet holds 4, a left-over 1.
    let squares = [part("square", (6, 6), 5)];
    let sheet = |on_hand| size(1, (12, 12), on_hand, Some(60));
    let takes = |on_hand, left| {
        let left = size(2, (8, 7), left, None);
        let cut = cut(&[sheet(on_hand), left], &[1], &squares).expect("can be cut");
        assert!(cut.proven);
        (cut.take(1), cut.take(2))
    };
    assert_eq!(takes(0, 0), (2, 0));
    assert_eq!(takes(0, 1), (1, 1));
    assert_eq!(takes(0, 9), (0, 5));
    assert_eq!(takes(1, 1), (1, 1));
    // Whatever is there does: a sheet and a left-over are the least paper.
    assert_eq!(takes(2, 9), (1, 1));
}

#[test]
fn what_is_on_hand_is_used_up_before_the_cheapest_sheet_is_bought() {
    let squares = [part("square", (6, 6), 8)];
    let small = size(2, (6, 12), 0, Some(1));
    let large = size(1, (12, 12), 2, Some(9_000));
    let cut = cut(&[large, small], &[1], &squares).expect("can be cut");
    assert_eq!((cut.take(1), cut.take(2)), (2, 0));
}

#[test]
fn of_what_is_bought_the_least_money_is_spent_or_the_least_area_taken() {
    let squares = [part("square", (6, 6), 8)];
    let takes = |large: Option<u64>, small: Option<u64>, named: &[i64]| {
        let sizes = [size(1, (12, 12), 0, large), size(2, (6, 13), 0, small)];
        let cut = cut(&sizes, named, &squares).expect("can be cut");
        (cut.take(1), cut.take(2))
    };
    assert_eq!(takes(Some(60), Some(29), &[1]), (0, 4));
    assert_eq!(takes(Some(60), Some(31), &[1]), (2, 0));
    // Nobody says that more of the small ones can be had, until a colourway names them.
    assert_eq!(takes(Some(60), None, &[1]), (2, 0));
    // 12 x 12 twice is less than 6 x 13 four times.
    assert_eq!(takes(Some(60), None, &[1, 2]), (2, 0));
    assert_eq!(takes(None, Some(1), &[1]), (2, 0));
    // What costs nothing was paid before, and no shop sells it.
    assert_eq!(takes(Some(60), Some(0), &[1]), (2, 0));
}

#[test]
fn a_part_that_only_sheets_on_hand_hold_is_refused_when_they_run_out() {
    let sizes = [size(1, (12, 12), 0, Some(60)), size(2, (20, 20), 1, None)];
    let strips = |quantity| [part("strip", (3, 15), quantity)];
    assert_eq!(cut(&sizes, &[1], &strips(6)).map(|it| it.take(2)), Ok(1));
    let refused = cut(&sizes, &[1], &strips(9)).map(|it| it.take(2));
    assert!(matches!(
        refused,
        Err(CutError::TooFewSheets { .. } | CutError::NotFound { .. })
    ));
}

#[test]
fn sheets_lie_so_that_the_grain_of_all_runs_the_same_way() {
    let mut sizes = [size(1, (12, 12), 0, Some(60)), size(2, (8, 11), 9, None)];
    sizes[0].paper.grain = Grain::AlongWidth;
    sizes[1].paper.grain = Grain::AlongHeight;
    // Wide parts with the grain along their width: 3 lie on a letter that lies across.
    let parts = [part("strip", (11, 2), 5)];
    let made = cut(&sizes, &[1], &parts).expect("can be cut");
    let letter = made
        .sizes
        .sheets
        .iter()
        .find(|it| it.id == 2)
        .expect("there");
    assert!(letter.is_turned && letter.paper.grain == Grain::AlongWidth);
    assert_eq!(letter.paper.width, Length::inches(11));
    assert!(!made.sizes.turnable);
    assert_eq!((made.take(1), made.take(2)), (0, 2));
    // A print with an up stays upright, and then holds none.
    sizes[1].paper.direction = PatternDirection::OneWay;
    let made = cut(&sizes, &[1], &parts).expect("can be cut");
    assert_eq!(made.sizes.sheets.len(), 1);
}

#[test]
fn the_planner_is_asked_about_no_more_sheets_than_it_takes() {
    let parts = [part("tag", (1, 1), 400), part("box", (5, 5), 40)];
    let left = (2..99).map(|id| size(id, (2 + id % 7, 3 + id % 5), 100_000, Some(5)));
    let mut sizes: Vec<StockPaper> = left.collect();
    sizes.push(size(1, (12, 12), 100_000, Some(u64::MAX)));
    let asked = Sizes::new(&sizes, &[1], &parts);
    assert!(asked.sheets.len() < 30 && asked.sheets.iter().any(|it| it.id == 1));
    let job = asked_of(&asked, parts.to_vec()).expect("within all limits");
    // The plan itself must stay within the planner's numbers.
    assert!(job.stock().iter().all(|stock| stock.cost <= 1_000_000));
    // Too small for any part: not worth a look.
    let tiny = [size(1, (12, 12), 0, None), size(2, (1, 4), 9, None)];
    assert_eq!(Sizes::new(&tiny, &[1], &parts[1..]).sheets.len(), 1);
}

/// Every number of sheets of each size, with what it costs: money, then area on hand in
/// `AREA_LEVELS`. A half sheet (6 x 12) holds 2 squares or 2 strips, a whole one is 2 halves.
fn brute(sizes: &[StockPaper; 3], squares: u32, strips: u32) -> u64 {
    let most = squares + strips;
    let money = |size: &StockPaper, take: u32| {
        let buy = u64::from(take.saturating_sub(size.on_hand));
        match size.price_minor {
            Some(price) => Some(buy * price),
            None => (buy == 0).then_some(0),
        }
    };
    let mut best = u64::MAX;
    for whole in 0..=most {
        for half in 0..=most {
            for single in 0..=squares {
                let halves = (squares - single).div_ceil(2) + strips.div_ceil(2);
                let taken = [whole, half, single];
                let costs = sizes
                    .iter()
                    .zip(taken)
                    .map(|(size, take)| money(size, take));
                if whole * 2 + half >= halves
                    && let Some(costs) = costs.collect::<Option<Vec<u64>>>()
                {
                    best = best.min(costs.iter().sum());
                }
            }
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn no_choice_of_sheets_costs_less(
        on_hand in prop::array::uniform3(0_u32..4),
        prices in (1_u64..90, prop::option::of(1_u64..90), prop::option::of(1_u64..90)),
        (squares, strips) in (0_u32..8, 0_u32..6),
    ) {
        prop_assume!(squares + strips > 0);
        let sizes = [
            size(1, (12, 12), on_hand[0], Some(prices.0)),
            size(2, (6, 12), on_hand[1], prices.1),
            size(3, (8, 8), on_hand[2], prices.2),
        ];
        let parts = [part("square", (6, 6), squares), part("strip", (3, 12), strips)];
        let made = cut(&sizes, &[1], &parts).expect("whole sheets can be bought");
        let bought = sizes.iter().map(|size| {
            let buy = made.take(size.id).saturating_sub(size.on_hand);
            u64::from(buy) * size.price_minor.unwrap_or(0)
        });
        prop_assert_eq!(bought.sum::<u64>(), brute(&sizes, squares, strips));
    }
}

#[test]
fn colourways_that_name_different_sizes_share_what_is_on_hand() {
    let mut class = demo::class_of_two_sizes(14);
    let moss = class.colourways[0].papers["main"].clone();
    let mut a4 = moss.sizes[0].clone();
    a4.sizes.push(StockPaper {
        sizes: Vec::new(),
        ..moss
    });
    class.colourways[1].papers.insert("main".to_owned(), a4);
    let made = packet(&class, &plan_now).expect("balances");
    let moss: Vec<_> = made.pull.papers.iter().filter(|it| it.id == 1).collect();
    let [moss] = moss.as_slice() else {
        panic!("one paper, {} times", moss.len())
    };
    // 2 parts of the box and the envelope, for both colourways.
    let main: u32 = moss.demands.iter().map(|part| part.quantity).sum();
    let kits = class.attendees.iter().filter(|it| it.colourway < 3);
    assert_eq!(main as usize, 2 * (kits.count() + 2));
    for pack in made.packs.iter().filter(|pack| pack.colourway < 3) {
        let main = pack.items.iter().filter(|item| item.paper == Some(1));
        let from: Vec<&str> = main.map(|item| item.from.as_str()).collect();
        assert_eq!(from, ["Moss card"; 2], "{}", pack.label);
    }
}

/// What lists say of a paper in two sizes agrees: pull, shopping, cost.
#[test]
fn every_list_counts_each_size() {
    let class = demo::class_of_two_sizes(14);
    let made = packet(&class, &plan_now).expect("balances");
    let moss = made.pull.papers.iter().find(|it| it.id == 1).expect("used");
    let taken: Vec<(i64, u32)> = moss.taken().map(|(size, take)| (size.id, take)).collect();
    assert_eq!(taken.iter().map(|it| it.0).collect::<Vec<_>>(), [1, 8]);
    assert_eq!(taken.iter().map(|it| it.1).sum::<u32>(), moss.sheets());
    let mut bought = Bought::default();
    for id in 1..=8 {
        bought.offers.add(Item::Paper(id), Offer::single(50));
    }
    let lines = shopping(&made, &bought);
    for (id, take) in taken {
        let line = lines.iter().find(|line| line.item == Item::Paper(id));
        let used = line.map(|line| line.need.used());
        assert_eq!(used, Some(Quantity::Count(take.into())));
    }
    // Kits pay for every sheet, whichever its size.
    let cost = cost(&class, &made, &bought);
    let kits = cost.kits.iter();
    let paper: Amount = kits.map(|kit| kit.paper.times(kit.kits.into())).sum();
    let sheets: u32 = made.pull.papers.iter().map(PaperPull::sheets).sum();
    assert_eq!(paper, Amount::minor(u64::from(sheets) * 50));
    let price = plan_price(&made.pull.papers, PlanChoice::LeastPaper, 2);
    assert_eq!(price.least_sheets, None);
}

#[test]
fn a_size_that_is_thicker_than_the_design_is_refused() {
    let mut class = demo::class_of_two_sizes(3);
    let moss = class.colourways[0].papers.get_mut("main").expect("has one");
    moss.sizes[0].paper.caliper = Length::from_nm(400_000);
    let problems = packet(&class, &plan_now).map(|_| ()).expect_err("refused");
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert!(
        said[0].starts_with("Colourway \"Meadow\" uses Moss card A4 (0.4 mm thick)"),
        "{said:?}"
    );
}

#[test]
fn a_part_that_no_size_holds_is_refused() {
    let mut class = demo::class_of_two_sizes(3);
    let moss = class.colourways[0].papers.get_mut("main").expect("has one");
    moss.paper.width = Length::inches(4);
    moss.sizes[0].paper.height = Length::inches(4);
    let problems = packet(&class, &plan_now).map(|_| ()).expect_err("refused");
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(said.join("\n"), @"Moss card: Seed box: box sheet is 5 13/16 in x 5 13/16 in and does not fit a sheet of 4 in x 12 in either way round. Use a larger sheet, or make the piece smaller.");
}
