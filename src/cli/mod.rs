//! The command line. Errors are one line that names the option, quotes the value and says what
//! would do; the exit code is then 2.

mod connections;
mod cuts;
mod demo;
mod fit;
mod json;
mod pattern;
mod progress;
mod request;
mod serve;
mod size;
mod straight;

use std::io::Write;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

pub use cuts::{CutEffort, CutOptions, WhichPlan, cuts_command};
pub use pattern::{PatternFormat, PatternOptions, pattern_command};
pub use size::size_command;

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
    /// From contents to settings: JSON on standard input, JSON on standard output
    ///
    /// Where bodies go into each other, "play" is from wall to wall (null for the least) and "lid"
    /// is "shallow", "half" or "full". Of all structures, each keeps play within its own limits.
    /// "window" is how wide a round window in the lid is and "slot" how long a slot for
    /// the hand in a roof (null for none); structures that never have one are then refused.
    Size,
    /// The flat pattern of a piece: JSON on standard input, FOLD, SVG or PDF on standard output
    ///
    /// Reads what `size` reads with "structure" given, or "structure", "board", "caliper" and
    /// "settings" as `size` writes them; with settings, contents and sheets are not looked at.
    /// A PDF is at true size: print it at 100 % and measure a bar. On A4 or Letter it is tiled
    /// where it is larger; with `--paper sheet` it is one page, as large as the sheet.
    Pattern(PatternOptions),
    /// Which sheets to take and how to cut them: JSON on standard input, JSON on standard output
    ///
    /// Up to 1 000 part sizes, 1 000 000 pieces and 50 sheet sizes. Cuts come in working order;
    /// "setting" is the size of the piece "off" that comes off the piece "piece", 0 being the
    /// sheet. All lengths written are millimetres.
    Cuts(CutOptions),
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
        Command::Size => filter(|text| Ok(size_command(text)?.into_bytes())),
        Command::Pattern(options) => filter(|text| pattern_command(text, options)),
        Command::Cuts(options) => filter(|text| {
            let mut bar = progress::Bar::on_terminal();
            let answer = cuts_command(text, options, &mut |progress| bar.show(progress));
            bar.clear();
            Ok(answer?.into_bytes())
        }),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            complain(&error.to_string());
            ExitCode::from(2)
        }
    }
}

/// Answers standard input on standard output.
fn filter(answer: impl FnOnce(&str) -> Result<Vec<u8>, CommandError>) -> Result<(), CommandError> {
    let answer = answer(&json::read_input(std::io::stdin().lock())?)?;
    match std::io::stdout().write_all(&answer) {
        // A closed pipe is the reader's wish.
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => Err(CommandError(format!(
            "standard output cannot be written ({error}). Give it a place with room."
        ))),
        _ => Ok(()),
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
    let values = text.lines().find(|line| line.contains("[possible values"));
    let values = values.map_or_else(String::new, |line| format!(" {}", line.trim()));
    complain(&format!("{first}.{values} See: tablefold --help"));
    ExitCode::from(2)
}

fn say(line: &str) {
    let _ = writeln!(std::io::stdout(), "{line}");
}

fn complain(line: &str) {
    let _ = writeln!(std::io::stderr(), "{line}");
}
