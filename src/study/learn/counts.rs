//! The counts of a log and how likely they are: binomial, with days that differ.
//!
//! A *cell* is one bait under one condition. In a world with `p` strikes per pass of that cell, `a` passes per cast
//! and a day that is `m` times as good as the mean day, a cast ends in a strike with the chance
//! `q = 1 - exp(-a m p)`: at least one of a Poisson number of passes strikes. Days have `ln m` normal with standard
//! deviation `s` and mean `-s^2/2`, so that m is 1 on average; casts of one day share one m.
//!
//! Fish differ for good, and casts in a row pass the same fish: with `c` casts to a fish and the squared variation `v`
//! between fish the `n` casts of a day meet `n/c` fish, whose mean chance varies from day to day by `v c/n` squared
//! over its own square. That widens the day: `s^2 + ln(1 + v c/n)`.

use crate::maths::quadrature::gauss_hermite_normal;
use crate::maths::{exp, ln};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Casts and strikes of one cell on one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Count {
    /// The cell.
    pub cell: usize,
    /// Casts.
    pub casts: f64,
    /// Strikes among them.
    pub strikes: f64,
}

/// What a log counts: days, each a list of cells; a cell appears once a day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Counts {
    /// The days, in the order of their dates.
    pub days: Vec<Vec<Count>>,
    /// Number of cells.
    pub cells: usize,
    /// Squared variation between fish times casts at one fish, `v c`; 0 where every cast meets another fish.
    pub alike: f64,
}

/// Nodes of the rule around the most likely day; with 9 the error of ln L stays below 1e-4 for days of a few hundred
/// casts (checked against a fine sum in the tests).
static RULE: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| gauss_hermite_normal(9));
const NEWTON_STEPS: usize = 40;
const NEWTON_ENOUGH: f64 = 1e-7;
/// Longest step in standard scores; the function is concave, a long first step only wastes time.
const LONGEST_STEP: f64 = 2.0;

impl Counts {
    /// Sums rows of (day, cell, casts, strikes): neither their order nor how a day's casts are split over rows counts.
    pub fn of(rows: impl IntoIterator<Item = (i64, usize, u32, u32)>) -> Self {
        let mut sums: BTreeMap<i64, BTreeMap<usize, (u64, u64)>> = BTreeMap::new();
        let mut cells = 0;
        for (day, cell, casts, strikes) in rows {
            cells = cells.max(cell + 1);
            let sum = sums.entry(day).or_default().entry(cell).or_default();
            sum.0 += u64::from(casts);
            sum.1 += u64::from(strikes);
        }
        let day = |cells: BTreeMap<usize, (u64, u64)>| {
            let count =
                |(cell, (n, y)): (usize, (u64, u64))| Count { cell, casts: n as f64, strikes: y as f64 };
            cells.into_iter().map(count).filter(|c| c.casts > 0.0).collect::<Vec<_>>()
        };
        Self { days: sums.into_values().map(day).filter(|d| !d.is_empty()).collect(), cells, alike: 0.0 }
    }

    /// All casts.
    pub fn casts(&self) -> f64 {
        self.days.iter().flatten().map(|c| c.casts).sum()
    }

    /// All strikes.
    pub fn strikes(&self) -> f64 {
        self.days.iter().flatten().map(|c| c.strikes).sum()
    }

    /// Casts and strikes of each cell over all days.
    pub fn by_cell(&self) -> Vec<(f64, f64)> {
        let mut sums = vec![(0.0, 0.0); self.cells];
        for c in self.days.iter().flatten() {
            sums[c.cell].0 += c.casts;
            sums[c.cell].1 += c.strikes;
        }
        sums
    }

    /// How unevenly casts lie over days: sum n_d^2 / (sum n_d)^2, one over the number of days where they are even.
    pub fn concentration(&self) -> f64 {
        let days: Vec<f64> = self.days.iter().map(|d| d.iter().map(|c| c.casts).sum()).collect();
        let total: f64 = days.iter().sum();
        if total > 0.0 { days.iter().map(|n| n * n).sum::<f64>() / (total * total) } else { 0.0 }
    }

    /// ln of the probability of the counts (without the binomial coefficients), `rates` being the strikes expected
    /// per cast in each cell, `a p`, and `day_spread` the standard deviation of the days.
    pub fn ln_likelihood(&self, rates: &[f64], day_spread: f64) -> f64 {
        self.days.iter().map(|day| ln_day(day, rates, self.spread_of(day, day_spread))).sum()
    }

    /// Standard deviation of ln m of a day, the few fish that its casts meet included.
    pub fn spread_of(&self, day: &[Count], day_spread: f64) -> f64 {
        let casts: f64 = day.iter().map(|c| c.casts).sum();
        if self.alike <= 0.0 || casts <= 0.0 {
            return day_spread;
        }
        crate::maths::sqrt(day_spread * day_spread + crate::maths::ln_1p(self.alike / casts))
    }
}

/// ln (1 - exp(-x)) for x >= 0.
pub fn ln_struck(x: f64) -> f64 {
    ln(-libm::expm1(-x))
}

fn ln_day(day: &[Count], rates: &[f64], spread: f64) -> f64 {
    // Strikes where none can be: impossible in this world.
    if day.iter().any(|c| c.strikes > 0.0 && rates[c.cell] <= 0.0) {
        return f64::NEG_INFINITY;
    }
    let missed: f64 = day.iter().map(|c| (c.casts - c.strikes) * rates[c.cell]).sum();
    let given = |m: f64| {
        let hits = day.iter().filter(|c| c.strikes > 0.0);
        hits.map(|c| c.strikes * ln_struck(rates[c.cell] * m)).sum::<f64>() - m * missed
    };
    if spread <= 0.0 {
        return given(1.0);
    }
    let day_factor = |u: f64| exp(spread * u - 0.5 * spread * spread);
    // First and second derivative of ln(integrand) in the standard score u of the day.
    let slopes = |u: f64| {
        let m = day_factor(u);
        let mut first = -m * missed;
        let mut second = -m * missed;
        for c in day.iter().filter(|c| c.strikes > 0.0) {
            let x = rates[c.cell] * m;
            let e = libm::expm1(x);
            if !e.is_finite() {
                continue;
            }
            // x/(e^x - 1), and its derivative in ln x; both go smoothly to 1 and 0 at x = 0.
            let share = if x < 1e-8 { 1.0 - 0.5 * x } else { x / e };
            let change = if x < 1e-5 { -0.5 * x } else { share * (1.0 - share * (e + 1.0)) };
            first += c.strikes * share;
            second += c.strikes * change;
        }
        (spread * first - u, spread * spread * second - 1.0)
    };
    let mut mode = 0.0;
    for _ in 0..NEWTON_STEPS {
        let (first, second) = slopes(mode);
        let step = (-first / second).clamp(-LONGEST_STEP, LONGEST_STEP);
        mode += step;
        if step.abs() < NEWTON_ENOUGH {
            break;
        }
    }
    let width = 1.0 / (-slopes(mode).1).max(1.0).sqrt();
    let at = |x: f64| {
        let u = mode + width * x;
        given(day_factor(u)) - 0.5 * u * u + 0.5 * x * x
    };
    let values: Vec<f64> = RULE.iter().map(|(x, _)| at(*x)).collect();
    let top = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !top.is_finite() {
        return f64::NEG_INFINITY;
    }
    let sum: f64 = values.iter().zip(RULE.iter()).map(|(v, (_, w))| w * exp(v - top)).sum();
    top + ln(width * sum)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maths::quadrature::normal_density;

    /// The integral over the day's factor as a fine sum; its own error is below 1e-9 at this step.
    fn by_sum(day: &[Count], rates: &[f64], spread: f64) -> f64 {
        let step = 0.01;
        let one = |k: i32| {
            let u = step * f64::from(k);
            let m = exp(spread * u - 0.5 * spread * spread);
            let l: f64 = day
                .iter()
                .map(|c| {
                    let x = rates[c.cell] * m;
                    (if c.strikes > 0.0 { c.strikes * ln_struck(x) } else { 0.0 }) - (c.casts - c.strikes) * x
                })
                .sum();
            step * normal_density(u) * exp(l)
        };
        ln((-900..=900).map(one).sum())
    }

    /// What the sampler needs: errors of a thousandth are far below the luck of 1000 draws.
    const LN_TOLERANCE: f64 = 2e-3;

    #[test]
    fn days_are_integrated_out() {
        for (casts, strikes) in
            [(10.0, 0.0), (10.0, 1.0), (200.0, 0.0), (200.0, 3.0), (300.0, 60.0), (5.0, 5.0)]
        {
            let day = [Count { cell: 0, casts, strikes }, Count { cell: 1, casts: 7.0, strikes: 0.0 }];
            for rates in [[0.002, 0.01], [0.05, 0.02], [0.6, 0.1]] {
                for spread in [0.1, 0.6, 1.5] {
                    let (fast, slow) = (ln_day(&day, &rates, spread), by_sum(&day, &rates, spread));
                    assert!(
                        (fast - slow).abs() < LN_TOLERANCE,
                        "{casts} {strikes} {rates:?} {spread}: {fast} {slow}"
                    );
                }
            }
        }
    }

    #[test]
    fn without_a_day_effect_it_is_the_binomial() {
        let counts = Counts::of([(0, 0, 20, 3), (0, 1, 10, 0), (1, 0, 5, 1)]);
        let rates = [0.1, 0.03];
        let q = rates.map(|r| 1.0 - exp(-r));
        let want = 4.0 * ln(q[0]) + 21.0 * ln(1.0 - q[0]) + 10.0 * ln(1.0 - q[1]);
        // A few roundings.
        assert!((counts.ln_likelihood(&rates, 0.0) - want).abs() < 1e-12);
        assert_eq!(counts.by_cell(), vec![(25.0, 4.0), (10.0, 0.0)]);
    }

    /// Fish of chances 0 and 2 p, one for all casts of a day: the exact mixture of two binomials is told from a plain
    /// binomial by its spread, which the widened day matches in variance.
    #[test]
    fn casts_at_one_fish_widen_the_day() {
        let day = [Count { cell: 0, casts: 10.0, strikes: 0.0 }];
        let alone = Counts { days: vec![day.to_vec()], cells: 1, alike: 0.0 };
        let one_fish = Counts { alike: 10.0, ..alone.clone() };
        assert_eq!(alone.spread_of(&day, 0.3), 0.3);
        // v = 1, c = n = 10: ln 2.
        let s = one_fish.spread_of(&day, 0.0);
        assert!((s * s - std::f64::consts::LN_2).abs() < 1e-12);
        // A lognormal of that spread has the squared variation exp(s^2) - 1 = 1, that of 0 and 2 p.
        assert!((exp(s * s) - 2.0).abs() < 1e-12);
        // Nothing in ten casts is likelier where it may be the fish.
        assert!(one_fish.ln_likelihood(&[0.1], 0.3) > alone.ln_likelihood(&[0.1], 0.3));
    }

    #[test]
    fn rows_of_one_day_and_cell_are_one() {
        let whole = Counts::of([(3, 0, 10, 2), (1, 1, 4, 0)]);
        let split = Counts::of([(1, 1, 4, 0), (3, 0, 5, 2), (3, 0, 5, 0)]);
        assert_eq!(whole, split);
        assert_eq!(Counts::of([(3, 0, 0, 0)]).days.len(), 0);
    }

    #[test]
    fn a_strike_where_none_can_be_rules_a_world_out() {
        let counts = Counts::of([(0, 0, 3, 1)]);
        assert_eq!(counts.ln_likelihood(&[0.0], 0.5), f64::NEG_INFINITY);
        assert!(Counts::of([(0, 0, 3, 0)]).ln_likelihood(&[0.0], 0.5).abs() < 1e-12);
    }
}
