//! Reading lengths as people write them.
//!
//! ```text
//! length   = feet inches | part
//! part     = number [unit]
//! number   = decimal | whole | [whole (space | dash)] fraction | [whole] ½-like character
//! decimal  = digits (. | ,) digits          a comma is a decimal comma
//! fraction = digits (/ | ⁄) digits
//! ```
//!
//! Every number is kept as an exact ratio until it is known to be whole nanometres.

use super::error::{LengthError, Quoted};
use super::number::{Ratio, vulgar};
use super::{Length, Unit};

/// No length needs more characters; a longer text is refused unread.
const LONGEST_TEXT: usize = 100;

impl Length {
    /// Reads what people write: `5 1/4`, `5-1/4`, `5¼`, `5 1⁄4"`, `13,3 cm`, `133mm`, `½`,
    /// `2' 3"`. A number without a unit takes `default_unit`.
    ///
    /// # Errors
    /// [`LengthError`] for anything that is not a number with at most one unit (or feet and then
    /// inches), is below zero, above 10 m, or no whole number of nanometres.
    pub fn read(text: &str, default_unit: Unit) -> Result<Self, LengthError> {
        if text.trim().chars().nth(LONGEST_TEXT).is_some() {
            return Err(LengthError::Wordy {
                text: Quoted::new(text),
            });
        }
        Reader::new(text).length(default_unit)
    }
}

/// A number with the unit behind it, if any, and where it starts (0-based).
struct Part {
    number: Ratio,
    unit: Option<Unit>,
    start: usize,
}

/// Reads one text from left to right.
pub(super) struct Reader<'t> {
    text: &'t str,
    pub(super) chars: Vec<char>,
    /// The next character to read, 0-based.
    pub(super) next: usize,
}

impl<'t> Reader<'t> {
    fn new(text: &'t str) -> Self {
        // Leading space is kept, so that positions count the text as typed.
        let chars = text.trim_end().chars().collect();
        Self {
            text,
            chars,
            next: 0,
        }
    }

    fn length(mut self, default_unit: Unit) -> Result<Length, LengthError> {
        self.skip_spaces();
        let Some(first) = self.peek() else {
            return Err(LengthError::Empty);
        };
        if is_dash(first) {
            return Err(LengthError::Negative { text: self.quote() });
        }
        let part = self.part()?;
        let mut nm = Ratio {
            top: self.nm_top(&part, default_unit)?,
            bottom: part.number.bottom,
        };
        if self.peek().is_some() {
            let inches = self.inches_after(&part)?;
            let top = self.nm_top(&inches, Unit::Inch)?;
            nm = self.add(nm, top, inches.number.bottom)?;
        }
        self.whole_nm(nm)
    }

    /// The inches behind feet; anything else that follows a measure is an error.
    fn inches_after(&mut self, feet: &Part) -> Result<Part, LengthError> {
        let found = self.peek().unwrap_or(' ');
        if !(found.is_ascii_digit() || vulgar(found).is_some()) {
            return Err(self.unexpected());
        }
        let two_units = |reader: &Self, at: usize| LengthError::TwoUnits {
            text: reader.quote(),
            at: at + 1,
        };
        if feet.unit != Some(Unit::Foot) {
            return Err(two_units(self, self.next));
        }
        let inches = self.part()?;
        if inches.unit != Some(Unit::Inch) {
            return Err(two_units(self, inches.start));
        }
        match self.peek() {
            None => Ok(inches),
            Some(_) => Err(self.unexpected()),
        }
    }

    fn part(&mut self) -> Result<Part, LengthError> {
        let start = self.next;
        let number = self.number()?;
        self.skip_spaces();
        let unit = self.unit()?;
        self.skip_spaces();
        Ok(Part {
            number,
            unit,
            start,
        })
    }

    fn unit(&mut self) -> Result<Option<Unit>, LengthError> {
        let from = self.next;
        let Some(first) = self.peek() else {
            return Ok(None);
        };
        let belongs: fn(char) -> bool = if first.is_alphabetic() {
            char::is_alphabetic
        } else {
            is_prime
        };
        while self.peek().is_some_and(belongs) {
            self.next += 1;
        }
        if self.next == from {
            return Ok(None);
        }
        let word: String = self.chars[from..self.next].iter().collect();
        if first.is_alphabetic() && self.peek() == Some('.') {
            self.next += 1;
        }
        let unit = Unit::from_word(&word).ok_or_else(|| LengthError::UnknownUnit {
            text: self.quote(),
            word: Quoted::new(&word),
            at: from + 1,
        })?;
        Ok(Some(unit))
    }

    /// Nanometres times the part's denominator.
    fn nm_top(&self, part: &Part, default_unit: Unit) -> Result<i128, LengthError> {
        let unit = part.unit.unwrap_or(default_unit);
        part.number
            .top
            .checked_mul(i128::from(unit.nm()))
            .ok_or_else(|| self.too_long())
    }

    fn whole_nm(&self, nm: Ratio) -> Result<Length, LengthError> {
        let (whole, rest) = (nm.top / nm.bottom, nm.top % nm.bottom);
        let max = i128::from(Length::MAX.nm());
        if whole > max || (whole == max && rest > 0) {
            return Err(self.too_long());
        }
        let whole = i64::try_from(whole).map_err(|_| self.too_long())?;
        if rest == 0 {
            return Ok(Length(whole));
        }
        let is_decimal = self.chars.iter().any(|c| matches!(c, '.' | ','));
        if !is_decimal {
            return Err(LengthError::NoMark {
                text: self.quote(),
                divisor: nm.bottom,
            });
        }
        let up = i64::from(rest >= nm.bottom - rest);
        Err(LengthError::NotWhole {
            text: self.quote(),
            nearest: Length(whole + up),
        })
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.chars.get(self.next).copied()
    }

    pub(super) fn skip_spaces(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.next += 1;
        }
    }

    pub(super) fn quote(&self) -> Quoted {
        Quoted::new(self.text)
    }

    pub(super) fn too_long(&self) -> LengthError {
        LengthError::TooLong { text: self.quote() }
    }

    fn unexpected(&self) -> LengthError {
        let found = self.peek().map(String::from).unwrap_or_default();
        LengthError::Unexpected {
            text: self.quote(),
            found: Quoted::new(&found),
            at: self.next + 1,
        }
    }
}

pub(super) fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2010}'..='\u{2014}' | '−')
}

fn is_prime(c: char) -> bool {
    matches!(c, '"' | '\'' | '′' | '″' | '’' | '”' | '‘' | '“')
}
