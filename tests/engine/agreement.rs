//! The block against the readable encounter, and strikes at bait level against catch rates.

use super::{fill, mean_over_baits};
use crate::common::{models, setting};
use callup::engine::block::{FishColumns, run};
use callup::engine::encounter::encounter;
use callup::engine::{Budget, Passes};
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

/// Water in which catch rates were measured: warm, moderately clear, fish at the depth of the bait.
const MEASURED_WATER: [(&str, &str); 9] = [
    ("water.temperature", "23 C"),
    ("when.date", "2026-06-20"),
    ("when.time", "10:00"),
    ("sky.cloud", "0.4"),
    ("water.secchi", "2 m"),
    ("fish.depth", "1.5 m"),
    ("fish.phase", "summer"),
    ("fish.length", "35 cm"),
    (
        "box.use",
        "[\"90 mm, standard lip, silent\", \"90 mm, standard lip, rattling\", \"110 mm, standard lip, silent\", \"110 mm, standard lip, rattling\"]",
    ),
];

/// Prior predictive check at bait level against angling catch rates: one Florida lake (2012, press report) and Ridge
/// Lake, Illinois (1949, second-hand), read as strikes per pass within 2.5 m: about 0.15 (0.04 to 0.35) in
/// unfished and 0.02 (0.002 to 0.08) in heavily fished water. The free products are set by these two alone.
#[test]
fn strikes_at_bait_level_agree_with_catch_rates() {
    for (pressure, middle, outer) in
        [("unfished", 0.12..0.18, 0.03..0.40), ("heavy", 0.015..0.027, 0.001..0.10)]
    {
        let mut overrides = MEASURED_WATER.to_vec();
        overrides.push(("fish.pressure", pressure));
        let table = fill(&[setting(&overrides)], Budget { points: 256, ..Budget::default() });
        let e = callup::study::over_worlds(&mean_over_baits(&table), table.per_scramble);
        println!("{pressure}: {e:?}");
        assert!(middle.contains(&e.point), "{pressure}: {e:?}");
        assert!(outer.contains(&e.low) && outer.contains(&e.high), "{pressure}: {e:?}");
    }
}
