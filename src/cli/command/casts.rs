//! `callup casts`.

use super::{plot, show};
use crate::cli::args::{Casts as Args, Shared};
use crate::cli::session::{self, Session};
use crate::cli::{Stop, output, progress};
use crate::engine::StrikeTable;
use crate::engine::table::Control;
use crate::models::Assumed;
use crate::present::answers::casts::{self as answer, About};
use crate::scenario::diagnostic::visible;
use crate::study::casts::{self, Casts, Demand, Question, RateError, rate};
use crate::study::sweep::bait_of;
use std::sync::Arc;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let question = question(shared, args)?;
    match (rate(&args.a), rate(&args.b)) {
        (None, None) => baits(shared, args, question),
        (Some(a), Some(b)) => rates(shared, args, question, [a, b]),
        (a, _) => {
            let (rate, bait) = if a.is_some() { (&args.a, &args.b) } else { (&args.b, &args.a) };
            Err(Stop::Input(format!(
                "error: `{}` is a rate and `{}` is not\n  help: give two baits of the box, or two rates like 7% and \
                 \"10 in 100\"\n",
                visible(rate),
                visible(bait)
            )))
        }
    }
}

/// The numbers asked with, all that is wrong with them at once.
fn question(shared: &Shared, args: &Args) -> Result<Question, Stop> {
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
    if !wrong.is_empty() {
        return Err(Stop::Input(wrong));
    }
    let practice =
        Assumed::defaults(&session::models(shared)?).map_err(|e| Stop::Input(format!("error: {e}\n")))?;
    Ok(Question {
        demand: Demand { alpha: args.alpha, power: args.power },
        casts: args.casts.map(|n| n as usize),
        pace_per_h: args.pace,
        usual_pace_per_h: practice.casts_per_hour,
        hours_per_season: args.hours.unwrap_or(practice.season_hours),
        lifetime_seasons: practice.lifetime_seasons,
        seed: shared.seed,
    })
}

/// More casts an hour, or hours a year, than there can be.
const MOST: f64 = 8_760.0;

fn rates(
    shared: &Shared,
    args: &Args,
    question: Question,
    given: [Result<f64, RateError>; 2],
) -> Result<(), Stop> {
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
        [Ok(a), Ok(b)] if wrong.is_empty() => {
            let names = [&args.a, &args.b].map(|n| n.trim().to_owned());
            let found =
                casts::of_rates(names, [a, b], question).map_err(|e| Stop::Input(format!("error: {e}\n")))?;
            let about = About { asked: None, width: output::width() };
            out(shared, args, &about, &found)
        }
        _ => Err(Stop::Input(wrong)),
    }
}

fn baits(shared: &Shared, args: &Args, question: Question) -> Result<(), Stop> {
    let session = Session::open(shared, args.scenario.as_deref())?;
    let names: Vec<String> = session.setting.baits.iter().map(|b| b.name.clone()).collect();
    let mut wrong = String::new();
    let mut places = Vec::new();
    for name in [&args.a, &args.b] {
        match bait_of(&names, name) {
            Ok(b) => places.push(b),
            Err(e) => wrong.push_str(&format!("error: {e}\n  help: {}\n", e.help())),
        }
    }
    let pair = match places.as_slice() {
        [a, b] if a != b => [*a, *b],
        [a, _] => {
            wrong = format!("error: both are {}\n  help: name two different baits of the box\n", names[*a]);
            return Err(Stop::Input(wrong));
        }
        _ => return Err(Stop::Input(wrong)),
    };
    let control = Arc::new(Control::default());
    let settings = std::slice::from_ref(&session.setting);
    let table = progress::watched(session.budget.draws, &control, |control| {
        StrikeTable::fill(&session.models, settings, session.budget, control)
    })
    .map_err(|e| Stop::Input(format!("error: {e}\n")))?;
    if table.draws() == 0 {
        return Err(Stop::Failure("stopped before the first world was finished".into()));
    }
    if control.stopped() {
        output::complain(&format!("stopped: the answer rests on {} worlds only\n", table.draws()));
    }
    let found = casts::of_baits(&session.setting, &table, pair, question)
        .map_err(|e| Stop::Input(format!("error: {e}\n")))?;
    let about = About { asked: Some(session.asked()), width: output::width() };
    out(shared, args, &about, &found)
}

fn out(shared: &Shared, args: &Args, about: &About, found: &Casts) -> Result<(), Stop> {
    show(shared, || answer::json(about, found), || answer::csv(found), || answer::text(about, found))?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures(about, found)),
        None => Ok(()),
    }
}
