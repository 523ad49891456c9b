//! The one way numbers enter SVG text.

/// At most two decimals (10 µm), no trailing zeros, no `-0`, never an exponent.
///
/// A value that is not finite becomes `0`: a picture may be wrong, its text never breaks.
pub(crate) fn number(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let mut text = format!("{value:.2}");
    while text.ends_with('0') {
        text.pop();
    }
    if text.ends_with('.') {
        text.pop();
    }
    if text == "-0" {
        text.remove(0);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::number;

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
