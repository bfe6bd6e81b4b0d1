//! Size of the fish: its weight.

use crate::maths::{log10, pow};

/// Standard weight in grams of a fish of `length_m`: `log10 W = a + b log10(length in mm)`.
///
/// Largemouth a = -5.528, b = 3.273 (Henson 1991, 150 mm and longer); smallmouth -5.329, 3.200 (Kolander et al.
/// 1993). The 75th percentile of populations, a fish in good condition.
///
/// ```
/// let w = callup::fish::size::standard_weight_g(0.400, -5.528, 3.273);
/// assert!((w - 974.0).abs() < 0.1); // independent program
/// ```
pub fn standard_weight_g(length_m: f64, a: f64, b: f64) -> f64 {
    pow(10.0, a + b * log10(1000.0 * length_m))
}
