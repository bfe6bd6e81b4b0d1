//! What a fish may feel and hear of a bait: the near field of a moving body, and a rattle.
//!
//! The near field rests on elementary hydrodynamics and a cube root, so it is robust. The rattle rests on
//! a source level nobody has published and on hearing thresholds of other fish: an uncertainty of 20 dB
//! is a factor of ten in range.

use crate::maths::{log10, pow};
use std::f64::consts::PI;

/// Radius of the sphere with volume `volume_m3`, m: `(3 V / (4 pi))^(1/3)`.
pub fn equivalent_radius_m(volume_m3: f64) -> f64 {
    pow(3.0 * volume_m3 / (4.0 * PI), 1.0 / 3.0)
}

/// Distance at which the near field of an accelerating body falls to a fish's threshold, m:
/// `r = a (A / A_thr)^(1/3)`, on the axis of motion; half the field, so 0.79 of the range, abeam.
///
/// The flow around a sphere of radius a with acceleration A is a dipole, `A (a/r)^3 cos(theta)` radially
/// (potential flow). Not below a itself. A threshold of zero or less gives infinity.
///
/// ```
/// // 10 cm3 (radius 13.4 mm), a twitch of 15 m/s2, lateral-line threshold 0.001 m/s2
/// // (mottled sculpin): 0.33 m, about one length of a bass.
/// let a = callup::bait::sound::equivalent_radius_m(1e-5);
/// assert!((callup::bait::sound::near_field_range_m(a, 15.0, 0.001) - 0.3296).abs() < 1e-4);
/// ```
pub fn near_field_range_m(radius_m: f64, acceleration_m_s2: f64, threshold_m_s2: f64) -> f64 {
    if threshold_m_s2 <= 0.0 {
        return f64::INFINITY;
    }
    radius_m * pow((acceleration_m_s2 / threshold_m_s2).max(1.0), 1.0 / 3.0)
}

/// Wind-driven noise under water, dB re 1 uPa2/Hz:
/// `NL = 50 + 7.5 sqrt(w) + 20 log10 f - 40 log10(f + 0.4)`, f in kHz, w the wind in m/s.
///
/// Fit of Coates (1989) and Stojanovic (2007) to Wenz (1962), J. Acoust. Soc. Am. 34:1936-1956,
/// doi 10.1121/1.1909155, for the open sea, 0.1-10 kHz; lakes are quieter by some 20 dB, to be
/// subtracted by the caller.
///
/// ```
/// // 1 kHz, 5 m/s: 61 dB.
/// assert!((callup::bait::sound::wind_noise_db(1000.0, 5.0) - 60.93).abs() < 0.01);
/// ```
pub fn wind_noise_db(frequency_hz: f64, wind_m_s: f64) -> f64 {
    let f_khz = frequency_hz / 1000.0;
    50.0 + 7.5 * wind_m_s.max(0.0).sqrt() + 20.0 * log10(f_khz) - 40.0 * log10(f_khz + 0.4)
}

/// A rattle, the fish that may hear it, and the water between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rattle {
    /// Source level, dB re 1 uPa at 1 m.
    pub source_db: f64,
    /// Hearing threshold in quiet, dB re 1 uPa.
    pub threshold_db: f64,
    /// Noise in the band, dB re 1 uPa2/Hz.
    pub noise_db: f64,
    /// How far a tone must stand above the noise's spectrum level to be heard (critical ratio), dB.
    pub critical_ratio_db: f64,
    /// Depth of the water, m.
    pub water_depth_m: f64,
}

impl Rattle {
    /// The level a fish needs: `max(threshold, noise + critical ratio)`, dB.
    pub fn needed_db(&self) -> f64 {
        self.threshold_db.max(self.noise_db + self.critical_ratio_db)
    }

    /// Distance at which the rattle falls to the level needed, m. Spreading takes `20 log10 r` (spherical)
    /// as far as the water is deep and `10 log10` (cylindrical) beyond (Urick, from memory).
    ///
    /// ```
    /// use callup::bait::sound::Rattle;
    /// let r = Rattle { source_db: 120.0, threshold_db: 115.0, noise_db: 40.0, critical_ratio_db: 24.0,
    ///     water_depth_m: 10.0 };
    /// // 5 dB of spherical spreading: 10^(5/20).
    /// assert!((r.audible_range_m() - 1.7783).abs() < 1e-4);
    /// ```
    pub fn audible_range_m(&self) -> f64 {
        let spare = self.source_db - self.needed_db();
        let spherical = ten_to(spare / 20.0);
        if spherical <= self.water_depth_m {
            spherical
        } else {
            self.water_depth_m * ten_to((spare - 20.0 * log10(self.water_depth_m)) / 10.0)
        }
    }
}

fn ten_to(x: f64) -> f64 {
    pow(10.0, x)
}
