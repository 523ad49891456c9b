//! The one way numbers enter SVG text.

/// At most two decimals (10 µm), no trailing zeros, no `-0`, never an exponent.
///
/// A value that is not finite becomes `0`: a picture may be wrong, its text never breaks.
pub(crate) fn number(value: f64) -> String {
    rounded(value, 2)
}

/// As [`number`], with at most `places` decimals (up to 6).
pub(crate) fn rounded(value: f64, places: u32) -> String {
    let mut out = String::new();
    push_rounded(&mut out, value, places);
    out
}

/// As [`number`], at the end of a text.
pub(crate) fn push_number(out: &mut String, value: f64) {
    push_rounded(out, value, 2);
}

/// The value as it is written; equal hundredths are equal in the picture.
pub(crate) fn hundredths(value: f64) -> i64 {
    scaled(value, 2)
}

fn scaled(value: f64, places: u32) -> i64 {
    // The conversion of a number that is too large stops at the largest; NaN becomes 0.
    let scale = 10_i64.pow(places) as f64;
    if value.is_finite() {
        (value * scale).round() as i64
    } else {
        0
    }
}

/// Digits from the right into a buffer: pictures are mostly numbers, and this is where they cost.
fn push_rounded(out: &mut String, value: f64, places: u32) {
    let scaled = scaled(value, places);
    let mut size = scaled.unsigned_abs();
    let mut places = places;
    while places > 0 && size.is_multiple_of(10) {
        size /= 10;
        places -= 1;
    }
    let mut digits = [0_u8; 24];
    let mut at = digits.len();
    let mut put = |byte: u8| {
        at -= 1;
        digits[at] = byte;
    };
    for _ in 0..places {
        put(b'0' + (size % 10) as u8);
        size /= 10;
    }
    if places > 0 {
        put(b'.');
    }
    loop {
        put(b'0' + (size % 10) as u8);
        size /= 10;
        if size == 0 {
            break;
        }
    }
    if scaled < 0 {
        put(b'-');
    }
    out.extend(digits[at..].iter().map(|byte| char::from(*byte)));
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
