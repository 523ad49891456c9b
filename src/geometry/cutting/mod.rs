//! Cut plans: which sheets to take and how to cut them edge to edge.

mod shelf;

pub use shelf::{CutPlan, CutPlanError, Demand, Placed, SheetLayout, shelf_plan};
