//! `callup completions` and `callup man`.

use crate::cli::args::{Cli, Completions};
use crate::cli::{Stop, output};
use clap::CommandFactory;

/// A completion script.
pub(in crate::cli) fn completions(args: &Completions) -> Result<(), Stop> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "callup", &mut script);
    output::print(&String::from_utf8_lossy(&script))
}

/// The manual page.
pub(in crate::cli) fn man() -> Result<(), Stop> {
    let mut page = Vec::new();
    clap_mangen::Man::new(Cli::command())
        .render(&mut page)
        .map_err(|e| Stop::Failure(format!("cannot write the manual page: {e}")))?;
    output::print(&String::from_utf8_lossy(&page))
}
