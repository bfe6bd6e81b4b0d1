//! Intervals for the difference and the ratio of two independent rates.
//!
//! Newcombe's for display (closed form), Miettinen & Nurminen's where a test goes with it. Neither fits
//! rates that share their random numbers: see [`super::paired`].

use super::intervals::{Confidence, Interval, Proportion, wilson};
use crate::maths::special::normal_cdf;
use crate::maths::{exp, ln, sqrt};

/// Newcombe's square-and-add interval for p1 - p2 from the two Wilson intervals (l, u):
/// `d - sqrt((p1-l1)^2 + (u2-p2)^2)` to `d + sqrt((u1-p1)^2 + (p2-l2)^2)`.
///
/// Newcombe (1998), Stat. Med. 17:873, method 10 for independent rates,
/// doi:10.1002/(SICI)1097-0258(19980430)17:8<873::AID-SIM779>3.0.CO;2-I (from memory).
///
/// ```
/// use callup::statistics::{differences::newcombe, Confidence, Proportion};
/// // 56/70 against 48/80: 0.0524 to 0.3339, Newcombe (1998) Table II (from memory).
/// let i = newcombe(Proportion::new(56, 70)?, Proportion::new(48, 80)?, Confidence::NINETY_FIVE);
/// assert!((i.low - 0.0524).abs() < 5e-5 && (i.high - 0.3339).abs() < 5e-5);
/// # Ok::<(), callup::statistics::Error>(())
/// ```
pub fn newcombe(first: Proportion, second: Proportion, confidence: Confidence) -> Interval {
    let (p1, p2) = (first.rate(), second.rate());
    let (w1, w2) = (wilson(first, confidence), wilson(second, confidence));
    let reach = |a: f64, b: f64| sqrt(a * a + b * b);
    Interval {
        low: p1 - p2 - reach(p1 - w1.low, w2.high - p2),
        high: p1 - p2 + reach(w1.high - p1, p2 - w2.low),
    }
}

/// Score interval for p1 - p2: all differences that the score test with constrained maximum-likelihood
/// rates does not reject, with the variance factor N/(N-1).
///
/// Miettinen & Nurminen (1985), Stat. Med. 4:213, doi:10.1002/sim.4780040211. Any counts; ends to 1e-12.
///
/// ```
/// use callup::statistics::{differences::miettinen_nurminen, Confidence, Proportion};
/// // 5/56 against 0/29: -0.0326 to 0.1933, Newcombe (1998) Table II (from memory).
/// let i = miettinen_nurminen(Proportion::new(5, 56)?, Proportion::new(0, 29)?, Confidence::NINETY_FIVE);
/// assert!((i.low + 0.0326).abs() < 5e-5 && (i.high - 0.1933).abs() < 5e-5);
/// # Ok::<(), callup::statistics::Error>(())
/// ```
pub fn miettinen_nurminen(first: Proportion, second: Proportion, confidence: Confidence) -> Interval {
    let total = first.trials() + second.trials();
    score_interval(first, second, confidence, total / (total - 1.0))
}

/// The same without the factor N/(N-1): Mee (1984), Biometrics 40:1175; Farrington & Manning (1990), Stat.
/// Med. 9:1447, doi:10.1002/sim.4780091208.
pub fn mee(first: Proportion, second: Proportion, confidence: Confidence) -> Interval {
    score_interval(first, second, confidence, 1.0)
}

/// Two-sided p-value of the pooled score test of p1 = p2; `None` where nothing or everything succeeded.
pub fn pooled_score_p(first: Proportion, second: Proportion) -> Option<f64> {
    let (n1, n2) = (first.trials(), second.trials());
    let pooled = (first.successes() + second.successes()) / (n1 + n2);
    let variance = pooled * (1.0 - pooled) * (1.0 / n1 + 1.0 / n2);
    (variance > 0.0).then(|| 2.0 * normal_cdf(-(first.rate() - second.rate()).abs() / sqrt(variance)))
}

/// Katz's interval for the ratio p1/p2: `exp(ln R -+ z sqrt(1/x1 - 1/n1 + 1/x2 - 1/n2))`.
///
/// Katz et al. (1978), Biometrics 34:469, doi:10.2307/2530610. `None` where either count is 0: use
/// [`adjusted_ratio`].
pub fn katz_ratio(first: Proportion, second: Proportion, confidence: Confidence) -> Option<Interval> {
    log_ratio_interval(counts(first, 0.0), counts(second, 0.0), confidence)
}

/// [`katz_ratio`] after adding 1/2 to each count and each number of trials (Walter 1975, Biometrika
/// 62:371, from memory); defined for any counts.
pub fn adjusted_ratio(first: Proportion, second: Proportion, confidence: Confidence) -> Option<Interval> {
    log_ratio_interval(counts(first, 0.5), counts(second, 0.5), confidence)
}

fn counts(p: Proportion, add: f64) -> (f64, f64) {
    (p.successes() + add, p.trials() + add)
}

fn log_ratio_interval(
    (x1, n1): (f64, f64),
    (x2, n2): (f64, f64),
    confidence: Confidence,
) -> Option<Interval> {
    if x1 <= 0.0 || x2 <= 0.0 {
        return None;
    }
    let centre = ln((x1 / n1) / (x2 / n2));
    let reach = confidence.z() * sqrt((1.0 / x1 - 1.0 / n1 + 1.0 / x2 - 1.0 / n2).max(0.0));
    Some(Interval { low: exp(centre - reach), high: exp(centre + reach) })
}

/// Bisection of the score statistic, which falls as the difference rises.
fn score_interval(first: Proportion, second: Proportion, confidence: Confidence, factor: f64) -> Interval {
    let (estimate, z) = (first.rate() - second.rate(), confidence.z());
    let inside = |d: f64| {
        let p2 = constrained_second_rate(first, second, d);
        let p1 = p2 + d;
        let variance =
            (p1 * (1.0 - p1) / first.trials() + p2 * (1.0 - p2) / second.trials()).max(0.0) * factor;
        let gap = estimate - d;
        gap * gap <= z * z * variance
    };
    let search = |end: f64| {
        let (mut inner, mut outer) = (estimate, end);
        if inside(end) {
            return end;
        }
        while (outer - inner).abs() > 1e-13 {
            let middle = 0.5 * (inner + outer);
            if inside(middle) { inner = middle } else { outer = middle }
        }
        0.5 * (inner + outer)
    };
    Interval { low: search(-1.0), high: search(1.0) }
}

/// The second rate that maximises the likelihood subject to p1 = p2 + d.
///
/// It is the root of the cubic of Miettinen & Nurminen; found here as the zero of the slope of the
/// log-likelihood, which is concave, so that empty cells and double roots need no special care.
fn constrained_second_rate(first: Proportion, second: Proportion, d: f64) -> f64 {
    let slope = |p: f64| {
        let term = |count: f64, rate: f64| if count == 0.0 { 0.0 } else { count / rate };
        term(first.successes(), p + d) - term(first.failures(), 1.0 - p - d) + term(second.successes(), p)
            - term(second.failures(), 1.0 - p)
    };
    let (mut low, mut high) = ((-d).max(0.0), (1.0 - d).min(1.0));
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if slope(middle) > 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_constrained_rate_solves_the_cubic() {
        let (first, second) = (Proportion::new(9, 80).unwrap(), Proportion::new(4, 100).unwrap());
        let (x1, n1, x2, n2) = (9.0, 80.0, 4.0, 100.0);
        for d in [-0.3, -0.02, 0.05, 0.1, 0.4] {
            let p = constrained_second_rate(first, second, d);
            let (n, x) = (n1 + n2, x1 + x2);
            let cubic = [x2 * d * (1.0 - d), (n2 * d - n - 2.0 * x2) * d + x, (n1 + 2.0 * n2) * d - n - x, n];
            let residual = cubic.iter().rev().fold(0.0, |sum, c| sum * p + c);
            assert!(residual.abs() < 1e-9, "d {d}: {residual}");
        }
    }

    #[test]
    fn ratios_are_refused_where_undefined() {
        let (none, some) = (Proportion::new(0, 10).unwrap(), Proportion::new(3, 10).unwrap());
        assert_eq!(katz_ratio(none, some, Confidence::NINETY_FIVE), None);
        assert!(adjusted_ratio(none, some, Confidence::NINETY_FIVE).is_some());
        assert_eq!(pooled_score_p(none, none), None);
    }
}
