//! The line: a round thread of given diameter and density.

use super::GRAVITY_M_S2;
use std::f64::consts::PI;

/// A line, by what matters in water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Diameter of the round envelope, m.
    pub diameter_m: f64,
    /// Density of the envelope, kg/m3 (a braid's includes the air or water it holds).
    pub density_kg_m3: f64,
}

impl Line {
    /// Weight less buoyancy per metre: `w = (rho_line - rho_water) g pi d^2 / 4`, N/m, negative where it floats.
    ///
    /// ```
    /// // 0.28 mm PVDF (1780 kg/m3, handbook) in water of 998.2 kg/m3: 0.472 mN/m.
    /// let line = callup::bait::Line { diameter_m: 0.28e-3, density_kg_m3: 1780.0 };
    /// assert!((line.submerged_weight_n_m(998.2) - 4.7209e-4).abs() < 1e-7);
    /// ```
    pub fn submerged_weight_n_m(&self, water_density_kg_m3: f64) -> f64 {
        (self.density_kg_m3 - water_density_kg_m3) * GRAVITY_M_S2 * self.section_m2()
    }

    /// Mass per metre, kg/m.
    pub fn mass_kg_m(&self) -> f64 {
        self.density_kg_m3 * self.section_m2()
    }

    /// The tension at which it breaks, N, from the strength on its gross section (Pa): `F = sigma pi d^2 / 4`.
    pub fn breaking_force_n(&self, strength_pa: f64) -> f64 {
        strength_pa * self.section_m2()
    }

    fn section_m2(&self) -> f64 {
        0.25 * PI * self.diameter_m * self.diameter_m
    }
}

/// Diameter of a line that breaks at `force_n` with `strength_pa` on its gross section: `d = sqrt(4 F / (pi sigma))`, m.
///
/// Labels are often conservative and knots cost 10-40 % (common practice, no source), so this is a
/// typical diameter, not a measured one. NaN where the quotient is negative.
///
/// ```
/// // Ten pounds-force (44.482 N) of nylon at 720 MPa: 0.28 mm.
/// let d = callup::bait::line::diameter_from_strength_m(44.4822, 720e6);
/// assert!((d - 0.2805e-3).abs() < 1e-7);
/// ```
pub fn diameter_from_strength_m(force_n: f64, strength_pa: f64) -> f64 {
    (4.0 * force_n / (PI * strength_pa)).sqrt()
}
