//! What a fish has behind a bait: how bright the water is in every direction.
//!
//! The field is taken as the same at every compass direction (the sun's side is not brighter) and of the
//! same shape at every depth. Radiance is relative to that of the horizontal direction, which is 1. An
//! elevation is that of the direction looked into, in radians: pi/2 straight up, 0 level, -pi/2 straight down.

use super::surface::{REFRACTIVE_INDEX, critical_angle_rad};
use crate::maths::interpolate::Table;
use crate::maths::{exp, fast, ln, sin};
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::LazyLock;

/// Radiance straight up and straight down, relative to the horizontal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratios {
    /// Straight up, at least 1.
    pub zenith: f64,
    /// Straight down, above 0 and at most 1.
    pub nadir: f64,
}

/// Fields of three waters to blend between, and the Secchi depths at which they hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corners {
    /// Clear water under an open sun.
    pub sunny_clear: Ratios,
    /// Clear water under an overcast sky, or stained water under any.
    pub soft: Ratios,
    /// Muddy water under any sky.
    pub muddy: Ratios,
    /// Secchi depth from which water counts as clear, m.
    pub clear_from_m: f64,
    /// Secchi depth of the stained water, m.
    pub stained_m: f64,
    /// Secchi depth up to which water counts as muddy, m.
    pub muddy_to_m: f64,
}

impl Ratios {
    /// Between two fields, linear in the logarithm of each ratio; `share` 0 to 1 is that of `other`.
    pub fn towards(self, other: Ratios, share: f64) -> Ratios {
        let blend = |a: f64, b: f64| exp(ln(a) + share.clamp(0.0, 1.0) * (ln(b) - ln(a)));
        Ratios { zenith: blend(self.zenith, other.zenith), nadir: blend(self.nadir, other.nadir) }
    }

    /// The field for a sky and a clarity.
    ///
    /// Clear water is `sunny_clear` for `overcast` 0 and `soft` for 1; in between and over the logarithm of
    /// the Secchi depth (clear, stained, muddy) the logarithms of the ratios are blended linearly. `overcast`
    /// is the share of the light without direction: the cloud cover by day, 1 while the sun is down.
    pub fn blend(corners: &Corners, overcast: f64, secchi_m: f64) -> Ratios {
        let share = |from: f64, to: f64| ((ln(secchi_m) - ln(from)) / (ln(to) - ln(from))).clamp(0.0, 1.0);
        let clear = corners.sunny_clear.towards(corners.soft, overcast);
        if secchi_m >= corners.stained_m {
            corners.soft.towards(clear, share(corners.stained_m, corners.clear_from_m))
        } else {
            corners.soft.towards(corners.muddy, share(corners.stained_m, corners.muddy_to_m))
        }
    }
}

/// Knots of the table, a quarter of a degree apart; the calmest water blurs the window's rim by 0.55 degrees.
const KNOTS: usize = 721;

/// sin(elevation) at the knots, and the knots' weights in the three irradiance integrals: down and up,
/// `2 pi sin e cos e`, and on a vertical wall, `2 cos^2 e`, each over pi.
struct Grid {
    sine: Vec<f64>,
    level: Vec<f64>,
    wall: Vec<f64>,
}

static GRID: LazyLock<Grid> = LazyLock::new(|| {
    let step = PI / (KNOTS - 1) as f64;
    let sine: Vec<f64> = (0..KNOTS).map(|i| sin(-FRAC_PI_2 + step * i as f64)).collect();
    // Trapezoid rule; the integrands vanish at both ends of the whole range.
    let level = sine.iter().map(|s| 2.0 * s.abs() * (1.0 - s * s).max(0.0).sqrt() * step).collect();
    let wall = sine.iter().map(|s| 2.0 / PI * (1.0 - s * s) * step).collect();
    Grid { sine, level, wall }
});

/// Radiance in every direction, tabulated.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    table: Table,
    /// Downward irradiance over pi times the horizontal radiance.
    pub down: f64,
    /// Irradiance of a vertical wall over pi times the horizontal radiance.
    pub side: f64,
    /// Upward irradiance over pi times the horizontal radiance.
    pub up: f64,
}

impl Field {
    /// The field of given ratios, with a rim of Snell's window blurred by `edge_blur_rad` (standard deviation).
    ///
    /// Inside the window (within 48.6 degrees of the zenith) the zenith's radiance, outside the horizontal one:
    /// the mean over a rim that moves by a normal deviate,
    /// `1 + (zenith - 1) Phi((elevation - 41.4 deg)/blur)`. Below the horizon the logarithm falls in
    /// proportion to the sine of the angle, `nadir^|sin e|`. Schematic: measured fields of lakes were not found.
    pub fn new(ratios: Ratios, edge_blur_rad: f64) -> Self {
        let grid = &*GRID;
        let edge = FRAC_PI_2 - critical_angle_rad(REFRACTIVE_INDEX);
        let per_blur = 1.0 / edge_blur_rad.max(1e-6);
        let log_nadir = ln(ratios.nadir);
        let tables = fast::tables();
        let step = PI / (KNOTS - 1) as f64;
        let middle = (KNOTS - 1) / 2;
        let mut values = vec![1.0; KNOTS];
        for (value, sine) in values[..middle].iter_mut().zip(&grid.sine) {
            *value = fast::exp(-sine * log_nadir);
        }
        // The horizontal is 1 by definition, whatever the blur.
        for (i, value) in values[middle + 1..].iter_mut().enumerate() {
            let off_rim = (step * (i + 1) as f64 - edge) * per_blur;
            *value = 1.0 + (ratios.zenith - 1.0) * tables.normal_cdf(off_rim);
        }
        let sum =
            |weights: &[f64], values: &[f64]| weights.iter().zip(values).map(|(w, v)| w * v).sum::<f64>();
        Self {
            down: sum(&grid.level[middle..], &values[middle..]),
            side: sum(&grid.wall, &values),
            up: sum(&grid.level[..middle], &values[..middle]),
            table: Table::from_values(-FRAC_PI_2, FRAC_PI_2, values),
        }
    }

    /// Radiance from a direction of elevation -pi/2 to pi/2 (held outside), relative to the horizontal.
    #[inline]
    pub fn radiance(&self, elevation_rad: f64) -> f64 {
        self.table.at(elevation_rad)
    }
}
