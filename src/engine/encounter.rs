//! One pass of one bait by one fish: the readable version, and the yardstick of [`super::block`].

use crate::fish::{inspection, noticing, rising, sight};
use crate::maths::{exp, sqrt};
use crate::world::{Offer, RiseLimit, World};

/// Where the luck of one cast fell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pass {
    /// Fraction of the retrieve at which the bait passes the fish, 0..1.
    pub along: f64,
    /// Side of the path on which the fish hangs, -1..1 of the half width.
    pub side: f64,
    /// Depth of the fish about its mean, in standard deviations.
    pub hang: f64,
    /// Keenness of its eye, in standard deviations of the logarithm.
    pub eye: f64,
    /// Its wariness, in standard deviations of the logarithm.
    pub wary: f64,
}

/// Chances of one pass; each stage given the one before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stages {
    /// The fish notices the bait.
    pub noticed: f64,
    /// It comes, having noticed.
    pub came: f64,
    /// It strikes, having come.
    pub struck: f64,
}

impl Stages {
    /// Chance of a strike.
    pub fn strike(&self) -> f64 {
        self.noticed * self.came * self.struck
    }
}

/// Nearest that a bait passes a fish: closer, they touch.
pub(super) const NEAREST_M: f64 = 1e-3;
/// Least depth of fish and least height over the bottom, m.
pub(super) const EDGE_M: f64 = 0.05;

/// Works out one pass.
pub fn encounter(world: &World, offer: &Offer, pass: &Pass) -> Stages {
    // Where they are.
    let bait_depth = offer.path.at(pass.along);
    let fish_depth =
        (world.fish_depth_m + world.depth_spread_m * pass.hang).max(EDGE_M).min(world.bottom_m - EDGE_M);
    let rise = fish_depth - bait_depth;
    let side = world.half_width_m * pass.side;
    let closest = sqrt(rise * rise + side * side).max(NEAREST_M);
    let sin_elevation = rise / closest;

    // Seen, felt, heard.
    let look = offer.look.at(sin_elevation, bait_depth);
    let mut visual_range: f64 = 0.0;
    for band in 0..2 {
        let light = exp(world.ln_light[band] - world.k_per_m[band] * fish_depth);
        let k = (world.c_per_m[band] - world.k_per_m[band] * sin_elevation).max(crate::world::look::LEAST_K);
        // The table holds ln(k/2) + ln(|C| A E')/2, of the body and of the glint.
        let small = |node: f64| {
            let contrast_area_sensitivity = 4.0 * exp(2.0 * node) / (k * k);
            sight::small_target_range(contrast_area_sensitivity, 1.0, light, world.half_light_lux, k)
        };
        let threshold = sight::contrast_threshold(light, world.contrast_threshold, world.half_light_lux);
        let limit = sight::contrast_range(exp(look[2 + band]), threshold, k);
        visual_range = visual_range.max(small(look[band]).min(limit)).max(small(look[5 + band]));
    }
    visual_range *= exp(world.eye_spread * pass.eye);
    let hazard =
        |rate, range| noticing::pass_hazard(rate, range / world.range_over_width, closest, offer.speed_m_s);
    let felt = hazard(offer.near.rate_per_s, offer.near.range_m);
    let heard = offer.rattle.map_or(0.0, |r| hazard(r.rate_per_s, r.range_m));
    let noticed =
        noticing::noticed(offer.attention, hazard(offer.sight_rate_per_s, visual_range) + felt + heard);

    // Came up.
    let Some(chase) = offer.chase else { return Stages { noticed, came: 0.0, struck: 0.0 } };
    let willing = match offer.rise {
        RiseLimit::Bladder { half, scale } => {
            rising::bladder_share(rise, fish_depth, chase.dearness, half, scale)
        }
        RiseLimit::Willing { median_m, spread } => {
            rising::willing_share(closest * chase.detour, chase.dearness, median_m, spread)
        }
    };
    let came = offer.ready * willing;

    // Looked it over: hazard over the time of the trip, while the distance shrinks evenly.
    let light = exp(world.ln_light[world.clearest] - world.k_per_m[world.clearest] * bait_depth);
    let view = offer.clear_view.at(closest) * inspection::light_share(light, world.detail_light_lux);
    let mismatch = offer.mismatch + offer.look_weight * look[4];
    let hazard = offer.refusal_per_s * exp(world.wariness_spread * pass.wary) * mismatch;
    let seconds_per_metre = chase.detour / chase.speed_m_s;
    let struck = inspection::unrefused(hazard * view, seconds_per_metre) * offer.commit;

    Stages { noticed, came, struck }
}
