//! The planner: from a job to two plans and a proof.

use std::ops::ControlFlow;

use super::error::CutError;
use super::job::CutJob;
use super::meter::{Effort, Progress};
use super::order::{FenceCut, working_order};
use super::placed::Placed;
use super::problem::Problem;
use super::search::Uses;
use super::stages::think;
use super::surplus::without_surplus;
use super::tree::Pattern;

/// Sheets of one stock that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PatternUse {
    /// Index into the job's stock.
    pub stock: usize,
    /// How many sheets.
    pub count: u32,
    /// The parts on each; `demand` is the index into the job's parts.
    pub placed: Vec<Placed>,
    /// The cuts of one sheet in working order.
    pub cuts: Vec<FenceCut>,
    /// How often the fence is set for one sheet, or for a pile of them.
    pub settings: usize,
}

/// Which sheets to take and how to cut them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// What the sheets cost together.
    pub cost: u64,
    /// The ways in which sheets are cut.
    pub sheets: Vec<PatternUse>,
}

impl Plan {
    /// How often the fence is set over all patterns.
    #[must_use]
    pub fn settings(&self) -> usize {
        self.sheets.iter().map(|sheets| sheets.settings).sum()
    }
}

/// The answer to a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutPlans {
    /// The cheapest plan found.
    pub least_paper: Plan,
    /// Few patterns and fence settings, for at most 1 % or one cheapest sheet more.
    pub least_fiddling: Plan,
    /// Proven: no plan costs less.
    pub bound: u64,
    /// The cheapest plan costs no more than the bound: it is least.
    pub proven: bool,
    /// Patterns of the cheapest plan as it was found, before plans of the same cost with fewer
    /// patterns were looked for.
    pub patterns_untidied: usize,
}

impl CutPlans {
    /// How far the cheapest plan may be from the least possible cost, in percent of it.
    #[must_use]
    pub fn gap_percent(&self) -> f64 {
        let bound = self.bound.max(1) as f64;
        (self.least_paper.cost.saturating_sub(self.bound)) as f64 / bound * 100.0
    }
}

/// Plans a job: the same answer on every run and every machine.
///
/// `report` is called now and then; it may stop the work, and the best plan so far comes back.
///
/// # Errors
/// [`CutError::TooFewSheets`] and [`CutError::NotFound`] where limited sheets don't suffice;
/// [`CutError::Stopped`] where the work was stopped before there was a plan.
pub fn plan_cuts(
    job: &CutJob,
    effort: &Effort,
    report: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<CutPlans, CutError> {
    let problem = Problem::new(job);
    let reached = think(job, &problem, effort, report)?;
    let least_paper = plan(job, &problem, &reached.pool, &reached.uses);
    let least_fiddling = if reached.few == reached.uses {
        least_paper.clone()
    } else {
        plan(job, &problem, &reached.pool, &reached.few)
    };
    Ok(CutPlans {
        least_paper,
        least_fiddling,
        bound: u64::try_from(reached.bound).unwrap_or(0),
        proven: reached.cost <= reached.bound,
        patterns_untidied: reached.untidied,
    })
}

fn plan(job: &CutJob, problem: &Problem, pool: &[Pattern], uses: &Uses) -> Plan {
    let pattern = |index: usize| &pool[index];
    let mut trees: Vec<_> = uses
        .iter()
        .map(|&(index, count)| (pattern(index).tree.clone(), count))
        .collect();
    without_surplus(problem, &mut trees);
    let mut sheets: Vec<PatternUse> = uses
        .iter()
        .zip(&trees)
        .map(|(&(index, count), (tree, _))| {
            let stock = pattern(index).stock;
            let sheet = problem.sheets[stock];
            let ordered = working_order(problem, job.kerf(), sheet, tree);
            PatternUse {
                stock,
                count,
                placed: ordered.placed,
                cuts: ordered.cuts,
                settings: ordered.settings,
            }
        })
        .collect();
    sheets.sort_by_key(|sheets| (sheets.stock, std::cmp::Reverse(sheets.count)));
    let cost = sheets
        .iter()
        .map(|sheets| u64::from(sheets.count) * job.stock()[sheets.stock].cost)
        .sum();
    Plan { cost, sheets }
}
