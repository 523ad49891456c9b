//! Measures as pages show them: on the project's own ruler first, then converted.

use tablefold_geometry::{Length, Ruler, both};

/// A measure on its own ruler and on the other one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Both {
    /// "5 1/4 in".
    pub(crate) own: String,
    /// "≈ 133 mm".
    pub(crate) other: String,
}

impl Both {
    /// A length that can be set.
    pub(crate) fn of(ruler: &Ruler, length: Length) -> Self {
        let (own, other) = both(ruler, length);
        Self { own, other }
    }

    /// Two sides: "8 1/2 × 11 in".
    pub(crate) fn sides(ruler: &Ruler, width: Length, height: Length) -> Self {
        let other = ruler.other();
        Self {
            own: sides(&ruler.text(width), &ruler.text(height)),
            other: sides(&other.text(width), &other.text(height)),
        }
    }

    /// A derived measure.
    pub(crate) fn mm(ruler: &Ruler, mm: f64) -> Self {
        Self {
            own: ruler.text_mm(mm),
            other: ruler.other().text_mm(mm),
        }
    }
}

/// Says unit and "≈" once where both sides have them.
fn sides(width: &str, height: &str) -> String {
    let split = |text: &'_ str| {
        text.rsplit_once(' ')
            .map(|(n, unit)| (n.to_owned(), unit.to_owned()))
    };
    let (Some((w, unit)), Some((h, other))) = (split(width), split(height)) else {
        return format!("{width} × {height}");
    };
    if unit != other {
        return format!("{width} × {height}");
    }
    let bare = [&w, &h].map(|side| side.strip_prefix("≈ "));
    if bare == [None, None] {
        return format!("{w} × {h} {unit}");
    }
    // One that is not on a mark makes the pair so.
    let [w, h] = [bare[0].unwrap_or(&w), bare[1].unwrap_or(&h)];
    format!("≈ {w} × {h} {unit}")
}

/// "45 s" up to a minute and a half, then "2 min".
pub(crate) fn time_text(seconds: u32) -> String {
    if seconds < 90 {
        return format!("{seconds} s");
    }
    let halves = (seconds + 15) / 30;
    if halves.is_multiple_of(2) {
        format!("{} min", halves / 2)
    } else {
        format!("{} 1/2 min", halves / 2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sides_say_the_unit_once() {
        let inch = Ruler::inch(16);
        let both = |w, h| Both::sides(&inch, Length::from_nm(w), Length::from_nm(h));
        let letter = both(215_900_000, 279_400_000);
        assert_eq!(
            (letter.own.as_str(), letter.other.as_str()),
            ("8 1/2 × 11 in", "≈ 216 × 279 mm")
        );
        let a4 = both(210_000_000, 297_000_000);
        assert_eq!(
            (a4.own.as_str(), a4.other.as_str()),
            ("≈ 8 1/4 × 11 11/16 in", "210 × 297 mm")
        );
        // 5 in is 127 mm exactly, 4 7/8 in is not 124 mm.
        let half = both(127_000_000, 123_825_000);
        assert_eq!(half.other, "≈ 127 × 124 mm");
        let turned = both(123_825_000, 127_000_000);
        assert_eq!(turned.other, "≈ 124 × 127 mm");
    }

    #[test]
    fn times_read_as_people_say_them() {
        let texts = [45, 89, 90, 120, 150, 3600].map(time_text);
        let said = ["45 s", "89 s", "1 1/2 min", "2 min", "2 1/2 min", "60 min"];
        assert_eq!(texts, said);
    }
}
