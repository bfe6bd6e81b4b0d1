//! How far a bass sees a target: the small-target law, the contrast limit, and the eye's threshold.

use crate::maths::special::lambert_w;
use crate::maths::{ln, sqrt};

/// How many times more contrast an eye needs at the background light E than in good light:
/// `sqrt(1 + Ke/E (1 + Ed/E))`; infinite in the dark.
///
/// Three laws of vision in one, as the noises of an eye add up: Weber's (a constant share of the light) above the half
/// light Ke, the square root of de Vries and Rose (the luck of the photons) below it, and the limit of the rods, whose
/// own noise is like a dark light Ed, below that. Rose 1948, J. Opt. Soc. Am. 38:196-208 (from memory); Barlow 1957,
/// J. Physiol. 136:469-488 (first page seen). Lux, both positive.
///
/// ```
/// // A hundredth of the light, ten times the contrast; a hundredth of the dark light, a hundred times more again.
/// let dim = |lux| callup::fish::sight::dimness(lux, 1.0, 1e-6);
/// assert!((dim(1e-4) / dim(1e-2) / 10.0 - 1.0).abs() < 0.01);
/// assert!((dim(1e-10) / dim(1e-8) / 100.0 - 1.0).abs() < 0.01);
/// assert!((dim(1e4) - 1.0).abs() < 1e-4);
/// ```
pub fn dimness(light_lux: f64, half_light_lux: f64, dark_light_lux: f64) -> f64 {
    if light_lux <= 0.0 {
        return f64::INFINITY;
    }
    sqrt(1.0 + half_light_lux / light_lux * (1.0 + dark_light_lux / light_lux))
}

/// Range of a small target: the r with `r^2 exp(k r) = |C0| A E' / D`, by Lambert's W:
/// `r = (2/k) W0(k sqrt(X)/2)`, X the right side; sqrt(X) where k vanishes. Metres. D is the [`dimness`] at the eye.
///
/// Aksnes & Utne 1997, Sarsia 82:137-147 (with c replaced by the attenuation of contrast along the line of
/// sight, `k = c - K sin(elevation)`, and their saturation of light E/(Ke + E) by the law of [`dimness`]).
///
/// ```
/// // c 1 per m, |C0| A = 3e-6 m2, E' 1.6e6, Ke 500, E 100: 0.64716 m by scipy.special.lambertw 1.17.1.
/// let r = callup::fish::sight::small_target_range(3e-6, 1.6e6, 600.0 / 100.0, 1.0);
/// assert!((r - 0.64716).abs() < 5e-6);
/// ```
pub fn small_target_range(contrast_area_m2: f64, sensitivity: f64, dimness: f64, k_per_m: f64) -> f64 {
    if dimness == f64::INFINITY || contrast_area_m2 <= 0.0 {
        return 0.0;
    }
    let x = contrast_area_m2 * sensitivity / dimness;
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
