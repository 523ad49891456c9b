//! A class: packet, prep batches, packs, what to buy. Pure: facts in, lists out.

mod cut_batches;
mod cut_order;
mod designed;
mod facts;
mod left_overs;
mod packet;
mod packs;
mod paper_need;
mod plan_price;
mod prep;
mod problem;
mod pull;

pub use cut_batches::{CutBatch, CutRow, CutWork, Freed, cut_batches, sheet_batches};
pub use designed::designed_for;
pub use facts::{
    Attendee, BroughtBy, ClassFacts, Colourway, MOST_KITS, PlanChoice, StockPaper, SupplyStock,
    ToolOnDay,
};
pub use left_overs::{LeftOver, good_for, left_of_sheet, left_overs};
pub use packet::{Balance, Packet, PacketDraft, ToolLine, draft, packet};
pub use packs::{Pack, PackItem};
pub use paper_need::{CLASS_EFFORT, Planner, plan_now};
pub use plan_price::{PlanPrice, plan_price};
pub use prep::{Batch, BatchRow, Prep};
pub use problem::PacketProblem;
pub use pull::{CountedPull, PaperPull, Pull, RibbonPull};

#[cfg(test)]
mod tests;
