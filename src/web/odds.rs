//! The odds of the two baits, which of them leads, and whether that can be told.

use super::request::Request;
use super::{Refused, fault, pair, said, stage};
use crate::engine::Control;
use crate::engine::{Budget, Strikes};
use crate::models::{Assumed, Models};
use crate::present::view::{View, estimate_json};
use crate::present::wording::machine;
use crate::scenario::Catalogue;
use crate::scenario::write::to_toml;
use crate::study::Context;
use crate::study::odds::odds as reduce;
use crate::study::sweep::Cube;
use crate::study::sweep::reading::{Difference, difference};
use crate::world::Prepared;
use serde_json::{Value, json};

/// Answers `odds`.
///
/// # Errors
/// [`Refused`] for a scenario with faults or one that cannot be set up.
pub fn odds(request: &Request, models: &Models, catalogue: &Catalogue) -> Result<Value, Refused> {
    let checked = pair::scenario(request, catalogue)?;
    let scenario = checked.scenario;
    let fail = |e: String| Refused::Other(e);
    let prepared = Prepared::new(&scenario, models).map_err(|e| fail(e.to_string()))?;
    let usual = Budget::default();
    let budget = request.budget((usual.worlds, usual.passes));
    let table = Strikes::of(models, std::slice::from_ref(&prepared), budget, &Control::default())
        .map_err(|e| fail(e.to_string()))?;
    let odds = reduce(models, &prepared, &table, 0, budget.seed);
    let on = Context {
        models,
        scenario: &scenario,
        prepared: &prepared,
        budget,
        source: &request.source,
        file: &request.file,
        overrides: &[],
    };
    // The page breaks lines itself.
    let view = View::of(&on, request.units(), usize::MAX);
    let fixed = Assumed::defaults(models).map_err(|e| fail(e.to_string()))?;
    let apart = apart(&table, &odds.baits.iter().map(|b| b.name.clone()).collect::<Vec<_>>());
    let warnings: Vec<Value> = checked.warnings.iter().map(|d| fault(d, &request.source)).collect();
    Ok(json!({
        "odds": machine("odds", &view, &odds),
        "pair": apart.map(|d| json!({
            "more_per_100": estimate_json(&d.more),
            "ahead_share": d.ahead,
            "told": d.told,
        })),
        "said": said::odds(&view, &odds, apart),
        "stage": stage::stage(&scenario, &prepared, &fixed),
        "toml": to_toml(&scenario, catalogue),
        "warnings": warnings,
    }))
}

/// How the first bait differs from the second, read as a sweep reads a cell.
fn apart(table: &Strikes, names: &[String]) -> Option<Difference> {
    let struck = table.per_100(0);
    let cube = Cube {
        axes: Vec::new(),
        baits: names.to_vec(),
        draws: table.draws(),
        per_scramble: table.per_scramble,
        cells: vec![Some(struck.into_iter().collect())],
    };
    (names.len() == 2).then(|| difference(&cube, 0, 0, 1)).flatten()
}
