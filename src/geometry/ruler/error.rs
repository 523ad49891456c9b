//! Why a ruler cannot be.

use super::Ruler;
use crate::length::{Length, Unit};
use crate::words::exact;

/// Why a ruler cannot be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", self.say(None))]
pub enum RulerError {
    /// Rulers are read in inches, millimetres or centimetres.
    Unit(Unit),
    /// Marks closer than 0.1 mm.
    StepTooFine(Length),
    /// An inch ruler whose step does not divide an inch.
    StepOffInch(Length),
    /// No mark between shortest and longest.
    NoMarks {
        /// The shortest measure asked for.
        shortest: Length,
        /// The longest measure asked for.
        longest: Length,
        /// The step.
        step: Length,
        /// The first mark from the shortest measure on.
        would_do: Length,
    },
    /// Below zero or over 10 m.
    Reach {
        /// The shortest measure asked for.
        shortest: Length,
        /// The longest measure asked for.
        longest: Length,
    },
}

impl RulerError {
    /// The sentence with its measures on `ruler`.
    #[must_use]
    pub fn text(&self, ruler: &Ruler) -> String {
        self.say(Some(ruler))
    }

    pub(crate) fn say(&self, ruler: Option<&Ruler>) -> String {
        let is_inch = ruler.is_some_and(|ruler| ruler.unit() == Unit::Inch);
        match self {
            Self::Unit(it) => format!(
                "A ruler in {} cannot be used here. Choose in, mm or cm.",
                it.symbol()
            ),
            Self::StepTooFine(it) => format!(
                "A step of {} is too fine to set. Type {} or more.",
                exact(ruler, *it),
                if is_inch { "1/64 in" } else { "0.1 mm" }
            ),
            Self::StepOffInch(it) => format!(
                "A step of {} does not divide an inch. Type 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64 in.",
                exact(ruler, *it)
            ),
            Self::NoMarks {
                shortest,
                longest,
                step,
                would_do,
            } => format!(
                "There is no mark from {} to {} at steps of {}. Type a longest measure of {} or more.",
                exact(ruler, *shortest),
                exact(ruler, *longest),
                exact(ruler, *step),
                exact(ruler, *would_do)
            ),
            Self::Reach { shortest, longest } => format!(
                "A ruler from {} to {} is out of range. Type lengths from 0 to 10000 mm (393 11/16 in).",
                exact(ruler, *shortest),
                exact(ruler, *longest)
            ),
        }
    }
}
