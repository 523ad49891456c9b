//! Lengths as exact text, and to and from JSON.

use std::fmt;

use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::{Serialize, Serializer};

use super::{Length, Unit};

impl Length {
    /// The exact length in millimetres, "133.35 mm": reads back to the same nanometre.
    #[must_use]
    pub fn exact_text(self) -> String {
        format!("{} mm", decimal(self.0, Unit::Millimetre.nm()))
    }
}

/// `nm / unit` as a decimal without needless zeros; `unit` is a power of ten nanometres.
pub(crate) fn decimal(nm: i64, unit: i64) -> String {
    let sign = if nm < 0 { "-" } else { "" };
    let (nm, unit) = (nm.unsigned_abs(), unit.unsigned_abs());
    let (whole, rest) = (nm / unit, nm % unit);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    let places = unit.ilog10() as usize;
    let digits = format!("{rest:0places$}");
    format!("{sign}{whole}.{}", digits.trim_end_matches('0'))
}

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.exact_text())
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LengthVisitor)
    }
}

/// Reads a number of millimetres, or text with a unit; text without one is millimetres.
struct LengthVisitor;

impl Visitor<'_> for LengthVisitor {
    type Value = Length;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number of millimetres or a text such as \"5 1/4 in\"")
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Length, E> {
        Length::read(text, Unit::Millimetre).map_err(E::custom)
    }

    // Numbers go through the same reader as text: one set of limits and one set of messages.
    fn visit_u64<E: de::Error>(self, mm: u64) -> Result<Length, E> {
        self.visit_str(&mm.to_string())
    }

    fn visit_i64<E: de::Error>(self, mm: i64) -> Result<Length, E> {
        self.visit_str(&mm.to_string())
    }

    fn visit_f64<E: de::Error>(self, mm: f64) -> Result<Length, E> {
        // Rust prints the shortest decimal that reads back to the same number: what was typed.
        self.visit_str(&mm.to_string())
    }
}
