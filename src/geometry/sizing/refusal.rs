//! Why a structure cannot be made for these contents, and what would do.

use std::fmt;

use super::SizingRequest;
use super::search::{Candidate, THICKEST_IN_ENVELOPE};
use crate::{Check, Length, PunchBoard, Ruler, Settings, StructureKind};

/// The search for the least reach of the board stops after this many tries; each one takes at
/// least one mark off.
const MOST_TRIES: usize = 64;

/// A structure that cannot be made. Prints as the sentence that the user reads.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Which structure.
    pub structure: StructureKind,
    /// Why.
    pub reason: RefusalReason,
    /// Whether the contents would do with less clearance, so that it is the cause.
    pub less_clearance: bool,
    /// The board's ruler, in whose marks it speaks.
    pub ruler: Ruler,
}

/// Why a structure cannot be made.
#[derive(Clone, Debug, PartialEq)]
pub enum RefusalReason {
    /// Too thick for an envelope.
    TooThick {
        /// The least extent of the contents.
        thinnest: Length,
        /// The thickest that goes in.
        thickest: Length,
    },
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
            RefusalReason::TooThick { thinnest, thickest } => write!(
                f,
                "The {name} takes contents up to {} thick; these are {}. Choose the {}.",
                text(thickest),
                typed(thinnest),
                StructureKind::PunchBox.name(),
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

/// Finds what stands in the way by lifting one limit after the other.
pub(super) fn explain(request: &SizingRequest, kind: StructureKind) -> Refusal {
    let extents = request.extents();
    let thinnest = extents.into_iter().min().unwrap_or_default();
    if kind == StructureKind::PunchEnvelope && thinnest > THICKEST_IN_ENVELOPE {
        let thickest = THICKEST_IN_ENVELOPE;
        return refuse(
            request,
            kind,
            RefusalReason::TooThick { thinnest, thickest },
        );
    }
    let lifted = Lifted { request, kind };
    let trimmer = *request.trimmer.ruler();
    let any_length = reaching(&trimmer, Length::MAX).unwrap_or(trimmer);
    if let Some(found) = lifted.best(request.board, &any_length) {
        let needs = found.sheet;
        let (largest, longest) = (largest_sheet(request), trimmer.longest());
        let reason = if needs > largest.1 {
            RefusalReason::Sheet { needs, largest }
        } else {
            RefusalReason::Trimmer { needs, longest }
        };
        return refuse(request, kind, reason);
    }
    let largest = largest_sheet(request);
    let reason = match lifted.least_reach(&any_length) {
        Some((needs, blank)) => RefusalReason::Board {
            needs,
            sheet: (blank > largest.1).then_some((blank, largest)),
        },
        None => {
            let greatest = extents.into_iter().max().unwrap_or_default();
            RefusalReason::TooLarge {
                greatest,
                largest: (greatest > largest.1).then_some(largest),
            }
        }
    };
    refuse(request, kind, reason)
}

/// The search without the limit of the stock sheets.
struct Lifted<'r> {
    request: &'r SizingRequest,
    kind: StructureKind,
}

impl Lifted<'_> {
    fn best(&self, board: PunchBoard, trimmer: &Ruler) -> Option<Candidate> {
        let mut search = self.request.search(self.kind, self.request.clearance, &[]);
        search.largest = Length::MAX;
        search.board = board;
        search.trimmer = trimmer;
        search.best()
    }

    /// The least punch that a longer board would have to reach, and the blank it goes with.
    fn least_reach(&self, trimmer: &Ruler) -> Option<(Length, Length)> {
        let board = self.request.board;
        let mut reach = Length::MAX;
        let mut needs = None;
        for _ in 0..MOST_TRIES {
            let longer = reaching(board.ruler(), reach);
            let longer = longer.and_then(|ruler| PunchBoard::new(board.notch_depth(), ruler).ok());
            let Some(found) = longer.and_then(|board| self.best(board, trimmer)) else {
                break;
            };
            let last = last_punch(&found.settings);
            needs = Some((last, found.sheet));
            reach = last - board.ruler().step();
        }
        needs
    }
}

fn last_punch(settings: &Settings) -> Length {
    match settings {
        Settings::Box(at) => at.punch_2,
        Settings::Envelope(at) => at.punch,
    }
}

/// The same ruler with another longest measure.
fn reaching(ruler: &Ruler, longest: Length) -> Option<Ruler> {
    Ruler::new(ruler.unit(), ruler.step(), ruler.shortest(), longest).ok()
}

fn largest_sheet(request: &SizingRequest) -> (String, Length) {
    let sides = request
        .sheets
        .iter()
        .map(|sheet| (&sheet.name, sheet.width.min(sheet.height)));
    let largest = sides.max_by_key(|(_, side)| *side);
    largest.map_or_else(
        || (String::new(), Length::ZERO),
        |(name, side)| (name.clone(), side),
    )
}

fn refuse(request: &SizingRequest, structure: StructureKind, reason: RefusalReason) -> Refusal {
    let with_none = request.search(structure, Length::ZERO, &[]).best();
    Refusal {
        structure,
        reason,
        less_clearance: request.clearance > Length::ZERO && with_none.is_some(),
        ruler: *request.board.ruler(),
    }
}
