//! How far a bass sees a target: the small-target law, the contrast limit, and the eye's threshold.

use crate::maths::special::lambert_w;
use crate::maths::{ln, sqrt};

/// Least visible Weber contrast at background light `light_lux`: `C_min (1 + Ke/E)`; infinite in the dark.
pub fn contrast_threshold(light_lux: f64, best: f64, half_light_lux: f64) -> f64 {
    if light_lux <= 0.0 { f64::INFINITY } else { best * (1.0 + half_light_lux / light_lux) }
}

/// Range of a small target: the r with `r^2 exp(k r) = |C0| A E' E/(Ke + E)`, by Lambert's W:
/// `r = (2/k) W0(k sqrt(X)/2)`, X the right side; sqrt(X) where k vanishes. Metres.
///
/// Aksnes & Utne 1997, Sarsia 82:137-147 (with c replaced by the attenuation of contrast along the line of
/// sight, `k = c - K sin(elevation)`).
///
/// ```
/// // c 1 per m, |C0| A = 3e-6 m2, E' 1.6e6, Ke 500, E 100: 0.64716 m by scipy.special.lambertw 1.17.1.
/// let r = callup::fish::sight::small_target_range(3e-6, 1.6e6, 100.0, 500.0, 1.0);
/// assert!((r - 0.64716).abs() < 5e-6);
/// ```
pub fn small_target_range(
    contrast_area_m2: f64,
    sensitivity: f64,
    light_lux: f64,
    half_light_lux: f64,
    k_per_m: f64,
) -> f64 {
    if light_lux <= 0.0 || contrast_area_m2 <= 0.0 {
        return 0.0;
    }
    let x = contrast_area_m2 * sensitivity * light_lux / (half_light_lux + light_lux);
    if k_per_m < 1e-9 { sqrt(x) } else { 2.0 / k_per_m * lambert_w(0.5 * k_per_m * sqrt(x)) }
}

/// Range at which contrast has faded to the threshold: `ln(|C0|/C_T)/k`, metres, 0 where it starts below.
///
/// ```
/// // |C0| 1, C_T 0.02, looking up through k = 0.7 per m: 5.5886 m (Duntley 1963, JOSA 53:214-233, the formula).
/// assert!((callup::fish::sight::contrast_range(1.0, 0.02, 0.7) - 5.5886).abs() < 1e-4);
/// ```
pub fn contrast_range(contrast: f64, threshold: f64, k_per_m: f64) -> f64 {
    if contrast <= threshold || threshold <= 0.0 { 0.0 } else { ln(contrast / threshold) / k_per_m.max(1e-9) }
}

/// Distance within which detail of `detail_m` spans the eye's smallest angle `arcmin`, metres.
pub fn detail_range(detail_m: f64, arcmin: f64) -> f64 {
    /// Radians in a minute of arc.
    const ARCMIN: f64 = std::f64::consts::PI / (180.0 * 60.0);
    detail_m / (arcmin * ARCMIN)
}
