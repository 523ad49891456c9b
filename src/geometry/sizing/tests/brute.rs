//! The search against brute force over the whole ruler grid.

use std::f64::consts::SQRT_2;

use proptest::prelude::*;

use super::*;
use crate::sizing::break_points;
use crate::sizing::cutting::Cutting;
use crate::{PunchBoxSettings, PunchEnvelopeSettings};

/// What brute force finds best: sheets for all, blank side, looseness.
fn brute(request: &SizingRequest, kind: StructureKind) -> Option<(u32, Length, f64)> {
    let ruler = *request.tools.punch_board.unwrap().ruler();
    let punches: Vec<Length> = ruler.marks_between(Length::ZERO, Length::MAX).collect();
    let blanks = request.tools.trimmer.marks_between(inch("1/8"), inch("9"));
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
    let (t, e) = (
        request.caliper.mm(),
        request.tools.punch_board.unwrap().notch_depth().mm(),
    );
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
    let board = request.tools.punch_board.unwrap();
    let mut take = |can_be: bool, room: &dyn Fn([f64; 3]) -> Option<[f64; 3]>| {
        if !can_be {
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
        if kind == PunchEnvelope::KIND {
            let at = PunchEnvelopeSettings {
                sheet,
                punch: *punch_1,
            };
            let width = SQRT_2 * (p1 - e) - t;
            let length = SQRT_2 * (sheet.mm() - p1 - e) - t;
            take(
                PunchEnvelope::new(at, &board, request.caliper).is_ok(),
                &|lies| {
                    let thick = lies[2];
                    (thick <= 6.35).then_some([width - thick, length - thick, thick + play])
                },
            );
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
            take(PunchBox::new(at, &board, request.caliper).is_ok(), &|_| {
                Some([width - t, length - layers * t, depth - 2.0 * t])
            });
        }
    }
    found
}

/// The same contents with another side.
fn with_side(mut contents: Contents, field: &str, side: Length) -> Contents {
    match &mut contents {
        Contents::Block {
            width,
            depth,
            height,
        } => match field {
            "width" => *width = side,
            "depth" => *depth = side,
            _ => *height = side,
        },
        Contents::Cylinder { diameter, height } => match field {
            "diameter" => *diameter = side,
            _ => *height = side,
        },
        Contents::Ball { diameter } => *diameter = side,
        Contents::Stack { width, height, .. } => match field {
            "width" => *width = side,
            _ => *height = side,
        },
    }
    contents
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn the_answer_is_what_brute_force_finds(
        contents in any_contents(),
        clearance in tenths(0..40),
        makes in 1_u32..40,
        kind in any_punched(),
    ) {
        let request = SizingRequest { structure: Some(kind), ..coarse(contents, clearance, makes) };
        let sizing = size(&request).unwrap();
        let answer = sizing.answers.first();
        let expected = brute(&request, kind);
        prop_assert!(answer.is_none_or(|answer| answer.checks.iter().all(|check| check.holds)));
        prop_assert_eq!(
            answer.map(|answer| (answer.sheets_for_all, answer.blank().0)),
            expected.map(|(sheets, blank, _)| (sheets, blank))
        );
        if let (Some(answer), Some((_, _, loose))) = (answer, expected) {
            prop_assert!((answer.looseness_mm - loose).abs() < 1e-9, "{} {loose}", answer.looseness_mm);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Contents as large as the room of a box on the grid: nothing is left to rounding.
    #[test]
    fn contents_that_just_fit_a_box_get_what_brute_force_finds(
        first in 5_i64..16, second in 2_i64..12, third in 3_i64..30, under in 0_i64..2,
    ) {
        let eighth = inch("1/8");
        let mut request = coarse(block("1", "1", "1"), Length::ZERO, 14);
        let (punch_1, punch_2) = (eighth * first, eighth * (first + second));
        let sheet = punch_2 + eighth * third;
        let at = Settings::from(PunchBoxSettings { sheet, punch_1, punch_2 });
        let made = Structure::new(at, &request.tools, request.caliper);
        prop_assume!(made.is_ok() && sheet <= inch("9"));
        let inside = made.unwrap().inside();
        let snug = |mm: f64| Length::from_nm((mm * 1e6).floor() as i64 - under);
        request.contents = Contents::Block {
            width: snug(inside.width),
            depth: snug(inside.depth),
            height: snug(inside.length),
        };
        let sizing = size(&request).unwrap();
        let answer = sizing.answers.first();
        let answer = answer.map(|answer| (answer.sheets_for_all, answer.blank().0));
        let expected = brute(&request, PunchBox::KIND);
        prop_assert!(expected.is_some_and(|(_, blank, _)| blank <= sheet));
        prop_assert_eq!(answer, expected.map(|(sheets, blank, _)| (sheets, blank)));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

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
        let at = |clearance| brute(&SizingRequest { clearance, ..request.clone() }, PunchBox::KIND);
        let (sheets, blank, _) = at(request.clearance).unwrap();
        let shown = usize::from(sizing.answers[0].sheet != request.sheets[0].name);
        let on = |blank| blanks_per_sheet(&request.sheets[shown], blank, blank);
        for point in sizing.break_points.iter().filter(|point| point.size.is_none()) {
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
        for point in &sizing.break_points {
            let Some(change) = point.size else { continue };
            let step = if change.by().nm() % step.nm() == 0 { step } else { Length::from_mm(1) };
            let at = |side| {
                let contents = with_side(contents, change.field, side);
                brute(&SizingRequest { contents, ..request.clone() }, PunchBox::KIND).unwrap().0
            };
            prop_assert_eq!(at(change.to), point.sheets);
            prop_assert_eq!(point.saves, i64::from(sheets) - i64::from(point.sheets));
            prop_assert!(point.sheets < sheets);
            prop_assert!(at(change.to + step) == sheets, "a nearer size saves too");
        }
    }

    /// Where no smaller size is told, none within four steps saves.
    #[test]
    fn sizes_that_save_are_not_kept_from_the_user(
        contents in any_contents(),
        makes in 1_u32..40,
    ) {
        let request = coarse(contents, Length::ZERO, makes);
        let sizing = size(&request).unwrap();
        prop_assume!(!sizing.answers.is_empty());
        let blanks = sizing.answers[0].structure.blanks();
        let now = Cutting::best(&request.sheets, &blanks, makes).unwrap();
        let points = break_points::near(&request, PunchBox::KIND, &now);
        let sheets = brute(&request, PunchBox::KIND).unwrap().0;
        for (field, side) in contents.given() {
            let told = |point: &BreakPoint| point.size.is_some_and(|size| size.field == field);
            if field == "each_thickness" || points.iter().any(told) {
                continue;
            }
            let millimetre = Length::from_mm(1);
            let whole = side.nm() % millimetre.nm() == 0;
            let step = if whole { millimetre } else { inch("1/8") };
            for steps in 1..=4_i64 {
                let less = step * steps;
                if less * 4 > side {
                    break;
                }
                let contents = with_side(contents, field, side - less);
                let there = brute(&SizingRequest { contents, ..request.clone() }, PunchBox::KIND);
                prop_assert_eq!(there.map(|it| it.0), Some(sheets), "{} less by {}", field, steps);
            }
        }
    }
}
