//! Light by hour and depth, and how far each finish is seen looking up, level and down.

use super::odds::eye_depth;
use super::over_worlds;
use crate::models::{Assumed, Models, Worlds};
use crate::scenario::{Scenario, day};
use crate::statistics::estimate::Estimate;
use crate::water::sun::{Place, Span, Sun, SunTimes};
use crate::world::{OfferedBait, Setting, SettingError, World};

/// Light at one hour.
#[derive(Debug, Clone, PartialEq)]
pub struct Hour {
    /// Instant, seconds since 1970-01-01T00:00:00Z.
    pub unix_s: f64,
    /// Local wall clock, hours.
    pub clock_h: f64,
    /// Local wall clock in words.
    pub clock: String,
    /// Sun.
    pub sun: Sun,
    /// Illuminance on the surface, lux (median over worlds).
    pub surface_lux: f64,
    /// Illuminance at each depth, lux (median over worlds).
    pub lux: Vec<f64>,
}

/// How far one finish is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct FinishSeen {
    /// Finish.
    pub name: String,
    /// By a fish straight below, m.
    pub up: Estimate,
    /// By a fish at the bait's depth, m.
    pub level: Estimate,
    /// By a fish straight above, m.
    pub down: Estimate,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Light {
    /// Sun at the scenario's time.
    pub sun: Sun,
    /// When it rises and sets that day.
    pub times: SunTimes,
    /// Illuminance on the surface now, lux.
    pub surface_lux: Estimate,
    /// Illuminance just below it, lux.
    pub below_surface_lux: Estimate,
    /// Secchi depth, m.
    pub secchi_m: Estimate,
    /// Attenuation of daylight by the human daylight eye, per metre.
    pub k_per_m: Estimate,
    /// Attenuation of the beam by the human daylight eye, per metre.
    pub c_per_m: Estimate,
    /// Attenuation of daylight in the green and the red cone band of the bass.
    pub band_k_per_m: [Estimate; 2],
    /// Attenuation of the beam in the green and the red cone band.
    pub band_c_per_m: [Estimate; 2],
    /// Depths of the table, m.
    pub depths_m: Vec<f64>,
    /// Illuminance at these depths now, lux.
    pub lux: Vec<Estimate>,
    /// The day, from first light to dark, or all of it where the sun does neither.
    pub hours: Vec<Hour>,
    /// The bait on which the finishes are compared.
    pub bait: String,
    /// Depth of that bait, m.
    pub bait_depth_m: f64,
    /// The finishes.
    pub finishes: Vec<FinishSeen>,
}

/// Worlds looked at: light varies smoothly.
const WORLDS: usize = 64;
/// Step of the day, s.
const STEP_S: f64 = 600.0;
/// Steps of the depth table.
const DEPTH_STEPS: usize = 8;

/// Works out the light of a scenario. `fixed` puts every assumption at its default.
///
/// # Errors
/// [`SettingError`] as for any scenario.
pub fn light(scenario: &Scenario, models: &Models, seed: u64, fixed: bool) -> Result<Light, SettingError> {
    let setting = Setting::new(scenario, models)?;
    let draws = if fixed { Worlds::fixed(models) } else { Worlds::drawn(models, seed, WORLDS) };
    let assumed: Vec<Assumed> =
        draws.draws.iter().map(|d| Assumed::of(models, d)).collect::<Result<_, _>>()?;
    let worlds: Vec<World> = assumed.iter().map(|a| World::new(&setting, a)).collect();
    let over = |f: &dyn Fn(&World) -> f64| {
        over_worlds(&worlds.iter().map(f).collect::<Vec<_>>(), draws.per_scramble)
    };
    let depths_m: Vec<f64> =
        (0..=DEPTH_STEPS).map(|i| setting.bottom_m * i as f64 / DEPTH_STEPS as f64).collect();
    let place = Place::new(scenario.place.latitude_deg, scenario.place.longitude_deg)?;
    let (start_s, end_s) =
        day::bounds_s(scenario).unwrap_or((scenario.when.unix_s - 43_200.0, scenario.when.unix_s + 43_200.0));
    let span = Span { from_s: start_s, to_s: end_s };
    let reference = reference_bait(&setting);
    Ok(Light {
        sun: setting.sun,
        times: place.times(span)?,
        surface_lux: over(&|w| w.surface_lux),
        below_surface_lux: over(&|w| w.below.total_lux()),
        secchi_m: over(&|w| w.secchi_m),
        k_per_m: over(&|w| w.water.k_per_m),
        c_per_m: over(&|w| w.water.c_per_m),
        band_k_per_m: [0, 1].map(|b| over(&|w| w.k_per_m[b])),
        band_c_per_m: [0, 1].map(|b| over(&|w| w.c_per_m[b])),
        lux: depths_m.iter().map(|&z| over(&|w| w.light_at(z))).collect(),
        hours: hours(scenario, &setting, place, span, &assumed, &depths_m)?,
        bait: reference.name.clone(),
        bait_depth_m: reference.path.max_depth_m().min(setting.bottom_m),
        finishes: finishes(models, &setting, reference, &assumed, &worlds, draws.per_scramble),
        depths_m,
    })
}

/// The bait of middle length, on which finishes are compared.
fn reference_bait(setting: &Setting) -> &OfferedBait {
    let mut order: Vec<&OfferedBait> = setting.baits.iter().collect();
    order.sort_by(|a, b| a.outline.length_m.total_cmp(&b.outline.length_m));
    order[order.len() / 2]
}

fn hours(
    scenario: &Scenario,
    setting: &Setting,
    place: Place,
    span: Span,
    assumed: &[Assumed],
    depths_m: &[f64],
) -> Result<Vec<Hour>, SettingError> {
    let day = place.daylight(span)?.unwrap_or(span);
    let first = (day.from_s / STEP_S).floor() as i64;
    let last = (day.to_s / STEP_S).ceil() as i64;
    (first..=last)
        .map(|i| {
            let unix_s = i as f64 * STEP_S;
            let sun = place.sun(unix_s)?;
            let now = Setting { sun, ..setting.clone() };
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
    setting: &Setting,
    reference: &OfferedBait,
    assumed: &[Assumed],
    worlds: &[World],
    per_scramble: usize,
) -> Vec<FinishSeen> {
    let all = models.finishes.iter().enumerate().map(|(finish, entry)| {
        let bait = OfferedBait { finish, ..reference.clone() };
        let mut ranges = [Vec::new(), Vec::new(), Vec::new()];
        for (world, a) in worlds.iter().zip(assumed) {
            let offer = world.offer(setting, a, &bait);
            let depth = (bait.path.max_depth_m() * a.depth_error).min(setting.bottom_m);
            for (range, sine) in ranges.iter_mut().zip([1.0, 0.0, -1.0]) {
                range.push(world.seen_from_m(&offer, sine, eye_depth(setting, depth, sine), depth));
            }
        }
        let [up, level, down] = ranges.map(|r| over_worlds(&r, per_scramble));
        FinishSeen { name: entry.name.clone(), up, level, down }
    });
    all.collect()
}
