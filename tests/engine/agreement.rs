//! The block against the readable encounter.

use crate::common::{models, setting};
use callup::engine::Passes;
use callup::engine::block::{FishColumns, run};
use callup::engine::encounter::encounter;
use callup::models::{Assumed, Worlds};
use callup::world::World;

#[test]
fn the_block_agrees_with_the_readable_encounter() {
    /// The block reads Lambert's W and the normal distribution from tables good to 3e-9 of their value.
    const AGREEMENT: f64 = 2e-8;
    let models = models();
    let worlds = Worlds::drawn(&models, 5, 32).expect("complete");
    for overrides in [
        &[][..],
        &[("fish.depth", "1 m"), ("when.time", "05:40")],
        &[("water.secchi", "0.5 m"), ("water.tint", "clay")],
    ] {
        let setting = setting(overrides);
        for (i, draw) in worlds.draws.iter().enumerate() {
            let assumed = Assumed::of(&models, draw).expect("complete");
            let world = World::new(&setting, &assumed);
            let passes = Passes::of_world(5, i, 64);
            let fish = FishColumns::new(&world, &passes);
            for bait in setting.baits.iter() {
                let offer = world.offer(&setting, &assumed, bait);
                let block = run(&world, &offer, &fish);
                let each = passes.len() / 4;
                for scramble in 0..4 {
                    let mut sums = [0.0; 3];
                    for p in scramble * each..(scramble + 1) * each {
                        let s = encounter(&world, &offer, &passes.get(p));
                        assert!(s.noticed >= 0.0 && s.noticed <= 1.0 && s.came >= 0.0 && s.came <= 1.0);
                        sums[0] += s.noticed / each as f64;
                        sums[1] += s.noticed * s.came / each as f64;
                        sums[2] += s.strike() / each as f64;
                    }
                    for (stage, (got, sum)) in block.by_scramble[scramble].iter().zip(sums).enumerate() {
                        assert!(
                            (got - sum).abs() < AGREEMENT,
                            "{}: stage {stage}: {got} {}",
                            bait.name,
                            sums[stage]
                        );
                    }
                }
            }
        }
    }
}
