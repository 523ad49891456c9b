//! The tolerance of hands: how many makers' pieces take their contents and close.
//!
//! Whoever cuts, scores, punches and folds is off by a little, as often too much as too little:
//! each operation has a normal deviation, its standard deviation from [`Hands`]. A measure of the
//! piece (room inside, play of a lid, width for glue) is linear in what was set, so that
//!
//! ```text
//!   measure = as designed + c1 x1 + c2 x2 + ..     x: how far each operation is off, mm
//!   sigma   = √(Σ (c s)²)                          s: standard deviation of the operation
//!   worst   = Σ |c| 2 s                            every operation off by its limit, 2 s
//!   likely  = √(Σ (c 2 s)²)                        the root of the sum of the squared limits
//!   share   = Φ(room / sigma)                      room: what is left beyond what is needed
//! ```
//!
//! The c are found by making the structure again with one setting a hair longer and a hair
//! shorter, on rulers without marks; twice the deviation away it is made once more, and how far
//! the measure is then off the straight line is told ([`Measure::bend_mm`]).
//!
//! Which operations are off together:
//!
//! - a cut, a score, a punch, a template: each setting is made once and a fence, groove or guide
//!   keeps it for all sides, so they are all off alike. Where a hand is off anew at each side
//!   instead, a sum of sides varies less than told here, and the lowest of several walls is lower;
//! - the depth of the notch: one for the whole piece. It is also one for the whole class if one
//!   calibration was wrong; the share is what to expect before that is known;
//! - folds: each on its own. A fold beside its score shifts the room on either side of it; these
//!   shifts are taken as unrelated from one measure to the next.
//!
//! Paper that gives, skewed corners and the spread of the caliper are not in it. Of a glue zone
//! only the width counts, not the area.

mod clearance;
mod hands;
mod inscribed;
mod joint;
mod looser;
mod measures;
mod normal;
mod operation;
mod report;
mod sums;
#[cfg(test)]
mod tests;
mod varied;

pub use clearance::{Clearance, ClearanceError, NotReached, WantedShare, clearance_for};
pub use hands::{Hands, HandsError};
pub use joint::Together;
pub use looser::{Looser, looser_for};
pub use measures::{Along, MeasureKind};
pub use normal::{normal_cdf, normal_quantile};
pub use operation::Operation;
pub use report::{Measure, Part, Tolerance, tolerance};
pub use sums::{root_sum_square, worst_case};
