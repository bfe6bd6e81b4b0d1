//! `callup casts`.

use super::ask::ask;
use crate::cli::Stop;
use crate::cli::args::{Casts as Args, Shared};
use crate::cli::session::Session;
use crate::scenario::diagnostic::visible;
use crate::study::casts::{CastsOf, Demand, rate};

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let wrong = faults(args);
    if !wrong.is_empty() {
        return Err(Stop::Input(wrong));
    }
    let study = CastsOf {
        names: [&args.a, &args.b].map(|n| n.trim().to_owned()),
        rates: rates(args)?,
        demand: Demand { alpha: args.alpha, power: args.power },
        casts: args.casts.map(|n| n as usize),
        pace_per_h: args.pace,
        hours_per_season: args.hours,
    };
    let session = Session::for_study(shared, args.scenario.as_deref(), &study)?;
    ask(shared, &session, &study, args.plot.as_deref()).map(drop)
}

/// More casts an hour, or hours a year, than there can be.
const MOST: f64 = 8_760.0;

/// All that is wrong with the numbers asked with.
fn faults(args: &Args) -> String {
    let mut wrong = String::new();
    let shares = [("--power", args.power, "0.8"), ("--alpha", args.alpha, "0.05")];
    for (name, value, like) in shares.into_iter().filter(|s| !(s.1 > 0.0 && s.1 < 1.0)) {
        wrong.push_str(&format!(
            "error: {name} {value} is no share between 0 and 1\n  help: write one like {name} {like}\n"
        ));
    }
    let amounts = [("--pace", args.pace.unwrap_or(1.0), "40"), ("--hours", args.hours.unwrap_or(1.0), "100")];
    for (name, value, like) in amounts.into_iter().filter(|a| !(a.1 > 0.0 && a.1 <= MOST)) {
        wrong.push_str(&format!(
            "error: {name} {value} is not above 0 and at most {MOST}\n  help: write one like {name} {like}\n"
        ));
    }
    wrong
}

/// Two rates, or none where two baits are named.
fn rates(args: &Args) -> Result<Option<[f64; 2]>, Stop> {
    let given = match (rate(&args.a), rate(&args.b)) {
        (None, None) => return Ok(None),
        (Some(a), Some(b)) => [a, b],
        (a, _) => {
            let (rate, bait) = if a.is_some() { (&args.a, &args.b) } else { (&args.b, &args.a) };
            return Err(Stop::Input(format!(
                "error: `{}` is a rate and `{}` is not\n  help: give two baits of the box, or two rates like 7% and \
                 \"10 in 100\"\n",
                visible(rate),
                visible(bait)
            )));
        }
    };
    let mut wrong: String = given
        .iter()
        .filter_map(|g| g.as_ref().err())
        .map(|e| format!("error: {}\n", visible(&e.to_string())))
        .collect();
    if args.scenario.is_some() {
        wrong.push_str(
            "error: two rates need no scenario\n  help: leave it out, or name two baits of its box instead of rates\n",
        );
    }
    match given {
        [Ok(a), Ok(b)] if wrong.is_empty() => Ok(Some([a, b])),
        _ => Err(Stop::Input(wrong)),
    }
}
