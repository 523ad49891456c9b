//! Pages, driven through the router as a browser would: one file an area.

#![expect(clippy::unwrap_used, reason = "a visit that cannot go on has failed")]

mod account;
mod bench;
mod builders;
mod buying;
mod choosing;
mod classes;
mod cuts;
mod doors;
#[expect(dead_code, reason = "the tests of commands read more of a page")]
#[path = "../commands/drawn.rs"]
mod drawn;
mod label_sheets;
mod labels;
mod links;
mod look;
mod once;
mod openings;
mod pdf;
mod prep;
mod projects;
mod published;
mod several;
mod sizes;
mod tolerance;
mod visitor;
