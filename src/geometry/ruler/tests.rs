//! Marks, reach and reading.

use insta::assert_snapshot;
use proptest::prelude::*;

use super::{Ruler, both};
use crate::length::{Length, Unit};

fn inch(text: &str) -> Length {
    Length::read(text, Unit::Inch).unwrap_or_else(|error| panic!("{error}"))
}

fn centimetre() -> Ruler {
    let (step, longest) = (Length::from_mm(1), Length::from_mm(300));
    Ruler::new(Unit::Centimetre, step, Length::ZERO, longest).unwrap()
}

#[test]
fn a_mark_reads_in_the_rulers_own_unit() {
    let sixteenths = Ruler::inch(16);
    for text in ["5 1/4 in", "1/16 in", "12 in", "0 in", "3 15/16 in"] {
        assert_eq!(sixteenths.text(inch(text)), text);
    }
    assert_eq!(Ruler::millimetre().text(Length::from_mm(133)), "133 mm");
    assert_eq!(centimetre().text(Length::from_mm(133)), "13.3 cm");
    assert_eq!(sixteenths.text(-inch("1/4")), "-1/4 in");
}

#[test]
fn what_is_off_the_marks_is_never_rounded_silently() {
    let sixteenths = Ruler::inch(16);
    assert_eq!(sixteenths.text(inch("5 17/64")), "≈ 5 1/4 in");
    assert_eq!(sixteenths.text(inch("0.3 mm")), "< 1/16 in");
    assert_eq!(sixteenths.text_or_exact(inch("0.3 mm")), "0.3 mm");
    assert_eq!(sixteenths.text_or_exact(inch("1/4")), "1/4 in");
    assert_eq!(sixteenths.text_mm(133.35), "5 1/4 in");
    assert_eq!(sixteenths.text_mm(133.350_000_9), "5 1/4 in");
    assert_eq!(sixteenths.text_mm(133.350_1), "≈ 5 1/4 in");
    assert_eq!(Ruler::millimetre().text_mm(f64::NAN), "NaN mm");
    assert_eq!(Ruler::millimetre().text_mm(1e300), format!("{} mm", 1e300));
}

#[test]
fn measures_are_spoken_as_people_say_them() {
    let ruler = Ruler::inch(64);
    assert_snapshot!(ruler.spoken(inch("5 1/4")), @"5 and a quarter inches");
    assert_snapshot!(ruler.spoken(inch("1/2")), @"half an inch");
    assert_snapshot!(ruler.spoken(inch("3/4")), @"three quarters of an inch");
    assert_snapshot!(ruler.spoken(inch("2 7/8")), @"2 and 7 eighths inches");
    assert_snapshot!(ruler.spoken(inch("1 1/16")), @"1 and a sixteenth inches");
    assert_snapshot!(ruler.spoken(inch("1")), @"1 inch");
    assert_snapshot!(ruler.spoken(inch("0")), @"0 inches");
    assert_snapshot!(Ruler::inch(8).spoken(inch("1 1/16")), @"about 1 and an eighth inches");
    assert_snapshot!(Ruler::inch(8).spoken(inch("0.1 mm")), @"less than an eighth of an inch");
    assert_snapshot!(Ruler::millimetre().spoken(Length::from_mm(133)), @"133 millimetres");
    assert_snapshot!(Ruler::millimetre().spoken(Length::from_mm(1)), @"1 millimetre");
    assert_snapshot!(centimetre().spoken(Length::from_mm(133)), @"13.3 centimetres");
}

#[test]
fn the_other_system_is_a_conversion() {
    let quarter = inch("5 1/4");
    assert_eq!(
        both(&Ruler::inch(16), quarter),
        ("5 1/4 in".into(), "≈ 133 mm".into())
    );
    let mm = Length::from_mm(133);
    assert_eq!(
        both(&Ruler::millimetre(), mm),
        ("133 mm".into(), "≈ 5 1/4 in".into())
    );
    assert_eq!(both(&Ruler::inch(2), Length::inches(5)).1, "127 mm");
}

#[test]
fn rounding_names_a_direction_and_stays_within_reach() {
    let ruler = Ruler::inch(4);
    assert_eq!(ruler.down(133.35), Some(inch("5 1/4")));
    assert_eq!(ruler.up(133.35), Some(inch("5 1/4")));
    assert_eq!(ruler.down(133.3), Some(inch("5")));
    assert_eq!(ruler.up(133.4), Some(inch("5 1/2")));
    assert_eq!(ruler.nearest(133.4), Some(inch("5 1/4")));
    assert_eq!(
        ruler.down(1000.0),
        Some(inch("12")),
        "the last mark is not above 1 m"
    );
    assert_eq!(ruler.up(1000.0), None);
    assert_eq!(ruler.nearest(1000.0), None);
    assert_eq!(ruler.down(-1.0), None);
    assert_eq!(ruler.up(-1.0), Some(Length::ZERO));
    for odd in [f64::NAN, f64::INFINITY] {
        assert_eq!(ruler.up(odd), None);
        assert_eq!(ruler.nearest(odd), None);
        assert_eq!(ruler.down(-odd), None);
    }
}

#[test]
fn only_marks_within_reach_can_be_set() {
    let eighth = inch("1/8");
    let ruler = Ruler::new(Unit::Inch, eighth, inch("1/2"), inch("4")).unwrap();
    assert!(ruler.has(inch("1 3/8")));
    assert!(!ruler.has(inch("1 3/16")));
    assert!(!ruler.has(inch("3/8")));
    assert!(!ruler.has(inch("4 1/8")));
    let marks: Vec<_> = ruler.marks_between(Length::ZERO, inch("3/4")).collect();
    assert_eq!(marks, [inch("1/2"), inch("5/8"), inch("3/4")]);
    assert_eq!(ruler.marks_between(inch("4"), Length::MAX).count(), 1);
    assert_eq!(ruler.marks_between(inch("2"), inch("1")).count(), 0);
}

#[test]
fn a_ruler_that_cannot_be_is_refused_in_words() {
    let wrong = |unit, step, shortest, longest| {
        Ruler::new(unit, inch(step), inch(shortest), inch(longest))
            .expect_err("refused")
            .to_string()
    };
    assert_snapshot!(wrong(Unit::Foot, "1", "0", "12"), @"A ruler in ft cannot be used here. Choose in, mm or cm.");
    assert_snapshot!(wrong(Unit::Millimetre, "0.05 mm", "0", "12"), @"A step of 0.05 mm is too fine to set. Type 0.1 mm or more.");
    assert_snapshot!(wrong(Unit::Millimetre, "0", "0", "12"), @"A step of 0 mm is too fine to set. Type 0.1 mm or more.");
    assert_snapshot!(wrong(Unit::Inch, "3/16", "0", "12"), @"A step of 4.7625 mm does not divide an inch. Type 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64 in.");
    assert_snapshot!(wrong(Unit::Inch, "1/4", "3 1/8", "3 3/16"), @"There is no mark from 79.375 mm to 80.9625 mm at steps of 6.35 mm. Type a longest measure of 82.55 mm or more.");
    assert_snapshot!(wrong(Unit::Inch, "1/4", "9", "3"), @"There is no mark from 228.6 mm to 76.2 mm at steps of 6.35 mm. Type a longest measure of 228.6 mm or more.");
    let far = Ruler::new(
        Unit::Inch,
        inch("1"),
        Length::ZERO,
        Length::from_nm(i64::MAX),
    );
    assert_snapshot!(far.expect_err("refused").to_string(), @"A ruler from 0 mm to 9223372036854.775807 mm is out of range. Type lengths from 0 to 10000 mm (393 11/16 in).");
}

#[test]
fn a_stored_ruler_is_checked_when_it_is_read() {
    let ruler = Ruler::inch(16);
    let json = serde_json::to_string(&ruler).unwrap();
    assert_snapshot!(json, @r##"{"unit":"in","step":"1.5875 mm","shortest":"0 mm","longest":"304.8 mm"}"##);
    assert_eq!(serde_json::from_str::<Ruler>(&json).unwrap(), ruler);
    let broken = json.replace("1.5875 mm", "0 mm");
    assert!(serde_json::from_str::<Ruler>(&broken).is_err());
}

proptest! {
    #[test]
    fn a_marks_text_reads_back_to_the_mark(index in 0_i64..393, power in 0_u32..7) {
        for ruler in [Ruler::inch(1 << power), Ruler::millimetre(), centimetre()] {
            let mark = ruler.step() * index;
            prop_assert_eq!(Length::read(&ruler.text(mark), ruler.unit()), Ok(mark));
            prop_assert_eq!(ruler.text_mm(mark.mm()), ruler.text(mark));
        }
    }

    #[test]
    fn down_and_up_enclose_the_value(mm in 0.0..300.0_f64) {
        let ruler = Ruler::millimetre();
        let (down, up) = (ruler.down(mm).unwrap(), ruler.up(mm).unwrap());
        prop_assert!(down.mm() <= mm + 1e-9 && mm <= up.mm() + 1e-9);
        prop_assert!(up - down <= ruler.step());
        let nearest = ruler.nearest(mm).unwrap();
        prop_assert!(nearest == down || nearest == up);
        prop_assert!((nearest.mm() - mm).abs() <= 0.5 + 1e-9);
    }
}

#[test]
fn a_message_quotes_inches_on_an_inch_ruler_where_they_are_exact() {
    let ruler = Ruler::inch(16);
    let quoted = ["1 1/2 in", "2 29/32 in", "2.03 in", "0.005 in", "10 mm"].map(|typed| {
        let length = Length::read(typed, Unit::Inch).unwrap();
        ruler.text_or_exact(length)
    });
    assert_eq!(
        quoted,
        ["1 1/2 in", "2 29/32 in", "2.03 in", "0.005 in", "10 mm"]
    );
}
