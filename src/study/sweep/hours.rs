//! Passes in an hour in every cell: what strikes in an hour are counted by where cells or baits fish at different pace.

use super::{Cube, Scenario, Sweep, SweepError, at};
use crate::models::{Assumed, Models, ModelsError, Worlds};
use crate::statistics::estimate::Estimate;
use crate::study::over_worlds;
use crate::study::pace::{Usual, casts_m, casts_per_hour, passes_per_cast};
use crate::world::Setting;
use std::collections::HashMap;
use std::collections::hash_map::Entry;

/// Paces nearer than this share of each other are one.
const SAME_PACE: f64 = 1e-9;

/// Passes in an hour.
#[derive(Debug, Clone, PartialEq)]
pub struct Hours {
    /// The cast of the scenario started from, by which they are counted where no density of fish is given, m.
    pub cast_m: f64,
    /// Whether the density of fish is given everywhere.
    pub density: bool,
    /// Of each bait in each cell; where `drawn`, with all fish within reach.
    passes: Vec<Vec<f64>>,
    /// Whether the share of the fish within reach is that of the world.
    drawn: Vec<bool>,
    /// That share, by world.
    reachable: Vec<f64>,
}

impl Hours {
    /// Strikes in an hour of every bait in a cell; `None` where it was not worked out.
    pub fn strikes(&self, cube: &Cube, cell: usize) -> Option<Vec<Estimate>> {
        let (passes, drawn) = (self.passes.get(cell)?, *self.drawn.get(cell)?);
        let one = |(bait, passes): (usize, &f64)| {
            let strikes = cube.strikes(cell, bait)?.iter().enumerate();
            let share = |w: usize| if drawn { self.reachable.get(w).copied().unwrap_or(0.0) } else { 1.0 };
            let by_world: Vec<f64> = strikes.map(|(w, s)| s / 100.0 * passes * share(w)).collect();
            Some(over_worlds(&by_world, cube.per_scramble))
        };
        passes.iter().enumerate().map(one).collect()
    }
}

fn reachable(models: &Models, worlds: &Worlds) -> Result<Vec<f64>, ModelsError> {
    worlds.draws.iter().map(|draw| Ok(Assumed::of(models, draw)?.reachable)).collect()
}

impl Sweep<'_> {
    /// Passes in an hour, `started` being the scenario started from; none where every bait fishes at one pace in every
    /// cell.
    ///
    /// # Errors
    /// [`SweepError::Setting`] for a cell that cannot be set up, [`SweepError::Models`] for incomplete models.
    pub fn hours(&self, started: &Scenario) -> Result<Option<Hours>, SweepError> {
        let (models, budget) = (self.request.models, self.request.budget);
        let fail =
            |cell: usize| move |reason| SweepError::Setting { at: at(&self.request.axes, cell), reason };
        let usual = Usual::of_scenario(started, models).map_err(fail(0))?;
        let half_width_m = Assumed::defaults(models)?.half_width_m;
        let density = self.cells.iter().all(|c| c.scenario.fish.density_per_ha.is_some());
        let mut known: HashMap<usize, Vec<f64>> = HashMap::new();
        let (mut passes, mut drawn, mut paces) = (Vec::new(), Vec::new(), Vec::new());
        for (i, cell) in self.cells.iter().enumerate() {
            let setting = Setting::new(&cell.scenario, models).map_err(fail(i))?;
            let casts: &Vec<f64> = match known.entry(cell.rig) {
                Entry::Occupied(found) => found.into_mut(),
                Entry::Vacant(place) => {
                    let baits = self.boxes[self.rigs[cell.rig].own].clone();
                    let whole = Scenario { baits, ..cell.scenario.clone() };
                    place.insert(casts_m(&whole, models).map_err(fail(i))?)
                }
            };
            let share = setting.fish_reachable.unwrap_or(1.0);
            let in_an_hour = |&cast_m: &f64| match passes_per_cast(&setting, cast_m, half_width_m, share) {
                Some(passes) if density => passes * casts_per_hour(&setting, cast_m),
                _ => usual.passes_per_hour(&setting, cast_m),
            };
            passes.push(casts.iter().map(in_an_hour).collect());
            paces.extend(casts.iter().map(|&cast_m| usual.share(&setting, cast_m)));
            drawn.push(density && setting.fish_reachable.is_none());
        }
        let first = paces.first().copied().unwrap_or(1.0);
        if paces.iter().all(|p| (p - first).abs() <= SAME_PACE * first) {
            return Ok(None);
        }
        let worlds = if budget.fixed {
            Worlds::fixed(models)
        } else {
            Worlds::drawn(models, budget.seed, budget.draws)
        };
        let reachable = reachable(models, &worlds)?;
        Ok(Some(Hours { cast_m: usual.cast_m, density, passes, drawn, reachable }))
    }
}
