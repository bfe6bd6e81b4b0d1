//! Questions put to the engine: each a pure reduction of strike tables, or of the physics, to a typed answer.

pub mod alike;
pub mod axis;
pub mod casts;
pub mod circularity;
pub mod day;
pub mod depth;
pub mod drivers;
pub mod learn;
pub mod light;
pub mod many;
pub mod odds;
pub mod pack;
pub mod rules;
pub mod selfcheck;
pub mod sweep;
pub mod why;

use crate::statistics::estimate::{Estimate, quantile, sorted};
use crate::world::Setting;

/// The smallest difference that matters, strikes per 100 passes.
pub const SMALLEST_DIFFERENCE: f64 = 1.0;

/// Line out when a bait lands, mean over the box, m: baits of different weight may fly differently far.
pub fn mean_cast_m(setting: &Setting) -> f64 {
    setting.baits.iter().map(|b| b.path.cast_m()).sum::<f64>() / setting.baits.len().max(1) as f64
}

/// Casts an hour with a cast of `cast_m`: each takes its retrieve at the mean speed and the time between two.
pub fn casts_per_hour(setting: &Setting, cast_m: f64) -> f64 {
    3600.0 / (cast_m / setting.mean_speed_m_s + setting.between_casts_s)
}

/// Median and range over plausible worlds, with the luck of the simulation from the spread of the medians of the
/// independent scrambles that the worlds come in. Zero for no values.
pub fn over_worlds(values: &[f64], per_scramble: usize) -> Estimate {
    let all = sorted(values);
    let at = |q: f64| quantile(&all, q).unwrap_or(0.0);
    let medians: Vec<f64> =
        values.chunks(per_scramble.max(1)).filter_map(|scramble| quantile(&sorted(scramble), 0.5)).collect();
    Estimate {
        point: at(0.5),
        simulation_se: standard_error(&medians),
        low: at(Estimate::TAIL),
        high: at(1.0 - Estimate::TAIL),
    }
}

/// Standard error of the mean of independent replicates; 0 for fewer than two.
pub fn standard_error(replicates: &[f64]) -> f64 {
    let n = replicates.len() as f64;
    if replicates.len() < 2 {
        return 0.0;
    }
    let mean = replicates.iter().sum::<f64>() / n;
    let squares: f64 = replicates.iter().map(|v| (v - mean) * (v - mean)).sum();
    (squares / (n * (n - 1.0))).sqrt()
}
