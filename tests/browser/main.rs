//! A few walks in a real browser against the real server. They need Debian's chromium,
//! chromium-driver and poppler-utils and say so if one is missing; `tests/all.sh` installs them.

#![expect(clippy::unwrap_used, reason = "a walk that cannot go on has failed")]

mod browser;
#[path = "../pages/builders.rs"]
mod builders;
mod checkers;
mod every_page;
mod every_structure;
mod files;
mod first_run;
mod fullest;
mod keyboard;
mod on_paper;
mod phone;
mod printed;
mod refused_forms;
mod server;
mod soundness;
mod states;
mod walk;
mod wcag;
mod words_in_pictures;
