//! The program as a whole, from the command line.

#![expect(clippy::unwrap_used, reason = "a command that cannot start has failed")]

mod serve;
