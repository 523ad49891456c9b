//! The exact search: every setting on the rulers that could be best is tried.
//!
//! A smaller sheet is never worse for the class (its yield is no smaller), so the least sheet
//! side wins, and among its settings the least looseness. Bounds only skip settings whose
//! crease-to-crease measures, which are never less than the room inside, are already too small,
//! whose sheet is already larger than the best one found, or which no larger sheet would mend:
//! width and depth hang on the punches alone.

use std::cmp::Ordering;
use std::f64::consts::SQRT_2;

use super::contents::ORDERS;
use crate::{
    BackRemedy, Inside, Length, PunchBoard, PunchBoxSettings, PunchEnvelopeSettings, Ruler,
    Settings, Structure, StructureKind, StructureProblem,
};

/// Room that is short by less than this is room: far below a nanometre, far above the rounding of
/// `f64`. The fold check takes the same.
const SLACK_MM: f64 = 1e-9;
/// The thickest that goes into an envelope: 1/4 in (common practice, no source).
pub(super) const THICKEST_IN_ENVELOPE: Length = Length::from_nm(6_350_000);

/// What has to fit, and the tools to fit it with.
pub(super) struct Search<'r> {
    pub(super) kind: StructureKind,
    /// Extent of the contents along their own axes.
    pub(super) contents: [Length; 3],
    pub(super) clearance: Length,
    pub(super) caliper: Length,
    pub(super) board: PunchBoard,
    pub(super) trimmer: &'r Ruler,
    /// No blank larger than this.
    pub(super) largest: Length,
    /// Settings that have failed the fold check.
    pub(super) failed: &'r [Settings],
}

/// One way to lay the contents: their axes, and their extents, along width, length and depth.
struct Order {
    axes: [usize; 3],
    lies: [Length; 3],
}

/// How far an order is searched.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Depth {
    /// To the first settings that fit.
    FirstFit,
    /// All that could be best.
    All,
}

/// What became of one pair of punches.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Fits,
    /// The sheet that it takes is larger than the best or than any.
    TooLarge,
    /// No sheet would do.
    Never,
}

/// Whether contents fit.
enum Fit {
    Fits(Candidate),
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
            StructureProblem::SheetTooSmall { .. }
            | StructureProblem::TooSmallToGlue { .. }
            | StructureProblem::NoRoom { .. } => Self::LargerBy(0.0),
            StructureProblem::Length { .. }
            | StructureProblem::OffRuler { .. }
            | StructureProblem::NotchesOverlap { .. } => Self::Never,
        }
    }
}

/// Settings that fit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Candidate {
    pub(super) settings: Settings,
    pub(super) structure: Structure,
    pub(super) inside: Inside,
    pub(super) sheet: Length,
    /// Which axis of the contents lies along width, length and depth.
    pub(super) order: [usize; 3],
    /// Most room left over in any axis after contents and clearance, mm.
    pub(super) loose_mm: f64,
    /// Extents along width, length, depth: the last tie-break, the same however the contents'
    /// axes are named.
    pub(super) lies: [Length; 3],
}

impl Candidate {
    fn rank(&self, other: &Self) -> Ordering {
        let marks = |candidate: &Self| {
            let list = candidate.settings.list();
            list.into_iter().map(|(_, at)| at).collect::<Vec<_>>()
        };
        self.sheet
            .cmp(&other.sheet)
            .then_with(|| self.loose_mm.total_cmp(&other.loose_mm))
            .then_with(|| marks(self).cmp(&marks(other)))
            .then_with(|| self.lies.cmp(&other.lies))
    }
}

impl Search<'_> {
    /// The best settings, if any fit.
    pub(super) fn best(&self) -> Option<Candidate> {
        let mut orders: Vec<Order> = Vec::with_capacity(ORDERS.len());
        for axes in ORDERS {
            let lies = axes.map(|axis| self.contents.get(axis).copied().unwrap_or_default());
            // Equal axes give equal orders.
            if !orders.iter().any(|order| order.lies == lies) {
                orders.push(Order { axes, lies });
            }
        }
        let mut best = None;
        // A first look at each order finds a sheet that spares most of the search after it.
        for depth in [Depth::FirstFit, Depth::All] {
            for order in &orders {
                match self.kind {
                    StructureKind::PunchBox => self.boxes(order, depth, &mut best),
                    StructureKind::PunchEnvelope => self.envelopes(order, depth, &mut best),
                }
            }
        }
        best
    }

    fn boxes(&self, order: &Order, look: Depth, best: &mut Option<Candidate>) {
        let [width, length, depth] = order.lies.map(|side| self.needs(side) - SLACK_MM);
        let e = self.board.notch_depth().mm();
        let ruler = self.board.ruler();
        let beyond = length / SQRT_2 + e;
        for punch_1 in marks_from(ruler, width / SQRT_2 + e) {
            let first = punch_1.mm() + SQRT_2 * depth;
            if !self.could_win(first + beyond, best.as_ref()) {
                break;
            }
            for punch_2 in marks_from(ruler, first) {
                let least = punch_2.mm() + beyond;
                if !self.could_win(least, best.as_ref()) {
                    break;
                }
                let at = |sheet| {
                    Settings::Box(PunchBoxSettings {
                        sheet,
                        punch_1,
                        punch_2,
                    })
                };
                match self.least_sheet(least, at, order, best) {
                    Outcome::Fits if look == Depth::FirstFit => return,
                    Outcome::Fits | Outcome::Never => {}
                    // A later second punch takes no smaller sheet.
                    Outcome::TooLarge => break,
                }
            }
        }
    }

    fn envelopes(&self, order: &Order, look: Depth, best: &mut Option<Candidate>) {
        let [across, along, thick] = order.lies;
        if thick > THICKEST_IN_ENVELOPE {
            return;
        }
        let [width, length] = [across, along].map(|side| self.needs(side) + thick.mm() - SLACK_MM);
        let e = self.board.notch_depth().mm();
        let beyond = length / SQRT_2 + e;
        for punch in marks_from(self.board.ruler(), width / SQRT_2 + e) {
            let least = punch.mm() + beyond;
            if !self.could_win(least, best.as_ref()) {
                break;
            }
            let at = |sheet| Settings::Envelope(PunchEnvelopeSettings { sheet, punch });
            let outcome = self.least_sheet(least, at, order, best);
            if outcome == Outcome::Fits && look == Depth::FirstFit {
                return;
            }
        }
    }

    /// Takes the least sheet from `least_mm` on that fits, if it beats the best.
    fn least_sheet(
        &self,
        least_mm: f64,
        at: impl Fn(Length) -> Settings,
        order: &Order,
        best: &mut Option<Candidate>,
    ) -> Outcome {
        let largest = best.as_ref().map_or(self.largest, |best| best.sheet);
        let mut next = self.trimmer.up(least_mm);
        while let Some(sheet) = next.filter(|sheet| *sheet <= largest) {
            match self.fit(at(sheet), order) {
                Fit::Fits(found) => {
                    if best.as_ref().is_none_or(|best| found.rank(best).is_lt()) {
                        *best = Some(found);
                    }
                    return Outcome::Fits;
                }
                Fit::LargerBy(mm) => {
                    let after = sheet + self.trimmer.step();
                    next = self.trimmer.up(after.mm().max(sheet.mm() + mm));
                }
                Fit::Never => return Outcome::Never,
            }
        }
        Outcome::TooLarge
    }

    /// Whether the contents fit what these settings make.
    fn fit(&self, settings: Settings, order: &Order) -> Fit {
        if self.failed.contains(&settings) {
            return Fit::LargerBy(0.0);
        }
        let structure = match Structure::new(settings, &self.board, self.caliper) {
            Ok(structure) => structure,
            Err(error) => return Fit::after(&error.problem),
        };
        let inside = room(&structure, order.lies);
        let spare = self.spare(&structure, &inside, order.lies);
        let short = |spare: f64| spare < -SLACK_MM;
        let [width, length, depth] = spare;
        if short(width) || short(depth) {
            return Fit::Never;
        }
        if short(length) {
            return Fit::LargerBy((-length - SLACK_MM) / SQRT_2);
        }
        Fit::Fits(Candidate {
            settings,
            inside,
            sheet: structure.blank().0,
            structure,
            order: order.axes,
            loose_mm: spare.into_iter().fold(0.0, f64::max),
            lies: order.lies,
        })
    }

    /// Room left over along width, length and depth, mm. Paper lies flat on what is in an
    /// envelope: nothing is left over from front to back.
    fn spare(&self, structure: &Structure, inside: &Inside, lies: [Length; 3]) -> [f64; 3] {
        let [width, length, depth] = lies.map(|side| self.needs(side));
        let flat = matches!(structure, Structure::Envelope(_));
        let deep = if flat { 0.0 } else { inside.depth - depth };
        [inside.width - width, inside.length - length, deep]
    }

    fn needs(&self, side: Length) -> f64 {
        (side + self.clearance).mm()
    }

    fn could_win(&self, least_mm: f64, best: Option<&Candidate>) -> bool {
        let largest = best.map_or(self.largest, |best| best.sheet);
        self.trimmer
            .up(least_mm)
            .is_some_and(|sheet| sheet <= largest)
    }
}

/// Room inside for contents that lie like this.
fn room(structure: &Structure, lies: [Length; 3]) -> Inside {
    match structure {
        Structure::Envelope(envelope) => envelope.inside_for(lies[2].mm()),
        Structure::Box(made) => made.inside(),
    }
}

fn marks_from(ruler: &Ruler, least_mm: f64) -> impl Iterator<Item = Length> + use<> {
    let none_from = Length::MAX + Length::from_nm(1);
    let first = ruler.up(least_mm).unwrap_or(none_from);
    ruler.marks_between(first, Length::MAX)
}
