//! Calibration is kept: the free products were set to these two catch rates and to nothing else, so that this guards
//! them against a slip and proves nothing about nature.

use super::{fill, mean_over_baits};
use crate::common::setting;
use callup::engine::Budget;

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

/// Angling catch rates: one Florida lake (2012, press report) and Ridge
/// Lake, Illinois (1949, second-hand), read as strikes per pass within 2.5 m: about 0.15 (0.04 to 0.35) in
/// unfished and 0.02 (0.002 to 0.08) in heavily fished water.
#[test]
fn strikes_at_the_depth_of_the_fish_are_those_of_two_lakes() {
    for (pressure, middle, outer) in
        [("unfished", 0.12..0.18, 0.03..0.40), ("heavy", 0.015..0.027, 0.001..0.10)]
    {
        let mut overrides = MEASURED_WATER.to_vec();
        overrides.push(("fish.pressure", pressure));
        let table = fill(&[setting(&overrides)], Budget { passes: 256, ..Budget::default() });
        let e = callup::study::over_worlds(&mean_over_baits(&table), table.per_scramble);
        println!("{pressure}: {e:?}");
        assert!(middle.contains(&e.point), "{pressure}: {e:?}");
        assert!(outer.contains(&e.low) && outer.contains(&e.high), "{pressure}: {e:?}");
    }
}
