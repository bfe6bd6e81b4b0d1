//! What can only help, helps; what can only hurt, hurts. Clarity, size and flash are not here: they do both.

use super::{encounters, means_of};
use crate::common::{defaults, drawn, setting_of};
use callup::engine::Passes;
use callup::models::Assumed;
use callup::world::{Prepared, World};

const SEED: u64 = 12;
const POINTS: usize = 256;
const SCENARIOS: [&str; 4] = ["main-lake-point", "stained-lowland", "northern-smallmouth", "bright-midday"];
/// Interpolated tables may step back by their error where the truth is level.
const TABLES: f64 = 2e-8;

fn worlds() -> Vec<Assumed> {
    std::iter::once(defaults()).chain(drawn(SEED, 16)).collect()
}

/// Strikes of every bait.
fn strikes(setting: &Prepared, a: &Assumed) -> Vec<f64> {
    let world = World::new(setting, a);
    let passes = Passes::of_world(SEED, 0, POINTS);
    setting.baits.iter().map(|b| means_of(&world, &world.offer(setting, a, b), &passes).mean(2)).collect()
}

/// Holds that each bait's strikes go one way along a list of runs, and some bait's really move, unless there are none.
#[track_caller]
fn falls(what: &str, runs: &[Vec<f64>]) {
    for (earlier, later) in runs.iter().zip(&runs[1..]) {
        for (bait, (e, l)) in earlier.iter().zip(later).enumerate() {
            assert!(*l <= e + TABLES, "{what}, bait {bait}: {e} then {l}");
        }
    }
    let (first, last) = (&runs[0], &runs[runs.len() - 1]);
    let none = first.iter().all(|f| *f == 0.0) && !what.contains("main-lake-point");
    assert!(none || first.iter().zip(last).any(|(f, l)| *l < 0.99 * f), "{what}: nothing moves");
}

#[test]
fn strikes_rise_with_the_speed_of_the_fish() {
    for name in SCENARIOS {
        let setting = setting_of(name, &[]);
        for a in worlds() {
            let runs: Vec<Vec<f64>> = [2.0, 1.5, 1.0, 0.8, 0.6, 0.1]
                .iter()
                .map(|f| {
                    strikes(&setting, &Assumed { approach: f * a.approach, burst: f * a.burst, ..a.clone() })
                })
                .collect();
            falls(&format!("{name}, slower fish"), &runs);
        }
    }
}

#[test]
fn strikes_fall_with_the_least_contrast_that_the_eye_sees() {
    for name in SCENARIOS {
        let setting = setting_of(name, &[]);
        for a in worlds() {
            let runs: Vec<Vec<f64>> = [1.0, 2.0, 4.0, 8.0, 16.0]
                .iter()
                .map(|f| f * a.contrast_threshold)
                .map(|contrast_threshold| strikes(&setting, &Assumed { contrast_threshold, ..a.clone() }))
                .collect();
            falls(&format!("{name}, duller eye"), &runs);
        }
    }
}

/// Deeper fish come less, pass by pass, whatever else changes: that stage depends on the distance alone.
#[test]
fn coming_falls_with_every_metre_to_rise() {
    for name in SCENARIOS {
        let base = setting_of(name, &[]);
        let passes = Passes::of_world(SEED, 0, POINTS);
        for a in worlds() {
            let at = |deeper_m: f64| -> Vec<f64> {
                let setting = Prepared {
                    fish_depth_m: base.deepest_path_m() * a.depth_error + deeper_m,
                    depth_spread_m: 0.0,
                    bottom_m: 60.0,
                    ..base.clone()
                };
                let world = World::new(&setting, &a);
                let of = |b| encounters(&world, &world.offer(&setting, &a, b), &passes);
                setting.baits.iter().flat_map(of).map(|s| s.came).collect()
            };
            falls(&format!("{name}, deeper fish"), &[at(0.0), at(1.0), at(2.0), at(4.0), at(8.0)]);
        }
    }
}

/// A fish beneath the reach of the path by more than the half width of a pass looks up steeply already: from there
/// on every metre is a metre further to see, to swim and to look the bait over, in dimmer light. (Nearer than that,
/// a step down can turn a level view of a bait that hides against the side into one of its silhouette.)
#[test]
fn strikes_fall_with_the_rise() {
    for name in SCENARIOS {
        let base = setting_of(name, &[]);
        for a in worlds() {
            let at = |deeper_m: f64| {
                let fish_depth_m = base.deepest_path_m() * a.depth_error + a.half_width_m + deeper_m;
                let setting = Prepared { fish_depth_m, depth_spread_m: 0.0, bottom_m: 60.0, ..base.clone() };
                strikes(&setting, &a)
            };
            falls(&format!("{name}, deeper fish"), &[at(0.0), at(0.5), at(1.0), at(2.0), at(4.0), at(8.0)]);
        }
    }
}
