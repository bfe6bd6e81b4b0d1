//! The strikes of every level of a rule at every point of its conditions in every plausible world.

use super::plan::{Paces, Place, Plan, Planned};
use crate::engine::block::{FishColumns, run};
use crate::engine::points::SCRAMBLES;
use crate::engine::table::{Control, each_draw};
use crate::engine::{Budget, Passes};
use crate::models::{Assumed, Models, ModelsError, Worlds};
use crate::study::pace::passes_in;
use crate::world::World;
use std::collections::HashMap;

/// Place of the strikes among the stages.
const STRUCK: usize = 2;

/// Passes of a world at its points are numbered this far apart; more worlds cannot be asked for.
const MOST_WORLDS: usize = 1 << 16;

/// Strikes per 100 passes of one bait in one setting in one world, by scramble of the passes.
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
    assumed: Vec<Assumed>,
    done: HashMap<usize, Vec<Vec<ByScramble>>>,
}

impl<'a> Workshop<'a> {
    /// Draws the worlds.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter.
    pub fn new(plan: &'a Plan, models: &Models, budget: Budget) -> Result<Self, ModelsError> {
        let worlds = if budget.fixed {
            Worlds::fixed(models)
        } else {
            Worlds::drawn(models, budget.seed, budget.draws)
        };
        let assumed = worlds.draws.iter().map(|d| Assumed::of(models, d)).collect::<Result<_, _>>()?;
        Ok(Self { plan, budget, worlds, assumed, done: HashMap::new() })
    }

    /// Plausible worlds.
    pub fn draws(&self) -> usize {
        self.assumed.len()
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
            .map(|p| p.setting)
            .filter(|s| !self.done.contains_key(s))
            .collect();
        missing.sort_unstable();
        missing.dedup();
        let (plan, budget, assumed) = (self.plan, self.budget, &self.assumed);
        let world = |w: usize| -> Option<Vec<Vec<ByScramble>>> {
            if control.stopped() {
                return None;
            }
            let mut passes: HashMap<usize, Passes> = HashMap::new();
            let settings = missing.iter().map(|&s| {
                let (setting, point) = (&plan.settings[s], plan.points[s]);
                let passes = &*passes
                    .entry(point)
                    .or_insert_with(|| Passes::of_world(budget.seed, w + point * MOST_WORLDS, budget.points));
                let world = World::new(setting, &assumed[w]);
                let fish = FishColumns::new(&world, passes);
                let bait = |bait| {
                    let means = run(&world, &world.offer(setting, &assumed[w], bait), &fish);
                    means.by_scramble.map(|stages| 100.0 * stages[STRUCK])
                };
                setting.baits.iter().map(bait).collect()
            });
            let settings = settings.collect();
            control.count();
            Some(settings)
        };
        let worlds: Vec<Vec<Vec<ByScramble>>> =
            each_draw(assumed.len(), world).into_iter().collect::<Option<_>>()?;
        for (k, &setting) in missing.iter().enumerate() {
            let baits = plan.settings[setting].baits.len();
            let by_bait = (0..baits).map(|b| worlds.iter().map(|w| w[k][b]).collect()).collect();
            self.done.insert(setting, by_bait);
        }
        let at =
            |p: &Place| self.done.get(&p.setting).and_then(|b| b.get(p.bait)).cloned().unwrap_or_default();
        let all = |cells: &[Vec<Place>]| cells.iter().map(|level| level.iter().map(at).collect()).collect();
        let (base, usual) = (&plan.base, &plan.usual);
        let passes_per_hour = assumed
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
