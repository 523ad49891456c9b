//! The slot for a hand in the roof of a gable-top carton.

use proptest::prelude::*;

use super::test_support::*;
use super::*;
use crate::{Length, signed_area, size};

/// That of `gable_carton_tests.rs`, 80 x 60 x 100 mm under a roof of 50 mm, with strips of 40 mm.
const USUAL: [i64; 7] = [2900, 2250, 600, 1400, 350, 400, 900];

fn with_slot(at: [i64; 7], slot: i64, caliper: i64) -> Result<Structure, StructureError> {
    let settings = Settings::of(GableCarton::KIND, &at.map(tenths));
    let settings = settings.with_opening(Some(tenths(slot)));
    Structure::new(settings, &tools(), tenths(caliper))
}

#[test]
fn a_gable_with_a_slot_folds_and_closes_as_one_without() {
    let made = with_slot(USUAL, 600, 3).unwrap();
    assert_eq!(faults(&made.checks(Some(&filled(made.inside())))), [""; 0]);
    assert_folds_round_its_volume(&made);
    let plain = super::test_support::made(made.settings().with_opening(None));
    assert_eq!(plain.volume_mm3(), made.volume_mm3());
    let last = |made: &Structure| {
        let work = told([made.main()], &tools().trimmer);
        work.lines().last().unwrap_or_default().to_owned()
    };
    insta::assert_snapshot!(last(&plain), @"Tie a ribbon through both holes.");
    insta::assert_snapshot!(last(&made), @"Fold: both roof halves together, until strip lies on strip.");
    insta::assert_snapshot!(plain.settings().closing().unwrap_or_default(), @"a ribbon through the hole in the strips at the ridge");
    insta::assert_snapshot!(made.settings().closing().unwrap_or_default(), @"the hand that carries it by its slot, and tape between the strips if it has to stay shut");
}

/// A slot of 60 mm with round ends, 20 mm high, is 40 x 20 and a round of π 10² = 1114.16 mm². By a
/// polygon of 24 corners on the round, 12 · 10² · sin 15° = 310.58, it is 0.3 % less. A hole for a
/// ribbon 6 mm wide, of 12 corners, is 6 · 3² · sin 30° = 27 mm².
#[test]
fn a_slot_is_as_large_as_its_straight_part_and_its_round_ends() {
    let paper = |made: &Structure| -> f64 {
        let panels = made.pattern().panels.iter();
        panels.map(|panel| signed_area(&panel.outline)).sum()
    };
    let made = with_slot(USUAL, 600, 3).unwrap();
    let plain = super::test_support::made(made.settings().with_opening(None));
    let each = (paper(&plain) - paper(&made)) / 2.0 + 27.0;
    assert!((each - 1_110.582_854).abs() < 1e-5, "{each}");
    let round = 800.0 + 100.0 * std::f64::consts::PI;
    assert!(each < round && each > 0.996 * round);
}

#[test]
fn what_cannot_be_a_slot_says_what_would_do() {
    let wrong = |change: &[(usize, i64)], slot| {
        let mut at = USUAL;
        for (place, value) in change {
            at[*place] = *value;
        }
        refusal(&with_slot(at, slot, 3).unwrap_err())
    };
    insta::assert_snapshot!(wrong(&[], 399), @"slot: Slot of 39.9 mm is too little: a hand does not go into so short a slot. Set 40 mm or more.");
    insta::assert_snapshot!(wrong(&[], 601), @"slot: Slot of 60.1 mm is too much: 10 mm of paper has to stay at both ends of it. Set 60 mm or less.");
    insta::assert_snapshot!(wrong(&[(5, 390)], 600), @"strip_score: Strip score at 39 mm is too little: so low a strip has no room for a slot 20 mm high and 10 mm of paper round it. Set 40 mm or more.");
    insta::assert_snapshot!(wrong(&[(2, 380)], 600), @"side_score: Side score at 38 mm is too little: the strips with the slot are higher than so narrow a side. Set 40 mm or more.");
}

/// A block 30 x 40 x 60 mm: sides and strips of 40 mm, and a front of 60 + 20, marks each 1/8 in.
#[test]
fn a_carton_is_made_large_enough_for_its_slot() {
    let mut request = in_eighths(GableCarton::KIND, [300, 400, 600].map(tenths), 160, 4);
    let least = size(&request).unwrap().answers.remove(0);
    request.fit.slot = Some(tenths(600));
    let answer = size(&request).unwrap().answers.remove(0);
    let at = |key: &str| answer.settings.get(key).unwrap();
    let eighths = |mm: f64| Length::inch_fraction((mm / 3.175).ceil() as i64, 8).unwrap();
    assert_eq!(at("strip_score"), eighths(40.0));
    assert!(at("side_score") >= eighths(40.0));
    assert!(at("front_score") - at("side_score") >= eighths(80.0));
    assert_eq!(answer.settings.opening(), Some(tenths(600)));
    assert!(least.settings.get("strip_score").unwrap() < at("strip_score"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn any_gable_with_a_slot_folds_closes_and_takes_what_it_says(
        side in 400_i64..1000, wider in 20_i64..1000, flap in 80_i64..200, strip in 400_i64..500,
        roof in 0.61..0.99_f64, more in 200_i64..2000, part in 0.0..1.0_f64, caliper in 1_i64..8,
    ) {
        let (front, strip) = (2 * side + wider, strip.min(side));
        let bottom = (side + 81) / 2;
        let roof = strip + (side as f64 * roof) as i64;
        let at = [2 * front + flap, bottom + roof + more, side, front, bottom, strip, roof];
        let slot = 400 + (part * (side + wider - 600) as f64) as i64;
        let made = with_slot(at, slot, caliper);
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        assert_just_fit(&made, filled(made.inside()), [1e-3; 3]);
        assert_folds_round_its_volume(&made);
    }

    #[test]
    fn any_slot_at_all_is_made_or_refused(slot in -50_i64..1500) {
        match with_slot(USUAL, slot, 3) {
            Ok(made) => prop_assert_eq!(faults(&made.checks(None)), Vec::<String>::new()),
            Err(error) => prop_assert!(error.to_string().ends_with('.')),
        }
    }
}
