//! The bench: tools, papers, supplies.

mod offers;
mod papers;
mod supplies;
mod tools;

pub use offers::{
    BenchOffer, delete_offer, find_offer, insert_offer, list_offers, list_offers_of, update_offer,
};
pub use papers::{
    BenchPaper, delete_paper, find_paper, find_paper_named, insert_paper, list_papers,
    list_uses_of_paper, update_on_hand, update_other_sizes, update_paper,
};
pub use supplies::{
    BenchSupply, Measured, delete_supply, find_supply, insert_supply, list_supplies,
    list_uses_of_supply, update_supply,
};
pub use tools::{
    BenchTool, ToolParams, delete_tool, find_tool, insert_tool, list_tools, list_uses_of_tool,
    update_tool,
};

/// Something that can't be removed because it is used: where.
#[derive(Clone, Debug, PartialEq, Eq, sqlx::FromRow)]
pub struct Use {
    /// "project" or "class".
    pub kind: String,
    /// Its row number.
    pub id: i64,
    /// Its title.
    pub title: String,
}
