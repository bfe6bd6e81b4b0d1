//! One condition varied for the two baits: the strip, and what would change the answer.

use super::Refused;
use super::pair;
use super::request::Request;
use crate::engine::Control;
use crate::models::Models;
use crate::present::view::View;
use crate::present::wording::machine;
use crate::present::wording::sweep::{headline, sides};
use crate::scenario::write::to_toml;
use crate::scenario::{Catalogue, paths};
use crate::study::axis::{Axis, Wish};
use crate::study::sweep::{LINE_BUDGET, Varied};
use crate::study::{Context, Study, Unanswered};
use crate::world::Prepared;
use serde_json::{Value, json};

/// Steps where the request does not say.
const STEPS: usize = 13;

/// Answers `sweep`.
///
/// # Errors
/// [`Refused`] for a scenario with faults, an axis that is none, or a cell that is impossible.
pub fn sweep(request: &Request, models: &Models, catalogue: &Catalogue) -> Result<Value, Refused> {
    let scenario = pair::scenario(request, catalogue)?.scenario;
    let prepared = Prepared::new(&scenario, models).map_err(|e| Refused::Other(e.to_string()))?;
    let wish = Wish { steps: STEPS, logarithmic: false };
    let axis = Axis::parse(&request.over, wish, &paths(catalogue))
        .map_err(|e| Refused::Request(format!("{e}; {}", e.help())))?;
    let budget = request.budget(LINE_BUDGET);
    // The two baits may come from different boxes; written out they are in one.
    let source = to_toml(&scenario, catalogue);
    let on = Context {
        models,
        scenario: &scenario,
        prepared: &prepared,
        budget,
        source: &source,
        file: &request.file,
        overrides: &[],
    };
    let study = Varied { axes: vec![axis], ..Varied::default() };
    let answer = study.run(&on, &Control::default()).map_err(|why| match why {
        Unanswered::Faults { faults, .. } => Refused::Faults(faults, source.clone()),
        Unanswered::Input(what, _) | Unanswered::Failed(what) => Refused::Other(what),
        Unanswered::Several(all) => Refused::Other(all.into_iter().map(|(what, _)| what).collect()),
    })?;
    // The page breaks lines itself.
    let view = View::of(&on, request.units(), usize::MAX);
    let sides = sides(&view, &answer);
    Ok(json!({
        "sweep": machine("sweep", &view, &answer),
        "said": headline(&sides, &answer),
        "levels": answer.readings.iter().map(|r| r.as_ref().is_some_and(|r| r.level)).collect::<Vec<_>>(),
        "axis": sides.first().map(|s| json!({
            "name": s.name, "unit": s.unit, "values": s.values, "words": s.words, "logarithmic": s.logarithmic,
            "here": s.here,
        })),
    }))
}
