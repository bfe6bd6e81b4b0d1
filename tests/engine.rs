//! The engine as a whole: block against scalar, limits, monotone effects, repeatability, an honest error, whether the
//! calibration to catch rates is kept.

mod agreement;
mod calibration_is_kept;
mod error;
mod hazards;
mod limits;
mod monotone;
mod repeat;
mod senses;

use callup::engine::Control;
use callup::engine::block::{FishColumns, Means, run};
use callup::engine::encounter::{Stages, encounter};
use callup::engine::{Budget, Passes, Strikes};
use callup::world::{Offer, Prepared, World};

fn fill(settings: &[Prepared], budget: Budget) -> Strikes {
    Strikes::of(&crate::common::models(), settings, budget, &Control::default()).expect("table")
}

/// Strikes in each world, the mean over the baits of the first condition.
fn mean_over_baits(table: &Strikes) -> Vec<f64> {
    let struck = table.struck();
    let first = struck.index_axis(ndarray::Axis(0), 0);
    first.mean_axis(ndarray::Axis(0)).expect("baits").to_vec()
}

/// The stages of every pass, by the readable encounter.
fn encounters(world: &World, offer: &Offer, passes: &Passes) -> Vec<Stages> {
    (0..passes.len()).map(|i| encounter(world, offer, &passes.get(i))).collect()
}

/// The means over the passes, by the block.
fn means_of(world: &World, offer: &Offer, passes: &Passes) -> Means {
    run(world, offer, &FishColumns::new(world, passes))
}
