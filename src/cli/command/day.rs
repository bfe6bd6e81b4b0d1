//! `callup day`.

use super::ask::ask;
use crate::cli::Stop;
use crate::cli::args::{Day as Args, Shared};
use crate::cli::session::Session;
use crate::study::day::{DayOf, STEP_LIMITS_S};

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
    let study = DayOf { step_s: args.step, change_s: args.change, casts_per_hour: args.casts };
    let session = Session::for_study(shared, args.scenario.as_deref(), &study)?;
    ask(shared, &session, &study, args.plot.as_deref()).map(drop)
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
