//! The limits as published, row by row.

use proptest::prelude::*;

use super::*;
use crate::envelope_sizes;

fn piece(length_mm: f64, height_mm: f64, thickness_mm: f64) -> Mailpiece {
    Mailpiece {
        length_mm,
        height_mm,
        thickness_mm,
        grams: None,
        uneven: false,
    }
}

fn inches(length: f64, height: f64, thickness: f64) -> Mailpiece {
    piece(length * INCH, height * INCH, thickness * INCH)
}

fn envelope(name: &str) -> Mailpiece {
    let size = envelope_sizes().iter().find(|size| size.name == name);
    let size = size.unwrap_or_else(|| panic!("{name} is not listed"));
    piece(size.height.mm(), size.width.mm(), 1.0)
}

fn class_of(post: &str, piece: &Mailpiece) -> &'static str {
    let classes = post_classes(piece);
    classes
        .iter()
        .find(|it| it.post == post)
        .map_or("none", |it| it.class)
}

/// DMM 601, text quoted by a printer: 4 x 6 in addressed along the 4 in side is nonmailable;
/// 5 x 8 in along the 8 in side has a ratio of 1.6; along the 5 in side 0.625, nonmachinable.
#[test]
fn the_three_placements_of_an_address_are_those_of_the_manual() {
    assert_eq!(class_of("USPS", &inches(4.0, 6.0, 0.02)), "not mailable");
    let along = inches(8.0, 5.0, 0.02);
    assert_eq!(class_of("USPS", &along), "letter");
    assert!((along.aspect_ratio() - 1.6).abs() < 1e-12);
    let across = inches(5.0, 8.0, 0.02);
    assert_eq!(class_of("USPS", &across), "nonmachinable letter");
    assert!((across.aspect_ratio() - 0.625).abs() < 1e-12);
}

/// DMM 101.1.2, Publication 25 §1-2.3: 1.3 to 2.5 inclusive. Ratios computed from the sizes.
#[test]
fn square_envelopes_are_nonmachinable_and_the_named_sizes_are_not() {
    let square = piece(140.0, 140.0, 1.0);
    assert_eq!(class_of("USPS", &square), "nonmachinable letter");
    for (name, ratio) in [
        ("US A2", 1.3143),
        ("US A6", 1.3684),
        ("US A7", 1.3810),
        ("US #10", 2.3030),
        ("C6", 1.4211),
        ("DL", 2.0),
        ("B6", 1.408),
    ] {
        let found = envelope(name);
        assert!((found.aspect_ratio() - ratio).abs() < 5e-5, "{name}");
        assert_eq!(class_of("USPS", &found), "letter", "{name}");
    }
    for (length, class) in [
        (5.2, "letter"),
        (5.19, "nonmachinable letter"),
        (10.0, "letter"),
        (10.01, "nonmachinable letter"),
    ] {
        assert_eq!(
            class_of("USPS", &inches(length, 4.0, 0.02)),
            class,
            "{length}"
        );
    }
}

/// DMM 101.1.1, 201.1.1, QSG 201, Publication 25: 5–11½ x 3½–6⅛ x 0.007–¼ in, 0.009 in where
/// larger than 6 x 4¼ in, 3.5 oz. DMM 301.1: flats to 15 x 12 x ¾ in.
#[test]
fn letters_end_where_the_manual_says() {
    for (at, class) in [
        (inches(11.5, 6.125, 0.25), "letter"),
        (inches(11.51, 6.125, 0.25), "flat (large envelope)"),
        (inches(11.5, 6.13, 0.25), "flat (large envelope)"),
        (inches(11.5, 6.125, 0.26), "flat (large envelope)"),
        (inches(5.0, 3.5, 0.007), "letter"),
        (inches(5.0, 3.5, 0.0069), "not mailable"),
        (inches(4.99, 3.5, 0.007), "not mailable"),
        (inches(6.0, 4.25, 0.008), "letter"),
        (inches(6.01, 4.25, 0.008), "nonmachinable letter"),
        (inches(6.01, 4.25, 0.009), "letter"),
        (inches(6.0, 4.26, 0.008), "nonmachinable letter"),
        (inches(6.0, 4.26, 0.009), "letter"),
        (inches(15.0, 12.0, 0.75), "flat (large envelope)"),
        (inches(15.1, 12.0, 0.75), "parcel"),
    ] {
        assert_eq!(class_of("USPS", &at), class, "{at:?}");
    }
    // In mm: 127–292.1 x 88.9–155.575 x 0.1778/0.2286–6.35.
    for (at, class) in [
        (piece(292.1, 155.575, 6.35), "letter"),
        (piece(292.1, 155.575, 6.36), "flat (large envelope)"),
        (piece(127.0, 88.9, 0.1778), "letter"),
        (piece(126.9, 88.9, 0.1778), "not mailable"),
        (piece(127.0, 88.8, 0.1778), "not mailable"),
        (piece(127.0, 88.9, 0.1777), "not mailable"),
        (piece(160.0, 100.0, 0.2286), "letter"),
        (piece(160.0, 100.0, 0.2285), "nonmachinable letter"),
    ] {
        assert_eq!(class_of("USPS", &at), class, "{at:?}");
    }
    let heavy = |grams| Mailpiece {
        grams: Some(grams),
        ..inches(8.0, 5.0, 0.1)
    };
    assert_eq!(class_of("USPS", &heavy(99.22)), "letter");
    assert_eq!(class_of("USPS", &heavy(99.23)), "flat (large envelope)");
}

#[test]
fn a_ribbon_or_a_button_makes_a_letter_nonmachinable() {
    let uneven = Mailpiece {
        uneven: true,
        ..envelope("US A7")
    };
    assert_eq!(class_of("USPS", &uneven), "nonmachinable letter");
}

/// GPO/JCP index paper: 110 lb 9.1 mil, 140 lb 11.4 mil, two glued sheets of 110 lb 18.2 mil;
/// cards are 0.007 to 0.016 in thick (BusinessMail101).
#[test]
fn one_sheet_of_index_goes_as_a_card_and_two_glued_do_not() {
    for (mil, goes) in [(9.1, true), (11.4, true), (18.2, false), (6.9, false)] {
        assert_eq!(
            usps_card_price(&inches(6.0, 4.25, mil / 1000.0)),
            goes,
            "{mil}"
        );
    }
    assert!(!usps_card_price(&inches(6.1, 4.25, 0.01)));
}

/// QSG 201e (2016, 2021): a box 10 x 8 x 5 has 10 + 26 = 36; a triangular tube 20 long with
/// sides of 6 has 38.
#[test]
fn length_and_girth_are_those_of_the_guide() {
    assert_eq!(length_and_girth(10.0, &[8.0, 5.0, 8.0, 5.0]), 36.0);
    assert_eq!(length_and_girth(20.0, &[6.0, 6.0, 6.0]), 38.0);
}

/// Ofcom help page and four guides.
#[test]
fn a_5_mm_card_is_a_letter_in_britain_and_a_6_mm_one_is_not() {
    for (name, thick, class) in [
        ("C5", 5.0, "letter"),
        ("C5", 6.0, "large letter"),
        ("C4", 5.0, "large letter"),
        ("C3", 5.0, "parcel"),
    ] {
        let at = Mailpiece {
            thickness_mm: thick,
            ..envelope(name)
        };
        assert_eq!(class_of("Royal Mail", &at), class, "{name} {thick}");
    }
}

/// Ofcom help page and four guides: 240 x 165 x 5 mm to 100 g, 353 x 250 x 25 mm to 750 g,
/// 450 x 350 x 160 mm to 2 kg.
#[test]
fn classes_of_royal_mail_end_at_their_limits() {
    let letter = (240.0, 165.0, 5.0);
    let large = (353.0, 250.0, 25.0);
    let parcel = (450.0, 350.0, 160.0);
    for ((long, short, thick), grams, class) in [
        (letter, 100.0, "letter"),
        ((240.1, 165.0, 5.0), 100.0, "large letter"),
        ((240.0, 165.1, 5.0), 100.0, "large letter"),
        ((240.0, 165.0, 5.1), 100.0, "large letter"),
        (letter, 101.0, "large letter"),
        (large, 750.0, "large letter"),
        ((353.1, 250.0, 25.0), 750.0, "small parcel"),
        ((353.0, 250.1, 25.0), 750.0, "small parcel"),
        ((353.0, 250.0, 25.1), 750.0, "small parcel"),
        (large, 751.0, "small parcel"),
        (parcel, 2000.0, "small parcel"),
        ((450.1, 350.0, 160.0), 2000.0, "parcel"),
        ((450.0, 350.1, 160.0), 2000.0, "parcel"),
        ((450.0, 350.0, 160.1), 2000.0, "parcel"),
        (parcel, 2001.0, "parcel"),
    ] {
        let at = Mailpiece {
            grams: Some(grams),
            ..piece(long, short, thick)
        };
        assert_eq!(class_of("Royal Mail", &at), class, "{at:?}");
    }
}

/// Regulations art. 203, as quoted by four posts.
#[test]
fn abroad_a_standard_letter_is_1_4_times_as_long_as_wide() {
    for (at, class) in [
        (envelope("C6"), "standardized letter"),
        (piece(150.0, 110.0, 1.0), "letter, not standardized"),
        (envelope("C5"), "letter, not standardized"),
        (piece(140.0, 90.0, 1.0), "standardized letter"),
        (piece(139.0, 90.0, 1.0), "too small"),
        (piece(600.0, 290.0, 10.0), "letter, not standardized"),
        (piece(600.0, 290.0, 11.0), "too large"),
        (piece(601.0, 90.0, 1.0), "too large"),
        (piece(140.0, 89.0, 1.0), "too small"),
        (piece(235.0, 120.0, 5.0), "standardized letter"),
        (piece(235.1, 120.0, 5.0), "letter, not standardized"),
        (piece(235.0, 120.1, 5.0), "letter, not standardized"),
        (piece(235.0, 120.0, 5.1), "letter, not standardized"),
    ] {
        assert_eq!(class_of("Universal Postal Union", &at), class, "{at:?}");
    }
}

/// Regulations art. 203 as quoted by Korea Post: L + 2 d up to 1040 mm, the longest 900 mm; at
/// least 170 mm, the longest 100 mm.
#[test]
fn rolls_go_abroad_up_to_their_limits() {
    for (length, diameter, goes) in [
        (900.0, 70.0, true),
        (900.0, 70.1, false),
        (900.1, 60.0, false),
        (840.0, 100.0, true),
        (100.0, 35.0, true),
        (100.0, 34.9, false),
        (99.9, 40.0, false),
        (300.0, 0.0, false),
        (f64::NAN, 40.0, false),
    ] {
        assert_eq!(
            upu_takes_roll(length, diameter),
            goes,
            "{length} {diameter}"
        );
    }
}

/// The Regulations allow 2 mm; an answer keeps to the sizes without, so that it holds at every
/// counter.
#[test]
fn a_tolerance_of_2_mm_abroad_is_not_used_up() {
    let upu = "Universal Postal Union";
    assert_eq!(class_of(upu, &piece(138.0, 90.0, 1.0)), "too small");
    let over = piece(237.0, 120.0, 5.0);
    assert_eq!(class_of(upu, &over), "letter, not standardized");
}

/// Consumer guides; C5 is wider than 125 mm (one guide on the web says otherwise), a square
/// goes only as Großbrief.
#[test]
fn c5_and_squares_are_large_in_germany() {
    for (at, class) in [
        (envelope("C6"), "Standardbrief"),
        (envelope("DL"), "Standardbrief"),
        (envelope("C5"), "Großbrief"),
        (piece(120.0, 120.0, 1.0), "Großbrief"),
        (piece(120.0, 80.0, 1.0), "Kompaktbrief"),
        (
            Mailpiece {
                thickness_mm: 6.0,
                ..envelope("C6")
            },
            "Kompaktbrief",
        ),
        (
            Mailpiece {
                grams: Some(21.0),
                ..envelope("C6")
            },
            "Kompaktbrief",
        ),
        (
            Mailpiece {
                grams: Some(51.0),
                ..envelope("C6")
            },
            "Großbrief",
        ),
        (envelope("C4"), "Großbrief"),
        (envelope("C3"), "larger than a Großbrief"),
        (piece(99.0, 70.0, 1.0), "too small"),
        (piece(100.0, 69.0, 1.0), "too small"),
    ] {
        assert_eq!(class_of("Deutsche Post", &at), class, "{at:?}");
    }
}

/// Consumer guides: 140–235 x 90–125 x 5 mm to 20 g, 100–235 x 70–125 x 10 mm to 50 g, to
/// 353 x 250 x 20 mm and 500 g.
#[test]
fn classes_of_deutsche_post_end_at_their_limits() {
    let standard = (235.0, 125.0, 5.0);
    let compact = (235.0, 125.0, 10.0);
    let large = (353.0, 250.0, 20.0);
    for ((long, short, thick), grams, class) in [
        (standard, 20.0, "Standardbrief"),
        ((140.0, 90.0, 5.0), 20.0, "Standardbrief"),
        ((139.0, 90.0, 5.0), 20.0, "Kompaktbrief"),
        ((140.0, 89.0, 5.0), 20.0, "Kompaktbrief"),
        ((235.0, 125.0, 5.1), 20.0, "Kompaktbrief"),
        (standard, 20.1, "Kompaktbrief"),
        ((235.1, 125.0, 5.0), 20.0, "Großbrief"),
        ((235.0, 125.1, 5.0), 20.0, "Großbrief"),
        (compact, 50.0, "Kompaktbrief"),
        ((100.0, 70.0, 10.0), 50.0, "Kompaktbrief"),
        ((235.0, 125.0, 10.1), 50.0, "Großbrief"),
        (compact, 50.1, "Großbrief"),
        (large, 500.0, "Großbrief"),
        ((353.1, 250.0, 20.0), 500.0, "larger than a Großbrief"),
        ((353.0, 250.1, 20.0), 500.0, "larger than a Großbrief"),
        ((353.0, 250.0, 20.1), 500.0, "larger than a Großbrief"),
        (large, 500.1, "larger than a Großbrief"),
    ] {
        let at = Mailpiece {
            grams: Some(grams),
            ..piece(long, short, thick)
        };
        assert_eq!(class_of("Deutsche Post", &at), class, "{at:?}");
    }
}

#[test]
fn what_they_say_is_what_is_to_be_read() {
    let square = Mailpiece {
        uneven: true,
        ..piece(140.0, 140.0, 3.0)
    };
    let says: Vec<String> = post_classes(&square)
        .iter()
        .map(|it| format!("{}: {}. {}", it.post, it.class, it.says.join(" ")))
        .collect();
    insta::assert_snapshot!(says.join("\n"), @"
    USPS: nonmachinable letter. Its length is 1.00 times its height; machines take 1.3 to 2.5 times. It is uneven: machines take no clasps, strings, buttons or lumps. It may weigh up to 3.5 oz.
    Royal Mail: letter. Up to 240 x 165 x 5 mm and 100 g.
    Universal Postal Union: letter, not standardized. A standardized one is up to 235 x 120 x 5 mm.
    Deutsche Post: Großbrief. Up to 353 x 250 x 20 mm and 500 g.
    ");
    assert!(post_classes(&piece(0.0, 140.0, 1.0)).is_empty());
    assert!(post_classes(&piece(f64::NAN, 140.0, 1.0)).is_empty());
}

proptest! {
    /// Thicker or heavier never makes a smaller class of Royal Mail.
    #[test]
    fn more_is_never_a_smaller_class(
        long in 1.0..700.0_f64, short in 1.0..700.0_f64, thick in 0.1..200.0_f64,
        grams in 0.0..3000.0_f64, more in 0.0..500.0_f64,
    ) {
        let classes = ["letter", "large letter", "small parcel", "parcel"];
        let at = |thickness_mm, grams| {
            let it = Mailpiece { grams: Some(grams), ..piece(long, short, thickness_mm) };
            classes.iter().position(|class| *class == class_of("Royal Mail", &it))
        };
        prop_assert!(at(thick, grams).is_some());
        prop_assert!(at(thick + more, grams) >= at(thick, grams));
        prop_assert!(at(thick, grams + more) >= at(thick, grams));
    }
}
