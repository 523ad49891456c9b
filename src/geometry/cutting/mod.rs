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
mod pieces;
mod placed;
mod plan;
mod prices;
mod problem;
mod random;
mod search;
mod simplex;
mod stages;
mod strips;
mod sums;
mod surplus;
#[cfg(test)]
mod tests;
mod tree;
mod verify;

pub use bound::{CutBound, cut_bound};
pub use error::CutError;
pub use job::{CutJob, CutPart, CutStock};
pub use meter::{Effort, Progress};
pub use order::{CutDirection, FenceCut};
pub use pieces::{CutPiece, cut_pieces, off_cuts};
pub use placed::Placed;
pub use plan::{CutPlans, PatternUse, Plan, plan_cuts};
pub use verify::{PlanFault, verify};
