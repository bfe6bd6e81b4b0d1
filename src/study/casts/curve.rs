//! Power against the number of casts.

use super::{Casts, Fixed, power_at};
use crate::maths::{exp, ln};
use crate::statistics::estimate::{quantile, sorted};

/// One point of the power curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Casts of each.
    pub of_each: usize,
    /// Chance of telling the two apart at the rates of the plan.
    pub power: f64,
    /// Mean, low and high over plausible worlds.
    pub worlds: Option<[f64; 3]>,
}

/// Sizes times worlds up to which a point is worked out exactly.
const MOST_WORK: usize = 2_000_000;
/// Steps of the curve.
const STEPS: usize = 48;
/// Where it begins, and where it ends at most.
const CURVE: (f64, f64) = (10.0, 1e6);

/// Power against the number of casts, in equal ratios, to a few times the plan.
pub fn curve(casts: &Casts) -> Vec<Point> {
    let planned = casts.fixed.as_ref().map_or(1e3, Fixed::planned);
    let asked = casts.showing.as_ref().map_or(0.0, |s| s.casts as f64);
    let end = (4.0 * planned).max(2.0 * asked).clamp(100.0, CURVE.1);
    let demand = &casts.question.demand;
    let mut points: Vec<Point> = Vec::with_capacity(STEPS);
    for i in 0..STEPS {
        let n = (CURVE.0 * exp(ln(end / CURVE.0) * i as f64 / (STEPS - 1) as f64)).round() as usize;
        if points.last().is_some_and(|p| p.of_each == n) {
            continue;
        }
        let exact = n * casts.worlds.as_ref().map_or(1, |w| w.rates.len()) <= MOST_WORK;
        let worlds = casts.worlds.as_ref().filter(|w| w.rates.len() > 1).map(|w| {
            let all: Vec<f64> = w.rates.iter().map(|&r| power_at(r, n, demand, exact)).collect();
            let order = sorted(&all);
            let at = |q: f64| quantile(&order, q).unwrap_or(f64::NAN);
            [all.iter().sum::<f64>() / all.len() as f64, at(0.05), at(0.95)]
        });
        points.push(Point { of_each: n, power: power_at(casts.rates, n, demand, true), worlds });
    }
    points
}
