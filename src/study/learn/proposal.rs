//! Where draws are placed, and how much more often there than plain draws would be.

use super::matrix::{cholesky, forward};
use super::surrogate::{Peak, Surrogate};
use crate::maths::{exp, ln, ln_1p};
use crate::random::normal;
use ndarray::Array2;
use rand::{Rng, RngExt};

/// Widening of the placed draws and of the pair's, on the covariance.
pub(super) const WIDER: f64 = 1.44;
/// Degrees of freedom of the placed draws.
const FREEDOM: f64 = 7.0;
/// Share of the pair's own prior in its proposal.
const PLAIN: f64 = 0.25;

/// Draws placed around a peak, along the directions of a surrogate.
pub(super) struct Placed {
    pub basis: Array2<f64>,
    mean: Vec<f64>,
    /// Triangular factor of the widened covariance.
    factor: Array2<f64>,
    /// ln of its determinant's root.
    ln_volume: f64,
}

impl Placed {
    /// None where there are no directions, or no spread.
    pub(super) fn new(surrogate: &Surrogate, peak: &Peak) -> Option<Self> {
        if surrogate.directions() == 0 {
            return None;
        }
        let factor = cholesky(&(&peak.covariance * WIDER))?;
        let ln_volume = (0..peak.mean.len()).map(|i| ln(factor[(i, i)])).sum();
        Some(Self { basis: surrogate.basis.clone(), mean: peak.mean.clone(), factor, ln_volume })
    }

    pub(super) fn draw(&self, rng: &mut impl Rng) -> Vec<f64> {
        let n: Vec<f64> = self.mean.iter().map(|_| normal(rng)).collect();
        let scale = student_scale(rng);
        let row = |i: usize| (0..=i).map(|k| self.factor[(i, k)] * n[k]).sum::<f64>();
        self.mean.iter().enumerate().map(|(i, m)| m + scale * row(i)).collect()
    }

    /// ln of its density over that of the plain draws.
    pub(super) fn ln_ratio(&self, scores: &[f64]) -> f64 {
        let s = along(&self.basis, scores);
        let apart: Vec<f64> = s.iter().zip(&self.mean).map(|(s, m)| s - m).collect();
        let square: f64 = forward(&self.factor, &apart).iter().map(|v| v * v).sum();
        let r = s.len() as f64;
        let t = libm::lgamma(0.5 * (FREEDOM + r))
            - libm::lgamma(0.5 * FREEDOM)
            - 0.5 * r * ln(FREEDOM * std::f64::consts::PI)
            - self.ln_volume
            - 0.5 * (FREEDOM + r) * ln_1p(square / FREEDOM);
        let plain = -0.5 * r * ln(2.0 * std::f64::consts::PI) - 0.5 * s.iter().map(|v| v * v).sum::<f64>();
        t - plain
    }
}

/// The root of FREEDOM over a chi-square with as many degrees of freedom.
fn student_scale(rng: &mut impl Rng) -> f64 {
    let chi: f64 = (0..FREEDOM as usize).map(|_| normal(rng)).map(|n| n * n).sum();
    (FREEDOM / chi).sqrt()
}

/// ln density of a one-dimensional Student's t over the standard normal's.
fn ln_t_over_normal(z: f64, mean: f64, sd: f64) -> f64 {
    let x = (z - mean) / sd;
    let t = libm::lgamma(0.5 * (FREEDOM + 1.0))
        - libm::lgamma(0.5 * FREEDOM)
        - 0.5 * ln(FREEDOM * std::f64::consts::PI)
        - ln(sd)
        - 0.5 * (FREEDOM + 1.0) * ln_1p(x * x / FREEDOM);
    t + 0.5 * ln(2.0 * std::f64::consts::PI) + 0.5 * z * z
}

/// Draws from the defensive mixture of the standard normal and Student's t; with it ln of standard normal over mixture.
pub(super) fn defended(rng: &mut impl Rng, mean: f64, sd: f64) -> (f64, f64) {
    let z =
        if rng.random::<f64>() < PLAIN { normal(rng) } else { mean + sd * student_scale(rng) * normal(rng) };
    (z, -ln(PLAIN + (1.0 - PLAIN) * exp(ln_t_over_normal(z, mean, sd).min(600.0))))
}

/// A world along the directions.
pub(super) fn along(basis: &Array2<f64>, z: &[f64]) -> Vec<f64> {
    (0..basis.ncols()).map(|k| z.iter().enumerate().map(|(j, z)| basis[(j, k)] * z).sum()).collect()
}

/// Weights raised to a power between 0 and 1, the largest at which as many worlds count as a picture needs.
pub(super) fn flattened(weights: &[f64]) -> Vec<f64> {
    const NEEDED: f64 = 250.0;
    let power = |beta: f64| -> Vec<f64> {
        let all: Vec<f64> = weights.iter().map(|w| crate::maths::pow(*w, beta)).collect();
        let sum: f64 = all.iter().sum();
        all.into_iter().map(|w| w / sum).collect()
    };
    let mut beta = 1.0;
    while crate::statistics::psis::effective_size(&power(beta)) < NEEDED && beta > 0.01 {
        beta *= 0.8;
    }
    power(beta)
}
