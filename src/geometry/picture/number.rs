//! The one way numbers enter SVG text.

use std::fmt::Write as _;

/// At most two decimals (10 µm), no trailing zeros, no `-0`, never an exponent.
///
/// A value that is not finite becomes `0`: a picture may be wrong, its text never breaks.
pub(crate) fn number(value: f64) -> String {
    let mut out = String::new();
    push_number(&mut out, value);
    out
}

/// As [`number`], at the end of a text.
pub(crate) fn push_number(out: &mut String, value: f64) {
    let hundredths = hundredths(value);
    if hundredths < 0 {
        out.push('-');
    }
    let size = hundredths.unsigned_abs();
    let _ = write!(out, "{}", size / 100);
    let (tenth, hundredth) = (size / 10 % 10, size % 10);
    if !size.is_multiple_of(100) {
        let _ = write!(out, ".{tenth}");
    }
    if hundredth != 0 {
        let _ = write!(out, "{hundredth}");
    }
}

/// The value as it is written; equal hundredths are equal in the picture.
pub(crate) fn hundredths(value: f64) -> i64 {
    // The conversion of a number that is too large stops at the largest; NaN becomes 0.
    if value.is_finite() {
        (value * 100.0).round() as i64
    } else {
        0
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::number;

    proptest! {
        #[test]
        fn a_number_reads_back_within_half_a_hundredth(value in -1e9..1e9_f64) {
            let text = number(value);
            let read: f64 = text.parse().unwrap();
            prop_assert!((read - value).abs() <= 0.005 + 1e-6, "{value} -> {text}");
            prop_assert!(!text.ends_with('.') && text != "-0");
            prop_assert!(!text.contains('.') || !text.ends_with('0'), "{text}");
        }
    }

    #[test]
    fn numbers_are_short_and_plain() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (-0.001, "0"),
            (0.004, "0"),
            (1.5, "1.5"),
            (100.0, "100"),
            (-12.345_6, "-12.35"),
            (1e7, "10000000"),
            (1e-9, "0"),
            (f64::NAN, "0"),
            (f64::INFINITY, "0"),
        ] {
            assert_eq!(number(value), text, "{value}");
        }
    }
}
