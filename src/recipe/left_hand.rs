//! Instructions for left-handers: what goes with a mirrored picture says left for right.

use tablefold_geometry::{Structure, Work};

/// Words in which "left" and "right" are no sides.
const NO_SIDES: [&str; 6] = [
    "left over",
    "left-over",
    "left alone",
    "right angle",
    "all right",
    "right away",
];

/// The text with left and right changed for each other, as whole words.
#[must_use]
pub fn for_left_hand(text: &str) -> String {
    let mut mirrored = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_alphabetic()) {
        mirrored.push_str(&rest[..at]);
        rest = &rest[at..];
        if let Some(kept) = NO_SIDES.iter().find(|words| starts(rest, words)) {
            let (words, after) = rest.split_at(kept.len());
            mirrored.push_str(words);
            rest = after;
            continue;
        }
        let end = rest.find(|c: char| !c.is_alphabetic());
        let (word, after) = rest.split_at(end.unwrap_or(rest.len()));
        mirrored.push_str(other_side(word));
        rest = after;
    }
    mirrored.push_str(rest);
    mirrored
}

/// Whether a piece is made the same way by either hand: a template is printed one way, and what
/// was cut along it is no mirror image of itself.
pub(super) fn lies_one_way(structure: &Structure) -> bool {
    let mut work = structure.bodies().flat_map(|body| &body.work);
    work.any(|work| match work {
        Work::ByTemplate { .. } => true,
        Work::CutAway { what, .. } => what.contains("template"),
        _ => false,
    })
}

fn starts(text: &str, words: &str) -> bool {
    let head = text.get(..words.len());
    head.is_some_and(|head| head.eq_ignore_ascii_case(words))
}

fn other_side(word: &str) -> &str {
    match word {
        "left" => "right",
        "Left" => "Right",
        "right" => "left",
        "Right" => "Left",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sides_change_and_all_else_stays() {
        for (text, mirrored) in [
            (
                "Fold the left flap in, the right one over it.",
                "Fold the right flap in, the left one over it.",
            ),
            ("Right: 5 1/4 in (≈ 133 mm)", "Left: 5 1/4 in (≈ 133 mm)"),
            (
                "A right angle is left over. That is all right.",
                "A right angle is left over. That is all right.",
            ),
            ("bright lefty é", "bright lefty é"),
            ("", ""),
        ] {
            assert_eq!(for_left_hand(text), mirrored);
            assert_eq!(for_left_hand(mirrored), text);
        }
    }
}
