//! Why a band cannot be made, in words with the values and what would do.

use thiserror::Error;

use super::Band;
use crate::Length;
use crate::decorations::FingerNotchError;
use crate::decorations::words::mm_and_inches;

/// Why a band cannot be made so.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BandError {
    /// A side of the box is no length.
    #[error("The box is {mm} mm in {side}. Give more than 0 and at most 10 m.")]
    Box {
        /// `width`, `depth` or `length`.
        side: &'static str,
        /// The side in mm.
        mm: f64,
    },
    /// A typed measure is outside its bounds.
    #[error("The {field} is {}. Give {allowed}.", given.exact_text())]
    Measure {
        /// The field to mark.
        field: &'static str,
        /// The length given.
        given: Length,
        /// What would do.
        allowed: &'static str,
    },
    /// The ends lie over more than the back.
    #[error(
        "The ends lie over each other by {}, but the back is only {} wide. Use less overlap or a shorter strip.",
        mm_and_inches(*overlap_mm),
        mm_and_inches(*back_mm)
    )]
    OverlapWiderThanBack {
        /// The overlap in mm.
        overlap_mm: f64,
        /// Crease to crease of the back in mm.
        back_mm: f64,
    },
    /// Nothing is left of the strip between the reveals.
    #[error(
        "A reveal of {} at each end leaves no strip on a box {} long. Use less than {}.",
        reveal.exact_text(),
        mm_and_inches(*length_mm),
        mm_and_inches(*length_mm / 2.0)
    )]
    RevealTooLarge {
        /// The reveal asked for.
        reveal: Length,
        /// Length of the box in mm.
        length_mm: f64,
    },
    /// The strip does not go round and overlap enough.
    #[error(
        "A strip of {} is too short: round the box are {}, and the ends need {} to hold. Cut it longer.",
        strip.exact_text(),
        mm_and_inches(*girth_mm),
        Band::LEAST_OVERLAP.exact_text()
    )]
    StripTooShort {
        /// Length of the strip.
        strip: Length,
        /// Once round in mm.
        girth_mm: f64,
    },
    /// The strip sticks out beyond the box.
    #[error(
        "A strip {} wide sticks out of a box {} long. Cut it narrower.",
        strip.exact_text(),
        mm_and_inches(*length_mm)
    )]
    StripTooWide {
        /// Width of the strip.
        strip: Length,
        /// Length of the box in mm.
        length_mm: f64,
    },
    /// The trimmer cannot be set to the strip.
    #[error(
        "The strip needs {} in {side}, and your trimmer goes from {} to {}. Use a trimmer with more reach, or a smaller box.",
        mm_and_inches(*needs_mm),
        shortest.exact_text(),
        longest.exact_text()
    )]
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
    #[error(
        "A crease lies {} from the end, and your score board goes from {} to {}. Crease it round the box by hand, or use a longer ruler.",
        mm_and_inches(*at_mm),
        shortest.exact_text(),
        longest.exact_text()
    )]
    OutOfScoreReach {
        /// From the nearer end in mm.
        at_mm: f64,
        /// The first mark that can be set.
        shortest: Length,
        /// The last mark that can be set.
        longest: Length,
    },
    /// The notch does not fit.
    #[error(transparent)]
    Notch(#[from] FingerNotchError),
}
