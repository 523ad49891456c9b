//! Why a text is no length, in the words the user reads.

use std::fmt;

use super::Length;

/// What a message may quote of a text, in characters.
const QUOTE: usize = 60;

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
    /// A fraction over zero, or over a number of more than 12 digits.
    #[error(
        "{text} divides by {found} at character {at}. Type a fraction with 2, 4, 8, 16, 32 or 64 below the line."
    )]
    Divisor {
        /// What was typed.
        text: Quoted,
        /// What is below the line.
        found: Quoted,
        /// Where it starts.
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
    /// A fraction that no ruler has, and that is no whole number of nanometres.
    #[error("{text}: {} are on no ruler. Type 64ths or a decimal.", ordinals(*divisor))]
    NoMark {
        /// What was typed.
        text: Quoted,
        /// What is below the line.
        divisor: i128,
    },
    /// Finer than a nanometre.
    #[error(
        "{text} is finer than can be kept. Type fewer digits after the point; the nearest length is {}.",
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

/// "33rds", "7ths", "21sts".
fn ordinals(divisor: i128) -> String {
    let ending = match (divisor % 10, divisor % 100) {
        (_, 11..=13) => "ths",
        (1, _) => "sts",
        (2, _) => "nds",
        (3, _) => "rds",
        _ => "ths",
    };
    format!("{divisor}{ending}")
}

const ACCEPTED: &str = "Type a number and a unit, such as 5 1/4 in, 13.3 cm or 133 mm.";
