//! Why a ruler cannot be.

use crate::length::{Length, Unit};

/// Why a ruler cannot be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RulerError {
    /// Rulers are read in inches, millimetres or centimetres.
    #[error("A ruler in {} cannot be used here. Choose in, mm or cm.", .0.symbol())]
    Unit(Unit),
    /// Marks closer than 0.1 mm.
    #[error("A step of {} is too fine to set. Type 0.1 mm or more.", .0.exact_text())]
    StepTooFine(Length),
    /// An inch ruler whose step does not divide an inch.
    #[error(
        "A step of {} does not divide an inch. Type 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64 in.",
        .0.exact_text()
    )]
    StepOffInch(Length),
    /// No mark between shortest and longest.
    #[error(
        "There is no mark from {} to {} at steps of {}. Type a longest measure of {} or more.",
        shortest.exact_text(), longest.exact_text(), step.exact_text(), would_do.exact_text()
    )]
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
    #[error(
        "A ruler from {} to {} is out of range. Type lengths from 0 to 10000 mm.",
        shortest.exact_text(), longest.exact_text()
    )]
    Reach {
        /// The shortest measure asked for.
        shortest: Length,
        /// The longest measure asked for.
        longest: Length,
    },
}
