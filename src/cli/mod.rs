//! The command line: the only place that prints, reads files, the environment or the clock.
//!
//! [`args`] is what was typed, `session` what can be used; each command has a file of its own and does three
//! things: ask, answer, show.

pub mod args;
mod color;
mod command;
pub mod draw;
mod faults;
mod output;
mod progress;
mod session;

use crate::scenario::diagnostic::printable;
use args::{Cli, Command};
use clap::Parser;
use std::process::ExitCode;

/// Everything is well.
const OK: u8 = 0;
/// The work could not be done.
const FAILURE: u8 = 1;
/// What was given cannot be used.
const BAD_INPUT: u8 = 2;

/// Why a command ends without an answer.
#[derive(Debug)]
pub(crate) enum Stop {
    /// Bad input, already put into words; it may quote what was given.
    Input(String),
    /// Faults of a scenario, drawn for the terminal.
    Faults(String),
    /// A failure while working.
    Failure(String),
    /// The reader of the output went away: not an error.
    PipeClosed,
}

/// Runs the program with the words typed.
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version are answers, the rest is bad input; clap writes either to the right stream.
            let code = if error.use_stderr() { BAD_INPUT } else { OK };
            let _ = error.print();
            return ExitCode::from(code);
        }
    };
    let color = color::stderr(cli.shared.no_color);
    let code = match dispatch(cli) {
        Ok(()) | Err(Stop::PipeClosed) => OK,
        Err(Stop::Input(text)) => {
            output::complain(&printable(&text));
            BAD_INPUT
        }
        Err(Stop::Faults(drawn)) => {
            output::complain(&drawn);
            BAD_INPUT
        }
        Err(Stop::Failure(text)) => {
            output::complain(&format!("{}: {}\n", color::word("error", color), printable(&text)));
            FAILURE
        }
    };
    ExitCode::from(code)
}

fn dispatch(cli: Cli) -> Result<(), Stop> {
    let shared = &cli.shared;
    match &cli.command {
        None => command::odds::run(shared, &args::Odds::default()),
        Some(Command::Odds(args)) => command::odds::run(shared, args),
        Some(Command::Sweep(args)) => command::sweep::run(shared, args),
        Some(Command::Rules(args)) => command::rules::run(shared, args),
        Some(Command::Day(args)) => command::day::run(shared, args),
        Some(Command::Pack(args)) => command::pack::run(shared, args),
        Some(Command::Depth(args)) => command::depth::run(shared, args),
        Some(Command::Light(args)) => command::light::run(shared, args),
        Some(Command::Why(args)) => command::why::run(shared, args),
        Some(Command::Casts(args)) => command::casts::run(shared, args),
        Some(Command::Learn(args)) => command::learn::run(shared, args),
        Some(Command::Trials(args)) => command::trials::run(shared, args),
        Some(Command::Report(args)) => command::report::run(shared, args),
        Some(Command::Page(args)) => command::page::run(shared, args),
        Some(Command::Assumptions(args)) => command::assumptions::run(shared, args),
        Some(Command::Selfcheck) => command::selfcheck::run(shared),
        Some(Command::New(args)) => command::new::run(args),
        Some(Command::Completions(args)) => command::shell::completions(args),
        Some(Command::Man) => command::shell::man(),
    }
}
