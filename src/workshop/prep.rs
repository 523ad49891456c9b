//! Prep in batches: a fence is set once, then everything that needs it is done.

use std::collections::HashSet;

use tablefold_geometry::Length;

use crate::recipe::{Part, PartKind, Step, ToolKind, Verb};

use super::cut_batches::{CutBatch, CutWork, cut_batches};
use super::facts::ClassFacts;
use super::pull::{Pull, kits_by_colourway};

/// All prep of a class, in working order.
#[derive(Clone, Debug, PartialEq)]
pub struct Prep {
    /// Cutting sheets, one fence setting after the other.
    pub cuts: Vec<CutBatch>,
    /// Everything else, one tool setting after the other.
    pub batches: Vec<Batch>,
    /// Setting each fence and cutting at it; a starting estimate.
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
    let at_once = class.project.trimmer.at_once();
    let cuts = cut_batches(&pull.papers, class.cut_plan, at_once);
    Prep {
        cut_minutes: CutWork::of(&cuts).minutes(),
        batches: batches(class, parts, steps),
        cuts,
    }
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
