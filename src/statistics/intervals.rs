//! Intervals for one rate: strikes seen in a number of casts.

use super::Error;
use crate::maths::special::normal_quantile;
use crate::maths::sqrt;

/// A closed interval, `low <= high`.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// A two-sided confidence, strictly between 0 and 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Confidence(f64);

impl Confidence {
    /// 95 %.
    pub const NINETY_FIVE: Confidence = Confidence(0.95);

    /// 1 - confidence.
    pub fn alpha(self) -> f64 {
        1.0 - self.0
    }

    /// The normal quantile z with P(|Z| <= z) = confidence.
    pub fn z(self) -> f64 {
        normal_quantile(0.5 + 0.5 * self.0)
    }
}

/// `successes` in `trials`, with at least one trial and not more successes than trials.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Proportion {
    successes: u64,
    trials: u64,
}

impl Proportion {
    /// Checked counts.
    pub fn new(successes: u64, trials: u64) -> Result<Self, Error> {
        Error::at_least("casts (trials)", usize::try_from(trials).unwrap_or(usize::MAX), 1)?;
        if successes > trials {
            let value = successes as f64;
            return Err(Error::OutOfRange {
                what: "number of strikes (successes)",
                value,
                range: "not above the number of casts",
            });
        }
        Ok(Self { successes, trials })
    }

    /// Number of successes x.
    pub fn successes(self) -> f64 {
        self.successes as f64
    }

    /// Number of trials n.
    pub fn trials(self) -> f64 {
        self.trials as f64
    }

    /// x / n.
    pub fn rate(self) -> f64 {
        self.successes() / self.trials()
    }

    /// Number of failures n - x.
    pub fn failures(self) -> f64 {
        (self.trials - self.successes) as f64
    }
}

/// Wilson's score interval: centre `(p + z^2/2n)/(1 + z^2/n)`, half width
/// `z sqrt(p(1-p)/n + z^2/4n^2)/(1 + z^2/n)`.
///
/// Wilson (1927), J. Am. Stat. Assoc. 22:209, doi:10.1080/01621459.1927.10502953. Any x and n; average
/// coverage close to the stated one, not guaranteed at every rate.
///
/// ```
/// use callup::statistics::{intervals::wilson, Confidence, Proportion};
/// // 7 of 100: 0.0343 to 0.1375 (statsmodels 0.15.0).
/// let i = wilson(Proportion::new(7, 100)?, Confidence::NINETY_FIVE);
/// assert!((i.low - 0.034319).abs() < 1e-6 && (i.high - 0.137495).abs() < 1e-6);
/// # Ok::<(), callup::statistics::Error>(())
/// ```
pub fn wilson(p: Proportion, confidence: Confidence) -> Interval {
    let (n, rate, z) = (p.trials(), p.rate(), confidence.z());
    let shrink = 1.0 + z * z / n;
    let centre = (rate + z * z / (2.0 * n)) / shrink;
    let half = z * sqrt(rate * (1.0 - rate) / n + z * z / (4.0 * n * n)) / shrink;
    // With 0 or n successes the end is exact; rounding must not move it.
    Interval {
        low: if p.successes() == 0.0 { 0.0 } else { (centre - half).max(0.0) },
        high: if p.failures() == 0.0 { 1.0 } else { (centre + half).min(1.0) },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn impossible_counts_are_refused() {
        assert!(Proportion::new(3, 2).is_err() && Proportion::new(0, 0).is_err());
        assert!((Confidence::NINETY_FIVE.z() - 1.959_963_984_540_054).abs() < 1e-12);
    }
}
