//! Noticing a bait that passes: a hazard that swells and fades with distance, and ends where the sense does.

use crate::maths::{exp, sqrt};

/// The square root of two pi.
pub const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_7;

/// Hazard collected over a straight pass by a sense that reaches `range_m`:
/// `rate exp(-d^2/2w^2) sqrt(2 pi) w / U erf(sqrt(r^2 - d^2) / (w sqrt 2))`, 0 where the bait stays out of range.
///
/// `width_m` is w, the width of the bell, `closest_m` the closest distance d, `speed_m_s` the mean speed of the bait U,
/// `rate_per_s` the hazard at no distance. The integral over time of a Gaussian hazard that runs only while the bait
/// is within the range, exact for a straight pass; an infinite range gives the whole bell.
///
/// ```
/// // Rate 1.2 per s, w 1.5 m, closest 2 m, 0.8 m/s, no end: P = 0.901592 by adaptive quadrature (scipy 1.17.1).
/// let h = callup::fish::noticing::pass_hazard(1.2, 1.5, f64::INFINITY, 2.0, 0.8);
/// assert!((1.0 - (-h as f64).exp() - 0.901592).abs() < 1e-6);
/// assert_eq!(callup::fish::noticing::pass_hazard(1.2, 1.5, 2.0, 2.0, 0.8), 0.0);
/// ```
pub fn pass_hazard(rate_per_s: f64, width_m: f64, range_m: f64, closest_m: f64, speed_m_s: f64) -> f64 {
    let w = width_m;
    if w <= 0.0 || closest_m >= range_m {
        return 0.0;
    }
    let half_chord_m = sqrt(range_m * range_m - closest_m * closest_m);
    let within = libm::erf(half_chord_m / w * std::f64::consts::FRAC_1_SQRT_2);
    rate_per_s * exp(-closest_m * closest_m / (2.0 * w * w)) * ROOT_TWO_PI * w / speed_m_s * within
}

/// Chance that a fish that attends notices at least one of several senses' hazards: `1 - exp(-sum)`.
pub fn noticed(attention: f64, hazard: f64) -> f64 {
    attention * (1.0 - exp(-hazard))
}

/// Attention left where little can be seen: `b + (1 - b) s`, `s = r^2/(r^2 + L^2)`.
///
/// `sight_m` is how far the fish sees anything large and dark, `length_m` its own length L, `blind` the share b of
/// attention left where it sees nothing. Bass grow less active as sight of things around them is lost (Savino &
/// Stein 1982, TAFS 111:255-266, abstract seen; page from memory); how far that goes in mud was not measured.
pub fn attention_by_sight(blind: f64, sight_m: f64, length_m: f64) -> f64 {
    let s = sight_m * sight_m / (sight_m * sight_m + length_m * length_m);
    blind + (1.0 - blind) * s
}
