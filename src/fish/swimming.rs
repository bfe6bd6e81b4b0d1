//! How fast a bass swims, and whether it can meet a moving bait.

use crate::maths::ln;

/// Critical swimming speed over that at 25 C: `1 + slope ln(T/25) / u25`, held to 0.1 or more.
///
/// `slope` in body lengths per second per unit of ln T, `u25` in body lengths per second. Fitted to largemouth
/// of Hasler et al. (2009, Can. J. Zool.) at 7.5, 14 and 25 C; meant for 5-30 C and flat
/// below. Above that swimming
/// falls off: [`heat_share`].
///
/// ```
/// // 1.17 lengths/s at 7.5 C against 2.17 at 25 C (Hasler et al. 2009).
/// let share = callup::fish::swimming::cold_share(7.5, 0.8306, 2.17);
/// assert!((share * 2.17 - 1.17).abs() < 0.005);
/// ```
pub fn cold_share(temperature_c: f64, slope: f64, u25: f64) -> f64 {
    (1.0 + slope * ln(temperature_c.max(5.0) / 25.0) / u25).max(0.1)
}

/// What heat leaves of the swimming speed: 1 up to `from_c`, then less by the share `loss_per_c` for each degree, held to
/// 0.1 or more.
///
/// The fastest speed that largemouth sustain rises from 10 to 30 C and falls from 30 to 34 C (Beamish 1970, Can. J.
/// Zool. 48:1221-1228, abstract seen: the size of the fall is not in it).
pub fn heat_share(temperature_c: f64, from_c: f64, loss_per_c: f64) -> f64 {
    (1.0 - loss_per_c * (temperature_c - from_c).max(0.0)).max(0.1)
}

/// How a fish swims to meet a bait that moves at right angles to the line between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chase {
    /// Swimming speed, m/s.
    pub speed_m_s: f64,
    /// Distance swum over the closest distance: `1/sqrt(1 - (U/v)^2)`.
    pub detour: f64,
    /// How many times dearer the trip is than one at easy speed: v over the easy speed, at least 1.
    pub dearness: f64,
}

/// The ideal intercept of a bait at `bait_m_s`: the fish swims `lead` times as fast as the bait, but not slower
/// than `approach_m_s` nor faster than `burst_m_s`. `None` where even a burst does not catch the bait.
///
/// ```
/// // 3 m away, 1.5 m/s after 1.0 m/s: met after 2.6833 s (independent program: 3 / sqrt(1.5^2 - 1)).
/// let c = callup::fish::swimming::chase(1.0, 0.5, 3.0, 1.5).unwrap();
/// assert!((3.0 * c.detour / c.speed_m_s - 2.6833).abs() < 1e-4);
/// assert!(callup::fish::swimming::chase(1.0, 0.5, 1.0, 1.5).is_none());
/// ```
pub fn chase(bait_m_s: f64, approach_m_s: f64, burst_m_s: f64, lead: f64) -> Option<Chase> {
    if burst_m_s <= bait_m_s {
        return None;
    }
    let speed = (lead * bait_m_s).clamp(approach_m_s.min(burst_m_s), burst_m_s);
    let ratio = bait_m_s / speed;
    if ratio >= 1.0 {
        return None;
    }
    Some(Chase {
        speed_m_s: speed,
        detour: 1.0 / (1.0 - ratio * ratio).sqrt(),
        dearness: (speed / approach_m_s).max(1.0),
    })
}

/// What a fish and a bait bring to a chase: the speeds of [`chase`], for a fish of usual pace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pursuit {
    /// Mean speed of the bait, m/s.
    pub bait_m_s: f64,
    /// Easy speed of the fish, m/s.
    pub approach_m_s: f64,
    /// Its burst, m/s.
    pub burst_m_s: f64,
    /// How many times as fast as the bait it swims to meet it.
    pub lead: f64,
}

impl Pursuit {
    /// The chase of a fish whose easy speed is `pace` times the usual; `None` where it cannot catch the bait.
    pub fn chase(&self, pace: f64) -> Option<Chase> {
        chase(self.bait_m_s, pace * self.approach_m_s, self.burst_m_s, self.lead)
    }

    /// Whether the fish can catch the bait at all.
    pub fn catches(&self) -> bool {
        self.burst_m_s > self.bait_m_s
    }
}
