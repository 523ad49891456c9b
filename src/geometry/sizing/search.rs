//! The exact search: every setting on the rulers that could be best is tried.
//!
//! A smaller sheet is never worse for the class (its yield is no smaller), so the least sheet
//! side wins, and among its settings the least looseness. Bounds only skip settings whose
//! crease-to-crease measures, which are never less than the room inside, are already too small,
//! or whose sheet is already larger than the best one found.

use std::cmp::Ordering;
use std::f64::consts::SQRT_2;

use super::contents::ORDERS;
use crate::{
    Inside, Length, PunchBoard, PunchBoxSettings, PunchEnvelopeSettings, Ruler, Settings,
    Structure, StructureKind,
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
        let mut best = None;
        let mut tried: Vec<[Length; 3]> = Vec::with_capacity(ORDERS.len());
        for order in ORDERS {
            let lies = order.map(|axis| self.contents.get(axis).copied().unwrap_or_default());
            // Equal axes give equal orders.
            if tried.contains(&lies) {
                continue;
            }
            tried.push(lies);
            match self.kind {
                StructureKind::PunchBox => self.boxes(order, lies, &mut best),
                StructureKind::PunchEnvelope => self.envelopes(order, lies, &mut best),
            }
        }
        best
    }

    fn boxes(&self, order: [usize; 3], lies: [Length; 3], best: &mut Option<Candidate>) {
        let [width, length, depth] = lies.map(|side| self.needs(side) - SLACK_MM);
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
                self.least_sheet(least, at, (order, lies), best);
            }
        }
    }

    fn envelopes(&self, order: [usize; 3], lies: [Length; 3], best: &mut Option<Candidate>) {
        let [across, along, thick] = lies;
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
            self.least_sheet(least, at, (order, lies), best);
        }
    }

    /// Takes the least sheet from `least_mm` on that fits, if it beats the best.
    fn least_sheet(
        &self,
        least_mm: f64,
        at: impl Fn(Length) -> Settings,
        (order, lies): ([usize; 3], [Length; 3]),
        best: &mut Option<Candidate>,
    ) {
        let largest = best.as_ref().map_or(self.largest, |best| best.sheet);
        let Some(first) = self.trimmer.up(least_mm) else {
            return;
        };
        let fits = |sheet| self.fit(at(sheet), order, lies);
        let found = self.trimmer.marks_between(first, largest).find_map(fits);
        if let Some(found) = found
            && best.as_ref().is_none_or(|best| found.rank(best).is_lt())
        {
            *best = Some(found);
        }
    }

    /// The candidate that these settings make, if the contents fit it.
    fn fit(&self, settings: Settings, order: [usize; 3], lies: [Length; 3]) -> Option<Candidate> {
        if self.failed.contains(&settings) {
            return None;
        }
        let structure = Structure::new(settings, &self.board, self.caliper).ok()?;
        let inside = room(&structure, lies);
        let spare = self.spare(&structure, &inside, lies);
        if spare.iter().any(|spare| *spare < -SLACK_MM) {
            return None;
        }
        Some(Candidate {
            settings,
            inside,
            sheet: structure.blank().0,
            structure,
            order,
            loose_mm: spare.into_iter().fold(0.0, f64::max),
            lies,
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
