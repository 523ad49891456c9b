//! The course of a plan: a quick thought first, whatever the effort, and a long one from there.
//!
//! So a thorough plan is never worse than a quick one, and what the quick one learned is used.

use std::ops::ControlFlow;

use super::error::CutError;
use super::few::Few;
use super::generate::Generator;
use super::job::CutJob;
use super::meter::{Effort, Meter, Progress};
use super::problem::Problem;
use super::search::{Mixes, Search, Uses};
use super::tree::Pattern;

/// Steps for the plan of least fiddling: more of them rarely save another pattern.
const MOST_TIDYING: u64 = 1_700_000_000;

/// An effort of so many quick ones begins with one.
const BEGIN_QUICKLY: u64 = 4;

/// What an effort came to.
pub(super) struct Reached {
    pub(super) pool: Vec<Pattern>,
    pub(super) cost: i64,
    pub(super) bound: i64,
    /// The cheapest plan.
    pub(super) uses: Uses,
    /// The one of least fiddling.
    pub(super) few: Uses,
    /// Patterns of the cheapest plan when it was found.
    pub(super) untidied: usize,
    pub(super) mixes: Mixes,
    stopped: bool,
}

/// Thinks a job out: quickly, and with what effort is left from there.
pub(super) fn think(
    job: &CutJob,
    problem: &Problem,
    effort: &Effort,
    report: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Reached, CutError> {
    let (all, quick) = (effort.steps, Effort::quick());
    if all / BEGIN_QUICKLY < quick.steps {
        return stage(job, problem, effort, None, report);
    }
    let first = stage(job, problem, &quick, None, &mut |progress| {
        report(&Progress {
            of: all,
            ..*progress
        })
    });
    let first = match first {
        Ok(first) if first.stopped => return Ok(first),
        Ok(first) => Some(first),
        Err(CutError::NotFound { .. }) => None,
        Err(error) => return Err(error),
    };
    let rest = Effort {
        steps: all - quick.steps,
    };
    stage(job, problem, &rest, first, &mut |progress| {
        report(&Progress {
            done: quick.steps + progress.done,
            of: all,
            ..*progress
        })
    })
}

/// One effort, from what an earlier one reached.
fn stage(
    job: &CutJob,
    problem: &Problem,
    effort: &Effort,
    mut before: Option<Reached>,
    report: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Reached, CutError> {
    let mut meter = Meter::new(effort, report);
    let generator = Generator::new(problem, effort.steps);
    let mut search = Search::new(generator, &mut meter);
    if let Some(before) = &mut before {
        search.go_on(before);
    }
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
        return Err(without_plan(job, problem, &search));
    };
    let same = before.as_ref().filter(|before| before.uses == uses);
    let untidied = same.map_or(uses.len(), |before| before.untidied);
    let bound = search.generator.bound;
    let cheapest = problem.sheets.iter().map(|sheet| sheet.cost).min();
    let budget = cost + cheapest.unwrap_or(0).max(cost / 100);
    // Of plans that cost the same, the one of least fiddling; then for a little more paper.
    search.meter.narrow(percent * if alike { 10 } else { 2 });
    let uses = tidied(&mut search, job, cost, &[&uses]);
    search.meter.restore(limit);
    search
        .meter
        .narrow((percent * if alike { 28 } else { 6 }).min(MOST_TIDYING));
    let mut starts = vec![&uses];
    starts.extend(before.as_ref().map(|before| &before.few));
    let few = tidied(&mut search, job, budget, &starts);
    Ok(Reached {
        stopped: search.meter.stopped(),
        mixes: search.mixes,
        pool: search.generator.pool,
        cost,
        bound,
        uses,
        few,
        untidied,
    })
}

/// The least fiddling within a budget from the best of some plans, the first of which is within.
fn tidied(search: &mut Search<'_, '_, '_>, job: &CutJob, budget: i64, starts: &[&Uses]) -> Uses {
    let within = starts.iter().filter(|uses| search.cost(uses) <= budget);
    let starts: Vec<Uses> = within.map(|&uses| uses.clone()).collect();
    Few::new(search, job.kerf(), budget).run(starts)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{CutPart, CutStock, Length};

    #[test]
    fn what_an_earlier_effort_reached_is_not_lost_to_a_later_one() {
        let sheet = CutStock {
            name: "card".to_owned(),
            width: Length::from_mm(210),
            height: Length::from_mm(297),
            cost: 40,
            available: None,
        };
        let part = |(width, height, quantity)| CutPart {
            name: format!("{width} x {height}"),
            width: Length::from_mm(width),
            height: Length::from_mm(height),
            quantity,
            turnable: true,
        };
        let parts = [(94, 134, 30), (56, 110, 25), (38, 56, 40), (118, 118, 9)];
        let parts = parts.into_iter().map(part).collect();
        let job = CutJob::new(vec![sheet], parts, Length::ZERO, Some(3)).unwrap();
        let problem = Problem::new(&job);
        let mut on = |_: &Progress| ControlFlow::Continue(());
        let mut after = |steps, before| {
            let reached = stage(&job, &problem, &Effort { steps }, before, &mut on);
            reached.unwrap_or_else(|error| panic!("{error}"))
        };
        let first = after(30_000_000, None);
        let (cost, bound, patterns) = (first.cost, first.bound, first.few.len());
        // Too little for more than a first guess.
        let alone = after(20_000, None);
        assert!(alone.cost > cost);
        let second = after(20_000, Some(first));
        assert_eq!((second.cost, second.few.len()), (cost, patterns));
        assert!(second.bound >= bound);
    }
}
