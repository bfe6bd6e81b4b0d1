//! Two baits tried under the same luck: each trial gives a pair of yes/no answers.

use super::Error;
use super::distributions::binomial_masses;
use super::intervals::{Confidence, Interval, Proportion, wilson};
use crate::maths::special::normal_cdf;
use crate::maths::sqrt;

/// Counts of pairs; at least one pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pairs {
    both: u64,
    first_only: u64,
    second_only: u64,
    neither: u64,
}

impl Pairs {
    /// Most discordant pairs for the exact test.
    const MOST_EXACT: u64 = 100_000;

    /// Counts of pairs where both, only the first, only the second, and neither succeeded.
    pub fn new(both: u64, first_only: u64, second_only: u64, neither: u64) -> Result<Self, Error> {
        let total =
            [both, first_only, second_only, neither].iter().try_fold(0u64, |sum, &c| sum.checked_add(c));
        match total {
            Some(0) => return Err(Error::TooFew { what: "pairs of casts", got: 0, need: 1 }),
            None => {
                let value = u64::MAX as f64;
                return Err(Error::OutOfRange { what: "number of pairs", value, range: "below 2^64" });
            }
            Some(_) => {}
        }
        Ok(Self { both, first_only, second_only, neither })
    }

    fn cells(&self) -> (f64, f64, f64, f64) {
        (self.both as f64, self.first_only as f64, self.second_only as f64, self.neither as f64)
    }

    fn total(&self) -> f64 {
        let (a, b, c, d) = self.cells();
        a + b + c + d
    }

    /// Difference of the rates, (b - c)/n.
    pub fn difference(&self) -> f64 {
        let (_, b, c, _) = self.cells();
        (b - c) / self.total()
    }

    /// Its standard error with the pairing kept: `sqrt(b + c - (b-c)^2/n)/n`.
    pub fn standard_error(&self) -> f64 {
        let ((_, b, c, _), n) = (self.cells(), self.total());
        sqrt((b + c - (b - c) * (b - c) / n).max(0.0)) / n
    }

    /// What the standard error would be had the two been tried apart, `sqrt((p1 q1 + p2 q2)/n)`.
    pub fn standard_error_if_independent(&self) -> f64 {
        let ((a, b, c, _), n) = (self.cells(), self.total());
        let (p1, p2) = ((a + b) / n, (a + c) / n);
        sqrt((p1 * (1.0 - p1) + p2 * (1.0 - p2)) / n)
    }

    /// McNemar's statistic (b - c)^2/(b + c); `None` without discordant pairs. McNemar (1947),
    /// Psychometrika 12:153, doi:10.1007/BF02295996.
    pub fn mcnemar_chi2(&self) -> Option<f64> {
        let (_, b, c, _) = self.cells();
        (b + c > 0.0).then(|| (b - c) * (b - c) / (b + c))
    }

    /// Its asymptotic p-value, P(chi2_1 > statistic).
    pub fn mcnemar_p(&self) -> Option<f64> {
        self.mcnemar_chi2().map(|x| 2.0 * normal_cdf(-sqrt(x)))
    }

    /// Exact two-sided p-value, twice the tail of Bin(b + c, 1/2), at most 1. Without discordant pairs 1.
    pub fn mcnemar_exact_p(&self) -> Result<f64, Error> {
        Ok(self.half_binomial()?.map_or(1.0, |(tail, _)| (2.0 * tail).min(1.0)))
    }

    /// Mid-p value: the exact one less the probability of the table seen; recommended, since the exact
    /// one is too careful. Fagerland, Lydersen & Laake (2013), BMC Med. Res. Methodol. 13:91,
    /// doi:10.1186/1471-2288-13-91.
    ///
    /// ```
    /// // 9 against 1 discordant pairs: 0.01171875 = 2 (1 + 10)/1024 - 10/1024.
    /// let p = callup::statistics::paired::Pairs::new(2, 9, 1, 188)?.mcnemar_mid_p()?;
    /// assert!((p - 0.01171875).abs() < 1e-12);
    /// # Ok::<(), callup::statistics::Error>(())
    /// ```
    pub fn mcnemar_mid_p(&self) -> Result<f64, Error> {
        let equal = self.first_only == self.second_only;
        Ok(self.half_binomial()?.map_or(
            1.0,
            |(tail, mass)| {
                if equal { 1.0 - 0.5 * mass } else { 2.0 * tail - mass }
            },
        ))
    }

    /// P(X <= min(b, c)) and P(X = min(b, c)) for X ~ Bin(b + c, 1/2); `None` without discordant pairs.
    fn half_binomial(&self) -> Result<Option<(f64, f64)>, Error> {
        let discordant = self.first_only.saturating_add(self.second_only);
        if discordant > Self::MOST_EXACT {
            return Err(Error::TooMuch {
                what: "discordant pairs",
                got: usize::try_from(discordant).unwrap_or(usize::MAX),
                most: Self::MOST_EXACT as usize,
                instead: "use the asymptotic test",
            });
        }
        let fewer = self.first_only.min(self.second_only) as usize;
        Ok((discordant > 0).then(|| {
            let masses = binomial_masses(discordant as usize, 0.5);
            (masses[..=fewer].iter().sum(), masses[fewer])
        }))
    }

    /// Correlation of the pairs with Newcombe's continuity correction: ad - bc is drawn n/2 towards 0
    /// where positive, kept where negative; 0 where a margin is empty.
    pub fn corrected_phi(&self) -> f64 {
        let ((a, b, c, d), n) = (self.cells(), self.total());
        let margins = (a + b) * (c + d) * (a + c) * (b + d);
        let cross = a * d - b * c;
        let corrected = if cross > 0.0 { (cross - 0.5 * n).max(0.0) } else { cross };
        if margins > 0.0 { corrected / sqrt(margins) } else { 0.0 }
    }

    /// Newcombe's square-and-add interval for paired rates (method 10), with the covariance term
    /// `2 phi (..)(..)` taken off inside the roots.
    ///
    /// Newcombe (1998), Stat. Med. 17:2635,
    /// doi:10.1002/(SICI)1097-0258(19981130)17:22<2635::AID-SIM954>3.0.CO;2-C (from memory).
    pub fn newcombe(&self, confidence: Confidence) -> Result<Interval, Error> {
        let n = self.both + self.first_only + self.second_only + self.neither;
        let first = Proportion::new(self.both + self.first_only, n)?;
        let second = Proportion::new(self.both + self.second_only, n)?;
        let (w1, w2) = (wilson(first, confidence), wilson(second, confidence));
        let (p1, p2, phi) = (first.rate(), second.rate(), self.corrected_phi());
        let reach = |u: f64, v: f64| sqrt((u * u - 2.0 * phi * u * v + v * v).max(0.0));
        Ok(Interval {
            low: self.difference() - reach(p1 - w1.low, w2.high - p2),
            high: self.difference() + reach(w1.high - p1, p2 - w2.low),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn empty_tables_are_refused_and_no_discordant_pair_says_nothing() {
        assert!(Pairs::new(0, 0, 0, 0).is_err());
        let p = Pairs::new(43, 0, 0, 7).unwrap();
        assert_eq!((p.mcnemar_exact_p(), p.mcnemar_mid_p(), p.mcnemar_chi2()), (Ok(1.0), Ok(1.0), None));
    }
}
