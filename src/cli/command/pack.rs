//! `callup pack`.

use super::ask::ask;
use crate::cli::args::{Pack as Args, Shared};
use crate::cli::session::{Session, budget, text_of};
use crate::cli::{Stop, output};
use crate::scenario::diagnostic::{printable, visible};
use crate::scenario::library;
use crate::study::Study;
use crate::study::axis::Wish;
use crate::study::pack::PackOf;
use crate::study::pack::conditions::usual_spread;
use std::path::Path;

/// The steps of an axis only set its ends here.
const WISH: Wish = Wish { steps: 2, logarithmic: false };

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let named = weighted(args)?;
    let mut session = Session::open(shared, named.first().map(|n| n.0.as_str()))?;
    session.budget = budget(shared, PackOf::USUAL);
    let mut sources = vec![(session.source.clone(), session.file.clone(), named[0].1)];
    for (name, weight) in named.iter().skip(1) {
        let (text, file) = text_of(Some(name))?;
        sources.push((text, file, *weight));
    }
    let usual =
        if named.len() == 1 && args.over.is_empty() { usual_spread(&session.scenario) } else { Vec::new() };
    let study = PackOf {
        sources,
        axes: session.axes(if usual.is_empty() { &args.over } else { &usual }, WISH)?,
        usual: !usual.is_empty(),
        conditions: args.conditions as usize,
        carry: args.carry,
    };
    let packed = ask(shared, &session, &study, args.plot.as_deref())?;
    if let Some((count, first)) = &packed.doubts {
        let (title, help) = (&first.title, &first.help);
        output::complain(&printable(&format!(
            "warning: of {count} conditions it is doubtful whether {title}: {help}\n"
        )));
    }
    Ok(())
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
