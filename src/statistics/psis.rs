//! Pareto-smoothed importance sampling: weights that can be trusted, and a number that says when not.

use super::Error;
use super::estimate::sorted;
use crate::maths::{exp, ln, ln_1p, log10, pow, sqrt};

/// Normalised, smoothed weights and their diagnostics.
#[derive(Debug, Clone, PartialEq)]
pub struct Smoothed {
    /// Weights that sum to 1, in the order of the log ratios given.
    pub weights: Vec<f64>,
    /// Shape of the generalised Pareto fitted to the largest ratios; infinite where no tail could be fitted.
    pub k_hat: f64,
    /// Effective sample size, 1 / sum of squared weights.
    pub effective_size: f64,
}

impl Smoothed {
    /// The largest k-hat at which the estimates are reliable for this many draws, `min(1 - 1/log10 S, 0.7)`.
    pub fn k_limit(&self) -> f64 {
        let draws = self.weights.len() as f64;
        (1.0 - 1.0 / log10(draws)).min(0.7)
    }
}

/// Effective sample size of weights, (sum w)^2 / sum w^2 (Kish 1965, Survey Sampling, from memory); 0 for none.
pub fn effective_size(weights: &[f64]) -> f64 {
    let sum: f64 = weights.iter().sum();
    let squares: f64 = weights.iter().map(|w| w * w).sum();
    if squares > 0.0 { sum * sum / squares } else { 0.0 }
}

/// Smooths the largest `min(S/5, 3 sqrt(S))` of S importance ratios by the quantiles of a generalised
/// Pareto distribution fitted to them, held at the largest raw ratio.
///
/// Vehtari, Simpson, Gelman, Yao & Gabry (2024), J. Mach. Learn. Res. 25:72, arXiv:1507.02646. Minus
/// infinity (a draw outside the support) is allowed among the log ratios, plus infinity and NaN are not.
pub fn smooth(log_ratios: &[f64]) -> Result<Smoothed, Error> {
    Error::at_least("draws", log_ratios.len(), 25)?;
    let largest = log_ratios.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !largest.is_finite() || log_ratios.iter().any(|r| r.is_nan()) {
        return Err(Error::NotFinite { what: "log importance ratios" });
    }
    let draws = log_ratios.len();
    let mut ratios: Vec<f64> = log_ratios.iter().map(|r| exp(r - largest)).collect();
    let tail = (0.2 * draws as f64).min(3.0 * sqrt(draws as f64)).ceil() as usize;
    let mut order: Vec<usize> = (0..draws).collect();
    order.sort_by(|&i, &j| ratios[i].total_cmp(&ratios[j]));
    let cutoff = ratios[order[draws - tail - 1]].max(f64::MIN_POSITIVE);
    let members: Vec<usize> = order[draws - tail..].iter().copied().filter(|&i| ratios[i] > cutoff).collect();
    let excesses: Vec<f64> = members.iter().map(|&i| ratios[i] - cutoff).collect();
    let fit = fit_generalised_pareto(&excesses);
    if let Some(fit) = fit {
        for (rank, &i) in members.iter().enumerate() {
            let p = (rank as f64 + 0.5) / members.len() as f64;
            ratios[i] = (cutoff + fit.quantile(p)).min(1.0);
        }
    }
    let total: f64 = ratios.iter().sum();
    let weights: Vec<f64> = ratios.iter().map(|r| r / total).collect();
    let effective_size = effective_size(&weights);
    // Too few ratios above the cutoff: equal ratios are harmless, a handful of huge ones is not.
    let k_hat = fit.map_or(if tail_is_flat(&ratios, &order) { 0.0 } else { f64::INFINITY }, |f| f.k);
    Ok(Smoothed { weights, k_hat, effective_size })
}

/// Whether the largest ratio is that of the middle draw: a tail without any spread.
fn tail_is_flat(ratios: &[f64], order: &[usize]) -> bool {
    ratios[order[order.len() / 2]] > 0.999
}

/// A generalised Pareto distribution of excesses: shape k and scale sigma.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GeneralisedPareto {
    /// Shape; moments of order 1/k and above do not exist.
    pub k: f64,
    /// Scale.
    pub sigma: f64,
}

impl GeneralisedPareto {
    /// `sigma ((1-p)^-k - 1)/k`, for k = 0 `-sigma ln(1-p)`.
    pub fn quantile(&self, p: f64) -> f64 {
        if self.k.abs() < 1e-12 {
            -self.sigma * ln_1p(-p)
        } else {
            self.sigma * (pow(1.0 - p, -self.k) - 1.0) / self.k
        }
    }
}

/// The quasi-Bayesian fit of Zhang & Stephens (2009), Technometrics 51:316, doi:10.1198/tech.2009.08017, with
/// the shape drawn towards 1/2 as by ten excesses, `(n k + 5)/(n + 10)` (Vehtari et al.).
///
/// `None` for fewer than 5 excesses or ones not above 0. The order does not matter.
pub fn fit_generalised_pareto(excesses: &[f64]) -> Option<GeneralisedPareto> {
    let x = sorted(excesses);
    let n = x.len();
    if n < 5 || x[0] <= 0.0 || !x[n - 1].is_finite() {
        return None;
    }
    let count = 30 + sqrt(n as f64) as usize;
    let quarter = x[((n as f64 / 4.0 + 0.5) as usize).saturating_sub(1)];
    let shape = |theta: f64| x.iter().map(|v| ln_1p(-theta * v)).sum::<f64>() / n as f64;
    let grid: Vec<(f64, f64)> = (0..count)
        .map(|j| {
            let spread = 1.0 - sqrt(count as f64 / (j as f64 + 0.5));
            let theta = 1.0 / x[n - 1] + spread / (3.0 * quarter);
            let k = shape(theta);
            (theta, n as f64 * (ln(-theta / k) - k - 1.0))
        })
        .filter(|g| g.1.is_finite())
        .collect();
    let highest = grid.iter().map(|g| g.1).fold(f64::NEG_INFINITY, f64::max);
    let total: f64 = grid.iter().map(|g| exp(g.1 - highest)).sum();
    let theta: f64 = grid.iter().map(|g| g.0 * exp(g.1 - highest)).sum::<f64>() / total;
    let k = shape(theta);
    let fit = GeneralisedPareto { k: (n as f64 * k + 5.0) / (n as f64 + 10.0), sigma: -k / theta };
    (fit.k.is_finite() && fit.sigma.is_finite()).then_some(fit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_ratios_keep_every_draw() {
        let s = smooth(&[2.0; 200]).unwrap();
        assert!((s.effective_size - 200.0).abs() < 1e-9 && s.k_hat < s.k_limit());
        assert!((s.weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn one_draw_that_outweighs_all_is_not_trusted() {
        let mut ratios = vec![0.0; 200];
        ratios[17] = 300.0;
        let s = smooth(&ratios).unwrap();
        assert!(s.k_hat >= s.k_limit() && s.effective_size < 1.5, "{} {}", s.k_hat, s.effective_size);
        assert!(smooth(&[f64::NAN; 50]).is_err() && smooth(&[0.0; 3]).is_err());
        assert!(smooth(&[f64::NEG_INFINITY; 50]).is_err());
    }

    /// Quantiles of a known distribution must give its shape back, less the pull towards 1/2.
    #[test]
    fn the_fit_recovers_a_known_shape() {
        for k in [-0.3, 0.2, 0.6, 1.2] {
            let truth = GeneralisedPareto { k, sigma: 2.0 };
            let n = 2_000;
            let x: Vec<f64> = (0..n).map(|i| truth.quantile((f64::from(i) + 0.5) / f64::from(n))).collect();
            let fit = fit_generalised_pareto(&x).unwrap();
            assert!((fit.k - k).abs() < 0.03 && (fit.sigma - 2.0).abs() < 0.1, "{k}: {fit:?}");
        }
    }
}
