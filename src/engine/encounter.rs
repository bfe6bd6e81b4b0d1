//! One pass of one bait by one fish: the readable version, and the yardstick of [`super::block`].

use crate::fish::{inspection, noticing, rising};
use crate::maths::{exp, sqrt};
use crate::world::{Offer, PlainSense, RiseLimit, World};

/// Where the luck of one cast fell, and which fish it met: eye, wariness and pace stay with a fish for good.
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
    /// Its easy speed, in standard deviations of the logarithm.
    pub pace: f64,
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
    let visual_range =
        world.visual_range_m(&look, sin_elevation, fish_depth) * exp(world.eye_spread * pass.eye);
    let hazard = |rate, range: f64| {
        noticing::pass_hazard(rate, range / world.range_over_width, range, closest, offer.speed_m_s)
    };
    // A bait at rest is silent and sends no flow.
    let moving = |sense: PlainSense| hazard(offer.moving_share * sense.rate_per_s, sense.range_m);
    let (felt, heard) = (moving(offer.near), offer.rattle.map_or(0.0, moving));
    let noticed =
        noticing::noticed(offer.attention, hazard(offer.sight_rate_per_s, visual_range) + felt + heard);

    // Came up.
    let Some(chase) = world.pursuit.chase(exp(world.pace_spread * pass.pace)) else {
        return Stages { noticed, came: 0.0, struck: 0.0 };
    };
    let willing = match offer.rise {
        RiseLimit::Bladder { half, scale } => rising::bladder_share(rise, fish_depth, half, scale),
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
