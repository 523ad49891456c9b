//! Settings chosen by hand in place of the computed ones.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{
    Length, PunchBoxSettings, PunchEnvelopeSettings, Ruler, Settings, StructureKind,
};

use crate::forms::{FormErrors, length_text};
use crate::recipe::ProjectFacts;

/// What was typed; all empty means computed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct HandFields {
    pub(super) sheet: String,
    pub(super) punch_1: String,
    pub(super) punch_2: String,
}

impl HandFields {
    /// The fields of a stored piece.
    pub(super) fn of(settings: Option<Settings>, ruler: &Ruler) -> Self {
        let text = |length| length_text(ruler, length);
        match settings {
            None => Self::default(),
            Some(Settings::Box(at)) => Self {
                sheet: text(at.sheet),
                punch_1: text(at.punch_1),
                punch_2: text(at.punch_2),
            },
            Some(Settings::Envelope(at)) => Self {
                sheet: text(at.sheet),
                punch_1: text(at.punch),
                punch_2: String::new(),
            },
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        [&self.sheet, &self.punch_1, &self.punch_2]
            .iter()
            .all(|typed| typed.trim().is_empty())
    }

    /// The settings that were typed: `Some(None)` is none, `None` an error.
    pub(super) fn read(
        &self,
        kind: StructureKind,
        project: &ProjectFacts,
        errors: &mut FormErrors,
    ) -> Option<Option<Settings>> {
        if self.is_empty() {
            return Some(None);
        }
        let board = project.board.ruler();
        let trimmer = ("trimmer", project.trimmer.ruler());
        let sheet = mark(("sheet", "Side of the sheet"), &self.sheet, trimmer, errors);
        let board = ("punch board", board);
        let first = mark(("punch_1", "Punch 1"), &self.punch_1, board, errors);
        Some(Some(match kind {
            StructureKind::PunchBox => {
                let second = mark(("punch_2", "Punch 2"), &self.punch_2, board, errors);
                Settings::Box(PunchBoxSettings {
                    sheet: sheet?,
                    punch_1: first?,
                    punch_2: second?,
                })
            }
            StructureKind::PunchEnvelope => Settings::Envelope(PunchEnvelopeSettings {
                sheet: sheet?,
                punch: first?,
            }),
        }))
    }
}

/// A setting that is a mark of the tool's ruler.
fn mark(
    (field, label): (&'static str, &str),
    typed: &str,
    (tool, ruler): (&str, &Ruler),
    errors: &mut FormErrors,
) -> Option<Length> {
    let length = errors.size(field, label, typed, ruler.unit())?;
    if ruler.has(length) {
        return Some(length);
    }
    let near = [ruler.down(length.mm()), ruler.up(length.mm())];
    let mut marks: Vec<String> = near
        .into_iter()
        .flatten()
        .map(|at| ruler.text(at))
        .collect();
    marks.dedup();
    let (is, those) = if marks.len() == 1 {
        ("mark is", "it")
    } else {
        ("marks are", "one of them")
    };
    errors.add(
        field,
        format!(
            "{label}: \"{}\" is not a mark of the {tool}'s ruler. The nearest {is} {}. Type {those}.",
            crate::forms::quoted_part(typed),
            marks.join(" and "),
        ),
    );
    None
}
