//! The planner: from a job to two plans and a proof.

use std::ops::ControlFlow;

use super::error::CutError;
use super::few::Few;
use super::generate::Generator;
use super::job::CutJob;
use super::meter::{Effort, Meter, Progress};
use super::order::{FenceCut, working_order};
use super::placed::Placed;
use super::problem::Problem;
use super::search::{Search, Uses};
use super::surplus::without_surplus;

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
}

impl CutPlans {
    /// How far the cheapest plan may be from the least possible cost, in percent of it.
    #[must_use]
    pub fn gap_percent(&self) -> f64 {
        let bound = self.bound.max(1) as f64;
        (self.least_paper.cost.saturating_sub(self.bound)) as f64 / bound * 100.0
    }
}

/// Steps for the plan of least fiddling: more of them rarely save another pattern.
const MOST_TIDYING: u64 = 2_000_000_000;

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
    let mut meter = Meter::new(effort, report);
    let generator = Generator::new(&problem, effort.steps);
    let mut search = Search::new(generator, &mut meter);
    let relaxed = search.start();
    if relaxed.settled
        && let Some(&(row, short)) = relaxed.lacking.first()
    {
        return Err(CutError::TooFewSheets {
            part: job.parts()[problem.part[row]].name.clone(),
            short: (short - 1e-4).ceil().max(1.0) as u32,
            quantity: problem.demand[row],
        });
    }
    // Sheets that are all different leave little to tidy.
    let sheets: f64 = relaxed.amounts.iter().map(|&(_, amount)| amount).sum();
    let alike = sheets > relaxed.amounts.len() as f64;
    let percent = effort.steps / 100;
    let limit = search.meter.narrow(percent * if alike { 72 } else { 92 });
    search.run();
    search.meter.restore(limit);
    let Some((cost, uses)) = search.best.clone() else {
        return Err(without_plan(job, &problem, &search));
    };
    let bound = search.generator.bound;
    let cheapest = problem.sheets.iter().map(|sheet| sheet.cost).min();
    let budget = cost + cheapest.unwrap_or(0).max(cost / 100);
    // Of plans that cost the same, the one of least fiddling; then for a little more paper.
    search.meter.narrow(percent * if alike { 10 } else { 2 });
    let uses = tidied(&mut search, job, cost, uses);
    search.meter.restore(limit);
    search
        .meter
        .narrow((percent * if alike { 28 } else { 6 }).min(MOST_TIDYING));
    let few = tidied(&mut search, job, budget, uses.clone());
    let least_paper = plan(job, &problem, &search, &uses);
    let least_fiddling = if few == uses {
        least_paper.clone()
    } else {
        plan(job, &problem, &search, &few)
    };
    Ok(CutPlans {
        least_paper,
        least_fiddling,
        bound: u64::try_from(bound).unwrap_or(0),
        proven: cost <= bound,
    })
}

/// The least fiddling within a budget, unless the work was stopped.
fn tidied(search: &mut Search<'_, '_, '_>, job: &CutJob, budget: i64, uses: Uses) -> Uses {
    if search.meter.going() {
        Few::new(search, job.kerf(), budget).run(uses)
    } else {
        uses
    }
}

fn without_plan(job: &CutJob, problem: &Problem, search: &Search<'_, '_, '_>) -> CutError {
    match search.lacking {
        _ if search.meter.stopped() => CutError::Stopped,
        None => CutError::Stopped,
        Some((row, short)) => CutError::NotFound {
            part: job.parts()[problem.part[row]].name.clone(),
            short,
            quantity: problem.demand[row],
        },
    }
}

fn plan(job: &CutJob, problem: &Problem, search: &Search<'_, '_, '_>, uses: &Uses) -> Plan {
    let pattern = |index: usize| &search.generator.pool[index];
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
