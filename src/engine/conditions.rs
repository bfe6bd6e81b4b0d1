//! Many scenarios set up together: running paths are worked out once for each box, tackle and temperature.

use super::control::each;
use crate::models::Models;
use crate::scenario::{Bait, Cast, Scenario};
use crate::world::{BaitInWater, PrepareError, Prepared};
use std::collections::HashMap;
use std::sync::Arc;

/// Sets scenarios up. Those whose baits run alike share their paths.
///
/// # Errors
/// The place of the first scenario that cannot be set up, and why.
pub fn prepare(scenarios: &[Scenario], models: &Models) -> Result<Vec<Prepared>, (usize, PrepareError)> {
    let boxes: Vec<&[Bait]> = scenarios.iter().map(|s| s.baits.as_slice()).collect();
    prepare_with(scenarios, &boxes, models)
}

/// The same with the box of each beside it.
///
/// # Errors
/// As [`prepare`].
pub fn prepare_with(
    scenarios: &[Scenario],
    boxes: &[&[Bait]],
    models: &Models,
) -> Result<Vec<Prepared>, (usize, PrepareError)> {
    let mut known: HashMap<String, usize> = HashMap::new();
    let mut firsts: Vec<usize> = Vec::new();
    let rigs: Vec<usize> = scenarios
        .iter()
        .zip(boxes)
        .enumerate()
        .map(|(i, (scenario, baits))| {
            *known.entry(rig(scenario, baits)).or_insert_with(|| {
                firsts.push(i);
                firsts.len() - 1
            })
        })
        .collect();
    let solved = each(firsts.len(), |k| {
        let i = firsts[k];
        let whole = Scenario { baits: boxes[i].to_vec(), ..scenarios[i].clone() };
        Prepared::new(&whole, models).map(|s| s.baits).map_err(|e| (i, e))
    });
    let paths: Vec<Arc<[BaitInWater]>> = solved.into_iter().collect::<Result<_, _>>()?;
    each(scenarios.len(), |i| {
        let bare = Scenario { baits: Vec::new(), ..scenarios[i].clone() };
        let prepared = Prepared::new(&bare, models).map_err(|e| (i, e))?;
        Ok(Prepared { baits: Arc::clone(&paths[rigs[i]]), ..prepared })
    })
    .into_iter()
    .collect()
}

/// All that the running paths depend on. Numbers are written so that they read back to the same bits.
fn rig(scenario: &Scenario, baits: &[Bait]) -> String {
    let t = &scenario.tackle;
    let cast = match t.cast {
        Cast::LineOut(line_out_m) => ("line out", line_out_m),
        Cast::Launch(speed_m_s) => ("launch", speed_m_s),
    };
    let numbers = [t.diameter_m, t.speed_m_s, t.rod_tip_m, scenario.water.temperature_c];
    format!("{cast:?} {numbers:?} {:?} {baits:?}", t.line)
}
