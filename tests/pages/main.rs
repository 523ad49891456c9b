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
mod links;
mod look;
mod once;
mod prep;
mod projects;
mod several;
mod sizes;
mod tolerance;
mod visitor;
