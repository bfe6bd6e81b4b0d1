//! The engine's own formulas against strike-before-refusal probabilities that are known exactly.

use crate::reference::{Row, number, table};
use callup::fish::{inspection::unrefused, noticing};
use callup::maths::quadrature::{gauss_legendre, integrate};
use callup::world::clear_view::ClearView;

/// The table prints 14 digits; the Gauss-Legendre quadrature over panels is better than the tables it reads
/// (cubic interpolation of the length of clear view, exact for clear water but for rounding).
const QUADRATURE: f64 = 1e-9;
/// Standard errors between a simulated and an exact probability: 5 cases, false alarm 3e-4.
const SIGMAS: f64 = 4.0;

fn case(name: &str) -> Row {
    table("competing_hazards").into_iter().find(|r| r["case"] == name).expect("case")
}

/// Integral from 0 to `to` in 400 panels.
fn integral(to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let rule = gauss_legendre(12);
    let step = to / 400.0;
    (0..400).map(|i| integrate(&rule, step * f64::from(i), step * f64::from(i + 1), &f)).sum()
}

/// Chance of not having refused during `t` seconds, as the engine finds it: a hazard over the length of clear view
/// of a trip at 0.7 m/s in water without attenuation, with detail to be seen from any distance.
struct Trip {
    view: ClearView,
    refuse_per_s: f64,
}

const NEAR_POINT_M: f64 = 0.135;
const SPEED_M_S: f64 = 0.7;

impl Trip {
    fn new(refuse_per_s: f64, longest_s: f64) -> Self {
        let far_m = NEAR_POINT_M + SPEED_M_S * longest_s;
        Self { view: ClearView::new(NEAR_POINT_M, far_m, 0.0, 1e9), refuse_per_s }
    }

    fn unrefused(&self, t_s: f64) -> f64 {
        let view_m = self.view.at(NEAR_POINT_M + SPEED_M_S * t_s);
        unrefused(self.refuse_per_s * view_m, 1.0 / SPEED_M_S)
    }
}

#[track_caller]
fn agrees(row: &Row, got: f64) {
    let exact = number(row, "exact");
    assert!((got - exact).abs() < QUADRATURE, "{}: {got}, exact {exact}", row["case"]);
    let (n, p) = (number(row, "mc_n"), number(row, "mc_p"));
    let sigma = (exact * (1.0 - exact) / n).sqrt();
    assert!((got - p).abs() < SIGMAS * sigma, "{}: {got}, simulated {p}", row["case"]);
}

#[test]
fn clear_water_gives_the_whole_trip_as_clear_view() {
    let trip = Trip::new(0.45, 60.0);
    for t in [0.1, 1.0, 7.0, 33.0, 59.0] {
        assert!((trip.unrefused(t) - (-0.45 * t).exp()).abs() < QUADRATURE, "{t} s");
    }
}

#[test]
fn a_constant_strike_hazard_against_a_constant_refusal() {
    let row = case("const_inf");
    let (s, r) = (number(&row, "s"), number(&row, "r"));
    let trip = Trip::new(r, 60.0);
    agrees(&row, integral(60.0, |t| s * (-s * t).exp() * trip.unrefused(t)));
    let row = case("const_exp_window");
    let g = number(&row, "g");
    agrees(&row, integral(60.0, |t| s * (-(s + g) * t).exp() * trip.unrefused(t)));
}

/// A trip of Gamma(k, rate b) seconds: `(b/(b+r))^k`.
#[test]
fn a_trip_of_random_length_against_a_constant_refusal() {
    let row = case("gamma_look_vs_refuse");
    let (k, b, r) = (number(&row, "k"), number(&row, "b"), number(&row, "r"));
    let trip = Trip::new(r, 16.0);
    let norm = b.powf(k) / libm::tgamma(k);
    // t = x^2 takes the root out of the density.
    let density = |x: f64| 2.0 * norm * x.powf(2.0 * k - 1.0) * (-b * x * x).exp();
    agrees(&row, integral(4.0, |x| density(x) * trip.unrefused(x * x)));
}

#[test]
fn a_growing_strike_hazard_against_a_constant_refusal() {
    let row = case("linear_hazard_const_refuse");
    let (a, r) = (number(&row, "a"), number(&row, "r"));
    let trip = Trip::new(r, 12.0);
    agrees(&row, integral(12.0, |t| a * t * (-0.5 * a * t * t).exp() * trip.unrefused(t)));
}

/// Noticing over a straight pass, each moment's refusal c times its strike hazard: `(1-exp(-(1+c)H))/(1+c)`.
#[test]
fn a_passing_bait_with_refusal_in_proportion() {
    let row = case("gauss_pass_prop_refuse");
    let [s0, w, h, v, c] = ["s0", "w", "h", "v", "c"].map(|column| number(&row, column));
    let hazard = noticing::pass_hazard(s0, w, f64::INFINITY, h, v);
    agrees(&row, noticing::noticed(1.0 / (1.0 + c), (1.0 + c) * hazard));
    // The hazard itself is the integral over time of the Gaussian.
    let over_time = integral(40.0, |t| {
        let x = v * (t - 20.0);
        s0 * (-(h * h + x * x) / (2.0 * w * w)).exp()
    });
    assert!((hazard - over_time).abs() < QUADRATURE, "{hazard} {over_time}");
}

/// Fish that differ in wariness (gamma) refuse less than their mean would: chances are averaged, never hazards.
#[test]
fn fish_that_differ_are_averaged_over_their_chances() {
    let row = case("gamma_frailty");
    let (k, theta, time) = (number(&row, "k"), number(&row, "theta"), number(&row, "T"));
    assert_eq!(k, 0.5);
    // rate = theta x^2 turns Gamma(1/2) into half a normal curve.
    let half_normal = |x: f64| 2.0 / std::f64::consts::PI.sqrt() * (-x * x).exp();
    agrees(&row, integral(8.0, |x| half_normal(x) * (1.0 - unrefused(theta * x * x, time))));
    assert!(1.0 - unrefused(k * theta, time) > number(&row, "exact") + 0.02);
}
