//! What must be left when something is taken away, or when everything grows alike.

use super::{encounters, means_of};
use crate::common::{defaults, drawn, setting};
use callup::engine::Passes;
use callup::engine::block::Means;
use callup::maths::interpolate::Table;
use callup::models::Assumed;
use callup::scenario::Clarity;
use callup::world::look::Outline;
use callup::world::{BaitInWater, Prepared, RiseLimit, World};
use std::sync::Arc;

const SEED: u64 = 11;
const POINTS: usize = 256;

/// Means of every bait of a setting in one world.
fn all(setting: &Prepared, a: &Assumed) -> Vec<Means> {
    let world = World::new(setting, a);
    let passes = Passes::of_world(SEED, 0, POINTS);
    setting.baits.iter().map(|b| means_of(&world, &world.offer(setting, a, b), &passes)).collect()
}

fn worlds() -> Vec<Assumed> {
    std::iter::once(defaults()).chain(drawn(SEED, 16)).collect()
}

fn silent(setting: Prepared) -> Prepared {
    let baits = setting.baits.iter().filter(|b| !b.rattles).cloned().collect();
    Prepared { baits, ..setting }
}

fn rattling(setting: Prepared) -> Prepared {
    let baits = setting.baits.iter().filter(|b| b.rattles).cloned().collect();
    Prepared { baits, ..setting }
}

/// A moonless night, the sun far below the horizon; every bait may pass the fish closely.
fn night() -> Prepared {
    let night = setting(&[("when.time", "01:00"), ("fish.depth", "1.5 m")]);
    assert!(night.sun.elevation_deg < -18.0);
    night
}

#[test]
fn in_the_dark_a_silent_bait_that_moves_no_water_is_never_struck() {
    let night = night();
    for a in worlds() {
        let dark = Assumed { night_floor_lux: 0.0, near_notice_rate: 0.0, ..a.clone() };
        for means in all(&silent(night.clone()), &dark) {
            assert_eq!(means, Means::default());
        }
        // Give back one sense at a time, and it is noticed again.
        let felt = Assumed { night_floor_lux: 0.0, ..a.clone() };
        assert!(all(&silent(night.clone()), &felt).iter().any(|m| m.mean(2) > 0.0));
        let loud = Assumed { rattle_level_db: 170.0, ..dark.clone() };
        assert!(all(&rattling(night.clone()), &loud).iter().all(|m| m.mean(0) > 0.0));
        let lit = Assumed { night_floor_lux: 100.0, near_notice_rate: 0.0, ..a };
        assert!(all(&silent(night.clone()), &lit).iter().any(|m| m.mean(0) > 0.0));
    }
}

/// In water as thick as this sight reaches a hand's breadth at most, where the near field has long decided.
const BLIND: f64 = 1e-6;

#[test]
fn in_the_thickest_water_only_the_near_field_is_left() {
    let base = silent(setting(&[("fish.depth", "1.5 m"), ("when.time", "11:00")]));
    for a in worlds() {
        let by_sight = |secchi_m: f64| -> f64 {
            let murky = Prepared { clarity: Clarity::Secchi(secchi_m), ..base.clone() };
            let blind = Assumed { sight_notice_rate: 0.0, ..a.clone() };
            let (with, without) = (all(&murky, &a), all(&murky, &blind));
            assert!(without.iter().any(|m| m.mean(0) > 0.0), "the near field is left");
            let gaps = with.iter().zip(&without).map(|(w, o)| w.mean(0) - o.mean(0));
            gaps.fold(0.0, f64::max)
        };
        assert!(by_sight(3.0) > 0.01);
        assert!(by_sight(0.1) < by_sight(3.0));
        assert!(by_sight(0.001) < BLIND, "{}", by_sight(0.001));
    }
}

#[test]
fn a_bait_faster_than_the_fish_is_noticed_and_never_struck() {
    let base = setting(&[]);
    for a in worlds() {
        let usual = all(&base, &a);
        let slow = Assumed { burst: 1e-3, approach: 1e-3, ..a };
        for (means, usual) in all(&base, &slow).iter().zip(usual) {
            assert_eq!((means.mean(1), means.mean(2)), (0.0, 0.0));
            assert_eq!(means.mean(0), usual.mean(0));
        }
    }
}

/// Rounding in logarithms and roots of lengths, once per stage of the readable encounter.
const ROUNDING: f64 = 1e-12;
/// The block reads Lambert's W and the normal distribution from tables good to 3e-9 of their value.
const TABLES: f64 = 2e-8;

fn outline_twice(o: &Outline) -> Outline {
    Outline {
        length_m: 2.0 * o.length_m,
        height_m: 2.0 * o.height_m,
        width_m: 2.0 * o.width_m,
        curvature_m2: 4.0 * o.curvature_m2,
        ..*o
    }
}

/// Every length of setting and assumptions doubled: bait and prey, fish, depths, bottom, half width, willing
/// distance and near point. Speeds double too, so that every time stays.
fn twice(setting: &Prepared, a: &Assumed) -> (Prepared, Assumed) {
    let baits = setting.baits.iter().map(|b| BaitInWater {
        outline: outline_twice(&b.outline),
        volume_m3: 8.0 * b.volume_m3,
        ..b.clone()
    });
    let large = Prepared {
        bottom_m: 2.0 * setting.bottom_m,
        fish_length_m: 2.0 * setting.fish_length_m,
        fish_depth_m: 2.0 * setting.fish_depth_m,
        depth_spread_m: 2.0 * setting.depth_spread_m,
        prey: outline_twice(&setting.prey),
        mean_speed_m_s: 2.0 * setting.mean_speed_m_s,
        baits: baits.collect(),
        ..setting.clone()
    };
    let assumed = Assumed {
        half_width_m: 2.0 * a.half_width_m,
        willing_distance_m: 2.0 * a.willing_distance_m,
        near_point_m: 2.0 * a.near_point_m,
        ..a.clone()
    };
    (large, assumed)
}

/// Twice as large a world whose water is twice as clear (c and K halved) looks the same to a fish twice as large.
///
/// Exact but for rounding, because every stage depends on ratios: r^2 exp(kr) = C A E' keeps its solution over
/// length, K z keeps the light, w/U the hazard, and the near field's range goes with the size of the body. Three
/// things hold an absolute length and are kept out: the air's weight in metres of water (worlds with a swim-bladder
/// limit), sound (silent baits) and the meal of 0.1 m (its power set to 0). Pure water does not thin with the rest,
/// so c and K are halved in the world itself, and under a full overcast, whose glint is nil.
#[test]
fn a_world_twice_as_large_in_water_twice_as_clear_gives_the_same_strikes() {
    let base = silent(setting(&[("sky.cloud", "1"), ("water.secchi", "8 m"), ("fish.depth", "2 m")]));
    let passes = Passes::of_world(SEED, 1, POINTS);
    for a in worlds() {
        let a = Assumed { by_bladder: 0.0, bigger_meal_power: 0.0, ..a };
        let (large_base, large_a) = twice(&base, &a);
        let world = World::new(&base, &a);
        assert!(world.below.direct_lux < 1e-9, "no beam under the overcast");
        let mut large = World::new(&large_base, &large_a);
        large.k_per_m = world.k_per_m.map(|k| 0.5 * k);
        large.c_per_m = world.c_per_m.map(|c| 0.5 * c);
        let mut as_clear = large.clone();
        as_clear.c_per_m = world.c_per_m;
        for (bait, large_bait) in base.baits.iter().zip(large_base.baits.iter()) {
            let offer = world.offer(&base, &a, bait);
            let depths = offer.path.values().iter().map(|z| 2.0 * z).collect();
            let path = Table::from_values(0.0, 1.0, depths);
            let mut large_offer = large.offer(&large_base, &large_a, large_bait);
            large_offer.path = path.clone();
            assert!(matches!(offer.rise, RiseLimit::Willing { .. }));
            let (small, big) =
                (encounters(&world, &offer, &passes), encounters(&large, &large_offer, &passes));
            for (s, b) in small.iter().zip(&big) {
                let pairs = [(s.noticed, b.noticed), (s.came, b.came), (s.struck, b.struck)];
                assert!(pairs.iter().all(|(s, b)| (s - b).abs() < ROUNDING), "{}: {pairs:?}", bait.name);
            }
            let (s, b) = (means_of(&world, &offer, &passes), means_of(&large, &large_offer, &passes));
            assert!((0..3).all(|stage| (s.mean(stage) - b.mean(stage)).abs() < TABLES), "{s:?} {b:?}");
            // With c as it was, the larger world is foggier and less is noticed.
            let mut foggy = as_clear.offer(&large_base, &large_a, large_bait);
            foggy.path = path;
            assert!(means_of(&as_clear, &foggy, &passes).mean(0) < s.mean(0) - 1e-3);
        }
    }
}

/// How far a fish 2 m below sees the first bait of the box in each of some finishes, in m.
fn seen_from_below(setting: &Prepared, a: &Assumed, sine: f64, finishes: &[[f64; 4]]) -> Vec<f64> {
    let bait = &setting.baits[0];
    let range = |shares: &[f64; 4]| {
        let mut a = a.clone();
        a.finishes[bait.finish] = *shares;
        let world = World::new(setting, &a);
        world.seen_from_m(&world.offer(setting, &a, bait), sine, 3.0, 1.0)
    };
    finishes.iter().map(range).collect()
}

/// Largest over least, less one.
fn disagreement(ranges: &[f64]) -> f64 {
    let (low, high) = ranges.iter().fold((f64::INFINITY, 0.0_f64), |(l, h), &r| (l.min(r), h.max(r)));
    high / low - 1.0
}

/// Painted finishes from black to white: what they scatter in the green and the red band.
const PAINTS: [[f64; 4]; 4] =
    [[0.05, 0.05, 0.0, 0.0], [0.2, 0.3, 0.0, 0.0], [0.5, 0.4, 0.0, 0.0], [0.8, 0.8, 0.0, 0.0]];
const MIRROR: [f64; 4] = [0.05, 0.05, 0.8, 0.0];
const GLASS: [f64; 4] = [0.05, 0.05, 0.05, 0.7];
/// Straight above, the silhouettes of black and of white differ in contrast by the light that the depths send up
/// (a few percent of that from above), and in range by less.
const SILHOUETTES_ALIKE: f64 = 0.05;

#[test]
fn the_finish_matters_less_and_less_as_the_bait_is_straight_above() {
    let overcast = setting(&[("sky.cloud", "1"), ("water.secchi", "3 m")]);
    for a in worlds() {
        // Without the roll, which shows the belly of a bait at the side.
        let a = Assumed { roll_bait_deg: 0.0, ..a };
        let by_sine: Vec<f64> = [0.2, 0.7, 0.9, 1.0]
            .iter()
            .map(|&sine| disagreement(&seen_from_below(&overcast, &a, sine, &PAINTS)))
            .collect();
        assert!(by_sine.windows(2).all(|w| w[1] < w[0]), "{by_sine:?}");
        assert!(by_sine[3] < SILHOUETTES_ALIKE && by_sine[3] < 0.25 * by_sine[0], "{by_sine:?}");
    }
}

#[test]
fn straight_above_only_what_lets_light_through_or_glints_is_seen_otherwise() {
    let overcast = setting(&[("sky.cloud", "1"), ("water.secchi", "3 m")]);
    let sunny = setting(&[
        ("sky.cloud", "0"),
        ("sky.wind", "0 m/s"),
        ("when.time", "12:00"),
        ("water.secchi", "3 m"),
    ]);
    // A flat flank throws no glint to all sides.
    let flat = |mut setting: Prepared| {
        Arc::make_mut(&mut setting.baits)[0].outline.curvature_m2 = 0.0;
        setting
    };
    for a in worlds() {
        let from_below = |setting: &Prepared| seen_from_below(setting, &a, 1.0, &[PAINTS[0], MIRROR, GLASS]);
        let dull = from_below(&overcast);
        assert!(
            (dull[1] / dull[0] - 1.0).abs() < SILHOUETTES_ALIKE,
            "without a sun a mirror is paint: {dull:?}"
        );
        assert!(dull[2] < dull[0] * (1.0 - SILHOUETTES_ALIKE), "what lets light through hides: {dull:?}");
        assert_eq!(dull, from_below(&flat(overcast.clone())), "no glint without a beam");
        let (bright, flat) = (from_below(&sunny), from_below(&flat(sunny.clone())));
        assert!(bright[1] >= flat[1] && bright[0] == flat[0], "{bright:?} {flat:?}");
        // Where the small-target law sets the range, and not the contrast of the body, glint adds to it.
        let dim = Assumed { sensitivity: 0.1 * a.sensitivity, ..a.clone() };
        let seen = |setting: &Prepared| seen_from_below(setting, &dim, 1.0, &[MIRROR])[0];
        let mut without = sunny.clone();
        Arc::make_mut(&mut without.baits)[0].outline.curvature_m2 = 0.0;
        assert!(seen(&sunny) > seen(&without), "{} {}", seen(&sunny), seen(&without));
    }
}

/// A heavier bait of the same size flies further on the same launch, and the longer cast takes it deeper; the cast is
/// that of the flight worked out alone (whose own checks are against reference values in `mechanics`).
#[test]
fn a_launched_bait_is_cast_as_far_as_it_flies() {
    let settings = ["9 g", "14 g"].map(|mass| {
        setting(&[
            ("tackle.launch", "25 m/s"),
            ("box.use", "90 mm, standard lip, silent"),
            ("bait.mass", mass),
        ])
    });
    let outline = settings[0].baits[0].outline;
    let [light, heavy] = settings.map(|s| s.baits[0].path.clone());
    assert!(heavy.cast_m() > 1.1 * light.cast_m(), "{} {}", heavy.cast_m(), light.cast_m());
    assert!(heavy.max_depth_m() > light.max_depth_m());
    let alone = callup::bait::cast::Cast {
        mass_kg: 0.009,
        drag_area_m2: 0.35 * 0.75 * outline.length_m * outline.height_m,
        speed_m_s: 25.0,
        elevation_deg: 40.0,
        height_m: 2.0,
        tail_wind_m_s: 0.0,
        air_density_kg_m3: 1.204,
        line_kg_m: 1780.0 * std::f64::consts::PI * 0.25 * 0.28e-3 * 0.28e-3,
        friction_n: 0.02,
    };
    let range_m = alone.fly().expect("a cast").range_m;
    assert!((light.cast_m() - range_m).abs() < 1e-9, "{} {range_m}", light.cast_m());
}
