//! Which unknowns drive an answer: variance-based indices, and exact Shapley shares over groups.
//!
//! Feed probabilities, not yes/no draws: on single draws every parameter seems to matter, the one that
//! does nothing included. Always carry such a dummy along, as the noise floor.

use super::Error;
use super::estimate::{ReplicateMean, variance};
use crate::maths::sqrt;
use ndarray::ArrayView2;

/// First-order and total index of one parameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Index {
    /// Share of the variance that knowing this parameter alone would remove, on average.
    pub first: f64,
    /// Share that would remain if all the others were known.
    pub total: f64,
}

/// An index averaged over independent scrambles of the design, with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IndexEstimate {
    /// First-order index.
    pub first: ReplicateMean,
    /// Total index.
    pub total: ReplicateMean,
}

impl IndexEstimate {
    /// Whether the total index exceeds that of a parameter that does nothing by more than `z` standard
    /// errors of the two together.
    pub fn stands_out_from(&self, dummy: &IndexEstimate, z: f64) -> bool {
        let (a, b) = (self.total, dummy.total);
        a.mean - b.mean > z * sqrt(a.se * a.se + b.se * b.se)
    }
}

/// Jansen's estimators on a Saltelli design: `S_i = 1 - mean((f_B - f_ABi)^2)/2V`,
/// `S_Ti = mean((f_A - f_ABi)^2)/2V`, V the variance over A and B together.
///
/// `f_ab` is parameters by points: row i holds the model at the points of A with column i from B. Jansen
/// (1999), Comput. Phys. Commun. 117:35, doi:10.1016/S0010-4655(98)00154-4; Saltelli et al. (2010), Comput.
/// Phys. Commun. 181:259, doi:10.1016/j.cpc.2009.09.018. A constant model gives indices of 0. First-order
/// values below 0 are sampling noise, kept as they are.
pub fn indices(f_a: &[f64], f_b: &[f64], f_ab: ArrayView2<'_, f64>) -> Result<Vec<Index>, Error> {
    Error::at_least("points of the design", f_a.len(), 2)?;
    Error::same_length("values at the second half of the design", f_b.len(), f_a.len())?;
    Error::same_length("values at the mixed points", f_ab.ncols(), f_a.len())?;
    Error::all_finite("values of the model", f_a.iter().chain(f_b).chain(f_ab.iter()))?;
    let together: Vec<f64> = f_a.iter().chain(f_b).copied().collect();
    let twice_variance = 2.0 * variance(&together).unwrap_or(0.0);
    if twice_variance <= 0.0 {
        return Ok(vec![Index { first: 0.0, total: 0.0 }; f_ab.nrows()]);
    }
    let half_square = |f: &[f64], row: ndarray::ArrayView1<'_, f64>| {
        let sum: f64 = f.iter().zip(row).map(|(a, b)| (a - b) * (a - b)).sum();
        sum / f.len() as f64 / twice_variance
    };
    Ok(f_ab
        .rows()
        .into_iter()
        .map(|row| Index { first: 1.0 - half_square(f_b, row), total: half_square(f_a, row) })
        .collect())
}

/// Averages over independent scrambles; all must have the same parameters.
///
/// The error comes from the scrambles, not from resampling points: points of one scramble are not
/// independent, and resampling them overstates the error several times over.
pub fn over_scrambles(scrambles: &[Vec<Index>]) -> Result<Vec<IndexEstimate>, Error> {
    Error::at_least("scrambles of the design", scrambles.len(), 2)?;
    let parameters = scrambles.first().map_or(0, Vec::len);
    for s in scrambles {
        Error::same_length("parameters in a scramble", s.len(), parameters)?;
    }
    let column = |i: usize, of: fn(&Index) -> f64| {
        let values: Vec<f64> = scrambles.iter().filter_map(|s| s.get(i)).map(of).collect();
        ReplicateMean::of(&values)
    };
    (0..parameters)
        .map(|i| Ok(IndexEstimate { first: column(i, |s| s.first)?, total: column(i, |s| s.total)? }))
        .collect()
}

/// Most groups for [`shapley`]: 2^20 values.
pub const MOST_GROUPS: u32 = 20;

/// Exact Shapley shares of g players from the worth of all 2^g coalitions, indexed by bit mask (bit i set:
/// player i is in).
///
/// `phi_i = sum_S |S|!(g-|S|-1)!/g! [v(S+i) - v(S)]`; they add to v(all) - v(none). Shapley (1953), in
/// Contributions to the Theory of Games II (from memory); for sensitivity Owen (2014), SIAM/ASA J. Uncertain.
/// Quantif. 2:245, doi:10.1137/130936233.
///
/// ```
/// // Worth of the pair is 3, of either alone 1: each gets 1.5.
/// let shares = callup::statistics::sensitivity::shapley(&[0.0, 1.0, 1.0, 3.0])?;
/// assert_eq!(shares, [1.5, 1.5]);
/// # Ok::<(), callup::statistics::Error>(())
/// ```
pub fn shapley(worth: &[f64]) -> Result<Vec<f64>, Error> {
    let groups = worth.len().checked_ilog2().unwrap_or(0);
    Error::same_length("worth of the coalitions (a power of 2)", worth.len(), 1 << groups)?;
    Error::all_finite("worth of the coalitions", worth)?;
    if groups > MOST_GROUPS {
        return Err(Error::TooMuch {
            what: "groups",
            got: groups as usize,
            most: MOST_GROUPS as usize,
            instead: "join groups",
        });
    }
    let weights = coalition_weights(groups);
    Ok((0..groups)
        .map(|player| {
            let bit = 1_usize << player;
            (0..worth.len())
                .filter(|s| s & bit == 0)
                .map(|s| weights[s.count_ones() as usize] * (worth[s | bit] - worth[s]))
                .sum()
        })
        .collect())
}

/// `s!(g-s-1)!/g!` for s = 0..g-1, by the ratio of neighbours s/(g-s).
fn coalition_weights(groups: u32) -> Vec<f64> {
    let g = f64::from(groups);
    let mut weight = 1.0 / g;
    (0..groups)
        .map(|s| {
            if s > 0 {
                weight *= f64::from(s) / (g - f64::from(s));
            }
            weight
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refusals_and_the_constant_model() {
        let ab = ndarray::array![[1.0, 1.0], [1.0, 1.0]];
        let flat = indices(&[1.0, 1.0], &[1.0, 1.0], ab.view()).unwrap();
        assert_eq!(flat, vec![Index { first: 0.0, total: 0.0 }; 2]);
        assert!(indices(&[1.0], &[1.0], ab.view()).is_err());
        assert!(indices(&[1.0, 2.0], &[1.0], ab.view()).is_err());
        assert!(shapley(&[0.0, 1.0, 2.0]).is_err() && shapley(&[]).is_err());
        assert!(over_scrambles(&[flat]).is_err());
    }
}
