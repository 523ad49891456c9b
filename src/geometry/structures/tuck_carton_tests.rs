//! Tuck-end cartons against figures worked by hand, their own checks, and settings that make none.

use proptest::prelude::*;

use super::test_support::*;
use super::*;
use crate::{Ruler, SizingRequest, fold_closed};

const BOTH: [StructureKind; 2] = [TuckCarton::STRAIGHT, TuckCarton::REVERSE];

fn made(
    kind: StructureKind,
    tenths_mm: [i64; 5],
    caliper: i64,
) -> Result<Structure, StructureError> {
    let settings = Settings::new(kind, &tenths_mm.map(tenths)).unwrap();
    Structure::new(settings, &tools(), tenths(caliper))
}

/// By hand, for a carton 60 x 25 x 40 crease to crease from card of 0.3 mm: the sheet is twice
/// 60 + 25 and a glue flap of 10 wide, 40 and twice 25 + 10 long. Its volume is that of the block
/// 60 x 40 x 25 of the text books, 60 000 mm³. Outside = inside + 2 t for each pair of walls,
/// and a caliper more for each flap inside: one along L, two along D, one or two along W.
#[test]
fn a_carton_measures_what_its_scores_add_up_to() {
    for kind in BOTH {
        let made = made(kind, [1800, 1100, 250, 850, 100], 3).unwrap();
        let near = |have: f64, want: f64| assert!((have - want).abs() < 1e-9, "{have} {want}");
        near(made.volume_mm3(), 60_000.0);
        let volume = fold_closed(made.pattern()).volume_of_solid(made.pattern());
        assert!((volume / 60_000.0 - 1.0).abs() < 1e-9, "{volume}");
        let (inside, outside) = (made.inside(), made.outside());
        let flaps = if kind == TuckCarton::REVERSE {
            2.0
        } else {
            1.0
        };
        near(outside.width, 60.3);
        near(outside.width, inside.width + 0.6 + 0.3);
        near(outside.length, inside.length + 0.6 + 2.0 * 0.3);
        near(outside.depth, inside.depth + 0.6 + flaps * 0.3);
    }
}

/// The tuck score is 10 mm in from the edge of the sheet, on which the tuck flap ends.
#[test]
fn a_tuck_flap_is_as_deep_as_its_score_is_from_the_edge() {
    let made = made(TuckCarton::REVERSE, [1800, 1100, 250, 850, 100], 3).unwrap();
    for name in ["top tuck flap", "bottom tuck flap"] {
        let (_, flap) = made.pattern().panel_named(name).unwrap();
        assert!((deep(&flap.outline) - 10.0).abs() < 1e-9, "{name}");
    }
}

#[test]
fn a_carton_folds_closes_and_holds_what_it_says() {
    let says = |kind| {
        let made = made(kind, [1800, 1100, 250, 850, 100], 3).unwrap();
        verdicts(&made, &filled(made.inside()))
    };
    insta::assert_snapshot!(says(TuckCarton::STRAIGHT), @"
    flat true 0.00: 13 panels lie flat side by side; panels and waste make up the sheet of 19800.0 mm².
    hinges true 0.00: 12 creases hold their panels together at 46 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 7.00: 1 glue zones are wide enough by 7.0 mm or more and in reach.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    ");
    assert_eq!(says(TuckCarton::STRAIGHT), says(TuckCarton::REVERSE));
}

#[test]
fn the_work_tells_every_score_cut_fold_and_glue_once() {
    let made = made(TuckCarton::REVERSE, [1800, 1100, 250, 850, 100], 3).unwrap();
    let body = made.main();
    insta::assert_snapshot!(told([body], &tools().trimmer), @"
    Score 25 mm from the right edge.
    Score 85 mm from the right edge.
    Score 110 mm from the right edge.
    Score 170 mm from the right edge.
    Score 10 mm from the top edge and the bottom edge.
    Score 35 mm from the top edge and the bottom edge.
    Cut away what is outside the lids and flaps, and the thumb notches, along the template.
    Fold each score and press it sharp, then open it.
    Fold: the front flat over the side.
    Glue: flap inside the right side.
    Fold: the right side flat over, onto the glue flap.
    Fold: the flat tube open, until it stands square.
    Fold: both bottom dust flaps.
    Fold: the bottom lid half-way, its tuck flap bent in.
    Fold: the bottom lid shut, its tuck flap inside the wall.
    Put the contents in.
    Fold: both top dust flaps.
    Fold: the top lid half-way, its tuck flap bent in.
    Fold: the top lid shut, its tuck flap inside the wall.
    ");
    let mut folds = Vec::new();
    for work in &body.work {
        if let Work::Fold(index) = work {
            folds.push(*index);
        }
    }
    assert_eq!(folds, (0..body.pattern.folds.len()).collect::<Vec<_>>());
}

#[test]
fn a_tuck_flap_that_bends_too_late_would_jam() {
    let made = made(TuckCarton::STRAIGHT, [1800, 1100, 250, 850, 100], 3).unwrap();
    let mut pattern = made.pattern().clone();
    // The tuck flap at a right angle all the way, as if the lid swung shut in one move.
    for step in [4, 7] {
        pattern.folds[step].creases[1].1 = 90.0;
    }
    let checks = crate::fold_check(&pattern, None);
    insta::assert_snapshot!(faults(&checks).join("\n"), @"clear: The bottom tuck flap arrives on the wrong side of the front: its place in the stack is inside it.");
}

#[test]
fn what_cannot_be_a_carton_says_what_would_do() {
    let wrong = |at: [i64; 5]| {
        let error = made(TuckCarton::STRAIGHT, at, 3).unwrap_err();
        refusal(&error)
    };
    insta::assert_snapshot!(wrong([0, 1100, 250, 850, 100]), @"sheet_width: Sheet width of 0 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(wrong([1750, 1100, 250, 850, 100]), @"sheet_width: Sheet width of 175 mm is too little: the four walls leave no glue flap. Set 178 mm or more.");
    insta::assert_snapshot!(wrong([1900, 1100, 250, 850, 100]), @"sheet_width: Sheet width of 190 mm is too much: the glue flap is wider than half a side. Set 182.5 mm or less.");
    insta::assert_snapshot!(wrong([1800, 1100, 150, 850, 100]), @"side_score: Side score at 15 mm is too little: so narrow a side leaves no room for tuck, dust and glue flaps. Set 16 mm or more.");
    insta::assert_snapshot!(wrong([1800, 1100, 250, 400, 100]), @"front_score: Front score at 40 mm is too little: so narrow a front leaves no room for tuck and dust flaps. Set 45 mm or more.");
    insta::assert_snapshot!(wrong([1800, 1100, 250, 850, 70]), @"tuck_score: Tuck score at 7 mm is too little: so short a tuck flap slips out. Set 8 mm or more.");
    insta::assert_snapshot!(wrong([1800, 1100, 250, 850, 130]), @"tuck_score: Tuck score at 13 mm is too much: so deep a tuck flap jams on the dust flaps or tapers to nothing. Set 12.5 mm or less.");
    insta::assert_snapshot!(wrong([1800, 920, 250, 850, 100]), @"sheet_length: Sheet length of 92 mm is too little: the flaps of both ends meet, or the glue flap is too short. Set 94 mm or more.");
    let short = Tools {
        score: Some(Ruler::millimetre()),
        ..tools()
    };
    let far = [4100, 2000, 400, 2000, 200].map(tenths);
    let far = Settings::new(TuckCarton::STRAIGHT, &far).unwrap();
    let error = Structure::new(far, &short, tenths(3)).unwrap_err();
    insta::assert_snapshot!(error, @"Front score at 200 mm is too much: the last score, twice as far from the edge, is out of the board's reach. Set 150 mm or less.");
}

/// Every carton on a grid of eighths whose tuck and glue flaps follow the rule (a third of the
/// side from 10 to 20 mm, 10 mm; up to a mark): fewest sheets, then least paper.
fn every_carton(request: &SizingRequest, reverse: bool) -> Option<(u32, i64)> {
    let (t, step) = (request.caliper.mm(), eighths(1).mm());
    let mut best: Option<(u32, i64)> = None;
    for side in 5..=20_i64 {
        let w = side as f64 * step;
        let third = (w / 3.0).clamp(10.0, 20.0);
        let tuck = ((third / step).ceil() as i64).min(side / 2);
        let up = (10.0 / step).ceil() as i64;
        let glue = up.min(side / 2);
        if (tuck as f64 * step) < 8.0 || (glue as f64 * step) < 8.0 {
            continue;
        }
        for front in 7..=30_i64 {
            let width = 2 * (side + front) + glue;
            for length in 2 * (side + tuck) + 5..=72 {
                let depth = (length - 2 * (side + tuck)) as f64 * step;
                let inside = [
                    front as f64 * step - 2.0 * t,
                    depth - 3.0 * t,
                    w - if reverse { 3.0 } else { 2.0 } * t,
                ];
                let apart = depth >= 2.0 * tuck as f64 * step + 4.0;
                if !apart || !takes_the_block(request, inside) || 2 * (side + front) > 96 {
                    continue;
                }
                best = best
                    .into_iter()
                    .chain(cost_of(request, width, length))
                    .min();
                // A longer one is never better.
                break;
            }
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn the_carton_is_the_best_on_the_grid(
        a in 20_i64..600, b in 20_i64..600, c in 20_i64..400, makes in 1_u32..40, reverse: bool,
    ) {
        let sides = [a, b, c].map(tenths);
        let request = in_eighths(BOTH[usize::from(reverse)], sides, 72, makes);
        prop_assert_eq!(best_found(&request), every_carton(&request, reverse));
    }

    #[test]
    fn any_carton_folds_closes_and_takes_what_it_says(
        side in 160_i64..900, front in 200_i64..1500, tuck in 80_i64..300, flap in 80_i64..200,
        more in 200_i64..2000, caliper in 1_i64..8, reverse: bool,
    ) {
        let (tuck, flap) = (tuck.min(side / 2), flap.min(side / 2));
        let at = [2 * (side + front) + flap, 4 * tuck + 2 * side + more, side, side + front, tuck];
        let made = made(BOTH[usize::from(reverse)], at, caliper);
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        assert_just_fit(&made, filled(made.inside()), [1e-3; 3]);
        assert_folds_round_its_volume(&made);
    }

    #[test]
    fn any_settings_at_all_make_a_carton_or_a_refusal(
        at in prop::array::uniform5(-5_i64..3000), caliper in -1_i64..40, reverse: bool,
    ) {
        assert_sound_or_refused(TuckCarton::STRAIGHT, made(BOTH[usize::from(reverse)], at, caliper));
    }
}
