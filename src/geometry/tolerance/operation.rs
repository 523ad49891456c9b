//! What hands do that can be off.

use crate::SetOn;

/// An operation with a deviation of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Operation {
    /// Cutting on the trimmer.
    Cut,
    /// Scoring at a mark of the score board.
    Score,
    /// Punching at a mark of the punch board.
    Punch,
    /// The depth of the notch: how well the board is calibrated.
    Calibration,
    /// Drawing round a template.
    Draw,
    /// Folding on the score.
    Fold,
}

impl Operation {
    /// All of them, in the order of the hands.
    pub const ALL: [Self; 6] = [
        Self::Cut,
        Self::Score,
        Self::Punch,
        Self::Calibration,
        Self::Draw,
        Self::Fold,
    ];

    /// Its key in JSON and in forms.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Score => "score",
            Self::Punch => "punch",
            Self::Calibration => "calibration",
            Self::Draw => "draw",
            Self::Fold => "fold",
        }
    }

    /// What is off, in a sentence.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cut => "a cut",
            Self::Score => "a score",
            Self::Punch => "a punch",
            Self::Calibration => "the notch depth",
            Self::Draw => "a line drawn by template",
            Self::Fold => "a fold beside its score",
        }
    }

    /// The operation that a setting is made for.
    pub(super) const fn of(tool: SetOn) -> Self {
        match tool {
            SetOn::Sheet | SetOn::Trimmer => Self::Cut,
            SetOn::Score => Self::Score,
            SetOn::PunchBoard => Self::Punch,
            SetOn::Template => Self::Draw,
        }
    }
}
