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

use std::fmt;

use super::{Length, Unit};

/// What a message may quote of a text, in characters.
const QUOTE: usize = 60;
/// No length needs more characters; a longer text is refused unread.
const LONGEST_TEXT: usize = 100;

/// Text as quoted in a message: its first 60 characters, control characters as spaces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quoted(String);

impl Quoted {
    /// Quotes `text`.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let text = text.trim();
        let tidy = |c: char| if c.is_control() { ' ' } else { c };
        let mut quoted: String = text.chars().take(QUOTE).map(tidy).collect();
        if text.chars().nth(QUOTE).is_some() {
            quoted.push('…');
        }
        Self(quoted)
    }
}

impl fmt::Display for Quoted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\"", self.0)
    }
}

/// Why a text is no length. Prints as the sentence that the user reads.
/// `at` counts characters of the text from 1.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    /// Nothing was typed.
    #[error("Nothing is typed here. Type a length such as 5 1/4 in or 133 mm.")]
    Empty,
    /// The text has over 100 characters.
    #[error("{text} is too long for a length. Type one such as 5 1/4 in or 133 mm.")]
    Wordy {
        /// What was typed.
        text: Quoted,
    },
    /// A number was expected.
    #[error(
        "{text} has no number at character {at}. Type a number first, such as 5 1/4 in or 133 mm."
    )]
    NoNumber {
        /// What was typed.
        text: Quoted,
        /// Where.
        at: usize,
    },
    /// A word that is no unit.
    #[error(
        "{text} has {word}, which is no unit, at character {at}. Type in, ft, mm or cm after the number."
    )]
    UnknownUnit {
        /// What was typed.
        text: Quoted,
        /// The word.
        word: Quoted,
        /// Where the word starts.
        at: usize,
    },
    /// Something that belongs to no length.
    #[error(
        "{text} has {found} at character {at}, which does not belong there. {}",
        ACCEPTED
    )]
    Unexpected {
        /// What was typed.
        text: Quoted,
        /// The first character that does not belong.
        found: Quoted,
        /// Where.
        at: usize,
    },
    /// Two parts that are not feet and then inches.
    #[error(
        "{text} has a second measure at character {at}. Only feet and then inches go together, such as 2' 3\"."
    )]
    TwoUnits {
        /// What was typed.
        text: Quoted,
        /// Where the second part starts.
        at: usize,
    },
    /// A fraction over zero.
    #[error(
        "{text} divides by zero at character {at}. Type a fraction with 2, 4, 8, 16, 32 or 64 below the line."
    )]
    ZeroBelow {
        /// What was typed.
        text: Quoted,
        /// Where the zero is.
        at: usize,
    },
    /// 1,000 might be one or a thousand.
    #[error("{text} may mean {one} or {thousand}. Type the one you mean.")]
    AmbiguousComma {
        /// What was typed.
        text: Quoted,
        /// Read with a decimal comma.
        one: String,
        /// Read with a thousands comma.
        thousand: String,
    },
    /// Below zero.
    #[error("{text} is below zero. Type a length of 0 or more.")]
    Negative {
        /// What was typed.
        text: Quoted,
    },
    /// Finer than a nanometre.
    #[error(
        "{text} is not a whole number of nanometres. The nearest length is {}; or type a fraction in halves, quarters and so on to 64ths.",
        nearest.exact_text()
    )]
    NotWhole {
        /// What was typed.
        text: Quoted,
        /// The nearest length that would do.
        nearest: Length,
    },
    /// Over 10 m.
    #[error("{text} is over 10 m. Type a length up to 10000 mm (393 11/16 in).")]
    TooLong {
        /// What was typed.
        text: Quoted,
    },
}

const ACCEPTED: &str = "Type a number and a unit, such as 5 1/4 in, 13.3 cm or 133 mm.";

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

/// An exact number, not negative: `top / bottom`, with `bottom` at least 1.
#[derive(Clone, Copy)]
struct Ratio {
    top: i128,
    bottom: i128,
}

/// A number with the unit behind it, if any, and where it starts (0-based).
struct Part {
    number: Ratio,
    unit: Option<Unit>,
    start: usize,
}

/// Reads one text from left to right.
struct Reader<'t> {
    text: &'t str,
    chars: Vec<char>,
    /// The next character to read, 0-based.
    next: usize,
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

    fn number(&mut self) -> Result<Ratio, LengthError> {
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
        let digits = digits.trim_end_matches('0');
        let bottom = u32::try_from(digits.len())
            .ok()
            .and_then(|places| 10_i128.checked_pow(places));
        let top = bottom
            .zip(whole.unwrap_or(0).checked_mul(1))
            .and_then(|(bottom, whole)| whole.checked_mul(bottom))
            .zip(if digits.is_empty() {
                Some(0)
            } else {
                digits.parse::<i128>().ok()
            })
            .and_then(|(whole, part)| whole.checked_add(part));
        top.zip(bottom)
            .map(|(top, bottom)| Ratio { top, bottom })
            .ok_or_else(|| self.too_long())
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
        let at = self.next + 1;
        match self.digits()? {
            None => Err(LengthError::NoNumber {
                text: self.quote(),
                at,
            }),
            Some(0) => Err(LengthError::ZeroBelow {
                text: self.quote(),
                at,
            }),
            Some(bottom) => Ok(Ratio { top, bottom }),
        }
    }

    fn vulgar_fraction(&mut self) -> Option<Ratio> {
        let (top, bottom) = vulgar(self.peek()?)?;
        self.next += 1;
        Some(Ratio { top, bottom })
    }

    fn digits(&mut self) -> Result<Option<i128>, LengthError> {
        let mut value = None;
        while let Some(digit) = self.peek().and_then(|c| c.to_digit(10)) {
            let grown = value
                .unwrap_or(0_i128)
                .checked_mul(10)
                .and_then(|v| v.checked_add(i128::from(digit)));
            value = Some(grown.ok_or_else(|| self.too_long())?);
            self.next += 1;
        }
        Ok(value)
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

    fn add(&self, a: Ratio, top: i128, bottom: i128) -> Result<Ratio, LengthError> {
        let sum = a.top.checked_mul(bottom).zip(top.checked_mul(a.bottom));
        let top = sum.and_then(|(x, y)| x.checked_add(y));
        top.zip(a.bottom.checked_mul(bottom))
            .map(|(top, bottom)| Ratio { top, bottom })
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
        let up = i64::from(rest >= nm.bottom - rest);
        Err(LengthError::NotWhole {
            text: self.quote(),
            nearest: Length(whole + up),
        })
    }

    fn peek(&self) -> Option<char> {
        self.chars.get(self.next).copied()
    }

    fn skip_spaces(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.next += 1;
        }
    }

    fn quote(&self) -> Quoted {
        Quoted::new(self.text)
    }

    fn too_long(&self) -> LengthError {
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

fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2010}'..='\u{2014}' | '−')
}

fn is_prime(c: char) -> bool {
    matches!(c, '"' | '\'' | '′' | '″' | '’' | '”' | '‘' | '“')
}

/// The characters that are fractions by themselves.
fn vulgar(c: char) -> Option<(i128, i128)> {
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
