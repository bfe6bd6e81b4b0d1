//! Roots of a function of one variable.

/// The root of `f` between `a` and `b`, where f changes sign, to within `tolerance` in x (bisection with
/// regula falsi steps, Illinois variant). `None` where f does not change sign or is not finite.
pub fn bracketed(a: f64, b: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut a, mut b) = (a, b);
    let (mut fa, mut fb) = (f(a), f(b));
    if !(fa.is_finite() && fb.is_finite()) || fa * fb > 0.0 {
        return None;
    }
    let mut side = 0;
    for i in 0..200 {
        if (b - a).abs() <= tolerance || fa == 0.0 || fb == 0.0 {
            break;
        }
        let m = if i % 4 == 3 { 0.5 * (a + b) } else { (a * fb - b * fa) / (fb - fa) };
        let fm = f(m);
        if !fm.is_finite() {
            return None;
        }
        if fa * fm <= 0.0 {
            (b, fb) = (m, fm);
            if side == -1 {
                fa *= 0.5;
            }
            side = -1;
        } else {
            (a, fa) = (m, fm);
            if side == 1 {
                fb *= 0.5;
            }
            side = 1;
        }
    }
    Some(if fa.abs() < fb.abs() { a } else { b })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_root_of_two_and_refuses_without_a_sign_change() {
        let r = bracketed(0.0, 2.0, 1e-12, |x| x * x - 2.0).expect("sign change");
        assert!((r - std::f64::consts::SQRT_2).abs() < 1e-10);
        assert_eq!(bracketed(0.0, 1.0, 1e-12, |x| x * x + 1.0), None);
    }
}
