//! One condition varied for the two baits: the strip, and what would change the answer.

use super::Refused;
use super::pair;
use super::request::Request;
use crate::engine::table::Control;
use crate::models::Models;
use crate::present::answers::Asked;
use crate::present::answers::sweep::labels::Side;
use crate::present::answers::sweep::{headline, machine};
use crate::scenario::write::to_toml;
use crate::scenario::{Catalogue, paths};
use crate::study::axis::{Axis, Wish};
use crate::study::sweep::reading::Answer;
use crate::study::sweep::{LINE_BUDGET, Request as Varied, Sweep, SweepError};
use crate::world::Setting;
use serde_json::{Value, json};

/// Steps where the request does not say.
const STEPS: usize = 13;

/// Answers `sweep`.
///
/// # Errors
/// [`Refused`] for a scenario with faults, an axis that is none, or a cell that is impossible.
pub fn sweep(request: &Request, models: &Models, catalogue: &Catalogue) -> Result<Value, Refused> {
    let scenario = pair::scenario(request, catalogue)?.scenario;
    let setting = Setting::new(&scenario, models).map_err(|e| Refused::Other(e.to_string()))?;
    let wish = Wish { steps: STEPS, logarithmic: false };
    let axis = Axis::parse(&request.over, wish, &paths(catalogue))
        .map_err(|e| Refused::Request(format!("{e}; {}", e.help())))?;
    let budget = request.budget(LINE_BUDGET);
    // The two baits may come from different boxes; written out they are in one.
    let source = to_toml(&scenario, catalogue);
    let varied = Varied {
        source: &source,
        file: &request.file,
        overrides: &[],
        models,
        axes: vec![axis],
        baits: &[],
        budget,
    };
    let bad = |e: SweepError| match e {
        SweepError::Impossible { faults, .. } => Refused::Faults(faults, source.clone()),
        other => Refused::Other(other.to_string()),
    };
    let sweep = Sweep::prepare(varied).map_err(bad)?;
    let mut cube = sweep.cube();
    sweep.run(&mut cube, &Control::default()).map_err(bad)?;
    let hours = sweep.hours(&scenario).map_err(bad)?;
    let answer = Answer::of(cube, None).with_hours(hours.as_ref());
    let asked = Asked {
        scenario: &scenario,
        setting: &setting,
        budget: budget.as_run(),
        units: request.units(),
        width: usize::MAX,
    };
    let sides: Vec<Side> = answer.cube.axes.iter().map(|a| Side::of(&asked, a)).collect();
    Ok(json!({
        "sweep": machine::json(&asked, &answer),
        "said": headline(&sides, &answer),
        "levels": answer.readings.iter().map(|r| r.as_ref().is_some_and(|r| r.level)).collect::<Vec<_>>(),
        "axis": sides.first().map(|s| json!({
            "name": s.name, "unit": s.unit, "values": s.values, "words": s.words, "logarithmic": s.logarithmic,
            "here": s.here,
        })),
    }))
}
