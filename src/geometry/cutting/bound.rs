//! What a job costs at least, without a plan.

use super::generate::Generator;
use super::job::CutJob;
use super::meter::{Effort, Meter};
use super::problem::Problem;
use super::search::Search;

use std::ops::ControlFlow;

/// A cost that no plan goes below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutBound {
    /// In the unit of the sheets' prices.
    pub cost: u64,
    /// The linear program was solved to its end; else a weaker bound is given.
    pub settled: bool,
}

/// The bound of the linear program: proven, and much sooner there than a plan.
///
/// [`super::plan_cuts`] starts from the same bound and may prove a higher one.
#[must_use]
pub fn cut_bound(job: &CutJob, effort: &Effort) -> CutBound {
    let problem = Problem::new(job);
    let mut silent = |_: &_| ControlFlow::Continue(());
    let mut meter = Meter::new(effort, &mut silent);
    let generator = Generator::new(&problem, effort.steps);
    let mut search = Search::new(generator, &mut meter);
    search.plain(problem.demand.clone(), Vec::new());
    let settled = search.relaxed().settled;
    CutBound {
        cost: u64::try_from(search.generator.bound).unwrap_or(0),
        settled,
    }
}
