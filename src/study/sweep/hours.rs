//! Passes in an hour in every cell: what strikes in an hour are counted by where cells or baits fish at different pace.

use super::{Cube, Sweep, SweepError, at};
use crate::models::Assumed;
use crate::scenario::Scenario;
use crate::statistics::estimate::Estimate;
use crate::study::over_worlds;
use crate::study::pace::{Usual, casts_per_hour, passes_per_cast};

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

impl Sweep<'_> {
    /// Passes in an hour, `started` being the scenario started from; none where every bait fishes at one pace in every
    /// cell.
    ///
    /// # Errors
    /// [`SweepError::Prepared`] for a start that cannot be set up, [`SweepError::Models`] for incomplete models.
    pub fn hours(&self, started: &Scenario) -> Result<Option<Hours>, SweepError> {
        let (models, budget) = (self.request.models, self.request.budget);
        let fail = |reason| SweepError::Prepared { at: at(&self.request.axes, 0), reason };
        let usual = Usual::of_scenario(started, models).map_err(fail)?;
        let half_width_m = Assumed::defaults(models)?.half_width_m;
        let density = self.cells.iter().all(|c| c.fish_per_ha.is_some());
        let (mut passes, mut drawn, mut paces) = (Vec::new(), Vec::new(), Vec::new());
        for prepared in &self.cells {
            let casts = || prepared.baits.iter().map(|b| b.path.cast_m());
            let share = prepared.fish_reachable.unwrap_or(1.0);
            let in_an_hour = |cast_m| match passes_per_cast(prepared, cast_m, half_width_m, share) {
                Some(passes) if density => passes * casts_per_hour(prepared, cast_m),
                _ => usual.passes_per_hour(prepared, cast_m),
            };
            passes.push(casts().map(in_an_hour).collect());
            paces.extend(casts().map(|cast_m| usual.share(prepared, cast_m)));
            drawn.push(density && prepared.fish_reachable.is_none());
        }
        let first = paces.first().copied().unwrap_or(1.0);
        if paces.iter().all(|p| (p - first).abs() <= SAME_PACE * first) {
            return Ok(None);
        }
        let reachable = budget.worlds(models)?.assumed.iter().map(|a| a.reachable).collect();
        Ok(Some(Hours { cast_m: usual.cast_m, density, passes, drawn, reachable }))
    }
}
