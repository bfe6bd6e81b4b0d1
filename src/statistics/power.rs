//! How many casts tell two rates apart: sizes by formula, and the exact power of the test.
//!
//! All sizes are casts of each bait, equal for both.

use super::Error;
use super::distributions::binomial_masses;
use crate::maths::special::normal_quantile;
use crate::maths::sqrt;

/// Two rates to be told apart by a two-sided test, and how surely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    p1: f64,
    p2: f64,
    alpha: f64,
    power: f64,
}

impl Plan {
    /// Largest size for which the exact power is searched; beyond it the formula is as good.
    pub const MOST_EXACT: usize = 5_000;

    /// Two different rates, a two-sided false-alarm rate and a power, all strictly between 0 and 1.
    pub fn new(p1: f64, p2: f64, alpha: f64, power: f64) -> Result<Self, Error> {
        Error::probability("first rate", p1)?;
        Error::probability("second rate", p2)?;
        Error::probability("false-alarm rate", alpha)?;
        Error::probability("power", power)?;
        if p1 == p2 {
            return Err(Error::OutOfRange {
                what: "second rate",
                value: p2,
                range: "that differs from the first",
            });
        }
        Ok(Self { p1, p2, alpha, power })
    }

    fn z(&self) -> (f64, f64) {
        (normal_quantile(1.0 - 0.5 * self.alpha), normal_quantile(self.power))
    }

    fn own_variance(&self) -> f64 {
        self.p1 * (1.0 - self.p1) + self.p2 * (1.0 - self.p2)
    }

    /// Size for the pooled test: `[z_a sqrt(2 p q) + z_b sqrt(p1 q1 + p2 q2)]^2 / (p1 - p2)^2`, p the
    /// mean rate. Fleiss, Levin & Paik (2003), Statistical Methods for Rates and Proportions, ch. 4
    /// (from memory).
    ///
    /// ```
    /// // 3 against 2 in 100, 5 %, 80 %: 3825.15 (R's power.prop.test).
    /// let plan = callup::statistics::power::Plan::new(0.03, 0.02, 0.05, 0.8)?;
    /// assert!((plan.size_pooled() - 3825.15).abs() < 0.005);
    /// # Ok::<(), callup::statistics::Error>(())
    /// ```
    pub fn size_pooled(&self) -> f64 {
        let (za, zb) = self.z();
        let p = 0.5 * (self.p1 + self.p2);
        let root = za * sqrt(2.0 * p * (1.0 - p)) + zb * sqrt(self.own_variance());
        let gap = self.p1 - self.p2;
        root * root / (gap * gap)
    }

    /// The smallest size whose exact power reaches the plan's and stays there for `stay` sizes more.
    ///
    /// The exact power is a saw-tooth in n, so the first size that reaches the plan may be followed by
    /// sizes that do not. Searched upwards from half the pooled size, where the power is far too low.
    pub fn smallest_stable_size(&self, stay: usize) -> Result<usize, Error> {
        let pooled = self.size_pooled();
        if pooled > Self::MOST_EXACT as f64 {
            return Err(Error::TooMuch {
                what: "casts of each bait",
                got: pooled as usize,
                most: Self::MOST_EXACT,
                instead: "use the size by formula",
            });
        }
        let start = ((0.5 * pooled) as usize).max(1);
        let mut first = None;
        for n in start..=4 * Self::MOST_EXACT {
            match (exact_power(self.p1, self.p2, n, self.alpha)? >= self.power, first) {
                (false, _) => first = None,
                (true, None) => first = Some(n),
                (true, Some(_)) => {}
            }
            if let Some(n0) = first.filter(|n0| n - n0 >= stay) {
                return Ok(n0);
            }
        }
        Err(Error::TooMuch {
            what: "casts of each bait",
            got: 4 * Self::MOST_EXACT,
            most: Self::MOST_EXACT,
            instead: "use the size by formula",
        })
    }
}

/// For every count x of one arm, the smallest count of the other arm, above x, at which the two-sided
/// pooled score test rejects (n + 1 where none does).
///
/// For x < y the statistic `(y-x)^2 2n / ((x+y)(2n-x-y))` rises in y and falls in x (its logarithm has
/// derivative 2/d - 1/t + 1/(2n-t) in y, with d = y-x <= t and d <= 2n-t), so one pass suffices.
fn rejection_boundary(n: usize, alpha: f64) -> Vec<usize> {
    let z = normal_quantile(1.0 - 0.5 * alpha);
    let limit = z * z;
    let rejects = |x: usize, y: usize| {
        let (d, t) = ((y - x) as f64, (x + y) as f64);
        let two_n = 2.0 * n as f64;
        d * d * two_n >= limit * t * (two_n - t) && d > 0.0
    };
    let mut y = 0;
    (0..=n)
        .map(|x| {
            y = y.max(x);
            while y <= n && !rejects(x, y) {
                y += 1;
            }
            y
        })
        .collect()
}

/// Exact power of the two-sided pooled score test with `n` casts of each bait at rates p1 and p2: the sum
/// of the binomial probabilities over the rejection region.
///
/// n steps of work; rates from 0 to 1. At equal rates it is the test's exact size.
///
/// ```
/// // 7 against 14 in 100 with 294 casts each: power 0.8012 (scipy 1.17.1, full enumeration).
/// let power = callup::statistics::power::exact_power(0.07, 0.14, 294, 0.05)?;
/// assert!((power - 0.801241934663).abs() < 1e-9);
/// # Ok::<(), callup::statistics::Error>(())
/// ```
pub fn exact_power(p1: f64, p2: f64, n: usize, alpha: f64) -> Result<f64, Error> {
    for (what, p) in [("first rate", p1), ("second rate", p2)] {
        if !(0.0..=1.0).contains(&p) {
            return Err(Error::OutOfRange { what, value: p, range: "from 0 to 1" });
        }
    }
    Error::probability("false-alarm rate", alpha)?;
    Error::at_least("casts of each bait", n, 1)?;
    let most = 1_000_000;
    if n > most {
        let instead = "use the size by formula";
        return Err(Error::TooMuch { what: "casts of each bait", got: n, most, instead });
    }
    let boundary = rejection_boundary(n, alpha);
    let (first, second) = (binomial_masses(n, p1), binomial_masses(n, p2));
    Ok(side(&boundary, &first, &second) + side(&boundary, &second, &first))
}

/// Probability that the count of `upper` lies at or beyond the boundary given by that of `lower`.
fn side(boundary: &[usize], lower: &[f64], upper: &[f64]) -> f64 {
    let mut tails = vec![0.0; upper.len() + 1];
    for k in (0..upper.len()).rev() {
        tails[k] = tails[k + 1] + upper[k];
    }
    boundary.iter().zip(lower).map(|(&y, &mass)| mass * tails[y]).sum()
}

/// Exact false-alarm rate of the test with `n` casts of each bait where both strike at rate `p`.
pub fn exact_size(p: f64, n: usize, alpha: f64) -> Result<f64, Error> {
    exact_power(p, p, n, alpha)
}

/// The smallest rate above `p1` that `n` casts of each bait tell from it with the given power, to 1e-6;
/// `Ok(None)` where even a rate of 1 is not told.
pub fn smallest_detectable(p1: f64, n: usize, alpha: f64, power: f64) -> Result<Option<f64>, Error> {
    Error::probability("first rate", p1)?;
    Error::probability("power", power)?;
    if exact_power(p1, 1.0, n, alpha)? < power {
        return Ok(None);
    }
    let (mut low, mut high) = (p1, 1.0);
    while high - low > 1e-6 {
        let middle = 0.5 * (low + high);
        if exact_power(p1, middle, n, alpha)? < power { low = middle } else { high = middle }
    }
    Ok(Some(high))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The boundary by one pass against the test applied to every table.
    #[test]
    fn the_rejection_region_is_that_of_the_test() {
        for n in [1, 2, 5, 17, 40] {
            let boundary = rejection_boundary(n, 0.05);
            for (x, &least) in boundary.iter().enumerate() {
                for y in x..=n {
                    let pooled = (x + y) as f64 / (2 * n) as f64;
                    let se = (2.0 * pooled * (1.0 - pooled) / n as f64).sqrt();
                    let z = (y - x) as f64 / n as f64 / se;
                    assert_eq!(z > 1.959_963_984_540_054, y >= least, "n {n}: {x}, {y}");
                }
            }
        }
    }

    #[test]
    fn small_logs_can_show_only_large_differences() {
        let p = smallest_detectable(0.03, 60, 0.05, 0.8).unwrap().unwrap();
        assert!(exact_power(0.03, p, 60, 0.05).unwrap() >= 0.8);
        assert!(exact_power(0.03, p - 0.005, 60, 0.05).unwrap() < 0.8);
        assert_eq!(smallest_detectable(0.5, 2, 0.05, 0.8), Ok(None));
        assert!(Plan::new(0.1, 0.1, 0.05, 0.8).is_err());
        assert!(exact_power(0.1, 0.2, 0, 0.05).is_err() && exact_power(-0.1, 0.2, 9, 0.05).is_err());
    }
}
