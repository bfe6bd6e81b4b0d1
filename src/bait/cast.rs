//! How far a bait flies: a projectile with air drag that pulls line off a fixed spool.

use super::GRAVITY_M_S2;
use super::refusal::{Refusal, within};
use crate::maths::{cos, hypot, sin};

/// A cast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cast {
    /// Mass of the bait, kg.
    pub mass_kg: f64,
    /// Drag coefficient times area in air, m2: 2e-4 to 3e-4 flying straight, 4e-4 to 7e-4 tumbling
    /// (common practice, no source).
    pub drag_area_m2: f64,
    /// Launch speed, m/s (20-35, common practice, no source).
    pub speed_m_s: f64,
    /// Launch angle above the horizontal, degrees.
    pub elevation_deg: f64,
    /// Height of the release above the water, m.
    pub height_m: f64,
    /// Wind along the cast, m/s, positive from behind.
    pub tail_wind_m_s: f64,
    /// Density of the air, kg/m3 (1.204 at 20 C and sea level).
    pub air_density_kg_m3: f64,
    /// Mass of the line per metre, kg/m: each metre is brought from rest to the bait's speed.
    pub line_kg_m: f64,
    /// Friction of spool and guides, N.
    pub friction_n: f64,
}

/// Where and when the bait comes down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landing {
    /// Horizontal distance from the release, m.
    pub range_m: f64,
    /// Time in the air, s.
    pub time_s: f64,
    /// Greatest height above the water, m.
    pub apex_m: f64,
    /// Speed on hitting the water, m/s.
    pub impact_m_s: f64,
}

/// Time step, s: halving it moves the range by less than 1e-8 of itself.
const STEP_S: f64 = 0.005;
/// A cast that has not come down by then never will, s.
const LONGEST_S: f64 = 60.0;
/// Halvings that place the touch-down within the last step to 1e-15 s.
const HALVINGS: usize = 42;

/// Horizontal and vertical place and speed: x, z, vx, vz.
type State = [f64; 4];

impl Cast {
    /// Flies the bait.
    ///
    /// `m dv/dt = -m g - rho CdA |v - u| (v - u) / 2 - (mu v^2 + F) v / |v|`, u the wind, mu the line's
    /// mass per metre; Runge-Kutta. The line's force is that of momentum: every metre pulled off a fixed
    /// spool takes up mu v. Range in air is the line out at splash-down less slack (below 1 m each way).
    ///
    /// ```
    /// use callup::bait::cast::Cast;
    /// let stone = Cast { mass_kg: 0.01, drag_area_m2: 0.0, speed_m_s: 20.0, elevation_deg: 45.0,
    ///     height_m: 0.0, tail_wind_m_s: 0.0, air_density_kg_m3: 1.204, line_kg_m: 0.0, friction_n: 0.0 };
    /// // Galileo's parabola: v^2 / g.
    /// let range = stone.fly().map(|l| l.range_m);
    /// assert!((range.unwrap_or(0.0) - 20.0 * 20.0 / 9.80665).abs() < 1e-6);
    /// ```
    pub fn fly(&self) -> Result<Landing, Refusal> {
        self.check()?;
        let angle = self.elevation_deg.to_radians();
        let mut at = [0.0, self.height_m, self.speed_m_s * cos(angle), self.speed_m_s * sin(angle)];
        let (mut time_s, mut apex_m) = (0.0, self.height_m);
        while time_s < LONGEST_S {
            let next = self.after(at, STEP_S);
            if next[1] < 0.0 {
                let (down, rest) = self.touch_down(at);
                return Ok(Landing {
                    range_m: down[0],
                    time_s: time_s + rest,
                    apex_m,
                    impact_m_s: hypot(down[2], down[3]),
                });
            }
            apex_m = apex_m.max(crest(at, next));
            at = next;
            time_s += STEP_S;
        }
        Err(Refusal::NoAnswer { what: "the cast: the bait stays in the air" })
    }

    /// The touch-down within the next step, and the time to it.
    fn touch_down(&self, from: State) -> (State, f64) {
        let (mut low, mut high) = (0.0, STEP_S);
        for _ in 0..HALVINGS {
            let mid = 0.5 * (low + high);
            if self.after(from, mid)[1] < 0.0 { high = mid } else { low = mid }
        }
        (self.after(from, high), high)
    }

    fn after(&self, y: State, h: f64) -> State {
        let k1 = self.rates(y);
        let k2 = self.rates(moved(y, 0.5 * h, k1));
        let k3 = self.rates(moved(y, 0.5 * h, k2));
        let k4 = self.rates(moved(y, h, k3));
        std::array::from_fn(|i| y[i] + h / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]))
    }

    fn rates(&self, [_, _, vx, vz]: State) -> State {
        let speed = hypot(vx, vz);
        let through_air = hypot(vx - self.tail_wind_m_s, vz);
        let drag = 0.5 * self.air_density_kg_m3 * self.drag_area_m2 * through_air;
        let line = if speed > 0.0 { (self.line_kg_m * speed * speed + self.friction_n) / speed } else { 0.0 };
        [
            vx,
            vz,
            -(drag * (vx - self.tail_wind_m_s) + line * vx) / self.mass_kg,
            -GRAVITY_M_S2 - (drag * vz + line * vz) / self.mass_kg,
        ]
    }

    fn check(&self) -> Result<(), Refusal> {
        within("bait mass (kg)", self.mass_kg, 5e-4, 2.0, "baits weigh 0.003-0.06 kg: mind the unit")?;
        within("drag area in air (m2)", self.drag_area_m2, 0.0, 0.05, "0.0002-0.0007 is usual")?;
        within("launch speed (m/s)", self.speed_m_s, 0.1, 100.0, "20-35 m/s is usual")?;
        within("launch angle (deg)", self.elevation_deg, -45.0, 90.0, "30-45 degrees is usual")?;
        within("release height (m)", self.height_m, 0.0, 50.0, "about 2 m")?;
        within("wind (m/s)", self.tail_wind_m_s, -40.0, 40.0, "positive from behind")?;
        within("air density (kg/m3)", self.air_density_kg_m3, 0.0, 5.0, "about 1.2")?;
        within("line mass (kg/m)", self.line_kg_m, 0.0, 0.01, "about 0.00007")?;
        let weight_n = self.mass_kg * GRAVITY_M_S2;
        within(
            "line friction (N)",
            self.friction_n,
            0.0,
            0.9 * weight_n,
            "about 0.02; it cannot carry the bait",
        )
    }
}

fn moved(y: State, h: f64, k: State) -> State {
    std::array::from_fn(|i| y[i] + h * k[i])
}

/// Greatest height within a step: at its ends, or on the parabola where the climb turns into a fall.
fn crest(from: State, to: State) -> f64 {
    let ends = from[1].max(to[1]);
    if from[3] > 0.0 && to[3] < 0.0 {
        let share = from[3] / (from[3] - to[3]);
        ends.max(from[1] + 0.5 * from[3] * share * STEP_S)
    } else {
        ends
    }
}
