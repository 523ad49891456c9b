//! Reads single fields; each error is the part of the sentence after the label.

use std::ops::RangeInclusive;

use super::quoted_part;
use crate::workshop::Currency;

/// How many lines a text may have.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Lines {
    One,
    Many,
}

pub(super) fn text(typed: &str, max_chars: usize, lines: Lines) -> Result<String, String> {
    // Browsers send line ends as CR LF; one kind inside keeps lengths and comparisons honest.
    let text = typed.trim().replace("\r\n", "\n");
    if text.is_empty() {
        return Err("nothing is typed. Type at least one character.".to_owned());
    }
    let allowed = |c: char| !c.is_control() || (lines == Lines::Many && (c == '\n' || c == '\t'));
    if !text.chars().all(allowed) {
        let instead = match lines {
            Lines::One => "Type it in one line, without control characters.",
            Lines::Many => "Type it without control characters.",
        };
        return Err(format!(
            "\"{}\" holds characters that do not print. {instead}",
            quoted_part(&text)
        ));
    }
    let chars = text.chars().count();
    if chars > max_chars {
        return Err(format!(
            "\"{}\" has {chars} characters. Type at most {max_chars}.",
            quoted_part(&text)
        ));
    }
    Ok(text)
}

pub(super) fn count(typed: &str, range: &RangeInclusive<u32>) -> Result<u32, String> {
    let (least, most) = (*range.start(), *range.end());
    let instead = format!("Type a number from {least} to {most}.");
    let typed = typed.trim();
    if typed.is_empty() {
        return Err(format!("nothing is typed. {instead}"));
    }
    let (digits, negative) = match typed.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (rest, true),
        None => (typed, false),
    };
    if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return Err(format!(
            "\"{}\" is not a whole number. {instead}",
            quoted_part(typed)
        ));
    }
    // All digits, so the only way to fail is to be larger than any range.
    let number = digits.parse::<u32>().unwrap_or(u32::MAX);
    if (negative && number > 0) || number < least {
        return Err(format!("\"{}\" is too few. {instead}", quoted_part(typed)));
    }
    if number > most {
        return Err(format!("\"{}\" is too many. {instead}", quoted_part(typed)));
    }
    Ok(number)
}

pub(super) fn money(typed: &str, currency: Currency) -> Result<u64, String> {
    if typed.trim().is_empty() {
        return Err("nothing is typed. Type an amount, or 0 for nothing.".to_owned());
    }
    let read = currency.read_amount(typed);
    read.map_err(|wrong| format!("\"{}\" {wrong}", quoted_part(typed)))
}
