//! A line towed at constant speed: closed forms.

use crate::maths::{acos, atan2, cosh, hypot, ln, sin, tan};

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
