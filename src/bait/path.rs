//! The running depth of a bait from splash-down to the rod tip, by metres of line reeled in.

use super::body::Pull;
use super::drag::CylinderDrag;
use super::line::Line;
use super::pivot::{Pivot, Trim};
use super::refusal::{Refusal, within};
use crate::maths::interpolate::Table;
use crate::maths::{asin, cos, sin};
use std::f64::consts::FRAC_PI_2;

/// A cast-and-retrieve: everything but bait and line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Retrieve {
    /// Line out when the retrieve starts, m.
    pub cast_m: f64,
    /// Height of the rod tip above the water, m.
    pub rod_tip_m: f64,
    /// Speed at which line is reeled in, m/s.
    pub speed_m_s: f64,
    /// Water density, kg/m3.
    pub water_density_kg_m3: f64,
    /// Kinematic viscosity of the water, m2/s.
    pub viscosity_m2_s: f64,
    /// Tangential drag coefficient of the line.
    pub friction: f64,
    /// Factor on the cross-flow drag of the line (above 1 where it strums).
    pub drag_multiplier: f64,
}

/// How finely the path is computed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Detail {
    /// Runge-Kutta steps from one knot of the path to the next.
    pub steps_per_knot: usize,
    /// Pieces into which the line is cut.
    pub pieces: usize,
    /// A drag coefficient of the line to use at every Reynolds number (for comparisons).
    pub constant_drag: Option<f64>,
}

impl Default for Detail {
    /// Greatest depth within 0.4 % of the continuous equations, for a sixth of a millisecond.
    fn default() -> Self {
        Self { steps_per_knot: 1, pieces: 12, constant_drag: None }
    }
}

/// Knots of a stored path, from 0 to the cast in equal lengths of line reeled.
pub const KNOTS: usize = 64;
const LAST: usize = KNOTS - 1;

/// Depth by line reeled in.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    cast_m: f64,
    depth_m: Table,
    max_depth_m: f64,
    reeled_to_max_m: f64,
}

/// Smallest and largest cast the model answers for, m.
const CAST_RANGE_M: (f64, f64) = (1.0, 500.0);

impl Retrieve {
    /// Refuses what no retrieve can be; the message says what to give instead.
    pub fn check(&self) -> Result<(), Refusal> {
        within(
            "cast (m)",
            self.cast_m,
            CAST_RANGE_M.0,
            CAST_RANGE_M.1,
            "give the line out at splash-down, 10-50 m",
        )?;
        within("reeling speed (m/s)", self.speed_m_s, 0.01, 20.0, "0.3-1.5 m/s is usual")?;
        within(
            "rod-tip height (m)",
            self.rod_tip_m,
            0.0,
            CAST_RANGE_M.1,
            "0 is at the water, 1.5 is held high",
        )?;
        within(
            "water density (kg/m3)",
            self.water_density_kg_m3,
            500.0,
            2000.0,
            "fresh water has about 1000",
        )?;
        within("kinematic viscosity (m2/s)", self.viscosity_m2_s, 1e-8, 1e-3, "fresh water has about 1e-6")?;
        within("line friction coefficient", self.friction, 0.0, 1.0, "about 0.005")?;
        within(
            "line drag multiplier",
            self.drag_multiplier,
            0.01,
            100.0,
            "1 for a line that does not strum",
        )?;
        if self.rod_tip_m < self.cast_m {
            Ok(())
        } else {
            Err(Refusal::TipBeyondCast { tip_m: self.rod_tip_m, cast_m: self.cast_m })
        }
    }

    /// The line's balance during this retrieve.
    pub fn pivot(&self, line: &Line, detail: Detail) -> Pivot {
        Pivot {
            diameter_m: line.diameter_m,
            weight_n_m: line.submerged_weight_n_m(self.water_density_kg_m3),
            water_density_kg_m3: self.water_density_kg_m3,
            viscosity_m2_s: self.viscosity_m2_s,
            friction: self.friction,
            drag: match detail.constant_drag {
                Some(cd) => CylinderDrag::Constant(cd),
                None => CylinderDrag::Reynolds { multiplier: self.drag_multiplier },
            },
            pieces: detail.pieces.clamp(1, 10_000),
        }
    }

    /// Depths at falling lengths of line out, one Runge-Kutta step from each to the next; the first is
    /// where the retrieve starts, with the bait at the surface. Zero once the bait hangs in air.
    ///
    /// State: line out R, chord angle theta; `dtheta/dR = -tan(delta) / R`, `depth = R sin theta - H`.
    pub fn depths_m(&self, pull: &Pull, pivot: &Pivot, line_out_m: &[f64]) -> Vec<f64> {
        let trim = Trim::of(pull, self.speed_m_s, self.water_density_kg_m3);
        let height = self.rod_tip_m;
        let surface = |r: f64| if height < r { asin(height / r) } else { FRAC_PI_2 };
        let held = |r: f64, theta: f64| theta.min(FRAC_PI_2).max(surface(r));
        let rate = |r: f64, theta: f64| {
            let theta = held(r, theta);
            -pivot.slope_below_chord(&trim, r, sin(theta), cos(theta), height) / r
        };
        let mut depths = Vec::with_capacity(line_out_m.len());
        let mut at: Option<(f64, f64)> = None;
        for &r in line_out_m {
            if !(r > height && r > 0.0) {
                depths.push(0.0);
                continue;
            }
            let theta = match at {
                None => surface(r),
                Some((from, theta)) => held(r, runge_kutta(from, theta, r - from, rate)),
            };
            at = Some((r, theta));
            // A straight line to the surface is exactly that, without the rounding of a sine.
            depths.push(if theta <= surface(r) { 0.0 } else { (r * sin(theta) - height).max(0.0) });
        }
        depths
    }
}

fn runge_kutta(x: f64, y: f64, h: f64, f: impl Fn(f64, f64) -> f64) -> f64 {
    let k1 = f(x, y);
    let k2 = f(x + 0.5 * h, y + 0.5 * h * k1);
    let k3 = f(x + 0.5 * h, y + 0.5 * h * k2);
    let k4 = f(x + h, y + h * k3);
    y + h / 6.0 * (k1 + 2.0 * (k2 + k3) + k4)
}

/// The bait dives steeply until the first of the line is wet: that many knots get that many times more steps.
const EARLY_KNOTS: usize = 2;
const EARLY_STEPS: usize = 5;

/// Lengths of line out at which the path is computed, and the places of the knots among them.
fn stations(cast_m: f64, steps_per_knot: usize) -> (Vec<f64>, Vec<usize>) {
    let steps = steps_per_knot.clamp(1, 1000);
    let (mut line_out, mut at_knot) = (vec![cast_m], vec![0]);
    for knot in 0..LAST {
        let n = if knot < EARLY_KNOTS { EARLY_STEPS * steps } else { steps };
        line_out.extend((1..=n).map(|i| cast_m * ((LAST - knot) * n - i) as f64 / (LAST * n) as f64));
        at_knot.push(line_out.len() - 1);
    }
    (line_out, at_knot)
}

impl Path {
    /// Runs the retrieve.
    ///
    /// Valid for a tight line without current; elasticities of the greatest depth around 27 m of 0.28 mm
    /// line at 0.8 m/s are about +0.6 with cast, -0.3 with diameter, -0.1 with rod-tip height and
    /// -0.1 to +0.05 with speed. Refuses tackle that does not exist.
    pub fn solve(retrieve: &Retrieve, pull: &Pull, line: &Line, detail: Detail) -> Result<Self, Refusal> {
        retrieve.check()?;
        check_tackle(pull, line)?;
        let pivot = retrieve.pivot(line, detail);
        let (line_out, at_knot) = stations(retrieve.cast_m, detail.steps_per_knot);
        let fine = retrieve.depths_m(pull, &pivot, &line_out);
        let depths: Vec<f64> = at_knot.iter().filter_map(|&i| fine.get(i).copied()).collect();
        if depths.iter().any(|d| !d.is_finite()) {
            return Err(Refusal::NoAnswer { what: "the running depth" });
        }
        let (max_depth_m, at) = crest(&depths);
        Ok(Self {
            cast_m: retrieve.cast_m,
            max_depth_m,
            reeled_to_max_m: at * retrieve.cast_m / LAST as f64,
            depth_m: Table::from_values(0.0, retrieve.cast_m, depths),
        })
    }

    /// The same path stretched or flattened until its greatest depth is `depth_m`: a depth read off a chart or a rod
    /// stands in for the one worked out, and the shape of the retrieve is kept. Refuses a path that never leaves the
    /// surface, and a depth that the line out could not reach.
    pub fn scaled_to(&self, depth_m: f64) -> Result<Self, Refusal> {
        within("running depth (m)", depth_m, 0.01, self.cast_m, "give a depth less than the cast")?;
        let factor = depth_m / self.max_depth_m;
        if !factor.is_finite() {
            return Err(Refusal::NoAnswer { what: "a running depth for a bait that stays at the surface" });
        }
        let depths = self.depth_m.values().iter().map(|depth| depth * factor).collect();
        Ok(Self {
            depth_m: Table::from_values(0.0, self.cast_m, depths),
            max_depth_m: depth_m,
            ..self.clone()
        })
    }

    /// The greatest depth, m.
    pub fn max_depth_m(&self) -> f64 {
        self.max_depth_m
    }

    /// Line reeled in when the bait is deepest, m.
    pub fn reeled_to_max_m(&self) -> f64 {
        self.reeled_to_max_m
    }

    /// Line out at the start, m.
    pub fn cast_m(&self) -> f64 {
        self.cast_m
    }

    /// Depth after `reeled_m` of line, m (linear between knots).
    #[inline]
    pub fn depth_at_reeled(&self, reeled_m: f64) -> f64 {
        self.depth_m.at(reeled_m)
    }

    /// Depth at a fraction 0-1 of the retrieve, m.
    #[inline]
    pub fn depth_at_fraction(&self, fraction: f64) -> f64 {
        self.depth_m.at(fraction * self.cast_m)
    }

    /// The knots: (line reeled, depth), m.
    pub fn points(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let step = self.cast_m / LAST as f64;
        self.depth_m.values().iter().enumerate().map(move |(i, &d)| (i as f64 * step, d))
    }

    /// Line reeled when the bait first passes `share` (0-1) of its greatest depth, m.
    pub fn reeled_to_share_of_max_m(&self, share: f64) -> f64 {
        let wanted = share.clamp(0.0, 1.0) * self.max_depth_m;
        let points: Vec<_> = self.points().collect();
        for pair in points.windows(2) {
            let ((r0, d0), (r1, d1)) = (pair[0], pair[1]);
            if d1 >= wanted {
                return if d1 > d0 { (r0 + (r1 - r0) * (wanted - d0) / (d1 - d0)).max(r0) } else { r0 };
            }
        }
        self.reeled_to_max_m
    }

    /// Share of the retrieve (by line reeled) spent within `distance_m` of the greatest depth.
    pub fn share_within_of_max(&self, distance_m: f64) -> f64 {
        let floor = self.max_depth_m - distance_m.max(0.0);
        let knots = self.depth_m.values();
        let share: f64 = knots.windows(2).map(|p| share_above(p[0] - floor, p[1] - floor)).sum();
        share / LAST as f64
    }
}

/// Share of a straight piece from `a` to `b` that lies at or above zero.
fn share_above(a: f64, b: f64) -> f64 {
    match (a >= 0.0, b >= 0.0) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        (true, false) => a / (a - b),
        (false, true) => b / (b - a),
    }
}

/// Height and place (in steps) of the top of a row of values, by the parabola through the three highest neighbours.
fn crest(values: &[f64]) -> (f64, f64) {
    let top = (0..values.len()).fold(0, |best, i| if values[i] > values[best] { i } else { best });
    if top == 0 || top + 1 >= values.len() {
        return (values.get(top).copied().unwrap_or(0.0), top as f64);
    }
    let (a, b, c) = (values[top - 1], values[top], values[top + 1]);
    let bend = a - 2.0 * b + c;
    if bend >= 0.0 {
        return (b, top as f64);
    }
    let shift = (0.5 * (a - c) / bend).clamp(-0.5, 0.5);
    (b - 0.25 * (a - c) * shift, top as f64 + shift)
}

/// Refuses a line or a bait that the path cannot be computed for.
pub(super) fn check_tackle(pull: &Pull, line: &Line) -> Result<(), Refusal> {
    within("line diameter (m)", line.diameter_m, 1e-5, 1e-2, "0.0001-0.0005 m is usual: mind the unit")?;
    within("line density (kg/m3)", line.density_kg_m3, 100.0, 20_000.0, "plastics have 900-1800")?;
    within("drag area (m2)", pull.drag_area_m2, 1e-6, 0.1, "a bait has about 0.0003-0.001")?;
    within("down-lift area (m2)", pull.downlift_area_m2, 0.0, 0.1, "a lip has about 0.0001-0.0006")?;
    within("net buoyancy (N)", pull.buoyancy_n, -10.0, 10.0, "0 for a suspending bait")
}
