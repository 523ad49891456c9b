//! Whole patterns through the whole check.

use proptest::prelude::*;

use super::*;
use crate::{
    GlueZone, Length, PunchBoard, PunchBox, PunchBoxSettings, PunchEnvelope, PunchEnvelopeSettings,
    Ruler, Unit, fold_closed,
};

fn sixteenths(n: i64) -> Length {
    Length::from_nm(1_587_500 * n)
}

/// A square of 5 1/4 in, punched at 1 1/2 and 2 7/8 in.
pub(super) fn seed_tin_box() -> PunchBox {
    let settings = PunchBoxSettings {
        sheet: sixteenths(84),
        punch_1: sixteenths(24),
        punch_2: sixteenths(46),
    };
    PunchBox::new(
        settings,
        &PunchBoard::default_inch(),
        Length::from_nm(300_000),
    )
    .unwrap()
}

pub(super) fn seed_envelope(sheet: i64, punch: i64) -> PunchEnvelope {
    let settings = PunchEnvelopeSettings {
        sheet: sixteenths(sheet),
        punch: sixteenths(punch),
    };
    PunchEnvelope::new(
        settings,
        &PunchBoard::default_inch(),
        Length::from_nm(200_000),
    )
    .unwrap()
}

/// Whether one point of the check holds.
pub(super) fn holds(pattern: &Pattern, name: &str) -> bool {
    fold_check(pattern, None)
        .iter()
        .any(|check| check.name == name && check.holds)
}

fn faults(checks: &[Check]) -> Vec<String> {
    checks
        .iter()
        .filter(|check| !check.holds)
        .map(|check| {
            format!(
                "{}: {} ({} {})",
                check.name, check.says, check.margin, check.unit
            )
        })
        .collect()
}

#[test]
fn a_box_that_is_made_folds_closes_and_holds() {
    let made = seed_tin_box();
    let inside = made.inside();
    let contents = ContentsBox {
        x: inside.width,
        y: inside.length,
        z: inside.depth,
    };
    let checks = fold_check(&made.pattern(), Some(&contents));
    assert_eq!(faults(&checks), Vec::<String>::new());
    let says: Vec<_> = checks
        .iter()
        .map(|c| format!("{}: {}", c.name, c.says))
        .collect();
    insta::assert_snapshot!(says.join("\n"), @r"
    flat: 13 panels lie flat side by side; panels and waste make up the sheet of 17782.2 mm².
    hinges: 12 creases hold their panels together at 56 moments.
    closed: Every face that should be closed is covered to 100.000 %.
    clear: The contents have 0.00 mm to spare, and no panel is in the way.
    glue: 5 glue zones are wide enough by 9.6 mm or more and in reach.
    flat vertices: No vertex inside the paper has to fold flat.
    ");
}

#[test]
fn an_envelope_that_is_made_folds_closes_and_holds() {
    for (sheet, punch) in [(128, 56), (128, 72), (96, 30), (96, 66), (64, 32)] {
        let checks = fold_check(&seed_envelope(sheet, punch).pattern(), None);
        assert_eq!(
            faults(&checks),
            Vec::<String>::new(),
            "sheet {sheet}, punch {punch}"
        );
    }
}

/// A board with marks each sixteenth up to 12 in, and notches of so many 32nds.
fn board(notch_32nds: i64) -> PunchBoard {
    let ruler = Ruler::new(Unit::Inch, sixteenths(1), sixteenths(9), sixteenths(192)).unwrap();
    PunchBoard::new(Length::from_nm(793_750 * notch_32nds), ruler).unwrap()
}

/// The largest sheet that can be typed: the tolerances still hold.
#[test]
fn a_box_from_a_sheet_of_10_m_still_holds() {
    for metres in [1, 3, 10] {
        let settings = PunchBoxSettings {
            sheet: Length::from_mm(1000 * metres),
            punch_1: sixteenths(60),
            punch_2: sixteenths(90),
        };
        let made = PunchBox::new(settings, &board(8), Length::from_nm(300_000)).unwrap();
        assert_eq!(
            faults(&fold_check(&made.pattern(), None)),
            [""; 0],
            "{metres} m"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(96) })]

    #[test]
    fn every_box_that_can_be_made_and_glued_folds_and_closes(
        notch in 4_i64..16,
        punch_1 in 9_i64..96,
        more in 8_i64..80,
        rest in 5_i64..120,
        caliper_um in 80_i64..600,
    ) {
        let settings = PunchBoxSettings {
            sheet: sixteenths(punch_1 + more + rest),
            punch_1: sixteenths(punch_1),
            punch_2: sixteenths(punch_1 + more),
        };
        let made = PunchBox::new(settings, &board(notch), Length::from_nm(caliper_um * 1000));
        prop_assume!(made.is_ok());
        let Ok(made) = made else { return Ok(()) };
        let inside = made.inside();
        let contents = ContentsBox { x: inside.width, y: inside.length, z: inside.depth };
        let pattern = made.pattern();
        // A box of a few millimetres has joints too small for glue; sizing sets those aside.
        prop_assume!(pattern.glue.iter().all(GlueZone::is_large_enough));
        let faults = faults(&fold_check(&pattern, Some(&contents)));
        prop_assert!(faults.is_empty(), "{made:?}\n{faults:#?}");
        let volume = fold_closed(&pattern).volume(&pattern);
        let want = made.width_mm() * made.length_mm() * made.depth_mm();
        prop_assert!((volume / want - 1.0).abs() < 1e-9, "{volume} against {want}: {made:?}");
    }

    #[test]
    fn every_envelope_that_can_be_made_folds_and_closes(
        notch in 4_i64..16,
        punch in 9_i64..150,
        rest in 5_i64..150,
        caliper_um in 80_i64..400,
    ) {
        let settings = PunchEnvelopeSettings {
            sheet: sixteenths(punch + rest),
            punch: sixteenths(punch),
        };
        let made = PunchEnvelope::new(settings, &board(notch), Length::from_nm(caliper_um * 1000));
        prop_assume!(made.is_ok());
        let Ok(made) = made else { return Ok(()) };
        let inside = made.inside_for(1.0);
        let contents = ContentsBox { x: inside.width, y: inside.length, z: inside.depth };
        let faults = faults(&fold_check(&made.pattern(), Some(&contents)));
        prop_assert!(faults.is_empty(), "{made:?}\n{faults:#?}");
    }

    /// One corner of one panel is moved: some point of the check says no.
    #[test]
    fn no_corner_can_be_moved_unnoticed(
        panel in 0_usize..13,
        corner in 0_usize..13,
        by in 0.001_f64..20.0,
        towards in 0.0_f64..std::f64::consts::TAU,
    ) {
        let mut pattern = seed_tin_box().pattern();
        let outline = &mut pattern.panels[panel].outline;
        let corner = corner % outline.len();
        outline[corner] += kurbo::Vec2::from_angle(towards) * by;
        let checks = fold_check(&pattern, None);
        prop_assert!(checks.iter().any(|check| !check.holds), "{panel} {corner}");
    }

    /// One crease ends at another angle: the piece is not closed, or is torn.
    #[test]
    fn no_crease_can_end_at_another_angle_unnoticed(crease in 0_usize..12, by in 0.01_f64..90.0) {
        let mut pattern = seed_tin_box().pattern();
        pattern.creases[crease].angle_deg -= by;
        for (id, angle) in pattern.folds.iter_mut().flat_map(|fold| &mut fold.creases) {
            if id.0 == crease {
                *angle -= by;
            }
        }
        prop_assert!(!holds(&pattern, "closed"), "crease {crease}");
    }
}
