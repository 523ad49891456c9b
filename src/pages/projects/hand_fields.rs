//! Settings chosen by hand in place of the computed ones.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Length, Ruler, SetOn, Settings, StructureKind};

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
        let Some(settings) = settings else {
            return Self::default();
        };
        let text = |length: Option<Length>| {
            length.map_or_else(String::new, |length| length_text(ruler, length))
        };
        let mut punches = settings.on(SetOn::PunchBoard).into_iter();
        Self {
            sheet: text(settings.on(SetOn::Sheet).pop()),
            punch_1: text(punches.next()),
            punch_2: text(punches.next()),
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
        let board = ("punch board", board);
        let mut punches = [
            (("punch_1", "Punch 1"), &self.punch_1),
            (("punch_2", "Punch 2"), &self.punch_2),
        ]
        .into_iter();
        let mut lengths = Vec::new();
        for field in kind.fields() {
            lengths.push(match field.tool {
                SetOn::Sheet => {
                    let name = ("sheet", "Side of the sheet");
                    mark(name, &self.sheet, trimmer, errors)
                }
                SetOn::PunchBoard => {
                    let (name, typed) = punches.next()?;
                    mark(name, typed, board, errors)
                }
                _ => {
                    let only = "Settings by hand are for the punch board. Leave them empty.";
                    errors.add("sheet", format!("Side of the sheet: {only}"));
                    return None;
                }
            });
        }
        let lengths: Option<Vec<Length>> = lengths.into_iter().collect();
        Settings::new(kind, &lengths?).map(Some)
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
