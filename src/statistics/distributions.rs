//! The distribution functions behind the intervals and tests.
//!
//! Built on the `libm` crate, so that a number is the same on every platform, the web page included.

use crate::maths::{exp, ln, ln_1p, sqrt};

/// Most steps of the continued fraction; about the square root of the larger parameter is used.
const MOST_STEPS: usize = 100_000;

/// Regularised incomplete beta function I_x(a, b): the distribution function of Beta(a, b) at x.
///
/// `x^a (1-x)^b / (a B(a,b)) * CF`, the continued fraction of DLMF 8.17.22 evaluated by Lentz's method;
/// a, b > 0; the error grows with a + b, about 1e-13 at 100 and 1e-10 at 20 000. NaN for other arguments.
///
/// ```
/// use callup::statistics::distributions::beta_cdf;
/// // Beta(2, 3) has distribution function 6x^2 - 8x^3 + 3x^4.
/// assert!((beta_cdf(0.4, 2.0, 3.0) - (0.96 - 0.512 + 0.0768)).abs() < 1e-14);
/// ```
pub fn beta_cdf(x: f64, a: f64, b: f64) -> f64 {
    if !(a > 0.0 && b > 0.0) || x.is_nan() {
        return f64::NAN;
    }
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = exp(a * ln(x) + b * ln_1p(-x) - ln_beta(a, b));
    if x < (a + 1.0) / (a + b + 2.0) {
        front * beta_fraction(x, a, b) / a
    } else {
        1.0 - front * beta_fraction(1.0 - x, b, a) / b
    }
}

/// ln B(a, b) = ln Gamma(a) + ln Gamma(b) - ln Gamma(a + b), for a, b > 0.
pub fn ln_beta(a: f64, b: f64) -> f64 {
    libm::lgamma(a) + libm::lgamma(b) - libm::lgamma(a + b)
}

/// The continued fraction 1/(1+ d1/(1+ d2/(1+ ...))) of the incomplete beta function.
fn beta_fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let guard = |v: f64| if v.abs() < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / guard(1.0 - (a + b) * x / (a + 1.0));
    let mut h = d;
    for m in 1..MOST_STEPS {
        let m = m as f64;
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / guard(1.0 + even * d);
        c = guard(1.0 + even / c);
        h *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / guard(1.0 + odd * d);
        c = guard(1.0 + odd / c);
        let step = d * c;
        h *= step;
        if (step - 1.0).abs() < 1e-16 {
            break;
        }
    }
    h
}

/// Quantile of Beta(a, b): the x with I_x(a, b) = p, by bisection down to neighbouring numbers.
///
/// 0 for p <= 0, 1 for p >= 1; NaN where a or b is not above 0.
pub fn beta_quantile(p: f64, a: f64, b: f64) -> f64 {
    if !(a > 0.0 && b > 0.0) || p.is_nan() {
        return f64::NAN;
    }
    if p <= 0.0 {
        return 0.0;
    }
    if p >= 1.0 {
        return 1.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    loop {
        let middle = 0.5 * (low + high);
        // Relative precision of 1e-15 is all that the distribution function carries.
        if middle <= low || middle >= high || high - low < 1e-15 * high {
            return middle;
        }
        if beta_cdf(middle, a, b) < p { low = middle } else { high = middle }
    }
}

/// Quantile of Student's t with `df` > 0 degrees of freedom, from the beta quantile.
///
/// ```
/// use callup::statistics::distributions::t_quantile;
/// // Two-sided 95 % with 15 degrees of freedom: 2.131 (any printed t table).
/// assert!((t_quantile(0.975, 15.0) - 2.131).abs() < 5e-4);
/// ```
pub fn t_quantile(p: f64, df: f64) -> f64 {
    let tail = p.min(1.0 - p);
    let x = beta_quantile(2.0 * tail, 0.5 * df, 0.5);
    let t = sqrt(df * (1.0 - x) / x);
    if p < 0.5 { -t } else { t }
}

/// All n + 1 probabilities of a binomial count, by the ratio of neighbours outwards from the mode.
///
/// No logarithms of factorials, so the relative error stays near n times the rounding unit.
pub fn binomial_masses(n: usize, p: f64) -> Vec<f64> {
    let mut masses = vec![0.0; n + 1];
    if p.is_nan() || p <= 0.0 {
        masses[0] = 1.0;
        return masses;
    }
    if p >= 1.0 {
        masses[n] = 1.0;
        return masses;
    }
    let odds = p / (1.0 - p);
    let mode = (((n + 1) as f64 * p) as usize).min(n);
    masses[mode] = 1.0;
    for k in mode..n {
        masses[k + 1] = masses[k] * odds * (n - k) as f64 / (k + 1) as f64;
    }
    for k in (0..mode).rev() {
        masses[k] = masses[k + 1] * (k + 1) as f64 / ((n - k) as f64 * odds);
    }
    let total: f64 = masses.iter().sum();
    masses.iter_mut().for_each(|m| *m /= total);
    masses
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beta_agrees_with_the_binomial_sum() {
        // P(Bin(n, p) >= k) = I_p(k, n - k + 1).
        for (n, k, p) in [(10, 3, 0.2), (200, 14, 0.05), (1400, 120, 0.09)] {
            let tail: f64 = binomial_masses(n, p)[k..].iter().sum();
            assert!((tail - beta_cdf(p, k as f64, (n - k + 1) as f64)).abs() < 1e-11, "{n} {k} {p}");
        }
    }

    #[test]
    fn quantiles_invert_and_bad_arguments_give_nan() {
        for (a, b) in [(0.5, 10.5), (7.5, 93.5), (1234.5, 18_766.5)] {
            for p in [1e-6, 0.025, 0.5, 0.975] {
                assert!((beta_cdf(beta_quantile(p, a, b), a, b) - p).abs() < 1e-10);
            }
        }
        assert!(beta_quantile(0.5, 0.0, 1.0).is_nan() && beta_cdf(0.5, -1.0, 1.0).is_nan());
        // Student's t with one degree of freedom is Cauchy: tan(pi (p - 1/2)).
        assert!((t_quantile(0.9, 1.0) - (0.4 * std::f64::consts::PI).tan()).abs() < 1e-9);
        assert!((t_quantile(0.1, 1.0) + (0.4 * std::f64::consts::PI).tan()).abs() < 1e-9);
    }
}
