//! Sizing against brute force over the whole ruler grid, and against what must hold.

use std::f64::consts::SQRT_2;

use insta::assert_snapshot;
use proptest::prelude::*;

use super::*;
use crate::{PunchBoard, PunchBoxSettings, PunchEnvelopeSettings, Ruler, Trimmer, Unit};

fn inch(text: &str) -> Length {
    Length::read(text, Unit::Inch).unwrap_or_else(|error| panic!("{error}"))
}

fn block(width: &str, depth: &str, height: &str) -> Contents {
    Contents::Block {
        width: inch(width),
        depth: inch(depth),
        height: inch(height),
    }
}

fn stock(name: &str, width: &str, height: &str) -> Stock {
    Stock {
        name: name.to_owned(),
        width: inch(width),
        height: inch(height),
        price: None,
        turnable: true,
    }
}

fn usual(contents: Contents) -> SizingRequest {
    SizingRequest {
        contents,
        structure: Some(StructureKind::PunchBox),
        clearance: inch("1/16"),
        caliper: inch("0.3 mm"),
        board: PunchBoard::default_inch(),
        trimmer: Trimmer::default_inch(),
        sheets: vec![
            stock("12 x 12 in", "12", "12"),
            stock("A4", "210 mm", "297 mm"),
        ],
        makes: 14,
    }
}

fn first(request: &SizingRequest) -> Answer {
    let sizing = size(request).unwrap();
    let refused: Vec<String> = sizing.refused.iter().map(ToString::to_string).collect();
    let mut answers = sizing.answers.into_iter();
    answers.next().unwrap_or_else(|| panic!("{refused:?}"))
}

fn box_at(sheet: &str, punch_1: &str, punch_2: &str) -> Settings {
    Settings::Box(PunchBoxSettings {
        sheet: inch(sheet),
        punch_1: inch(punch_1),
        punch_2: inch(punch_2),
    })
}

/// Common practice, no source: a 5 1/4 in square punched at 1 1/2 and 2 7/8 in, notch 1/4 in,
/// gives a box of about 1 3/4 x 1 x 3 in.
#[test]
fn a_block_that_just_fits_the_known_box_gets_its_settings() {
    let mut request = usual(block("1.75", "0.945", "2.94"));
    request.clearance = Length::ZERO;
    let answer = first(&request);
    assert_eq!(answer.settings, box_at("5 1/4", "1 1/2", "2 7/8"));
    let axes = answer.axes;
    assert_eq!(
        (axes.width, axes.depth, axes.length),
        ("width", "depth", "height")
    );
    assert_eq!(
        answer.per_sheet,
        [("12 x 12 in".to_owned(), 4), ("A4".to_owned(), 2)]
    );
    assert_eq!(
        (answer.sheet.as_str(), answer.sheets_for_all),
        ("12 x 12 in", 4)
    );
}

#[test]
fn a_tin_lies_with_its_axis_where_the_sheet_is_least() {
    let contents = Contents::Cylinder {
        diameter: inch("60 mm"),
        height: inch("20 mm"),
    };
    let answer = first(&usual(contents));
    assert_eq!(answer.axes.depth, "height");
    assert_eq!(
        (answer.axes.width, answer.axes.length),
        ("diameter", "diameter")
    );
    let inside = answer.inside;
    for (room, needs) in [
        (inside.width, 60.0),
        (inside.length, 60.0),
        (inside.depth, 20.0),
    ] {
        assert!(room >= needs + 1.5875 - 1e-6, "{inside:?}");
    }
}

#[test]
fn a_thin_stack_gets_an_envelope_and_a_thick_one_a_box() {
    let stack = |count| Contents::Stack {
        width: inch("2"),
        height: inch("3"),
        each_thickness: inch("0.5 mm"),
        count,
    };
    let mut request = usual(stack(6));
    request.structure = None;
    let answer = first(&request);
    assert_eq!(answer.kind(), StructureKind::PunchEnvelope);
    assert_eq!(answer.axes.depth, "thickness");
    // 2 (W - t) >= 2 (w + h): the girth of the envelope goes round the stack.
    assert!(answer.inside.width >= inch("2 1/16").mm().min(inch("3 1/16").mm()) - 1e-6);
    request.contents = stack(20);
    let sizing = size(&request).unwrap();
    assert_eq!(sizing.answers.len(), 1);
    assert_eq!(sizing.answers[0].kind(), StructureKind::PunchBox);
    assert_snapshot!(sizing.refused[0], @"The punch-board envelope takes contents up to 1/4 in thick; these are 10 mm. Choose the punch-board box.");
}

#[test]
fn the_first_of_equal_prices_stays_first_and_a_lower_price_wins() {
    let mut request = usual(block("2", "1", "3"));
    request.sheets = vec![stock("blue", "12", "12"), stock("green", "12", "12")];
    assert_eq!(first(&request).sheet, "blue");
    request.sheets[0].price = Some(50);
    request.sheets[1].price = Some(40);
    let answer = first(&request);
    assert_eq!(answer.sheet, "green");
    assert_eq!(answer.cost, Some(40 * u64::from(answer.sheets_for_all)));
}

#[test]
fn what_does_not_fit_is_refused_with_what_would_do() {
    let refused = |request: &SizingRequest| {
        let sizing = size(request).unwrap();
        assert!(sizing.answers.is_empty());
        sizing
            .refused
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    };
    let mut request = usual(block("3", "3", "8"));
    assert_snapshot!(refused(&request), @"The punch-board box needs a sheet of 12 13/16 in; the largest is 12 x 12 in, 12 in on its shorter side. Add a larger sheet or take smaller contents.");
    request.contents = block("1", "6", "14");
    request.sheets = vec![stock("poster", "40", "60")];
    request.trimmer = Trimmer::new(Ruler::inch(16));
    assert_snapshot!(refused(&request), @"The punch-board box needs a blank of 16 3/8 in; the trimmer cuts up to 12 in. Use a longer trimmer or take smaller contents.");
    let long = Ruler::new(Unit::Inch, inch("1/16"), Length::ZERO, inch("40")).unwrap();
    request.trimmer = Trimmer::new(long);
    request.contents = block("10", "12", "12");
    assert_snapshot!(refused(&request), @"The punch-board box needs a punch at 23 1/8 in; the board reaches from 1/2 in to 8 in. Use a board that reaches further or take smaller contents.");
    request.contents = block("10 mm", "9999 mm", "10000 mm");
    assert_snapshot!(refused(&request), @"The punch-board box cannot be made for contents 10000 mm long: no tool reaches that far. Take smaller contents.");
    request.structure = None;
    request.contents = block("10000 mm", "10000 mm", "10000 mm");
    request.clearance = Length::MAX;
    assert_snapshot!(refused(&request), @r##"
The punch-board envelope takes contents up to 1/4 in thick; these are 10000 mm. Choose the punch-board box.
The punch-board box cannot be made for contents 10000 mm long: no tool reaches that far. Take smaller contents.
"##);
}

#[test]
fn a_field_that_makes_no_sense_is_named() {
    let wrong = |change: &dyn Fn(&mut SizingRequest)| {
        let mut request = usual(block("1", "2", "3"));
        change(&mut request);
        let error = size(&request).expect_err("refused");
        format!("{}: {error}", error.field)
    };
    let stack = |count, each| Contents::Stack {
        width: inch("2"),
        height: inch("3"),
        each_thickness: inch(each),
        count,
    };
    assert_snapshot!(wrong(&|r| r.contents = block("1", "0", "3")), @"contents.depth: 0 mm is no size. Type a length above 0, such as 60 mm.");
    assert_snapshot!(wrong(&|r| r.contents = stack(0, "1 mm")), @"contents.count: 0 is no number of things in a stack. Type one from 1 to 10000.");
    assert_snapshot!(wrong(&|r| r.contents = stack(u32::MAX, "1 mm")), @"contents.count: 4294967295 is no number of things in a stack. Type one from 1 to 10000.");
    assert_snapshot!(wrong(&|r| r.contents = stack(10_000, "2 mm")), @"contents.count: 10000 things of 2 mm make a stack over 10 m. Type fewer or thinner ones.");
    assert_snapshot!(wrong(&|r| r.caliper = Length::ZERO), @"caliper: 0 mm is no thickness of paper. Type one above 0 and up to 3 mm, such as 0.3 mm.");
    assert_snapshot!(wrong(&|r| r.caliper = inch("1/4")), @"caliper: 6.35 mm is no thickness of paper. Type one above 0 and up to 3 mm, such as 0.3 mm.");
    assert_snapshot!(wrong(&|r| r.makes = 0), @"makes: 0 is no number of pieces to make. Type one from 1 to 1000000.");
    assert_snapshot!(wrong(&|r| r.sheets.clear()), @"sheets: There is no sheet to cut from. Add at least one, such as 12 x 12 in.");
    assert_snapshot!(wrong(&|r| r.sheets[1].height = Length::ZERO), @"sheets[1].height: 0 mm is no size. Type a length above 0, such as 60 mm.");
    assert_snapshot!(wrong(&|r| r.sheets[1].name = " ".to_owned()), @"sheets[1].name: This sheet has no name. Type one, such as A4.");
    assert_snapshot!(wrong(&|r| r.sheets[1].name = "12 x 12 in".to_owned()), @r##"sheets[1].name: "12 x 12 in" names two sheets. Give each its own name."##);
}

#[test]
fn a_sixteenth_less_can_double_the_yield() {
    // 4 blanks of 6 in from 12 x 12 in; 6 1/16 in gives 1.
    let mut request = usual(block("2", "1 1/8", "3 1/4"));
    request.sheets.truncate(1);
    let sizing = size(&request).unwrap();
    let told: Vec<&str> = sizing
        .break_points
        .iter()
        .map(|point| point.text.as_str())
        .collect();
    assert_snapshot!(told.join("\n"), @"1/16 in less clearance gives 4 blanks from a sheet of 12 x 12 in instead of 1: 4 of 12 x 12 in for all 14, not 14 of 12 x 12 in.");
    let point = &sizing.break_points[0];
    request.clearance = point.clearance;
    let there = first(&request);
    assert_eq!(there.per_sheet[0].1, point.per_sheet);
}

/// What brute force finds best: sheets for all, blank side, looseness.
fn brute(request: &SizingRequest, kind: StructureKind) -> Option<(u32, Length, f64)> {
    let ruler = *request.board.ruler();
    let punches: Vec<Length> = ruler.marks_between(Length::ZERO, Length::MAX).collect();
    let blanks = request
        .trimmer
        .ruler()
        .marks_between(inch("1/8"), inch("9"));
    let mut best: Option<(u32, Length, f64)> = None;
    for sheet in blanks {
        let per_sheet = request
            .sheets
            .iter()
            .map(|stock| (stock.width.nm() / sheet.nm()) * (stock.height.nm() / sheet.nm()));
        let most = u32::try_from(per_sheet.max().unwrap_or(0)).unwrap();
        if most == 0 {
            continue;
        }
        let sheets = request.makes.div_ceil(most);
        for loose in loosenesses(request, kind, sheet, &punches) {
            let found = (sheets, sheet, loose);
            if best.is_none_or(|best| {
                (found.0, found.1) < (best.0, best.1)
                    || ((found.0, found.1) == (best.0, best.1) && loose < best.2)
            }) {
                best = Some(found);
            }
        }
    }
    best
}

/// The looseness of every pair of punches and every order of axes that fit on this sheet, with
/// room by the formulas of the punch board, worked out apart from the structures.
fn loosenesses(
    request: &SizingRequest,
    kind: StructureKind,
    sheet: Length,
    punches: &[Length],
) -> Vec<f64> {
    let (t, e) = (request.caliper.mm(), request.board.notch_depth().mm());
    let axes = request.contents.axes().unwrap().map(|(_, side)| side.mm());
    let orders = [
        [0, 1, 2],
        [0, 2, 1],
        [1, 0, 2],
        [1, 2, 0],
        [2, 0, 1],
        [2, 1, 0],
    ];
    let play = request.clearance.mm();
    let mut found = Vec::new();
    let mut take = |settings: Settings, room: &dyn Fn([f64; 3]) -> Option<[f64; 3]>| {
        if Structure::new(settings, &request.board, request.caliper).is_err() {
            return;
        }
        for order in orders {
            let lies = order.map(|axis: usize| axes[axis]);
            let Some(room) = room(lies) else { continue };
            let spare: Vec<f64> = room.iter().zip(lies).map(|(r, l)| r - l - play).collect();
            if spare.iter().all(|spare| *spare >= -1e-9) {
                found.push(spare.into_iter().fold(0.0, f64::max));
            }
        }
    };
    for punch_1 in punches {
        let p1 = punch_1.mm();
        if kind == StructureKind::PunchEnvelope {
            let at = PunchEnvelopeSettings {
                sheet,
                punch: *punch_1,
            };
            let width = SQRT_2 * (p1 - e) - t;
            let length = SQRT_2 * (sheet.mm() - p1 - e) - t;
            take(Settings::Envelope(at), &|lies| {
                let thick = lies[2];
                (thick <= 6.35).then_some([width - thick, length - thick, thick + play])
            });
            continue;
        }
        for punch_2 in punches.iter().filter(|punch_2| *punch_2 > punch_1) {
            let p2 = punch_2.mm();
            let at = PunchBoxSettings {
                sheet,
                punch_1: *punch_1,
                punch_2: *punch_2,
            };
            let (width, depth) = (SQRT_2 * (p1 - e), (p2 - p1) / SQRT_2);
            let length = SQRT_2 * (sheet.mm() - p2 - e);
            let layers = if 2.0 * depth.min(width - t) > width + 1e-9 {
                5.0
            } else {
                3.0
            };
            take(Settings::Box(at), &|_| {
                Some([width - t, length - layers * t, depth - 2.0 * t])
            });
        }
    }
    found
}

/// A coarse bench, so that brute force is quick.
fn coarse(contents: Contents, clearance: Length, makes: u32) -> SizingRequest {
    let ruler = Ruler::new(Unit::Inch, inch("1/8"), inch("1/2"), inch("3")).unwrap();
    SizingRequest {
        board: PunchBoard::new(inch("1/4"), ruler).unwrap(),
        trimmer: Trimmer::new(Ruler::inch(8)),
        clearance,
        makes,
        sheets: vec![stock("9 x 9 in", "9", "9"), stock("A4", "210 mm", "297 mm")],
        ..usual(contents)
    }
}

fn tenths(range: std::ops::Range<i64>) -> impl Strategy<Value = Length> {
    range.prop_map(|tenths| Length::from_nm(tenths * 100_000))
}

fn any_contents() -> impl Strategy<Value = Contents> {
    let side = || tenths(5..500);
    prop_oneof![
        (side(), side(), side()).prop_map(|(width, depth, height)| Contents::Block {
            width,
            depth,
            height
        }),
        (side(), side()).prop_map(|(diameter, height)| Contents::Cylinder { diameter, height }),
        (side(), side(), tenths(1..30), 1_u32..9).prop_map(
            |(width, height, each_thickness, count)| Contents::Stack {
                width,
                height,
                each_thickness,
                count
            }
        ),
    ]
}

fn any_kind() -> impl Strategy<Value = StructureKind> {
    prop_oneof![
        Just(StructureKind::PunchBox),
        Just(StructureKind::PunchEnvelope)
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn the_answer_is_what_brute_force_finds(
        contents in any_contents(),
        clearance in tenths(0..40),
        makes in 1_u32..40,
        kind in any_kind(),
    ) {
        let request = SizingRequest { structure: Some(kind), ..coarse(contents, clearance, makes) };
        let sizing = size(&request).unwrap();
        let answer = sizing.answers.first();
        let expected = brute(&request, kind);
        prop_assert!(answer.is_none_or(|answer| answer.checks.iter().all(|check| check.holds)));
        prop_assert_eq!(
            answer.map(|answer| (answer.sheets_for_all, answer.blank.0)),
            expected.map(|(sheets, blank, _)| (sheets, blank))
        );
        if let (Some(answer), Some((_, _, loose))) = (answer, expected) {
            prop_assert!((answer.looseness_mm - loose).abs() < 1e-9, "{} {loose}", answer.looseness_mm);
        }
    }

    #[test]
    fn a_break_point_is_the_nearest_change_that_brute_force_finds(
        contents in any_contents(),
        steps in 0_i64..4,
        makes in 1_u32..40,
    ) {
        let step = inch("1/8");
        let request = coarse(contents, step * steps, makes);
        let sizing = size(&request).unwrap();
        prop_assume!(!sizing.answers.is_empty());
        let at = |clearance| brute(&SizingRequest { clearance, ..request.clone() }, StructureKind::PunchBox);
        let (sheets, blank, _) = at(request.clearance).unwrap();
        let shown = usize::from(sizing.answers[0].sheet != request.sheets[0].name);
        let on = |blank| blanks_per_sheet(&request.sheets[shown], blank, blank);
        for point in &sizing.break_points {
            let (there, side, _) = at(point.clearance).unwrap();
            prop_assert_eq!(point.saves, i64::from(sheets) - i64::from(there));
            prop_assert!(there != sheets || on(side) != on(blank));
            // Nothing changes on the marks between.
            let (lo, hi) = (point.clearance.min(request.clearance), point.clearance.max(request.clearance));
            for k in 1..(hi - lo).nm() / step.nm() {
                let (between, side, _) = at(lo + step * k).unwrap();
                prop_assert_eq!((between, on(side)), (sheets, on(blank)));
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn larger_contents_never_need_less_paper(
        contents in any_contents(), more in tenths(0..100), axis in 0_usize..3, kind in any_kind(),
    ) {
        let sides = contents.axes().unwrap().map(|(_, side)| side);
        let larger = |axis_now: usize| if axis_now == axis { sides[axis_now] + more } else { sides[axis_now] };
        let block = |side: &dyn Fn(usize) -> Length| Contents::Block {
            width: side(0), depth: side(1), height: side(2),
        };
        let ask = |contents| size(&SizingRequest { structure: Some(kind), ..usual(contents) }).unwrap();
        let (small, large) = (ask(block(&|axis| sides[axis])), ask(block(&larger)));
        if let Some(large) = large.answers.first() {
            let small = small.answers.first();
            let small = small.expect("what fits around more fits around less");
            prop_assert!(small.blank <= large.blank);
            prop_assert!(small.sheets_for_all <= large.sheets_for_all);
        }
    }

    #[test]
    fn naming_the_axes_otherwise_changes_nothing(a in tenths(5..900), b in tenths(5..900), c in tenths(5..900)) {
        let ask = |width, depth, height| {
            let request = SizingRequest { structure: None, ..usual(Contents::Block { width, depth, height }) };
            let extents = [("width", width), ("depth", depth), ("height", height)];
            let extent = |name: &str| extents.iter().find(|(axis, _)| *axis == name).map(|(_, extent)| *extent);
            let sizing = size(&request).unwrap();
            sizing.answers.into_iter().map(|answer| {
                let axes = [answer.axes.width, answer.axes.length, answer.axes.depth].map(extent);
                (answer.settings, answer.sheets_for_all, answer.looseness_mm.to_bits(), axes)
            }).collect::<Vec<_>>()
        };
        let expected = ask(a, b, c);
        for (x, y, z) in [(a, c, b), (b, a, c), (b, c, a), (c, a, b), (c, b, a)] {
            prop_assert_eq!(ask(x, y, z), expected.clone());
        }
    }

    /// An inch is 25.4 mm: a metric bench with marks every 1.5875 mm is the inch bench.
    #[test]
    fn a_metric_bench_of_the_same_measures_gives_the_same_settings(contents in any_contents()) {
        let metric = |ruler: &Ruler| {
            Ruler::new(Unit::Millimetre, ruler.step(), ruler.shortest(), ruler.longest()).unwrap()
        };
        let inches = SizingRequest { structure: None, ..usual(contents) };
        let board = metric(inches.board.ruler());
        let millimetres = SizingRequest {
            board: PunchBoard::new(inches.board.notch_depth(), board).unwrap(),
            trimmer: Trimmer::new(metric(inches.trimmer.ruler())),
            ..inches.clone()
        };
        let ask = |request| {
            let answers = size(request).unwrap().answers;
            answers.into_iter().map(|a| (a.settings, a.axes, a.per_sheet)).collect::<Vec<_>>()
        };
        prop_assert_eq!(ask(&inches), ask(&millimetres));
    }
}

mod yields {
    use super::*;

    fn sheet(width: i64, height: i64, turnable: bool) -> Stock {
        Stock {
            width: Length::from_mm(width),
            height: Length::from_mm(height),
            turnable,
            ..stock("sheet", "1", "1")
        }
    }

    fn most(stock: &Stock, a: i64, b: i64) -> u32 {
        blanks_per_sheet(stock, Length::from_mm(a), Length::from_mm(b))
    }

    #[test]
    fn turning_some_blanks_gives_more() {
        // By hand: 5 x 3 on 22 x 16 cut edge to edge gives 22, 23 without that rule.
        assert_eq!(most(&sheet(22, 16, true), 5, 3), 22);
        assert_eq!(most(&sheet(22, 16, false), 5, 3), 20);
        // Both ways at once: a 3 x 2 column beside two 2 x 3 ones.
        assert_eq!(most(&sheet(5, 6, true), 3, 2), 5);
        assert_eq!(most(&sheet(5, 6, false), 3, 2), 3);
        assert_eq!(most(&sheet(4, 4, true), 5, 1), 0);
    }

    /// Every way to cut, one millimetre apart, without the shortcut of normal positions.
    fn every_cut(
        x: i64,
        y: i64,
        blank: (i64, i64),
        known: &mut std::collections::HashMap<(i64, i64), u32>,
    ) -> u32 {
        if let Some(known) = known.get(&(x, y)) {
            return *known;
        }
        let fits = |(a, b): (i64, i64)| a <= x && b <= y;
        let mut best = u32::from(fits(blank) || fits((blank.1, blank.0)));
        for cut in 1..=x / 2 {
            best = best.max(every_cut(cut, y, blank, known) + every_cut(x - cut, y, blank, known));
        }
        for cut in 1..=y / 2 {
            best = best.max(every_cut(x, cut, blank, known) + every_cut(x, y - cut, blank, known));
        }
        known.insert((x, y), best);
        best
    }

    proptest! {
        #[test]
        fn the_yield_is_what_every_cut_gives(x in 1_i64..26, y in 1_i64..26, a in 2_i64..9, b in 2_i64..9) {
            let expected = every_cut(x, y, (a, b), &mut std::collections::HashMap::new());
            prop_assert_eq!(most(&sheet(x, y, true), a, b), expected);
            prop_assert_eq!(most(&sheet(x, y, false), a, b), u32::try_from((x / a) * (y / b)).unwrap());
        }

        #[test]
        fn squares_lie_in_a_grid(x in 1_i64..900, y in 1_i64..900, a in 1_i64..90) {
            let expected = u32::try_from((x / a) * (y / a)).unwrap();
            prop_assert_eq!(most(&sheet(x, y, true), a, a), expected);
        }
    }

    #[test]
    fn very_many_small_blanks_are_answered_at_once() {
        let big = sheet(10_000, 10_000, true);
        assert_eq!(most(&big, 1, 2), 50_000_000);
    }
}
