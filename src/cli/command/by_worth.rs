//! `callup assumptions --by-worth`.

use super::{plot, show};
use crate::cli::args::{Assumptions as Args, Shared};
use crate::cli::session::{self, Session};
use crate::cli::{Stop, output, progress};
use crate::engine::Control;
use crate::models::Experiments;
use crate::present::answers::by_worth as answer;
use crate::scenario::library;
use crate::study::why::WhyError;
use crate::study::why::waters::{DRAWS, POINTS, over, steps};
use std::sync::Arc;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    if shared.fixed {
        let help = "leave --fixed out: what is not drawn cannot be found out";
        return Err(Stop::Input(format!("error: {}\n  help: {help}\n", WhyError::Fixed)));
    }
    let bad = |e: &dyn std::fmt::Display| Stop::Input(format!("error: {e}\n"));
    let models = session::models(shared)?;
    let experiments = Experiments::embedded().map_err(|e| bad(&e))?;
    let mut waters = Vec::new();
    for (name, _) in library::list() {
        let text = library::get(name).unwrap_or_default().to_owned();
        waters
            .push((name.to_owned(), Session::of(shared, (text, format!("scenarios/{name}.toml")))?.setting));
    }
    let budget = session::budget(shared, (DRAWS, POINTS));
    let control = Arc::new(Control::default());
    let all = steps(&models, budget, waters.len());
    let found = progress::watched(all, &control, |control| over(&models, &waters, budget, control));
    let found = found.map_err(|error| match error {
        WhyError::Models(e) => bad(&e),
        other => Stop::Failure(other.to_string()),
    })?;
    if found.waters.len() < found.asked {
        output::complain(&format!(
            "stopped: the answer rests on {} of {} waters\n",
            found.waters.len(),
            found.asked
        ));
    }
    let asked = answer::Asked { models: &models, experiments: &experiments, budget: budget.as_run() };
    show(
        shared,
        || answer::json(&asked, &found),
        || answer::csv(&asked, &found),
        || answer::text(&asked, &found, args.all, output::width()),
    )?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures(&asked, &found)),
        None => Ok(()),
    }
}
