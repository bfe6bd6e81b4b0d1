//! One kind of estimate from the engine to the page, and the summaries it is made of.

use super::Error;
use super::distributions::t_quantile;
use crate::maths::sqrt;
use ndarray::{ArrayView2, Axis};

/// A number with its two uncertainties kept apart.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Estimate {
    /// The middle value over plausible worlds.
    #[serde(rename = "median")]
    pub point: f64,
    /// Standard error of `point` by the luck of the simulation alone; shrinks with computer time.
    pub simulation_se: f64,
    /// 5 % of plausible worlds lie below; does not shrink with computer time.
    pub low: f64,
    /// 5 % of plausible worlds lie above.
    pub high: f64,
}

impl Estimate {
    /// Share of plausible worlds below `low`, and above `high`.
    pub const TAIL: f64 = 0.05;

    /// Median and 5-95 % range of one value per plausible world, with a simulation error known otherwise.
    pub fn over_worlds(worlds: &[f64], simulation_se: f64) -> Result<Self, Error> {
        Error::all_finite("values over plausible worlds", worlds)?;
        let sorted = sorted(worlds);
        let at = |q| quantile(&sorted, q).ok_or(too_few_worlds());
        Ok(Self { point: at(0.5)?, simulation_se, low: at(Self::TAIL)?, high: at(1.0 - Self::TAIL)? })
    }

    /// The same from independent replicates (rows) of the value in every plausible world (columns).
    ///
    /// The worlds' values are the means over replicates; the simulation error is that of the median,
    /// taken from the spread of the replicates' own medians. Needs two replicates or more.
    pub fn over_replicates(replicates_by_world: ArrayView2<'_, f64>) -> Result<Self, Error> {
        Error::at_least("replicates of the simulation", replicates_by_world.nrows(), 2)?;
        let means = replicates_by_world.mean_axis(Axis(0)).ok_or(too_few_worlds())?;
        let medians: Option<Vec<f64>> =
            replicates_by_world.rows().into_iter().map(|row| quantile(&sorted(&row.to_vec()), 0.5)).collect();
        let medians = medians.ok_or(too_few_worlds())?;
        let spread = ReplicateMean::of(&medians)?;
        Self::over_worlds(&means.to_vec(), spread.se)
    }

    /// Everything multiplied by `factor` (100 for "per 100 passes").
    pub fn scaled(self, factor: f64) -> Self {
        let (a, b) = (self.low * factor, self.high * factor);
        Self {
            point: self.point * factor,
            simulation_se: self.simulation_se * factor.abs(),
            low: a.min(b),
            high: a.max(b),
        }
    }
}

fn too_few_worlds() -> Error {
    Error::TooFew { what: "plausible worlds", got: 0, need: 1 }
}

/// A copy in rising order (NaN last).
pub fn sorted(values: &[f64]) -> Vec<f64> {
    let mut copy = values.to_vec();
    copy.sort_by(f64::total_cmp);
    copy
}

/// Sample quantile by linear interpolation between order statistics: `x[(n-1)q]`.
///
/// Type 7 of Hyndman & Fan (1996), Am. Stat. 50:361, doi:10.2307/2684934 (type number from memory).
/// `sorted` must rise; q is held to 0..1; `None` for no values.
///
/// ```
/// use callup::statistics::estimate::quantile;
/// assert_eq!(quantile(&[1.0, 2.0, 4.0, 8.0], 0.5), Some(3.0));
/// assert_eq!(quantile(&[], 0.5), None);
/// ```
pub fn quantile(sorted: &[f64], q: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let position = q.clamp(0.0, 1.0) * last as f64;
    let below = (position as usize).min(last);
    let above = (below + 1).min(last);
    Some(sorted[below] + (position - below as f64) * (sorted[above] - sorted[below]))
}

/// Quantile of weighted values: linear between points at the cumulated weight of their centres, the
/// centre of the first being 0 and of the last 1.
///
/// Equal weights give [`quantile`]; values of weight 0 have no effect. `None` where no weight is above
/// 0 or a weight is negative or not finite.
pub fn weighted_quantile(values: &[f64], weights: &[f64], q: f64) -> Option<f64> {
    if values.len() != weights.len() || weights.iter().any(|w| !(w.is_finite() && *w >= 0.0)) {
        return None;
    }
    let mut pairs: Vec<(f64, f64)> =
        values.iter().copied().zip(weights.iter().copied()).filter(|p| p.1 > 0.0).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (first, last) = (pairs.first()?, pairs.last()?);
    let total: f64 = pairs.iter().map(|p| p.1).sum();
    let span = total - 0.5 * (first.1 + last.1);
    if span <= 0.0 || pairs.len() == 1 {
        return Some(first.0);
    }
    let target = 0.5 * first.1 + q.clamp(0.0, 1.0) * span;
    let mut cumulated = 0.0;
    let centred: Vec<(f64, f64)> = pairs
        .iter()
        .map(|&(value, weight)| {
            cumulated += weight;
            (cumulated - 0.5 * weight, value)
        })
        .collect();
    Some(crate::maths::interpolate::linear(&centred, target))
}

/// Arithmetic mean; `None` for no values.
pub fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// Sample variance with n - 1 in the denominator, in two passes; `None` for fewer than two values.
pub fn variance(values: &[f64]) -> Option<f64> {
    let centre = mean(values)?;
    let squares: f64 = values.iter().map(|v| (v - centre) * (v - centre)).sum();
    (values.len() >= 2).then(|| squares / (values.len() - 1) as f64)
}

/// The mean of independent replicates and its standard error.
///
/// For scrambled quasi-random points each replicate is one scramble; the points within a scramble are
/// not independent, so s/sqrt(n) over points is wrong there and only this error is right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReplicateMean {
    /// Mean of the replicates.
    pub mean: f64,
    /// s / sqrt(R).
    pub se: f64,
    /// R, the number of replicates.
    pub replicates: usize,
}

impl ReplicateMean {
    /// From the values of two replicates or more.
    pub fn of(values: &[f64]) -> Result<Self, Error> {
        Error::all_finite("replicates", values)?;
        let too_few = Error::TooFew { what: "replicates", got: values.len(), need: 2 };
        let (mean, variance) = mean(values).zip(variance(values)).ok_or(too_few)?;
        Ok(Self { mean, se: sqrt(variance / values.len() as f64), replicates: values.len() })
    }

    /// mean -+ t se with R - 1 degrees of freedom.
    pub fn interval(&self, confidence: super::Confidence) -> super::Interval {
        let reach = t_quantile(1.0 - 0.5 * confidence.alpha(), (self.replicates - 1) as f64) * self.se;
        super::Interval { low: self.mean - reach, high: self.mean + reach }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weighted_quantile_reduces_to_the_plain_one() {
        let x = [3.0, 1.0, 4.0, 1.5, 9.0, 2.6];
        let order = sorted(&x);
        for q in [0.0, 0.05, 0.33, 0.5, 0.9, 1.0] {
            let plain = quantile(&order, q).unwrap();
            assert!((weighted_quantile(&x, &[0.2; 6], q).unwrap() - plain).abs() < 1e-12);
            let padded =
                weighted_quantile(&[3.0, 1.0, 4.0, 1.5, 9.0, 2.6, 99.0], &[1., 1., 1., 1., 1., 1., 0.], q);
            assert!((padded.unwrap() - plain).abs() < 1e-12);
        }
        assert_eq!(weighted_quantile(&x, &[-1.0; 6], 0.5), None);
        assert_eq!(weighted_quantile(&[2.0], &[1.0], 0.9), Some(2.0));
    }

    #[test]
    fn the_two_uncertainties_are_kept_apart() {
        // Three worlds far apart, two replicates close together.
        let table = ndarray::array![[0.1, 0.2, 0.6], [0.1, 0.22, 0.6]];
        let e = Estimate::over_replicates(table.view()).unwrap().scaled(100.0);
        assert!((e.point - 21.0).abs() < 1e-9 && (e.simulation_se - 1.0).abs() < 1e-9);
        assert!((e.low - 11.1).abs() < 1e-9 && (e.high - 56.1).abs() < 1e-9);
        assert!(Estimate::over_worlds(&[], 0.0).is_err());
        assert!(Estimate::over_worlds(&[f64::NAN], 0.0).is_err());
        let one = ndarray::array![[0.1, 0.2, 0.6]];
        assert!(Estimate::over_replicates(one.view()).is_err());
    }

    #[test]
    fn moments_of_small_samples() {
        assert_eq!(variance(&[1.0, 2.0, 3.0, 4.0]), Some(5.0 / 3.0));
        assert_eq!((variance(&[1.0]), mean(&[])), (None, None));
    }
}
