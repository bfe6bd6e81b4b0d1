//! Branch-free versions of a few functions, for the blocks that the compiler turns into vector code.
//!
//! Plain arithmetic without fused multiply-add: the same bits on every platform and at every vector
//! width. Relative errors are stated and tested against the `libm` crate.

use super::interpolate::SmoothTable;
use super::{quadrature, special};
use std::sync::LazyLock;

const LOG2_E: f64 = std::f64::consts::LOG2_E;
/// ln 2 in two pieces (Cody & Waite), so that `x - n ln 2` loses nothing.
const LN2_HI: f64 = 6.931_471_803_691_238e-1;
const LN2_LO: f64 = 1.908_214_929_270_587_7e-10;
/// 1.5 * 2^52: adding it rounds to an integer that can be read from the low bits.
const ROUND: f64 = 6_755_399_441_055_744.0;

/// exp(x), relative error below 4e-16; arguments are held to -700..700.
#[inline(always)]
pub fn exp(x: f64) -> f64 {
    let x = x.clamp(-700.0, 700.0);
    let shifted = x * LOG2_E + ROUND;
    let n = shifted - ROUND;
    let r = (x - n * LN2_HI) - n * LN2_LO;
    // Taylor series; |r| <= 0.347, the first term left out is below 2e-16.
    let p = 1.0 / 479_001_600.0;
    let p = p * r + 1.0 / 39_916_800.0;
    let p = p * r + 1.0 / 3_628_800.0;
    let p = p * r + 1.0 / 362_880.0;
    let p = p * r + 1.0 / 40_320.0;
    let p = p * r + 1.0 / 5_040.0;
    let p = p * r + 1.0 / 720.0;
    let p = p * r + 1.0 / 120.0;
    let p = p * r + 1.0 / 24.0;
    let p = p * r + 1.0 / 6.0;
    let p = p * r + 0.5;
    let p = p * (r * r) + r;
    let scale = f64::from_bits(shifted.to_bits().wrapping_add(1023) << 52);
    p * scale + scale
}

/// Natural logarithm, absolute error below 3e-16 times max(1, |ln x|); arguments below 1e-300 count as 1e-300.
#[inline(always)]
pub fn ln(x: f64) -> f64 {
    /// Distance in bits between 1 and the square root of a half, the lower edge of the mantissa range.
    const EDGE: u64 = 0x3ff0_0000_0000_0000 - 0x3fe6_a09e_667f_3bcd;
    const TWO_52: f64 = 4_503_599_627_370_496.0;
    let bits = x.max(1e-300).to_bits();
    let biased = bits.wrapping_add(EDGE) >> 52;
    let e = f64::from_bits(biased | TWO_52.to_bits()) - (TWO_52 + 1023.0);
    let m = f64::from_bits(bits.wrapping_sub(biased.wrapping_sub(1023) << 52));
    let s = (m - 1.0) / (m + 1.0);
    let z = s * s;
    // 2 atanh(s) = 2 s (1 + z/3 + z^2/5 + ...), z <= 0.0295.
    let p = 1.0 / 21.0;
    let p = p * z + 1.0 / 19.0;
    let p = p * z + 1.0 / 17.0;
    let p = p * z + 1.0 / 15.0;
    let p = p * z + 1.0 / 13.0;
    let p = p * z + 1.0 / 11.0;
    let p = p * z + 1.0 / 9.0;
    let p = p * z + 1.0 / 7.0;
    let p = p * z + 1.0 / 5.0;
    let p = p * z + 1.0 / 3.0;
    let tail = (p * z) * (2.0 * s) + e * LN2_LO;
    (2.0 * s + tail) + e * LN2_HI
}

/// The Wright omega function of a real argument: the w > 0 with `w + ln w = q`, that is W0(exp(q)).
///
/// Start by Iacono & Boyd (2017, Adv. Comput. Math. 43:1403, from memory), then two steps of the
/// quartic iteration of Fritsch, Shafer & Crowley (1973, Commun. ACM 16:123, from memory); the
/// relative error, tested against the defining equation, is below 1e-14 for -300 <= q <= 600.
#[inline(always)]
pub fn omega(q: f64) -> f64 {
    let x = exp(q);
    let s = ln(1.0 + x);
    // Where exp(q) vanishes beside 1 the start is the limit itself.
    let s = if q < -30.0 { x } else { s };
    let guess = s * (1.0 - ln(1.0 + s) / (2.0 + s));
    step(step(guess, q), q)
}

#[inline(always)]
fn step(w: f64, q: f64) -> f64 {
    let r = (q - w) - ln(w);
    let a = 1.0 + w;
    let b = a * (a + r * (2.0 / 3.0));
    w * (1.0 + (r / a) * ((b - 0.5 * r) / (b - r)))
}

/// Tables of two smooth functions, for loops that look up more cheaply than they compute.
#[derive(Debug)]
pub struct Tables {
    omega: SmoothTable,
    normal_cdf: SmoothTable,
    within: SmoothTable,
}

/// Steps per unit of x: the interpolation error is then below 3e-9 of the value for omega, 2e-9 for the
/// distribution function.
const PER_UNIT: usize = 32;
const OMEGA_RANGE: (f64, f64) = (-26.0, 18.0);
const CDF_RANGE: (f64, f64) = (-8.0, 8.0);
/// Steps per unit and range of the share within: the error is then below 2e-11.
const WITHIN_PER_UNIT: usize = 128;
const WITHIN_RANGE: (f64, f64) = (0.0, 8.0);

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    let table = |(from, to): (f64, f64), per_unit: usize, f: &dyn Fn(f64) -> [f64; 2]| {
        let steps = (to - from) as usize * per_unit;
        let at = |i: usize| from + i as f64 / per_unit as f64;
        SmoothTable::from_knots(from, to, (0..=steps).map(|i| f(at(i))).collect())
    };
    Tables {
        omega: table(OMEGA_RANGE, PER_UNIT, &|q| {
            let w = omega(q);
            [w, w / (1.0 + w)]
        }),
        normal_cdf: table(CDF_RANGE, PER_UNIT, &|x| [special::normal_cdf(x), quadrature::normal_density(x)]),
        within: table(WITHIN_RANGE, WITHIN_PER_UNIT, &|x| {
            [libm::erf(x * std::f64::consts::FRAC_1_SQRT_2), 2.0 * quadrature::normal_density(x)]
        }),
    }
});

/// The tables, built once.
pub fn tables() -> &'static Tables {
    &TABLES
}

impl Tables {
    /// [`omega`] for -26 <= q <= 18 within 3e-9 of its value; the end value beyond, where a range of sight is below
    /// a nanometre or beyond any lake.
    #[inline(always)]
    pub fn omega(&self, q: f64) -> f64 {
        self.omega.at(q)
    }

    /// Standard normal distribution function within 2e-9.
    #[inline(always)]
    pub fn normal_cdf(&self, x: f64) -> f64 {
        self.normal_cdf.at(x)
    }

    /// Share of a normal distribution within `x` standard deviations of its middle, `erf(x / sqrt 2)`, for x >= 0
    /// within 2e-11; exactly 0 at 0.
    #[inline(always)]
    pub fn within(&self, x: f64) -> f64 {
        self.within.at(x)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two roundings of the last place.
    const ROUNDING: f64 = 5e-16;

    #[test]
    fn exp_and_ln_agree_with_libm() {
        for i in -20_000..20_000 {
            let x = f64::from(i) * 0.0303;
            let reference = libm::exp(x);
            assert!((exp(x) / reference - 1.0).abs() < ROUNDING, "exp({x})");
            assert!(
                (ln(reference) - libm::log(reference)).abs() < ROUNDING * x.abs().max(1.0),
                "ln of exp({x})"
            );
        }
        assert_eq!(ln(1.0), 0.0);
        assert_eq!(exp(0.0), 1.0);
    }

    #[test]
    fn omega_solves_its_equation() {
        for i in -3_000..6_000 {
            let q = f64::from(i) * 0.1;
            let w = omega(q);
            let residual = if q < 0.0 { libm::log(w) + w - q } else { (w + libm::log(w) - q) / w };
            assert!(residual.abs() < 1e-13, "omega({q}) = {w}, residual {residual}");
        }
        // The omega constant, W0(1): Corless et al. (1996), Adv. Comput. Math. 5:329 (value from memory).
        assert!((omega(0.0) - 0.567_143_290_409_783_8).abs() < 1e-15);
    }

    #[test]
    fn tables_agree_with_what_they_tabulate() {
        for i in -2_600..1_800 {
            let q = f64::from(i) * 0.01 + 0.003;
            assert!((tables().omega(q) / omega(q) - 1.0).abs() < 3e-9, "omega({q})");
        }
        for i in -700..700 {
            let x = f64::from(i) * 0.0113;
            assert!((tables().normal_cdf(x) - special::normal_cdf(x)).abs() < 2e-9, "normal_cdf({x})");
        }
        assert_eq!(tables().within(0.0), 0.0);
        for i in 0..2_000 {
            let x = f64::from(i) * 0.00437;
            let exact = 1.0 - 2.0 * special::normal_cdf(-x);
            assert!((tables().within(x) - exact).abs() < 2e-11, "within({x})");
        }
    }
}
