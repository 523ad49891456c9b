//! The tray with lid against published figures, its own checks, and settings that make none.

use proptest::prelude::*;

use super::open_tray::OpenTray;
use super::test_support::*;
use super::*;
use crate::{Ruler, fold_closed};

fn settings(tenths_mm: [i64; 6]) -> Settings {
    Settings::of(Tray::KIND, &tenths_mm.map(tenths))
}

fn tray(tenths_mm: [i64; 6], caliper: i64) -> Result<Tray, StructureError> {
    Tray::new(settings(tenths_mm), &tools(), tenths(caliper))
}

/// Geometry: outside = inside + 2 t for each pair of walls; lid inside = base outside + clearance.
/// Base 60 x 40 x 25, t 0.3, clearance 0.5: base outside 60.6 x 40.6, lid inside 61.1 x 41.1
/// (worked from the definition; the base's inside is taken between the bare walls).
#[test]
fn lid_is_wider_than_base_by_twice_the_card_and_its_play() {
    let made = tray([1107, 907, 252, 914, 720, 150], 3).unwrap();
    let near = |have: (f64, f64), want: (f64, f64)| {
        assert!(
            (have.0 - want.0).abs() < 1e-9 && (have.1 - want.1).abs() < 1e-9,
            "{have:?} {want:?}"
        );
    };
    near(made.base_between_walls_mm(), (60.0, 40.0));
    near(made.base_outside_mm(), (60.6, 40.6));
    near(made.lid_inside_mm(), (61.1, 41.1));
    near(made.play_mm(), (0.5, 0.5));
    let inside = made.inside();
    assert!((inside.width - 60.0).abs() < 1e-9 && (inside.length - 39.4).abs() < 1e-9);
    assert!((inside.depth - 25.05).abs() < 1e-9, "{}", inside.depth);
}

/// Published in calculus texts: a sheet of 12 x 12 in with corners of x = 2 in folds into an open
/// tray of 128 in³, the most there is. The other two sheets: worked from dV/dx = 0.
#[test]
fn the_best_tray_of_a_sheet_holds_what_is_published() {
    let volume = |w: f64, l: f64, x: f64| {
        let tray = OpenTray {
            width: w - 2.0 * x,
            length: l - 2.0 * x,
            depth: x,
            t: 1e-6,
        };
        let pattern = tray.pattern("base", "bottom");
        // The open face counts as covered: the rim closes it.
        fold_closed(&pattern).volume_of_solid(&pattern)
    };
    for (w, l, x, want) in [
        (12.0, 12.0, 2.0, 128.0),
        (8.5, 11.0, 1.5854, 66.1482),
        (210.0, 297.0, 40.423, 1_128_495.0),
    ] {
        let best = volume(w, l, x);
        assert!((best / want - 1.0).abs() < 1e-6, "{best} {want}");
        for other in [0.98 * x, 1.02 * x] {
            assert!(volume(w, l, other) < best, "{other}");
        }
    }
}

#[test]
fn a_tray_folds_and_its_lid_goes_over() {
    let made = made(settings([1107, 907, 252, 914, 720, 150]));
    insta::assert_snapshot!(verdicts(&made, &filled(made.inside())), @"
    flat true 0.00: 9 panels lie flat side by side; panels and waste make up the sheet of 10040.5 mm².
    hinges true 0.00: 8 creases hold their panels together at 16 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 12.00: 4 glue zones are wide enough by 12.0 mm or more and in reach.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    nests true 0.00: What goes into each other has 0.00 mm to spare beyond its play.
    ");
    insta::assert_snapshot!(told(made.bodies(), &Ruler::millimetre()), @"
    Score ≈ 25 mm from each of the four edges.
    Cut the slits at the four corners, from the edge to the first score.
    Fold each score and press it sharp, then open it.
    Fold: both side walls up.
    Fold: all four tabs in.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Fold: both end walls up.
    Put the contents in.
    Score 15 mm from each of the four edges.
    Cut the slits at the four corners, from the edge to the first score.
    Fold each score and press it sharp, then open it.
    Fold: both side walls up.
    Fold: all four tabs in.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Fold: both end walls up.
    Put the lid over the base.
    ");
}

#[test]
fn what_cannot_be_a_tray_says_what_would_do() {
    let wrong = |at: [i64; 6]| {
        let error = tray(at, 3).unwrap_err();
        refusal(&error)
    };
    insta::assert_snapshot!(wrong([0, 907, 252, 914, 720, 150]), @"base_width: Base width of 0 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(wrong([1107, 907, 454, 914, 720, 150]), @"base_score: Base score at 45.4 mm is too much: the scores of opposite edges meet. Set 39.8 mm or less.");
    insta::assert_snapshot!(wrong([1107, 9, 5, 914, 720, 150]), @"base_length: Base length of 0.9 mm is too little: the scores of opposite edges meet. Set 22.6 mm or more.");
    insta::assert_snapshot!(wrong([1107, 907, 40, 914, 720, 150]), @"base_score: Base score at 4 mm is too little: the corner tabs have no room for glue. Set 5.5 mm or more.");
    insta::assert_snapshot!(wrong([600, 907, 252, 914, 720, 150]), @"base_width: Base width of 60 mm is too little: the corner tabs meet and have no room for glue. Set 62 mm or more.");
    insta::assert_snapshot!(wrong([1107, 907, 252, 913, 720, 150]), @"lid_width: Lid width of 91.3 mm is too little: the lid does not go over the base. Set 91.4 mm or more.");
    insta::assert_snapshot!(wrong([1107, 907, 252, 1000, 720, 150]), @"lid_width: Lid width of 100 mm is too much: the lid is loose on the base. Set 98.9 mm or less.");
    insta::assert_snapshot!(wrong([1107, 907, 252, 1174, 980, 280]), @"lid_score: Lid score at 28 mm is too much: a lid deeper than the base stands on the table before it is shut. Set 25.2 mm or less.");
    let off = Settings::of(Tray::KIND, &[1107, 907, 252, 914, 720, 150].map(tenths));
    let coarse = Tools {
        score: Some(Ruler::inch(8)),
        ..tools()
    };
    let error = Tray::new(off, &coarse, tenths(3)).unwrap_err();
    insta::assert_snapshot!(error, @"Base score at 25.2 mm is not on the score board's ruler, which has a mark each 1/8 in from 0 in to 12 in.");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    #[test]
    fn any_tray_folds_closes_keeps_its_paper_and_takes_its_lid(
        floor in (120_i64..2000, 120_i64..2000), score in 56_i64..900, lid in 56_i64..900,
        caliper in 1_i64..8, play in (5_i64..60, 5_i64..60),
    ) {
        let lid = lid.min(score);
        let base = (floor.0 + 2 * score, floor.1 + 2 * score);
        let over = (floor.0 + 2 * caliper + play.0, floor.1 + 4 * caliper + play.1);
        let at = [base.0, base.1, score, over.0 + 2 * lid, over.1 + 2 * lid, lid];
        let made = Structure::new(settings(at), &tools(), tenths(caliper));
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        assert_just_fit(&made, filled(made.inside()), [0.0, 1e-3, 0.0]);
        assert_folds_round_its_volume(&made);
    }

    #[test]
    fn any_settings_at_all_make_a_tray_or_a_refusal(at in prop::array::uniform6(-5_i64..3000), caliper in -1_i64..40) {
        assert_sound_or_refused(Tray::KIND, Structure::new(settings(at), &tools(), tenths(caliper)));
    }
}
