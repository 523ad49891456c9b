//! The commands, run as a script or a person runs them: JSON on standard input, an answer on
//! standard output, errors as one line on standard error and exit code 2.

#![expect(clippy::unwrap_used, reason = "a command that cannot start has failed")]

mod connections;
mod cuts;
mod cutter;
mod drawn;
mod pattern;
mod pattern_pdf;
mod runs;
mod serve;
mod size;
