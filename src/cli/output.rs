//! Writing results to standard output and everything else to standard error.

use super::Stop;
use std::io::{ErrorKind, Write};

/// Writes a result. A closed pipe ends the program quietly.
pub(super) fn print(text: &str) -> Result<(), Stop> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(|error| match error.kind() {
        ErrorKind::BrokenPipe => Stop::PipeClosed,
        _ => Stop::Failure(format!("cannot write the result: {error}")),
    })
}

/// Writes to standard error; there is nowhere left to complain if that fails.
pub(super) fn complain(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// Writes a JSON document.
pub(super) fn json(value: &serde_json::Value) -> Result<(), Stop> {
    let text = serde_json::to_string_pretty(value)
        .map_err(|error| Stop::Failure(format!("cannot write JSON: {error}")))?;
    print(&format!("{text}\n"))
}

/// Writes a table as comma-separated values.
pub(super) fn csv(table: &crate::present::table::Table) -> Result<(), Stop> {
    let text = table.csv().map_err(|error| Stop::Failure(format!("cannot write CSV: {error}")))?;
    print(&text)
}

/// Columns where there is no terminal to ask.
const DEFAULT_COLUMNS: usize = 120;

/// Columns to write in: those of the terminal, within what is readable.
pub(super) fn width() -> usize {
    let wide = std::env::var("COLUMNS").ok().and_then(|c| c.parse().ok()).or_else(terminal_columns);
    wide.unwrap_or(DEFAULT_COLUMNS).clamp(60, 130)
}

fn terminal_columns() -> Option<usize> {
    terminal_size::terminal_size().map(|(width, _)| usize::from(width.0))
}

/// Whether a file may be written: a new one, or in place of an earlier one of the same kind, known by its `mark`.
/// Anything else is somebody's work. `kind` names it, as in "a report of callup".
pub(super) fn may_replace(path: &std::path::Path, mark: &str, kind: &str) -> Result<(), Stop> {
    let Ok(there) = std::fs::read(path) else { return Ok(()) };
    if String::from_utf8_lossy(&there).contains(mark) {
        return Ok(());
    }
    Err(Stop::Input(format!(
        "error: {} is already there and is not {kind}\n  help: give another name, or move it away first\n",
        path.display()
    )))
}
