//! `callup light`.

use super::{plot, show};
use crate::cli::Stop;
use crate::cli::args::{Light, Shared};
use crate::cli::session::Session;
use crate::present::answers::light as answer;
use crate::study::light::light;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Light) -> Result<(), Stop> {
    let session = Session::open(shared, args.scenario.as_deref())?;
    let answered = light(&session.scenario, &session.models, session.budget.seed, session.budget.fixed)
        .map_err(|e| Stop::Input(format!("error: {e}\n")))?;
    let asked = session.asked();
    show(
        shared,
        || answer::json(&asked, &answered),
        || answer::csv(&answered),
        || answer::text(&asked, &answered),
    )?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures(&asked, &answered)),
        None => Ok(()),
    }
}
