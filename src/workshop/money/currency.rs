//! The one currency of a server: reading and printing amounts.

use super::Amount;
use super::codes::CODES;

/// The dearest thing that can be typed, in minor units.
pub const MAX_MINOR: u64 = 100_000_000;

/// Digits after the point where no currency is named.
const PLACES: u32 = 2;

/// A currency of ISO 4217, or none: plain numbers with 2 digits after the point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Currency {
    code: Option<&'static str>,
    places: u32,
}

/// A code that ISO 4217 does not have, or has for no money to pay with.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "\"{given}\" is not a currency code in use. Type the three letters of ISO 4217, like EUR, GBP or JPY, or leave it out for plain numbers."
)]
pub struct CurrencyError {
    given: String,
}

impl Default for Currency {
    fn default() -> Self {
        Self::NONE
    }
}

impl Currency {
    /// No currency is named: plain numbers.
    pub const NONE: Self = Self {
        code: None,
        places: PLACES,
    };

    /// The currency of a code; capital and small letters are the same.
    ///
    /// # Errors
    /// A code that is not one of ISO 4217 in use.
    pub fn read(code: &str) -> Result<Self, CurrencyError> {
        let typed = code.trim();
        let find = |(places, codes): &(u32, &[&'static str])| {
            let code = codes.iter().find(|code| code.eq_ignore_ascii_case(typed))?;
            Some(Self {
                code: Some(code),
                places: *places,
            })
        };
        CODES.iter().find_map(find).ok_or_else(|| CurrencyError {
            given: typed.chars().take(60).collect(),
        })
    }

    /// "EUR"; empty where none is named.
    #[must_use]
    pub fn code(self) -> &'static str {
        self.code.unwrap_or_default()
    }

    /// Digits after the point.
    #[must_use]
    pub const fn places(self) -> u32 {
        self.places
    }

    const fn scale(self) -> u64 {
        10_u64.pow(self.places)
    }

    /// Minor units without the code: 450 is "4.50", or "450" in yen.
    #[must_use]
    pub fn text(self, minor: i64) -> String {
        let sign = if minor < 0 { "\u{2212}" } else { "" };
        let (whole, part) = (
            minor.unsigned_abs() / self.scale(),
            minor.unsigned_abs() % self.scale(),
        );
        if self.places == 0 {
            return format!("{sign}{whole}");
        }
        let width = self.places as usize;
        format!("{sign}{whole}.{part:0width$}")
    }

    /// A price without the code.
    #[must_use]
    pub fn price(self, minor: u64) -> String {
        self.text(i64::try_from(minor).unwrap_or(i64::MAX))
    }

    /// An exact amount with the code, rounded here and nowhere else: "4.50 EUR".
    #[must_use]
    pub fn amount(self, amount: &Amount) -> String {
        self.coded(&self.text(amount.rounded()))
    }

    /// A price with the code: "4.50 EUR".
    #[must_use]
    pub fn coded_price(self, minor: u64) -> String {
        self.coded(&self.price(minor))
    }

    fn coded(self, text: &str) -> String {
        match self.code {
            Some(code) => format!("{text}\u{a0}{code}"),
            None => text.to_owned(),
        }
    }

    /// An amount as people type it, in minor units. The error is the part of a sentence after
    /// what was typed.
    ///
    /// # Errors
    /// What is no number, is negative, has more digits after the point than the currency, or is
    /// above [`MAX_MINOR`].
    pub fn read_amount(self, typed: &str) -> Result<u64, String> {
        let typed = typed.trim();
        let example = self.price(if self.places == 0 {
            450
        } else {
            self.scale() * 9 / 2
        });
        let (whole, part) = typed.split_once(['.', ',']).unwrap_or((typed, ""));
        let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || !digits(whole) || !digits(part) {
            return Err(format!(
                "is not an amount. Type one like {example}, without the currency."
            ));
        }
        let places = self.places as usize;
        if part.len() > places {
            let wrong = match places {
                0 => format!("has digits after the point, and {} has none", self.code()),
                _ => format!("has more than {places} digits after the point"),
            };
            return Err(format!("{wrong}. Type an amount like {example}."));
        }
        let minor = format!("{whole}{part:0<places$}").parse::<u64>();
        let minor = minor.unwrap_or(u64::MAX);
        if minor > MAX_MINOR {
            let most = self.price(MAX_MINOR);
            return Err(format!("is too much. Type an amount up to {most}."));
        }
        Ok(minor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(code: &str) -> Currency {
        Currency::read(code).expect("a code in use")
    }

    /// Minor units of ISO 4217, list one, from a public copy of the maintenance agency's table
    /// (2013). UGX was 2 there and is 0 in the lists since: that one is from memory.
    #[test]
    fn minor_units_are_those_of_iso_4217() {
        let rows = [
            ("JPY", 0),
            ("KRW", 0),
            ("ISK", 0),
            ("CLP", 0),
            ("VND", 0),
            ("XOF", 0),
            ("XPF", 0),
            ("BIF", 0),
            ("UGX", 0),
            ("BHD", 3),
            ("IQD", 3),
            ("JOD", 3),
            ("KWD", 3),
            ("LYD", 3),
            ("OMR", 3),
            ("TND", 3),
            ("EUR", 2),
            ("GBP", 2),
            ("HUF", 2),
            ("USD", 2),
            ("MGA", 2),
            ("TZS", 2),
        ];
        for (code, places) in rows {
            assert_eq!(read(code).places(), places, "{code}");
        }
    }

    #[test]
    fn every_code_stands_in_the_table_once() {
        let mut all: Vec<&str> = CODES
            .iter()
            .flat_map(|(_, codes)| codes.iter().copied())
            .collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
        assert!(all.iter().all(|code| code.len() == 3));
    }

    #[test]
    fn an_amount_reads_back_as_it_is_printed() {
        for code in ["EUR", "jpy", " KWD "] {
            let currency = read(code);
            for minor in [0, 1, 7, 99, 450, 12_345, MAX_MINOR] {
                let text = currency.price(minor);
                assert_eq!(currency.read_amount(&text), Ok(minor), "{text} {code}");
            }
        }
        assert_eq!(read("JPY").price(450), "450");
        assert_eq!(read("KWD").read_amount("1,5"), Ok(1500));
        assert_eq!(read("KWD").price(7), "0.007");
        assert_eq!(Currency::NONE.text(-7), "\u{2212}0.07");
        assert_eq!(
            read("EUR").amount(&Amount::minor(901).share(1, 2)),
            "4.50\u{a0}EUR"
        );
        assert_eq!(Currency::NONE.coded_price(450), "4.50");
    }

    #[test]
    fn an_unknown_code_says_what_would_do() {
        let refused = |code: &str| Currency::read(code).expect_err("no code").to_string();
        insta::assert_snapshot!(refused("EURO"), @r#""EURO" is not a currency code in use. Type the three letters of ISO 4217, like EUR, GBP or JPY, or leave it out for plain numbers."#);
        insta::assert_snapshot!(refused("XAU"), @r#""XAU" is not a currency code in use. Type the three letters of ISO 4217, like EUR, GBP or JPY, or leave it out for plain numbers."#);
        insta::assert_snapshot!(refused("🌱"), @r#""🌱" is not a currency code in use. Type the three letters of ISO 4217, like EUR, GBP or JPY, or leave it out for plain numbers."#);
    }

    #[test]
    fn each_wrong_amount_says_what_would_do() {
        let refused = |currency: Currency, typed| currency.read_amount(typed).expect_err(typed);
        insta::assert_snapshot!(refused(Currency::NONE, "-3"), @"is not an amount. Type one like 4.50, without the currency.");
        assert_eq!(refused(Currency::NONE, "🌱"), refused(Currency::NONE, "-3"));
        insta::assert_snapshot!(refused(Currency::NONE, "1.234"), @"has more than 2 digits after the point. Type an amount like 4.50.");
        insta::assert_snapshot!(refused(read("JPY"), "4.50"), @"has digits after the point, and JPY has none. Type an amount like 450.");
        insta::assert_snapshot!(refused(read("KWD"), "1.2345"), @"has more than 3 digits after the point. Type an amount like 4.500.");
        insta::assert_snapshot!(refused(read("KWD"), "999999999"), @"is too much. Type an amount up to 100000.000.");
    }
}
