//! A class: packet, prep batches, packs, what to buy. Pure: facts in, lists out.

mod balance;
mod designed;
mod facts;
mod packet;
mod packs;
mod prep;
mod problem;
mod pull;

pub use balance::Balance;
pub use designed::designed_for;
pub use facts::{
    Attendee, BroughtBy, ClassFacts, Colourway, MOST_KITS, StockPaper, SupplyStock, ToolOnDay,
};
pub use packet::{Packet, ToolLine, packet};
pub use packs::{Pack, PackItem};
pub use prep::{
    Batch, BatchCount, BatchRow, CutBatch, CutRow, Frame, FrameFrom, Pass, Prep, SetUps,
};
pub use problem::PacketProblem;
pub use pull::{CountedPull, PaperPull, Pull, RibbonPull};

#[cfg(test)]
mod balance_tests;
#[cfg(test)]
mod cut_tests;
#[cfg(test)]
mod list_tests;
#[cfg(test)]
mod tests;
