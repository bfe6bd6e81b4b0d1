//! How far up, and how far at all, a fish will go: two mechanisms, of which a world holds one.

use crate::maths::special::normal_cdf;
use crate::maths::{exp, ln, pow};

/// Depth of fresh water that presses like the air above it, m: 101325 / (1000 * 9.80665).
pub const AIR_AS_WATER_M: f64 = 10.33;

/// Share of fish that rise by `rise_m` from the depth `depth_m` at which their swim bladder keeps them neutral:
/// `1 / (1 + exp((phi - half)/scale))`, `phi = rise / (10.33 + depth)`; 1 for a level or downward trip.
///
/// A closed swim bladder swells as the pressure falls: perch swim freely only to 16 % less pressure and stop
/// before 33-40 % (Harden Jones 1952, J. Exp. Biol. 29:94-109). Inferred for bass. Pressure knows no hurry: how fast
/// the fish rises does not matter.
///
/// ```
/// // 8 m deep, 3 m up: 0.8490 at half 0.25, scale 0.05 (independent program).
/// let p = callup::fish::rising::bladder_share(3.0, 8.0, 0.25, 0.05);
/// assert!((p - 0.8490).abs() < 1e-4);
/// ```
pub fn bladder_share(rise_m: f64, depth_m: f64, half: f64, scale: f64) -> f64 {
    if rise_m <= 0.0 {
        return 1.0;
    }
    let phi = rise_m / (AIR_AS_WATER_M + depth_m);
    1.0 / (1.0 + exp((phi - half) / scale))
}

/// Share of fish willing to swim `distance_m`: lognormal among fish, median `median_m`, standard deviation of
/// the logarithm `spread`.
pub fn willing_share(distance_m: f64, dearness: f64, median_m: f64, spread: f64) -> f64 {
    if distance_m <= 0.0 {
        return 1.0;
    }
    normal_cdf((ln(median_m) - ln(dearness * distance_m)) / spread)
}

/// Median willing distance for a bait of `length_m`: `r10 (length / 0.1 m)^power`, m.
pub fn willing_median(r10_m: f64, length_m: f64, power: f64) -> f64 {
    r10_m * pow(length_m / 0.1, power)
}
