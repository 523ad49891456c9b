//! Mass and thickness of paper: basis weight in pounds, grammage in g/m², caliper.
//!
//! A basis weight is the pounds of one ream (500 sheets here) of the grade's own basic size, so
//! the same paper has a different number in every grade:
//!
//! ```text
//! g/m² = lb × 453.59237 g ÷ (500 × area in in² × 0.00064516 m²) = lb × 1406.139 ÷ area
//! ```

use serde::{Deserialize, Serialize};

use crate::{Length, Quoted};

/// Grams of a pound over the square metres of 500 square inches; both factors are exact.
const GSM_FOR_ONE_POUND_ON_ONE_SQUARE_INCH: f64 = 453.592_37 / (500.0 * 0.000_645_16);

/// The grade whose basic size a weight in pounds refers to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Bond, ledger, writing: 17 × 22 in.
    Bond,
    /// Cover: 20 × 26 in.
    Cover,
    /// Text, book, offset: 25 × 38 in.
    Text,
    /// Index: 25 1/2 × 30 1/2 in.
    Index,
    /// Printing bristol: 22 1/2 × 28 1/2 in.
    Bristol,
    /// Tag, news: 24 × 36 in.
    Tag,
}

impl Basis {
    /// Every grade, in the order in which a form lists them.
    pub const ALL: [Self; 6] = [
        Self::Bond,
        Self::Text,
        Self::Cover,
        Self::Index,
        Self::Bristol,
        Self::Tag,
    ];

    /// What people call it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bond => "bond",
            Self::Cover => "cover",
            Self::Text => "text",
            Self::Index => "index",
            Self::Bristol => "bristol",
            Self::Tag => "tag",
        }
    }

    /// Area of the basic size, in square inches.
    #[must_use]
    pub const fn square_inches(self) -> f64 {
        match self {
            Self::Bond => 17.0 * 22.0,
            Self::Cover => 20.0 * 26.0,
            Self::Text => 25.0 * 38.0,
            Self::Index => 25.5 * 30.5,
            Self::Bristol => 22.5 * 28.5,
            Self::Tag => 24.0 * 36.0,
        }
    }
}

/// Grammage (g/m²) of paper sold as `pounds` of a grade.
#[must_use]
pub fn gsm_from_pounds(pounds: f64, basis: Basis) -> f64 {
    pounds * GSM_FOR_ONE_POUND_ON_ONE_SQUARE_INCH / basis.square_inches()
}

/// Pounds of a grade for a grammage in g/m².
#[must_use]
pub fn pounds_from_gsm(gsm: f64, basis: Basis) -> f64 {
    gsm * basis.square_inches() / GSM_FOR_ONE_POUND_ON_ONE_SQUARE_INCH
}

/// A weight of paper that can't be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WeightError {
    /// Neither grammes nor pounds of a grade.
    #[error(
        "{0} is no weight of paper. Type g/m², such as 216, or pounds of a grade, such as 80 lb cover."
    )]
    Unreadable(Quoted),
    /// Pounds alone say nothing: 80 lb text is half as heavy as 80 lb cover.
    #[error(
        "{0} does not say pounds of what. Type the grade too: bond, text, cover, index, bristol or tag."
    )]
    NoGrade(Quoted),
    /// Tissue is heavier than that, and board lighter.
    #[error(
        "{quoted} is {gsm} g/m². Paper and card weigh from 5 to 4000 g/m²: type a weight between."
    )]
    OutOfRange {
        /// What was typed.
        quoted: Quoted,
        /// What it comes to, rounded.
        gsm: u64,
    },
}

/// Reads a weight as people write it: `216`, `216 g/m²`, `216gsm`, `80 lb cover`, `110# index`.
///
/// # Errors
/// [`WeightError`] quotes the text; the weight must be from 5 to 4000 g/m².
pub fn read_weight(text: &str) -> Result<f64, WeightError> {
    let unreadable = || WeightError::Unreadable(Quoted::new(text));
    let lower = text.trim().to_lowercase();
    let end = lower.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',');
    let (number, unit) = lower.split_at(end.unwrap_or(lower.len()));
    let number: f64 = number.replace(',', ".").parse().map_err(|_| unreadable())?;
    let unit = unit.trim();
    let gsm = if ["", "g/m²", "g/m2", "gsm", "g"].contains(&unit) {
        number
    } else {
        let pounds = ["lbs", "lb.", "lb", "#", "pounds"]
            .iter()
            .find_map(|p| unit.strip_prefix(p));
        let grade = pounds.ok_or_else(unreadable)?.trim();
        let basis = Basis::ALL.into_iter().find(|basis| basis.name() == grade);
        let missing = if grade.is_empty() {
            WeightError::NoGrade(Quoted::new(text))
        } else {
            unreadable()
        };
        gsm_from_pounds(number, basis.ok_or(missing)?)
    };
    if (5.0..=4000.0).contains(&gsm) {
        return Ok(gsm);
    }
    Err(WeightError::OutOfRange {
        quoted: Quoted::new(text),
        gsm: gsm.round().min(1e15) as u64,
    })
}

/// An **estimate** of the caliper from the grammage: 1.15 µm for each g/m², the bulk of plain
/// index card. Soft or coated papers differ: say "about" and let people measure.
///
/// What is no grammage (negative, not a number) gives zero; nothing gives more than
/// [`Length::MAX`].
#[must_use]
pub fn caliper_estimate(gsm: f64) -> Length {
    const NM_FOR_EACH_GSM: f64 = 1150.0;
    let nm = (gsm * NM_FOR_EACH_GSM).round();
    if nm > 0.0 {
        Length::from_nm(nm.min(Length::MAX.nm() as f64) as i64)
    } else {
        Length::ZERO
    }
}

/// A caliper in points: 1 pt = 0.001 in = 25.4 µm.
#[must_use]
pub fn points(points: u32) -> Length {
    Length::from_nm(i64::from(points) * 25_400)
}

/// Mass in grams of a sheet of `width` × `height` at `gsm` g/m².
#[must_use]
pub fn sheet_mass_g(width: Length, height: Length, gsm: f64) -> f64 {
    width.mm() * height.mm() * gsm / 1e6
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// `(grade, pounds, g/m² printed)` of the JCP paper specifications.
    const JCP: [(Basis, f64, f64); 10] = [
        // K10 index
        (Basis::Index, 90.0, 165.0),
        (Basis::Index, 110.0, 200.0),
        (Basis::Index, 140.0, 255.0),
        (Basis::Index, 170.0, 305.0),
        // K30 cotton index
        (Basis::Index, 125.0, 225.0),
        // L20 vellum cover
        (Basis::Cover, 50.0, 135.0),
        (Basis::Cover, 65.0, 175.0),
        (Basis::Cover, 80.0, 215.0),
        // V20 envelope, bond basis
        (Basis::Bond, 20.0, 75.0),
        (Basis::Bond, 24.0, 90.0),
    ];

    fn close(a: f64, b: f64, relative: f64) -> bool {
        (a - b).abs() <= relative * b.abs()
    }

    #[test]
    fn a_pound_on_a_square_inch_is_1406_139_gsm() {
        // Source: exact pound (453.59237 g) and inch (25.4 mm); 500 sheets, TAPPI T 410 scope.
        // By hand: 453.59237 ÷ 0.32258.
        assert!((GSM_FOR_ONE_POUND_ON_ONE_SQUARE_INCH - 1_406.139).abs() < 5e-4);
    }

    #[test]
    fn factors_agree_with_the_printed_tables() {
        // Source: factors as printed in basis-weight charts, e.g. PrintWiki "Grammage". Printed
        // factors allow 0.05 %, index and bristol are printed to two decimals and allow that.
        let rows = [
            (Basis::Bond, 3.760, 0.0005),
            (Basis::Cover, 2.704, 0.0005),
            (Basis::Text, 1.480, 0.0005),
            (Basis::Tag, 1.627, 0.0005),
            (Basis::Index, 1.81, 0.005 / 1.81),
            (Basis::Bristol, 2.19, 0.005 / 2.19),
        ];
        for (basis, printed, allowed) in rows {
            let exact = gsm_from_pounds(1.0, basis);
            assert!(
                close(exact, printed, allowed),
                "{}: {exact} against {printed}",
                basis.name()
            );
        }
    }

    #[test]
    fn worked_conversions_come_out_as_printed() {
        // Source: PrintWiki, "Grammage": 20 lb bond is 75.2 g/m²; 103.6 g/m² is 69.93 lb text,
        // which is 103.6 × 0.675, a factor rounded to three figures: 0.1 % off the exact one.
        let bond = gsm_from_pounds(20.0, Basis::Bond);
        assert!(close(bond, 75.2, 0.0005), "{bond}");
        let text = pounds_from_gsm(103.6, Basis::Text);
        assert!(close(text, 69.93, 0.001), "{text}");
    }

    #[test]
    fn the_ten_jcp_rows_round_to_the_printed_gsm() {
        // Source: JCP paper specifications K10, K30, L20, V20 (Vol. 11 1999, No. 12 2008/2011,
        // No. 13 2019), which print g/m² to the nearest 5.
        for (basis, pounds, printed) in JCP {
            let exact = gsm_from_pounds(pounds, basis);
            assert_eq!(
                (exact / 5.0).round() * 5.0,
                printed,
                "{pounds} lb {}: {exact}",
                basis.name()
            );
        }
    }

    #[test]
    fn estimated_caliper_is_within_2_percent_of_index_card() {
        // Source: JCP K10 (90, 110, 140, 170 lb) and K30 (125 lb), thickness in mm.
        let rows = [
            (165.0, 0.190),
            (200.0, 0.230),
            (255.0, 0.290),
            (305.0, 0.350),
            (225.0, 0.255),
        ];
        for (gsm, mm) in rows {
            let estimate = caliper_estimate(gsm).mm();
            assert!(
                close(estimate, mm, 0.02),
                "{gsm} g/m²: {estimate} mm against {mm} mm"
            );
        }
    }

    #[test]
    fn points_are_thousandths_of_an_inch() {
        // Source: JCP L70: 8, 10, 12, 15, 24 pt are 0.008 to 0.024 in; 1 in = 25.4 mm exactly.
        for (pt, um) in [
            (8, 203.2),
            (10, 254.0),
            (12, 304.8),
            (15, 381.0),
            (24, 609.6),
        ] {
            assert!((points(pt).mm() * 1000.0 - um).abs() < 1e-9, "{pt} pt");
        }
        assert_eq!(points(1000), Length::inches(1));
    }

    #[test]
    fn a_sheet_of_a4_at_80_gsm_is_just_under_5_g() {
        // Source: ISO 216 A4 is 210 × 297 mm, so 0.06237 m² × 80 g/m² = 4.9896 g.
        let g = sheet_mass_g(Length::from_mm(210), Length::from_mm(297), 80.0);
        assert!((g - 4.9896).abs() < 1e-9, "{g}");
    }

    #[test]
    fn an_estimate_from_nonsense_is_zero_or_the_longest_length() {
        for gsm in [f64::NAN, -1.0, f64::NEG_INFINITY, 0.0] {
            assert_eq!(caliper_estimate(gsm), Length::ZERO, "{gsm}");
        }
        assert_eq!(caliper_estimate(f64::INFINITY), Length::MAX);
    }

    #[test]
    fn a_weight_reads_as_people_write_it() {
        let read = |text| read_weight(text).expect("a weight");
        for text in ["216", " 216 g/m² ", "216gsm", "216 g/m2", "216,0"] {
            assert_eq!(read(text), 216.0, "{text}");
        }
        assert_eq!(read("80 lb cover"), gsm_from_pounds(80.0, Basis::Cover));
        assert_eq!(read("110# index"), gsm_from_pounds(110.0, Basis::Index));
        assert_eq!(read("20 LBS Bond"), gsm_from_pounds(20.0, Basis::Bond));
    }

    #[test]
    fn a_wrong_weight_says_what_would_do() {
        let say = |text: &str| read_weight(text).expect_err("no weight").to_string();
        insta::assert_snapshot!(say("heavy"), @r#""heavy" is no weight of paper. Type g/m², such as 216, or pounds of a grade, such as 80 lb cover."#);
        insta::assert_snapshot!(say("80 lb"), @r#""80 lb" does not say pounds of what. Type the grade too: bond, text, cover, index, bristol or tag."#);
        insta::assert_snapshot!(say("80 lb velvet"), @r#""80 lb velvet" is no weight of paper. Type g/m², such as 216, or pounds of a grade, such as 80 lb cover."#);
        insta::assert_snapshot!(say("9000"), @r#""9000" is 9000 g/m². Paper and card weigh from 5 to 4000 g/m²: type a weight between."#);
        insta::assert_snapshot!(say("1.2.3"), @r#""1.2.3" is no weight of paper. Type g/m², such as 216, or pounds of a grade, such as 80 lb cover."#);
        insta::assert_snapshot!(say("🌱"), @r#""🌱" is no weight of paper. Type g/m², such as 216, or pounds of a grade, such as 80 lb cover."#);
    }

    proptest! {
        #[test]
        fn pounds_and_gsm_are_inverse(pounds in 0.1..1000.0f64, grade in 0..6usize) {
            let basis = Basis::ALL[grade];
            let back = pounds_from_gsm(gsm_from_pounds(pounds, basis), basis);
            prop_assert!(close(back, pounds, 1e-12), "{back} against {pounds}");
        }

        #[test]
        fn heavier_paper_is_never_estimated_thinner(a in 0.0..2000.0f64, b in 0.0..2000.0f64) {
            let (light, heavy) = (a.min(b), a.max(b));
            prop_assert!(caliper_estimate(light) <= caliper_estimate(heavy));
        }
    }
}
