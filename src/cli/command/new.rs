//! `callup new`.

use crate::cli::args::New;
use crate::cli::{Stop, draw, output};
use crate::scenario::diagnostic::printable;
use crate::scenario::library;

/// Writes the template to a file that does not exist yet.
pub(in crate::cli) fn run(args: &New) -> Result<(), Stop> {
    let path = &args.file;
    if path.exists() {
        return Err(Stop::Input(format!(
            "error: {} is already there\n  help: give another name, or move it away first\n",
            path.display()
        )));
    }
    draw::write_whole(path, library::TEMPLATE.as_bytes()).map_err(|e| Stop::Failure(e.to_string()))?;
    output::complain(&printable(&format!(
        "wrote {0}; now edit it and run `callup odds {0}`\n",
        path.display()
    )));
    Ok(())
}
