//! From contents to settings: what is set on the tools so that the contents fit, every setting
//! is a mark of its ruler, the piece folds and closes, and a class costs the fewest sheets.
//!
//! Room inside is crease to crease less the paper that lies there; the structure knows its
//! layers. Clearance is the total play in each axis. An envelope has no depth: what is `h` thick
//! takes `h` from its width and its length, because the paper round it keeps its girth:
//! 2 W ≥ 2 (w + h).

mod break_points;
mod contents;
mod refusal;
mod request;
mod search;
mod yields;

pub use break_points::BreakPoint;
pub use contents::{AxisMap, Contents};
pub use refusal::{Refusal, RefusalReason};
pub use request::{SizingError, SizingProblem, SizingRequest, Stock};
pub use yields::blanks_per_sheet;

use search::{Candidate, Search};
use yields::Cutting;

use crate::{
    Check, ContentsBox, Inside, Length, Pattern, Settings, Structure, StructureKind, fold_check,
};

/// Settings that fail the fold check are set aside this often before a structure is refused.
/// The structures refuse what cannot fold, so one is already unusual.
const MOST_FAILURES: usize = 64;

/// One way to make the piece.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The structure, made.
    pub structure: Structure,
    /// What is set on the tools.
    pub settings: Settings,
    /// Width and height of the blank.
    pub blank: (Length, Length),
    /// Room inside, mm; for an envelope, with the contents in it.
    pub inside: Inside,
    /// Which axis of the contents lies where.
    pub axes: AxisMap,
    /// Blanks that one sheet gives, for each kind of sheet in the order given.
    pub per_sheet: Vec<(String, u32)>,
    /// The kind of sheet to take.
    pub sheet: String,
    /// How many of them for all makes.
    pub sheets_for_all: u32,
    /// Their price, in the smallest unit of the money, if known.
    pub cost: Option<u64>,
    /// Most room left over in any axis beyond the clearance, mm.
    pub looseness_mm: f64,
    /// What the fold check found.
    pub checks: Vec<Check>,
    /// The flat pattern.
    pub pattern: Pattern,
}

impl Answer {
    /// Which structure it is.
    #[must_use]
    pub fn kind(&self) -> StructureKind {
        self.settings.kind()
    }
}

/// All that sizing found.
#[derive(Clone, Debug)]
pub struct Sizing {
    /// Best first; one for each structure that can be made.
    pub answers: Vec<Answer>,
    /// Where a little more or less clearance changes what the class costs.
    pub break_points: Vec<BreakPoint>,
    /// Structures that cannot be made, and why.
    pub refused: Vec<Refusal>,
}

/// Finds the settings for each structure asked for.
///
/// Best is: fewest sheets for all makes, then lowest cost where prices are known, then the
/// least blank, then the least looseness, then the order of [`StructureKind::all`].
///
/// # Errors
/// [`SizingError`] names a field that makes no sense by itself: no size, no sheets, zero makes,
/// a caliper that no paper has. What merely does not fit is in [`Sizing::refused`].
pub fn size(request: &SizingRequest) -> Result<Sizing, SizingError> {
    request.check()?;
    let kinds = match &request.structure {
        Some(kind) => std::slice::from_ref(kind),
        None => StructureKind::all(),
    };
    let mut found = Vec::new();
    let mut break_points = Vec::new();
    let mut refused = Vec::new();
    for kind in kinds {
        match answer(request, *kind) {
            Ok((answer, cutting)) => {
                break_points.extend(break_points::near(request, *kind, &cutting));
                found.push((answer, cutting));
            }
            Err(refusal) => refused.push(refusal),
        }
    }
    found.sort_by(|(a, cut_a), (b, cut_b)| {
        (cut_a.rank(), a.blank.0)
            .cmp(&(cut_b.rank(), b.blank.0))
            .then_with(|| a.looseness_mm.total_cmp(&b.looseness_mm))
    });
    let answers = found.into_iter().map(|(answer, _)| answer).collect();
    Ok(Sizing {
        answers,
        break_points,
        refused,
    })
}

/// The best settings for one structure that also fold.
fn answer(request: &SizingRequest, kind: StructureKind) -> Result<(Answer, Cutting), Refusal> {
    let mut failed = Vec::new();
    loop {
        let found = request.search(kind, request.clearance, &failed).best();
        let Some(best) = found else {
            return Err(refusal::explain(request, kind));
        };
        let blank = best.structure.blank();
        let Some(cutting) = Cutting::best(&request.sheets, blank, request.makes) else {
            return Err(refusal::explain(request, kind));
        };
        let pattern = best.structure.pattern();
        let checks = fold_check(&pattern, Some(&best.has_to_fit(request)));
        match checks.iter().find(|check| !check.holds) {
            None => return Ok((request.answer(best, &cutting, pattern, checks), cutting)),
            Some(check) if failed.len() >= MOST_FAILURES => {
                return Err(refusal::does_not_fold(request, kind, check));
            }
            Some(_) => failed.push(best.settings),
        }
    }
}

impl Candidate {
    /// The block that has to fit, with its play; paper lies flat on what is in an envelope.
    fn has_to_fit(&self, request: &SizingRequest) -> ContentsBox {
        let [width, length, depth] = self.lies;
        let play = request.clearance;
        let deep = match self.structure {
            Structure::Envelope(_) => depth,
            Structure::Box(_) => depth + play,
        };
        ContentsBox {
            x: (width + play).mm(),
            y: (length + play).mm(),
            z: deep.mm(),
        }
    }
}

impl SizingRequest {
    /// The search for one structure within the stock sheets.
    fn search<'r>(
        &'r self,
        kind: StructureKind,
        clearance: Length,
        failed: &'r [Settings],
    ) -> Search<'r> {
        // A square blank is bounded by the shorter side of a sheet.
        let sides = self
            .sheets
            .iter()
            .map(|sheet| sheet.width.min(sheet.height));
        Search {
            kind,
            contents: self.extents(),
            clearance,
            caliper: self.caliper,
            board: self.board,
            trimmer: self.trimmer.ruler(),
            largest: sides.max().unwrap_or(Length::ZERO),
            failed,
        }
    }

    fn extents(&self) -> [Length; 3] {
        // Checked before any search: a stack is at most 10 m.
        let axes = self.contents.axes();
        axes.map_or([Length::MAX; 3], |axes| axes.map(|(_, extent)| extent))
    }

    fn answer(
        &self,
        best: Candidate,
        cutting: &Cutting,
        pattern: Pattern,
        checks: Vec<Check>,
    ) -> Answer {
        let names = self.contents.axes();
        let name = |axis: usize| {
            let named = names.and_then(|names| names.get(axis).copied());
            named.map_or("", |(name, _)| name)
        };
        let [width, length, depth] = best.order.map(name);
        let names = self.sheets.iter().map(|sheet| sheet.name.clone());
        Answer {
            settings: best.settings,
            blank: best.structure.blank(),
            structure: best.structure,
            inside: best.inside,
            axes: AxisMap {
                width,
                length,
                depth,
            },
            per_sheet: names.zip(cutting.per_sheet.iter().copied()).collect(),
            sheet: self.sheet_name(cutting.stock),
            sheets_for_all: cutting.sheets,
            cost: cutting.cost,
            looseness_mm: best.loose_mm,
            checks,
            pattern,
        }
    }

    fn sheet_name(&self, index: usize) -> String {
        let sheet = self.sheets.get(index);
        sheet.map(|sheet| sheet.name.clone()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests;
