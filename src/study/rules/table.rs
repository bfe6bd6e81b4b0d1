//! The strikes of every level of a rule at every point of its conditions in every plausible world.

use super::plan::{Paces, Place, Plan, Planned};
use crate::engine::points::SCRAMBLES;
use crate::engine::{Budget, Condition, Control, simulate};
use crate::models::{Models, ModelsError, Worlds};
use crate::study::pace::passes_in;
use std::collections::HashMap;

/// Place of the strikes among the stages.
const STRUCK: usize = 2;

/// Strikes per 100 passes of one bait in one prepared scenario in one world, by scramble of the passes.
pub type ByScramble = [f64; SCRAMBLES];

/// Strikes per 100 passes of a rule.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Struck {
    /// Level (from the side that is said to draw more to the other), point of the conditions, world.
    pub levels: Vec<Vec<Vec<ByScramble>>>,
    /// The same of the first and the last level under what the gain is compared with; empty for a rule without.
    pub over: Vec<Vec<Vec<ByScramble>>>,
    /// What a pass counts for at equal time; none where all levels fish at one pace.
    pub paces: Option<Paces>,
    /// Passes in an hour of the scenario started from, by world.
    pub passes_per_hour: Vec<f64>,
    /// World draws per independent scramble of the worlds.
    pub per_scramble: usize,
}

impl Struck {
    /// Strikes of a level at equal time, per 100 passes at the pace of the scenario started from; per 100 passes where
    /// all levels fish at one pace.
    pub fn timed(&self, level: usize) -> Vec<Vec<ByScramble>> {
        timed(&self.levels, self.paces.as_ref().map(|p| p.levels.as_slice()), level)
    }

    /// The same of the first (0) or the last (1) level under what the gain is compared with.
    pub fn timed_over(&self, side: usize) -> Vec<Vec<ByScramble>> {
        timed(&self.over, self.paces.as_ref().map(|p| p.over.as_slice()), side)
    }
}

fn timed(levels: &[Vec<Vec<ByScramble>>], paces: Option<&[Vec<f64>]>, level: usize) -> Vec<Vec<ByScramble>> {
    let own = paces.and_then(|p| p.get(level));
    let pace = |point: usize| own.and_then(|p| p.get(point)).copied().unwrap_or(1.0);
    let points = levels.get(level).map_or(&[][..], Vec::as_slice).iter().enumerate();
    points.map(|(i, worlds)| worlds.iter().map(|s| s.map(|v| pace(i) * v)).collect()).collect()
}

/// Worlds and passes that all rules share, and what was worked out already.
#[derive(Debug)]
pub struct Workshop<'a> {
    plan: &'a Plan,
    budget: Budget,
    worlds: Worlds,
    done: HashMap<usize, Vec<Vec<ByScramble>>>,
}

impl<'a> Workshop<'a> {
    /// Draws the worlds.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter.
    pub fn new(plan: &'a Plan, models: &Models, budget: Budget) -> Result<Self, ModelsError> {
        Ok(Self { plan, budget, worlds: budget.worlds(models)?, done: HashMap::new() })
    }

    /// Drops what was worked out.
    pub fn forget(&mut self) {
        self.done.clear();
    }

    /// Works a rule out; `None` if stopped. [`Control::done`] counts the world draws.
    ///
    /// The same worlds for all, the same passes for every level and bait of a point, so that their luck cancels in a
    /// difference; fresh passes from point to point, so that what is left of it averages out over the conditions. The
    /// same bits for any number of threads.
    pub fn struck(&mut self, rule: &Planned, control: &Control) -> Option<Struck> {
        let mut missing: Vec<usize> = rule
            .cells
            .iter()
            .chain(&rule.over)
            .flatten()
            .map(|p| p.prepared)
            .filter(|s| !self.done.contains_key(s))
            .collect();
        missing.sort_unstable();
        missing.dedup();
        let plan = self.plan;
        let condition = |&s: &usize| Condition { prepared: &plan.settings[s], luck: plan.points[s] };
        let conditions: Vec<Condition> = missing.iter().map(condition).collect();
        let strikes = simulate(&conditions, &self.worlds, self.budget, control);
        if strikes.draws() < self.worlds.len() {
            return None;
        }
        let cells = &strikes.cells;
        for (k, &prepared) in missing.iter().enumerate() {
            let of = |b: usize| {
                let worlds = (0..self.worlds.len()).map(|w| cells[(k, b, w)].by_scramble);
                worlds.map(|scrambles| scrambles.map(|stages| 100.0 * stages[STRUCK])).collect()
            };
            self.done.insert(prepared, (0..plan.settings[prepared].baits.len()).map(of).collect());
        }
        let at =
            |p: &Place| self.done.get(&p.prepared).and_then(|b| b.get(p.bait)).cloned().unwrap_or_default();
        let all = |cells: &[Vec<Place>]| cells.iter().map(|level| level.iter().map(at).collect()).collect();
        let (base, usual) = (&plan.base, &plan.usual);
        let passes_per_hour = (self.worlds.assumed)
            .iter()
            .map(|a| usual.passes_per_hour * passes_in(base, usual.cast_m, a).unwrap_or(1.0))
            .collect();
        Some(Struck {
            levels: all(&rule.cells),
            over: all(&rule.over),
            paces: rule.paces.clone(),
            passes_per_hour,
            per_scramble: self.worlds.per_scramble,
        })
    }
}
