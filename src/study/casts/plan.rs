//! The fixed plan: a number of casts of each bait, and the power of its test.

use crate::maths::special::{normal_cdf, normal_quantile};
use crate::maths::sqrt;
use crate::statistics::Error;
use crate::statistics::power::{Plan, exact_power, exact_size};

/// How surely two rates must be told apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Demand {
    /// Chance of telling two apart that are the same, two-sided.
    pub alpha: f64,
    /// Chance of telling two apart that differ.
    pub power: f64,
}

/// Sizes in a row at which the exact power must hold: it is a saw-tooth.
const STAY: usize = 25;
/// Largest size for which an exact power is worked out.
const MOST: f64 = 1_000_000.0;

impl Demand {
    /// Whether both are between 0 and 1.
    ///
    /// # Errors
    /// [`Error`] where one is not.
    pub fn check(&self) -> Result<(), Error> {
        // Any two rates will do: what is checked are the false-alarm rate and the power.
        Plan::new(0.1, 0.2, self.alpha, self.power).map(|_| ())
    }
}

/// The plan for two rates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fixed {
    /// Casts of each by the pooled normal formula.
    pub pooled: f64,
    /// That, rounded up.
    pub casts: f64,
    /// Exact power with so many; by formula over a million.
    pub power: f64,
    /// Whether that power is exact.
    pub power_is_exact: bool,
    /// Exact false-alarm rate with so many where both strike at the mean of the rates; none over a million.
    pub false_alarm: Option<f64>,
    /// Smallest number of each whose exact power is reached and stays; none where it is too large to be found, and the
    /// formula is as good.
    pub smallest: Option<usize>,
}

impl Fixed {
    /// Casts of each that the plan takes: the smallest number whose exact power is reached and stays; by formula where
    /// that was not worked out.
    pub fn planned(&self) -> f64 {
        self.smallest.map_or(self.casts, |n| n as f64)
    }

    /// Two different rates between 0 and 1.
    ///
    /// # Errors
    /// [`Error`] where they are not.
    pub fn new(rates: [f64; 2], demand: &Demand) -> Result<Self, Error> {
        let plan = Plan::new(rates[0], rates[1], demand.alpha, demand.power)?;
        let pooled = plan.size_pooled();
        let casts = pooled.ceil().max(1.0);
        let exact = casts <= MOST;
        let whole = if exact { casts as usize } else { 0 };
        let middle = 0.5 * (rates[0] + rates[1]);
        Ok(Self {
            pooled,
            casts,
            power: if exact {
                exact_power(rates[0], rates[1], whole, demand.alpha)?.min(1.0)
            } else {
                power_by_formula(rates, casts, demand)
            },
            power_is_exact: exact,
            false_alarm: if exact { exact_size(middle, whole, demand.alpha).ok() } else { None },
            smallest: plan.smallest_stable_size(STAY).ok(),
        })
    }
}

/// No bait strikes never or always; a rate that rounds to either is held off it by less than can be seen.
pub(super) const EDGE: f64 = 1e-12;

/// Casts of each by the pooled formula; infinite for equal rates.
pub(super) fn size(rates: [f64; 2], demand: &Demand) -> f64 {
    let [a, b] = rates.map(|p| p.clamp(EDGE, 1.0 - EDGE));
    Plan::new(a, b, demand.alpha, demand.power).map_or(f64::INFINITY, |p| p.size_pooled())
}

/// Chance that `casts` of each tell two rates apart: exactly, or where `exact` is false or there are more than
/// [`Plan::MOST_EXACT`] by the normal formula that the pooled size inverts.
pub fn power_at(rates: [f64; 2], casts: usize, demand: &Demand, exact: bool) -> f64 {
    let exactly = (exact && casts <= Plan::MOST_EXACT)
        .then(|| exact_power(rates[0], rates[1], casts, demand.alpha).ok())
        .flatten();
    // The sum of many masses may round to a hair above 1.
    exactly.map_or_else(|| power_by_formula(rates, casts as f64, demand), |power| power.min(1.0))
}

/// `Phi((|p1 - p2| sqrt(n) - z_a sqrt(2 p q)) / sqrt(p1 q1 + p2 q2))`, p the mean rate: Fleiss, Levin & Paik (2003),
/// Statistical Methods for Rates and Proportions, ch. 4 (from memory). The far side of the two-sided test is left
/// out, so equal rates give half of the false-alarm rate.
fn power_by_formula(rates: [f64; 2], casts: f64, demand: &Demand) -> f64 {
    let [p1, p2] = rates;
    let p = 0.5 * (p1 + p2);
    let own = sqrt(p1 * (1.0 - p1) + p2 * (1.0 - p2));
    if own <= 0.0 {
        return if p1 == p2 { 0.0 } else { 1.0 };
    }
    let z = normal_quantile(1.0 - 0.5 * demand.alpha);
    normal_cdf(((p1 - p2).abs() * sqrt(casts) - z * sqrt(2.0 * p * (1.0 - p))) / own)
}
