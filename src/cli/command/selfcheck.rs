//! `callup selfcheck`.

use super::show;
use crate::cli::args::Shared;
use crate::cli::{Stop, output};
use crate::present::answers::selfcheck as answer;
use crate::study::selfcheck::{Check, selfcheck};

/// Runs it; a check that fails is a failure of the program.
pub(in crate::cli) fn run(shared: &Shared) -> Result<(), Stop> {
    let checks = selfcheck();
    let table = answer::table(&checks);
    show(
        shared,
        || answer::json(&checks),
        || table.clone(),
        || format!("{}\n\n{}", answer::summary(&checks), table.terminal(output::width())),
    )?;
    if checks.iter().all(Check::holds) { Ok(()) } else { Err(Stop::Failure(answer::summary(&checks))) }
}
