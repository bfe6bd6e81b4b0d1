//! The water's surface: what it reflects, how it bends light, how the wind ruffles it.

use super::radians;
use super::sky::Above;
use crate::maths::{asin, cos, sin, sqrt};

/// Refractive index of fresh water for green light (handbook value, from memory).
pub const REFRACTIVE_INDEX: f64 = 1.333;
/// Share of the light of a uniform sky that a flat surface reflects; [`sky_reflectance`] gives 0.0664.
pub const SKY_REFLECTANCE: f64 = 0.066;

/// Angle of the refracted ray below the surface, radians from the vertical: `sin tt = sin ti / n` (Snell).
///
/// ```
/// use callup::water::surface::{REFRACTIVE_INDEX, refracted_rad};
/// // Sun at 45 degrees: 32.04 degrees from the vertical under water.
/// assert!((refracted_rad(45_f64.to_radians(), REFRACTIVE_INDEX).to_degrees() - 32.037).abs() < 1e-3);
/// ```
pub fn refracted_rad(incident_rad: f64, index: f64) -> f64 {
    asin((sin(incident_rad) / index).clamp(-1.0, 1.0))
}

/// Half-angle of Snell's window, radians: the whole sky is seen within it. `asin(1 / n)`, 48.6 degrees.
pub fn critical_angle_rad(index: f64) -> f64 {
    asin(1.0 / index)
}

/// Share of unpolarised light reflected by flat water, for an angle of incidence in radians (0 to pi/2).
///
/// Fresnel: `[((cos i - n cos t)/(cos i + n cos t))^2 + ((n cos i - cos t)/(n cos i + cos t))^2] / 2`, the
/// same as the sine and tangent form but free of its 0/0 at vertical incidence.
///
/// ```
/// use callup::water::surface::{REFRACTIVE_INDEX, fresnel};
/// // Jerlov, Optical Oceanography, Table XVI: 5.9 % at 60 degrees.
/// assert!((fresnel(60_f64.to_radians(), REFRACTIVE_INDEX) - 0.059).abs() < 0.0015);
/// ```
pub fn fresnel(incident_rad: f64, index: f64) -> f64 {
    let ci = cos(incident_rad).clamp(0.0, 1.0);
    let ct = sqrt(1.0 - (1.0 - ci * ci) / (index * index));
    let s = (ci - index * ct) / (ci + index * ct);
    let p = (index * ci - ct) / (index * ci + ct);
    0.5 * (s * s + p * p)
}

/// Share of a sky's light that flat water reflects, for a sky of radiance `1 + overcast * 2 cos(zenith angle)`.
///
/// `integral of rho L sin 2i di / integral of L sin 2i di` over 0 to pi/2 (Jerlov, Optical Oceanography, eq. 29);
/// 0 is a uniform sky, 1 the standard overcast one. Midpoint rule of 2000 steps, error below 1e-6.
pub fn sky_reflectance(index: f64, overcast: f64) -> f64 {
    let steps = 2000;
    let step = std::f64::consts::FRAC_PI_2 / f64::from(steps);
    let (mut reflected, mut all) = (0.0, 0.0);
    for i in 0..steps {
        let angle = (f64::from(i) + 0.5) * step;
        let weight = (1.0 + 2.0 * overcast * cos(angle)) * sin(2.0 * angle);
        reflected += weight * fresnel(angle, index);
        all += weight;
    }
    reflected / all
}

/// Mean square slope of a wind-blown surface, `0.003 + 0.00512 U`, U the wind in m/s 12.5 m up (0 to 14).
///
/// Open sea; a small lake is smoother (short fetch). Cox & Munk (1954), J. Opt. Soc. Am. 44:838-850,
/// doi:10.1364/JOSA.44.000838 (the total from memory).
///
/// ```
/// assert!((callup::water::surface::mean_square_slope(3.0) - 0.01836).abs() < 1e-9);
/// ```
pub fn mean_square_slope(wind_m_s: f64) -> f64 {
    0.003 + 0.00512 * wind_m_s.max(0.0)
}

/// How far the ripple blurs the direction of what is seen through the surface, radians (one standard deviation).
///
/// `s (1 - 1/n)`: a surface tilted by a small slope s turns a steep ray by that much. s is the slope along
/// the line of sight, the root of half the [`mean_square_slope`]. Near the rim of Snell's window the true
/// blur is larger, so this is a lower bound.
pub fn ripple_blur_rad(wind_m_s: f64, index: f64) -> f64 {
    sqrt(0.5 * mean_square_slope(wind_m_s)) * (1.0 - 1.0 / index)
}

/// Waves tilt towards a low sun, so that a rough surface does not reflect its beam as fully as a flat one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoughSurface {
    /// The most a fully rough surface reflects of a low sun's beam, 0 to 1.
    pub most_reflected: f64,
    /// Wind from which that holds; below, the flat surface's excess over it falls in proportion.
    pub full_from_m_s: f64,
}

impl RoughSurface {
    /// Share of the sun's beam reflected at a true sun elevation in degrees and a wind in m/s.
    ///
    /// Flat-surface Fresnel, of which the part above `most_reflected` is taken away in proportion to the
    /// wind. With 0.30 this acts only on a sun below 12 degrees. A rule of thumb for a small term.
    pub fn beam_reflectance(&self, elevation_deg: f64, wind_m_s: f64) -> f64 {
        let flat = fresnel(radians(90.0 - elevation_deg.clamp(0.0, 90.0)), REFRACTIVE_INDEX);
        let rough =
            if self.full_from_m_s > 0.0 { (wind_m_s / self.full_from_m_s).clamp(0.0, 1.0) } else { 1.0 };
        flat - (flat - self.most_reflected).max(0.0) * rough
    }
}

/// Light just below the surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BelowSurface {
    /// Horizontal illuminance by the sun's beam.
    pub direct_lux: f64,
    /// Horizontal illuminance by the sky.
    pub diffuse_lux: f64,
    /// Cosine of the beam's angle from the vertical under water, 0.66 (sun at the horizon or below) to 1.
    pub cos_refracted: f64,
}

impl BelowSurface {
    /// What of the light above gets in: `(1 - rho_beam)` of the beam and `1 - 0.066` of the sky's light.
    pub fn of(above: Above, sun_elevation_deg: f64, wind_m_s: f64, rough: RoughSurface) -> Self {
        let elevation = sun_elevation_deg.clamp(0.0, 90.0);
        let direct = above.lux * (1.0 - above.diffuse_share);
        Self {
            direct_lux: direct * (1.0 - rough.beam_reflectance(elevation, wind_m_s)),
            diffuse_lux: above.lux * above.diffuse_share * (1.0 - SKY_REFLECTANCE),
            cos_refracted: cos(refracted_rad(radians(90.0 - elevation), REFRACTIVE_INDEX)),
        }
    }

    /// Horizontal illuminance, beam and sky together.
    pub fn total_lux(&self) -> f64 {
        self.direct_lux + self.diffuse_lux
    }
}
