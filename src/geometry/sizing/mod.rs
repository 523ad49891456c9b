//! From contents to settings: what is set on the tools so that the contents fit, every setting
//! is a mark of its ruler, the piece folds and closes, and a class costs the fewest sheets.
//!
//! Room inside is crease to crease less the paper that lies there; the structure knows its
//! layers. Clearance is the total play in each axis. An envelope has no depth: what is `h` thick
//! takes `h` from its width and its length, because the paper round it keeps its girth:
//! 2 W ≥ 2 (w + h).

mod break_points;
mod contents;
mod cutting;
mod fit;
mod refusal;
mod request;
mod search;
mod size_breaks;
mod yields;

pub use break_points::BreakPoint;
pub use contents::{AxisMap, Contents};
pub use fit::{Fit, FitLimits, LidDepth};
pub use refusal::{Refusal, RefusalReason};
pub use request::{SizingError, SizingProblem, SizingRequest, Stock};
pub use size_breaks::SizeChange;
pub use yields::blanks_per_sheet;

pub(crate) use fit::MOST_ASKED_MM;
pub(crate) use refusal::explain_in_general;
pub(crate) use search::{
    Candidate, Offer, Offers, Order, SLACK_MM, Search, Wanted, largest_square, reaching,
};

use cutting::{Cutting, area};

use crate::{Check, ContentsBox, Inside, Laden, Length, Settings, Structure, StructureKind};

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
    /// The blank of each body, the main one first.
    pub blanks: Vec<BlankYield>,
    /// Room inside, mm, with the contents in it.
    pub inside: Inside,
    /// Which axis of the contents lies where.
    pub axes: AxisMap,
    /// Pieces that one sheet gives, for each kind of sheet in the order given: all blanks of a
    /// piece from the same sheet, so 0 where they do not share one.
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
}

/// The blank of one body, and what sheets give of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BlankYield {
    /// The body.
    pub body: &'static str,
    /// Width and height.
    pub size: (Length, Length),
    /// Blanks that one sheet gives if nothing else is cut from it, for each kind of sheet.
    pub per_sheet: Vec<(String, u32)>,
}

impl Answer {
    /// Which structure it is.
    #[must_use]
    pub fn kind(&self) -> StructureKind {
        self.settings.kind()
    }

    /// Width and height of the blank of the main body.
    #[must_use]
    pub fn blank(&self) -> (Length, Length) {
        self.structure.blank()
    }
}

/// All that sizing found.
#[derive(Clone, Debug)]
pub struct Sizing {
    /// Best first; one for each structure that can be made.
    pub answers: Vec<Answer>,
    /// Which small change of clearance or size changes what the class costs: up to three, those
    /// that come to the fewest sheets first.
    pub break_points: Vec<BreakPoint>,
    /// Structures that cannot be made, and why.
    pub refused: Vec<Refusal>,
}

/// Finds the settings for each structure asked for.
///
/// Best is: fewest sheets for all makes, then lowest cost where prices are known, then the
/// least paper in the blanks, then the least looseness, then the order of [`StructureKind::all`].
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
        (cut_a.rank(), area(&a.structure.blanks()))
            .cmp(&(cut_b.rank(), area(&b.structure.blanks())))
            .then_with(|| a.looseness_mm.total_cmp(&b.looseness_mm))
    });
    let answers = found.into_iter().map(|(answer, _)| answer).collect();
    Ok(Sizing {
        answers,
        break_points: break_points::foremost(break_points),
        refused,
    })
}

/// The best answer for one structure, without its break points.
pub(crate) fn answer_for(
    request: &SizingRequest,
    kind: StructureKind,
) -> Result<Result<Answer, Refusal>, SizingError> {
    request.check()?;
    Ok(answer(request, kind).map(|(answer, _)| answer))
}

/// The settings that come first for one structure, and how the contents lie, before they are
/// folded.
pub(crate) fn first_choice(
    request: &SizingRequest,
    kind: StructureKind,
) -> Result<Option<(Settings, [usize; 3])>, SizingError> {
    request.check()?;
    let found = kind.family().best(&request.search(request.clearance, &[]));
    Ok(found.map(|found| (found.settings, found.order)))
}

/// Pieces that one sheet gives, for each kind of sheet; and the kind to take for all makes with
/// how many of it.
pub type Yields = (Vec<(String, u32)>, (String, u32));

/// What sheets give of pieces whose blanks have these sizes; `None` where a blank fits no sheet.
#[must_use]
pub fn yields(sheets: &[Stock], blanks: &[(Length, Length)], makes: u32) -> Option<Yields> {
    let cutting = Cutting::best(sheets, blanks, makes)?;
    let names = sheets.iter().map(|sheet| sheet.name.clone());
    let per_sheet = names.zip(cutting.per_sheet).collect();
    let stock = sheets.get(cutting.stock)?;
    Some((per_sheet, (stock.name.clone(), cutting.sheets)))
}

/// The best settings for one structure that also fold.
fn answer(request: &SizingRequest, kind: StructureKind) -> Result<(Answer, Cutting), Refusal> {
    if let Some(refusal) = refusal::no_opening(request, kind) {
        return Err(refusal);
    }
    let mut failed = Vec::new();
    loop {
        let found = kind
            .family()
            .best(&request.search(request.clearance, &failed));
        let Some(best) = found else {
            return Err(refusal::explain(request, kind));
        };
        let cutting = Cutting::best(&request.sheets, &best.blanks, request.makes);
        let made = Structure::new(best.settings, &request.tools, request.caliper);
        let (Some(cutting), Ok(structure)) = (cutting, made) else {
            return Err(refusal::explain(request, kind));
        };
        let structure = structure.laden(request.laden());
        let checks = structure.checks(Some(&best.has_to_fit(request, &structure)));
        match checks.iter().find(|check| !check.holds) {
            None => return Ok((request.answer(best, &cutting, structure, checks), cutting)),
            Some(check) if failed.len() >= MOST_FAILURES => {
                return Err(refusal::does_not_fold(request, kind, check));
            }
            Some(_) => failed.push(best.settings),
        }
    }
}

impl Candidate {
    /// The block that has to fit, with its play; paper lies flat on what is in a flat piece.
    fn has_to_fit(&self, request: &SizingRequest, structure: &Structure) -> ContentsBox {
        let [width, length, depth] = self.lies;
        let play = request.clearance;
        let deep = if self.settings.kind().has_depth() {
            depth + play
        } else {
            depth
        };
        let block = ContentsBox {
            x: (width + play).mm(),
            y: (length + play).mm(),
            z: deep.mm(),
        };
        let family = self.settings.kind().family();
        match request.contents.round_about() {
            Some(axis) if axis == self.order[2] => family.block_for_round(&block),
            _ if request.contents.is_ball() => family.block_for_ball(structure, block),
            _ => block,
        }
    }
}

impl SizingRequest {
    /// What the structure holds and carries.
    #[must_use]
    pub fn laden(&self) -> Laden {
        Laden {
            stuck_on: self.fit.stuck_on,
            ball: self.contents.is_ball(),
        }
    }

    fn answer(
        &self,
        best: Candidate,
        cutting: &Cutting,
        structure: Structure,
        checks: Vec<Check>,
    ) -> Answer {
        let names = self.contents.axes();
        let name = |axis: usize| {
            let named = names.and_then(|names| names.get(axis).copied());
            named.map_or("", |(name, _)| name)
        };
        let [width, length, depth] = best.order.map(name);
        let per_sheet = |counts: &[u32]| {
            let names = self.sheets.iter().map(|sheet| sheet.name.clone());
            names.zip(counts.iter().copied()).collect()
        };
        let bodies = structure.bodies().zip(&cutting.of_each);
        let blanks = bodies.map(|(body, counts)| BlankYield {
            body: body.name,
            size: body.blank,
            per_sheet: per_sheet(counts),
        });
        Answer {
            settings: best.settings,
            blanks: blanks.collect(),
            structure,
            inside: best.inside,
            axes: AxisMap {
                width,
                length,
                depth,
            },
            per_sheet: per_sheet(&cutting.per_sheet),
            sheet: self.sheet_name(cutting.stock),
            sheets_for_all: cutting.sheets,
            cost: cutting.cost,
            looseness_mm: best.loose_mm,
            checks,
        }
    }

    fn sheet_name(&self, index: usize) -> String {
        let sheet = self.sheets.get(index);
        sheet.map(|sheet| sheet.name.clone()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests;
