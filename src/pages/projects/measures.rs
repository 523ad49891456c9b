//! Measures as pages show them: on the project's own ruler first, then converted.

use tablefold_geometry::{Length, Ruler, both};

/// A measure on its own ruler and on the other one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Both {
    /// "5 1/4 in".
    pub(super) own: String,
    /// "≈ 133 mm".
    pub(super) other: String,
}

impl Both {
    /// A length that can be set.
    pub(super) fn of(ruler: &Ruler, length: Length) -> Self {
        let (own, other) = both(ruler, length);
        Self { own, other }
    }

    /// A derived measure.
    pub(super) fn mm(ruler: &Ruler, mm: f64) -> Self {
        Self {
            own: ruler.text_mm(mm),
            other: ruler.other().text_mm(mm),
        }
    }
}

/// "45 s" up to a minute and a half, then "2 min".
pub(super) fn time_text(seconds: u32) -> String {
    if seconds < 90 {
        return format!("{seconds} s");
    }
    let halves = (seconds + 15) / 30;
    if halves % 2 == 0 {
        format!("{} min", halves / 2)
    } else {
        format!("{} 1/2 min", halves / 2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_read_as_people_say_them() {
        let texts = [45, 89, 90, 120, 150, 3600].map(time_text);
        let said = ["45 s", "89 s", "1 1/2 min", "2 min", "2 1/2 min", "60 min"];
        assert_eq!(texts, said);
    }
}
