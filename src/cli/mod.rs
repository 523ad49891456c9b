//! The command line. Errors are one line that names the option, quotes the value and says what
//! would do; the exit code is then 2.

mod demo;
mod serve;

use std::io::Write;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

#[derive(Debug, Parser)]
#[command(name = "tablefold", version, about)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Serve the pages to browsers
    Serve(serve::ServeOptions),
}

/// A command that could not be done: one line for standard error.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub struct CommandError(String);

/// Reads the command line and runs the command.
#[must_use]
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return refuse_arguments(&error),
    };
    let done = match cli.command {
        Command::Serve(options) => serve::run(options),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            complain(&error.to_string());
            ExitCode::from(2)
        }
    }
}

/// Help and version go out as they are; of errors, the first line and where to read more.
fn refuse_arguments(error: &clap::Error) -> ExitCode {
    if !error.use_stderr()
        || error.kind() == clap::error::ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand
    {
        // A closed pipe is the reader's wish.
        let _ = error.print();
        return ExitCode::from(u8::from(error.use_stderr()) * 2);
    }
    let text = error.to_string();
    let first = text.lines().next().unwrap_or("error: wrong arguments");
    complain(&format!("{first}. See: tablefold --help"));
    ExitCode::from(2)
}

fn say(line: &str) {
    let _ = writeln!(std::io::stdout(), "{line}");
}

fn complain(line: &str) {
    let _ = writeln!(std::io::stderr(), "{line}");
}
