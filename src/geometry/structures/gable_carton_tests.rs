//! The gable-top carton against figures worked by hand, its own checks, and settings that make
//! none.

use proptest::prelude::*;

use super::gable_carton_roof::leans;
use super::test_support::*;
use super::*;
use crate::{SizingRequest, fold_closed};

fn made(tenths_mm: [i64; 7], caliper: i64) -> Result<Structure, StructureError> {
    let settings = Settings::new(GableCarton::KIND, &tenths_mm.map(tenths)).unwrap();
    Structure::new(settings, &tools(), tenths(caliper))
}

/// 80 x 60 x 100 mm crease to crease under a roof of 50 mm, which rises by 40.
const USUAL: [i64; 7] = [2900, 2000, 600, 1400, 350, 150, 650];

/// By hand: half of the side, 30, the rise, 40, and the roof, 50, are a right triangle. Prism
/// 80 x 60 x 100 = 480 000; gable 80 x 60 x 40 / 2 = 96 000; less a tetrahedron at each end, with
/// the upright triangle 60 x 40 / 2 as its base and half a side as its height:
/// 2 x 1200 x 30 / 3 = 24 000.
#[test]
fn a_gable_holds_prism_and_roof_less_what_folds_in() {
    let made = made(USUAL, 3).unwrap();
    assert!(
        (made.volume_mm3() - 552_000.0).abs() < 1e-6,
        "{}",
        made.volume_mm3()
    );
    let volume = fold_closed(made.pattern()).volume_of_solid(made.pattern());
    assert!((volume / 552_000.0 - 1.0).abs() < 1e-9, "{volume}");
    let (inside, outside) = (made.inside(), made.outside());
    // Half a caliper of sheets that slope by 4 in 3: 0.15 x (1 - 0.8) / 0.6.
    for (have, want) in [
        (inside.width, 79.4),
        (inside.length, 100.0 - 0.75 - 0.05),
        (inside.depth, 59.7),
        (outside.length, 155.15),
    ] {
        assert!((have - want).abs() < 1e-9, "{have} {want}");
    }
}

/// Worked apart, in space: with the roof and the side at these leans, P is half a side from the
/// ridge's end, as on the flat sheet.
#[test]
fn sides_and_roof_lean_so_that_no_paper_stretches() {
    let (w, s) = (60.0_f64, 50.0_f64);
    let end = (w / (2.0 * s)).asin();
    let mut last = (-1.0, -1.0);
    for part in [0.0, 0.1, 0.3, 0.5, 0.8, 0.97, 1.0] {
        let (roof, side) = leans(end, part);
        assert!(
            roof > last.0 && side > last.1,
            "{part}: they only come closer"
        );
        last = (roof, side);
        let ridge = [0.0, s * roof.cos(), s * roof.sin()];
        let point = [-s * side.sin(), s * side.cos(), w / 2.0];
        let apart: f64 = ridge.iter().zip(point).map(|(a, b)| (a - b).powi(2)).sum();
        assert!(
            (apart.sqrt() - w / 2.0).abs() < 1e-9,
            "{part}: {}",
            apart.sqrt()
        );
    }
}

/// The base score is 35 mm in from the edge on which the base flaps of the sides end.
#[test]
fn a_base_flap_is_as_deep_as_its_score_is_from_the_edge() {
    let made = made(USUAL, 3).unwrap();
    for name in ["left base flap", "right base flap"] {
        let (_, flap) = made.pattern().panel_named(name).unwrap();
        assert!((deep(&flap.outline) - 35.0).abs() < 1e-9, "{name}");
    }
}

#[test]
fn a_gable_folds_closes_and_holds_what_it_says() {
    let made = made(USUAL, 3).unwrap();
    insta::assert_snapshot!(verdicts(&made, &filled(made.inside())), @"
    flat true 0.00: 22 panels lie flat side by side; panels and waste make up the sheet of 58000.0 mm².
    hinges true 0.00: 28 creases hold their panels together at 46 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 7.00: 5 glue zones are wide enough by 7.0 mm or more and in reach.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    ");
}

#[test]
fn the_work_tells_every_score_cut_fold_and_glue_once() {
    let made = made(USUAL, 3).unwrap();
    let body = made.main();
    insta::assert_snapshot!(told([body], &tools().trimmer), @"
    Punch the hole in each strip, 6 mm wide, along the template.
    Score 60 mm from the right edge.
    Score 140 mm from the right edge.
    Score 200 mm from the right edge.
    Score 280 mm from the right edge.
    Score 35 mm from the top edge.
    Score 15 mm from the bottom edge.
    Score 65 mm from the bottom edge.
    Score the two slanted lines over each side along the template.
    Cut away what is over the sides and the ends of the flaps, along the template.
    Fold each score and press it sharp, then open it.
    Fold: the back flat over the side.
    Glue: flap inside the right side.
    Glue: flap beyond it, on the top of the right side.
    Fold: the right side flat over, onto the glue flap.
    Fold: the flat tube open, until it stands square.
    Fold: both base flaps of the sides.
    Glue: left base flap under the back one.
    Glue: right base flap under the back one.
    Fold: the back base flap over them.
    Glue: back base flap under the front one.
    Fold: the front base flap over it.
    Put the contents in.
    Fold: both strips outwards, along the ridge score.
    Fold: the tops of both sides in, while the roof leans after them.
    Fold: both roof halves together, until strip lies on strip.
    Tie a ribbon through both holes.
    ");
    let of =
        |pick: fn(&Work) -> Option<usize>| body.work.iter().filter_map(pick).collect::<Vec<_>>();
    let folds = of(|work| match work {
        Work::Fold(index) => Some(*index),
        _ => None,
    });
    let glue = of(|work| match work {
        Work::Glue(index) => Some(*index),
        _ => None,
    });
    assert_eq!(folds, (0..body.pattern.folds.len()).collect::<Vec<_>>());
    assert_eq!(glue, (0..body.pattern.glue.len()).collect::<Vec<_>>());
}

/// No crease joins the right flank at the back to the roof, only glue: on the way the two stay as
/// they were glued, like the flanks that hang on creases.
#[test]
fn glue_under_the_roof_does_not_slide_while_the_roof_moves() {
    let made = made(USUAL, 3).unwrap();
    let pattern = made.pattern();
    let id = |name| pattern.panel_named(name).unwrap().0;
    let (flap, flank) = (
        id("glue flap under the roof"),
        id("right flank at the back"),
    );
    let seen = |angles: &[f64]| {
        let folded = crate::fold(pattern, angles);
        let (flap, flank) = (folded.pose(flap).unwrap(), folded.pose(flank).unwrap());
        pattern.glue[1]
            .area
            .iter()
            .map(|&p| flank.flat_of(flap.place(p)))
            .collect::<Vec<_>>()
    };
    let glued = seen(&pattern.angles_after(2));
    for step in [2, 7, 8] {
        for part in [0.25, 0.5, 0.75, 0.97, 1.0] {
            for ((p, high), (q, low)) in seen(&pattern.angles_during(step, part)).iter().zip(&glued)
            {
                assert!(
                    (*p - *q).hypot() < 1e-9 && (high - low).abs() < 1e-9,
                    "{step} {part}"
                );
            }
        }
    }
}

/// The check can tell: angles that run evenly from open to closed would stretch the paper.
#[test]
fn a_roof_that_turns_evenly_comes_apart_on_the_way() {
    let made = made(USUAL, 3).unwrap();
    let mut pattern = made.pattern().clone();
    for step in &mut pattern.folds {
        step.way.clear();
    }
    let checks = crate::fold_check(&pattern, None);
    insta::assert_snapshot!(faults(&checks).join("\n"), @"
    hinges: The crease left flank at the front comes apart by 2.573454 mm at 50 % of the fold the tops of both sides in, while the roof leans after them.
    clear: The glue flap under the roof goes 0.36 mm through the right side, folded in at 75 % of the fold both roof halves together, until strip lies on strip.
    ");
}

#[test]
fn what_cannot_be_a_gable_says_what_would_do() {
    let wrong = |change: &[(usize, i64)]| {
        let mut at = USUAL;
        for (place, value) in change {
            at[*place] = *value;
        }
        let error = made(at, 3).unwrap_err();
        refusal(&error)
    };
    insta::assert_snapshot!(wrong(&[(0, -1)]), @"sheet_width: Sheet width of -0.1 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(wrong(&[(0, 2850)]), @"sheet_width: Sheet width of 285 mm is too little: the four walls leave no glue flap. Set 288 mm or more.");
    insta::assert_snapshot!(wrong(&[(2, 290)]), @"side_score: Side score at 29 mm is too little: so narrow a side does not fold in. Set 30 mm or more.");
    insta::assert_snapshot!(wrong(&[(3, 1210)]), @"front_score: Front score at 121 mm is too little: the points of the two sides, folded in, meet. Set 122 mm or more.");
    insta::assert_snapshot!(wrong(&[(4, 330)]), @"base_score: Base score at 33 mm is too little: the base flaps do not overlap enough for glue. Set 34 mm or more.");
    insta::assert_snapshot!(wrong(&[(4, 610)]), @"base_score: Base score at 61 mm is too much: the base flaps are wider than the base. Set 60 mm or less.");
    insta::assert_snapshot!(wrong(&[(5, 110)]), @"strip_score: Strip score at 11 mm is too little: so low a strip has no room for a hole. Set 12 mm or more.");
    insta::assert_snapshot!(wrong(&[(6, 500)]), @"roof_score: Roof score at 50 mm is too little: so short a roof does not reach the ridge with its sides folded in. Set 51 mm or more.");
    insta::assert_snapshot!(wrong(&[(6, 800)]), @"roof_score: Roof score at 80 mm is too much: so steep a roof does not stay shut. Set 75 mm or less.");
    insta::assert_snapshot!(wrong(&[(1, 1000)]), @"sheet_length: Sheet length of 100 mm is too little: base and roof leave too little of the glue flap. Set 109 mm or more.");
}

/// Every gable on a grid of eighths with the usual roof (71 hundredths of the side), strips of
/// 15 mm and a glue flap of 10 mm, each up to a mark: fewest sheets, then least paper.
fn every_gable(request: &SizingRequest) -> Option<(u32, i64)> {
    let (t, step) = (request.caliper.mm(), eighths(1).mm());
    let up = |mm: f64| (mm / step - 1e-9).ceil() as i64;
    let mut best: Option<(u32, i64)> = None;
    for side in up(30.0)..=24 {
        let w = side as f64 * step;
        let (base, roof) = (
            up((w + 8.0) / 2.0),
            up(0.71 * w + up(15.0) as f64 * step) - up(15.0),
        );
        let s = roof as f64 * step;
        let slope = (w / 2.0 / s).acos();
        let ends = base + roof + up(15.0);
        for front in up(w + 2.0)..=30 {
            let width = 2 * (side + front) + up(10.0);
            for length in ends + 4..=96 {
                let inside = [
                    front as f64 * step - 2.0 * t,
                    (length - ends) as f64 * step
                        - 2.5 * t
                        - t / 2.0 * (1.0 - slope.sin()) / slope.cos(),
                    w - t,
                ];
                if !takes_the_block(request, inside) || 2 * (side + front) > 96 {
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
    fn the_gable_is_the_best_on_the_grid(
        a in 20_i64..700, b in 20_i64..700, c in 20_i64..600, makes in 1_u32..40,
    ) {
        let sides = [a, b, c].map(tenths);
        let request = in_eighths(GableCarton::KIND, sides, 96, makes);
        prop_assert_eq!(best_found(&request), every_gable(&request));
    }

    #[test]
    fn any_gable_folds_closes_and_takes_what_it_says(
        side in 300_i64..1000, wider in 20_i64..1000, flap in 80_i64..200, overlap in 80_i64..200,
        strip in 120_i64..300, roof in 0.61..0.99_f64, more in 200_i64..2000, caliper in 1_i64..8,
    ) {
        let (front, flap) = (2 * side + wider, flap.min(side / 2));
        let bottom = (side + overlap + 1) / 2;
        let roof = strip + (side as f64 * roof) as i64;
        let at = [2 * front + flap, bottom + roof + more, side, front, bottom, strip, roof];
        let made = made(at, caliper);
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        assert_just_fit(&made, filled(made.inside()), [1e-3; 3]);
        assert_folds_round_its_volume(&made);
    }

    #[test]
    fn any_settings_at_all_make_a_gable_or_a_refusal(
        at in prop::array::uniform7(-5_i64..3000), caliper in -1_i64..40,
    ) {
        assert_sound_or_refused(GableCarton::KIND, made(at, caliper));
    }
}
