//! A class: packet, prep batches, packs, what to buy. Pure: facts in, lists out.

mod balance;
mod class_money;
mod cost;
mod designed;
mod facts;
mod money;
mod offers;
mod packet;
mod packs;
mod prep;
mod problem;
mod pull;
mod purchases;
mod shopping;

pub use balance::Balance;
pub use class_money::{AdhesiveStock, Bought, ClassMoney, Consumables};
pub use cost::{BreakEven, Cost, KitCost, MaterialCost, cost};
pub use designed::designed_for;
pub use facts::{
    Attendee, BroughtBy, ClassFacts, Colourway, MOST_KITS, StockPaper, SupplyStock, ToolOnDay,
};
pub use money::{Amount, Currency, CurrencyError, MAX_MINOR};
pub use offers::{Item, LONGEST_SPOOL, MOST_UNITS, MultiBuy, Offer, Offers, Pack as ShopPack};
pub use packet::{Packet, ToolLine, packet};
pub use packs::{Pack, PackItem};
pub use prep::{
    Batch, BatchCount, BatchRow, CutBatch, CutRow, Frame, FrameFrom, Pass, Prep, SetUps,
};
pub use problem::PacketProblem;
pub use pull::{CountedPull, PaperPull, Pull, RibbonPull};
pub use purchases::{Buying, Need, Purchase, PurchaseLine, Quantity};
pub use shopping::{ShoppingLine, shopping};

#[cfg(test)]
mod balance_tests;
#[cfg(test)]
mod cut_tests;
#[cfg(test)]
mod list_tests;
#[cfg(test)]
mod tests;
