//! Noticing a bait that passes: a hazard that swells and fades with distance.

use crate::maths::exp;

/// Hazard collected over a straight pass: `rate exp(-d^2/2w^2) sqrt(2 pi) w / U`.
///
/// `width_m` is w, the width of the bell, `closest_m` the closest distance, `speed_m_s` the mean speed of the bait, `rate_per_s` the hazard at no
/// distance. The integral over time of a Gaussian hazard, exact for a straight pass from far to far.
///
/// ```
/// // Rate 1.2 per s, w 1.5 m, closest 2 m, 0.8 m/s: P = 0.901592 by adaptive quadrature (scipy 1.17.1).
/// let h = callup::fish::noticing::pass_hazard(1.2, 1.5, 2.0, 0.8);
/// assert!((1.0 - (-h as f64).exp() - 0.901592).abs() < 1e-6);
/// ```
pub fn pass_hazard(rate_per_s: f64, width_m: f64, closest_m: f64, speed_m_s: f64) -> f64 {
    let w = width_m;
    if w <= 0.0 {
        return 0.0;
    }
    const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_7;
    rate_per_s * exp(-closest_m * closest_m / (2.0 * w * w)) * ROOT_TWO_PI * w / speed_m_s
}

/// Chance that a fish that attends notices at least one of several senses' hazards: `1 - exp(-sum)`.
pub fn noticed(attention: f64, hazard: f64) -> f64 {
    attention * (1.0 - exp(-hazard))
}
