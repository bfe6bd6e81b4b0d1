//! What finding out would be worth, in the unit of the answer.

use super::Error;
use super::estimate::{mean, quantile, sorted};
use ndarray::ArrayView2;
use rand::{Rng, RngExt};

/// Expected value of perfect information: mean of the best over states less the best of the means.
///
/// `prior` weights the rows of `worth` (states by decisions). Raiffa & Schlaifer (1961), Applied Statistical
/// Decision Theory (from memory).
///
/// ```
/// use callup::statistics::information::perfect_information;
/// // Two states (rows), two decisions (columns): 0.6 x 0.09 + 0.4 x 0.07 = 0.082 against 0.066 now.
/// let worth = ndarray::array![[0.09, 0.05], [0.03, 0.07]];
/// assert!((perfect_information(&[0.6, 0.4], worth.view())? - 0.016).abs() < 1e-12);
/// # Ok::<(), callup::statistics::Error>(())
/// ```
pub fn perfect_information(prior: &[f64], worth: ArrayView2<'_, f64>) -> Result<f64, Error> {
    let prior = normalised(prior, worth)?;
    let each: f64 = prior.iter().zip(worth.rows()).map(|(p, row)| p * largest(row)).sum();
    Ok((each - best_now(&prior, worth)).max(0.0))
}

fn normalised(prior: &[f64], worth: ArrayView2<'_, f64>) -> Result<Vec<f64>, Error> {
    Error::same_length("prior", prior.len(), worth.nrows())?;
    Error::at_least("decisions", worth.ncols(), 1)?;
    Error::all_finite("worth of the decisions", worth.iter())?;
    Error::all_finite("prior", prior)?;
    let total: f64 = prior.iter().sum();
    Error::positive("sum of the prior", total)?;
    match prior.iter().find(|p| **p < 0.0) {
        Some(&value) => Err(Error::OutOfRange { what: "prior weight", value, range: "of 0 or above" }),
        None => Ok(prior.iter().map(|p| p / total).collect()),
    }
}

fn largest<'a>(values: impl IntoIterator<Item = &'a f64>) -> f64 {
    values.into_iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

/// Largest weighted sum over decisions.
fn best_now(weights: &[f64], worth: ArrayView2<'_, f64>) -> f64 {
    let sums = worth.columns().into_iter().map(|c| c.iter().zip(weights).map(|(u, w)| u * w).sum::<f64>());
    sums.fold(f64::NEG_INFINITY, f64::max)
}

/// What knowing one parameter would be worth, estimated on the draws already made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ParameterInformation {
    /// The plain estimate; never below 0, so biased upwards by noise.
    pub raw: f64,
    /// The same with the parameter shuffled, mean over shuffles: what noise alone gives.
    pub floor: f64,
    /// 95 % of shuffles stay below this.
    pub floor_95: f64,
}

impl ParameterInformation {
    /// The estimate with the noise taken off, at least 0.
    pub fn corrected(&self) -> f64 {
        (self.raw - self.floor).max(0.0)
    }

    /// Whether the plain estimate exceeds 95 % of what noise gives.
    pub fn stands_out(&self) -> bool {
        self.raw > self.floor_95
    }
}

/// Expected value of partially perfect information about one parameter, on `draws` already made.
///
/// `E_theta max_d E[U_d | theta] - max_d E[U_d]`, the inner mean taken in bins of equal count along
/// `theta` (regression on the draws with a step function; Strong & Oakley 2013, Med. Decis. Making 33:755,
/// doi:10.1177/0272989X12465123). `worth` is draws by decisions. Within a bin theta still varies, which
/// loses a share of order 1/bins^2; noise in the bin means adds, and is measured by shuffling theta. Where the
/// decisions are all but tied the floor is largest, and taking it off errs on the low side.
pub fn parameter_information(
    theta: &[f64],
    worth: ArrayView2<'_, f64>,
    bins: usize,
    shuffles: usize,
    rng: &mut impl Rng,
) -> Result<ParameterInformation, Error> {
    let n = theta.len();
    Error::same_length("draws of the parameter", n, worth.nrows())?;
    Error::at_least("decisions", worth.ncols(), 1)?;
    Error::at_least("bins", bins, 2)?;
    Error::at_least("draws of the parameter", n, 2 * bins)?;
    Error::at_least("shuffles", shuffles, 1)?;
    Error::all_finite("draws of the parameter", theta)?;
    Error::all_finite("worth of the decisions", worth.iter())?;
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&i, &j| theta[i].total_cmp(&theta[j]));
    let raw = binned(&order, worth, bins);
    let noise: Vec<f64> = (0..shuffles)
        .map(|_| {
            shuffle(&mut order, rng);
            binned(&order, worth, bins)
        })
        .collect();
    let floor_95 = quantile(&sorted(&noise), 0.95).unwrap_or(0.0);
    Ok(ParameterInformation { raw, floor: mean(&noise).unwrap_or(0.0), floor_95 })
}

/// Fisher-Yates.
fn shuffle(order: &mut [usize], rng: &mut impl Rng) {
    for i in (1..order.len()).rev() {
        order.swap(i, rng.random_range(0..=i));
    }
}

fn binned(order: &[usize], worth: ArrayView2<'_, f64>, bins: usize) -> f64 {
    let (n, decisions) = worth.dim();
    let mut overall = vec![0.0; decisions];
    let mut known = 0.0;
    for bin in 0..bins {
        let mut sums = vec![0.0; decisions];
        for &i in &order[bin * n / bins..(bin + 1) * n / bins] {
            sums.iter_mut().zip(worth.row(i)).for_each(|(s, u)| *s += u);
        }
        known += largest(&sums);
        overall.iter_mut().zip(&sums).for_each(|(o, s)| *o += s);
    }
    ((known - largest(&overall)) / n as f64).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refusals() {
        let worth = ndarray::array![[0.1, 0.2], [0.3, 0.1]];
        assert!(perfect_information(&[1.0], worth.view()).is_err());
        assert!(perfect_information(&[-1.0, 2.0], worth.view()).is_err());
        assert!(perfect_information(&[0.0, 0.0], worth.view()).is_err());
        let mut rng: rand::rngs::Xoshiro256PlusPlus = rand::SeedableRng::seed_from_u64(0);
        assert!(parameter_information(&[1.0, 2.0], worth.view(), 2, 10, &mut rng).is_err());
    }
}
