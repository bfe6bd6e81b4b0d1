//! The catalogue and the phase bands, taken from the model files.

use super::catalogue::{Catalogue, LineMaterial, Shape};
use super::phase::{PhaseBand, PhaseCalendar, Trend};
use super::types::{Bait, Lip, Phase, Sound, Species};
use crate::models::Models;

impl Catalogue {
    /// Everything that scenario files may name, from the models.
    pub fn of(models: &Models) -> Self {
        let s = &models.shape;
        let shape = Shape {
            height_at_100mm_m: s.height_at_100mm_m,
            width_at_100mm_m: s.width_at_100mm_m,
            girth_exponent: s.girth_power,
            lip_area_share: [s.standard_lip_area_share, s.deep_lip_area_share],
            lip_incidence_deg: [s.standard_lip_incidence_deg, s.deep_lip_incidence_deg],
            three_trebles_from_m: s.three_trebles_from_m,
            water_density_kg_m3: s.neutral_in_kg_m3,
        };
        let c = &models.catalogue;
        let mut baits = Vec::new();
        for &millimetres in &c.lengths_mm {
            for lip in c.lips.iter().filter_map(|l| Lip::from_label(l)) {
                for sound in c.sounds.iter().filter_map(|s| Sound::from_label(s)) {
                    baits.push(shaped(&shape, millimetres, lip, sound, &c.finish));
                }
            }
        }
        Self {
            baits,
            finishes: models.finishes.clone(),
            forages: models.forages.iter().map(|f| (f.name.clone(), f.usual_length_m)).collect(),
            lines: models
                .lines
                .iter()
                .map(|l| LineMaterial {
                    name: l.name.clone(),
                    strength_pa: l.strength_pa,
                    density_kg_m3: l.density_kg_m3,
                })
                .collect(),
            shape,
            too_warm_c: too_warm_c(models),
        }
    }
}

/// Where the feeding curves end by default; smallmouth have two, of which the later counts.
fn too_warm_c(models: &Models) -> [f64; 2] {
    let ends = |names: &[&str]| {
        let defaults = names.iter().filter_map(|n| models.index(n)).map(|i| models.parameters[i].default);
        defaults.reduce(f64::max).unwrap_or(f64::INFINITY)
    };
    [ends(&["largemouth.feeding.end"]), ends(&["smallmouth.feeding.warm_end", "smallmouth.feeding.cool_end"])]
}

fn shaped(shape: &Shape, millimetres: u32, lip: Lip, sound: Sound, finish: &str) -> Bait {
    let length_m = f64::from(millimetres) / 1000.0;
    let form = shape.form(length_m, lip);
    Bait {
        name: format!("{millimetres} mm, {} lip, {}", lip.label(), sound.label()),
        length_m,
        lip,
        sound,
        finish: finish.to_owned(),
        trebles: form.trebles,
        height_m: form.height_m,
        width_m: form.width_m,
        mass_kg: shape.mass_kg(length_m, form.height_m, form.width_m, 0.0),
        lip_area_m2: form.lip_area_m2,
        lip_incidence_deg: form.lip_incidence_deg,
        buoyancy_n: 0.0,
        runs_m: None,
    }
}

/// The temperature bands of both species.
pub fn phase_bands(models: &Models) -> Vec<PhaseBand> {
    let phases = [
        (Phase::Winter, Trend::Any),
        (Phase::PreSpawn, Trend::Warming),
        (Phase::Spawn, Trend::Warming),
        (Phase::PostSpawn, Trend::Warming),
        (Phase::Summer, Trend::Any),
        (Phase::Fall, Trend::Cooling),
    ];
    let of = |(species, bands): (Species, [[f64; 2]; 6])| {
        bands.into_iter().zip(phases).map(move |([low_c, high_c], (phase, trend))| PhaseBand {
            species,
            phase,
            low_c,
            high_c,
            trend,
        })
    };
    [Species::Largemouth, Species::Smallmouth].into_iter().zip(models.bands).flat_map(of).collect()
}

/// The dates that settle what temperature leaves open.
pub fn calendar(models: &Models) -> PhaseCalendar {
    let c = &models.calendar;
    PhaseCalendar {
        coldest_day: c.coldest_day,
        warmest_day: c.warmest_day,
        spawn_peak_slope: c.spawn_peak_days_per_degree,
        spawn_peak_intercept: c.spawn_peak_at_equator,
        spawn_peak_latitudes: (c.spawn_peak_latitudes[0], c.spawn_peak_latitudes[1]),
        post_spawn_days: c.post_spawn_days,
    }
}
