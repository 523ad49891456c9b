//! Why a band cannot be made, in words with the values and what would do.

use thiserror::Error;

use super::Band;
use crate::decorations::FingerNotchError;
use crate::words::{derived, exact};
use crate::{Length, Ruler};

/// Why a band cannot be made so.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{}", self.say(None))]
pub enum BandError {
    /// A side of the box is no length.
    Box {
        /// `width`, `depth` or `length`.
        side: &'static str,
        /// The side in mm.
        mm: f64,
    },
    /// A typed measure is outside its bounds.
    Measure {
        /// The field to mark.
        field: &'static str,
        /// The length given.
        given: Length,
        /// What would do.
        allowed: &'static str,
    },
    /// The ends lie over more than the back.
    OverlapWiderThanBack {
        /// The overlap in mm.
        overlap_mm: f64,
        /// Crease to crease of the back in mm.
        back_mm: f64,
    },
    /// Nothing is left of the strip between the reveals.
    RevealTooLarge {
        /// The reveal asked for.
        reveal: Length,
        /// Length of the box in mm.
        length_mm: f64,
    },
    /// The strip does not go round and overlap enough.
    StripTooShort {
        /// Length of the strip.
        strip: Length,
        /// Once round in mm.
        girth_mm: f64,
    },
    /// The strip sticks out beyond the box.
    StripTooWide {
        /// Width of the strip.
        strip: Length,
        /// Length of the box in mm.
        length_mm: f64,
    },
    /// The trimmer cannot be set to the strip.
    OutOfTrimmerReach {
        /// `width` or `length`.
        side: &'static str,
        /// What is needed in mm.
        needs_mm: f64,
        /// The first mark that can be set.
        shortest: Length,
        /// The last mark that can be set.
        longest: Length,
    },
    /// The scoring ruler has no mark near a crease.
    OutOfScoreReach {
        /// From the nearer end in mm.
        at_mm: f64,
        /// The first mark that can be set.
        shortest: Length,
        /// The last mark that can be set.
        longest: Length,
    },
    /// The notch does not fit.
    Notch(#[from] FingerNotchError),
}

impl BandError {
    /// The sentence with its measures on `ruler`.
    #[must_use]
    pub fn text(&self, ruler: &Ruler) -> String {
        self.say(Some(ruler))
    }

    pub(crate) fn say(&self, ruler: Option<&Ruler>) -> String {
        match self {
            Self::Box { side, mm } => {
                format!("The box is {mm} mm in {side}. Give more than 0 and at most 10 m.")
            }
            Self::Measure {
                field,
                given,
                allowed,
            } => format!("The {field} is {}. Give {allowed}.", exact(ruler, *given)),
            Self::OverlapWiderThanBack {
                overlap_mm,
                back_mm,
            } => format!(
                "The ends lie over each other by {}, but the back is only {} wide. Use less overlap or a shorter strip.",
                derived(ruler, *overlap_mm),
                derived(ruler, *back_mm)
            ),
            Self::RevealTooLarge { reveal, length_mm } => format!(
                "A reveal of {} at each end leaves no strip on a box {} long. Use less than {}.",
                exact(ruler, *reveal),
                derived(ruler, *length_mm),
                derived(ruler, *length_mm / 2.0)
            ),
            Self::StripTooShort { strip, girth_mm } => format!(
                "A strip of {} is too short: round the box are {}, and the ends need {} to hold. Cut it longer.",
                exact(ruler, *strip),
                derived(ruler, *girth_mm),
                exact(ruler, Band::LEAST_OVERLAP)
            ),
            Self::StripTooWide { strip, length_mm } => format!(
                "A strip {} wide sticks out of a box {} long. Cut it narrower.",
                exact(ruler, *strip),
                derived(ruler, *length_mm)
            ),
            Self::OutOfTrimmerReach {
                side,
                needs_mm,
                shortest,
                longest,
            } => format!(
                "The strip needs {} in {side}, and your trimmer goes from {} to {}. Use a trimmer with more reach, or a smaller box.",
                derived(ruler, *needs_mm),
                exact(ruler, *shortest),
                exact(ruler, *longest)
            ),
            Self::OutOfScoreReach {
                at_mm,
                shortest,
                longest,
            } => format!(
                "A crease lies {} from the end, and your score board goes from {} to {}. Crease it round the box by hand, or use a longer ruler.",
                derived(ruler, *at_mm),
                exact(ruler, *shortest),
                exact(ruler, *longest)
            ),
            Self::Notch(error) => error.say(ruler),
        }
    }
}
