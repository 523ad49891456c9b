//! What must come before what among prep steps.

use std::collections::HashMap;

use tablefold_geometry::Length;

use crate::recipe::{Step, ToolKind, Verb};

use super::sequence::{Job, Jobs};

/// What a tool is set up for.
pub(super) type SetUp = (Option<ToolKind>, Vec<Length>);

/// The prep steps that are not cutting, as jobs.
pub(super) struct Work {
    /// The step of each job, by index in the recipe.
    pub(super) steps: Vec<usize>,
    /// What each set-up of the jobs is.
    pub(super) set_ups: Vec<SetUp>,
    /// The jobs.
    pub(super) jobs: Jobs,
}

/// Steps come in an order that is allowed. What a step waits for is followed through steps that
/// are hidden or no prep, so that A stays before C where the B between them is left out.
pub(super) fn work(steps: &[Step], set_up_seconds: impl Fn(ToolKind) -> u32) -> Work {
    let mut work = (Vec::new(), Vec::new());
    let mut jobs: Vec<Job> = Vec::new();
    let mut behind: HashMap<&str, Vec<usize>> = HashMap::new();
    let mut own: Option<usize> = None;
    for (index, step) in steps.iter().enumerate() {
        let operation = &step.operation;
        let known = operation
            .after
            .iter()
            .filter_map(|key| behind.get(key.as_str()));
        let mut after: Vec<usize> = known.flatten().copied().collect();
        if step.is_prep() && operation.verb != Verb::CutToSize {
            after.extend(own);
            // A step of the instructor's own does not say what it needs, so it keeps its place.
            if operation.verb == Verb::Own {
                after = (0..jobs.len()).collect();
                own = Some(jobs.len());
            }
            let set_up = (operation.tool, operation.settings.clone());
            after.sort_unstable();
            after.dedup();
            behind.insert(&operation.key, vec![jobs.len()]);
            jobs.push(Job {
                set_up: place(&mut work.1, set_up),
                after,
            });
            work.0.push(index);
        } else {
            after.sort_unstable();
            after.dedup();
            behind.insert(&operation.key, after);
        }
    }
    let (steps, set_ups) = work;
    let seconds = |(tool, _): &SetUp| tool.map_or(0, &set_up_seconds);
    let seconds = set_ups.iter().map(seconds).collect();
    Work {
        steps,
        set_ups,
        jobs: Jobs::new(jobs, seconds),
    }
}

fn place(set_ups: &mut Vec<SetUp>, set_up: SetUp) -> usize {
    let known = set_ups.iter().position(|other| *other == set_up);
    known.unwrap_or_else(|| {
        set_ups.push(set_up);
        set_ups.len() - 1
    })
}
