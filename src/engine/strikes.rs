//! The strikes of every bait under every condition in every plausible world: the engine's one product, and its only
//! loop.

use super::block::{FishColumns, Means, run};
use super::control::{Control, each};
use super::points::{LANES, Passes};
use crate::models::draw::WORLD_SCRAMBLES;
use crate::models::{Assumed, Models, ModelsError, Worlds};
use crate::world::{Prepared, World};
use ndarray::{Array2, Array3};
use std::collections::BTreeMap;

/// How much to compute.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Seed; 0 is a seed like any other.
    pub seed: u64,
    /// World draws.
    pub worlds: usize,
    /// Passes in each world.
    pub passes: usize,
    /// Every assumption at its default instead of drawn.
    pub fixed: bool,
}

impl Default for Budget {
    fn default() -> Self {
        Self { seed: 1, worlds: 256, passes: 512, fixed: false }
    }
}

impl Budget {
    /// What is really computed: draws and points rounded up to what the sequences need, one draw where fixed.
    pub fn as_run(self) -> Self {
        let up = |count: usize, unit: usize| count.div_ceil(unit).max(1).next_power_of_two() * unit;
        let draws = if self.fixed { 1 } else { up(self.worlds, WORLD_SCRAMBLES) };
        Self { worlds: draws, passes: up(self.passes, LANES), ..self }
    }

    /// The plausible worlds of this budget.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter.
    pub fn worlds(self, models: &Models) -> Result<Worlds, ModelsError> {
        if self.fixed { Worlds::fixed(models) } else { Worlds::drawn(models, self.seed, self.worlds) }
    }
}

/// A scenario, set up, and the number of the luck that its casts meet: conditions of one number share their passes.
#[derive(Debug, Clone, Copy)]
pub struct Condition<'a> {
    /// The scenario, set up, with its box.
    pub prepared: &'a Prepared,
    /// Number of its luck.
    pub luck: usize,
}

impl<'a> Condition<'a> {
    /// Conditions that all meet the same luck.
    pub fn all(settings: &'a [Prepared]) -> Vec<Self> {
        settings.iter().map(|prepared| Self { prepared, luck: 0 }).collect()
    }
}

/// Passes of a world under luck of different numbers lie this far apart; more worlds cannot be asked for.
const MOST_WORLDS: usize = 1 << 16;

/// Shares of passes that end in each stage, with the luck of the simulation.
#[derive(Debug, Clone, PartialEq)]
pub struct Strikes {
    /// Condition, bait, world; not a number beyond the end of a smaller box.
    pub cells: Array3<Means>,
    /// World draws per independent scramble (per group, in a stopped run), one after the other.
    pub per_scramble: usize,
    /// The world draws, resolved.
    pub worlds: Vec<Assumed>,
    /// Values of every parameter in each draw, in the order of the models.
    pub draws: Vec<Vec<f64>>,
    /// Passes in each world.
    pub points: usize,
}

/// Works out every bait under every condition in every world.
///
/// The same bits for any number of threads: a world's passes depend on the seed and on its luck only, and the result
/// is put together in order. A stopped computation keeps the worlds finished so far, whole. [`Control::done`] counts
/// worlds.
pub fn simulate(conditions: &[Condition], worlds: &Worlds, budget: Budget, control: &Control) -> Strikes {
    let baits = conditions.iter().map(|c| c.prepared.baits.len()).max().unwrap_or(0);
    let one = |w: usize, assumed: &Assumed| -> Vec<Means> {
        let mut passes: BTreeMap<usize, Passes> = BTreeMap::new();
        let mut cells = Vec::with_capacity(conditions.len() * baits);
        for condition in conditions {
            let passes = &*passes.entry(condition.luck).or_insert_with(|| {
                let number = worlds.luck[w] + condition.luck * MOST_WORLDS;
                Passes::of_world(budget.seed, number, budget.passes)
            });
            let prepared = condition.prepared;
            let world = World::new(prepared, assumed);
            let fish = FishColumns::new(&world, passes);
            let bait = |bait| run(&world, &world.offer(prepared, assumed, bait), &fish);
            cells.extend(prepared.baits.iter().map(bait));
            cells.resize(cells.len() + baits - prepared.baits.len(), Means::UNKNOWN);
        }
        cells
    };
    let results = each_world(worlds, control, one);
    let kept: Vec<usize> = (0..results.len()).filter(|&w| results[w].is_some()).collect();
    let complete = kept.len() == results.len();
    let shape = (kept.len(), conditions.len(), baits);
    let mut flat = Vec::with_capacity(kept.len() * conditions.len() * baits);
    // World by world, so that each is freed when it is taken over.
    results.into_iter().flatten().for_each(|cells| flat.extend(cells));
    Strikes {
        cells: Array3::from_shape_vec(shape, flat)
            .unwrap_or_else(|_| Array3::from_elem((0, 0, 0), Means::UNKNOWN))
            .permuted_axes([1, 2, 0]),
        // The draws of a stopped run fall into as many groups as it has scrambles, so that its error is known.
        per_scramble: match complete {
            true => worlds.per_scramble,
            false => kept.len().div_ceil(WORLD_SCRAMBLES).max(1),
        },
        worlds: kept.iter().map(|&w| worlds.assumed[w].clone()).collect(),
        draws: kept.iter().map(|&w| worlds.draws[w].values.clone()).collect(),
        points: budget.passes,
    }
}

/// The loop over worlds: `None` for those that a stop left out.
pub fn each_world<T: Send>(
    worlds: &Worlds,
    control: &Control,
    one: impl Fn(usize, &Assumed) -> T + Sync + Send,
) -> Vec<Option<T>> {
    each(worlds.len(), |w| {
        if control.stopped() {
            return None;
        }
        let result = one(w, &worlds.assumed[w]);
        control.advance(1);
        Some(result)
    })
}

impl Strikes {
    /// Conditions of one luck in the worlds of a budget.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter.
    pub fn of(
        models: &Models,
        settings: &[Prepared],
        budget: Budget,
        control: &Control,
    ) -> Result<Self, ModelsError> {
        Ok(simulate(&Condition::all(settings), &budget.worlds(models)?, budget, control))
    }

    /// Number of world draws.
    pub fn draws(&self) -> usize {
        self.worlds.len()
    }

    fn by(&self, of: impl Fn(&Means) -> f64) -> Array3<f64> {
        Array3::from_shape_fn(self.cells.dim(), |place| of(&self.cells[place]))
    }

    /// Share of passes noticed: condition, bait, world.
    pub fn noticed(&self) -> Array3<f64> {
        self.by(|m| m.mean(0))
    }

    /// Share of passes noticed and come.
    pub fn came(&self) -> Array3<f64> {
        self.by(|m| m.mean(1))
    }

    /// Share of passes struck.
    pub fn struck(&self) -> Array3<f64> {
        self.by(|m| m.mean(2))
    }

    /// Variance of that share by the luck of the simulation within a world.
    pub fn variance(&self) -> Array3<f64> {
        self.by(|m| m.variance(2))
    }

    /// Strikes per 100 passes under one condition: bait, world.
    pub fn per_100(&self, condition: usize) -> Array2<f64> {
        let (_, baits, worlds) = self.cells.dim();
        Array2::from_shape_fn((baits, worlds), |(b, w)| 100.0 * self.cells[(condition, b, w)].mean(2))
    }
}
