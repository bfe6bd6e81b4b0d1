//! Contrast at the bait and what is left of it at the eye.

use crate::maths::exp;

/// Weber contrast of a target against what is behind it: `(L_target - L_background) / L_background`.
///
/// -1 is black; there is no upper bound. A black background gives infinity (or NaN for a black target).
pub fn weber(target: f64, background: f64) -> f64 {
    (target - background) / background
}

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

/// A sun glint's contrast times area, m2: `rho E_beam R1 R2 / (4 L_B)`.
///
/// A convex mirror with radii of curvature R1 and R2 (m) sends the same intensity `rho E_beam R1 R2 / 4` to all
/// sides, whatever its attitude (geometrical optics); over the background's luminance L_B (cd/m2, i.e.
/// lux/sr) it adds to |contrast| x area of a target too small to be resolved. `reflectance` 0 to 1, E_beam from
/// [`beam_lux_at`]. Flat sides flash only now and then, which this leaves out.
///
/// ```
/// // Reflectance 0.7, radii 8 and 120 mm, E_beam/L_B = 100 sr: 0.0168 m2.
/// let glint = callup::water::contrast::glint_contrast_area_m2(0.7, 100.0, 1.0, 0.008, 0.120);
/// assert!((glint - 0.0168).abs() < 1e-9);
/// ```
pub fn glint_contrast_area_m2(
    reflectance: f64,
    beam_lux: f64,
    background_lux_per_sr: f64,
    radius_1_m: f64,
    radius_2_m: f64,
) -> f64 {
    reflectance * beam_lux * radius_1_m * radius_2_m / (4.0 * background_lux_per_sr)
}
