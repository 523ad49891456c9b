//! Tablefold: plans craft classes in paper, from what goes into the box to the day itself.
//!
//! One request, end to end: [`app::router`] sends it through the layers to a handler in
//! [`pages`]; the handler asks [`store`] for rows, hands them to the pure modules, and returns
//! a page struct that a template renders. Addresses come from [`urls`], errors from [`error`].

pub mod accounts;
pub mod app;
pub mod cli;
pub mod clock;
pub mod config;
pub mod demo;
pub mod error;
pub mod forms;
mod layers;
pub mod pages;
pub mod planner;
pub mod print;
pub mod recipe;
pub mod store;
pub mod token;
pub mod urls;
pub mod workshop;
