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
pub mod pace;
pub mod pack;
mod reader;
pub mod rules;
pub mod selfcheck;
pub mod sweep;
pub mod trials;
pub mod why;

use crate::statistics::estimate::{Estimate, quantile, sorted};

/// The smallest difference that matters, strikes per 100 passes.
pub const SMALLEST_DIFFERENCE: f64 = 1.0;

/// How many times the strikes of `b` the other side draws; 1 where neither draws any, at most [`MOST_GAIN`].
pub fn gain(a: f64, b: f64) -> f64 {
    match (a > 0.0, b > 0.0) {
        (false, false) => 1.0,
        (true, false) => MOST_GAIN,
        _ => (a / b).min(MOST_GAIN),
    }
}

/// As good as infinitely many times.
pub const MOST_GAIN: f64 = 1e3;

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
