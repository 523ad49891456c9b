//! Checks of the planner against published values and against trying everything.

mod exhaustive;
mod few;
mod input;
mod listing;
mod published;
mod referee;
mod verifier;

use std::ops::ControlFlow;

use super::{CutError, CutJob, CutPart, CutPlans, CutStock, Effort, plan_cuts, verify};
use crate::Length;

fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

fn stock(name: &str, width: i64, height: i64, cost: u64) -> CutStock {
    CutStock {
        name: name.to_owned(),
        width: mm(width),
        height: mm(height),
        cost,
        available: None,
    }
}

fn part(name: &str, width: i64, height: i64, quantity: u32, turnable: bool) -> CutPart {
    CutPart {
        name: name.to_owned(),
        width: mm(width),
        height: mm(height),
        quantity,
        turnable,
    }
}

fn job(stock: Vec<CutStock>, parts: Vec<CutPart>, stages: Option<u8>) -> CutJob {
    CutJob::new(stock, parts, Length::ZERO, stages).expect("the job can be planned")
}

/// Plans with little effort: these jobs are small.
fn planned(job: &CutJob) -> Result<CutPlans, CutError> {
    planned_in(job, 6_000_000)
}

/// Plans in so many steps, and lets the verifier look at both plans.
fn planned_in(job: &CutJob, steps: u64) -> Result<CutPlans, CutError> {
    let effort = Effort { steps };
    let plans = plan_cuts(job, &effort, &mut |_| ControlFlow::Continue(()))?;
    for plan in [&plans.least_paper, &plans.least_fiddling] {
        verify(job, plan).unwrap_or_else(|fault| panic!("{fault}: {job:?} {plan:?}"));
    }
    assert!(plans.bound <= plans.least_paper.cost);
    assert!(plans.least_paper.cost <= plans.least_fiddling.cost);
    Ok(plans)
}
