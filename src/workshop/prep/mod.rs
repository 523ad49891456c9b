//! Prep in batches: a tool is set once, then everything that needs it is done. Planned anew
//! from the facts each time: one changed time can turn the best order round, so none is kept.

mod batches;
mod cut_order;
mod cuts;
mod frame;
mod precedence;
mod sequence;
#[cfg(test)]
mod tests;

pub use batches::{Batch, BatchCount, BatchRow};
pub use cuts::{CutBatch, CutRow, CutWork, Freed, cut_batches, sheet_batches};
pub use frame::{Frame, FrameFrom};

use crate::recipe::{Part, Step};

use super::facts::ClassFacts;
use super::pull::Pull;

/// All prep of a class, in working order.
#[derive(Clone, Debug, PartialEq)]
pub struct Prep {
    /// Cutting sheets, one fence setting after the other.
    pub cuts: Vec<CutBatch>,
    /// Everything else, one tool setting after the other.
    pub batches: Vec<Batch>,
    /// Setting each fence and cutting at it; a starting estimate.
    pub cut_minutes: u32,
    /// How often the trimmer's fence is set.
    pub cut_set_ups: SetUps,
    /// How often a tool is set up for the batches.
    pub set_ups: SetUps,
    /// The same prep with each kit on its own, so that everything is set up again for each.
    pub kit_by_kit_minutes: u32,
}

/// How often something is set up, and what no other order can beat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetUps {
    /// How often.
    pub count: u32,
    /// How long that takes; a starting estimate.
    pub seconds: u32,
    /// No order that the steps allow takes less.
    pub at_least_seconds: u32,
}

impl SetUps {
    /// Whether it is proven that no order takes less.
    #[must_use]
    pub fn is_least(&self) -> bool {
        self.seconds <= self.at_least_seconds
    }
}

impl Prep {
    /// All of it, for one pair of hands.
    #[must_use]
    pub fn minutes(&self) -> u32 {
        let batches = self.batches.iter().map(|batch| batch.minutes);
        batches.fold(self.cut_minutes, u32::saturating_add)
    }

    /// What batches save against each kit on its own; 0 where they save nothing.
    #[must_use]
    pub fn saved_minutes(&self) -> u32 {
        self.kit_by_kit_minutes.saturating_sub(self.minutes())
    }
}

/// Groups the prep of all kits.
#[must_use]
pub(super) fn prep(class: &ClassFacts, parts: &[Part], steps: &[Step], pull: &Pull) -> Prep {
    let at_once = class.project.trimmer.at_once();
    let (cuts, cut_work) = cut_batches(&pull.papers, class.cut_plan, at_once);
    let one_by_one = cuts::work_seconds(class, parts, steps);
    let (mut batches, set_ups) = batches::batches(class, parts, steps);
    frame::suggest(&mut batches, class, parts, steps, pull);
    let work = batches::work_seconds(&batches, steps);
    let each_kit = u64::from(set_ups.seconds) + cuts::one_kit_set_up_seconds(steps);
    let kit_by_kit = (each_kit * class.kits() as u64)
        .saturating_add(work)
        .saturating_add(one_by_one);
    Prep {
        cut_minutes: cut_work.minutes(),
        kit_by_kit_minutes: minutes(kit_by_kit),
        cuts,
        batches,
        cut_set_ups: cut_work.set_ups(),
        set_ups,
    }
}

/// Whole minutes, rounded up.
fn minutes(seconds: u64) -> u32 {
    u32::try_from(seconds.div_ceil(60)).unwrap_or(u32::MAX)
}
