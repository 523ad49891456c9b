//! Pages, driven through the router as a browser would: one file an area.

mod account;
mod doors;
mod visitor;
