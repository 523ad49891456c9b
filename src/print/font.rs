//! The font, Noto Sans (SIL Open Font License 1.1), and how wide words are in it.

use std::sync::LazyLock;

use krilla::text::Font;

/// Millimetres in a typographic point.
pub(super) const MM_PER_POINT: f64 = 25.4 / 72.0;

/// From the baseline to the top of a capital letter, in parts of the size.
pub(super) const CAPITALS: f64 = 0.714;

/// From one line to the next, in parts of the size.
pub(super) const LINE: f64 = 1.25;

/// Two weights of one face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Weight {
    Regular,
    Bold,
}

static REGULAR: LazyLock<Face> = LazyLock::new(|| Face::new(notosans::REGULAR_TTF));
static BOLD: LazyLock<Face> = LazyLock::new(|| Face::new(notosans::BOLD_TTF));

struct Face {
    font: Option<Font>,
    outlines: Option<ttf_parser::Face<'static>>,
}

impl Face {
    fn new(bytes: &'static [u8]) -> Self {
        Self {
            font: Font::new(bytes.into(), 0),
            outlines: ttf_parser::Face::parse(bytes, 0).ok(),
        }
    }

    /// Width of one character, in parts of the size.
    fn advance(&self, letter: char) -> f64 {
        let of = |face: &ttf_parser::Face<'_>| {
            let glyph = face.glyph_index(letter).unwrap_or_default();
            let units = f64::from(face.units_per_em());
            f64::from(face.glyph_hor_advance(glyph).unwrap_or_default()) / units
        };
        self.outlines.as_ref().map_or(0.6, of)
    }
}

impl Weight {
    fn face(self) -> &'static Face {
        match self {
            Self::Regular => &REGULAR,
            Self::Bold => &BOLD,
        }
    }

    /// The font; `None` only if the bytes in the program are no font.
    pub(super) fn font(self) -> Option<Font> {
        self.face().font.clone()
    }

    /// Width of some words, mm, without kerning (which makes them narrower, if anything).
    pub(super) fn width_mm(self, text: &str, size: f64) -> f64 {
        let parts: f64 = text.chars().map(|letter| self.face().advance(letter)).sum();
        parts * size * MM_PER_POINT
    }

    fn has(self, letter: char) -> bool {
        let of = |face: &ttf_parser::Face<'_>| face.glyph_index(letter).is_some();
        self.face().outlines.as_ref().is_some_and(of)
    }

    /// The words, or as many letters of them as fit with "…".
    pub(super) fn fitted(self, text: &str, size: f64, most_mm: f64) -> String {
        let text = printable(text);
        if self.width_mm(&text, size) <= most_mm {
            return text;
        }
        let room = most_mm - self.width_mm("…", size);
        let mut wide = 0.0;
        let fits = |letter: &char| {
            wide += self.face().advance(*letter) * size * MM_PER_POINT;
            wide <= room
        };
        let kept: String = text.chars().take_while(fits).collect();
        format!("{}…", kept.trim_end())
    }
}

impl Weight {
    /// The words on lines no wider than this, broken at spaces; the last of at most so many lines
    /// has the rest, fitted.
    pub(super) fn wrapped(self, text: &str, size: f64, most_mm: f64, most: usize) -> Vec<String> {
        let text = printable(text);
        let mut lines: Vec<String> = Vec::new();
        for word in text.split(' ').filter(|word| !word.is_empty()) {
            let is_last = lines.len() >= most;
            match lines.last_mut() {
                Some(line)
                    if is_last || self.width_mm(&format!("{line} {word}"), size) <= most_mm =>
                {
                    line.push(' ');
                    line.push_str(word);
                }
                _ => lines.push(word.to_owned()),
            }
        }
        let fit = |line: String| self.fitted(&line, size, most_mm);
        lines.into_iter().map(fit).collect()
    }
}

/// Whether the font has every letter and figure of some words; other signs can be left out.
pub fn can_write(text: &str) -> bool {
    !missing(text).any(char::is_alphanumeric)
}

/// Letters of some words that the font lacks: they would print as boxes.
pub fn missing(text: &str) -> impl Iterator<Item = char> {
    let letters = text.chars().filter(|letter| !letter.is_whitespace());
    letters.filter(|letter| !letter.is_control() && !Weight::Regular.has(*letter))
}

/// The words without letters that the font lacks, on one line.
pub(super) fn printable(text: &str) -> String {
    let letters = text.chars().filter_map(|letter| match letter {
        letter if letter.is_whitespace() || letter.is_control() => Some(' '),
        letter => Weight::Regular.has(letter).then_some(letter),
    });
    let kept: String = letters.collect();
    let words: Vec<&str> = kept.split_whitespace().collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_as_wide_as_the_font_says() {
        // Advances in the font's own table hmtx, looked up through cmap by hand: H 1518, a 1149
        // of 2048 units.
        let wide = Weight::Regular.width_mm("Ha", 10.0);
        let by_hand = 2667.0 / 2048.0 * 10.0 * 25.4 / 72.0;
        assert!((wide - by_hand).abs() < 1e-6, "{wide}");
    }

    #[test]
    fn letters_that_the_font_lacks_are_left_out_and_named() {
        assert_eq!(printable("Bea 🌱 (Züri)"), "Bea (Züri)");
        assert_eq!(printable("🌱"), "");
        assert_eq!(missing("Bea 🌱\n花").collect::<String>(), "🌱花");
        assert_eq!(missing("Żaneta Søreng Ἀθήνα").count(), 0);
    }

    #[test]
    fn words_break_at_spaces_and_the_last_line_has_the_rest() {
        let say = "You print on the back. Paper: plum.";
        let wrapped = |most_mm, most| Weight::Regular.wrapped(say, 12.0, most_mm, most);
        assert_eq!(wrapped(500.0, 2), [say]);
        let two = wrapped(50.0, 2);
        assert_eq!(two, ["You print on the back.", "Paper: plum."]);
        let one = wrapped(50.0, 1);
        assert!(one.len() == 1 && one[0].ends_with('…'), "{one:?}");
        assert!(Weight::Regular.wrapped("", 12.0, 50.0, 2).is_empty());
    }

    #[test]
    fn a_long_name_is_cut_at_a_letter_and_says_so() {
        let long = "Tin with a lid ".repeat(40);
        let fitted = Weight::Bold.fitted(&long, 12.0, 60.0);
        assert!(fitted.ends_with('…') && fitted.starts_with("Tin with a lid"));
        assert!(Weight::Bold.width_mm(&fitted, 12.0) <= 60.0);
        assert_eq!(Weight::Bold.fitted("Tin", 12.0, 60.0), "Tin");
        assert_eq!(Weight::Bold.fitted("Tin\nbox", 12.0, 60.0), "Tin box");
    }
}
