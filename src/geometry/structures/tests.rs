//! The two structures against facts of the trade, against their own inverses, and refused.

use proptest::prelude::*;

use super::*;
use crate::{Length, Pattern, PunchBoard, Ruler, Unit};

fn sixteenths(n: i64) -> Length {
    Length::from_nm(1_587_500 * n)
}

fn card() -> Length {
    Length::from_nm(300_000)
}

fn make_box(sheet: Length, punch_1: Length, punch_2: Length) -> Result<PunchBox, StructureError> {
    let settings = PunchBoxSettings {
        sheet,
        punch_1,
        punch_2,
    };
    PunchBox::new(settings, &PunchBoard::default_inch(), card())
}

fn make_envelope(sheet: Length, punch: Length) -> Result<PunchEnvelope, StructureError> {
    let settings = PunchEnvelopeSettings { sheet, punch };
    PunchEnvelope::new(settings, &PunchBoard::default_inch(), card())
}

fn refusal<T: std::fmt::Debug>(made: Result<T, StructureError>) -> String {
    let error = made.unwrap_err();
    format!("{}: {error}", error.field())
}

/// Common practice, no source: a square of 5 1/4 in punched at 1 1/2 and 2 7/8 in with a notch of
/// 1/4 in makes a box of about 1 3/4 x 1 x 3 in, whose side points stick out by about 3/32 in;
/// four cuts free the tabs.
#[test]
fn the_usual_small_box_comes_out_as_the_trade_says() {
    let made = make_box(sixteenths(84), sixteenths(24), sixteenths(46)).unwrap();
    let inches = |mm: f64| mm / 25.4;
    for (name, got, about) in [
        ("width", made.width_mm(), 1.75),
        ("depth", made.depth_mm(), 1.0),
        ("length", made.length_mm(), 3.0),
    ] {
        assert!(
            (inches(got) - about).abs() < 1.0 / 32.0,
            "{name} {} in",
            inches(got)
        );
    }
    let trim = inches(made.trim_mm());
    assert!((trim - 3.0 / 32.0).abs() < 1.0 / 64.0, "trim {trim} in");
    assert_eq!(made.pattern().cuts.len(), 4);
}

/// geometry.md §2, worked by hand: e = 6.35, p = 88.9, S = 203.2 mm:
/// W = √2 · 82.55 = 116.7434, H = √2 · 107.95 = 152.6643.
#[test]
fn an_envelope_has_the_size_worked_by_hand() {
    let made = make_envelope(sixteenths(128), sixteenths(56)).unwrap();
    assert!(
        (made.width_mm() - 116.7434).abs() < 1e-4,
        "{}",
        made.width_mm()
    );
    assert!(
        (made.height_mm() - 152.6643).abs() < 1e-4,
        "{}",
        made.height_mm()
    );
    assert!((made.back_overlap_mm() - (152.6643 + 4.0 * 8.98026 / 2.0 - 116.7434)).abs() < 1e-3);
}

#[test]
fn the_other_punch_makes_the_same_envelope_lying() {
    let (standing, lying) = (
        make_envelope(sixteenths(128), sixteenths(56)).unwrap(),
        make_envelope(sixteenths(128), sixteenths(72)).unwrap(),
    );
    assert!(!standing.lies_wide() && lying.lies_wide());
    assert_eq!(standing.width_mm(), lying.height_mm());
    assert_eq!(standing.height_mm(), lying.width_mm());
    assert_eq!(standing.trim_mm(), lying.trim_mm());
}

#[test]
fn paper_takes_room_from_the_inside() {
    // Here the two tabs of an end overlap: 5 calipers along the length.
    let made = make_box(sixteenths(84), sixteenths(24), sixteenths(46)).unwrap();
    assert!(made.tabs_overlap());
    let inside = made.inside();
    assert!((made.width_mm() - inside.width - 0.3).abs() < 1e-9);
    assert!((made.length_mm() - inside.length - 1.5).abs() < 1e-9);
    assert!((made.depth_mm() - inside.depth - 0.6).abs() < 1e-9);
    // A shallower one: 3 calipers.
    let made = make_box(sixteenths(128), sixteenths(48), sixteenths(64)).unwrap();
    assert!(!made.tabs_overlap());
    assert!((made.length_mm() - made.inside().length - 0.9).abs() < 1e-9);
}

/// By hand, in sixteenths: W = √2 · 11, L = √2 · 9, s = √2 · 4; W/2 + s − L = √2/2.
#[test]
fn end_flaps_longer_than_the_box_are_trimmed_and_not_rounded() {
    let made = make_box(sixteenths(38), sixteenths(15), sixteenths(25)).unwrap();
    let trim = std::f64::consts::FRAC_1_SQRT_2 * 1.5875;
    assert!(
        (made.end_flap_trim_mm() - trim).abs() < 1e-9,
        "{}",
        made.end_flap_trim_mm()
    );
    assert_eq!(made.tip_radius_mm(), 0.0);
}

#[test]
fn end_tips_are_rounded_by_three_notch_depths_at_most() {
    let radius = |notch_32nds: i64| {
        let e = Length::from_nm(793_750 * notch_32nds);
        let board = PunchBoard::new(e, *PunchBoard::default_inch().ruler()).unwrap();
        let settings = PunchBoxSettings {
            sheet: sixteenths(110),
            punch_1: sixteenths(40),
            punch_2: sixteenths(60),
        };
        PunchBox::new(settings, &board, card())
            .unwrap()
            .tip_radius_mm()
    };
    // 1/4 in at the usual notch of 1/4 in; 3/16 in where the notch is 1/16 in.
    assert!((radius(8) - 6.35).abs() < 1e-9, "{}", radius(8));
    assert!((radius(2) - 4.7625).abs() < 1e-9, "{}", radius(2));
}

#[test]
fn tabs_longer_than_the_box_is_wide_are_trimmed() {
    let made = make_box(sixteenths(110), sixteenths(16), sixteenths(64)).unwrap();
    assert!(made.depth_mm() > made.width_mm());
    assert!((made.tab_reach_mm() - (made.width_mm() - 0.3)).abs() < 1e-9);
    assert!((made.tab_trim_mm() + made.tab_reach_mm() - made.depth_mm()).abs() < 1e-9);
    let trims = |pattern: &Pattern| {
        pattern
            .waste
            .iter()
            .filter(|waste| waste.why == crate::WasteReason::Trim)
            .count()
    };
    assert_eq!(trims(&made.pattern()), 6, "four tabs and two side flaps");
}

#[test]
fn a_punch_off_the_ruler_is_refused() {
    let off = Length::from_nm(30_000_000);
    insta::assert_snapshot!(refusal(make_box(sixteenths(84), off, sixteenths(46))), @"punch_1: Punch 1 at 30 mm is not on the board's ruler, which has a mark each 1/16 in from 1/2 in to 8 in.");
    insta::assert_snapshot!(refusal(make_envelope(sixteenths(128), off)), @"punch: A punch at 30 mm is not on the board's ruler, which has a mark each 1/16 in from 1/2 in to 8 in.");
}

#[test]
fn punches_too_near_each_other_are_refused() {
    insta::assert_snapshot!(refusal(make_box(sixteenths(84), sixteenths(24), sixteenths(31))), @"punch_2: Punches at 1 1/2 in and 1 15/16 in run into each other. Set punch 2 at 2 in or more.");
    insta::assert_snapshot!(refusal(make_box(sixteenths(84), sixteenths(46), sixteenths(24))), @"punch_2: Punches at 2 7/8 in and 1 1/2 in run into each other. Set punch 2 at 3 3/8 in or more.");
}

#[test]
fn a_sheet_that_ends_before_the_notch_is_refused() {
    insta::assert_snapshot!(refusal(make_box(sixteenths(50), sixteenths(24), sixteenths(46))), @"sheet: A sheet of 3 1/8 in is too small for this punch. Use more than 3 1/8 in.");
    insta::assert_snapshot!(refusal(make_envelope(sixteenths(60), sixteenths(56))), @"sheet: A sheet of 3 3/4 in is too small for this punch. Use more than 3 3/4 in.");
}

#[test]
fn a_back_that_stays_open_is_refused_with_the_settings_of_the_same_box_turned() {
    let made = make_box(sixteenths(128), sixteenths(70), sixteenths(90));
    insta::assert_snapshot!(refusal(made), @"sheet: The side flaps end ≈ 2 1/8 in apart and glue needs an overlap of ≈ 5/16 in. Punch at 2 3/8 in and 3 5/8 in: that makes the same box the other way round, and its back closes.");
    let turned = make_box(sixteenths(128), sixteenths(128 - 90), sixteenths(128 - 70)).unwrap();
    assert!(turned.back_overlap_mm() > 8.0);
    let narrow = make_box(sixteenths(84), sixteenths(8), sixteenths(20));
    assert!(narrow.is_ok(), "{narrow:?}");
    let short = make_box(sixteenths(100), sixteenths(70), sixteenths(90));
    insta::assert_snapshot!(refusal(short), @"sheet: The side flaps end ≈ 4 5/8 in apart and glue needs an overlap of ≈ 5/16 in. Punch at 5/8 in and 1 7/8 in: that makes the same box the other way round, and its back closes.");
}

#[test]
fn lengths_that_are_none_are_refused() {
    let huge = Length::from_nm(i64::MAX);
    let (one, two) = (sixteenths(24), sixteenths(46));
    insta::assert_snapshot!(refusal(make_box(huge, one, two)), @"sheet: A sheet of 9223372036854.775807 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(refusal(make_box(Length::ZERO, one, two)), @"sheet: A sheet of 0 in is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(refusal(make_box(sixteenths(84), Length::from_nm(i64::MIN), two)), @"punch_1: Punch 1 at -9223372036854.775808 mm is no length that can be used. Give more than 0 and at most 10 m.");
    let settings = PunchBoxSettings {
        sheet: sixteenths(84),
        punch_1: one,
        punch_2: two,
    };
    let board = PunchBoard::default_inch();
    insta::assert_snapshot!(refusal(PunchBox::new(settings, &board, Length::ZERO)), @"caliper: A caliper of 0 in is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(refusal(PunchBox::new(settings, &board, Length::from_mm(13))), @"caliper: Paper 13 mm thick leaves no room in a depth of ≈ 1 in. Use thinner paper or larger settings.");
}

#[test]
fn a_punch_inside_the_notch_is_refused() {
    // A ruler that begins at a mark that is as deep as the notch of a shallower board.
    let ruler = Ruler::new(
        Unit::Millimetre,
        Length::from_mm(1),
        Length::from_mm(10),
        Length::from_mm(200),
    )
    .unwrap();
    let board = PunchBoard::new(Length::from_mm(6), ruler).unwrap();
    let settings = PunchEnvelopeSettings {
        sheet: Length::from_mm(100),
        punch: Length::from_mm(10),
    };
    assert!(PunchEnvelope::new(settings, &board, card()).is_ok());
    let settings = PunchEnvelopeSettings {
        punch: Length::from_mm(6),
        ..settings
    };
    insta::assert_snapshot!(refusal(PunchEnvelope::new(settings, &board, card())), @"punch: A punch at 6 mm is not on the board's ruler, which has a mark each 1 mm from 10 mm to 200 mm.");
}

#[test]
fn settings_travel_as_json() {
    let made = make_box(sixteenths(84), sixteenths(24), sixteenths(46)).unwrap();
    let settings = Settings::from(made.settings());
    let json = serde_json::to_string(&settings).unwrap();
    insta::assert_snapshot!(json, @r#"{"structure":"box","sheet":"133.35 mm","punch_1":"38.1 mm","punch_2":"73.025 mm"}"#);
    assert_eq!(serde_json::from_str::<Settings>(&json).unwrap(), settings);
    assert_eq!(StructureKind::find(" Box "), Some(PunchBox::KIND));
    assert_eq!(
        StructureKind::find("punch-board envelope"),
        Some(PunchEnvelope::KIND)
    );
    assert_eq!(StructureKind::find("🫙"), None);
    for kind in StructureKind::all() {
        assert_eq!(serde_json::to_value(kind).unwrap(), kind.slug());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn settings_are_the_inverse_of_sizes(
        punch_1 in 9_i64..60, more in 9_i64..60, rest in 5_i64..100,
    ) {
        let (sheet, one, two) = (punch_1 + more + rest, punch_1, punch_1 + more);
        let made = make_box(sixteenths(sheet), sixteenths(one), sixteenths(two));
        prop_assume!(made.is_ok());
        let Ok(made) = made else { return Ok(()) };
        let sizes = (made.width_mm(), made.length_mm(), made.depth_mm());
        let back = PunchBox::exact_settings_mm(sizes, made.notch_depth());
        for (got, want) in [(back.0, sheet), (back.1, one), (back.2, two)] {
            prop_assert!((got - sixteenths(want).mm()).abs() < 1e-9, "{got} {want}");
        }
    }

    /// Refused for the reason that the formulas of the structure give, and for no other.
    #[test]
    fn what_cannot_be_made_is_refused_for_its_reason(
        sheet in 1_i64..200, punch_1 in 1_i64..130, punch_2 in 1_i64..130,
    ) {
        let made = make_box(sixteenths(sheet), sixteenths(punch_1), sixteenths(punch_2));
        let on_ruler = |n: i64| PunchBoard::default_inch().ruler().has(sixteenths(n));
        // In sixteenths; the notch is 4 deep.
        let (w, l) = ((punch_1 - 4) as f64, (sheet - punch_2 - 4) as f64);
        let reach = (l / 2.0 + 4.0) * 2.0_f64.sqrt();
        let w = w * 2.0_f64.sqrt();
        let l = l * 2.0_f64.sqrt();
        let overlap = (2.0 * reach.min(w) - w) * 1.5875;
        let want = if !on_ruler(punch_1) {
            Some("punch_1")
        } else if !on_ruler(punch_2) || punch_2 - punch_1 < 8 {
            Some("punch_2")
        } else if l <= 0.0 || overlap < 8.0 {
            Some("sheet")
        } else if l * 1.5875 <= 1.5 {
            return Ok(());
        } else {
            None
        };
        let got = made.as_ref().err().map(StructureError::field);
        prop_assert_eq!(got, want, "{:?}", made);
    }

    /// The same of the envelope, whose paper may be too thick for it; the sentence says what does.
    #[test]
    fn an_envelope_that_cannot_be_made_is_refused_for_its_reason(
        sheet in 1_i64..160, punch in 1_i64..140, caliper in 1_i64..60,
    ) {
        let settings = PunchEnvelopeSettings { sheet: sixteenths(sheet), punch: sixteenths(punch) };
        let board = PunchBoard::default_inch();
        let made = PunchEnvelope::new(settings, &board, Length::from_nm(caliper * 100_000));
        let diagonal = |n: i64| n as f64 * 1.5875 * 2.0_f64.sqrt();
        let thick = caliper as f64 / 10.0;
        let want = if !board.ruler().has(sixteenths(punch)) {
            Some(("punch", "1/2 in to 8 in.".to_owned()))
        } else if sheet <= punch + 4 {
            let least = board.ruler().text(sixteenths(punch + 4));
            Some(("sheet", format!("Use more than {least}.")))
        } else if diagonal(punch - 4).min(diagonal(sheet - punch - 4)) <= thick {
            Some(("caliper", "Use thinner paper or larger settings.".to_owned()))
        } else {
            None
        };
        let error = made.as_ref().err();
        prop_assert_eq!(error.map(StructureError::field), want.as_ref().map(|want| want.0));
        if let Some((error, (_, end))) = error.zip(want) {
            prop_assert!(error.to_string().ends_with(&end), "{error}");
        }
    }

    #[test]
    fn no_lengths_make_it_panic(sheet: i64, one: i64, two: i64, caliper: i64) {
        let nm = Length::from_nm;
        let settings = PunchBoxSettings { sheet: nm(sheet), punch_1: nm(one), punch_2: nm(two) };
        let board = PunchBoard::default_metric();
        if let Err(error) = PunchBox::new(settings, &board, nm(caliper)) {
            prop_assert!(!error.to_string().is_empty());
        }
        let settings = PunchEnvelopeSettings { sheet: nm(sheet), punch: nm(one) };
        if let Err(error) = PunchEnvelope::new(settings, &board, nm(caliper)) {
            prop_assert!(!error.to_string().is_empty());
        }
    }
}
