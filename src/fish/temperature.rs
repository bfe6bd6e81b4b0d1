//! Feeding by temperature: the warm-water curve of Kitchell and others.

use crate::maths::{exp, ln, pow};

/// Share of the greatest feeding rate at a temperature, after Kitchell et al. (1977), equation 2 of the Fish
/// Bioenergetics family of models:
/// `f = V^X exp(X (1 - V))`, `V = (T_end - T)/(T_end - T_best)`,
/// `X = Z^2 (1 + sqrt(1 + 40/Y))^2 / 400`, `Z = ln(slope)(T_end - T_best)`, `Y = ln(slope)(T_end - T_best + 2)`.
///
/// Temperatures in degrees Celsius, `slope` (CQ) above 1, `best_c < end_c`; the result lies in 0..=1, is 1 at
/// `best_c` and 0 from `end_c` up. Not to be trusted under about 7 C.
///
/// ```
/// // Largemouth, Rice et al. 1983 (CQ 2.65, CTO 27.5, CTM 37): 0.3663 at 15 C by an independent program.
/// let f = callup::fish::temperature::feeding(15.0, 2.65, 27.5, 37.0);
/// assert!((f - 0.3663).abs() < 5e-4);
/// ```
pub fn feeding(temperature_c: f64, slope: f64, best_c: f64, end_c: f64) -> f64 {
    if temperature_c >= end_c {
        return 0.0;
    }
    let span = end_c - best_c;
    let v = (end_c - temperature_c) / span;
    let (z, y) = (ln(slope) * span, ln(slope) * (span + 2.0));
    let root = 1.0 + (1.0 + 40.0 / y).sqrt();
    let x = z * z * root * root / 400.0;
    pow(v, x) * exp(x * (1.0 - v))
}

/// Feeding by a curve with one slope below and another above its best temperature (both branches are 1 there),
/// as smallmouth need: Whitledge et al. (2003) give two rows, joined at the best temperature.
pub fn feeding_two_slopes(temperature_c: f64, below: f64, above: f64, best_c: f64, end_c: f64) -> f64 {
    feeding(temperature_c, if temperature_c <= best_c { below } else { above }, best_c, end_c)
}

/// How far a strike follows the feeding curve: `f^power`, in 0..=1; where the water is too cold for the curve to be
/// trusted (`cold`: below the best temperature) not under `floor^power`, and 0 where it is too warm to feed.
pub fn willingness(feeding: f64, cold: bool, floor: f64, power: f64) -> f64 {
    let left = if cold { feeding.max(floor) } else { feeding };
    if left <= 0.0 { 0.0 } else { pow(left, power) }
}
