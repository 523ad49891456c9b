//! Why a structure cannot be made for these contents, and what would do.

use std::fmt;

use super::cutting::area;
use super::search::{Candidate, largest_square, reaching};
use super::{SizingRequest, blanks_per_sheet};
use crate::{Check, Length, Ruler, SetOn, StructureError, StructureKind};

/// A structure that cannot be made. Prints as the sentence that the user reads.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Which structure.
    pub structure: StructureKind,
    /// Why.
    pub reason: RefusalReason,
    /// Whether the contents would do with less clearance, so that it is the cause.
    pub less_clearance: bool,
    /// The ruler of the structure's own tool, in whose marks it speaks.
    pub ruler: Ruler,
}

/// Why a structure cannot be made.
#[derive(Clone, Debug, PartialEq)]
pub enum RefusalReason {
    /// The bench lacks the tool.
    NoTool {
        /// Which tool.
        tool: SetOn,
    },
    /// An opening is asked for that it never has.
    NoOpening {
        /// Which: "window".
        what: &'static str,
    },
    /// Too thick for something flat.
    TooThick {
        /// The least extent of the contents.
        thinnest: Length,
        /// The thickest that goes in.
        thickest: Length,
        /// What takes thicker contents.
        instead: StructureKind,
    },
    /// No sheet is large enough for one of its blanks.
    Blank {
        /// Width and height of the blank that it takes.
        needs: (Length, Length),
        /// The largest sheet: its name, width and height.
        largest: (String, (Length, Length)),
    },
    /// The structure itself cannot be made at this size.
    Cannot(Box<StructureError>),
    /// No sheet is large enough.
    Sheet {
        /// Side of the blank that it takes.
        needs: Length,
        /// The sheet with the largest square in it: its name and its shorter side.
        largest: (String, Length),
    },
    /// The board's ruler is too short.
    Board {
        /// The punch that it takes.
        needs: Length,
        /// The blank that it takes and the largest sheet, where no sheet is large enough either.
        sheet: Option<(Length, (String, Length))>,
    },
    /// The trimmer's ruler is too short.
    Trimmer {
        /// Side of the blank that it takes.
        needs: Length,
        /// The longest that it cuts.
        longest: Length,
    },
    /// Larger than anything that can be set.
    TooLarge {
        /// The greatest extent of the contents.
        greatest: Length,
        /// The largest sheet, where the contents are larger.
        largest: Option<(String, Length)>,
    },
    /// Settings were found, but the piece does not fold.
    DoesNotFold {
        /// The check that failed.
        check: &'static str,
        /// By how much, and what.
        says: String,
    },
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = |length: &Length| self.ruler.text(*length);
        // What was typed off the marks is quoted as typed, not as the nearest mark.
        let typed = |length: &Length| self.ruler.text_or_exact(*length);
        let name = self.structure.name();
        let smaller = if self.less_clearance {
            "give less clearance"
        } else {
            "take smaller contents"
        };
        let largest = |(name, side): &(String, Length)| {
            let name: String = name.chars().take(60).collect();
            format!("the largest is {name}, {} on its shorter side", typed(side))
        };
        match &self.reason {
            RefusalReason::NoTool { tool } => write!(
                f,
                "The {name} needs a {}, and the bench has none.",
                tool.tool(),
            ),
            RefusalReason::NoOpening { what } => {
                write!(f, "The {name} has no {what}. Leave the {what} out.")
            }
            RefusalReason::Blank {
                needs,
                largest: (sheet, (width, height)),
            } => {
                let sheet: String = sheet.chars().take(60).collect();
                write!(
                    f,
                    "The {name} needs a sheet of {} by {}; the largest is {sheet}, {} by {}. Add a \
                     larger sheet or {smaller}.",
                    text(&needs.0),
                    text(&needs.1),
                    typed(width),
                    typed(height),
                )
            }
            RefusalReason::Cannot(error) => {
                write!(f, "The {name} cannot be made for these contents. {error}")
            }
            RefusalReason::TooThick {
                thinnest,
                thickest,
                instead,
            } => write!(
                f,
                "The {name} takes contents up to {} thick; these are {}. Choose the {}.",
                text(thickest),
                typed(thinnest),
                instead.name(),
            ),
            RefusalReason::Sheet {
                needs,
                largest: sheet,
            } => write!(
                f,
                "The {name} needs a sheet of {}; {}. Add a larger sheet or {smaller}.",
                text(needs),
                largest(sheet),
            ),
            RefusalReason::Board { needs, sheet } => {
                write!(
                    f,
                    "The {name} needs a punch at {}; the board reaches from {} to {}. ",
                    text(needs),
                    text(&self.ruler.shortest()),
                    text(&self.ruler.longest()),
                )?;
                match sheet {
                    None => write!(f, "Use a board that reaches further or {smaller}."),
                    Some((blank, sheet)) => write!(
                        f,
                        "It needs a sheet of {} too; {}. Use a longer board and a larger sheet, \
                         or {smaller}.",
                        text(blank),
                        largest(sheet)
                    ),
                }
            }
            RefusalReason::Trimmer { needs, longest } => write!(
                f,
                "The {name} needs a blank of {}; the trimmer cuts up to {}. Use a longer trimmer \
                 or {smaller}.",
                text(needs),
                text(longest),
            ),
            RefusalReason::TooLarge {
                greatest,
                largest: sheet,
            } => {
                write!(
                    f,
                    "The {name} cannot be made for contents {} long: no tool reaches that far",
                    typed(greatest),
                )?;
                if let Some(sheet) = sheet {
                    write!(f, ", and no sheet does; {}", largest(sheet))?;
                }
                write!(f, ". Take smaller contents.")
            }
            RefusalReason::DoesNotFold { check, says } => {
                write!(
                    f,
                    "The {name} fails the check \"{check}\": {says} Give more clearance."
                )
            }
        }
    }
}

/// The refusal of a structure whose settings all fail a check.
pub(super) fn does_not_fold(
    request: &SizingRequest,
    kind: StructureKind,
    check: &Check,
) -> Refusal {
    let reason = RefusalReason::DoesNotFold {
        check: check.name,
        says: check.says.clone(),
    };
    refuse(request, kind, reason)
}

/// Finds what stands in the way.
pub(super) fn explain(request: &SizingRequest, kind: StructureKind) -> Refusal {
    let reason = match kind.lacks(&request.tools) {
        Some(tool) => RefusalReason::NoTool { tool },
        None => kind.family().explain(kind, request),
    };
    refuse(request, kind, reason)
}

/// The refusal of a structure that never has the opening that is asked for.
pub(super) fn no_opening(request: &SizingRequest, kind: StructureKind) -> Option<Refusal> {
    let what = request.fit.lacking(kind)?;
    let ruler = *request.tools.main_ruler();
    Some(Refusal {
        structure: kind,
        reason: RefusalReason::NoOpening { what },
        less_clearance: false,
        ruler,
    })
}

/// What stands in the way of a structure that offers settings, by lifting one limit after the
/// other: the stock sheets, then the trimmer's reach; else what the structure itself says.
pub(crate) fn explain_in_general(kind: StructureKind, request: &SizingRequest) -> RefusalReason {
    let mut search = request.search(request.clearance, &[]);
    search.stock = None;
    if let Some(found) = kind.family().best(&search) {
        return no_sheet(request, &found);
    }
    let trimmer = request.tools.trimmer;
    if let Some(longer) = reaching(&trimmer, Length::MAX) {
        search.tools.trimmer = longer;
        if let Some(found) = kind.family().best(&search) {
            let sides = found.blanks.iter().map(|blank| blank.0.max(blank.1));
            return RefusalReason::Trimmer {
                needs: sides.max().unwrap_or_default(),
                longest: trimmer.longest(),
            };
        }
    }
    let orders = search.orders();
    let mut said = orders
        .iter()
        .filter_map(|order| kind.family().offers(&search.wanted(order)).refused);
    match said.next() {
        Some(error) => RefusalReason::Cannot(Box::new(error)),
        None => {
            let (greatest, largest) = (request.greatest(), largest_square(request));
            RefusalReason::TooLarge {
                greatest,
                largest: (greatest > largest.1).then_some(largest),
            }
        }
    }
}

/// No sheet is large enough for one of the blanks (or for all of them).
fn no_sheet(request: &SizingRequest, found: &Candidate) -> RefusalReason {
    let fits = |blank: &(Length, Length)| {
        let mut sheets = request.sheets.iter();
        sheets.any(|sheet| blanks_per_sheet(sheet, blank.0, blank.1) > 0)
    };
    let mut blanks = found.blanks.iter();
    let needs = blanks.find(|blank| !fits(blank)).or(found.blanks.first());
    let largest = request
        .sheets
        .iter()
        .max_by_key(|sheet| area(&[(sheet.width, sheet.height)]));
    RefusalReason::Blank {
        needs: needs.copied().unwrap_or_default(),
        largest: largest.map_or_else(
            || (String::new(), (Length::ZERO, Length::ZERO)),
            |sheet| (sheet.name.clone(), (sheet.width, sheet.height)),
        ),
    }
}

fn refuse(request: &SizingRequest, structure: StructureKind, reason: RefusalReason) -> Refusal {
    let with_none = structure.family().best(&request.search(Length::ZERO, &[]));
    let tools = &request.tools;
    let mut own = structure.fields().iter().map(|field| field.tool);
    let own = own.find(|tool| !matches!(tool, SetOn::Sheet | SetOn::Template));
    let ruler = own.and_then(|tool| tools.ruler(tool));
    Refusal {
        structure,
        reason,
        less_clearance: request.clearance > Length::ZERO && with_none.is_some(),
        ruler: *ruler.unwrap_or(tools.main_ruler()),
    }
}
