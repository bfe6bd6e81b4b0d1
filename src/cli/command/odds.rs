//! `callup odds`, and `callup` alone.

use super::{ask::ask, show};
use crate::cli::args::{Odds, Shared};
use crate::cli::session::Session;
use crate::cli::{Stop, output};
use crate::present::table::{Column, Table};
use crate::present::view::plain_document;
use crate::scenario::library;
use crate::study::odds::OddsOf;

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
    let session = Session::for_study(shared, args.scenario.as_deref(), &OddsOf)?;
    ask(shared, &session, &OddsOf, args.plot.as_deref())?;
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
