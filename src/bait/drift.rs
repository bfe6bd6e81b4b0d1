//! What a suspending bait does in a pause: rise or sink by a hair, as the water warms or cools.
//!
//! Water and hull both expand with warmth. A rigid hull tuned in cold water sinks in warm water; a plastic
//! hull, which swells more than the water does, rises. Even the sign cannot be told without the hull's
//! material, and a misjudged hook or ring outweighs both.

use super::GRAVITY_M_S2;
use crate::maths::{cosh, exp, ln, tanh};

/// A bait that neither rose nor sank where it was tuned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tuned {
    /// Volume where it was tuned, m3.
    pub volume_m3: f64,
    /// Density of the water it was tuned in, kg/m3.
    pub water_density_kg_m3: f64,
    /// Temperature it was tuned at, C.
    pub temperature_c: f64,
    /// Linear thermal expansion of the hull, 1/K (7.4e-5 for ABS plastic, handbook; 0 for a rigid hull).
    pub expansion_per_k: f64,
}

impl Tuned {
    /// Mass, kg: that of the water it displaced where it was tuned.
    pub fn mass_kg(&self) -> f64 {
        self.volume_m3 * self.water_density_kg_m3
    }

    /// Weight less buoyancy in other water, N, positive where it sinks:
    /// `F = (m - rho V0 (1 + 3 alpha dT)) g`.
    pub fn sinking_force_n(&self, water_density_kg_m3: f64, temperature_c: f64) -> f64 {
        let warmer = temperature_c - self.temperature_c;
        let volume = self.volume_m3 * (1.0 + 3.0 * self.expansion_per_k * warmer);
        (self.mass_kg() - water_density_kg_m3 * volume) * GRAVITY_M_S2
    }
}

/// Steady sinking speed, m/s, negative where it rises: `v = sqrt(2 |F| / (rho CD A))` with the sign of F.
///
/// CD about 1.1 on the broadside area 0.75 L h of a minnow-shaped body (assumed, from bluff bodies).
///
/// ```
/// // 0.147 mN on 11.5 cm2 of broadside in fresh water: 1.5 cm/s.
/// let v = callup::bait::drift::terminal_speed_m_s(1.467e-4, 998.2, 1.1, 1.1475e-3);
/// assert!((v - 0.01526).abs() < 1e-5);
/// ```
pub fn terminal_speed_m_s(force_n: f64, water_density_kg_m3: f64, drag: f64, area_m2: f64) -> f64 {
    (2.0 * force_n.abs() / (water_density_kg_m3 * drag * area_m2)).sqrt() * sign(force_n)
}

/// Time in which three quarters of the steady speed are reached (tanh 1), s: `tau = (1 + k) m |v_t| / |F|`,
/// k the added mass of water as a share of the bait's own (about 1 broadside; Lamb, from memory).
/// Infinite where no force acts.
pub fn settling_time_s(mass_kg: f64, force_n: f64, terminal_speed_m_s: f64, added_mass_share: f64) -> f64 {
    if force_n == 0.0 {
        f64::INFINITY
    } else {
        (1.0 + added_mass_share) * mass_kg * terminal_speed_m_s.abs() / force_n.abs()
    }
}

/// Speed `time_s` after coming to rest: `v = v_t tanh(t / tau)`, m/s, positive sinking.
pub fn speed_m_s(terminal_speed_m_s: f64, settling_time_s: f64, time_s: f64) -> f64 {
    terminal_speed_m_s * tanh(time_s / settling_time_s)
}

/// Depth gained `time_s` after coming to rest: `v_t tau ln cosh(t / tau)`, m, positive sinking.
pub fn drift_m(terminal_speed_m_s: f64, settling_time_s: f64, time_s: f64) -> f64 {
    if !settling_time_s.is_finite() {
        return 0.0;
    }
    let t = (time_s / settling_time_s).abs();
    // ln cosh t = t - ln 2 + ln(1 + exp(-2t)), which does not overflow.
    let ln_cosh = if t < 20.0 { ln(cosh(t)) } else { t - std::f64::consts::LN_2 + exp(-2.0 * t) };
    terminal_speed_m_s * settling_time_s * ln_cosh
}

fn sign(x: f64) -> f64 {
    if x > 0.0 {
        1.0
    } else if x < 0.0 {
        -1.0
    } else {
        0.0
    }
}
