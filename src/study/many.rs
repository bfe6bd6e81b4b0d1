//! Many scenarios worked out together, with the same worlds and passes in each.

use super::sweep::Cube;
use super::sweep::parallel::each;
use crate::engine::table::Control;
use crate::engine::{Budget, StrikeTable};
use crate::models::{Assumed, Models};
use crate::scenario::Scenario;
use crate::world::{OfferedBait, Setting, SettingError};
use ndarray::Axis;

/// More numbers (conditions times baits times worlds) than this would not fit the memory an answer may take (about
/// 150 bytes each while they are gathered).
pub const MOST_NUMBERS: usize = 2_000_000;

/// Sets scenarios up; running paths are worked out once for each box, tackle and temperature.
///
/// # Errors
/// The place of the first scenario that cannot be set up, and why.
pub fn settings(scenarios: &[Scenario], models: &Models) -> Result<Vec<Setting>, (usize, SettingError)> {
    // For each scenario the first one that its baits run alike in.
    let mut rigs: Vec<usize> = Vec::new();
    let rig_of: Vec<usize> = (0..scenarios.len())
        .map(|i| {
            let known = rigs.iter().position(|&j| run_alike(&scenarios[i], &scenarios[j]));
            known.unwrap_or_else(|| {
                rigs.push(i);
                rigs.len() - 1
            })
        })
        .collect();
    let solved = each(rigs.len(), |k| Setting::new(&scenarios[rigs[k]], models).map(|s| s.baits));
    let mut paths: Vec<Vec<OfferedBait>> = Vec::with_capacity(rigs.len());
    for (k, baits) in solved.into_iter().enumerate() {
        paths.push(baits.map_err(|e| (rigs[k], e))?);
    }
    each(scenarios.len(), |i| {
        let bare = Scenario { baits: Vec::new(), ..scenarios[i].clone() };
        let setting = Setting::new(&bare, models).map_err(|e| (i, e))?;
        Ok(Setting { baits: paths[rig_of[i]].clone(), ..setting })
    })
    .into_iter()
    .collect()
}

/// Whether all baits run the same in two scenarios.
fn run_alike(a: &Scenario, b: &Scenario) -> bool {
    let numbers = |s: &Scenario| {
        let t = &s.tackle;
        [t.diameter_m, t.speed_m_s, t.rod_tip_m, s.water.temperature_c].map(f64::to_bits)
    };
    numbers(a) == numbers(b)
        && a.tackle.cast == b.tackle.cast
        && a.tackle.line == b.tackle.line
        && a.baits == b.baits
}

/// Strikes per 100 passes of every bait in every setting, one cell per setting, and the worlds they were worked out
/// in. All settings share one box. A stopped computation rests on fewer worlds.
///
/// # Errors
/// [`SettingError::Models`] where the models lack a parameter.
pub fn strikes(
    models: &Models,
    settings: &[Setting],
    budget: Budget,
    control: &Control,
) -> Result<(Cube, Vec<Assumed>), SettingError> {
    let table = StrikeTable::fill(models, settings, budget, control)?;
    let cells = table.struck.axis_iter(Axis(0)).map(|cell| Some(cell.iter().map(|p| 100.0 * p).collect()));
    let cube = Cube {
        axes: Vec::new(),
        baits: settings.first().map_or(Vec::new(), |s| s.baits.iter().map(|b| b.name.clone()).collect()),
        draws: table.draws(),
        per_scramble: table.per_scramble,
        cells: cells.collect(),
    };
    Ok((cube, table.worlds))
}
