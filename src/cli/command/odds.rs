//! `callup odds`, and `callup` alone.

use super::{plot, show};
use crate::cli::args::{Odds, Shared};
use crate::cli::session::Session;
use crate::cli::{Stop, output, progress};
use crate::engine::StrikeTable;
use crate::engine::table::Control;
use crate::models::Assumed;
use crate::present::answers::{odds as answer, plain_document};
use crate::present::table::{Column, Table};
use crate::scenario::library;
use crate::study::odds::odds;
use crate::world::World;
use std::sync::Arc;

const NEXT: &str = "\nTry next:\n  \
    callup odds --set water.secchi=\"1.5 m\"   the same morning in half the clarity\n  \
    callup odds --plot pictures              the same as pictures\n  \
    callup sweep --over depth=1m..7m         which bait leads at which depth of the fish\n  \
    callup rules                             which rules of thumb survive (under a minute)\n  \
    callup day clearing-inlet                what to throw when, and when to change\n  \
    callup depth --to \"3 m\"                 what line, cast or rod tip runs deeper\n  \
    callup light                             how far each finish is seen, hour by hour\n  \
    callup assumptions guess                 what all this rests on\n  \
    callup new mine.toml                     a scenario of your own to start from\n";

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Odds) -> Result<(), Stop> {
    if args.list {
        return list(shared);
    }
    let session = Session::open(shared, args.scenario.as_deref())?;
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
    let odds = odds(&session.models, &session.setting, &table, 0, session.budget.seed);
    let asked = session.asked();
    show(shared, || answer::json(&asked, &odds), || answer::csv(&odds), || answer::text(&asked, &odds))?;
    if let Some(folder) = &args.plot {
        let fixed = Assumed::defaults(&session.models).map_err(|e| Stop::Input(format!("error: {e}\n")))?;
        let defaults = World::new(&session.setting, &fixed);
        plot(folder, &answer::pictures(&asked, &odds, &defaults))?;
    }
    if !shared.json && !shared.csv {
        output::print(NEXT)?;
    }
    Ok(())
}

fn list(shared: &Shared) -> Result<(), Stop> {
    let mut table = Table::new(vec![Column::text("name"), Column::text("what it shows")]);
    for (name, about) in library::list() {
        table.push([name, about]);
    }
    show(
        shared,
        || {
            let all: Vec<serde_json::Value> = library::list()
                .iter()
                .map(|(name, about)| serde_json::json!({ "name": name, "about": about }))
                .collect();
            plain_document("odds", "scenarios", all)
        },
        || table.clone(),
        || table.terminal(output::width()),
    )
}
