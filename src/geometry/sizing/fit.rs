//! How one body of a piece goes over another: the play between them, how deep a lid is, and
//! whether it has a window.

use serde::{Deserialize, Serialize};

use crate::{Length, StructureKind};

/// More play than this is not asked for, mm: up to the next mark it would be loose (1/4 in,
/// common practice, no source).
pub(crate) const MOST_ASKED_MM: f64 = 6.35;

/// What is asked of the bodies beside their contents.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(default)]
pub struct Fit {
    /// Play from wall to wall; `None` for the least that works. A structure keeps it between its
    /// own limits ([`FitLimits`]).
    pub play: Option<Length>,
    /// How deep the lid is, where there is one.
    pub lid: LidDepth,
    /// How wide a window is; `None` for none. Structures that never have one are refused.
    pub window: Option<Length>,
    /// How long a slot for a hand is, in the same way.
    pub slot: Option<Length>,
    /// Thickness of what is stuck on the body that goes in, such as mats: it takes as much of the
    /// play. It follows from the piece, so it is not stored.
    #[serde(skip)]
    pub stuck_on: Length,
}

impl Fit {
    /// How large the opening of such a structure is, if one is asked for.
    #[must_use]
    pub fn opening(&self, kind: StructureKind) -> Option<Length> {
        let offered = kind.opening()?.field.key;
        let mut asked = self.openings().into_iter();
        asked.find(|(key, _)| *key == offered)?.1
    }

    /// The same with an opening of such a structure.
    #[must_use]
    pub fn with_opening(mut self, kind: StructureKind, opening: Option<Length>) -> Self {
        match kind.opening().map(|offered| offered.field.key) {
            Some("window") => self.window = opening,
            Some("slot") => self.slot = opening,
            _ => {}
        }
        self
    }

    /// An opening that is asked for and that such a structure never has, by its word.
    #[must_use]
    pub fn lacking(&self, kind: StructureKind) -> Option<&'static str> {
        let offered = kind.opening().map(|opening| opening.field.key);
        let asked = self.openings().into_iter().filter(|it| it.1.is_some());
        let mut words = asked.map(|(key, _)| key);
        words.find(|key| Some(*key) != offered)
    }

    /// Every opening by the key of its setting.
    fn openings(&self) -> [(&'static str, Option<Length>); 2] {
        [("window", self.window), ("slot", self.slot)]
    }
}

/// How deep a lid is beside its base.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LidDepth {
    /// A third of the base, and no less than 15 mm where the base is that deep (common practice,
    /// no source).
    #[default]
    Shallow,
    /// Half of the base.
    Half,
    /// As deep as the base.
    Full,
}

impl LidDepth {
    /// All of them, the shallowest first.
    pub const ALL: [Self; 3] = [Self::Shallow, Self::Half, Self::Full];

    /// The word in forms.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::Shallow => "shallow",
            Self::Half => "half",
            Self::Full => "full",
        }
    }

    /// In words, for a list.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Shallow => "Shallow: a third of the base",
            Self::Half => "Half as deep as the base",
            Self::Full => "Full: as deep as the base",
        }
    }

    /// How deep that is for a base of this depth, mm.
    #[must_use]
    pub fn of_base_mm(self, base: f64) -> f64 {
        match self {
            Self::Shallow => (base / 3.0).max(15.0).min(base),
            Self::Half => base / 2.0,
            Self::Full => base,
        }
    }
}

/// What can be asked of a structure's fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitLimits {
    /// What goes where: "the lid over the base".
    pub what: &'static str,
    /// Least play, mm: also what is taken where none is asked for.
    pub least_mm: f64,
    /// Most play that is asked for, mm.
    pub most_mm: f64,
    /// Whether there is a lid whose depth can be chosen.
    pub has_lid: bool,
}

impl FitLimits {
    /// The play to make, mm: what is asked for, between the limits.
    pub(crate) fn play_mm(&self, fit: &Fit) -> f64 {
        let asked = fit.play.map_or(self.least_mm, Length::mm);
        asked.clamp(self.least_mm, self.most_mm)
    }
}
