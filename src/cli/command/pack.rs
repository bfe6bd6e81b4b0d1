//! `callup pack`.

use super::{plot, show};
use crate::cli::args::{Pack as Args, Shared};
use crate::cli::session::{Session, budget, text_of};
use crate::cli::{Stop, color, faults, output, progress};
use crate::engine::table::Control;
use crate::present::answers::pack as answer;
use crate::scenario::diagnostic::{printable, visible};
use crate::scenario::{Catalogue, library, paths};
use crate::study::axis::{Axis, Wish};
use crate::study::pack::conditions::{Conditions, Source, conditions, usual_spread};
use crate::study::pack::{PackError, Request, pack};
use std::path::Path;
use std::sync::Arc;

/// Worlds and passes where nothing else is said.
const BUDGET: (usize, usize) = (256, 128);
/// The steps of an axis only set its ends here.
const WISH: Wish = Wish { steps: 2, logarithmic: false };

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let named = weighted(args)?;
    let mut session = Session::open(shared, named.first().map(|n| n.0.as_str()))?;
    session.budget = budget(shared, BUDGET);
    let mut texts = vec![(session.source.clone(), session.file.clone())];
    for (name, _) in named.iter().skip(1) {
        texts.push(text_of(Some(name))?);
    }
    let shares: Vec<f64> = named.iter().map(|n| n.1).collect();
    let sources: Vec<Source<'_>> =
        texts.iter().zip(&shares).map(|((text, file), &weight)| Source { text, file, weight }).collect();
    let usual =
        if named.len() == 1 && args.over.is_empty() { usual_spread(&session.scenario) } else { Vec::new() };
    let over = if usual.is_empty() { &args.over } else { &usual };
    let axes = axes(&session, over)?;
    let in_color = color::stderr(shared.no_color);
    let bad = |e: PackError| refused(&e, in_color);
    let wanted = args.conditions as usize;
    let drawn = conditions(&sources, &session.overrides, &session.models, &axes, wanted, session.budget.seed)
        .map_err(bad)?;
    doubts(&drawn);
    let request = Request { carry: args.carry, budget: session.budget };
    let control = Arc::new(Control::default());
    let answered = progress::watched(session.budget.as_run().draws, &control, |control| {
        pack(&drawn, &shares, &session.models, &axes, request, control)
    })
    .map_err(bad)?;
    if control.stopped() {
        output::complain(&format!("stopped: the answer rests on {} worlds only\n", answered.cube.draws));
    }
    let asked = session.asked();
    show(
        shared,
        || answer::machine::json(&asked, &answered),
        || answer::machine::csv(&answered),
        || answer::text(&asked, &answered, !usual.is_empty()),
    )?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures(&asked, &answered)),
        None => Ok(()),
    }
}

/// The scenarios with their weights; the default one where none is named.
fn weighted(args: &Args) -> Result<Vec<(String, f64)>, Stop> {
    let mut named: Vec<(String, f64)> = Vec::new();
    let mut wrong = String::new();
    for text in &args.scenarios {
        let whole = Path::new(text).exists() || library::get(text).is_some();
        match text.rsplit_once('=').filter(|_| !whole) {
            Some((name, weight)) => match weight.trim().parse::<f64>() {
                Ok(w) if w.is_finite() && w > 0.0 => named.push((name.to_owned(), w)),
                _ => wrong.push_str(&format!(
                    "error: `{}` is no weight\n  help: write a number above 0, as in {}=2\n",
                    visible(weight),
                    visible(name)
                )),
            },
            None => named.push((text.clone(), 1.0)),
        }
    }
    if named.is_empty() && wrong.is_empty() {
        named.push((library::DEFAULT.to_owned(), 1.0));
    }
    if let Some(list) = &args.weights {
        let weights: Vec<f64> = list
            .split(',')
            .filter_map(|w| w.trim().parse::<f64>().ok().filter(|w| w.is_finite() && *w > 0.0))
            .collect();
        let written = list.split(',').count();
        if args.scenarios.iter().any(|s| s.contains('=')) && named.iter().any(|n| n.1 != 1.0) {
            wrong.push_str("error: weights are given twice\n  help: keep --weights, or NAME=WEIGHT\n");
        } else if weights.len() != written || written != named.len() {
            wrong.push_str(&format!(
                "error: --weights \"{}\" does not give each of the scenarios a weight\n  help: write {} numbers above 0 \
                 with commas\n",
                visible(list),
                named.len()
            ));
        } else {
            for (one, weight) in named.iter_mut().zip(weights) {
                one.1 = weight;
            }
        }
    }
    if wrong.is_empty() { Ok(named) } else { Err(Stop::Input(wrong)) }
}

fn axes(session: &Session, over: &[String]) -> Result<Vec<Axis>, Stop> {
    let settings = paths(&Catalogue::of(&session.models));
    let mut axes = Vec::new();
    let mut wrong = String::new();
    for text in over {
        match Axis::parse(text, WISH, &settings) {
            Ok(axis) => axes.push(axis),
            Err(e) => wrong.push_str(&format!("error: --over: {e}\n  help: {}\n", e.help())),
        }
    }
    if wrong.is_empty() { Ok(axes) } else { Err(Stop::Input(wrong)) }
}

/// What is wrong, with what is wrong with the scenario of an impossible condition.
fn refused(error: &PackError, in_color: bool) -> Stop {
    match error {
        PackError::Stopped => Stop::Failure(error.to_string()),
        PackError::Faults { text, faults: all, .. } => {
            let said = printable(&format!(
                "error: {error}\n  help: mend the file, narrow the spread, or leave the scenario out\n\n"
            ));
            Stop::Faults(format!("{said}{}", faults::render(all, text, in_color)))
        }
        _ => Stop::Input(format!("error: {error}\n")),
    }
}

fn doubts(drawn: &Conditions) {
    if let Some((count, first)) = &drawn.doubts {
        output::complain(&printable(&format!(
            "warning: of {count} conditions it is doubtful whether {}: {}\n",
            first.title, first.help
        )));
    }
}
