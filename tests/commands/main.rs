//! The commands for scripts, run as a script runs them: JSON on standard input, an answer on
//! standard output, errors as one line on standard error and exit code 2.

mod pattern;
mod runs;
mod size;
