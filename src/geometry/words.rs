//! How measures read in an error: on a ruler, or in both systems where no ruler is known.

use crate::{Length, Ruler};

/// A length that was typed or is a mark.
pub(crate) fn exact(ruler: Option<&Ruler>, length: Length) -> String {
    ruler.map_or_else(|| length.exact_text(), |ruler| ruler.text_or_exact(length))
}

/// A derived measure.
pub(crate) fn derived(ruler: Option<&Ruler>, mm: f64) -> String {
    ruler.map_or_else(|| mm_and_inches(mm), |ruler| ruler.text_mm(mm))
}

/// "152.4 mm (6.00 in)", with "≈" in front where a tenth of a millimetre does not say it all.
pub(crate) fn mm_and_inches(mm: f64) -> String {
    let tenths = mm * 10.0;
    let about = if (tenths - tenths.round()).abs() > 1e-6 {
        "≈ "
    } else {
        ""
    };
    format!("{about}{mm:.1} mm ({:.2} in)", mm / 25.4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rounded_measure_says_so() {
        assert_eq!(mm_and_inches(152.4), "152.4 mm (6.00 in)");
        assert_eq!(mm_and_inches(60.25), "≈ 60.2 mm (2.37 in)");
    }
}
