//! The exact search for the settings of a punch board: every one that could be best is tried.
//!
//! A smaller sheet is never worse for the class (its yield is no smaller), so the least sheet
//! side wins, and among its settings the least looseness. Bounds only skip settings whose
//! crease-to-crease measures, which are never less than the room inside, are already too small,
//! whose sheet is already larger than the best one found, or which no larger sheet would mend:
//! width and depth hang on the punches alone.

use std::cmp::Ordering;
use std::f64::consts::SQRT_2;

use super::{BackRemedy, Inside, SetOn, Settings, StructureError, StructureKind, StructureProblem};
use crate::sizing::{Candidate, Order, RefusalReason, SLACK_MM, Search, largest_square, reaching};
use crate::{Length, PunchBoard, Ruler, SizingRequest};

/// The search for the least reach of the board stops after this many tries; each one takes at
/// least one mark off.
const MOST_TRIES: usize = 64;

/// Room inside for contents that lie like this, or why the settings make nothing.
pub(super) type RoomOf<'s> =
    &'s dyn Fn(&Settings, &PunchBoard, Length, [Length; 3]) -> Result<Inside, StructureError>;

/// How far one way to lay the contents is searched.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// To the first settings that fit.
    FirstFit,
    /// All that could be best.
    All,
}

/// What became of one set of punches.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Outcome {
    Fits,
    /// The sheet that it takes is larger than the best or than any.
    TooLarge,
    /// No sheet would do.
    Never,
}

/// Whether contents fit.
enum Fit {
    Fits(Box<Candidate>),
    /// No, but a sheet larger by at least so many mm may do.
    LargerBy(f64),
    /// Not with these punches, whatever the sheet.
    Never,
}

impl Fit {
    /// What a refusal of the structure means for larger sheets: a sheet larger by 1 mm makes the
    /// front √2 mm longer, and the side flaps together reach as much further.
    fn after(problem: &StructureProblem) -> Self {
        match problem {
            StructureProblem::BackOpen {
                remedy: BackRemedy::Widen,
                ..
            } => Self::Never,
            StructureProblem::BackOpen {
                overlap_mm,
                needs_mm,
                ..
            } => Self::LargerBy((needs_mm - overlap_mm - SLACK_MM) / SQRT_2),
            StructureProblem::SheetTooSmall { .. } | StructureProblem::NoRoom { .. } => {
                Self::LargerBy(0.0)
            }
            _ => Self::Never,
        }
    }
}

/// What has to fit, and the board to fit it with.
pub(super) struct PunchSearch<'s, 'r> {
    search: &'s Search<'r>,
    pub(super) board: PunchBoard,
    /// No blank larger than this.
    largest: Length,
    room: RoomOf<'s>,
    /// Whether the piece has a depth of its own to be left over.
    has_depth: bool,
}

impl<'s, 'r> PunchSearch<'s, 'r> {
    /// `None` where the bench has no punch board.
    pub(super) fn new(search: &'s Search<'r>, room: RoomOf<'s>, has_depth: bool) -> Option<Self> {
        Some(Self {
            search,
            board: search.tools.punch_board?,
            largest: search.largest_square(),
            room,
            has_depth,
        })
    }

    /// The best settings that a walk over the punches finds.
    pub(super) fn best(
        &self,
        walk: impl Fn(&Self, &Order, Look, &mut Option<Candidate>),
    ) -> Option<Candidate> {
        let orders = self.search.orders();
        let mut best = None;
        // A first look at each order finds a sheet that spares most of the search after it.
        for look in [Look::FirstFit, Look::All] {
            for order in &orders {
                walk(self, order, look, &mut best);
            }
        }
        best
    }

    /// Takes the least sheet from `least_mm` on that fits, if it beats the best.
    pub(super) fn least_sheet(
        &self,
        least_mm: f64,
        at: impl Fn(Length) -> Settings,
        order: &Order,
        best: &mut Option<Candidate>,
    ) -> Outcome {
        let largest = best.as_ref().map_or(self.largest, side);
        let trimmer = &self.search.tools.trimmer;
        let mut next = trimmer.up(least_mm);
        while let Some(sheet) = next.filter(|sheet| *sheet <= largest) {
            match self.fit(at(sheet), sheet, order) {
                Fit::Fits(found) => {
                    if best.as_ref().is_none_or(|best| rank(&found, best).is_lt()) {
                        *best = Some(*found);
                    }
                    return Outcome::Fits;
                }
                Fit::LargerBy(mm) => {
                    let after = sheet + trimmer.step();
                    next = trimmer.up(after.mm().max(sheet.mm() + mm));
                }
                Fit::Never => return Outcome::Never,
            }
        }
        Outcome::TooLarge
    }

    /// Whether the contents fit what these settings make.
    fn fit(&self, settings: Settings, sheet: Length, order: &Order) -> Fit {
        if self.search.failed.contains(&settings) {
            return Fit::LargerBy(0.0);
        }
        let caliper = self.search.caliper;
        let inside = match (self.room)(&settings, &self.board, caliper, order.lies) {
            Ok(inside) => inside,
            Err(error) => return Fit::after(&error.problem),
        };
        let spare = self.search.spare(&inside, order.lies, self.has_depth);
        let short = |spare: f64| spare < -SLACK_MM;
        let [width, length, depth] = spare;
        if short(width) || short(depth) {
            return Fit::Never;
        }
        if short(length) {
            return Fit::LargerBy((-length - SLACK_MM) / SQRT_2);
        }
        Fit::Fits(Box::new(Candidate {
            settings,
            inside,
            blanks: vec![(sheet, sheet)],
            order: order.axes,
            loose_mm: spare.into_iter().fold(0.0, f64::max),
            lies: order.lies,
        }))
    }

    pub(super) fn needs(&self, side: Length) -> f64 {
        self.search.needs(side)
    }

    /// Whether a sheet of at least this side could be the best.
    pub(super) fn could_win(&self, least_mm: f64, best: Option<&Candidate>) -> bool {
        let largest = best.map_or(self.largest, side);
        let least = self.search.tools.trimmer.up(least_mm);
        least.is_some_and(|sheet| sheet <= largest)
    }
}

/// Side of the square.
fn side(candidate: &Candidate) -> Length {
    candidate
        .blanks
        .first()
        .map_or(Length::MAX, |blank| blank.0)
}

fn rank(one: &Candidate, other: &Candidate) -> Ordering {
    let sides = side(one).cmp(&side(other));
    sides
        .then_with(|| one.loose_mm.total_cmp(&other.loose_mm))
        .then_with(|| one.tie_break(other))
}

pub(super) fn marks_from(ruler: &Ruler, least_mm: f64) -> impl Iterator<Item = Length> + use<> {
    let none_from = Length::MAX + Length::from_nm(1);
    let first = ruler.up(least_mm).unwrap_or(none_from);
    ruler.marks_between(first, Length::MAX)
}

/// Finds what stands in the way by lifting one limit after the other.
pub(super) fn explain(kind: StructureKind, request: &SizingRequest) -> RefusalReason {
    let lifted = Lifted { request, kind };
    let trimmer = request.tools.trimmer;
    let any_length = reaching(&trimmer, Length::MAX).unwrap_or(trimmer);
    let largest = largest_square(request);
    let board = request.tools.punch_board;
    if let Some(found) = board.and_then(|board| lifted.best(board, &any_length)) {
        let needs = side(&found);
        return if needs > largest.1 {
            RefusalReason::Sheet { needs, largest }
        } else {
            RefusalReason::Trimmer {
                needs,
                longest: trimmer.longest(),
            }
        };
    }
    match board.and_then(|board| lifted.least_reach(board, &any_length)) {
        Some((needs, blank)) => RefusalReason::Board {
            needs,
            sheet: (blank > largest.1).then_some((blank, largest)),
        },
        None => {
            let greatest = request.greatest();
            RefusalReason::TooLarge {
                greatest,
                largest: (greatest > largest.1).then_some(largest),
            }
        }
    }
}

/// The search without the limit of the stock sheets.
struct Lifted<'r> {
    request: &'r SizingRequest,
    kind: StructureKind,
}

impl Lifted<'_> {
    fn best(&self, board: PunchBoard, trimmer: &Ruler) -> Option<Candidate> {
        let mut search = self.request.search(self.request.clearance, &[]);
        search.stock = None;
        search.tools.punch_board = Some(board);
        search.tools.trimmer = *trimmer;
        self.kind.family().best(&search)
    }

    /// The least punch that a longer board would have to reach, and the blank it goes with.
    fn least_reach(&self, board: PunchBoard, trimmer: &Ruler) -> Option<(Length, Length)> {
        let mut reach = Length::MAX;
        let mut needs = None;
        for _ in 0..MOST_TRIES {
            let longer = reaching(board.ruler(), reach);
            let longer = longer.and_then(|ruler| PunchBoard::new(board.notch_depth(), ruler).ok());
            let Some(found) = longer.and_then(|board| self.best(board, trimmer)) else {
                break;
            };
            let last = found.settings.on(SetOn::PunchBoard).pop()?;
            needs = Some((last, side(&found)));
            reach = last - board.ruler().step();
        }
        needs
    }
}
