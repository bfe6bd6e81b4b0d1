//! One file per command: ask, answer, show.

mod ask;
pub(super) mod assumptions;
pub(super) mod casts;
pub(super) mod day;
pub(super) mod depth;
pub(super) mod learn;
pub(super) mod light;
pub(super) mod new;
pub(super) mod odds;
pub(super) mod pack;
pub(super) mod page;
pub(super) mod report;
pub(super) mod rules;
pub(super) mod selfcheck;
pub(super) mod shell;
pub(super) mod sweep;
pub(super) mod trials;
pub(super) mod why;

use super::args::Shared;
use super::{Stop, color, draw, output};
use crate::present::scene::Scene;
use crate::present::table::Table;
use crate::scenario::diagnostic::printable;
use serde_json::Value;
use std::path::Path;

/// Shows an answer in the form asked for.
fn show(
    shared: &Shared,
    json: impl FnOnce() -> Value,
    csv: impl FnOnce() -> Table,
    text: impl FnOnce() -> String,
) -> Result<(), Stop> {
    if shared.json {
        output::json(&json())
    } else if shared.csv {
        output::csv(&csv())
    } else {
        output::print(&emphasised(&text(), color::stdout(shared.no_color)))
    }
}

/// The first line, which names the place, in bold on a terminal.
fn emphasised(text: &str, color: bool) -> String {
    match text.split_once('\n') {
        Some((first, rest)) => format!("{}\n{rest}", color::bold(first, color)),
        None => text.to_owned(),
    }
}

/// Writes pictures as PNG and SVG and says where.
fn plot<N: AsRef<str>>(folder: &Path, pictures: &[(N, Scene)]) -> Result<(), Stop> {
    std::fs::create_dir_all(folder).map_err(|e| {
        Stop::Failure(format!("cannot make the folder {}: {e}; give another with --plot", folder.display()))
    })?;
    for (name, scene) in pictures {
        for ending in ["png", "svg"] {
            let path = folder.join(format!("{}.{ending}", name.as_ref()));
            draw::save(scene, &path).map_err(|e| Stop::Failure(e.to_string()))?;
            output::complain(&printable(&format!("wrote {}\n", path.display())));
        }
    }
    Ok(())
}
