//! Whether to colour, and the few colours used.

use std::io::IsTerminal;

/// Whether standard error may be coloured: a terminal, no NO_COLOR (<https://no-color.org>), no `--no-color`.
pub(super) fn stderr(switched_off: bool) -> bool {
    !switched_off && !no_color() && std::io::stderr().is_terminal()
}

/// Whether standard output may be coloured.
pub(super) fn stdout(switched_off: bool) -> bool {
    !switched_off && !no_color() && std::io::stdout().is_terminal()
}

fn no_color() -> bool {
    std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty())
}

/// A word that announces trouble, bold and red where colour is on.
pub(super) fn word(text: &str, color: bool) -> String {
    if !color {
        return text.to_owned();
    }
    let style = anstyle::Style::new().bold().fg_color(Some(anstyle::AnsiColor::Red.into()));
    format!("{style}{text}{style:#}")
}

/// A line that is read first, bold where colour is on.
pub(super) fn bold(text: &str, color: bool) -> String {
    if !color {
        return text.to_owned();
    }
    let style = anstyle::Style::new().bold();
    format!("{style}{text}{style:#}")
}
