//! Prep in batches: a fence is set once, then everything that needs it is done.

use std::collections::HashSet;

use tablefold_geometry::Length;

use crate::recipe::{Part, PartKind, Step, ToolKind, Verb};

use super::facts::ClassFacts;
use super::pull::{PaperPull, Pull, kits_by_colourway};

/// All prep of a class, in working order.
#[derive(Clone, Debug, PartialEq)]
pub struct Prep {
    /// Cutting sheets, one fence setting after the other.
    pub cuts: Vec<CutBatch>,
    /// Everything else, one tool setting after the other.
    pub batches: Vec<Batch>,
    /// Setting each fence once and cutting every part to size; a starting estimate.
    pub cut_minutes: u32,
}

impl Prep {
    /// All of it, for one pair of hands.
    #[must_use]
    pub fn minutes(&self) -> u32 {
        let batches = self.batches.iter().map(|batch| batch.minutes);
        batches.fold(self.cut_minutes, u32::saturating_add)
    }
}

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

/// All prep operations with one tool at one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// With which tool.
    pub tool: Option<ToolKind>,
    /// Where it is set.
    pub settings: Vec<Length>,
    /// What is done, in order.
    pub rows: Vec<BatchRow>,
    /// Set up once, then all of them; a starting estimate.
    pub minutes: u32,
}

/// One operation over all kits.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchRow {
    /// Index of the step in the recipe.
    pub step: usize,
    /// The step's title.
    pub title: String,
    /// The paper or supply and how many of each.
    pub counts: Vec<(String, u32)>,
    /// All together.
    pub count: u32,
}

/// Groups the prep of all kits.
#[must_use]
pub(super) fn prep(class: &ClassFacts, parts: &[Part], steps: &[Step], pull: &Pull) -> Prep {
    let cuts = cut_batches(&pull.papers);
    Prep {
        cut_minutes: cut_minutes(class, parts, steps, cuts.len()),
        batches: batches(class, parts, steps),
        cuts,
    }
}

fn cut_minutes(class: &ClassFacts, parts: &[Part], steps: &[Step], settings: usize) -> u32 {
    // Hidden or not, every part of the cut plan is cut.
    let cutting = |step: &&Step| step.operation.verb == Verb::CutToSize;
    let work = steps.iter().filter(cutting).map(|step| {
        let part = step.operation.part.as_ref();
        let part = part.and_then(|key| parts.iter().find(|part| part.key == *key));
        let pieces = class.kits() as u64 * u64::from(part.map_or(1, |part| part.per_kit));
        u64::from(step.operation.seconds) * pieces
    });
    let set_up = u64::from(ToolKind::Trimmer.set_up_seconds()) * settings as u64;
    let seconds = work.fold(set_up, u64::saturating_add);
    u32::try_from(seconds.div_ceil(60)).unwrap_or(u32::MAX)
}

fn cut_batches(papers: &[PaperPull]) -> Vec<CutBatch> {
    let mut batches: Vec<CutBatch> = Vec::new();
    let mut add = |pass, setting, paper: &PaperPull, what: String, pieces: u32| {
        let at = batches
            .iter()
            .position(|b| b.pass == pass && b.setting == setting);
        let at = at.unwrap_or_else(|| {
            batches.push(CutBatch {
                pass,
                setting,
                rows: Vec::new(),
            });
            batches.len() - 1
        });
        let rows = &mut batches[at].rows;
        match rows
            .iter_mut()
            .find(|row| row.paper == paper.paper.name && row.what == what)
        {
            Some(row) => row.pieces += pieces,
            None => rows.push(CutRow {
                paper: paper.paper.name.clone(),
                what,
                pieces,
            }),
        }
    };
    for paper in papers {
        for layout in &paper.plan.layouts {
            let mut seen = HashSet::new();
            for placed in &layout.placed {
                let strip = strip_height(&layout.placed, placed.y);
                if seen.insert(placed.y) && strip < paper.plan.sheet_height {
                    add(
                        Pass::Strips,
                        strip,
                        paper,
                        "strips".to_owned(),
                        layout.count,
                    );
                }
                let name = paper.demands[placed.demand].part.clone();
                if placed.width < paper.plan.sheet_width {
                    add(
                        Pass::Across,
                        placed.width,
                        paper,
                        name.clone(),
                        layout.count,
                    );
                }
                if placed.height < strip {
                    add(Pass::Trim, placed.height, paper, name, layout.count);
                }
            }
        }
    }
    batches.sort_by_key(|batch| (batch.pass, std::cmp::Reverse(batch.setting)));
    batches
}

fn strip_height(placed: &[tablefold_geometry::Placed], y: Length) -> Length {
    placed
        .iter()
        .filter(|p| p.y == y)
        .map(|p| p.height)
        .max()
        .unwrap_or(Length::ZERO)
}

/// Takes the first step that is ready, and with it every ready step of the same tool and setting.
fn batches(class: &ClassFacts, parts: &[Part], steps: &[Step]) -> Vec<Batch> {
    let mut waiting: Vec<usize> = (0..steps.len())
        .filter(|&i| steps[i].is_prep() && steps[i].operation.verb != Verb::CutToSize)
        .collect();
    let names = |waiting: &[usize]| -> HashSet<String> {
        waiting
            .iter()
            .map(|&i| steps[i].operation.key.clone())
            .collect()
    };
    let mut batches: Vec<Batch> = Vec::new();
    while !waiting.is_empty() {
        let open = names(&waiting);
        let ready = |i: usize| {
            steps[i]
                .operation
                .after
                .iter()
                .all(|key| !open.contains(key))
        };
        let same = batches.last().and_then(|last| {
            waiting
                .iter()
                .position(|&i| ready(i) && last.is_for(&steps[i]))
        });
        let at = same
            .or_else(|| waiting.iter().position(|&i| ready(i)))
            .unwrap_or(0);
        let index = waiting.remove(at);
        if same.is_none() {
            batches.push(Batch {
                tool: steps[index].operation.tool,
                settings: steps[index].operation.settings.clone(),
                rows: Vec::new(),
                minutes: 0,
            });
        }
        let row = batch_row(class, parts, steps, index);
        if let Some(batch) = batches.last_mut() {
            batch.rows.push(row);
        }
    }
    for batch in &mut batches {
        batch.minutes = batch.estimate(steps);
    }
    batches
}

impl Batch {
    fn is_for(&self, step: &Step) -> bool {
        self.tool == step.operation.tool && self.settings == step.operation.settings
    }

    fn estimate(&self, steps: &[Step]) -> u32 {
        let set_up = self.tool.map_or(0, ToolKind::set_up_seconds);
        let work: u32 = self
            .rows
            .iter()
            .map(|row| steps[row.step].operation.seconds.saturating_mul(row.count))
            .fold(0, u32::saturating_add);
        set_up.saturating_add(work).div_ceil(60)
    }
}

fn batch_row(class: &ClassFacts, parts: &[Part], steps: &[Step], index: usize) -> BatchRow {
    let operation = &steps[index].operation;
    let part = operation
        .part
        .as_ref()
        .and_then(|key| parts.iter().find(|part| part.key == *key));
    let kits = kits_by_colourway(class);
    let per_kit = part.map_or(1, |part| part.per_kit);
    let mut counts: Vec<(String, u32)> = Vec::new();
    for colourway in &class.colourways {
        let count = kits.get(&colourway.id).copied().unwrap_or(0) * per_kit;
        let from = match part.map(|part| &part.kind) {
            Some(PartKind::Cut { role, .. }) => colourway
                .papers
                .get(role)
                .map_or_else(String::new, |stock| stock.paper.name.clone()),
            Some(PartKind::Ribbon { name, .. } | PartKind::Counted { name, .. }) => name.clone(),
            None => colourway.name.clone(),
        };
        if count == 0 {
            continue;
        }
        match counts.iter_mut().find(|(name, _)| *name == from) {
            Some((_, total)) => *total += count,
            None => counts.push((from, count)),
        }
    }
    let count = counts.iter().map(|(_, count)| count).sum();
    BatchRow {
        step: index,
        title: operation.title.clone(),
        counts,
        count,
    }
}
