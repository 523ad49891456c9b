//! Lengths of spools and rolls: longer than anything that is cut, so metres and yards are read
//! as well.

use std::borrow::Cow;

use tablefold_geometry::{Length, Ruler, Unit};

use super::{FormErrors, length_text, quoted_part};
use crate::workshop::LONGEST_SPOOL;

const METRE_NM: i64 = 1_000_000_000;
const YARD_NM: i64 = 914_400_000;

/// More spools of one kind than this are not kept apart.
const MOST_SPOOLS: usize = 50;

impl FormErrors {
    /// A spool that is longer than nothing; a bare number takes `unit`.
    pub fn spool(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        unit: Unit,
    ) -> Option<Length> {
        let read = read(typed, unit).and_then(|length| {
            if length > Length::ZERO {
                return Ok(length);
            }
            let quoted = quoted_part(typed);
            Err(format!("\"{quoted}\" is no spool. Type a length above 0."))
        });
        self.keep(field, label, read)
    }

    /// Spools with a plus between them: "10 m + 80 cm". Nothing typed, or 0, is no spool.
    pub fn spools(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        unit: Unit,
    ) -> Option<Vec<Length>> {
        if typed.trim().is_empty() {
            return Some(Vec::new());
        }
        let read: Result<Vec<Length>, String> = if typed.split('+').count() > MOST_SPOOLS {
            Err(format!(
                "\"{}\" has more than {MOST_SPOOLS} spools. Type the longest ones.",
                quoted_part(typed)
            ))
        } else {
            typed.split('+').map(|one| read(one, unit)).collect()
        };
        let mut spools = self.keep(field, label, read)?;
        spools.retain(|&spool| spool > Length::ZERO);
        Some(spools)
    }
}

fn read(typed: &str, unit: Unit) -> Result<Length, String> {
    let typed = typed.trim();
    let number_end = typed.trim_end_matches(|c: char| c.is_alphabetic() || c == '.');
    let word = typed[number_end.len()..]
        .trim_end_matches('.')
        .to_lowercase();
    let scale = match word.as_str() {
        "m" | "metre" | "metres" | "meter" | "meters" => METRE_NM,
        "yd" | "yds" | "yard" | "yards" => YARD_NM,
        _ => return Length::read(typed, unit).map_err(|error| error.to_string()),
    };
    let refuse = |wrong: &str| Err(format!("\"{}\" {wrong}", quoted_part(typed)));
    let Some(length) = decimal(number_end.trim(), scale) else {
        return refuse("is not a length. Type one like 10 m, 2.5 m or 5 yd.");
    };
    if length > LONGEST_SPOOL {
        return refuse("is longer than 1000 m. Type a shorter spool.");
    }
    Ok(length)
}

/// A decimal number of a unit, where that is whole nanometres.
fn decimal(number: &str, scale: i64) -> Option<Length> {
    let (whole, part) = number.split_once(['.', ',']).unwrap_or((number, ""));
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || whole.len() > 6 || part.len() > 9 || !digits(whole) || !digits(part) {
        return None;
    }
    let parts: i128 = format!("{whole}{part:0<9}").parse().ok()?;
    let nm = parts * i128::from(scale) / 1_000_000_000;
    i64::try_from(nm).ok().map(Length::from_nm)
}

/// A spool for a field or a page, so that it reads back the same: on the ruler where it is short
/// and a mark, in whole yards on a ruler in inches, else in metres.
#[must_use]
pub fn spool_text(ruler: &Ruler, length: Length) -> String {
    let nm = length.nm();
    let on_ruler = length_text(ruler, length);
    if ruler.unit() == Unit::Inch && nm <= 3 * YARD_NM && !on_ruler.ends_with("mm") {
        return on_ruler;
    }
    if ruler.unit() == Unit::Inch && nm > 0 && nm % YARD_NM == 0 {
        return format!("{} yd", nm / YARD_NM);
    }
    if nm < METRE_NM {
        return on_ruler;
    }
    let decimals = format!("{:09}", nm % METRE_NM);
    let decimals = decimals.trim_end_matches('0');
    let point = if decimals.is_empty() { "" } else { "." };
    format!("{}{point}{decimals} m", nm / METRE_NM)
}

/// Several spools: "10 m + 80 cm", or "0".
#[must_use]
pub fn spools_text(ruler: &Ruler, spools: &[Length]) -> String {
    if spools.is_empty() {
        return "0".to_owned();
    }
    let texts: Vec<String> = spools
        .iter()
        .map(|&spool| spool_text(ruler, spool))
        .collect();
    texts.join(" + ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spools(typed: &str, unit: Unit) -> Vec<i64> {
        let mut errors = FormErrors::default();
        let read = errors.spools("on_hand", "On hand", typed, unit);
        read.expect(typed).iter().map(|spool| spool.nm()).collect()
    }

    fn refusal(typed: &str) -> String {
        let mut errors = FormErrors::default();
        assert_eq!(errors.spool("spool", "Spool", typed, Unit::Inch), None);
        errors.of("spool").unwrap_or_default().to_owned()
    }

    #[test]
    fn spools_are_read_in_metres_yards_and_all_other_units() {
        assert_eq!(
            spools("25 m + 80 cm", Unit::Inch),
            [25 * METRE_NM, 800_000_000]
        );
        assert_eq!(spools("5 yds", Unit::Inch), [5 * YARD_NM]);
        assert_eq!(spools("2,5m", Unit::Millimetre), [2_500_000_000]);
        assert_eq!(spools("60", Unit::Inch), [60 * 25_400_000]);
        assert_eq!(spools("5 ft + 0", Unit::Inch), [5 * 304_800_000]);
        assert!(spools(" ", Unit::Inch).is_empty());
    }

    #[test]
    fn what_a_field_shows_reads_back_the_same() {
        let nms = [
            25_400_000,
            700_000_000,
            914_400_000,
            2_500_000_001,
            25 * METRE_NM,
            LONGEST_SPOOL.nm(),
        ];
        for (ruler, unit) in [
            (Ruler::inch(16), Unit::Inch),
            (Ruler::millimetre(), Unit::Millimetre),
        ] {
            for nm in nms {
                let text = spools_text(&ruler, &[Length::from_nm(nm), Length::from_nm(nm)]);
                assert_eq!(spools(&text, unit), [nm, nm], "{text}");
            }
        }
        assert_eq!(spools_text(&Ruler::inch(16), &[]), "0");
    }

    #[test]
    fn each_wrong_spool_says_what_would_do() {
        insta::assert_snapshot!(refusal("0 m"), @r#"Spool: "0 m" is no spool. Type a length above 0."#);
        insta::assert_snapshot!(refusal("-3 m"), @r#"Spool: "-3 m" is not a length. Type one like 10 m, 2.5 m or 5 yd."#);
        insta::assert_snapshot!(refusal("🌱 m"), @r#"Spool: "🌱 m" is not a length. Type one like 10 m, 2.5 m or 5 yd."#);
        insta::assert_snapshot!(refusal("1001 m"), @r#"Spool: "1001 m" is longer than 1000 m. Type a shorter spool."#);
        insta::assert_snapshot!(refusal("99999999999999999999999 m"), @r#"Spool: "99999999999999999999999 m" is not a length. Type one like 10 m, 2.5 m or 5 yd."#);
        insta::assert_snapshot!(refusal("spool"), @r#"Spool: "spool" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."#);
    }
}
