//! The tools on a bench that structures are made with, by the rulers that are set on them.

use super::{StructureError, StructureKind};
use crate::{Length, PunchBoard, Ruler, SetOn, Trimmer};

/// What is on the bench. A structure that needs a tool that is not there is refused by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Tools {
    /// The board that punches.
    pub punch_board: Option<PunchBoard>,
    /// Ruler of the board that scores: distances from an edge of the sheet.
    pub score: Option<Ruler>,
    /// Ruler of the trimmer that cuts the sheets.
    pub trimmer: Ruler,
}

impl Tools {
    /// A bench with all three.
    #[must_use]
    pub fn new(board: PunchBoard, score: Ruler, trimmer: &Trimmer) -> Self {
        Self {
            punch_board: Some(board),
            score: Some(score),
            trimmer: *trimmer.ruler(),
        }
    }

    /// The ruler on which a setting is set; `None` if its tool is not on the bench. A template is
    /// drawn on the score board's ruler or, without one, on the trimmer's.
    #[must_use]
    pub fn ruler(&self, tool: SetOn) -> Option<&Ruler> {
        match tool {
            SetOn::Sheet | SetOn::Trimmer => Some(&self.trimmer),
            SetOn::PunchBoard => self.punch_board.as_ref().map(PunchBoard::ruler),
            SetOn::Score => self.score.as_ref(),
            SetOn::Template => Some(self.score.as_ref().unwrap_or(&self.trimmer)),
        }
    }

    /// The score board's ruler, for a structure that needs one.
    pub(super) fn score_for(&self, kind: StructureKind) -> Result<Ruler, StructureError> {
        self.score.ok_or_else(|| self.lacking(SetOn::Score, kind))
    }

    /// The punch board, for a structure that needs one.
    pub(super) fn board_for(&self, kind: StructureKind) -> Result<PunchBoard, StructureError> {
        let board = self.punch_board;
        board.ok_or_else(|| self.lacking(SetOn::PunchBoard, kind))
    }

    fn lacking(&self, tool: SetOn, kind: StructureKind) -> StructureError {
        StructureError::no_tool(kind, tool, self.main_ruler())
    }

    /// The ruler in whose marks the bench speaks: the punch board's, else the score board's, else
    /// the trimmer's.
    #[must_use]
    pub fn main_ruler(&self) -> &Ruler {
        let board = self.punch_board.as_ref().map(PunchBoard::ruler);
        board.or(self.score.as_ref()).unwrap_or(&self.trimmer)
    }

    /// A setting as its own ruler has it, or as the bench speaks.
    #[must_use]
    pub fn text(&self, tool: SetOn, at: Length) -> String {
        self.ruler(tool).unwrap_or(self.main_ruler()).text(at)
    }
}
