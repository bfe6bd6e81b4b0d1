//! `callup day`.

use super::{plot, show};
use crate::cli::args::{Day as Args, Shared};
use crate::cli::session::{Session, budget};
use crate::cli::{Stop, output, progress};
use crate::engine::table::Control;
use crate::present::answers::day as answer;
use crate::study::day::{DayError, Request, STEP_LIMITS_S, day};
use std::sync::Arc;

/// Worlds and passes where nothing else is said.
pub(super) const BUDGET: (usize, usize) = (256, 256);
/// Most and fewest casts an hour.
const CASTS: (f64, f64) = (1.0, 1000.0);
/// Longest time a change may take, s.
const LONGEST_CHANGE_S: f64 = 86_400.0;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let wrong = faults(args);
    if !wrong.is_empty() {
        return Err(Stop::Input(wrong));
    }
    let mut session = Session::open(shared, args.scenario.as_deref())?;
    session.budget = budget(shared, BUDGET);
    let request = Request {
        step_s: args.step,
        change_s: args.change,
        casts_per_hour: args.casts,
        budget: session.budget,
    };
    let control = Arc::new(Control::default());
    let answered = progress::watched(session.budget.as_run().draws, &control, |control| {
        day(&session.scenario, &session.models, request, control)
    })
    .map_err(|e| match e {
        DayError::Stopped => Stop::Failure(e.to_string()),
        _ => Stop::Input(format!("error: {}: {e}\n", session.file)),
    })?;
    if control.stopped() {
        output::complain(&format!("stopped: the answer rests on {} worlds only\n", answered.cube.draws));
    }
    let asked = session.asked();
    show(
        shared,
        || answer::machine::json(&asked, &answered),
        || answer::machine::csv(&answered),
        || answer::text(&asked, &answered),
    )?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures(&asked, &answered)),
        None => Ok(()),
    }
}

/// Everything that is wrong with the options.
fn faults(args: &Args) -> String {
    let mut wrong = String::new();
    if !(STEP_LIMITS_S.0..=STEP_LIMITS_S.1).contains(&args.step) {
        wrong.push_str("error: --step is out of range\n  help: write a time from 5min to 4h\n");
    }
    if args.change > LONGEST_CHANGE_S {
        wrong.push_str("error: --change is longer than a day\n  help: write a time from 0min to 24h\n");
    }
    if args.casts.is_some_and(|c| !(CASTS.0..=CASTS.1).contains(&c)) {
        wrong.push_str(
            "error: --casts is out of range\n  help: write the casts in an hour, from 1 to 1000, or leave it out: \
             then they follow from cast, speed and pause\n",
        );
    }
    wrong
}
