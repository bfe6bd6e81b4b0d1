//! Fixed quadrature rules: Gauss-Legendre for the refusal integral, Gauss-Hermite for the roll of a twitch.
//!
//! Nodes and weights are computed by Newton's method on the orthogonal polynomials, so no table is typed in.

use super::{cos, exp, pow, sqrt};
use std::f64::consts::PI;

/// Nodes and weights of an n-point Gauss-Legendre rule on -1..1 (exact for polynomials of degree 2n - 1).
pub fn gauss_legendre(n: usize) -> Vec<(f64, f64)> {
    let nf = n as f64;
    (0..n)
        .map(|i| {
            let mut x = cos(PI * (nf - i as f64 - 0.25) / (nf + 0.5));
            let mut slope = 1.0;
            for _ in 0..100 {
                let (mut p0, mut p1) = (1.0, x);
                for k in 2..=n {
                    let k = k as f64;
                    (p0, p1) = (p1, ((2.0 * k - 1.0) * x * p1 - (k - 1.0) * p0) / k);
                }
                if n == 0 {
                    break;
                }
                slope = nf * (x * p1 - p0) / (x * x - 1.0);
                let dx = p1 / slope;
                x -= dx;
                if dx.abs() < 1e-16 {
                    break;
                }
            }
            (x, 2.0 / ((1.0 - x * x) * slope * slope))
        })
        .collect()
}

/// Integral of `f` from `a` to `b` by the given Gauss-Legendre rule.
pub fn integrate(rule: &[(f64, f64)], a: f64, b: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    rule.iter().map(|&(x, w)| w * f(mid + half * x)).sum::<f64>() * half
}

/// Nodes and weights such that sum(w f(x)) is the mean of f over a standard normal variable.
///
/// `n` points, n from 1 to 20; exact for polynomials of degree 2n - 1.
pub fn gauss_hermite_normal(n: usize) -> Vec<(f64, f64)> {
    // Roots of the probabilists' Hermite polynomials by bisection between sign changes: few, computed once.
    let he = |x: f64| {
        let (mut p0, mut p1) = (1.0, x);
        for k in 1..n {
            (p0, p1) = (p1, x * p1 - k as f64 * p0);
        }
        (if n == 0 { 1.0 } else { p1 }, p0)
    };
    let reach = 2.0 * sqrt(n as f64) + 1.0;
    let steps = 4_000;
    let mut nodes = Vec::with_capacity(n);
    let mut left = -reach;
    for i in 1..=steps {
        let right = -reach + 2.0 * reach * (i as f64 + 0.381_966) / steps as f64;
        if he(left).0 * he(right).0 < 0.0 {
            let (mut a, mut b) = (left, right);
            for _ in 0..200 {
                let m = 0.5 * (a + b);
                if he(a).0 * he(m).0 <= 0.0 { b = m } else { a = m }
            }
            nodes.push(0.5 * (a + b));
        }
        left = right;
    }
    let factorial: f64 = (1..n.max(1)).map(|k| k as f64).product();
    nodes
        .into_iter()
        .map(|x| {
            let previous = he(x).1;
            (x, factorial / (n as f64 * previous * previous))
        })
        .collect()
}

/// Density of the standard normal distribution.
pub fn normal_density(x: f64) -> f64 {
    exp(-0.5 * x * x) / pow(2.0 * PI, 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn legendre_is_exact_for_its_degree() {
        let rule = gauss_legendre(5);
        assert_eq!(rule.len(), 5);
        for degree in 0..10 {
            let exact = (1.0 - pow(-1.0, f64::from(degree) + 1.0)) / f64::from(degree + 1);
            let got = integrate(&rule, -1.0, 1.0, |x| pow(x, f64::from(degree)));
            assert!((got - exact).abs() < 1e-14, "degree {degree}: {got} not {exact}");
        }
    }

    #[test]
    fn hermite_gives_normal_moments() {
        let rule = gauss_hermite_normal(7);
        assert_eq!(rule.len(), 7);
        // Moments of the standard normal: 1, 0, 1, 0, 3, 0, 15, 0, 105.
        for (k, exact) in [1.0, 0.0, 1.0, 0.0, 3.0, 0.0, 15.0, 0.0, 105.0].into_iter().enumerate() {
            let got: f64 = rule.iter().map(|&(x, w)| w * pow(x, k as f64)).sum();
            assert!((got - exact).abs() < 1e-10, "moment {k}: {got}");
        }
    }
}
