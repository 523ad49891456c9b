//! A class: packet, prep batches, packs, what to buy. Pure: facts in, lists out.

mod balance;
mod class_money;
mod cost;
mod designed;
mod facts;
mod label_sheet;
mod left_overs;
mod money;
mod offers;
mod packet;
mod packs;
mod paper_need;
mod plan_price;
mod prep;
mod problem;
mod pull;
mod purchases;
mod shopping;
mod sizes;

pub use balance::Balance;
pub use class_money::{AdhesiveStock, Bought, ClassMoney, Consumables};
pub use cost::{BreakEven, Cost, KitCost, MaterialCost, cost};
pub use designed::{designed_for, roles_to_choose};
pub use facts::{
    Attendee, BroughtBy, ClassFacts, Colourway, MOST_KITS, PlanChoice, StockPaper, SupplyStock,
    ToolOnDay,
};
pub use label_sheet::{
    LabelMeasure, LabelMeasures, LabelSheet, LabelSheetProblem, MOST_LABELS_ALONG,
};
pub use left_overs::{LeftOver, good_for, left_of_sheet, left_overs};
pub use money::{Amount, Currency, CurrencyError, MAX_MINOR};
pub use offers::{Item, LONGEST_SPOOL, MOST_UNITS, MultiBuy, Offer, Offers, Pack as ShopPack};
pub use packet::{Packet, PacketDraft, ToolLine, draft, packet};
pub use packs::{Pack, PackItem};
pub use paper_need::{CLASS_EFFORT, Planner, plan_now};
pub use plan_price::{PlanPrice, plan_price};
pub use prep::{
    Batch, BatchCount, BatchRow, CutBatch, CutRow, CutWork, Frame, FrameFrom, Freed, Prep, SetUps,
    cut_batches, sheet_batches,
};
pub use problem::PacketProblem;
pub use pull::{CountedPull, PaperPull, Pull, RibbonPull, TemplatePull};
pub use purchases::{Buying, Need, Purchase, PurchaseLine, Quantity};
pub use shopping::{ShoppingLine, shopping};
pub use sizes::{PlanCost, SheetPull};

#[cfg(test)]
mod balance_tests;
#[cfg(test)]
mod cut_tests;
#[cfg(test)]
mod joined_tests;
#[cfg(test)]
mod list_tests;
#[cfg(test)]
mod size_tests;
#[cfg(test)]
mod template_tests;
#[cfg(test)]
mod tests;
