//! What the page draws: sun, light by depth, running paths, and from where the fish sees each bait.
//!
//! All of it in the one world in which every assumption has its default, lengths in metres.

use crate::maths::{acos, exp, sin};
use crate::models::Assumed;
use crate::scenario::{Scenario, day};
use crate::water::sun::Place;
use crate::world::{BaitInWater, Offer, Prepared, World};
use serde_json::{Value, json};

/// Depths at which the light is told.
const LIGHT_STEPS: usize = 40;
/// Directions in which the range of sight is told, from straight down to straight up.
const DIRECTIONS: usize = 37;
/// Rounds in which range and depth of the bait seen are brought to agree; the depth matters little.
const ROUNDS: usize = 3;
/// Points of a running path that a drawing needs.
const PATH_POINTS: usize = 60;
/// Heights of the sun in a day.
const SUN_STEPS: usize = 48;

/// True Secchi depth in the world given, m.
pub fn secchi_m(prepared: &Prepared, assumed: &Assumed) -> f64 {
    World::new(prepared, assumed).secchi_m
}

/// The stage.
pub fn stage(scenario: &Scenario, prepared: &Prepared, assumed: &Assumed) -> Value {
    let world = World::new(prepared, assumed);
    let k = world.k_per_m[world.clearest];
    let light: Vec<[f64; 2]> = (0..=LIGHT_STEPS)
        .map(|i| prepared.bottom_m * i as f64 / LIGHT_STEPS as f64)
        .map(|z| [z, exp(-k * z)])
        .collect();
    let baits: Vec<Value> = prepared
        .baits
        .iter()
        .map(|bait| {
            let offer = world.offer(prepared, assumed, bait);
            json!({
                "path": path(prepared, bait),
                "runs_m": bait.path.max_depth_m().min(prepared.bottom_m),
                "seen": seen(&world, prepared, &offer),
            })
        })
        .collect();
    json!({
        "sun": {
            "elevation_deg": prepared.sun.elevation_deg,
            "azimuth_deg": prepared.sun.azimuth_deg,
            "refracted_deg": 90.0 - acos(world.below.cos_refracted).to_degrees(),
        },
        "sun_by_hour": sun_by_hour(scenario),
        "surface_lux": world.surface_lux,
        "fish_lux": world.light_at(prepared.fish_depth_m),
        "k_per_m": k,
        "secchi_m": world.secchi_m,
        "light": light,
        "bottom_m": prepared.bottom_m,
        "fish": {
            "depth_m": prepared.fish_depth_m,
            "spread_m": prepared.depth_spread_m,
            "length_m": prepared.fish_length_m,
        },
        "phase": crate::world::prepared::PHASE_NAMES[prepared.phase],
        "baits": baits,
    })
}

/// Line reeled in and depth, m.
fn path(prepared: &Prepared, bait: &BaitInWater) -> Vec<[f64; 2]> {
    let all: Vec<(f64, f64)> = bait.path.points().collect();
    let step = all.len().div_ceil(PATH_POINTS).max(1);
    let last = all.len().saturating_sub(1);
    all.iter()
        .enumerate()
        .filter(|(i, _)| i % step == 0 || *i == last)
        .map(|(_, &(reeled_m, depth_m))| [reeled_m, depth_m.min(prepared.bottom_m)])
        .collect()
}

/// Elevation (degrees) and range (m) at which the fish sees the bait, it being in that direction.
fn seen(world: &World, prepared: &Prepared, offer: &Offer) -> Vec<[f64; 2]> {
    let eye_m = prepared.fish_depth_m;
    (0..DIRECTIONS)
        .map(|i| -90.0 + 180.0 * i as f64 / (DIRECTIONS - 1) as f64)
        .map(|elevation_deg| {
            let sine = sin(elevation_deg.to_radians());
            let mut range_m = 0.0;
            for _ in 0..ROUNDS {
                let bait_m = (eye_m - range_m * sine).clamp(0.0, prepared.bottom_m);
                range_m = world.seen_from_m(offer, sine, eye_m, bait_m);
            }
            [elevation_deg, range_m]
        })
        .collect()
}

/// Hours since local midnight and the height of the sun, degrees; empty where the day has no bounds.
fn sun_by_hour(scenario: &Scenario) -> Vec<[f64; 2]> {
    let place = Place::new(scenario.place.latitude_deg, scenario.place.longitude_deg);
    let (Ok(place), Some((from_s, to_s))) = (place, day::bounds_s(scenario)) else { return Vec::new() };
    (0..=SUN_STEPS)
        .map(|i| from_s + (to_s - from_s) * i as f64 / SUN_STEPS as f64)
        .filter_map(|unix_s| Some([(unix_s - from_s) / 3600.0, place.sun(unix_s).ok()?.elevation_deg]))
        .collect()
}
