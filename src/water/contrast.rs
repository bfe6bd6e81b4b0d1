//! Contrast at the bait and what is left of it at the eye.

use crate::maths::exp;

/// Share of a Weber contrast left after `range_m` of water: `exp(-(c - K sin(elevation)) r)`.
///
/// `sin_elevation` is that of the direction of sight: 1 looking straight up, 0 level, -1 straight down. The
/// difference in radiance fades with c along the line of sight, the background changes with K over depth:
/// looking up the background at the eye is dimmer than at the target, so a target overhead is seen further.
/// c (beam attenuation) and K (diffuse attenuation) in 1/m, c > K >= 0. Duntley (1963), J. Opt. Soc. Am.
/// 53:214-233, doi:10.1364/JOSA.53.000214; restated in Zaneveld & Pegau (2003), Opt. Express 11:2997-3009.
///
/// ```
/// use callup::water::contrast::transmittance;
/// // Looking straight down it fades with c + K: at the Secchi depth of Gamma = 8.69, exp(-8.69) is left.
/// let (z, gamma, gamma_k) = (3.0, 8.69, 1.7);
/// let left = transmittance((gamma - gamma_k) / z, gamma_k / z, -1.0, z);
/// assert!((left - (-8.69_f64).exp()).abs() < 1e-15);
/// ```
#[inline]
pub fn transmittance(c_per_m: f64, k_per_m: f64, sin_elevation: f64, range_m: f64) -> f64 {
    exp(-effective_attenuation(c_per_m, k_per_m, sin_elevation) * range_m)
}

/// The rate at which a contrast fades along a line of sight, 1/m: `c - K sin(elevation)`, see [`transmittance`].
#[inline]
pub fn effective_attenuation(c_per_m: f64, k_per_m: f64, sin_elevation: f64) -> f64 {
    c_per_m - k_per_m * sin_elevation
}

/// Horizontal illuminance at a depth, lux: `E(0-) exp(-K z)`; the surface value at and above the surface.
#[inline]
pub fn illuminance_at(below_surface_lux: f64, k_per_m: f64, depth_m: f64) -> f64 {
    below_surface_lux * exp(-k_per_m * depth_m.max(0.0))
}

/// Illuminance of a surface turned to face the sun's beam at a depth, lux.
///
/// `E_direct / mu0 exp(-q K z / mu0)`: the beam slants with cosine `cos_refracted` = mu0 and loses at a rate
/// between K and c along its path, `beam_ratio` q times K (about 1.2; no source).
pub fn beam_lux_at(direct_lux: f64, cos_refracted: f64, k_per_m: f64, beam_ratio: f64, depth_m: f64) -> f64 {
    let path_m = depth_m.max(0.0) / cos_refracted;
    direct_lux / cos_refracted * exp(-beam_ratio * k_per_m * path_m)
}
