//! A class: packet, prep batches, packs, what to buy. Pure: facts in, lists out.

mod designed;
mod facts;
mod packet;
mod packs;
mod prep;
mod problem;
mod pull;

pub use designed::designed_for;
pub use facts::{
    Attendee, BroughtBy, ClassFacts, Colourway, MOST_KITS, StockPaper, SupplyStock, ToolOnDay,
};
pub use packet::{Balance, Packet, ToolLine, packet};
pub use packs::{Pack, PackItem};
pub use prep::{
    Batch, BatchCount, BatchRow, CutBatch, CutRow, Frame, FrameFrom, Pass, Prep, SetUps,
};
pub use problem::PacketProblem;
pub use pull::{CountedPull, PaperPull, Pull, RibbonPull};

#[cfg(test)]
mod tests;
