//! Why a structure cannot be made, in words that say what would do.

use std::fmt;

use super::{SetOn, StructureKind};
use crate::{Length, Ruler};

/// How a back that stays open can be closed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BackRemedy {
    /// These punches make the same box turned a quarter, and its back closes.
    Turn(Length, Length),
    /// The box is narrower than the overlap.
    Widen,
    /// The box is too short for its width.
    Lengthen,
}

/// What is wrong with the settings.
#[derive(Clone, Debug, PartialEq)]
pub enum StructureProblem {
    /// No length, or one longer than anybody's table.
    Length {
        /// The setting.
        field: &'static str,
        /// What was asked.
        asked: Length,
    },
    /// The bench has no such tool.
    NoTool {
        /// What is to be made.
        kind: StructureKind,
        /// What it needs.
        tool: SetOn,
    },
    /// A setting below what makes the piece.
    TooLittle {
        /// The setting.
        field: &'static str,
        /// What was asked.
        asked: Length,
        /// The least mark that does.
        least: Length,
        /// What goes wrong below it.
        why: &'static str,
    },
    /// A setting above what makes the piece.
    TooMuch {
        /// The setting.
        field: &'static str,
        /// What was asked.
        asked: Length,
        /// The greatest mark that does.
        most: Length,
        /// What goes wrong above it.
        why: &'static str,
    },
    /// The ruler of the tool has no such mark, or it is out of reach.
    OffRuler {
        /// The setting.
        field: &'static str,
        /// The tool.
        tool: SetOn,
        /// What was asked.
        asked: Length,
    },
    /// The notches of one side run into each other.
    NotchesOverlap {
        /// First punch.
        punch_1: Length,
        /// Second punch.
        punch_2: Length,
        /// The least second punch.
        least: Length,
    },
    /// The last notch runs over the far corner of the sheet.
    SheetTooSmall {
        /// Sheet side.
        sheet: Length,
        /// It has to be more than this.
        more_than: Length,
    },
    /// The two side flaps do not overlap enough to be glued.
    BackOpen {
        /// By how much they overlap, mm; negative is a gap.
        overlap_mm: f64,
        /// What is needed, mm.
        needs_mm: f64,
        /// What would do.
        remedy: BackRemedy,
    },
    /// The paper fills the piece.
    NoRoom {
        /// Which way there is no room left: "width", "length", "depth".
        axis: &'static str,
        /// Crease to crease, mm.
        crease_mm: f64,
        /// Caliper.
        caliper: Length,
    },
}

/// A refusal, with the ruler in whose marks it speaks.
#[derive(Clone, Debug, PartialEq)]
pub struct StructureError {
    /// What is wrong.
    pub problem: StructureProblem,
    /// The tool's ruler.
    pub ruler: Ruler,
}

impl StructureError {
    pub(super) fn new(problem: StructureProblem, ruler: &Ruler) -> Self {
        Self {
            problem,
            ruler: *ruler,
        }
    }

    /// The tool is not on the bench.
    pub(crate) fn no_tool(kind: StructureKind, tool: SetOn, ruler: &Ruler) -> Self {
        Self::new(StructureProblem::NoTool { kind, tool }, ruler)
    }

    /// The setting to change, by its key, or "caliper", or "tools".
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self.problem {
            StructureProblem::Length { field, .. }
            | StructureProblem::OffRuler { field, .. }
            | StructureProblem::TooLittle { field, .. }
            | StructureProblem::TooMuch { field, .. } => field,
            StructureProblem::NoTool { .. } => "tools",
            StructureProblem::NotchesOverlap { .. } => "punch_2",
            StructureProblem::SheetTooSmall { .. } | StructureProblem::BackOpen { .. } => "sheet",
            StructureProblem::NoRoom { .. } => "caliper",
        }
    }
}

impl fmt::Display for StructureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = |length: &Length| self.ruler.text(*length);
        match &self.problem {
            StructureProblem::Length { field, asked } => write!(
                f,
                "{} {} is no length that can be used. Give more than 0 and at most 10 m.",
                say(field),
                text(asked),
            ),
            StructureProblem::NoTool { kind, tool } => write!(
                f,
                "The {} needs a {}, and the bench has none. Add one, or choose another structure.",
                kind.name(),
                tool.tool(),
            ),
            StructureProblem::TooLittle {
                field,
                asked,
                least,
                why,
            } => write!(
                f,
                "{} {} is too little: {why}. Set {} or more.",
                say(field),
                self.ruler.text_or_exact(*asked),
                text(least),
            ),
            StructureProblem::TooMuch {
                field,
                asked,
                most,
                why,
            } => write!(
                f,
                "{} {} is too much: {why}. Set {} or less.",
                say(field),
                self.ruler.text_or_exact(*asked),
                text(most),
            ),
            StructureProblem::OffRuler { field, tool, asked } => write!(
                f,
                "{} {} is not on the {}'s ruler, which has a mark each {} from {} to {}.",
                say(field),
                self.ruler.text_or_exact(*asked),
                match tool {
                    SetOn::PunchBoard => "board",
                    other => other.tool(),
                },
                text(&self.ruler.step()),
                text(&self.ruler.shortest()),
                text(&self.ruler.longest()),
            ),
            StructureProblem::NotchesOverlap {
                punch_1,
                punch_2,
                least,
            } => write!(
                f,
                "Punches at {} and {} run into each other. Set punch 2 at {} or more.",
                text(punch_1),
                text(punch_2),
                text(least),
            ),
            StructureProblem::SheetTooSmall { sheet, more_than } => write!(
                f,
                "A sheet of {} is too small for this punch. Use more than {}.",
                text(sheet),
                text(more_than),
            ),
            StructureProblem::BackOpen {
                overlap_mm,
                needs_mm,
                remedy,
            } => self.say_back(f, *overlap_mm, *needs_mm, *remedy),
            StructureProblem::NoRoom {
                axis,
                crease_mm,
                caliper,
            } => write!(
                f,
                "Paper {} thick leaves no room in a {axis} of {}. Use thinner paper or larger \
                 settings.",
                caliper.exact_text(),
                self.ruler.text_mm(*crease_mm),
            ),
        }
    }
}

impl StructureError {
    fn say_back(
        &self,
        f: &mut fmt::Formatter<'_>,
        overlap_mm: f64,
        needs_mm: f64,
        remedy: BackRemedy,
    ) -> fmt::Result {
        let mm = |mm: f64| self.ruler.text_mm(mm);
        if overlap_mm < 0.0 {
            write!(f, "The side flaps end {} apart", mm(-overlap_mm))?;
        } else {
            write!(f, "The side flaps overlap by {}", mm(overlap_mm))?;
        }
        write!(f, " and glue needs an overlap of {}.", mm(needs_mm))?;
        match remedy {
            BackRemedy::Turn(one, two) => write!(
                f,
                " Punch at {} and {}: that makes the same box the other way round, and its back \
                 closes.",
                self.ruler.text(one),
                self.ruler.text(two),
            ),
            BackRemedy::Widen => write!(f, " Move both punches further in."),
            BackRemedy::Lengthen => {
                write!(
                    f,
                    " Use a larger sheet, or move both punches nearer to the corner."
                )
            }
        }
    }
}

impl std::error::Error for StructureError {}

/// A setting at the start of a sentence, before its measure.
fn say(field: &str) -> String {
    let known = match field {
        "sheet" => "A sheet of",
        "punch" => "A punch at",
        "punch_1" => "Punch 1 at",
        "punch_2" => "Punch 2 at",
        "caliper" => "A caliper of",
        other => {
            let name = other.replace('_', " ");
            let mut letters = name.chars();
            let first = letters
                .next()
                .map(|letter| letter.to_uppercase().to_string());
            let before = if name.ends_with("score") { "at" } else { "of" };
            let first = first.unwrap_or_default();
            return format!("{first}{} {before}", letters.as_str());
        }
    };
    known.to_owned()
}
