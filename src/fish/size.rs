//! Size of the fish: its weight, and what is too large for it.

use crate::maths::special::normal_cdf;
use crate::maths::{ln, log10, pow};

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

/// Share of fish that take a thing of `length_m` for a meal, by its share of their own length: `Phi(ln(largest / r) / s)`,
/// r the ratio of lengths, `largest` the longest meal of half of the fish, `spread` the standard deviation of its
/// logarithm among fish. Small meals are taken by all.
///
/// Diets of bass end at 0.32 to 0.46 of their length, the slender prey last (Gaeta et al. 2018, PLoS ONE 13:e0194092,
/// abstract seen); what gape allows ends at 0.4 (bluegill) to 0.5 (shad) (Southeastern Association of Fish and Wildlife
/// Agencies proceedings 1980, second-hand).
///
/// ```
/// // At the median half of the fish; 0.9772 of them where the logarithm lies two spreads below.
/// let share = |r: f64| callup::fish::size::not_too_large(r, 1.0, 0.46, 0.15);
/// assert!((share(0.46) - 0.5).abs() < 1e-12);
/// assert!((share(0.46 * (-0.3_f64).exp()) - 0.977250).abs() < 1e-6);
/// ```
pub fn not_too_large(length_m: f64, fish_m: f64, largest: f64, spread: f64) -> f64 {
    normal_cdf(ln(largest * fish_m / length_m) / spread)
}
