//! The pace of fishing: casts in an hour, and how many fish a cast passes. Every command counts by these.
//!
//! A slow retrieve, a long pause or a long cast costs casts. What it gives in a pass can only be weighed against that
//! by the hour: strikes in an hour = strikes per pass x passes per cast x casts an hour.

use crate::models::{Assumed, Models};
use crate::scenario::Scenario;
use crate::world::prepared::{line_of, retrieve_of};
use crate::world::{PrepareError, Prepared};

/// Line out when a bait lands, mean over the box, m: baits of different weight may fly differently far.
pub fn mean_cast_m(prepared: &Prepared) -> f64 {
    prepared.baits.iter().map(|b| b.path.cast_m()).sum::<f64>() / prepared.baits.len().max(1) as f64
}

/// Whether the baits of the box fly differently far.
pub fn casts_differ(prepared: &Prepared) -> bool {
    let mut casts = prepared.baits.iter().map(|b| b.path.cast_m());
    casts.next().is_some_and(|first| casts.any(|other| other != first))
}

/// Line out when each bait lands, m, with no running path worked out.
///
/// # Errors
/// [`PrepareError`] for a bait that cannot be cast.
pub fn casts_m(scenario: &Scenario, models: &Models) -> Result<Vec<f64>, PrepareError> {
    let (fixed, line) = (Assumed::defaults(models)?, line_of(scenario, models)?);
    scenario.baits.iter().map(|bait| Ok(retrieve_of(scenario, bait, &line, &fixed)?.cast_m)).collect()
}

/// Casts an hour with a cast of `cast_m`: each takes its retrieve at the mean speed and the time between two.
pub fn casts_per_hour(prepared: &Prepared, cast_m: f64) -> f64 {
    3600.0 / (cast_m / prepared.mean_speed_m_s + prepared.between_casts_s)
}

/// Mean number of passes near a fish in a cast of `cast_m`, where the density of fish is known: density x the area
/// swept within `half_width_m` to either side x the share of the fish that are `reachable`.
pub fn passes_per_cast(prepared: &Prepared, cast_m: f64, half_width_m: f64, reachable: f64) -> Option<f64> {
    let swept_m2 = cast_m * 2.0 * half_width_m;
    Some(prepared.fish_per_ha? / SQUARE_METRES_PER_HECTARE * swept_m2 * reachable)
}

/// The same in one world: the share within reach as the scenario says, or as that world has it.
pub fn passes_in(prepared: &Prepared, cast_m: f64, assumed: &Assumed) -> Option<f64> {
    let reachable = prepared.fish_reachable.unwrap_or(assumed.reachable);
    passes_per_cast(prepared, cast_m, assumed.half_width_m, reachable)
}

/// The same in every world.
pub fn passes_by_world(prepared: &Prepared, cast_m: f64, worlds: &[Assumed]) -> Option<Vec<f64>> {
    worlds.iter().map(|world| passes_in(prepared, cast_m, world)).collect()
}

const SQUARE_METRES_PER_HECTARE: f64 = 1e4;

/// The cast of the scenario started from: what strikes an hour are counted by where no density of fish is given.
///
/// Then every metre of retrieve passes equally many fish, as many as make one pass in a cast of this length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// Its length, mean over the box, m.
    pub cast_m: f64,
    /// Passes, and casts, in an hour.
    pub passes_per_hour: f64,
}

impl Usual {
    /// Of the scenario started from.
    pub fn of(prepared: &Prepared) -> Self {
        let cast_m = mean_cast_m(prepared);
        Self { cast_m, passes_per_hour: casts_per_hour(prepared, cast_m) }
    }

    /// The same with no running path worked out.
    ///
    /// # Errors
    /// [`PrepareError`] for a scenario that cannot be set up.
    pub fn of_scenario(scenario: &Scenario, models: &Models) -> Result<Self, PrepareError> {
        let bare = Prepared::new(&Scenario { baits: Vec::new(), ..scenario.clone() }, models)?;
        let casts = casts_m(scenario, models)?;
        let cast_m = casts.iter().sum::<f64>() / casts.len().max(1) as f64;
        Ok(Self { cast_m, passes_per_hour: casts_per_hour(&bare, cast_m) })
    }

    /// Passes in an hour with a cast of `cast_m` in another setting: `cast_m` over the usual cast x casts an hour.
    pub fn passes_per_hour(&self, prepared: &Prepared, cast_m: f64) -> f64 {
        let passes = if self.cast_m > 0.0 { cast_m / self.cast_m } else { 1.0 };
        passes * casts_per_hour(prepared, cast_m)
    }

    /// That over the passes in an hour of the scenario started from: what strikes per pass are multiplied by to be
    /// compared at equal time.
    pub fn share(&self, prepared: &Prepared, cast_m: f64) -> f64 {
        self.passes_per_hour(prepared, cast_m) / self.passes_per_hour
    }
}
