//! The strike table: condition x bait x world draw, the engine's only product.

use super::block::{FishColumns, Means, run};
use super::points::{LANES, Passes};
use crate::models::draw::WORLD_SCRAMBLES;
use crate::models::{Assumed, Models, ModelsError, Worlds};
use crate::world::{Setting, World};
use ndarray::Array3;
use std::sync::atomic::{AtomicBool, Ordering};

/// How much to compute.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Seed; 0 is a seed like any other.
    pub seed: u64,
    /// World draws.
    pub draws: usize,
    /// Passes in each world.
    pub points: usize,
    /// Every assumption at its default instead of drawn.
    pub fixed: bool,
}

impl Default for Budget {
    fn default() -> Self {
        Self { seed: 1, draws: 256, points: 512, fixed: false }
    }
}

impl Budget {
    /// What is really computed: draws and points rounded up to what the sequences need, one draw where fixed.
    pub fn as_run(self) -> Self {
        let up = |count: usize, unit: usize| count.div_ceil(unit).max(1).next_power_of_two() * unit;
        let draws = if self.fixed { 1 } else { up(self.draws, WORLD_SCRAMBLES) };
        Self { draws, points: up(self.points, LANES), ..self }
    }
}

/// Chances per pass, with the luck of the simulation.
#[derive(Debug, Clone, PartialEq)]
pub struct StrikeTable {
    /// Share of passes noticed: condition, bait, draw.
    pub noticed: Array3<f64>,
    /// Share of passes noticed and come.
    pub came: Array3<f64>,
    /// Share of passes struck.
    pub struck: Array3<f64>,
    /// Variance of `struck` by the luck of the simulation within that world.
    pub variance: Array3<f64>,
    /// World draws per independent scramble (per group, in a stopped run), one after the other.
    pub per_scramble: usize,
    /// The world draws, resolved.
    pub worlds: Vec<Assumed>,
    /// Values of every parameter in each draw, in the order of the models.
    pub draws: Vec<Vec<f64>>,
    /// Passes in each world.
    pub points: usize,
}

/// What a long computation tells and hears.
#[derive(Debug, Default)]
pub struct Control {
    stop: AtomicBool,
    done: std::sync::atomic::AtomicUsize,
}

impl Control {
    /// Asks the computation to end early.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }
    /// Whether it was asked to.
    pub fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
    /// Tells of steps finished by work that fills no table.
    pub fn advance(&self, steps: usize) {
        self.done.fetch_add(steps, Ordering::Relaxed);
    }
    /// Counts one world draw as finished.
    pub(crate) fn count(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }
    /// World draws (or other steps) finished.
    pub fn done(&self) -> usize {
        self.done.load(Ordering::Relaxed)
    }
}

/// What one world draw gives: conditions x baits.
type DrawMeans = Vec<Vec<Means>>;

impl StrikeTable {
    /// Fills the table for conditions that share one box of baits.
    ///
    /// The same bits for any number of threads: a world's passes depend on the seed and the world's number only,
    /// and the table is filled in order. A stopped computation keeps the draws finished so far, in whole rows.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter.
    pub fn fill(
        models: &Models,
        settings: &[Setting],
        budget: Budget,
        control: &Control,
    ) -> Result<Self, ModelsError> {
        let worlds = if budget.fixed {
            Worlds::fixed(models)
        } else {
            Worlds::drawn(models, budget.seed, budget.draws)
        };
        Self::fill_worlds(models, settings, worlds, budget, control)
    }

    /// The same for worlds drawn elsewhere; of the budget the seed and the passes count.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter.
    pub fn fill_worlds(
        models: &Models,
        settings: &[Setting],
        worlds: Worlds,
        budget: Budget,
        control: &Control,
    ) -> Result<Self, ModelsError> {
        let assumed: Vec<Assumed> =
            worlds.draws.iter().map(|d| Assumed::of(models, d)).collect::<Result<_, _>>()?;
        let one = |i: usize| -> Option<DrawMeans> {
            if control.stopped() {
                return None;
            }
            let passes = Passes::of_world(budget.seed, i, budget.points);
            let means = settings.iter().map(|s| condition(s, &assumed[i], &passes)).collect();
            control.count();
            Some(means)
        };
        let results = each_draw(assumed.len(), one);
        Ok(Self::gather(results, worlds, assumed, settings, budget))
    }

    fn gather(
        results: Vec<Option<DrawMeans>>,
        worlds: Worlds,
        assumed: Vec<Assumed>,
        settings: &[Setting],
        budget: Budget,
    ) -> Self {
        let baits = settings.first().map_or(0, |s| s.baits.len());
        let kept: Vec<usize> = (0..results.len()).filter(|&i| results[i].is_some()).collect();
        let complete = kept.len() == results.len();
        let shape = (settings.len(), baits, kept.len());
        let cell = |f: &dyn Fn(&Means) -> f64| {
            Array3::from_shape_fn(shape, |(c, b, d)| {
                results[kept[d]].as_ref().and_then(|r| r.get(c)?.get(b)).map_or(f64::NAN, f)
            })
        };
        Self {
            noticed: cell(&|m| m.mean(0)),
            came: cell(&|m| m.mean(1)),
            struck: cell(&|m| m.mean(2)),
            variance: cell(&|m| m.variance(2)),
            // The draws of a stopped run fall into as many groups as it has scrambles, so that its error is known.
            per_scramble: if complete {
                worlds.per_scramble
            } else {
                kept.len().div_ceil(WORLD_SCRAMBLES).max(1)
            },
            worlds: kept.iter().map(|&i| assumed[i].clone()).collect(),
            draws: kept.iter().map(|&i| worlds.draws[i].values.clone()).collect(),
            points: budget.points,
        }
    }

    /// Number of world draws.
    pub fn draws(&self) -> usize {
        self.struck.dim().2
    }
}

fn condition(setting: &Setting, assumed: &Assumed, passes: &Passes) -> Vec<Means> {
    let world = World::new(setting, assumed);
    let fish = FishColumns::new(&world, passes);
    setting.baits.iter().map(|bait| run(&world, &world.offer(setting, assumed, bait), &fish)).collect()
}

#[cfg(feature = "parallel")]
pub(crate) fn each_draw<T: Send>(count: usize, one: impl Fn(usize) -> T + Sync + Send) -> Vec<T> {
    use rayon::prelude::*;
    (0..count).into_par_iter().map(one).collect()
}

#[cfg(not(feature = "parallel"))]
pub(crate) fn each_draw<T>(count: usize, one: impl Fn(usize) -> T) -> Vec<T> {
    (0..count).map(one).collect()
}
