//! Bands go round, hold and leave the ends of the box to be seen.

use proptest::prelude::*;

use super::*;

fn eighths(n: i64) -> Length {
    Length::from_nm(n * 3_175_000)
}

/// A metric box, 60 × 40 × 100 mm outside, with a band of 0.25 mm card.
pub(super) fn seed_tin_request() -> BandRequest {
    BandRequest {
        around: BoxOutside {
            width_mm: 60.0,
            depth_mm: 40.0,
            length_mm: 100.0,
        },
        overlap: Length::from_mm(12),
        reveal: Length::from_mm(5),
        caliper: Length::from_nm(250_000),
        notch: None,
    }
}

/// A box whose creases are √2 · 1 1/4, 1 3/8 / √2 and √2 · 2 1/8 in apart, of 0.2 mm paper.
fn trade_request() -> BandRequest {
    let root2 = std::f64::consts::SQRT_2;
    let caliper = Length::from_nm(200_000);
    BandRequest {
        around: BoxOutside::of_creases(
            root2 * 1.25 * 25.4,
            1.375 / root2 * 25.4,
            root2 * 2.125 * 25.4,
            caliper,
        ),
        overlap: eighths(3),
        reveal: eighths(1),
        caliper,
        notch: FingerNotch::half_of(eighths(4)).ok(),
    }
}

#[test]
fn a_strip_of_2_3_4_by_6_in_goes_round_a_box_of_1_3_4_by_1_by_3_in() {
    // Common practice, no source: about 1/2 in of overlap, about 1/8 in of box at each end.
    let inch = Ruler::inch(16);
    let band = Band::of_strip(&trade_request(), eighths(22), Length::inches(6), &inch).unwrap();
    let (overlap, reveal) = (band.overlap_mm() / 25.4, band.reveal_mm() / 25.4);
    assert!((overlap - 0.5).abs() < 1.0 / 16.0, "{overlap} in");
    assert!((reveal - 0.125).abs() < 1.0 / 64.0, "{reveal} in");
}

#[test]
fn panels_go_up_to_the_ruler_and_the_strip_with_them() {
    // By hand: 60.25 x 40.25 mm go up to 61 x 41; twice round is 204, and 12 of overlap make 216.
    // Front and strip must both be odd or both be even: 217, so that both ends are 78 mm.
    let mm = Ruler::millimetre();
    let band = Band::round(&seed_tin_request(), &mm, &mm).unwrap();
    assert_eq!(
        (band.front_mm(), band.side_mm(), band.girth_mm()),
        (61.0, 41.0, 204.0)
    );
    assert_eq!(band.strip_length(), Length::from_mm(217));
    assert_eq!(band.overlap_mm(), 13.0);
    assert_eq!(band.strip_width(), Length::from_mm(90));
    assert_eq!(band.reveal_mm(), 5.0);
}

#[test]
fn two_settings_make_all_four_creases() {
    let mm = Ruler::millimetre();
    let band = Band::round(&seed_tin_request(), &mm, &mm).unwrap();
    let of = |c: &BandCrease| (c.at_mm, c.mark.mm(), c.from_right, c.off_mm);
    let settings: Vec<_> = band.creases().iter().map(of).collect();
    assert_eq!(
        settings,
        [
            (37.0, 37.0, false, 0.0),
            (78.0, 78.0, false, 0.0),
            (139.0, 78.0, true, 0.0),
            (180.0, 37.0, true, 0.0),
        ]
    );
}

#[test]
fn what_cannot_go_round_is_refused_with_what_would_do() {
    let mm = Ruler::millimetre();
    let good = seed_tin_request();
    let say = |request: BandRequest| Band::round(&request, &mm, &mm).unwrap_err();
    let around = |width_mm, depth_mm, length_mm| BandRequest {
        around: BoxOutside {
            width_mm,
            depth_mm,
            length_mm,
        },
        ..good
    };
    let overlap = |mm| BandRequest {
        overlap: Length::from_mm(mm),
        ..good
    };
    insta::assert_snapshot!(say(around(f64::NAN, 40.0, 100.0)), @"The box is NaN mm in width. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(say(around(60.0, -40.0, 100.0)), @"The box is -40 mm in depth. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(say(around(160.0, 40.0, 100.0)), @"The strip needs 413.0 mm (16.26 in) in length, and your trimmer goes from 0 mm to 300 mm. Use a trimmer with more reach, or a smaller box.");
    insta::assert_snapshot!(say(around(60.0, 40.0, 400.0)), @"The strip needs 390.0 mm (15.35 in) in width, and your trimmer goes from 0 mm to 300 mm. Use a trimmer with more reach, or a smaller box.");
    insta::assert_snapshot!(say(overlap(2)), @"The overlap is 2 mm. Give 5 mm to 10 m.");
    insta::assert_snapshot!(say(overlap(70)), @"The ends lie over each other by 71.0 mm (2.80 in), but the back is only 61.0 mm (2.40 in) wide. Use less overlap or a shorter strip.");
    insta::assert_snapshot!(say(BandRequest { reveal: Length::from_mm(50), ..good }), @"A reveal of 50 mm at each end leaves no strip on a box 100.0 mm (3.94 in) long. Use less than 50.0 mm (1.97 in).");
    insta::assert_snapshot!(say(BandRequest { reveal: Length::from_mm(-1), ..good }), @"The reveal is -1 mm. Give 0 to 10 m.");
    insta::assert_snapshot!(say(BandRequest { caliper: Length::from_mm(6), ..good }), @"The caliper is 6 mm. Give 0 to 5 mm.");
    let notch = FingerNotch::half_of(Length::from_mm(70)).ok();
    insta::assert_snapshot!(say(BandRequest { notch, ..good }), @"A finger notch from a circle of 70 mm takes the whole edge of 61.0 mm (2.40 in). Use a smaller circle.");
    let short = Ruler::new(
        crate::Unit::Millimetre,
        Length::from_mm(1),
        Length::ZERO,
        Length::from_mm(70),
    );
    insta::assert_snapshot!(Band::round(&good, &mm, &short.unwrap()).unwrap_err(), @"A crease lies ≈ 76.4 mm (3.01 in) from the end, and your score board goes from 0 mm to 70 mm. Crease it round the box by hand, or use a longer ruler.");
}

#[test]
fn a_strip_at_hand_is_refused_when_it_does_not_go_round() {
    let mm = Ruler::millimetre();
    let say = |width, length| {
        let (width, length) = (Length::from_mm(width), Length::from_mm(length));
        Band::of_strip(&seed_tin_request(), width, length, &mm).unwrap_err()
    };
    insta::assert_snapshot!(say(90, 205), @"A strip of 205 mm is too short: round the box are 201.0 mm (7.91 in), and the ends need 5 mm to hold. Cut it longer.");
    insta::assert_snapshot!(say(101, 213), @"A strip 101 mm wide sticks out of a box 100.0 mm (3.94 in) long. Cut it narrower.");
    insta::assert_snapshot!(say(0, 213), @"The strip width is 0 mm. Give more than 0 and at most 10 m.");
}

/// Random boxes that a 1 m ruler reaches round.
pub(super) fn requests() -> impl Strategy<Value = BandRequest> {
    (
        20.0..150.0f64,
        10.0..150.0f64,
        30.0..200.0f64,
        5..15i64,
        0..12i64,
        0..600_000i64,
    )
        .prop_map(
            |(width_mm, depth_mm, length_mm, overlap, reveal, caliper)| BandRequest {
                around: BoxOutside {
                    width_mm,
                    depth_mm,
                    length_mm,
                },
                overlap: Length::from_mm(overlap),
                reveal: Length::from_mm(reveal),
                caliper: Length::from_nm(caliper),
                notch: None,
            },
        )
}

pub(super) fn metre() -> Ruler {
    let (step, longest) = (Length::from_mm(1), Length::from_mm(1000));
    Ruler::new(crate::Unit::Millimetre, step, Length::ZERO, longest).unwrap()
}

proptest! {
    #[test]
    fn overlap_and_reveal_are_never_less_than_asked(request in requests()) {
        let band = Band::round(&request, &metre(), &metre()).unwrap();
        prop_assert!(band.overlap_mm() >= request.overlap.mm() - 1e-6);
        // Up to the next mark, and one further where the halves would not be even.
        prop_assert!(band.overlap_mm() < request.overlap.mm() + 2.0);
        prop_assert!(band.reveal_mm() >= request.reveal.mm() - 1e-6);
        prop_assert!(band.reveal_mm() < request.reveal.mm() + 0.5);
    }

    #[test]
    fn panels_and_ends_add_up_to_the_strip(request in requests()) {
        let band = Band::round(&request, &metre(), &metre()).unwrap();
        let [c1, c2, c3, c4] = band.creases().map(|crease| crease.at_mm);
        let total = band.strip_length().mm();
        prop_assert!((c2 - c1 - band.side_mm()).abs() < 1e-9);
        prop_assert!((c3 - c2 - band.front_mm()).abs() < 1e-9);
        prop_assert!((c4 - c3 - band.side_mm()).abs() < 1e-9);
        // The two back ends make the back and once more the overlap.
        prop_assert!((c1 + total - c4 - band.front_mm() - band.overlap_mm()).abs() < 1e-9);
        for crease in band.creases() {
            prop_assert!(crease.off_mm.abs() <= 1e-9);
        }
    }

    #[test]
    fn no_panel_is_shorter_than_its_wall_and_none_is_a_step_too_long(request in requests()) {
        let band = Band::round(&request, &metre(), &metre()).unwrap();
        let (t, around) = (request.caliper.mm(), request.around);
        for (panel, wall) in [(band.front_mm(), around.width_mm), (band.side_mm(), around.depth_mm)] {
            prop_assert!(panel >= wall + t - 1e-6 && panel < wall + t + 1.0 + 1e-6);
        }
    }

    #[test]
    fn a_larger_box_never_takes_a_shorter_strip(request in requests(), more in 0.0..20.0f64) {
        let strip = |request| Band::round(&request, &metre(), &metre()).unwrap().strip_length();
        let mut larger = request;
        larger.around.depth_mm += more;
        prop_assert!(strip(larger) >= strip(request));
        let thicker = BandRequest { caliper: request.caliper + Length::from_nm(100_000), ..request };
        prop_assert!(strip(thicker) >= strip(request));
    }
}
