//! Which alternatives could be the best: ties as first-class results.

use super::Error;
use super::distributions::t_quantile;
use super::estimate::{quantile, sorted};
use super::intervals::Confidence;
use crate::maths::sqrt;
use crate::random::normal;
use ndarray::{Array1, Array2, ArrayView2, Axis};
use rand::Rng;

/// Estimates of several alternatives (higher is better) with the covariance of their errors.
///
/// Common random numbers make the errors rise and fall together; the covariance carries that, and with it
/// far shorter intervals for the differences.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    estimates: Vec<f64>,
    covariance: Array2<f64>,
    /// Degrees of freedom of the covariance; `None` where it is known.
    degrees_of_freedom: Option<f64>,
}

/// One alternative against the best of the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AgainstBest {
    /// Whether the data leave it possible that this one is the best.
    pub could_be_best: bool,
    /// The critical value used.
    pub critical: f64,
}

impl Comparison {
    /// Estimates and a covariance matrix known (nearly) without error, as for counts of many casts.
    pub fn new(estimates: Vec<f64>, covariance: Array2<f64>) -> Result<Self, Error> {
        let k = estimates.len();
        Error::at_least("alternatives to rank", k, 1)?;
        Error::all_finite("estimates", &estimates)?;
        Error::all_finite("covariance", covariance.iter())?;
        Error::same_length("rows of the covariance", covariance.nrows(), k)?;
        Error::same_length("columns of the covariance", covariance.ncols(), k)?;
        if let Some(&value) = covariance.diag().iter().find(|v| **v < 0.0) {
            return Err(Error::OutOfRange { what: "variance", value, range: "of 0 or above" });
        }
        Ok(Self { estimates, covariance, degrees_of_freedom: None })
    }

    /// From independent replicates (rows) of all alternatives (columns): their means, and the sample
    /// covariance divided by the number of replicates.
    pub fn from_replicates(replicates: ArrayView2<'_, f64>) -> Result<Self, Error> {
        let (r, k) = replicates.dim();
        Error::at_least("replicates", r, 2)?;
        Error::at_least("alternatives to rank", k, 1)?;
        let means: Array1<f64> =
            replicates.mean_axis(Axis(0)).ok_or(Error::TooFew { what: "replicates", got: r, need: 2 })?;
        let centred = &replicates - &means;
        let covariance = centred.t().dot(&centred) / (r * (r - 1)) as f64;
        let known = Self::new(means.to_vec(), covariance)?;
        Ok(Self { degrees_of_freedom: Some((r - 1) as f64), ..known })
    }

    /// Standard error of estimate i less estimate j, 0 where the two never differ.
    fn se(&self, i: usize, j: usize) -> f64 {
        let c = &self.covariance;
        let variance = c[(i, i)] + c[(j, j)] - c[(i, j)] - c[(j, i)];
        // Below rounding of its terms a variance is 0, not a tiny number to divide by.
        let rounding = 1e-14 * (c[(i, i)] + c[(j, j)]);
        if variance > rounding { sqrt(variance) } else { 0.0 }
    }

    /// Hsu's multiple comparisons with the best: alternative i could be the best where
    /// `min_j (x_i - x_j + d_i se_ij) >= 0`, d_i the quantile of `max_j (Z_j - Z_i)/se_ij`.
    ///
    /// With the stated confidence the true best is among those that could be. Hsu (1984), Ann. Stat. 12:1136, doi:10.1214/aos/1176346732. The quantiles are simulated with
    /// `draws` normal vectors: their own error is near 0.01 for 40 000 draws. Beside a covariance
    /// estimated from fewer replicates than alternatives the Bonferroni bound is used, which is wider.
    pub fn against_best(
        &self,
        confidence: Confidence,
        draws: usize,
        rng: &mut impl Rng,
    ) -> Result<Vec<AgainstBest>, Error> {
        let k = self.estimates.len();
        let statistics = |z: &[f64]| -> Vec<f64> {
            (0..k)
                .map(|i| {
                    let against =
                        (0..k).filter(|&j| j != i).map(|j| standardised(z[j] - z[i], self.se(i, j)));
                    against.fold(0.0, f64::max)
                })
                .collect()
        };
        let critical = self.critical(confidence.alpha(), k - 1, draws, rng, k, statistics)?;
        Ok((0..k).map(|i| self.one_against_best(i, critical[i])).collect())
    }

    fn one_against_best(&self, i: usize, critical: f64) -> AgainstBest {
        let gap = |j: usize| self.estimates[i] - self.estimates[j];
        // Identical alternatives (no error, no gap) tie for the best.
        let could_be_best = (0..self.estimates.len()).all(|j| gap(j) + critical * self.se(i, j) >= 0.0);
        AgainstBest { could_be_best, critical }
    }

    /// Quantiles at 1 - alpha of `count` statistics of an error vector Z, simulated; Student's t comes in by
    /// a common chi-square divisor where the covariance is estimated.
    fn critical(
        &self,
        alpha: f64,
        comparisons: usize,
        draws: usize,
        rng: &mut impl Rng,
        count: usize,
        statistics: impl Fn(&[f64]) -> Vec<f64>,
    ) -> Result<Vec<f64>, Error> {
        Error::at_least("draws for the critical value", draws, 100)?;
        let k = self.estimates.len();
        if k == 1 {
            return Ok(vec![0.0; count]);
        }
        if let Some(df) = self.degrees_of_freedom.filter(|&df| df < k as f64) {
            return Ok(vec![t_quantile(1.0 - alpha / comparisons as f64, df); count]);
        }
        let root = cholesky(&self.covariance);
        let mut simulated = vec![Vec::with_capacity(draws); count];
        for _ in 0..draws {
            let noise = Array1::from_shape_fn(k, |_| normal(rng));
            let scale = self.degrees_of_freedom.map_or(1.0, |df| root_mean_chi_square(df, rng));
            let z = root.dot(&noise) / scale;
            for (all, value) in simulated.iter_mut().zip(statistics(&z.to_vec())) {
                all.push(value);
            }
        }
        Ok(simulated.iter().map(|s| quantile(&sorted(s), 1.0 - alpha).unwrap_or(0.0)).collect())
    }
}

/// A difference without error says nothing about the errors of the others.
fn standardised(difference: f64, se: f64) -> f64 {
    if se > 0.0 { difference / se } else { 0.0 }
}

/// sqrt(chi-square / df) with a whole number of degrees of freedom.
fn root_mean_chi_square(df: f64, rng: &mut impl Rng) -> f64 {
    let sum: f64 = (0..df as usize)
        .map(|_| {
            let z = normal(rng);
            z * z
        })
        .sum();
    sqrt(sum / df)
}

/// Lower factor L with L L' = C, columns without own variance left at 0: C may be of less than full rank.
fn cholesky(c: &Array2<f64>) -> Array2<f64> {
    let k = c.nrows();
    let mut l = Array2::<f64>::zeros((k, k));
    for j in 0..k {
        let own = c[(j, j)] - (0..j).map(|m| l[(j, m)] * l[(j, m)]).sum::<f64>();
        if own <= 1e-13 * c[(j, j)] {
            continue;
        }
        l[(j, j)] = sqrt(own);
        for i in j + 1..k {
            let shared = c[(i, j)] - (0..j).map(|m| l[(i, m)] * l[(j, m)]).sum::<f64>();
            l[(i, j)] = shared / l[(j, j)];
        }
    }
    l
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::SeedableRng;

    fn rng() -> rand::rngs::Xoshiro256PlusPlus {
        rand::SeedableRng::seed_from_u64(0)
    }

    #[test]
    fn a_bait_entered_twice_ties_with_itself() {
        let c = Array2::from_shape_fn((3, 3), |(i, j)| if (i < 2) == (j < 2) { 1e-4 } else { 0.0 });
        let comparison = Comparison::new(vec![0.1, 0.1, 0.02], c).unwrap();
        let best = comparison.against_best(Confidence::NINETY_FIVE, 2_000, &mut rng()).unwrap();
        let flags: Vec<bool> = best.iter().map(|b| b.could_be_best).collect();
        assert_eq!(flags, [true, true, false]);
    }

    #[test]
    fn the_factor_of_a_singular_matrix_gives_it_back() {
        let x = ndarray::array![[1.0, 2.0, 0.5], [2.0, 1.0, -0.5]];
        let c = x.t().dot(&x);
        let l = cholesky(&c);
        assert!((l.dot(&l.t()) - &c).iter().all(|e| e.abs() < 1e-12));
    }

    #[test]
    fn one_alternative_and_impossible_input() {
        let one = Comparison::new(vec![0.1], Array2::zeros((1, 1))).unwrap();
        assert!(one.against_best(Confidence::NINETY_FIVE, 100, &mut rng()).unwrap()[0].could_be_best);
        assert!(Comparison::new(vec![0.1, 0.2], Array2::zeros((1, 1))).is_err());
        assert!(Comparison::new(vec![f64::NAN], Array2::zeros((1, 1))).is_err());
        assert!(Comparison::from_replicates(Array2::zeros((1, 3)).view()).is_err());
        assert!(rand::rngs::Xoshiro256PlusPlus::seed_from_u64(1) != rng());
    }
}
