//! Reading the number of a length: decimals, whole numbers, fractions, mixed numbers.

use super::error::{LengthError, Quoted};
use super::read::{Reader, is_dash};

/// Whole numbers stay below this, so that products of a few of them fit 128 bits.
const GREATEST: i128 = 1_000_000_000_000;
/// Decimal places read exactly; a nanometre is the ninth of a foot. What follows only says that
/// the number is not whole.
const PLACES: usize = 12;

/// An exact number, not negative: `top / bottom`, with `bottom` at least 1.
#[derive(Clone, Copy)]
pub(super) struct Ratio {
    pub(super) top: i128,
    pub(super) bottom: i128,
}

impl Reader<'_> {
    pub(super) fn number(&mut self) -> Result<Ratio, LengthError> {
        if let Some(fraction) = self.vulgar_fraction() {
            return Ok(fraction);
        }
        let starts = self.next;
        let whole = self.digits()?;
        match self.peek() {
            Some(mark @ ('.' | ',')) => self.decimals(whole, starts, mark),
            Some('/' | '⁄' | '∕') if whole.is_some() => self.below(whole.unwrap_or(0)),
            _ => {
                let Some(whole) = whole else {
                    return Err(LengthError::NoNumber {
                        text: self.quote(),
                        at: self.next + 1,
                    });
                };
                let fraction = self.fraction_after_whole()?;
                self.add(
                    Ratio {
                        top: whole,
                        bottom: 1,
                    },
                    fraction.top,
                    fraction.bottom,
                )
            }
        }
    }

    /// Decimal places behind `whole`, from the decimal mark on.
    fn decimals(
        &mut self,
        whole: Option<i128>,
        starts: usize,
        mark: char,
    ) -> Result<Ratio, LengthError> {
        let mark_at = self.next;
        self.next += 1;
        let from = self.next;
        while self.peek().is_some_and(|c| c.is_ascii_digit()) {
            self.next += 1;
        }
        let digits: String = self.chars[from..self.next].iter().collect();
        if whole.is_none() && digits.is_empty() {
            return Err(LengthError::NoNumber {
                text: self.quote(),
                at: starts + 1,
            });
        }
        let whole_digits: String = self.chars[starts..mark_at].iter().collect();
        if mark == ',' && digits.len() == 3 && whole_digits.len() <= 3 && whole.unwrap_or(0) > 0 {
            return Err(LengthError::AmbiguousComma {
                text: self.quote(),
                one: format!("{whole_digits}.{digits}"),
                thousand: format!("{whole_digits}{digits}"),
            });
        }
        decimal_ratio(whole.unwrap_or(0), &digits).ok_or_else(|| self.too_long())
    }

    /// The fraction behind whole units: `1/4` after a space or dash, or a ¼-like character.
    /// Nothing there is zero.
    fn fraction_after_whole(&mut self) -> Result<Ratio, LengthError> {
        let back = self.next;
        self.skip_spaces();
        if self.peek().is_some_and(is_dash) {
            self.next += 1;
            self.skip_spaces();
        }
        if let Some(fraction) = self.vulgar_fraction() {
            return Ok(fraction);
        }
        // The spaces were before a unit, or before a second measure.
        if self.next > back && self.peek().is_some_and(|c| c.is_ascii_digit()) {
            let top = self.digits()?.unwrap_or(0);
            if matches!(self.peek(), Some('/' | '⁄' | '∕')) {
                return self.below(top);
            }
        }
        self.next = back;
        Ok(Ratio { top: 0, bottom: 1 })
    }

    /// What is below the line, from the line on.
    fn below(&mut self, top: i128) -> Result<Ratio, LengthError> {
        self.next += 1;
        let from = self.next;
        let bottom = self.digits();
        if self.next == from {
            return Err(LengthError::NoNumber {
                text: self.quote(),
                at: from + 1,
            });
        }
        match bottom {
            Ok(Some(bottom)) if bottom > 0 => Ok(Ratio { top, bottom }),
            _ => {
                let found: String = self.chars[from..self.next].iter().collect();
                Err(LengthError::Divisor {
                    text: self.quote(),
                    found: Quoted::new(&found),
                    at: from + 1,
                })
            }
        }
    }

    fn vulgar_fraction(&mut self) -> Option<Ratio> {
        let (top, bottom) = vulgar(self.peek()?)?;
        self.next += 1;
        Some(Ratio { top, bottom })
    }

    /// A run of digits; over 12 of them (leading zeros apart) is too long in any unit.
    fn digits(&mut self) -> Result<Option<i128>, LengthError> {
        let from = self.next;
        while self.peek().is_some_and(|c| c.is_ascii_digit()) {
            self.next += 1;
        }
        if self.next == from {
            return Ok(None);
        }
        let run: String = self.chars[from..self.next].iter().collect();
        let value = run.parse().ok().filter(|value| *value < GREATEST);
        value.map(Some).ok_or_else(|| self.too_long())
    }

    pub(super) fn add(&self, a: Ratio, top: i128, bottom: i128) -> Result<Ratio, LengthError> {
        let sum = a.top.checked_mul(bottom).zip(top.checked_mul(a.bottom));
        let top = sum.and_then(|(x, y)| x.checked_add(y));
        top.zip(a.bottom.checked_mul(bottom))
            .map(|(top, bottom)| Ratio { top, bottom })
            .ok_or_else(|| self.too_long())
    }
}

/// `whole` and its decimal places as a ratio.
fn decimal_ratio(whole: i128, places: &str) -> Option<Ratio> {
    let mut digits = places.trim_end_matches('0').to_owned();
    if digits.len() > PLACES {
        digits.truncate(PLACES);
        digits.push('1');
    }
    let bottom = 10_i128.checked_pow(u32::try_from(digits.len()).ok()?)?;
    let part = if digits.is_empty() {
        0
    } else {
        digits.parse().ok()?
    };
    let top = whole.checked_mul(bottom)?.checked_add(part)?;
    Some(Ratio { top, bottom })
}

/// The characters that are fractions by themselves.
pub(super) fn vulgar(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}
