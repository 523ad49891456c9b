//! Published values: the source stands beside each.

use serde_json::Value;

use super::referee::Referee;
use super::*;
use crate::cutting::generate::{Generator, Question, axes};
use crate::cutting::meter::Meter;
use crate::cutting::nested::Nested;
use crate::cutting::problem::Problem;

fn read(text: &str) -> Vec<Value> {
    serde_json::from_str(text).expect("the set is JSON")
}

fn best_nested(nested: &Nested, values: &[i64]) -> i64 {
    let mut go_on = |_: &crate::cutting::Progress| ControlFlow::Continue(());
    let mut meter = Meter::new(&Effort::thorough(), &mut go_on);
    nested.price(values, &mut meter).expect("not stopped")[0].value
}

fn nested(problem: &Problem) -> Option<Nested> {
    let [across, down] = axes(problem);
    Nested::new(problem, [&across, &down], u64::MAX)
}

fn whole(value: &Value) -> i64 {
    value.as_i64().expect("a whole number")
}

/// Haessler's rolls as in the GAMS model library (cutstock): 453 rolls, LP bound 452.25.
#[test]
fn the_rolls_take_453_and_the_linear_program_says_452_and_a_quarter() {
    let orders = [(45, 97), (36, 610), (31, 395), (14, 211)];
    let parts = orders.map(|(w, n)| part(&format!("{w}"), w, 10, n, false));
    for stages in [Some(1), Some(3), None] {
        let job = job(vec![stock("roll", 100, 10, 1)], parts.to_vec(), stages);
        let plans = planned(&job).expect("a plan");
        assert_eq!(
            (plans.least_paper.cost, plans.bound, plans.proven),
            (453, 453, true)
        );

        let problem = Problem::new(&job);
        let mut go_on = |_: &crate::cutting::Progress| ControlFlow::Continue(());
        let mut meter = Meter::new(&Effort::quick(), &mut go_on);
        let demand: Vec<f64> = orders.iter().map(|&(_, n)| f64::from(n)).collect();
        let relaxed = Generator::new(&problem, Effort::quick().steps).relax(
            &Question {
                demand: &demand,
                limits: &[None],
                prove: true,
                enough: i64::MAX,
            },
            &mut meter,
        );
        let rolls: f64 = relaxed.amounts.iter().map(|&(_, amount)| amount).sum();
        assert!((rolls - 452.25).abs() < 1e-6, "{rolls}");
    }
}

/// Beasley 1985, gcut1-12, any number of each part; the values of gcut1 (56 460 and 58 136)
/// also on the page of the University of Sao Paulo that lists them.
#[test]
fn the_best_pattern_of_a_sheet_has_the_published_area() {
    for set in read(include_str!(
        "../../../../tests/cutplan/one-sheet-unlimited.json"
    )) {
        // The larger ones take seconds without optimisation.
        if whole(&set["width"]) > 500 {
            continue;
        }
        for (turnable, best) in [(false, "best_fixed"), (true, "best_turning")] {
            let parts = set["parts"].as_array().expect("parts").iter();
            let parts = parts
                .map(|size| part("p", whole(&size[0]), whole(&size[1]), 1000, turnable))
                .collect();
            let sheet = stock("sheet", whole(&set["width"]), whole(&set["height"]), 1);
            let problem = Problem::new(&job(vec![sheet], parts, None));
            let nested = nested(&problem).expect("the table is small enough");
            let values: Vec<i64> = problem.area.iter().map(|&area| area as i64).collect();
            let found = best_nested(&nested, &values);
            assert_eq!(found, whole(&set[best]), "{} {best}", set["name"]);
        }
    }
}

/// Values of parts, width, height, value, at most: Christofides and Whitlock 1977, cgcut1.
const CGCUT1: [(i64, i64, u32, u32); 7] = [
    (8, 4, 66, 2),
    (3, 7, 35, 1),
    (8, 2, 24, 3),
    (3, 4, 17, 5),
    (3, 3, 11, 2),
    (3, 2, 8, 2),
    (2, 1, 2, 1),
];

/// cgcut1 on 15 x 10: 244 with fixed parts (published), 260 when they may turn (computed).
#[test]
fn the_best_mix_of_cgcut1_is_cut_from_one_sheet() {
    for (turnable, best) in [(false, 244), (true, 260)] {
        let parts = CGCUT1.map(|(w, h, _, most)| (w, h, most, turnable));
        let patterns = Referee::new(&parts).patterns(15, 10, None);
        let value = |counts: &[u32]| -> u32 {
            counts
                .iter()
                .zip(CGCUT1)
                .map(|(n, (_, _, value, _))| n * value)
                .sum()
        };
        let most = patterns
            .iter()
            .max_by_key(|counts| value(counts))
            .expect("a pattern");
        assert_eq!(value(most), best);
        let parts = CGCUT1
            .iter()
            .zip(most)
            .map(|(&(w, h, _, _), &n)| part(&format!("{w} x {h}"), w, h, n, turnable))
            .collect();
        let plans = planned(&job(vec![stock("sheet", 15, 10, 1)], parts, None)).expect("a plan");
        assert_eq!(plans.least_paper.cost, 1, "turning {turnable}: {most:?}");
    }
}

/// The optima of the limited sets (see the README beside them) bind from both sides: a sheet
/// filled with limited parts is worth no more, the best of unlimited parts no less.
#[test]
fn limited_sheets_lie_between_filling_and_unlimited_pricing() {
    for set in read(include_str!(
        "../../../../tests/cutplan/one-sheet-limited.json"
    )) {
        let sheet = stock("sheet", whole(&set["width"]), whole(&set["height"]), 1);
        let listed = set["parts"].as_array().expect("parts");
        let fits = |size: &&Value| {
            mm(whole(&size[0])) <= sheet.width && mm(whole(&size[1])) <= sheet.height
        };
        if whole(&set["width"]) > 130 {
            continue;
        }
        let listed: Vec<&Value> = listed.iter().filter(fits).collect();
        let parts = listed
            .iter()
            .map(|p| part("p", whole(&p[0]), whole(&p[1]), whole(&p[3]) as u32, false))
            .collect();
        let problem = Problem::new(&job(vec![sheet], parts, None));
        let values: Vec<i64> = listed.iter().map(|p| whole(&p[2])).collect();
        let nested = nested(&problem).expect("the table is small enough");
        let unlimited = best_nested(&nested, &values);
        let best = whole(&set["best"]);
        assert!(unlimited >= best, "{}: {unlimited} < {best}", set["name"]);
        let generator = Generator::new(&problem, Effort::quick().steps);
        let worth: Vec<f64> = values.iter().map(|&value| value as f64).collect();
        let mut random = crate::cutting::random::Random::new(1);
        for strips in &generator.strips {
            let mut left = problem.demand.clone();
            let filled = strips.fill_sheet(0, &worth, &mut left, 3, &mut random);
            let filled = filled.expect("something fits").value;
            assert!(
                filled <= best as f64 + 1e-6,
                "{}: {filled} > {best}",
                set["name"]
            );
            assert!(
                filled > 0.5 * best as f64,
                "{}: only {filled} of {best}",
                set["name"]
            );
        }
    }
}

/// Four cards of 2 x 3 lie in 5 x 5 only as a pinwheel; edge to edge there is room for 3.
#[test]
fn a_trimmer_gets_three_cards_of_2_by_3_from_5_by_5() {
    for (cards, sheets) in [(3, 1), (4, 2)] {
        for stages in [Some(3), None] {
            let cards = vec![part("card", 20, 30, cards, true)];
            let plans = planned(&job(vec![stock("square", 50, 50, 7)], cards, stages));
            let plans = plans.expect("a plan");
            assert_eq!(plans.least_paper.cost, 7 * sheets);
            assert!(plans.proven);
        }
    }
}

fn order(text: &str) -> CutJob {
    let value: Value = serde_json::from_str(text).expect("the order is JSON");
    let list = |key: &str| value[key].as_array().expect("a list").clone();
    let stock = list("stock")
        .iter()
        .map(|s| stock("s", whole(&s["width"]), whole(&s["height"]), 1))
        .collect();
    let parts = list("parts")
        .iter()
        .map(|p| {
            let quantity = whole(&p["quantity"]) as u32;
            part(
                "p",
                whole(&p["width"]),
                whole(&p["height"]),
                quantity,
                false,
            )
        })
        .collect();
    let stages = value["max_stages"].as_u64().map(|stages| stages as u8);
    job(stock, parts, stages)
}

/// Macedo et al. 2010 (optima proven in Becker's thesis), Cintra et al. 2008 and Chen et al. 2016.
#[test]
fn published_orders_are_planned_at_their_optimum() {
    let orders = [
        (include_str!("../../../../tests/cutplan/ind-A1.json"), 3),
        (include_str!("../../../../tests/cutplan/ind-A2.json"), 36),
        (include_str!("../../../../tests/cutplan/ind-A7.json"), 13),
        (include_str!("../../../../tests/cutplan/ind-A17.json"), 5),
        (include_str!("../../../../tests/cutplan/ind-A22.json"), 3),
        (
            include_str!("../../../../tests/cutplan/g1-gcut1d.json"),
            294,
        ),
        (
            include_str!("../../../../tests/cutplan/g1-gcut5d.json"),
            197,
        ),
    ];
    for (text, least) in orders {
        let plans = planned_in(&order(text), 20_000_000).expect("a plan");
        let name: String = text.chars().take(30).collect();
        assert_eq!(
            (plans.bound, plans.least_paper.cost),
            (least, least),
            "{name}"
        );
    }
}
