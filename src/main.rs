//! Starts Tablefold: reads the command line, runs the command, and tells what went wrong.

use std::process::ExitCode;

fn main() -> ExitCode {
    tablefold::cli::run()
}
