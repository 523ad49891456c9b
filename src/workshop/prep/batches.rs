//! Everything but cutting, by tool and setting, over all kits.

use tablefold_geometry::Length;

use crate::recipe::{Part, PartKind, Step, ToolKind};
use crate::workshop::facts::{ClassFacts, Colourway};
use crate::workshop::pull::kits_by_colourway;

use super::frame::Frame;
use super::precedence::work;
use super::sequence::sequence;
use super::{SetUps, minutes};

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
    /// How many of each paper or supply.
    pub counts: Vec<BatchCount>,
    /// All together.
    pub count: u32,
    /// A frame that brings each blank to the same place, where one pays.
    pub frame: Option<Frame>,
}

/// How many of one paper or supply, and for whom.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchCount {
    /// The paper or supply; empty for a step that is done to no part.
    pub from: String,
    /// In all.
    pub count: u32,
    /// Colourways with the number for each.
    pub colourways: Vec<(String, u32)>,
}

/// The batches in the order with the least set-ups, and how often and how long that is.
pub(super) fn batches(class: &ClassFacts, parts: &[Part], steps: &[Step]) -> (Vec<Batch>, SetUps) {
    let work = work(steps, ToolKind::set_up_seconds);
    let order = sequence(&work.jobs);
    let mut batches = Vec::with_capacity(order.groups.len());
    for group in &order.groups {
        let (tool, settings) = work.set_ups[group.set_up].clone();
        let row = |&job: &usize| batch_row(class, parts, steps, work.steps[job]);
        let mut batch = Batch {
            tool,
            settings,
            rows: group.jobs.iter().map(row).collect(),
            minutes: 0,
        };
        let set_up = u64::from(tool.map_or(0, ToolKind::set_up_seconds));
        batch.minutes = minutes(set_up.saturating_add(batch.work_seconds(steps)));
        batches.push(batch);
    }
    let with_tool = batches.iter().filter(|batch| batch.tool.is_some());
    let set_ups = SetUps {
        count: with_tool.count() as u32,
        seconds: order.seconds,
        at_least_seconds: order.at_least_seconds,
    };
    (batches, set_ups)
}

/// Seconds of all batches without setting up.
pub(super) fn work_seconds(batches: &[Batch], steps: &[Step]) -> u64 {
    let each = batches.iter().map(|batch| batch.work_seconds(steps));
    each.fold(0, u64::saturating_add)
}

impl Batch {
    fn work_seconds(&self, steps: &[Step]) -> u64 {
        let row = |row: &BatchRow| {
            u64::from(steps[row.step].operation.seconds).saturating_mul(u64::from(row.count))
        };
        self.rows.iter().map(row).fold(0, u64::saturating_add)
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
    let mut counts: Vec<BatchCount> = Vec::new();
    for colourway in &class.colourways {
        let kits = kits.get(&colourway.id).copied().unwrap_or(0);
        let count = kits.saturating_mul(per_kit);
        if count == 0 {
            continue;
        }
        let from = made_of(part, colourway);
        let own = (colourway.name.clone(), count);
        match counts.iter_mut().find(|other| other.from == from) {
            Some(other) => {
                other.count = other.count.saturating_add(count);
                other.colourways.push(own);
            }
            None => counts.push(BatchCount {
                from,
                count,
                colourways: vec![own],
            }),
        }
    }
    BatchRow {
        step: index,
        title: operation.title.clone(),
        count: counts
            .iter()
            .map(|count| count.count)
            .fold(0, u32::saturating_add),
        counts,
        frame: None,
    }
}

fn made_of(part: Option<&Part>, colourway: &Colourway) -> String {
    match part.map(|part| &part.kind) {
        Some(PartKind::Cut { role, .. }) => colourway
            .papers
            .get(role)
            .map_or_else(String::new, |stock| stock.kind_name().to_owned()),
        Some(PartKind::Ribbon { name, .. } | PartKind::Counted { name, .. }) => name.clone(),
        Some(PartKind::Template) | None => String::new(),
    }
}
