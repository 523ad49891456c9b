//! Cut plans: which sheets to take and how to cut them edge to edge.

mod axis;
mod bound;
mod branch;
mod error;
mod few;
mod generate;
mod greedy;
mod job;
mod listing;
mod meter;
mod nested;
mod order;
mod plan;
mod prices;
mod problem;
mod random;
mod search;
mod shelf;
mod simplex;
mod strips;
#[cfg(test)]
mod tests;
mod tree;
mod verify;

pub use bound::{CutBound, cut_bound};
pub use error::CutError;
pub use job::{CutJob, CutPart, CutStock};
pub use meter::{Effort, Progress};
pub use order::{CutDirection, FenceCut};
pub use plan::{CutPlans, PatternUse, Plan, plan_cuts};
pub use shelf::{CutPlan, CutPlanError, Demand, Placed, SheetLayout, shelf_plan};
pub use verify::{PlanFault, verify};
