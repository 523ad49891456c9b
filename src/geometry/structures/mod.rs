//! Structures: a few settings on a tool's ruler become a flat pattern. One file each.
//!
//! Constructors refuse what cannot be made, so that a structure that exists has a pattern.
//! What the pattern is worth is proved apart, by [`crate::fold_check`].

mod box_pattern;
mod build;
mod envelope_pattern;
mod error;
mod notched_square;
#[cfg(test)]
mod other_shapes_tests;
mod punch_box;
mod punch_envelope;
#[cfg(test)]
mod tests;

use serde::{Deserialize, Serialize};

pub use error::{BackRemedy, StructureError, StructureProblem};
pub use punch_box::{PunchBox, PunchBoxSettings};
pub use punch_envelope::{PunchEnvelope, PunchEnvelopeSettings};

use crate::{Length, Pattern, PunchBoard};

/// The structures that can be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum StructureKind {
    /// An envelope from a square: one punch a side.
    #[serde(rename = "envelope")]
    PunchEnvelope,
    /// A box from a square: two punches a side.
    #[serde(rename = "box")]
    PunchBox,
}

impl StructureKind {
    /// Every structure.
    #[must_use]
    pub const fn all() -> &'static [Self] {
        &[Self::PunchEnvelope, Self::PunchBox]
    }

    /// The name in a sentence.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::PunchEnvelope => "punch-board envelope",
            Self::PunchBox => "punch-board box",
        }
    }

    /// The name in an address and in JSON.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::PunchEnvelope => "envelope",
            Self::PunchBox => "box",
        }
    }

    /// The structure with that slug or name.
    #[must_use]
    pub fn find(text: &str) -> Option<Self> {
        let text = text.trim();
        Self::all().iter().copied().find(|kind| {
            kind.slug().eq_ignore_ascii_case(text) || kind.name().eq_ignore_ascii_case(text)
        })
    }
}

/// Room inside, in mm along each axis of the closed piece, caliper taken off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inside {
    /// Along x of the front.
    pub width: f64,
    /// Along y of the front.
    pub length: f64,
    /// From front to back.
    pub depth: f64,
}

/// What is set on the tools to make one structure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "structure")]
pub enum Settings {
    /// Of an envelope.
    #[serde(rename = "envelope")]
    Envelope(PunchEnvelopeSettings),
    /// Of a box.
    #[serde(rename = "box")]
    Box(PunchBoxSettings),
}

impl Settings {
    /// Which structure they make.
    #[must_use]
    pub const fn kind(&self) -> StructureKind {
        match self {
            Self::Envelope(_) => StructureKind::PunchEnvelope,
            Self::Box(_) => StructureKind::PunchBox,
        }
    }

    /// Each setting with its name, in the order of the hands.
    #[must_use]
    pub fn list(&self) -> Vec<(&'static str, Length)> {
        match self {
            Self::Envelope(at) => vec![("sheet", at.sheet), ("punch", at.punch)],
            Self::Box(at) => {
                vec![
                    ("sheet", at.sheet),
                    ("punch 1", at.punch_1),
                    ("punch 2", at.punch_2),
                ]
            }
        }
    }
}

/// A structure whose settings can be made.
#[derive(Clone, Debug, PartialEq)]
pub enum Structure {
    /// An envelope.
    Envelope(PunchEnvelope),
    /// A box.
    Box(PunchBox),
}

impl Structure {
    /// The structure that these settings make on this board, from paper of this caliper.
    ///
    /// # Errors
    /// What [`PunchBox::new`] and [`PunchEnvelope::new`] refuse.
    pub fn new(
        settings: Settings,
        board: &PunchBoard,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        match settings {
            Settings::Envelope(at) => PunchEnvelope::new(at, board, caliper).map(Self::Envelope),
            Settings::Box(at) => PunchBox::new(at, board, caliper).map(Self::Box),
        }
    }

    /// The settings it was made from.
    #[must_use]
    pub fn settings(&self) -> Settings {
        match self {
            Self::Envelope(envelope) => Settings::Envelope(envelope.settings()),
            Self::Box(made) => Settings::Box(made.settings()),
        }
    }

    /// Width and height of the sheet it is made from.
    #[must_use]
    pub fn blank(&self) -> (Length, Length) {
        let side = match self {
            Self::Envelope(envelope) => envelope.settings().sheet,
            Self::Box(made) => made.settings().sheet,
        };
        (side, side)
    }

    /// Room inside.
    #[must_use]
    pub fn inside(&self) -> Inside {
        match self {
            Self::Envelope(envelope) => envelope.inside(),
            Self::Box(made) => made.inside(),
        }
    }

    /// The flat pattern.
    #[must_use]
    pub fn pattern(&self) -> Pattern {
        match self {
            Self::Envelope(envelope) => envelope.pattern(),
            Self::Box(made) => made.pattern(),
        }
    }
}
