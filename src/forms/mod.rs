//! Forms: what was typed stays a `String` in the form struct, is parsed once here, and errors
//! wait in a [`FormErrors`] beside it, so that a page with errors shows all of it again.
//!
//! ```text
//! let mut errors = FormErrors::default();
//! let name = errors.text("name", "Name", &form.name, 80);
//! let attendees = errors.count("attendees", "Attendees", &form.attendees, 1..=400);
//! let (Some(name), Some(attendees)) = (name, attendees) else {
//!     return Ok(Page::invalid(ClassFormPage { form, errors, .. }).into_response());
//! };
//! ```

mod lengths;
mod parse;
mod spools;

pub use lengths::{length_text, ribbon_text};
pub use spools::{spool_text, spools_text};

use std::borrow::Cow;
use std::fmt::Display;
use std::ops::RangeInclusive;

use crate::workshop::Currency;

/// The longest piece of typed text that an error repeats, in characters.
const QUOTED_CHARS: usize = 60;

/// What is wrong with a form, in the order of its fields.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FormErrors(Vec<FormError>);

/// What is wrong with one field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormError {
    /// The field's name in the form.
    pub field: Cow<'static, str>,
    /// One or two sentences: label, what is wrong, what would do.
    pub message: String,
}

impl FormErrors {
    /// Adds a message for a field.
    pub fn add(&mut self, field: impl Into<Cow<'static, str>>, message: impl Into<String>) {
        self.0.push(FormError {
            field: field.into(),
            message: message.into(),
        });
    }

    /// The first message for a field. Takes `str` or `String`, so that templates need no `&`.
    pub fn of<S: AsRef<str> + ?Sized>(&self, field: &S) -> Option<&str> {
        self.0
            .iter()
            .find(|error| error.field == field.as_ref())
            .map(|error| error.message.as_str())
    }

    /// Whether nothing is wrong.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many messages there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// All messages, for the summary on top.
    pub fn iter(&self) -> impl Iterator<Item = &FormError> {
        self.0.iter()
    }

    /// Keeps the value of a parse, or its error as `Label: error`.
    pub fn keep<T>(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        parsed: Result<T, impl Display>,
    ) -> Option<T> {
        match parsed {
            Ok(value) => Some(value),
            Err(error) => {
                self.add(field, format!("{label}: {error}"));
                None
            }
        }
    }

    /// One line of text that must be there, trimmed, of at most `max_chars`.
    pub fn text(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        max_chars: usize,
    ) -> Option<String> {
        self.keep(
            field,
            label,
            parse::text(typed, max_chars, parse::Lines::One),
        )
    }

    /// One line of text that may be empty.
    pub fn optional_text(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        max_chars: usize,
    ) -> Option<String> {
        if typed.trim().is_empty() {
            return Some(String::new());
        }
        self.text(field, label, typed, max_chars)
    }

    /// Text of several lines that may be empty.
    pub fn lines(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        max_chars: usize,
    ) -> Option<String> {
        if typed.trim().is_empty() {
            return Some(String::new());
        }
        self.keep(
            field,
            label,
            parse::text(typed, max_chars, parse::Lines::Many),
        )
    }

    /// A whole number within a range: attendees, spares, minutes.
    pub fn count(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        range: RangeInclusive<u32>,
    ) -> Option<u32> {
        self.keep(field, label, parse::count(typed, &range))
    }

    /// An amount of money in minor units of the server's currency.
    pub fn money(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        currency: Currency,
    ) -> Option<u64> {
        self.keep(field, label, parse::money(typed, currency))
    }

    /// An amount of money that may be left out: `Some(None)`; `None` is an error.
    pub fn optional_money(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        currency: Currency,
    ) -> Option<Option<u64>> {
        if typed.trim().is_empty() {
            return Some(None);
        }
        self.money(field, label, typed, currency).map(Some)
    }

    /// One of the values that a select or radio group offers.
    pub fn choice<T: Clone>(
        &mut self,
        field: impl Into<Cow<'static, str>>,
        label: &str,
        typed: &str,
        offered: &[(&str, T)],
    ) -> Option<T> {
        let found = offered.iter().find(|(value, _)| *value == typed);
        let value = found.map(|(_, value)| value.clone());
        self.keep(
            field,
            label,
            value.ok_or_else(|| {
                if typed.is_empty() {
                    "nothing is chosen. Choose one from the list.".to_owned()
                } else {
                    format!(
                        "\"{}\" is not in the list. Choose one from the list.",
                        quoted_part(typed)
                    )
                }
            }),
        )
    }
}

/// Whether a check box came ticked: browsers send nothing for an empty one.
#[must_use]
pub fn is_ticked(sent: Option<&String>) -> bool {
    sent.is_some()
}

/// At most 60 characters of what was typed, to repeat in an error; control characters show as
/// a replacement sign.
#[must_use]
pub fn quoted_part(typed: &str) -> String {
    let visible = |c: char| if c.is_control() { '\u{fffd}' } else { c };
    let mut chars = typed.trim().chars().map(visible);
    let mut quoted: String = chars.by_ref().take(QUOTED_CHARS).collect();
    if chars.next().is_some() {
        quoted.push('…');
    }
    quoted
}

#[cfg(test)]
mod tests;
