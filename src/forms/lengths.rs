//! Lengths in forms: read as people write them, printed so that they read back the same.

use std::borrow::Cow;

use tablefold_geometry::{Length, Ruler, Unit};

use super::FormErrors;

impl FormErrors {
    /// A length; a bare number takes `unit`.
    pub fn length(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        unit: Unit,
    ) -> Option<Length> {
        self.keep(field, label, Length::read(typed, unit))
    }

    /// A length that is above zero.
    pub fn size(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        unit: Unit,
    ) -> Option<Length> {
        let read = Length::read(typed, unit).map_err(|error| error.to_string());
        let above_zero = read.and_then(|length| {
            if length > Length::ZERO {
                Ok(length)
            } else {
                Err(format!(
                    "\"{}\" is no size. Type a length above 0.",
                    super::quoted_part(typed)
                ))
            }
        });
        self.keep(field, label, above_zero)
    }

    /// A length above zero that may be left out: `Some(None)`; `None` is an error.
    pub fn optional_size(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        unit: Unit,
    ) -> Option<Option<Length>> {
        if typed.trim().is_empty() {
            return Some(None);
        }
        self.size(field, label, typed, unit).map(Some)
    }
}

/// A length for a form's field: on the ruler if it is a mark, else exact: 64ths or
/// thousandths of an inch, or millimetres.
#[must_use]
pub fn length_text(ruler: &Ruler, length: Length) -> String {
    ruler.text_or_exact(length)
}

/// A length of ribbon for a form or a list: in the unit it was most likely typed in, exact.
#[must_use]
pub fn ribbon_text(ruler: &Ruler, length: Length) -> String {
    let is_whole = |unit: i64| length.nm() % unit == 0;
    let is_inch = ruler.unit() == Unit::Inch;
    let (quarter_inch, centimetre) = (6_350_000, 10_000_000);
    if is_inch && !ruler.text(length).starts_with(['≈', '<']) {
        ruler.text(length)
    } else if is_whole(centimetre) {
        format!("{} cm", length.nm() / centimetre)
    } else if !is_inch && is_whole(quarter_inch) {
        Ruler::inch(4).text(length)
    } else {
        length_text(ruler, length)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ribbon_is_told_as_it_was_typed() {
        let told = |ruler: Ruler, typed: &str| {
            let length = Length::read(typed, ruler.unit()).expect("a length");
            let text = ribbon_text(&ruler, length);
            assert_eq!(Length::read(&text, ruler.unit()), Ok(length), "{text}");
            text
        };
        let inch = ["6 ft", "8 in", "20 cm", "2000 mm"].map(|typed| told(Ruler::inch(16), typed));
        assert_eq!(inch, ["72 in", "8 in", "20 cm", "200 cm"]);
        let metric = ["20 cm", "8 in", "6 ft", "255"].map(|it| told(Ruler::millimetre(), it));
        assert_eq!(metric, ["20 cm", "8 in", "72 in", "255 mm"]);
    }

    #[test]
    fn what_a_field_shows_reads_back_the_same() {
        let ruler = Ruler::inch(16);
        for nm in [133_350_000, 6_350_000, 6_400_000, 1_000_000, 250_000] {
            let length = Length::from_nm(nm);
            let text = length_text(&ruler, length);
            assert_eq!(Length::read(&text, Unit::Inch), Ok(length), "{text}");
        }
    }

    #[test]
    fn nothing_is_no_size() {
        let mut errors = FormErrors::default();
        assert_eq!(errors.size("width", "Width", "0 mm", Unit::Inch), None);
        assert_eq!(
            errors.optional_size("depth", "Depth", " ", Unit::Inch),
            Some(None)
        );
        insta::assert_snapshot!(errors.of("width").unwrap_or_default(), @r#"Width: "0 mm" is no size. Type a length above 0."#);
        let mut errors = FormErrors::default();
        errors.length("width", "Width", "🌱", Unit::Inch);
        insta::assert_snapshot!(errors.of("width").unwrap_or_default(), @r#"Width: "🌱" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."#);
    }
}
