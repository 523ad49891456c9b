//! The same structure with one thing off: made again on rulers without marks.

use super::Operation;
use crate::{Length, PunchBoard, Ruler, SetOn, Settings, Structure, Tools};

/// What can be off in a structure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Source {
    /// The setting's place, or none for the notch depth.
    setting: Option<usize>,
    /// What it is called: "punch 1".
    pub(super) name: &'static str,
    /// The operation that it is made by.
    pub(super) operation: Operation,
}

/// Every setting and, where something is punched, the notch depth.
pub(super) fn sources(structure: &Structure) -> Vec<Source> {
    let fields = structure.kind().fields();
    let mut sources: Vec<Source> = fields
        .iter()
        .enumerate()
        .map(|(place, field)| Source {
            setting: Some(place),
            name: field.name,
            operation: Operation::of(field.tool),
        })
        .collect();
    if fields.iter().any(|field| field.tool == SetOn::PunchBoard) {
        sources.push(Source {
            setting: None,
            name: "notch depth",
            operation: Operation::Calibration,
        });
    }
    sources
}

/// The structure with these sources off by so much; `None` where that can no longer be made.
pub(super) fn varied(structure: &Structure, off: &[(Source, Length)]) -> Option<Structure> {
    let mut at: Vec<Length> = structure.settings().each().map(|(_, at)| at).collect();
    let mut deeper = Length::ZERO;
    for (source, by) in off {
        let slot = match source.setting {
            Some(place) => at.get_mut(place)?,
            None => &mut deeper,
        };
        *slot = slot.checked_add(*by)?;
    }
    let settings = Settings::new(structure.kind(), &at)?;
    let tools = unmarked(structure.tools(), deeper)?;
    let made = Structure::off(settings, &tools, structure.caliper()).ok()?;
    Some(made.laden(structure.load()))
}

/// The same tools with rulers that have every nanometre and reach everywhere.
fn unmarked(tools: &Tools, deeper: Length) -> Option<Tools> {
    let unmarked = Ruler::unmarked(Length::ZERO);
    let board = match tools.punch_board {
        None => None,
        Some(board) => {
            let depth = board.notch_depth().checked_add(deeper)?;
            let beyond = Ruler::unmarked(depth + Length::from_nm(1));
            Some(PunchBoard::new(depth, beyond).ok()?)
        }
    };
    Some(Tools {
        punch_board: board,
        score: tools.score.map(|_| unmarked),
        trimmer: unmarked,
    })
}
