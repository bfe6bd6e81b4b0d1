//! The shape of a line that is being reeled in: a chord that pivots about the rod tip.
//!
//! A cast bait is not towed. The line slides along itself and turns about a fixed tip, so the speed
//! across it falls to zero at the tip: a retrieve runs shallower than the same bait towed at the same
//! speed. Everything is two-dimensional and quasi-steady: bait and line are in balance at every moment.

use super::body::Pull;
use super::drag::CylinderDrag;
use std::f64::consts::PI;

/// Water, line and drag laws during a retrieve: what stays the same from cast to rod tip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pivot {
    /// Line diameter, m.
    pub diameter_m: f64,
    /// Submerged weight of the line, N/m.
    pub weight_n_m: f64,
    /// Water density, kg/m3.
    pub water_density_kg_m3: f64,
    /// Kinematic viscosity of the water, m2/s.
    pub viscosity_m2_s: f64,
    /// Tangential drag coefficient of the line on its wetted surface.
    pub friction: f64,
    /// Cross-flow drag of the line.
    pub drag: CylinderDrag,
    /// Pieces into which the line is cut for the march from bait to tip.
    pub pieces: usize,
}

/// What the bait does to the line's end: how fast it moves, how hard and at which angle it pulls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Speed of the bait through the water, m/s.
    pub speed_m_s: f64,
    /// Tension of the line at the bait, N.
    pub tension_n: f64,
    /// Tangent of the angle between line and velocity at the bait.
    pub slope: f64,
}

/// Steps of the fixed-point search for the trim of a bait that floats or sinks; it settles in a handful.
const TRIM_STEPS: usize = 60;
/// Relative change at which the trim has settled.
const TRIM_TOLERANCE: f64 = 1e-13;

impl Trim {
    /// The trim of a bait reeled at `reel_speed_m_s`.
    ///
    /// `tan eps = (L q - B) / (D q)`, `q = rho V^2 / 2`, `V = U / cos eps`, `T = hypot(D q, L q - B)`;
    /// D and L the drag and down-lift areas, B the net buoyancy. A bait with B = 0 has the same eps at
    /// every speed, which is why running depth hardly depends on how fast one reels.
    pub fn of(pull: &Pull, reel_speed_m_s: f64, water_density_kg_m3: f64) -> Self {
        let still = pull.downlift_area_m2 / pull.drag_area_m2;
        let q_reel = 0.5 * water_density_kg_m3 * reel_speed_m_s * reel_speed_m_s;
        let lift = pull.buoyancy_n / (pull.drag_area_m2 * q_reel);
        let mut slope = still;
        for _ in 0..TRIM_STEPS {
            // Half of the step: a strongly floating bait would swing between two values otherwise.
            let next = 0.5 * (slope + still - lift / (1.0 + slope * slope));
            let settled = (next - slope).abs() <= TRIM_TOLERANCE * (1.0 + slope.abs());
            slope = next;
            if settled {
                break;
            }
        }
        let stretch = 1.0 + slope * slope;
        Self {
            speed_m_s: reel_speed_m_s * stretch.sqrt(),
            tension_n: q_reel * stretch * pull.drag_area_m2 * stretch.sqrt(),
            slope,
        }
    }

    /// Angle between line and velocity at the bait, degrees.
    pub fn angle_deg(&self) -> f64 {
        crate::maths::atan(self.slope).to_degrees()
    }
}

/// Steepest velocity below the chord that is let through, as a tangent (87 degrees): beyond it the bait
/// is pulled straight down, which no chord model describes.
const STEEPEST: f64 = 20.0;
/// A line closer than this to the direction of travel counts as lying along it (cotangent).
const ALONG: f64 = 1e9;
/// Least product of drag and turn within half a piece; a line that floats harder lies along the velocity.
const LEAST_K2: f64 = -1.0;

impl Pivot {
    /// Tangent of the angle delta of the bait's velocity below the chord from tip to bait.
    ///
    /// `chord_m` is the line out R, `sin_chord` and `cos_chord` give its angle theta below the
    /// horizontal, `air_share` = min(1, H / (R sin theta)) is the share of the line from the tip that is
    /// in air. With xi = s/R from the tip, psi the angle between line and the bait's velocity V:
    /// `v_n = xi V sin psi`, `d(cot psi)/dxi = -Lambda xi^2`,
    /// `Lambda = rho Cd(v_n d / nu) d V^2 R / (2 T)` in water, `dpsi = w cos(theta) R dxi / T` from the
    /// line's weight, `dT = rho V^2 Cf pi d R dxi / 2`; delta is the direction of the sum of the pieces.
    /// Only the wet line is cut; in air it is straight. Each half of a piece is solved exactly with
    /// the drag coefficient and the tension of the piece's middle, which makes the march second order.
    ///
    /// Derived for this program from the cross-flow principle (normal and tangential loads independent,
    /// as in Ablow & Schechter 1983, Ocean Engng 10:443-457). Within 3 % of a transient simulation
    /// with the line cut into elastic pieces. Rough below 2 m of line and 0.3 m/s.
    pub fn slope_below_chord(
        &self,
        trim: &Trim,
        chord_m: f64,
        sin_chord: f64,
        cos_chord: f64,
        tip_height_m: f64,
    ) -> f64 {
        if trim.slope <= 1.0 / ALONG {
            return trim.slope.max(-STEEPEST);
        }
        let reach = chord_m * sin_chord;
        let air = if tip_height_m < reach { (tip_height_m / reach).max(0.0) } else { 1.0 };
        let speed2 = trim.speed_m_s * trim.speed_m_s;
        let step = (1.0 - air) / self.pieces as f64;
        let load = 0.5 * self.water_density_kg_m3 * self.diameter_m * speed2 * chord_m;
        let rub = load * self.friction * PI * step;
        let turn = 0.5 * self.weight_n_m * cos_chord * chord_m * step;
        let re = trim.speed_m_s * self.diameter_m / self.viscosity_m2_s;

        let mut tension = trim.tension_n;
        let mut cot = 1.0 / trim.slope;
        let mut cot_mid = cot;
        let (mut sin_outer, mut cos_outer) = (sine(cot), cot * sine(cot));
        let (mut across, mut along) = (0.0, 0.0);
        for piece in 0..self.pieces {
            let outer = 1.0 - piece as f64 * step;
            let (middle, inner) = (outer - 0.5 * step, outer - step);
            let middle_cube = middle * middle * middle;
            tension += 0.5 * rub;
            let (per_tension, by) = (load / (3.0 * tension), turn / tension);
            let drag = |sin: f64| per_tension * self.drag.coefficient(middle * sin * re);
            let to_middle = outer * outer * outer - middle_cube;
            // The drag coefficient wants the angle at the middle: extrapolated from the piece before, and
            // for the first by a trial step.
            let guess =
                if piece == 0 { bent(cot, drag(sin_outer) * to_middle, by) } else { 2.0 * cot - cot_mid };
            let lambda_third = drag(sine(guess));
            cot_mid = bent(cot, lambda_third * to_middle, by);
            cot = bent(cot_mid, lambda_third * (middle_cube - inner * inner * inner), by);
            // Simpson's rule: the angle falls fast near the bait.
            let (sin_mid, sin_inner) = (sine(cot_mid), sine(cot));
            across += sin_outer + 4.0 * sin_mid + sin_inner;
            along += cos_outer + 4.0 * cot_mid * sin_mid + cot * sin_inner;
            (sin_outer, cos_outer) = (sin_inner, cot * sin_inner);
            tension += 0.5 * rub;
        }
        across = across * step / 6.0 + air * sin_outer;
        along = along * step / 6.0 + air * cos_outer;
        if along * STEEPEST > across { across / along } else { STEEPEST }
    }
}

/// Sine of the angle (0 to pi) with the given cotangent.
#[inline(always)]
fn sine(cot: f64) -> f64 {
    1.0 / (1.0 + cot * cot).sqrt()
}

/// Cotangent `c` of the line's angle at the other end of half a piece, which starts with cotangent `cot`.
///
/// Exact solution of the Riccati equation `dc/dt = a - b c^2` over unit time with constant drag and turn:
/// `a = drag - turn`, `b = turn`, so `c = (c0 + a h) / (1 + c0 b h)`, `h = tanh(k) / k`, `k^2 = a b`;
/// h by its Pade approximant, within 1e-5 for |k| < 0.5, and bounded for any k.
#[inline(always)]
fn bent(cot: f64, drag: f64, turn: f64) -> f64 {
    let a = drag - turn;
    let k2 = (a * turn).max(LEAST_K2);
    let h = (15.0 + k2) / (15.0 + 6.0 * k2);
    let (top, bottom) = (cot + a * h, 1.0 + cot * turn * h);
    // A floating line may turn into the direction of travel, never past it.
    if bottom * ALONG > top { (top / bottom).max(-ALONG) } else { ALONG }
}
