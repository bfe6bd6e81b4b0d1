//! Light by hour and depth, and how far each finish is seen looking up, level and down.

use super::odds::eye_depth;
use super::{Context, Study, Unanswered, over_worlds};
use crate::engine::{Budget, Control};
use crate::models::{Assumed, Models};
use crate::scenario::{Scenario, day};
use crate::statistics::estimate::Estimate;
use crate::water::sun::{Place, Span, Sun, SunTimes};
use crate::world::{BaitInWater, PrepareError, Prepared, World};
use serde::Serialize;

/// Light at one hour.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Hour {
    /// Instant, seconds since 1970-01-01T00:00:00Z.
    pub unix_s: f64,
    /// Local wall clock, hours.
    #[serde(skip)]
    pub clock_h: f64,
    /// Local wall clock in words.
    #[serde(rename = "time")]
    pub clock: String,
    /// Sun.
    #[serde(flatten)]
    pub sun: Sun,
    /// Illuminance on the surface, lux (median over worlds).
    pub surface_lux: f64,
    /// Illuminance at each depth, lux (median over worlds).
    pub lux: Vec<f64>,
}

/// How far one finish is seen.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FinishSeen {
    /// Finish.
    pub name: String,
    /// By a fish straight below, at the bait's depth, straight above, m (median over worlds).
    #[serde(rename = "seen_from_m")]
    pub middle: Ways<f64>,
    /// Nine in ten plausible worlds.
    #[serde(rename = "range_m")]
    pub range: Ways<[f64; 2]>,
}

/// One value for each way of looking.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Ways<T> {
    /// Looking up.
    pub up: T,
    /// Level.
    pub level: T,
    /// Looking down.
    pub down: T,
}

/// One value for each cone band of the bass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Bands {
    /// Green.
    pub green: f64,
    /// Red.
    pub red: f64,
}

/// The bait on which the finishes are compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Compared {
    /// Its name.
    pub name: String,
    /// Its depth, m.
    pub depth_m: f64,
}

/// The answer; medians over worlds where nothing else is said.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Light {
    /// Sun at the scenario's time.
    pub sun: Sun,
    /// When it rises and sets that day.
    #[serde(rename = "sun_times_unix_s")]
    pub times: SunTimes,
    /// Illuminance on the surface now, lux.
    pub surface_lux: f64,
    /// Illuminance just below it, lux.
    pub below_surface_lux: f64,
    /// Secchi depth, m.
    pub secchi_m: f64,
    /// Attenuation of daylight by the human daylight eye, per metre.
    pub k_per_m: f64,
    /// Attenuation of the beam by the human daylight eye, per metre.
    pub c_per_m: f64,
    /// Attenuation of daylight in the cone bands of the bass.
    pub band_k_per_m: Bands,
    /// Attenuation of the beam in them.
    pub band_c_per_m: Bands,
    /// Depths of the table, m.
    pub depths_m: Vec<f64>,
    /// Illuminance at these depths now, lux.
    pub lux: Vec<Estimate>,
    /// The day, from first light to dark, or all of it where the sun does neither.
    pub hours: Vec<Hour>,
    /// The bait on which the finishes are compared.
    pub bait: Compared,
    /// The finishes.
    pub finishes: Vec<FinishSeen>,
}

/// Light by hour and depth, and how far each finish is seen.
#[derive(Debug, Clone, Copy, Default)]
pub struct LightOf;

impl Study for LightOf {
    const NAME: &'static str = "light";
    type Answer = Light;

    fn steps(&self, _on: &Context) -> usize {
        0
    }

    fn run(&self, on: &Context, _control: &Control) -> Result<Light, Unanswered> {
        Ok(light(on)?)
    }
}

/// Worlds looked at: light varies smoothly.
const WORLDS: usize = 64;
/// Step of the day, s.
const STEP_S: f64 = 600.0;
/// Steps of the depth table.
const DEPTH_STEPS: usize = 8;

fn light(on: &Context) -> Result<Light, PrepareError> {
    let (scenario, prepared, models) = (on.scenario, on.prepared, on.models);
    let draws = Budget { worlds: WORLDS, ..on.budget }.worlds(models)?;
    let assumed = &draws.assumed;
    let worlds: Vec<World> = assumed.iter().map(|a| World::new(prepared, a)).collect();
    let over = |f: &dyn Fn(&World) -> f64| {
        over_worlds(&worlds.iter().map(f).collect::<Vec<_>>(), draws.per_scramble)
    };
    let middle = |f: &dyn Fn(&World) -> f64| over(f).point;
    let bands =
        |f: &dyn Fn(&World) -> [f64; 2]| Bands { green: middle(&|w| f(w)[0]), red: middle(&|w| f(w)[1]) };
    let depths_m: Vec<f64> =
        (0..=DEPTH_STEPS).map(|i| prepared.bottom_m * i as f64 / DEPTH_STEPS as f64).collect();
    let place = Place::new(scenario.place.latitude_deg, scenario.place.longitude_deg)?;
    let (start_s, end_s) =
        day::bounds_s(scenario).unwrap_or((scenario.when.unix_s - 43_200.0, scenario.when.unix_s + 43_200.0));
    let span = Span { from_s: start_s, to_s: end_s };
    let reference = reference_bait(prepared);
    Ok(Light {
        sun: prepared.sun,
        times: place.times(span)?,
        surface_lux: middle(&|w| w.surface_lux),
        below_surface_lux: middle(&|w| w.below.total_lux()),
        secchi_m: middle(&|w| w.secchi_m),
        k_per_m: middle(&|w| w.water.k_per_m),
        c_per_m: middle(&|w| w.water.c_per_m),
        band_k_per_m: bands(&|w| w.k_per_m),
        band_c_per_m: bands(&|w| w.c_per_m),
        lux: depths_m.iter().map(|&z| over(&|w| w.light_at(z))).collect(),
        hours: hours(scenario, prepared, place, span, assumed, &depths_m)?,
        bait: Compared {
            name: reference.name.clone(),
            depth_m: reference.path.max_depth_m().min(prepared.bottom_m),
        },
        finishes: finishes(models, prepared, reference, assumed, &worlds, draws.per_scramble),
        depths_m,
    })
}

/// The bait of middle length, on which finishes are compared.
fn reference_bait(prepared: &Prepared) -> &BaitInWater {
    let mut order: Vec<&BaitInWater> = prepared.baits.iter().collect();
    order.sort_by(|a, b| a.outline.length_m.total_cmp(&b.outline.length_m));
    order[order.len() / 2]
}

fn hours(
    scenario: &Scenario,
    prepared: &Prepared,
    place: Place,
    span: Span,
    assumed: &[Assumed],
    depths_m: &[f64],
) -> Result<Vec<Hour>, PrepareError> {
    let day = place.daylight(span)?.unwrap_or(span);
    let first = (day.from_s / STEP_S).floor() as i64;
    let last = (day.to_s / STEP_S).ceil() as i64;
    (first..=last)
        .map(|i| {
            let unix_s = i as f64 * STEP_S;
            let sun = place.sun(unix_s)?;
            let now = Prepared { sun, ..prepared.clone() };
            let worlds: Vec<World> = assumed.iter().map(|a| World::new(&now, a)).collect();
            let median = |f: &dyn Fn(&World) -> f64| {
                over_worlds(&worlds.iter().map(f).collect::<Vec<_>>(), worlds.len()).point
            };
            Ok(Hour {
                unix_s,
                clock_h: day::clock_h(scenario, unix_s),
                clock: day::clock(scenario, unix_s),
                sun,
                surface_lux: median(&|w| w.surface_lux),
                lux: depths_m.iter().map(|&z| median(&|w| w.light_at(z))).collect(),
            })
        })
        .collect()
}

fn finishes(
    models: &Models,
    prepared: &Prepared,
    reference: &BaitInWater,
    assumed: &[Assumed],
    worlds: &[World],
    per_scramble: usize,
) -> Vec<FinishSeen> {
    let all = models.finishes.iter().enumerate().map(|(finish, name)| {
        let bait = BaitInWater { finish, ..reference.clone() };
        let mut ranges = [Vec::new(), Vec::new(), Vec::new()];
        for (world, a) in worlds.iter().zip(assumed) {
            let offer = world.offer(prepared, a, &bait);
            let depth = (bait.path.max_depth_m() * a.depth_error).min(prepared.bottom_m);
            for (range, sine) in ranges.iter_mut().zip([1.0, 0.0, -1.0]) {
                range.push(world.seen_from_m(&offer, sine, eye_depth(prepared, depth, sine), depth));
            }
        }
        let [up, level, down] = ranges.map(|r| over_worlds(&r, per_scramble));
        FinishSeen {
            name: name.clone(),
            middle: Ways { up: up.point, level: level.point, down: down.point },
            range: Ways {
                up: [up.low, up.high],
                level: [level.low, level.high],
                down: [down.low, down.high],
            },
        }
    });
    all.collect()
}
