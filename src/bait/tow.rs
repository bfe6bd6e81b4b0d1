//! A line towed at constant speed (trolling, or a bait held in current), and its closed forms.
//!
//! In a tow every piece of line moves sideways at U sin(phi), unlike in a retrieve (see
//! [`pivot`](super::pivot)): the same bait on the same line is towed far deeper than it is retrieved.

use super::body::Pull;
use super::drag::CylinderDrag;
use super::refusal::{Refusal, within};
use crate::maths::{acos, atan2, cos, cosh, hypot, ln, ln_1p, sin, tan};
use std::f64::consts::PI;

/// A towed line: what acts on each metre of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TowedLine {
    /// Speed through the water, m/s.
    pub speed_m_s: f64,
    /// Line diameter, m.
    pub diameter_m: f64,
    /// Submerged weight, N/m.
    pub weight_n_m: f64,
    /// Water density, kg/m3.
    pub water_density_kg_m3: f64,
    /// Kinematic viscosity, m2/s.
    pub viscosity_m2_s: f64,
    /// Tangential drag coefficient on the wetted surface.
    pub friction: f64,
    /// Cross-flow drag.
    pub drag: CylinderDrag,
}

/// The upper end of a stretch of towed line, seen from its lower end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// Angle above the horizontal, rad.
    pub angle_rad: f64,
    /// Tension, N.
    pub tension_n: f64,
    /// Horizontal distance, m.
    pub along_m: f64,
    /// Vertical distance: the depth of the lower end if this one is at the surface, m.
    pub up_m: f64,
}

impl TowedLine {
    /// Follows the line up from a lower end with tension `tension_n` at `angle_rad` above the horizontal.
    ///
    /// `dphi/ds = (w cos phi - rho Cd d U^2 sin^2 phi / 2) / T`,
    /// `dT/ds = w sin phi + rho Cf pi d U^2 cos^2 phi / 2`, `dx/ds = cos phi`, `dz/ds = sin phi`, by
    /// Runge-Kutta in `steps` equal steps. Framework of Pode (1951), DTMB Report 687 (from memory).
    /// Refuses a line without tension.
    pub fn follow(
        &self,
        tension_n: f64,
        angle_rad: f64,
        length_m: f64,
        steps: usize,
    ) -> Result<End, Refusal> {
        within("tension at the bait (N)", tension_n, 1e-9, 1e6, "a towed bait must pull")?;
        within("line out (m)", length_m, 0.0, 1e5, "give the line in the water")?;
        let steps = steps.max(1);
        let h = length_m / steps as f64;
        let mut y = [angle_rad, tension_n, 0.0, 0.0];
        for _ in 0..steps {
            let k1 = self.rates(y);
            let k2 = self.rates(moved(y, 0.5 * h, k1));
            let k3 = self.rates(moved(y, 0.5 * h, k2));
            let k4 = self.rates(moved(y, h, k3));
            for i in 0..4 {
                y[i] += h / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]);
            }
        }
        if y.iter().all(|v| v.is_finite()) && y[1] > 0.0 {
            Ok(End { angle_rad: y[0], tension_n: y[1], along_m: y[2], up_m: y[3] })
        } else {
            Err(Refusal::NoAnswer { what: "the towed line" })
        }
    }

    /// The line above a towed bait, which pulls at `tan phi = (L q - B) / (D q)` with `hypot` of the two.
    pub fn behind(&self, pull: &Pull, length_m: f64, steps: usize) -> Result<End, Refusal> {
        let q = 0.5 * self.water_density_kg_m3 * self.speed_m_s * self.speed_m_s;
        let (back, down) = (q * pull.drag_area_m2, q * pull.downlift_area_m2 - pull.buoyancy_n);
        self.follow(hypot(back, down), atan2(down, back), length_m, steps)
    }

    fn rates(&self, [phi, tension, _, _]: [f64; 4]) -> [f64; 4] {
        let (across, along) = (sin(phi), cos(phi));
        let re = self.speed_m_s * across.abs() * self.diameter_m / self.viscosity_m2_s;
        let q_d = 0.5 * self.water_density_kg_m3 * self.diameter_m * self.speed_m_s * self.speed_m_s;
        let normal = self.weight_n_m * along - q_d * self.drag.coefficient(re) * across * across.abs();
        let tangential = self.weight_n_m * across + q_d * PI * self.friction * along * along.abs();
        [normal / tension, tangential, along, across]
    }
}

fn moved(y: [f64; 4], h: f64, k: [f64; 4]) -> [f64; 4] {
    [y[0] + h * k[0], y[1] + h * k[1], y[2] + h * k[2], y[3] + h * k[3]]
}

/// Closed form without line weight and without friction: `lambda = T / (rho Cd d U^2 / 2)`,
/// `cot phi1 = cot phi0 + s / lambda`, `depth = lambda ln(tan(phi0/2) / tan(phi1/2))`,
/// `x = lambda (1/sin phi1 - 1/sin phi0)`; a catenary lying on its side. 0 < phi0 < pi.
pub fn weightless(tension_n: f64, angle_rad: f64, length_m: f64, normal_load_n_m: f64) -> End {
    let lambda = tension_n / normal_load_n_m;
    let top = atan2(1.0, 1.0 / tan(angle_rad) + length_m / lambda);
    End {
        angle_rad: top,
        tension_n,
        along_m: lambda * (1.0 / sin(top) - 1.0 / sin(angle_rad)),
        up_m: lambda * ln(tan(0.5 * angle_rad) / tan(0.5 * top)),
    }
}

/// Angle (rad) and tension (N) at the top of a weightless line with a constant friction `rub_n_m` per
/// metre: `T1 = T0 + f L`, `cot phi1 = cot phi0 + (Rn / f) ln(1 + f L / T0)`.
pub fn weightless_with_rub(
    tension_n: f64,
    angle_rad: f64,
    length_m: f64,
    normal_load_n_m: f64,
    rub_n_m: f64,
) -> (f64, f64) {
    let gain = ln_1p(rub_n_m * length_m / tension_n);
    let cot = 1.0 / tan(angle_rad) + normal_load_n_m / rub_n_m * gain;
    (atan2(1.0, cot), tension_n + rub_n_m * length_m)
}

/// Closed form without flow: the catenary from its lowest point, `a = H / w`, `x = a asinh(L / a)`,
/// `z = a (cosh(x / a) - 1)`, `T = H + w z`. Any length of line, H and w above 0.
pub fn catenary(horizontal_n: f64, weight_n_m: f64, length_m: f64) -> End {
    let a = horizontal_n / weight_n_m;
    let slope = length_m / a;
    let x = ln(slope + hypot(slope, 1.0));
    let up_m = a * (cosh(x) - 1.0);
    End { angle_rad: atan2(slope, 1.0), tension_n: horizontal_n + weight_n_m * up_m, along_m: a * x, up_m }
}

/// The angle at which a long heavy line is towed straight, rad: `cos phi = sqrt(1 + q^2/4) - q/2`,
/// q the submerged weight over the drag of a line square to the flow, both per metre.
///
/// ```
/// // q = 1: the cosine is the golden ratio's inverse.
/// let phi = callup::bait::tow::critical_angle_rad(1.0);
/// assert!((phi.cos() - (5f64.sqrt() - 1.0) / 2.0).abs() < 1e-12);
/// ```
pub fn critical_angle_rad(q: f64) -> f64 {
    // The same as sqrt(1 + q^2/4) - q/2, without losing digits for a heavy line.
    acos(1.0 / (hypot(1.0, 0.5 * q) + 0.5 * q))
}
