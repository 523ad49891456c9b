//! Cutting sheets: all cuts of one pass at one fence setting together.

use std::collections::{BTreeSet, HashSet};

use tablefold_geometry::{Length, Placed};

use crate::recipe::{Part, Step, ToolKind, Verb};
use crate::workshop::facts::ClassFacts;
use crate::workshop::pull::PaperPull;

use super::SetUps;

/// Which cut of the shelf method this is. They come in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pass {
    /// Strips from sheets.
    Strips,
    /// Parts from strips.
    Across,
    /// Parts that are lower than their strip.
    Trim,
}

/// All cuts of one pass at one fence setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutBatch {
    /// Which pass.
    pub pass: Pass,
    /// The fence.
    pub setting: Length,
    /// What is cut.
    pub rows: Vec<CutRow>,
}

impl CutBatch {
    /// Names what is done, whatever else changes: `cut-across-25400000`.
    #[must_use]
    pub fn key(&self) -> String {
        let pass = match self.pass {
            Pass::Strips => "strips",
            Pass::Across => "across",
            Pass::Trim => "trim",
        };
        format!("cut-{pass}-{}", self.setting.nm())
    }
}

/// Cuts of one paper at one setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutRow {
    /// The paper's name.
    pub paper: String,
    /// What comes off: the parts' names, or "strips".
    pub what: String,
    /// Pieces that come off in all.
    pub pieces: u32,
}

/// How often the fence moves in this order. Each setting is made at least once in any order.
pub(super) fn set_ups(cuts: &[CutBatch]) -> SetUps {
    let fence = ToolKind::Trimmer.set_up_seconds();
    let moves = cuts
        .iter()
        .zip(cuts.iter().skip(1))
        .filter(|(a, b)| a.setting != b.setting)
        .count();
    let count = (moves + usize::from(!cuts.is_empty())) as u32;
    let settings: BTreeSet<Length> = cuts.iter().map(|cut| cut.setting).collect();
    SetUps {
        count,
        seconds: count.saturating_mul(fence),
        at_least_seconds: (settings.len() as u32).saturating_mul(fence),
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

/// The cuts of all sheets, in working order.
pub(super) fn cut_batches(papers: &[PaperPull]) -> Vec<CutBatch> {
    let mut batches: Vec<CutBatch> = Vec::new();
    for paper in papers {
        for layout in &paper.plan.layouts {
            let mut seen = HashSet::new();
            for placed in &layout.placed {
                let strip = strip_height(&layout.placed, placed.y);
                let name = paper
                    .demands
                    .get(placed.demand)
                    .map_or("", |demand| demand.part.as_str());
                let mut add = |pass, setting, what: &str| {
                    add(&mut batches, (pass, setting), paper, what, layout.count);
                };
                if seen.insert(placed.y) && strip < paper.plan.sheet_height {
                    add(Pass::Strips, strip, "strips");
                }
                if placed.width < paper.plan.sheet_width {
                    add(Pass::Across, placed.width, name);
                }
                if placed.height < strip {
                    add(Pass::Trim, placed.height, name);
                }
            }
        }
    }
    batches.sort_by_key(|batch| (batch.pass, std::cmp::Reverse(batch.setting)));
    batches
}

fn add(
    batches: &mut Vec<CutBatch>,
    (pass, setting): (Pass, Length),
    paper: &PaperPull,
    what: &str,
    pieces: u32,
) {
    let same = |batch: &CutBatch| batch.pass == pass && batch.setting == setting;
    let at = batches.iter().position(same).unwrap_or_else(|| {
        batches.push(CutBatch {
            pass,
            setting,
            rows: Vec::new(),
        });
        batches.len() - 1
    });
    let rows = &mut batches[at].rows;
    let same = |row: &&mut CutRow| row.paper == paper.paper.name && row.what == what;
    match rows.iter_mut().find(same) {
        Some(row) => row.pieces = row.pieces.saturating_add(pieces),
        None => rows.push(CutRow {
            paper: paper.paper.name.clone(),
            what: what.to_owned(),
            pieces,
        }),
    }
}

fn strip_height(placed: &[Placed], y: Length) -> Length {
    let strip = placed.iter().filter(|placed| placed.y == y);
    let heights = strip.map(|placed| placed.height);
    heights.max().unwrap_or(Length::ZERO)
}
