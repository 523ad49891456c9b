//! Cuts of all sheets in batches: a fence is set, everything that needs it is cut, sheets that
//! are cut alike several at once.

use std::collections::{BTreeSet, HashMap};

use tablefold_geometry::{
    CutDirection, CutPiece, FenceCut, Length, PatternUse, Placed, cut_pieces,
};

use crate::recipe::{Part, Step, ToolKind, Verb};
use crate::workshop::facts::{ClassFacts, PlanChoice};
use crate::workshop::pull::PaperPull;

use super::SetUps;
use super::cut_order::precedence;
use super::sequence::{Job, Jobs, sequence};

/// Laying a pile against the fence and cutting it once: an estimate, no source.
const STROKE_SECONDS: u64 = 10;

/// All cuts at one fence setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutBatch {
    /// The fence.
    pub setting: Length,
    /// How often the fence was at this setting before.
    pub again: u32,
    /// What is cut.
    pub rows: Vec<CutRow>,
}

impl CutBatch {
    /// Names what is done, whatever else changes: `cut-25400000`, and `cut-25400000-2` where the
    /// fence comes back to a setting.
    #[must_use]
    pub fn key(&self) -> String {
        let nm = self.setting.nm();
        match self.again {
            0 => format!("cut-{nm}"),
            before => format!("cut-{nm}-{}", before + 1),
        }
    }
}

/// Equal cuts on sheets that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutRow {
    /// The paper's name.
    pub paper: String,
    /// Index of the paper in the pull list, and of the pattern in its plan.
    pub sheet: (usize, usize),
    /// Which cuts of the pattern are made; none for what just remains.
    pub cuts: Vec<usize>,
    /// Width and height of what is cut, as it was when it was cut free.
    pub from: (Length, Length),
    /// It is the whole sheet.
    pub is_sheet: bool,
    /// What the setting is measured along.
    pub along: CutDirection,
    /// What each cut frees.
    pub what: Freed,
    /// Pieces that are freed in all, what remains after the last cut counted.
    pub pieces: u32,
    /// Strokes of the blade, several sheets at once.
    pub strokes: u32,
}

/// What a cut frees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Freed {
    /// A part, by its index in the paper's demands.
    Part(usize),
    /// A piece of this width and height that is cut again.
    Strip(Length, Length),
}

/// How much work cuts are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutWork {
    /// How often the fence is set.
    pub set_ups: u32,
    /// Proven: no order can do with fewer.
    pub least_set_ups: u32,
    /// Strokes of the blade.
    pub strokes: u64,
}

impl CutWork {
    /// How often the fence is set, and how long that takes.
    #[must_use]
    pub fn set_ups(&self) -> SetUps {
        let fence = ToolKind::Trimmer.set_up_seconds();
        SetUps {
            count: self.set_ups,
            seconds: self.set_ups.saturating_mul(fence),
            at_least_seconds: self.least_set_ups.saturating_mul(fence),
        }
    }

    /// One pair of hands; a starting estimate.
    #[must_use]
    pub fn minutes(&self) -> u32 {
        let set_up = u64::from(ToolKind::Trimmer.set_up_seconds());
        super::minutes(u64::from(self.set_ups) * set_up + self.strokes * STROKE_SECONDS)
    }
}

/// All cuts of all papers by one of the plans, so many sheets at once.
#[must_use]
pub fn cut_batches(
    papers: &[PaperPull],
    choice: PlanChoice,
    at_once: u32,
) -> (Vec<CutBatch>, CutWork) {
    let sheets = papers.iter().enumerate().flat_map(|(index, paper)| {
        let patterns = paper.plan_by(choice).sheets.iter().enumerate();
        patterns.map(move |(pattern, sheets)| Sheets::new(paper, (index, pattern), sheets, at_once))
    });
    batches(sheets.collect())
}

/// The cuts of sheets that are cut alike, on their own; `index` is the paper's.
#[must_use]
pub fn sheet_batches(
    (index, paper): (usize, &PaperPull),
    pattern: usize,
    at_once: u32,
) -> Vec<CutBatch> {
    let sheets = paper.plan().sheets.get(pattern);
    let sheets = sheets.map(|sheets| Sheets::new(paper, (index, pattern), sheets, at_once));
    batches(sheets.into_iter().collect()).0
}

fn batches(mut all: Vec<Sheets<'_>>) -> (Vec<CutBatch>, CutWork) {
    // The largest setting first, where there is a choice: big pieces become handy ones.
    let cuts = || all.iter().flat_map(|sheets| sheets.cuts);
    let settings: BTreeSet<Length> = cuts().map(|cut| cut.setting).collect();
    let settings: Vec<Length> = settings.into_iter().rev().collect();
    let (mut jobs, mut whose): (Vec<Job>, Vec<(usize, usize)>) = (Vec::new(), Vec::new());
    for (at, sheets) in all.iter().enumerate() {
        let first = jobs.len();
        for (cut, after) in precedence(sheets.cuts).into_iter().enumerate() {
            let setting = sheets.cuts[cut].setting;
            jobs.push(Job {
                set_up: settings.partition_point(|&other| other > setting),
                after: after.into_iter().map(|before| first + before).collect(),
            });
            whose.push((at, cut));
        }
    }
    // Each setting of the fence takes as long as the other, so seconds count set-ups.
    let order = sequence(&Jobs::new(jobs, vec![1; settings.len()]));
    let mut batches: Vec<CutBatch> = Vec::with_capacity(order.groups.len());
    for group in &order.groups {
        let setting = settings[group.set_up];
        let before = batches.iter().filter(|batch| batch.setting == setting);
        let mut batch = CutBatch {
            setting,
            again: before.count() as u32,
            rows: Vec::new(),
        };
        for &job in &group.jobs {
            let (at, cut) = whose[job];
            all[at].cut(cut, &mut batch.rows);
        }
        batches.push(batch);
    }
    let rows = batches.iter().flat_map(|batch| &batch.rows);
    let work = CutWork {
        set_ups: order.seconds,
        least_set_ups: order.at_least_seconds,
        strokes: rows.map(|row| u64::from(row.strokes)).sum(),
    };
    (batches, work)
}

/// Sheets that are cut alike, while they are cut.
struct Sheets<'p> {
    paper: &'p str,
    sheet: (usize, usize),
    count: u32,
    piles: u32,
    cuts: &'p [FenceCut],
    /// Each piece as it is now; those not cut free yet have no size.
    now: Vec<Option<CutPiece>>,
    /// Each piece as it was when it was cut free.
    whole: Vec<Option<CutPiece>>,
    /// The part that a piece ends as.
    ends_as: Vec<Option<usize>>,
    /// How many cuts are left on each piece along each side.
    left: HashMap<(usize, CutDirection), u32>,
}

impl<'p> Sheets<'p> {
    fn new(
        paper: &'p PaperPull,
        sheet: (usize, usize),
        sheets: &'p PatternUse,
        at_once: u32,
    ) -> Self {
        let size = &paper.size_of(sheets).paper;
        let (width, height) = (size.width, size.height);
        let part = |piece: CutPiece| {
            let there = |placed: &&Placed| piece.is(placed);
            sheets.placed.iter().find(there).map(|placed| placed.demand)
        };
        let finished = cut_pieces(width, height, &sheets.cuts);
        let mut now = vec![None; finished.len()];
        now[0] = Some(CutPiece::sheet(width, height));
        let mut left = HashMap::new();
        for cut in &sheets.cuts {
            *left.entry((cut.piece, cut.direction)).or_default() += 1;
        }
        Self {
            paper: &size.name,
            sheet,
            count: sheets.count,
            piles: sheets.count.div_ceil(at_once.max(1)),
            cuts: &sheets.cuts,
            whole: now.clone(),
            now,
            ends_as: finished.into_iter().map(part).collect(),
            left,
        }
    }

    fn is_cut_again(&self, piece: usize) -> bool {
        let sides = [CutDirection::Width, CutDirection::Height];
        sides
            .iter()
            .any(|&side| self.left.get(&(piece, side)).is_some_and(|&left| left > 0))
    }

    /// Makes one cut on all sheets and writes down what it frees.
    fn cut(&mut self, index: usize, rows: &mut Vec<CutRow>) {
        let cut = self.cuts[index];
        let (Some(Some(piece)), Some(Some(from))) = (
            self.now.get(cut.piece).copied(),
            self.whole.get(cut.piece).copied(),
        ) else {
            return;
        };
        let (rest, off) = piece.cut(cut.direction, cut.setting);
        self.now[cut.piece] = Some(rest);
        self.now[cut.off] = Some(off);
        self.whole[cut.off] = Some(off);
        let left = self.left.entry((cut.piece, cut.direction)).or_default();
        *left = left.saturating_sub(1);
        let was_last = *left == 0;
        let row = |what, cuts: Vec<usize>| CutRow {
            paper: self.paper.to_owned(),
            sheet: self.sheet,
            from: (from.width, from.height),
            is_sheet: cut.piece == 0,
            along: cut.direction,
            what,
            pieces: self.count,
            strokes: if cuts.is_empty() { 0 } else { self.piles },
            cuts,
        };
        if let Some(what) = self.freed(cut.off, off) {
            add(rows, row(what, vec![index]));
        }
        if let Some(what) = self.freed(cut.piece, rest).filter(|_| was_last) {
            add(rows, row(what, Vec::new()));
        }
    }

    fn freed(&self, number: usize, piece: CutPiece) -> Option<Freed> {
        if self.is_cut_again(number) {
            return Some(Freed::Strip(piece.width, piece.height));
        }
        // What is neither cut again nor a part is left over.
        self.ends_as[number].map(Freed::Part)
    }
}

fn add(rows: &mut Vec<CutRow>, row: CutRow) {
    let same = |other: &&mut CutRow| {
        (
            other.sheet,
            other.from,
            other.is_sheet,
            other.along,
            other.what,
        ) == (row.sheet, row.from, row.is_sheet, row.along, row.what)
    };
    match rows.iter_mut().find(same) {
        Some(there) => {
            there.cuts.extend(row.cuts);
            there.pieces = there.pieces.saturating_add(row.pieces);
            there.strokes = there.strokes.saturating_add(row.strokes);
        }
        None => rows.push(row),
    }
}

/// Seconds of cutting every part to size, without setting the fence.
pub(super) fn work_seconds(class: &ClassFacts, parts: &[Part], steps: &[Step]) -> u64 {
    let work = cutting(steps).map(|step| {
        let part = step.operation.part.as_ref();
        let part = part.and_then(|key| parts.iter().find(|part| part.key == *key));
        let pieces = class.kits() as u64 * u64::from(part.map_or(1, |part| part.per_kit));
        u64::from(step.operation.seconds).saturating_mul(pieces)
    });
    work.fold(0, u64::saturating_add)
}

/// Seconds of setting the fence for one kit: once for each of its sizes, the best that can be.
pub(super) fn one_kit_set_up_seconds(steps: &[Step]) -> u64 {
    let sizes: BTreeSet<Length> = cutting(steps)
        .flat_map(|step| step.operation.settings.iter().copied())
        .collect();
    sizes.len() as u64 * u64::from(ToolKind::Trimmer.set_up_seconds())
}

/// Hidden or not, every part of the cut plan is cut.
fn cutting(steps: &[Step]) -> impl Iterator<Item = &Step> {
    steps
        .iter()
        .filter(|step| step.operation.verb == Verb::CutToSize)
}
