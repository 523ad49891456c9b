//! What people write, each way to be wrong, and round trips.

use insta::assert_snapshot;
use proptest::prelude::*;

use super::{Length, Unit};

fn read(text: &str) -> Length {
    Length::read(text, Unit::Inch).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn message(text: &str) -> String {
    match Length::read(text, Unit::Inch) {
        Ok(length) => panic!("{text} was read as {}", length.exact_text()),
        Err(error) => error.to_string(),
    }
}

#[test]
fn lengths_are_read_as_people_write_them() {
    // 1/64 in = 396 875 nm: an inch is 25.4 mm by definition.
    let quarter_past_five = Length::from_nm(336 * 396_875);
    for text in [
        "5 1/4",
        "5-1/4",
        "5 - 1/4",
        "5–1/4",
        "5¼",
        "5 ¼",
        "5 1⁄4\"",
        "5.25 in",
        "5,25in",
        "5 1/4 inches",
        "5.25″",
        "5.25''",
        "05.250",
        "21/4",
        " 5 1/4 in. ",
        "133.35 mm",
        "13,335000 cm",
        "5 ¼ IN",
        "5\u{a0}1/4\u{a0}in",
    ] {
        assert_eq!(read(text), quarter_past_five, "{text}");
    }
    assert_eq!(read("13,3 cm"), Length::from_mm(133));
    assert_eq!(read("133mm"), Length::from_mm(133));
    assert_eq!(read("0.3 mm"), Length::from_nm(300_000));
    assert_eq!(read(".5"), Length::from_nm(12_700_000));
    assert_eq!(read("5."), Length::inches(5));
    assert_eq!(read("0"), Length::ZERO);
    for text in [
        "2' 3\"",
        "2'3\"",
        "2 ft 3 in",
        "2′ 3″",
        "2’3”",
        "2.25 ft",
        "2¼ ft",
    ] {
        assert_eq!(read(text), Length::inches(27), "{text}");
    }
    assert_eq!(read("2' 3 1/2\"") * 2, Length::inches(55));
    assert_eq!(read("10000 mm"), Length::MAX);
}

#[test]
fn every_fraction_character_is_the_fraction_it_shows() {
    for (sign, top, bottom) in [
        ('½', 1, 2),
        ('¼', 1, 4),
        ('¾', 3, 4),
        ('⅛', 1, 8),
        ('⅜', 3, 8),
        ('⅝', 5, 8),
        ('⅞', 7, 8),
        ('⅕', 1, 5),
        ('⅖', 2, 5),
        ('⅗', 3, 5),
        ('⅘', 4, 5),
        ('⅒', 1, 10),
    ] {
        let inch = Length::inches(1).nm();
        assert_eq!(read(&sign.to_string()).nm() * bottom, inch * top, "{sign}");
        assert_eq!(
            read(&format!("3{sign}")).nm() * bottom,
            inch * (3 * bottom + top),
            "{sign}"
        );
    }
    // A third of an inch is no whole number of nanometres; a third of 3 cm is.
    assert_eq!(Length::read("⅓", Unit::Foot), Ok(Length::inches(4)));
    assert!(Length::read("⅓", Unit::Inch).is_err());
}

#[test]
fn each_way_to_be_wrong_has_its_own_message() {
    assert_snapshot!(message(""), @"Nothing is typed here. Type a length such as 5 1/4 in or 133 mm.");
    assert_snapshot!(message(" \t "), @"Nothing is typed here. Type a length such as 5 1/4 in or 133 mm.");
    assert_snapshot!(message("wide"), @r##""wide" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message("NaN"), @r##""NaN" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message("inf"), @r##""inf" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message("in"), @r##""in" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message("."), @r##""." has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message("1/"), @r##""1/" has no number at character 3. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message("5 furlongs"), @r##""5 furlongs" has "furlongs", which is no unit, at character 3. Type in, ft, mm or cm after the number."##);
    assert_snapshot!(message("  5 e3"), @r##""5 e3" has "e", which is no unit, at character 5. Type in, ft, mm or cm after the number."##);
    assert_snapshot!(message("5 1/4 in wide"), @r##""5 1/4 in wide" has "w" at character 10, which does not belong there. Type a number and a unit, such as 5 1/4 in, 13.3 cm or 133 mm."##);
    assert_snapshot!(message("5 \"\"\""), @r##""5 """" has """"", which is no unit, at character 3. Type in, ft, mm or cm after the number."##);
    assert_snapshot!(message("3\" 2'"), @r##""3" 2'" has a second measure at character 4. Only feet and then inches go together, such as 2' 3"."##);
    assert_snapshot!(message("5 cm 3 mm"), @r##""5 cm 3 mm" has a second measure at character 6. Only feet and then inches go together, such as 2' 3"."##);
    assert_snapshot!(message("2' 3"), @r##""2' 3" has a second measure at character 4. Only feet and then inches go together, such as 2' 3"."##);
    assert_snapshot!(message("5 1/4 1/2"), @r##""5 1/4 1/2" has a second measure at character 7. Only feet and then inches go together, such as 2' 3"."##);
    assert_snapshot!(message("5 1/0"), @r##""5 1/0" divides by "0" at character 5. Type a fraction with 2, 4, 8, 16, 32 or 64 below the line."##);
    assert_snapshot!(message("1/1234567890123"), @r##""1/1234567890123" divides by "1234567890123" at character 3. Type a fraction with 2, 4, 8, 16, 32 or 64 below the line."##);
    assert_snapshot!(message("1,250 mm"), @r##""1,250 mm" may mean 1.250 or 1250. Type the one you mean."##);
    assert_snapshot!(message("-5"), @r##""-5" is below zero. Type a length of 0 or more."##);
    assert_snapshot!(message("−1/4 in"), @r##""−1/4 in" is below zero. Type a length of 0 or more."##);
    assert_snapshot!(message("2 1/33"), @r#""2 1/33": 33rds are on no ruler. Type 64ths or a decimal."#);
    assert_snapshot!(message("1/3"), @r#""1/3": 3rds are on no ruler. Type 64ths or a decimal."#);
    assert_snapshot!(message("5.2512345678901234567890 in"), @r#""5.2512345678901234567890 in" is finer than can be kept. Type fewer digits after the point; the nearest length is 133.381358 mm."#);
    assert_snapshot!(message("0.0000001 mm"), @r#""0.0000001 mm" is finer than can be kept. Type fewer digits after the point; the nearest length is 0 mm."#);
    assert_snapshot!(message("10000.000001 mm"), @r##""10000.000001 mm" is over 10 m. Type a length up to 10000 mm (393 11/16 in)."##);
    assert_snapshot!(message("33' 1\""), @r##""33' 1"" is over 10 m. Type a length up to 10000 mm (393 11/16 in)."##);
    assert_snapshot!(message("999999999999999999999999999999999999999999999999"), @r##""999999999999999999999999999999999999999999999999" is over 10 m. Type a length up to 10000 mm (393 11/16 in)."##);
    assert_snapshot!(message("5.2.5"), @r##""5.2.5" has "." at character 4, which does not belong there. Type a number and a unit, such as 5 1/4 in, 13.3 cm or 133 mm."##);
    assert_snapshot!(message("5 x 3"), @r##""5 x 3" has "x", which is no unit, at character 3. Type in, ft, mm or cm after the number."##);
    assert_snapshot!(message("5\u{1f4cf}"), @r##""5📏" has "📏" at character 2, which does not belong there. Type a number and a unit, such as 5 1/4 in, 13.3 cm or 133 mm."##);
    assert_snapshot!(message("\u{2702}\u{fe0f}"), @r##""✂️" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message(&"9".repeat(1 << 20)), @r##""999999999999999999999999999999999999999999999999999999999999…" is too long for a length. Type one such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(message("5\n\u{7}bell"), @r##""5  bell" has " " at character 3, which does not belong there. Type a number and a unit, such as 5 1/4 in, 13.3 cm or 133 mm."##);
}

#[test]
fn json_lengths_are_millimetres_or_text() {
    let from = |json: &str| serde_json::from_str::<Length>(json);
    assert_eq!(from("133.35").ok(), Some(read("5 1/4")));
    assert_eq!(from("133").ok(), Some(Length::from_mm(133)));
    assert_eq!(from("\"133\"").ok(), Some(Length::from_mm(133)));
    assert_eq!(from("\"5 1/4 in\"").ok(), Some(read("5 1/4")));
    assert_eq!(
        serde_json::to_string(&read("5 1/4")).ok().as_deref(),
        Some("\"133.35 mm\"")
    );
    let wrong = |json: &str| from(json).err().map(|e| e.to_string()).unwrap_or_default();
    assert_snapshot!(wrong("1e300"), @r##""100000000000000000000000000000000000000000000000000000000000…" is too long for a length. Type one such as 5 1/4 in or 133 mm. at line 1 column 5"##);
    assert_snapshot!(wrong("-1"), @r##""-1" is below zero. Type a length of 0 or more. at line 1 column 2"##);
    assert_snapshot!(wrong("0.00000005"), @r#""0.00000005" is finer than can be kept. Type fewer digits after the point; the nearest length is 0 mm. at line 1 column 10"#);
    assert_snapshot!(wrong("18446744073709551615"), @r##""18446744073709551615" is over 10 m. Type a length up to 10000 mm (393 11/16 in). at line 1 column 20"##);
    assert_snapshot!(wrong("null"), @r##"invalid type: null, expected a number of millimetres or a text such as "5 1/4 in" at line 1 column 4"##);
}

#[test]
fn division_rounds_down() {
    assert_eq!(Length::from_nm(7) / 2, Length::from_nm(3));
    assert_eq!(Length::from_nm(-7) / 2, Length::from_nm(-4));
}

/// MID 2014/32/EU MI-008 (UK S.I. 2016/1153 Sch. 1I): ±(a + b L), L in metres, rounded up; from
/// the end face c more. A rule of 0.3 m.
#[test]
fn the_errors_of_a_rule_add_up_to_what_its_class_allows() {
    let metres = 1;
    for (class, [a, b, c], error, from_end) in [
        ("I", ["0.1 mm", "0.1 mm", "0.1 mm"], "0.2 mm", "0.3 mm"),
        ("II", ["0.3 mm", "0.2 mm", "0.2 mm"], "0.5 mm", "0.7 mm"),
        ("III", ["0.6 mm", "0.4 mm", "0.3 mm"], "1 mm", "1.3 mm"),
    ] {
        let sum = read(a) + read(b) * metres;
        assert_eq!(sum.exact_text(), error, "class {class}");
        assert_eq!((sum + read(c)).exact_text(), from_end, "class {class}");
    }
}

#[test]
fn nearest_multiple_never_saturates() {
    let nm = Length::from_nm(1);
    for mm in [f64::NAN, f64::INFINITY, 1e300, -1e300] {
        assert_eq!(Length::nearest_multiple(mm, nm), None);
    }
    assert_eq!(Length::nearest_multiple(1.0, Length::ZERO), None);
    assert_eq!(
        Length::nearest_multiple(-1.5, Length::from_mm(1)),
        Some(Length::from_mm(-2))
    );
}

proptest! {
    #[test]
    fn exact_text_reads_back_to_the_same_nanometre(nm in 0..=Length::MAX.nm()) {
        let length = Length::from_nm(nm);
        prop_assert_eq!(Length::read(&length.exact_text(), Unit::Inch), Ok(length));
    }

    #[test]
    fn any_text_is_a_length_or_a_short_message(text in ".{0,40}") {
        if let Err(error) = Length::read(&text, Unit::Inch) {
            prop_assert!(error.to_string().chars().count() < 300);
        }
    }

    #[test]
    fn text_of_the_right_letters_never_panics(text in "[0-9 ./,'\"¼⅓⁄inftcm-]{0,24}") {
        let _ = Length::read(&text, Unit::Millimetre);
    }
}
