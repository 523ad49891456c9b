//! Reads single fields; each error is the part of the sentence after the label.

use std::ops::RangeInclusive;

use super::quoted_part;

/// The dearest thing that can be typed: a million of the currency, in minor units.
const MAX_MINOR: u64 = 100_000_000;

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

pub(super) fn money(typed: &str) -> Result<u64, String> {
    let typed = typed.trim();
    let refuse = |wrong: &str| Err(format!("\"{}\" {wrong}", quoted_part(typed)));
    let (whole, part) = typed.split_once(['.', ',']).unwrap_or((typed, ""));
    let digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(part) {
        return refuse("is not an amount. Type one like 4.50, without the currency.");
    }
    if part.len() > 2 {
        return refuse("has more than 2 digits after the point. Type an amount like 4.50.");
    }
    let minor = format!("{whole}{part:0<2}")
        .parse::<u64>()
        .unwrap_or(u64::MAX);
    if minor > MAX_MINOR {
        return refuse("is too much. Type an amount up to 1000000.00.");
    }
    Ok(minor)
}
