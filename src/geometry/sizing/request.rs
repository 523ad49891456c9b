//! What is asked of sizing, and what cannot be asked.

use serde::{Deserialize, Serialize};

use super::contents::MOST_IN_A_STACK;
use super::{Contents, Fit};
use crate::{Length, StructureKind, Tools};

/// Thicker than any card that a punch board takes (common practice, no source).
const THICKEST: Length = Length::from_mm(3);
/// More makes than this is a slip of the keyboard.
const MOST_MAKES: u32 = 1_000_000;

/// A kind of sheet that can be bought.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stock {
    /// What it is called; no two sheets share a name.
    pub name: String,
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// Price of one, in the smallest unit of the money.
    pub price: Option<u64>,
    /// Whether parts may be turned on it: no grain or printed direction forbids it.
    pub turnable: bool,
}

/// What is to be made, with which tools, from which sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizingRequest {
    /// What goes in.
    pub contents: Contents,
    /// The structure wanted; `None` tries all.
    pub structure: Option<StructureKind>,
    /// Total play in each axis, not play on each side.
    pub clearance: Length,
    /// How bodies go into each other, where there are several.
    pub fit: Fit,
    /// Thickness of the paper.
    pub caliper: Length,
    /// The tools on the bench.
    pub tools: Tools,
    /// The sheets that blanks are cut from.
    pub sheets: Vec<Stock>,
    /// How many pieces.
    pub makes: u32,
}

/// A question that has no answer because one field is wrong. Prints as the sentence that the
/// user reads; the field is named apart.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{problem}")]
pub struct SizingError {
    /// The field: `contents.width`, `sheets[1].name`.
    pub field: String,
    /// What is wrong with it.
    pub problem: SizingProblem,
}

/// What is wrong with a field.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SizingProblem {
    /// No extent.
    #[error("{} is no size. Type a length above 0, such as 60 mm.", .0.exact_text())]
    NoSize(Length),
    /// No paper is that thick, or has no thickness.
    #[error(
        "{} is no thickness of paper. Type one above 0 and up to {}, such as 0.3 mm.",
        .0.exact_text(), THICKEST.exact_text()
    )]
    Caliper(Length),
    /// A stack of none, or of very many.
    #[error("{0} is no number of things in a stack. Type one from 1 to {MOST_IN_A_STACK}.")]
    Count(u32),
    /// A stack over 10 m.
    #[error("{count} things of {} make a stack over 10 m. Type fewer or thinner ones.", each.exact_text())]
    StackTooHigh {
        /// Thickness of one.
        each: Length,
        /// How many.
        count: u32,
    },
    /// No pieces, or very many.
    #[error("{0} is no number of pieces to make. Type one from 1 to {MOST_MAKES}.")]
    Makes(u32),
    /// Nothing to cut from.
    #[error("There is no sheet to cut from. Add at least one, such as 12 x 12 in.")]
    NoSheets,
    /// A sheet without a name.
    #[error("This sheet has no name. Type one, such as A4.")]
    NoName,
    /// Two sheets of the same name.
    #[error("\"{0}\" names two sheets. Give each its own name.")]
    SameName(String),
}

impl SizingRequest {
    /// Whether the question makes sense, before any geometry.
    pub(super) fn check(&self) -> Result<(), SizingError> {
        self.check_contents()?;
        if self.caliper <= Length::ZERO || self.caliper > THICKEST {
            return wrong("caliper", SizingProblem::Caliper(self.caliper));
        }
        if self.makes == 0 || self.makes > MOST_MAKES {
            return wrong("makes", SizingProblem::Makes(self.makes));
        }
        self.check_sheets()
    }

    fn check_contents(&self) -> Result<(), SizingError> {
        let given = self.contents.given();
        if let Some((field, length)) = given.into_iter().find(|given| given.1 <= Length::ZERO) {
            return wrong(&format!("contents.{field}"), SizingProblem::NoSize(length));
        }
        let Contents::Stack {
            each_thickness: each,
            count,
            ..
        } = self.contents
        else {
            return Ok(());
        };
        if count == 0 || count > MOST_IN_A_STACK {
            return wrong("contents.count", SizingProblem::Count(count));
        }
        match each.checked_mul(i64::from(count)) {
            Some(height) if height <= Length::MAX => Ok(()),
            _ => wrong(
                "contents.count",
                SizingProblem::StackTooHigh { each, count },
            ),
        }
    }

    fn check_sheets(&self) -> Result<(), SizingError> {
        if self.sheets.is_empty() {
            return wrong("sheets", SizingProblem::NoSheets);
        }
        for (index, sheet) in self.sheets.iter().enumerate() {
            let field = |name: &str| format!("sheets[{index}].{name}");
            for (name, side) in [("width", sheet.width), ("height", sheet.height)] {
                if side <= Length::ZERO {
                    return wrong(&field(name), SizingProblem::NoSize(side));
                }
            }
            if sheet.name.trim().is_empty() {
                return wrong(&field("name"), SizingProblem::NoName);
            }
            let earlier = self.sheets.iter().take(index);
            if earlier
                .map(|other| &other.name)
                .any(|name| *name == sheet.name)
            {
                let shown: String = sheet.name.chars().take(60).collect();
                return wrong(&field("name"), SizingProblem::SameName(shown));
            }
        }
        Ok(())
    }
}

fn wrong<T>(field: &str, problem: SizingProblem) -> Result<T, SizingError> {
    Err(SizingError {
        field: field.to_owned(),
        problem,
    })
}
