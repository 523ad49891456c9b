//! A measure with a true fraction: `5 1/4 in` in pieces that a template can set.

/// The pieces of a measure's text. Put together again they are the text, so that copying,
/// searching and reading aloud keep working.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MeasureParts<'a> {
    /// Up to the fraction: `5 `; the whole text where there is none.
    pub before: &'a str,
    /// Numerator and denominator.
    pub fraction: Option<(&'a str, &'a str)>,
    /// After the fraction: ` in`.
    pub after: &'a str,
}

impl<'a> MeasureParts<'a> {
    /// Takes the first fraction of a text apart.
    #[must_use]
    pub fn of(text: &'a str) -> Self {
        let whole = Self {
            before: text,
            fraction: None,
            after: "",
        };
        let Some((left, right)) = text.split_once('/') else {
            return whole;
        };
        let before = left.trim_end_matches(|c: char| c.is_ascii_digit());
        let after = right.trim_start_matches(|c: char| c.is_ascii_digit());
        // Both were cut off on a digit's edge, so the rest is digits alone.
        let (over, under) = (&left[before.len()..], &right[..right.len() - after.len()]);
        if over.is_empty() || under.is_empty() {
            return whole;
        }
        Self {
            before,
            fraction: Some((over, under)),
            after,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(text: &str) -> (&str, Option<(&str, &str)>, &str) {
        let parts = MeasureParts::of(text);
        (parts.before, parts.fraction, parts.after)
    }

    #[test]
    fn a_fraction_is_taken_out_of_its_measure() {
        assert_eq!(parts("5 1/4 in"), ("5 ", Some(("1", "4")), " in"));
        assert_eq!(parts("≈ 13/16 in"), ("≈ ", Some(("13", "16")), " in"));
        assert_eq!(parts("7/8"), ("", Some(("7", "8")), ""));
    }

    #[test]
    fn a_measure_without_one_stays_whole() {
        for text in ["133 mm", "", "and/or", "1/", "/4", "½ in"] {
            assert_eq!(parts(text), (text, None, ""), "{text}");
        }
    }
}
