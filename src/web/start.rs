//! What the page begins with: what there is to choose from, and what a scenario says.

use super::{Refused, fault, pair, request::Request, stage};
use crate::models::{Assumed, Models};
use crate::present::escape::terminal_text;
use crate::present::view::CAUTION;
use crate::scenario::write::{of_catalogue, to_toml};
use crate::scenario::{Catalogue, SettingKind, library, paths};
use crate::world::Prepared;
use serde_json::{Map, Value, json};

/// Names, ranges and the scenarios of the library.
pub fn start(catalogue: &Catalogue) -> Value {
    let mut lengths_m: Vec<f64> = catalogue.baits.iter().map(|b| b.length_m).collect();
    lengths_m.sort_by(f64::total_cmp);
    lengths_m.dedup();
    let scenarios: Vec<Value> = library::list()
        .into_iter()
        .filter_map(|(name, about)| {
            Some(json!({ "name": name, "about": about, "text": library::get(name)? }))
        })
        .collect();
    let mut words = Map::new();
    for prepared in paths(catalogue) {
        if let SettingKind::Choice(all) = prepared.kind {
            words.insert(prepared.path.into(), all.into());
        }
    }
    json!({
        "version": env!("CARGO_PKG_VERSION"),
        "scenarios": scenarios,
        "default": library::DEFAULT,
        "lengths_m": lengths_m,
        "words": words,
        "caution": CAUTION,
    })
}

/// A scenario as checked, the names in its box, and the text that says the same.
///
/// # Errors
/// [`Refused`] for a scenario with faults.
pub fn read(request: &Request, models: &Models, catalogue: &Catalogue) -> Result<Value, Refused> {
    let checked = pair::scenario(request, catalogue)?;
    let fail = |e: String| Refused::Other(e);
    let prepared = Prepared::new(&checked.scenario, models).map_err(|e| fail(e.to_string()))?;
    let fixed = Assumed::defaults(models).map_err(|e| fail(e.to_string()))?;
    let names: Vec<Value> = checked
        .scenario
        .baits
        .iter()
        .map(|b| {
            json!({
                "name": b.name,
                "shown": terminal_text(&b.name),
                "finish": b.finish,
                "known": of_catalogue(b, catalogue),
            })
        })
        .collect();
    let warnings: Vec<Value> = checked.warnings.iter().map(|d| fault(d, &request.source)).collect();
    Ok(json!({
        "scenario": checked.scenario,
        "title": terminal_text(&checked.scenario.title),
        "baits": names,
        "secchi_m": stage::secchi_m(&prepared, &fixed),
        "toml": to_toml(&checked.scenario, catalogue),
        "warnings": warnings,
    }))
}
