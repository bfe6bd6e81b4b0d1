//! Strike before refusal: cases of competing hazards whose probability is known exactly.
//!
//! A simulator of encounters must reproduce them. Rates are per second, times in seconds, lengths in metres.
//! The exponential and gamma cases are textbook results on competing risks (Cox & Oakes 1984, Analysis
//! of Survival Data, from memory); all are checked here against simulation or quadrature. Functions assume
//! rates and times of 0 or above and give NaN where the expression has no meaning.

use super::distributions::beta_cdf;
use crate::maths::quadrature::{gauss_legendre, integrate};
use crate::maths::special::normal_cdf;
use crate::maths::{exp, pow, sqrt};
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Regularised lower incomplete gamma function P(k, x), NaN outside k > 0, x >= 0.
pub fn lower_gamma(k: f64, x: f64) -> f64 {
    if x == 0.0 && k > 0.0 {
        return 0.0;
    }
    statrs::function::gamma::checked_gamma_lr(k, x).unwrap_or(f64::NAN)
}

/// Constant hazards, no time limit: strike before refusal with probability `s/(s+r)`.
///
/// ```
/// assert!((callup::statistics::hazards::strike_first(0.3, 0.45) - 0.4).abs() < 1e-15);
/// ```
pub fn strike_first(strike_per_s: f64, refuse_per_s: f64) -> f64 {
    strike_per_s / (strike_per_s + refuse_per_s)
}

/// The same within a time T: `s/(s+r) (1 - exp(-(s+r)T))`.
///
/// ```
/// let p = callup::statistics::hazards::strike_within(0.3, 0.45, 1.5);
/// assert!((p - 0.4 * (1.0 - (-1.125_f64).exp())).abs() < 1e-15);
/// ```
pub fn strike_within(strike_per_s: f64, refuse_per_s: f64, window_s: f64) -> f64 {
    strike_first(strike_per_s, refuse_per_s) * -libm::expm1(-(strike_per_s + refuse_per_s) * window_s)
}

/// The same within an exponential time of rate g: `s/(s+r+g)`.
pub fn strike_within_exponential(strike_per_s: f64, refuse_per_s: f64, end_per_s: f64) -> f64 {
    strike_per_s / (strike_per_s + refuse_per_s + end_per_s)
}

/// The same within a Gamma(k, rate b) time: `s/(s+r) (1 - (b/(b+s+r))^k)`.
pub fn strike_within_gamma(strike_per_s: f64, refuse_per_s: f64, k: f64, rate_per_s: f64) -> f64 {
    let both = strike_per_s + refuse_per_s;
    strike_first(strike_per_s, refuse_per_s) * (1.0 - pow(rate_per_s / (rate_per_s + both), k))
}

/// A Gamma(k, rate b) look, then a strike, against a constant hazard of refusal: `(b/(b+r))^k`.
pub fn look_before_refusal(k: f64, rate_per_s: f64, refuse_per_s: f64) -> f64 {
    pow(rate_per_s / (rate_per_s + refuse_per_s), k)
}

/// The same with the look to end within T: `(b/(b+r))^k P(k, (b+r)T)`.
pub fn look_before_refusal_within(k: f64, rate_per_s: f64, refuse_per_s: f64, window_s: f64) -> f64 {
    look_before_refusal(k, rate_per_s, refuse_per_s) * lower_gamma(k, (rate_per_s + refuse_per_s) * window_s)
}

/// A gamma time to strike before a gamma time to refuse: `I_x(k_s, k_r)` at `x = b_s/(b_s+b_r)`.
pub fn gamma_before_gamma((k_s, b_s): (f64, f64), (k_r, b_r): (f64, f64)) -> f64 {
    beta_cdf(b_s / (b_s + b_r), k_s, k_r)
}

/// Cumulated hazard of a straight pass with hazard `s0 exp(-d^2/2w^2)`: `s0 exp(-h^2/2w^2) sqrt(2 pi) w/v`.
pub fn pass_hazard(peak_per_s: f64, width_m: f64, closest_m: f64, speed_m_s: f64) -> f64 {
    let u = closest_m / width_m;
    peak_per_s * exp(-0.5 * u * u) * sqrt(2.0 * PI) * width_m / speed_m_s
}

/// Probability of an event during such a pass: `1 - exp(-H)`.
pub fn event_in_pass(hazard: f64) -> f64 {
    -libm::expm1(-hazard)
}

/// Strike before refusal where the refusal hazard is c times the strike hazard all along, cumulated strike
/// hazard H: `(1 - exp(-(1+c)H))/(1+c)`.
pub fn strike_with_proportional_refusal(hazard: f64, c: f64) -> f64 {
    event_in_pass((1.0 + c) * hazard) / (1.0 + c)
}

/// A pass from -X to X past a fish with hazard `s0 exp(-d^2/2w^2)` and a constant refusal hazard r, which runs
/// from the start: `int lambda(t) exp(-Lambda(t) - r t) dt` with Lambda by the error function.
///
/// By quadrature, absolute error below 1e-12 for X up to about 20 w.
pub fn strike_in_pass_with_refusal(
    peak_per_s: f64,
    width_m: f64,
    closest_m: f64,
    speed_m_s: f64,
    refuse_per_s: f64,
    half_length_m: f64,
) -> f64 {
    let (w, v) = (width_m, speed_m_s);
    let whole = pass_hazard(peak_per_s, w, closest_m, v);
    let u = closest_m / w;
    let so_far = |x: f64| {
        0.5 * whole * (libm::erf(x / w * FRAC_1_SQRT_2) - libm::erf(-half_length_m / w * FRAC_1_SQRT_2))
    };
    let rate = |x: f64| {
        let lambda = peak_per_s * exp(-0.5 * (u * u + x * x / (w * w)));
        lambda * exp(-so_far(x) - refuse_per_s * (x + half_length_m) / v) / v
    };
    let rule = gauss_legendre(20);
    let panels = 80;
    let step = 2.0 * half_length_m / f64::from(panels);
    let from = |i: i32| -half_length_m + step * f64::from(i);
    (0..panels).map(|i| integrate(&rule, from(i), from(i + 1), rate)).sum()
}

/// A strike hazard a t that grows with time against a constant refusal hazard r:
/// `1 - q sqrt(2 pi) exp(q^2/2) Phi(-q)`, `q = r/sqrt(a)`.
pub fn strike_with_growing_hazard(growth_per_s2: f64, refuse_per_s: f64) -> f64 {
    let q = refuse_per_s / sqrt(growth_per_s2);
    if q > 25.0 {
        // Mills' ratio far out: 1 - q (1/q - 1/q^3 + 3/q^5 - 15/q^7).
        let q2 = q * q;
        return (1.0 - (3.0 - 15.0 / q2) / q2) / q2;
    }
    1.0 - q * sqrt(2.0 * PI) * exp(0.5 * q * q) * normal_cdf(-q)
}

/// Noticed with probability D, then constant hazards within T.
pub fn noticed_then_strike_within(noticed: f64, strike_per_s: f64, refuse_per_s: f64, window_s: f64) -> f64 {
    noticed * strike_within(strike_per_s, refuse_per_s, window_s)
}

/// Gambler's ruin: n reached before 0 from i with up-probability p: `(1-rho^i)/(1-rho^n)`, `rho = (1-p)/p`.
pub fn reaches_top_first(up: f64, i: f64, n: f64) -> f64 {
    let rho = (1.0 - up) / up;
    if (rho - 1.0).abs() < 1e-12 { i / n } else { (1.0 - pow(rho, i)) / (1.0 - pow(rho, n)) }
}

/// The same for Brownian motion with drift mu and variance sigma^2 from a between 0 and b:
/// `(1 - exp(-2 mu a/sigma^2))/(1 - exp(-2 mu b/sigma^2))`.
pub fn drifts_to_top_first(drift: f64, sigma: f64, a: f64, b: f64) -> f64 {
    let rate = 2.0 * drift / (sigma * sigma);
    if rate.abs() < 1e-12 { a / b } else { libm::expm1(-rate * a) / libm::expm1(-rate * b) }
}

/// Hazard that differs from fish to fish as Gamma(k, scale theta): strike within T is `1 - (1+theta T)^-k`,
/// less than the fish of mean hazard would give.
pub fn strike_within_over_fish(k: f64, theta_per_s: f64, window_s: f64) -> f64 {
    1.0 - pow(1.0 + theta_per_s * window_s, -k)
}

/// The mean fish in place of all fish: `1 - exp(-k theta T)`.
pub fn strike_within_by_mean_fish(k: f64, theta_per_s: f64, window_s: f64) -> f64 {
    event_in_pass(k * theta_per_s * window_s)
}

/// At least one strike in m casts to a fish that sours by the factor q a cast: `1 - prod_{j<m} (1 - p q^j)`.
pub fn strike_in_souring_casts(p: f64, q: f64, casts: u32) -> f64 {
    let (mut none, mut now) = (1.0, p);
    for _ in 0..casts {
        none *= 1.0 - now;
        now *= q;
    }
    1.0 - none
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rounding of a few operations.
    const ROUNDING: f64 = 1e-12;

    #[test]
    fn cases_meet_where_one_is_the_limit_of_the_other() {
        // A gamma window of shape 1 is exponential.
        let gamma = strike_within_gamma(0.3, 0.45, 1.0, 0.6);
        assert!((gamma - strike_within_exponential(0.3, 0.45, 0.6)).abs() < ROUNDING);
        // A gamma of shape 1 against another is constant against constant.
        let both = gamma_before_gamma((1.0, 0.3), (1.0, 0.45));
        assert!((both - strike_first(0.3, 0.45)).abs() < ROUNDING);
        // Without refusal, a pass long beside the width has the whole hazard.
        let pass = strike_in_pass_with_refusal(1.2, 1.5, 2.0, 0.8, 0.0, 30.0);
        assert!((pass - event_in_pass(pass_hazard(1.2, 1.5, 2.0, 0.8))).abs() < ROUNDING);
        // A look with all the time it needs; a souring factor of 1; a fair game.
        let look = look_before_refusal_within(2.5, 4.0, 0.45, 100.0);
        assert!((look - look_before_refusal(2.5, 4.0, 0.45)).abs() < ROUNDING);
        assert!((strike_in_souring_casts(0.1, 1.0, 5) - (1.0 - 0.9_f64.powi(5))).abs() < ROUNDING);
        assert!((reaches_top_first(0.5, 4.0, 10.0) - 0.4).abs() < ROUNDING);
        assert!((drifts_to_top_first(0.0, 1.0, 4.0, 10.0) - 0.4).abs() < ROUNDING);
    }

    #[test]
    fn the_growing_hazard_is_smooth_across_its_two_forms() {
        let at = |q: f64| strike_with_growing_hazard(1.0, q);
        assert!((at(24.999_9) / at(25.000_1) - 1.0).abs() < 1e-4);
        assert!(lower_gamma(-1.0, 1.0).is_nan() && lower_gamma(2.0, 0.0) == 0.0);
    }

    #[test]
    fn different_fish_strike_less_than_the_mean_fish() {
        for t in [0.1, 1.0, 10.0] {
            assert!(strike_within_over_fish(0.5, 0.4, t) < strike_within_by_mean_fish(0.5, 0.4, t));
        }
    }
}
