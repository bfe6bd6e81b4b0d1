//! The distributions behind the intervals and tests.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// Quantile of Student's t with `df` > 0 degrees of freedom; NaN for other arguments.
///
/// ```
/// use callup::statistics::distributions::t_quantile;
/// // Two-sided 95 % with 15 degrees of freedom: 2.131 (any printed t table).
/// assert!((t_quantile(0.975, 15.0) - 2.131).abs() < 5e-4);
/// ```
pub fn t_quantile(p: f64, df: f64) -> f64 {
    match StudentsT::new(0.0, 1.0, df) {
        Ok(t) if (0.0..=1.0).contains(&p) => t.inverse_cdf(p),
        _ => f64::NAN,
    }
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
    use statrs::function::beta::beta_reg;

    #[test]
    fn binomial_tails_agree_with_the_beta_function() {
        // P(Bin(n, p) >= k) = I_p(k, n - k + 1).
        for (n, k, p) in [(10, 3, 0.2), (200, 14, 0.05), (1400, 120, 0.09)] {
            let tail: f64 = binomial_masses(n, p)[k..].iter().sum();
            assert!((tail - beta_reg(k as f64, (n - k + 1) as f64, p)).abs() < 1e-11, "{n} {k} {p}");
        }
    }

    #[test]
    fn one_degree_of_freedom_is_cauchy_and_bad_arguments_give_nan() {
        // tan(pi (p - 1/2)).
        assert!((t_quantile(0.9, 1.0) - (0.4 * std::f64::consts::PI).tan()).abs() < 1e-9);
        assert!((t_quantile(0.1, 1.0) + (0.4 * std::f64::consts::PI).tan()).abs() < 1e-9);
        assert!(
            t_quantile(1.5, 3.0).is_nan()
                && t_quantile(f64::NAN, 3.0).is_nan()
                && t_quantile(0.5, 0.0).is_nan()
        );
    }
}
