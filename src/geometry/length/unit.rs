//! The units that lengths are typed in.

use serde::{Deserialize, Serialize};

/// A unit that a length may be typed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Unit {
    /// 25.4 mm, exact.
    #[serde(rename = "in")]
    Inch,
    /// 12 inches.
    #[serde(rename = "ft")]
    Foot,
    /// A thousandth of a metre.
    #[serde(rename = "mm")]
    Millimetre,
    /// Ten millimetres.
    #[serde(rename = "cm")]
    Centimetre,
}

impl Unit {
    /// Nanometres in one unit.
    #[must_use]
    pub const fn nm(self) -> i64 {
        match self {
            Self::Inch => 25_400_000,
            Self::Foot => 304_800_000,
            Self::Millimetre => 1_000_000,
            Self::Centimetre => 10_000_000,
        }
    }

    /// The short sign printed behind a number: "in", "ft", "mm" or "cm".
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Foot => "ft",
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
        }
    }

    /// The unit that people mean by a word or sign; letters in any case.
    pub(super) fn from_word(word: &str) -> Option<Self> {
        Some(match word.to_lowercase().as_str() {
            "in" | "in." | "inch" | "inches" | "\"" | "″" | "”" | "“" | "''" | "′′" | "’’" => {
                Self::Inch
            }
            "ft" | "ft." | "foot" | "feet" | "'" | "′" | "’" | "‘" => Self::Foot,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            _ => return None,
        })
    }
}
