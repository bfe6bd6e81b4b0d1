//! The encounter over many passes at once: the arithmetic of [`super::encounter`], in columns of [`LANES`]
//! that the compiler turns into vector code.
//!
//! Table look-ups stand in loops of their own; everything between is branch-free. What does not depend on the
//! bait is worked out once per world in [`FishColumns`].

use super::encounter::{EDGE_M, NEAREST_M};
use super::points::{LANES, Passes, SCRAMBLES};
use crate::fish::noticing::ROOT_TWO_PI;
use crate::fish::rising::AIR_AS_WATER_M;
use crate::maths::fast::{exp, ln, tables};
use crate::world::look::{LEAST_K, VALUES};
use crate::world::{Offer, RiseLimit, World};

type Lanes = [f64; LANES];

/// What the fish of each pass brings, whatever the bait.
#[derive(Debug, Clone)]
pub struct FishColumns {
    blocks: Vec<FishBlock>,
}

#[derive(Debug, Clone)]
struct FishBlock {
    along: Lanes,
    side_m: Lanes,
    depth_m: Lanes,
    /// ln of the dimness at the eye, green and red band.
    ln_dimness: [Lanes; 2],
    eye: Lanes,
    wary: Lanes,
    /// Time that a metre of the closest distance takes, s/m; 0 where no fish catches the bait.
    seconds_per_m: Lanes,
    /// ln of how much longer and dearer the way is than the closest distance at easy speed.
    ln_cost: Lanes,
}

impl FishColumns {
    /// Works out the columns of a world.
    pub fn new(world: &World, passes: &Passes) -> Self {
        let blocks = (0..passes.len() / LANES)
            .map(|b| {
                let at = |column: &[f64]| -> Lanes { std::array::from_fn(|i| column[b * LANES + i]) };
                let (hang, eye, wary) = (at(&passes.hang), at(&passes.eye), at(&passes.wary));
                let chase = at(&passes.pace).map(|p| world.pursuit.chase(exp(world.pace_spread * p)));
                let deepest = world.bottom_m - EDGE_M;
                let depth: Lanes = std::array::from_fn(|i| {
                    (world.fish_depth_m + world.depth_spread_m * hang[i]).max(EDGE_M).min(deepest)
                });
                let ln_half_light = ln(world.half_light_lux);
                let dark_over_half = world.dark_light_lux / world.half_light_lux;
                FishBlock {
                    along: at(&passes.along),
                    side_m: at(&passes.side).map(|s| world.half_width_m * s),
                    depth_m: depth,
                    ln_dimness: [0, 1].map(|band| {
                        depth.map(|z| {
                            // Ke/E; the fall of light with depth in one exponential.
                            let t = exp(ln_half_light - world.ln_light[band] + world.k_per_m[band] * z);
                            0.5 * ln(1.0 + t * (1.0 + t * dark_over_half))
                        })
                    }),
                    eye: eye.map(|e| exp(world.eye_spread * e)),
                    wary: wary.map(|w| exp(world.wariness_spread * w)),
                    seconds_per_m: chase.map(|c| c.map_or(0.0, |c| c.detour / c.speed_m_s)),
                    ln_cost: chase.map(|c| c.map_or(0.0, |c| ln(c.dearness * c.detour))),
                }
            })
            .collect();
        Self { blocks }
    }

    /// Number of passes.
    pub fn passes(&self) -> usize {
        self.blocks.len() * LANES
    }
}

/// Means over the passes of each scramble: noticed, came and noticed, struck.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Means {
    /// By scramble: share of passes noticed; noticed and come; struck.
    pub by_scramble: [[f64; 3]; SCRAMBLES],
}

impl Means {
    /// Where there is no bait.
    pub const UNKNOWN: Self = Self { by_scramble: [[f64::NAN; 3]; SCRAMBLES] };

    /// Mean over the scrambles of stage `stage`.
    pub fn mean(&self, stage: usize) -> f64 {
        self.by_scramble.iter().map(|s| s[stage]).sum::<f64>() / SCRAMBLES as f64
    }

    /// Variance of that mean, from the spread of the independent scrambles.
    pub fn variance(&self, stage: usize) -> f64 {
        let mean = self.mean(stage);
        let sum: f64 = self.by_scramble.iter().map(|s| (s[stage] - mean) * (s[stage] - mean)).sum();
        sum / (SCRAMBLES * (SCRAMBLES - 1)) as f64
    }
}

/// Works out every pass of one bait in one world.
pub fn run(world: &World, offer: &Offer, fish: &FishColumns) -> Means {
    let mut means = Means::default();
    let each = fish.passes() / SCRAMBLES;
    let mut out = [[0.0; LANES]; 3];
    for (b, block) in fish.blocks.iter().enumerate() {
        encounters(world, offer, block, &mut out);
        for (stage, lanes) in out.iter().enumerate() {
            // A block may hold parts of several scrambles; each is summed in the order of its passes.
            for (part, chunk) in lanes.chunks(each.min(LANES)).enumerate() {
                let scramble = (b * LANES + part * each.min(LANES)) / each;
                means.by_scramble[scramble][stage] += chunk.iter().sum::<f64>();
            }
        }
    }
    for scramble in &mut means.by_scramble {
        *scramble = scramble.map(|sum| sum / each as f64);
    }
    means
}

/// Works out the chances of one block: noticed; noticed and come; struck.
fn encounters(world: &World, offer: &Offer, fish: &FishBlock, out: &mut [Lanes; 3]) {
    let bait_depth: Lanes = std::array::from_fn(|i| offer.path.at(fish.along[i]));
    let mut rise = [0.0; LANES];
    let mut closest = [0.0; LANES];
    let mut sin_elevation = [0.0; LANES];
    for i in 0..LANES {
        rise[i] = fish.depth_m[i] - bait_depth[i];
        closest[i] = (rise[i] * rise[i] + fish.side_m[i] * fish.side_m[i]).sqrt().max(NEAREST_M);
        sin_elevation[i] = rise[i] / closest[i];
    }
    let mut look = [[0.0; LANES]; VALUES];
    let mut view = [0.0; LANES];
    for i in 0..LANES {
        let node = offer.look.at(sin_elevation[i], bait_depth[i]);
        for (column, value) in look.iter_mut().zip(node).take(7) {
            column[i] = value;
        }
        view[i] = offer.clear_view.at(closest[i]);
    }
    let noticed = notice(world, offer, fish, &closest, &sin_elevation, &look);
    let willing = come(world, offer, fish, &rise, &closest);
    let struck = inspect(world, offer, fish, &bait_depth, &view, &look[4]);
    for i in 0..LANES {
        out[0][i] = noticed[i];
        out[1][i] = noticed[i] * willing[i];
        out[2][i] = noticed[i] * willing[i] * struck[i];
    }
}

/// Chance of noticing by sight, near field and hearing.
#[inline(always)]
fn notice(
    world: &World,
    offer: &Offer,
    fish: &FishBlock,
    closest: &Lanes,
    sin_elevation: &Lanes,
    look: &[Lanes; VALUES],
) -> Lanes {
    let ln_threshold = ln(world.contrast_threshold);
    let mut range = [0.0_f64; LANES];
    let tables = tables();
    for band in 0..2 {
        for i in 0..LANES {
            let k = (world.c_per_m[band] - world.k_per_m[band] * sin_elevation[i]).max(LEAST_K);
            let ln_dimness = fish.ln_dimness[band][i];
            let small = 2.0 * tables.omega(look[band][i] - 0.5 * ln_dimness) / k;
            let limit = ((look[2 + band][i] - ln_threshold - ln_dimness) / k).max(0.0);
            let glint = 2.0 * tables.omega(look[5 + band][i] - 0.5 * ln_dimness) / k;
            range[i] = range[i].max(small.min(limit)).max(glint);
        }
    }
    let per_width = ROOT_TWO_PI / offer.speed_m_s;
    let per_range = 1.0 / world.range_over_width;
    let fixed_senses = [Some(offer.near), offer.rattle];
    let mut hazard = [0.0; LANES];
    let mut bell = [0.0; LANES];
    let mut chord = [0.0; LANES];
    for i in 0..LANES {
        let own = range[i] * fish.eye[i];
        let w = (own * per_range).max(1e-9);
        let per_w = 1.0 / w;
        let square = closest[i] * closest[i];
        // Half of the way within range, in widths: 0 out of range, and nothing is noticed.
        chord[i] = (own * own - square).max(0.0).sqrt() * per_w;
        bell[i] = offer.sight_rate_per_s * per_width * w * exp(-0.5 * square * per_w * per_w);
    }
    for i in 0..LANES {
        hazard[i] = bell[i] * tables.within(chord[i]);
    }
    // Whether any of the block is within reach, eight columns at a time.
    let mut nearest = [f64::INFINITY; 8];
    for eight in closest.as_chunks::<8>().0 {
        for (least, &c) in nearest.iter_mut().zip(eight) {
            *least = if c < *least { c } else { *least };
        }
    }
    let nearest = nearest.iter().copied().fold(f64::INFINITY, f64::min);
    for sense in fixed_senses.into_iter().flatten().filter(|s| s.range_m > nearest) {
        let w = sense.range_m * per_range;
        let rate_per_s = offer.moving_share * sense.rate_per_s;
        let (height, per_square) = (rate_per_s * per_width * w, -0.5 / (w * w));
        let (reach, per_w) = (sense.range_m * sense.range_m, 1.0 / w);
        for i in 0..LANES {
            let square = closest[i] * closest[i];
            chord[i] = (reach - square).max(0.0).sqrt() * per_w;
            bell[i] = height * exp(square * per_square);
        }
        for i in 0..LANES {
            hazard[i] += bell[i] * tables.within(chord[i]);
        }
    }
    hazard.map(|h| offer.attention * (1.0 - exp(-h)))
}

/// Chance of coming, once noticed.
#[inline(always)]
fn come(world: &World, offer: &Offer, fish: &FishBlock, rise: &Lanes, closest: &Lanes) -> Lanes {
    if !world.pursuit.catches() {
        return [0.0; LANES];
    }
    let mut came = [0.0; LANES];
    match offer.rise {
        RiseLimit::Bladder { half, scale } => {
            for i in 0..LANES {
                let up = rise[i].max(0.0);
                let phi = up / (AIR_AS_WATER_M + fish.depth_m[i]);
                let limited = 1.0 / (1.0 + exp((phi - half) / scale));
                came[i] = offer.ready * if rise[i] > 0.0 { limited } else { 1.0 };
            }
        }
        RiseLimit::Willing { median_m, spread } => {
            let ln_median = ln(median_m);
            let tables = tables();
            for i in 0..LANES {
                let z = (ln_median - fish.ln_cost[i] - ln(closest[i])) / spread;
                came[i] = offer.ready * tables.normal_cdf(z);
            }
        }
    }
    came
}

/// Chance of striking, once come.
#[inline(always)]
fn inspect(
    world: &World,
    offer: &Offer,
    fish: &FishBlock,
    bait_depth: &Lanes,
    view: &Lanes,
    unlike: &Lanes,
) -> Lanes {
    let band = world.clearest;
    let ln_dim = ln(world.detail_light_lux) - world.ln_light[band];
    let mut struck = [0.0; LANES];
    for i in 0..LANES {
        let light_share = 1.0 / (1.0 + exp(ln_dim + world.k_per_m[band] * bait_depth[i]));
        let mismatch = offer.mismatch + offer.look_weight * unlike[i];
        let seconds = fish.seconds_per_m[i] * light_share * view[i];
        struck[i] = offer.commit * exp(-offer.refusal_per_s * fish.wary[i] * mismatch * seconds);
    }
    struck
}
