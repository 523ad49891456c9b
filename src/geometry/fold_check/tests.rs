//! Whole patterns through the whole check.

use proptest::prelude::*;

use super::*;
use crate::{
    Length, PunchBoard, PunchBox, PunchBoxSettings, PunchEnvelope, PunchEnvelopeSettings, Ruler,
    fold_closed,
};

fn sixteenths(n: i64) -> Length {
    Length::from_nm(1_587_500 * n)
}

/// A square of 5 1/4 in, punched at 1 1/2 and 2 7/8 in.
fn seed_tin_box() -> PunchBox {
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

fn seed_envelope(sheet: i64, punch: i64) -> PunchEnvelope {
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
