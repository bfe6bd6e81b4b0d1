//! Where scenario, water, bait and fish meet: all that does not depend on the luck of one cast, worked out once.
//!
//! A [`Prepared`] is a scenario with what needs no world draw (sun, running paths, catalogue look-ups); with
//! one draw of what nobody knows it becomes a [`World`], and each bait in it an [`Offer`].

pub mod ablation;
pub mod clear_view;
pub mod look;
pub mod offer;
pub mod prepared;

pub use offer::{Offer, PlainSense, RiseLimit};
pub use prepared::{BaitInWater, PrepareError, Prepared};

use crate::bait::finish::Finish;
use crate::bait::sound::{Rattle, equivalent_radius_m, near_field_range_m, wind_noise_db};
use crate::fish::swimming::{self, Pursuit};
use crate::fish::{inspection, noticing, rising, sight, size, temperature};
use crate::maths::interpolate::Table;
use crate::maths::{exp, ln, quadrature::gauss_hermite_normal, sqrt};
use crate::models::Assumed;
use crate::scenario::{Clarity, Rain};
use crate::water::clarity::{SecchiSplit, Water, secchi_m_from_turbidity};
use crate::water::contrast::{beam_lux_at, illuminance_at};
use crate::water::radiance::{Corners, Field, Ratios};
use crate::water::sky::{Above, Sky, moon_lux};
use crate::water::surface::{BelowSurface, REFRACTIVE_INDEX, RoughSurface, ripple_blur_rad};
use look::{DEPTHS, Glare, LookTable, PreyLook, Surround, VALUES, Viewing};
use std::sync::LazyLock;

/// Nodes for the mean over the roll of a twitch.
static ROLL: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| gauss_hermite_normal(5));

/// One plausible state of things: a prepared scenario and one draw of what nobody knows.
#[derive(Debug, Clone, PartialEq)]
pub struct World {
    /// Illuminance on the surface, lux.
    pub surface_lux: f64,
    /// Light just below the surface.
    pub below: BelowSurface,
    /// ln of the light just below the surface in lux, green and red band.
    pub ln_light: [f64; 2],
    /// The water after the closure.
    pub water: Water,
    /// Attenuation of daylight, green and red band, per metre.
    pub k_per_m: [f64; 2],
    /// Attenuation of the beam, green and red band, per metre.
    pub c_per_m: [f64; 2],
    /// Band in which the water is clearest: 0 green, 1 red.
    pub clearest: usize,
    /// True Secchi depth, m.
    pub secchi_m: f64,
    /// Radiance by elevation.
    pub field: Field,
    /// Least visible contrast in good light.
    pub contrast_threshold: f64,
    /// Light under which the eye follows the square-root law, lux.
    pub half_light_lux: f64,
    /// Light that the noise of the rods is like, lux.
    pub dark_light_lux: f64,
    /// Light at which half of a bait's detail shows, lux.
    pub detail_light_lux: f64,
    /// Widths of the bell of noticing within the range of a sense.
    pub range_over_width: f64,
    /// Spread of the eye among fish.
    pub eye_spread: f64,
    /// Spread of wariness among fish.
    pub wariness_spread: f64,
    /// Spread of easy speed among fish.
    pub pace_spread: f64,
    /// How fast the bait is, and how fast the fish may be.
    pub pursuit: Pursuit,
    /// Mean depth of the fish, m.
    pub fish_depth_m: f64,
    /// Standard deviation of its depth, m.
    pub depth_spread_m: f64,
    /// Half width of a pass, m.
    pub half_width_m: f64,
    /// Depth of the bottom, m.
    pub bottom_m: f64,
    /// Share of fish ready to feed.
    pub ready: f64,
    /// Noise in the band of a rattle, dB.
    pub noise_db: f64,
    surround: Surround,
    prey: PreyLook,
}

impl World {
    /// The world of a prepared scenario under one draw.
    pub fn new(prepared: &Prepared, a: &Assumed) -> Self {
        let above = light_above(prepared, a);
        let rough = RoughSurface { most_reflected: a.most_reflected, full_from_m_s: a.rough_from_m_s };
        let below = BelowSurface::of(above, prepared.sun.elevation_deg, prepared.wind_m_s, rough);
        let total = below.total_lux();
        let (water, secchi_m) = clarity(prepared, a);
        let bands = water.bands;
        let clearest = usize::from(bands.c_per_m[1] < bands.c_per_m[0]);
        let field = field(prepared, a, &below, secchi_m);
        let prey_finish = finish(a.forages.get(prepared.forage).copied());
        let forage_surround = Surround::new(&field, &rolls(a.roll_forage_deg));
        let prey = PreyLook::new(&prey_finish, &prepared.prey, &forage_surround);
        Self {
            surface_lux: above.lux,
            ln_light: [ln(total.max(1e-30)); 2],
            k_per_m: bands.k_per_m,
            c_per_m: bands.c_per_m,
            clearest,
            secchi_m,
            contrast_threshold: a.contrast_threshold,
            half_light_lux: a.half_light_lux,
            dark_light_lux: a.dark_light_lux,
            detail_light_lux: a.detail_light * a.half_light_lux,
            range_over_width: a.range_over_width,
            eye_spread: a.sight_fish_to_fish,
            wariness_spread: a.wariness_fish_to_fish,
            pace_spread: a.pace_fish_to_fish,
            pursuit: pursuit(prepared, a),
            fish_depth_m: prepared.fish_depth_m,
            depth_spread_m: prepared.depth_spread_m,
            half_width_m: a.half_width_m,
            bottom_m: prepared.bottom_m,
            ready: ready(readiness(prepared, a)),
            noise_db: noise(prepared, a),
            surround: Surround::new(&field, &rolls(a.roll_bait_deg)),
            below,
            water,
            field,
            prey,
        }
    }

    /// A bait of the prepared scenario, offered in this world.
    pub fn offer(&self, prepared: &Prepared, a: &Assumed, bait: &BaitInWater) -> Offer {
        let rattle = bait.rattles.then(|| self.rattle(prepared, a));
        let detail_range_m = sight::detail_range(a.detail_share * bait.outline.length_m, a.detail_arcmin);
        let farthest = sqrt(self.bottom_m * self.bottom_m + self.half_width_m * self.half_width_m);
        Offer {
            path: Table::from_values(
                0.0,
                1.0,
                bait.path.points().map(|(_, depth)| (depth * a.depth_error).min(self.bottom_m)).collect(),
            ),
            speed_m_s: prepared.mean_speed_m_s,
            moving_share: prepared.moving_share,
            look: self.look(prepared, a, bait),
            sight_rate_per_s: a.sight_notice_rate,
            near: PlainSense {
                range_m: near_field_range_m(
                    equivalent_radius_m(bait.volume_m3),
                    a.twitch_acceleration,
                    a.near_threshold,
                ),
                rate_per_s: a.near_notice_rate,
            },
            rattle,
            attention: self.attention(prepared, a),
            ready: self.ready,
            rise: if a.by_bladder > 0.5 {
                RiseLimit::Bladder { half: a.bladder_half, scale: a.bladder_scale }
            } else {
                RiseLimit::Willing {
                    median_m: rising::willing_median(
                        a.willing_distance_m,
                        bait.outline.length_m,
                        a.bigger_meal_power,
                    ),
                    spread: a.willing_fish_to_fish,
                }
            },
            refusal_per_s: a.refuse_hazard * a.pressure_wariness[prepared.pressure],
            look_weight: a.refuse_look,
            mismatch: 1.0 + size_mismatch(prepared, a, bait) + sound_mismatch(a, rattle),
            detail_range_m,
            clear_view: clear_view::ClearView::new(
                a.near_point_m,
                farthest,
                self.c_per_m[self.clearest],
                detail_range_m,
            ),
            commit: a.commit * not_too_large(prepared, a, bait),
        }
    }

    /// Share of passes at which the fish attends: the less, the less it sees of anything where it hangs.
    fn attention(&self, prepared: &Prepared, a: &Assumed) -> f64 {
        let band = self.clearest;
        let light = exp(self.ln_light[band] - self.k_per_m[band] * self.fish_depth_m.min(self.bottom_m));
        let dimness = sight::dimness(light, self.half_light_lux, self.dark_light_lux);
        // Something large and black, seen level.
        let sight_m = sight::contrast_range(1.0, self.contrast_threshold * dimness, self.c_per_m[band]);
        a.attention * noticing::attention_by_sight(a.blind_attention, sight_m, prepared.fish_length_m)
    }

    fn look(&self, prepared: &Prepared, a: &Assumed, bait: &BaitInWater) -> LookTable {
        let deepest_m = (bait.path.max_depth_m() * a.depth_error).min(self.bottom_m);
        let viewing = Viewing {
            surround: &self.surround,
            c_per_m: self.c_per_m,
            k_per_m: self.k_per_m,
            glare: std::array::from_fn(|i| {
                let depth_m = deepest_m * i as f64 / (DEPTHS - 1) as f64;
                glare_at(prepared, a, &self.below, self.k_per_m[self.clearest], depth_m)
            }),
            deepest_m,
            sensitivity: a.sensitivity,
            veil: a.look_veil,
            prey: &self.prey,
        };
        let finish = finish(a.finishes.get(bait.finish).copied());
        LookTable::new(&finish, &bait.outline, &viewing)
    }

    fn rattle(&self, prepared: &Prepared, a: &Assumed) -> PlainSense {
        let rattle = Rattle {
            source_db: a.rattle_level_db,
            threshold_db: a.hearing_threshold_db,
            noise_db: self.noise_db,
            critical_ratio_db: a.critical_ratio_db,
            water_depth_m: prepared.bottom_m,
        };
        PlainSense { range_m: rattle.audible_range_m(), rate_per_s: a.hearing_notice_rate }
    }

    /// Illuminance at a depth in the clearest band, lux.
    pub fn light_at(&self, depth_m: f64) -> f64 {
        illuminance_at(self.below.total_lux(), self.k_per_m[self.clearest], depth_m)
    }

    /// How far a median fish at its mean depth sees a bait that lies in the direction of the given sine of
    /// elevation, at the depth `bait_depth_m`: the better band, m.
    pub fn seen_from_m(
        &self,
        offer: &Offer,
        sin_elevation: f64,
        fish_depth_m: f64,
        bait_depth_m: f64,
    ) -> f64 {
        self.visual_range_m(&offer.look.at(sin_elevation, bait_depth_m), sin_elevation, fish_depth_m)
    }

    /// How far a median fish at `fish_depth_m` sees what looks as a node of a [`LookTable`] says, in the direction of
    /// the given sine of elevation: in the better band the nearer of the small-target range and the contrast limit,
    /// or the range of the glint, m.
    pub fn visual_range_m(&self, look: &[f64; VALUES], sin_elevation: f64, fish_depth_m: f64) -> f64 {
        let mut range: f64 = 0.0;
        for band in 0..2 {
            let light = exp(self.ln_light[band] - self.k_per_m[band] * fish_depth_m);
            let dimness = sight::dimness(light, self.half_light_lux, self.dark_light_lux);
            let k = (self.c_per_m[band] - self.k_per_m[band] * sin_elevation).max(look::LEAST_K);
            // The table holds ln(k/2) + ln(|C| A E')/2, of the body and of the glint.
            let small =
                |node: f64| sight::small_target_range(4.0 * exp(2.0 * node) / (k * k), 1.0, dimness, k);
            let limit = sight::contrast_range(exp(look[2 + band]), self.contrast_threshold * dimness, k);
            range = range.max(small(look[band]).min(limit)).max(small(look[5 + band]));
        }
        range
    }
}

/// How fast the bait is, and how fast a fish of usual pace may be in this water.
fn pursuit(prepared: &Prepared, a: &Assumed) -> Pursuit {
    let t = prepared.temperature_c;
    let share = swimming::cold_share(t, a.cold_slope, a.critical_25)
        * swimming::heat_share(t, a.heat_from_c, a.heat_loss_per_c);
    let body_lengths = prepared.fish_length_m * share;
    Pursuit {
        bait_m_s: prepared.mean_speed_m_s,
        approach_m_s: a.approach * body_lengths,
        burst_m_s: a.burst * body_lengths,
        lead: a.lead,
    }
}

/// Share of fish for which the bait is not too large.
fn not_too_large(prepared: &Prepared, a: &Assumed, bait: &BaitInWater) -> f64 {
    size::not_too_large(bait.outline.length_m, prepared.fish_length_m, a.largest_meal, a.largest_meal_spread)
}

/// What of the mismatch comes from the length.
fn size_mismatch(prepared: &Prepared, a: &Assumed, bait: &BaitInWater) -> f64 {
    inspection::size_mismatch(a.refuse_size, bait.outline.length_m, prepared.prey.length_m, a.size_width)
}

/// What of the mismatch comes from a rattle: one drowned by noise neither calls nor warns.
fn sound_mismatch(a: &Assumed, rattle: Option<PlainSense>) -> f64 {
    a.refuse_sound * rattle.map_or(0.0, |r| r.range_m / (r.range_m + a.half_loud_m))
}

fn rolls(degrees: f64) -> Vec<(f64, f64)> {
    ROLL.iter().map(|&(z, w)| (z * degrees.to_radians(), w)).collect()
}

fn finish(shares: Option<[f64; 4]>) -> Finish {
    let [green, red, specular, transmittance] = shares.unwrap_or([0.0; 4]);
    Finish { diffuse: [green, red], specular, transmittance }.scaled_to_one()
}

fn light_above(prepared: &Prepared, a: &Assumed) -> Above {
    let sky = Sky {
        cloud: prepared.cloud,
        cloud_spread: a.cloud_error,
        floor_lux: a.night_floor_lux + moon_lux(prepared.moon, a.moon_height_deg),
        air_extinction: a.air_extinction,
    };
    sky.above(prepared.sun.elevation_deg)
}

fn clarity(prepared: &Prepared, a: &Assumed) -> (Water, f64) {
    // The prepared scenario found its tint in the same models as the draw: there is no other case.
    let gamma_k = a.gamma_k.get(prepared.tint_index).copied().unwrap_or(f64::NAN);
    let split = SecchiSplit { gamma: a.secchi_total, gamma_k, mu0: a.secchi_cosine };
    let secchi_m = match prepared.clarity {
        Clarity::Secchi(depth_m) => depth_m * a.secchi_error,
        Clarity::Turbidity(ntu) => secchi_m_from_turbidity(ntu, prepared.turbidity_law, a.turbidity_residual),
    };
    let secchi_m = secchi_m.clamp(LEAST_SECCHI_M, MOST_SECCHI_M);
    (prepared.tint.at_secchi(secchi_m, split), secchi_m)
}

/// Secchi depths outside are held here: pure water reads about 80 m, thick mud a few centimetres.
const LEAST_SECCHI_M: f64 = 0.01;
const MOST_SECCHI_M: f64 = 80.0;

fn field(prepared: &Prepared, a: &Assumed, below: &BelowSurface, secchi_m: f64) -> Field {
    let corners = Corners {
        sunny_clear: Ratios { zenith: a.zenith_clear, nadir: a.nadir_clear.min(1.0) },
        soft: Ratios { zenith: a.zenith_diffuse, nadir: a.nadir_clear.min(1.0) },
        muddy: Ratios { zenith: a.zenith_muddy, nadir: a.nadir_muddy.min(1.0) },
        clear_from_m: a.clear_secchi_m,
        stained_m: a.stained_secchi_m,
        muddy_to_m: a.muddy_secchi_m,
    };
    // A clear sky by day gives three tenths without direction; that counts as an open sun.
    let diffuse = below.diffuse_lux / below.total_lux().max(1e-30);
    let overcast = ((diffuse - 0.3) / 0.7).clamp(0.0, 1.0);
    let blur = ripple_blur_rad(prepared.wind_m_s + prepared.rain_as_wind_m_s, REFRACTIVE_INDEX);
    Field::new(Ratios::blend(&corners, overcast, secchi_m), blur)
}

/// Sun on a facet at a depth. A flash lasts for the share of the time given; ripple widens it and dims it alike,
/// so that the energy stays and the root mean square falls.
fn glare_at(prepared: &Prepared, a: &Assumed, below: &BelowSurface, k_per_m: f64, depth_m: f64) -> Glare {
    let down = illuminance_at(below.total_lux(), k_per_m, depth_m);
    let beam = beam_lux_at(below.direct_lux, below.cos_refracted, k_per_m, a.beam_extra, depth_m);
    let blur =
        ripple_blur_rad(prepared.wind_m_s + prepared.rain_as_wind_m_s, REFRACTIVE_INDEX) / a.glint_facet_rad;
    let share = (a.glint_share * sqrt(1.0 + blur * blur)).min(1.0);
    Glare { beam_over_down: if down > 0.0 { beam / down } else { 0.0 }, strength: 1.0 / sqrt(share) }
}

/// Readiness by what makes it: hunger (with its temperature), phase, fishing pressure.
fn readiness(prepared: &Prepared, a: &Assumed) -> [f64; 3] {
    let t = prepared.temperature_c;
    let (below, above, best_c, end_c) = if prepared.species == 0 {
        (a.largemouth_slope, a.largemouth_slope, a.largemouth_best_c, a.largemouth_end_c)
    } else if a.smallmouth_by_warm_curve > 0.5 {
        let slope = a.smallmouth_warm_slope;
        (slope, slope, a.smallmouth_warm_best_c, a.smallmouth_warm_end_c)
    } else {
        let (below, above) = (a.smallmouth_cool_slope_below, a.smallmouth_cool_slope_above);
        (below, above, a.smallmouth_cool_best_c, a.smallmouth_cool_end_c)
    };
    let feeding = temperature::feeding_two_slopes(t, below, above, best_c, end_c);
    let hunger = temperature::willingness(feeding, t < best_c, a.cold_floor, a.temperature_power);
    let phase = a.phase[prepared.species][prepared.phase];
    [a.ready * hunger, phase, a.pressure_appetite[prepared.pressure]]
}

/// Share of fish ready to feed.
fn ready([hunger, phase, pressure]: [f64; 3]) -> f64 {
    (hunger * phase * pressure).min(1.0)
}

fn noise(prepared: &Prepared, a: &Assumed) -> f64 {
    let rain = match prepared.rain {
        Rain::None => 0.0,
        Rain::Drizzle => a.drizzle_noise_db,
        Rain::Rain => a.rain_noise_db,
    };
    wind_noise_db(a.hearing_frequency_hz, prepared.wind_m_s) + a.lake_noise_offset_db + rain
}
