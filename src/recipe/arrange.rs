//! The order of the steps: what the instructor wants, within what must come first.

use std::collections::{HashMap, HashSet};

use super::facts::{Phase, StepEdit};
use super::operation::{Operation, Verb};

/// Puts operations in the instructor's order. A place that breaks precedence (a piece may have
/// changed since) is repaired by moving the step down to the first place that is allowed.
///
/// Places are the default index of an operation unless an edit gives one.
#[must_use]
pub(super) fn arrange(operations: Vec<Operation>, edits: &[StepEdit]) -> Vec<Operation> {
    let places = places(&operations, edits);
    let mut waiting: Vec<Operation> = operations;
    waiting.sort_by(|a, b| places[&a.key].total_cmp(&places[&b.key]));
    let mut done = HashSet::new();
    let all: HashSet<String> = waiting
        .iter()
        .map(|operation| operation.key.clone())
        .collect();
    let mut ordered = Vec::with_capacity(waiting.len());
    while !waiting.is_empty() {
        let ready = |operation: &Operation| {
            operation
                .after
                .iter()
                .all(|key| done.contains(key) || !all.contains(key))
        };
        // Recipes have no cycles; should one slip in, the first in line goes on.
        let next = waiting.iter().position(ready).unwrap_or(0);
        let operation = waiting.remove(next);
        done.insert(operation.key.clone());
        ordered.push(operation);
    }
    ordered
}

/// Prep never waits for class: a step that was switched to prep goes back to class where the
/// piece has changed since and a class step now comes before it.
#[must_use]
pub(super) fn settle_phases(mut ordered: Vec<Operation>) -> Vec<Operation> {
    let mut in_class = HashSet::new();
    for operation in &mut ordered {
        if operation.after.iter().any(|key| in_class.contains(key)) {
            operation.phase = Phase::Class;
        }
        if operation.phase == Phase::Class {
            in_class.insert(operation.key.clone());
        }
    }
    ordered
}

/// The place of each operation: its edit's, or its default index.
#[must_use]
pub(super) fn places(operations: &[Operation], edits: &[StepEdit]) -> HashMap<String, f64> {
    let edited: HashMap<&str, f64> = edits
        .iter()
        .filter_map(|edit| Some((edit.key.as_str(), edit.position?)))
        .collect();
    operations
        .iter()
        .enumerate()
        .map(|(index, operation)| {
            let place = edited
                .get(operation.key.as_str())
                .copied()
                .unwrap_or(index as f64);
            (operation.key.clone(), place)
        })
        .collect()
}

/// Why a step can't go where it was asked to.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MoveRefused {
    /// Something it needs would come after it.
    #[error("\"{step}\" can't come before \"{first}\": \"{first}\" must be done first.")]
    Before {
        /// The step that was moved.
        step: String,
        /// What must come first.
        first: String,
    },
    /// It is at the end already.
    #[error("\"{step}\" is already the {end} step.")]
    AtEnd {
        /// The step that was moved.
        step: String,
        /// "first" or "last".
        end: &'static str,
    },
    /// No such step.
    #[error("there is no such step in this project. Open the project again and look for it.")]
    Unknown,
    /// The sheets of all kits are cut together, so that nothing is cut twice.
    #[error(
        "\"{step}\" stays in prep: the parts of all kits are cut together, from as few sheets as the plan needs."
    )]
    CutTogether {
        /// The step that was switched.
        step: String,
    },
    /// It would be in prep while something before it is in class, or the other way round.
    #[error(
        "\"{step}\" can't be {wanted}: \"{other}\" {comes} it and is {there}. Move that one first."
    )]
    Phase {
        /// The step that was switched.
        step: String,
        /// "prep" or "in class".
        wanted: &'static str,
        /// The step in the way.
        other: String,
        /// "comes before" or "comes after".
        comes: &'static str,
        /// Where that one is.
        there: &'static str,
    },
}

/// The keys in their new order after a step moves one place up or down.
///
/// # Errors
/// [`MoveRefused`] names the step that must come first.
pub fn moved(steps: &[Operation], key: &str, up: bool) -> Result<Vec<String>, MoveRefused> {
    let at = steps
        .iter()
        .position(|step| step.key == key)
        .ok_or(MoveRefused::Unknown)?;
    let step = &steps[at];
    let end = |end| MoveRefused::AtEnd {
        step: step.title.clone(),
        end,
    };
    let with = if up {
        at.checked_sub(1).ok_or_else(|| end("first"))?
    } else if at + 1 < steps.len() {
        at + 1
    } else {
        return Err(end("last"));
    };
    let (earlier, later) = if up { (with, at) } else { (at, with) };
    if steps[later].after.contains(&steps[earlier].key) {
        return Err(MoveRefused::Before {
            step: steps[later].title.clone(),
            first: steps[earlier].title.clone(),
        });
    }
    let mut keys: Vec<String> = steps.iter().map(|step| step.key.clone()).collect();
    keys.swap(earlier, later);
    Ok(keys)
}

/// Whether a step may be switched to `phase`: prep never waits for class, and what is cut from
/// sheets stays in prep.
///
/// # Errors
/// [`MoveRefused::Phase`] names the step in the way; [`MoveRefused::CutTogether`].
pub fn switched(steps: &[Operation], key: &str, phase: Phase) -> Result<(), MoveRefused> {
    let step = steps
        .iter()
        .find(|step| step.key == key)
        .ok_or(MoveRefused::Unknown)?;
    if step.verb == Verb::CutToSize && phase == Phase::Class {
        return Err(MoveRefused::CutTogether {
            step: step.title.clone(),
        });
    }
    let in_the_way = match phase {
        Phase::Prep => steps
            .iter()
            .find(|other| step.after.contains(&other.key) && other.phase == Phase::Class),
        Phase::Class => steps
            .iter()
            .find(|other| other.after.contains(&step.key) && other.phase == Phase::Prep),
    };
    match in_the_way {
        None => Ok(()),
        Some(other) => Err(MoveRefused::Phase {
            step: step.title.clone(),
            wanted: phase_words(phase),
            other: other.title.clone(),
            comes: if phase == Phase::Prep {
                "comes before"
            } else {
                "comes after"
            },
            there: phase_words(other.phase),
        }),
    }
}

fn phase_words(phase: Phase) -> &'static str {
    match phase {
        Phase::Prep => "in prep",
        Phase::Class => "in class",
    }
}
