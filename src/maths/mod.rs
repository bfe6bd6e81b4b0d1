//! Numerical tools that know nothing of fish: f64 in, f64 out.
//!
//! Every transcendental function of the simulator goes through this module (or [`fast`]), so that the
//! program and the web page give the same bits: the standard library's functions differ between
//! platforms, those of the `libm` crate do not.

pub mod fast;
pub mod interpolate;
pub mod quadrature;
pub mod roots;
pub mod special;

pub use libm::{acos, asin, atan, atan2, cos, cosh, exp, log as ln, log1p as ln_1p, log10, sin, tan};

/// `x` to the power `y`, the same bits on every platform.
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// Square root (correctly rounded by IEEE 754, so the same everywhere).
pub fn sqrt(x: f64) -> f64 {
    x.sqrt()
}

/// Length of the hypotenuse of a right triangle with legs `x` and `y`.
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}

/// The logistic curve 1 / (1 + exp(-x)).
pub fn logistic(x: f64) -> f64 {
    if x >= 0.0 {
        1.0 / (1.0 + exp(-x))
    } else {
        let e = exp(x);
        e / (1.0 + e)
    }
}

/// The inverse of [`logistic`]: ln(p / (1 - p)) for 0 < p < 1.
pub fn logit(p: f64) -> f64 {
    ln(p / (1.0 - p))
}
