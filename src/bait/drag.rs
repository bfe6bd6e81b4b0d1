//! Drag of a cylinder across the flow (the line) and normal force of a plate (the lip).

use crate::maths::{cos, fast, sin};
use std::sync::LazyLock;

/// How the cross-flow drag coefficient of the line is found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CylinderDrag {
    /// The same coefficient at every Reynolds number (closed forms, comparisons).
    Constant(f64),
    /// [`sucker_brauer`] times a multiplier (1 for a smooth, still line; more where it strums).
    Reynolds {
        /// Factor on the coefficient.
        multiplier: f64,
    },
}

impl CylinderDrag {
    /// Drag coefficient at Reynolds number `re` (normal speed x diameter / kinematic viscosity).
    #[inline(always)]
    pub fn coefficient(&self, re: f64) -> f64 {
        match *self {
            Self::Constant(cd) => cd,
            Self::Reynolds { multiplier } => multiplier * tabulated(re),
        }
    }
}

/// Smallest Reynolds number of the Sucker & Brauer fit; below it the coefficient is held.
const SMALLEST_RE: f64 = 1e-4;

/// Drag coefficient of a smooth circular cylinder across the flow.
///
/// `Cd = 1.18 + 6.8 / Re^0.89 + 1.96 / sqrt(Re) - 4e-4 Re / (1 + 3.64e-7 Re^2)`, dimensionless, for
/// 1e-4 < Re < 2e5 (held below; meaningless above, where the boundary layer turns turbulent).
///
/// Sucker & Brauer (1975), Waerme- und Stoffuebertragung 8:149-158 (citation from memory; the formula
/// is the one in use in public engineering codes).
///
/// ```
/// // Measured cylinders have Cd between 1.3 and 1.5 at Re = 100 (textbook value, from memory).
/// let cd = callup::bait::drag::sucker_brauer(100.0);
/// assert!((1.3..1.5).contains(&cd));
/// ```
#[inline(always)]
pub fn sucker_brauer(re: f64) -> f64 {
    let re = re.max(SMALLEST_RE);
    let re_to_the_089 = fast::exp(0.89 * fast::ln(re));
    1.18 + 6.8 / re_to_the_089 + 1.96 / re.sqrt() - 4e-4 * re / (1.0 + 3.64e-7 * re * re)
}

/// Knots of the table in each doubling of the Reynolds number, as a power of two.
const KNOT_BITS: u32 = 6;
/// The table reaches from 2^-10 to 2^18: all of line fishing, and the whole range of the fit upward.
const LOWEST_OCTAVE: i32 = -10;
const OCTAVES: usize = 28;
const MANTISSA_BITS: u32 = 52;
const EXPONENT_BIAS: i32 = 1023;
/// The first knot, as the top bits of its floating-point form.
const FIRST_KNOT: u64 = ((LOWEST_OCTAVE + EXPONENT_BIAS) as u64) << KNOT_BITS;

static TABLE: LazyLock<Vec<f64>> = LazyLock::new(|| {
    (0..=(OCTAVES << KNOT_BITS) as u64)
        .map(|i| sucker_brauer(f64::from_bits((FIRST_KNOT + i) << (MANTISSA_BITS - KNOT_BITS))))
        .collect()
});

/// [`sucker_brauer`] from a table with 64 straight pieces to each doubling of Re, within 6e-5 of it.
///
/// A retrieve asks for some thousands of coefficients; this makes it twice as fast. Exponent and leading
/// digits of the floating-point number are the place in the table.
#[inline(always)]
fn tabulated(re: f64) -> f64 {
    let bits = re.to_bits();
    let place = (bits >> (MANTISSA_BITS - KNOT_BITS)).wrapping_sub(FIRST_KNOT) as usize;
    match TABLE.get(place..place.saturating_add(2)) {
        Some(&[a, b]) => {
            let below = 1u64 << (MANTISSA_BITS - KNOT_BITS);
            let share = (bits & (below - 1)) as f64 / below as f64;
            a + share * (b - a)
        }
        _ => sucker_brauer(re),
    }
}

/// Incidence at which the flow over a square plate breaks away, degrees.
const PLATE_STALL_DEG: f64 = 40.0;
/// Incidence from which the plate acts as a bluff body, degrees.
const PLATE_BLUFF_DEG: f64 = 50.0;
/// Normal-force coefficient of a square plate square to the flow.
const PLATE_BLUFF: f64 = 1.17;

/// Normal-force coefficient of a flat plate about as wide as long (a lip) at incidence `incidence_deg`.
///
/// `CN = 1.46 sin a cos a + 1.7 sin^2 a` up to 40 degrees (potential flow plus side-edge vortices, after
/// Polhamus), straight down to 1.17 at 50 degrees, 1.17 up to 90. Lift coefficient CN cos a, drag
/// coefficient CN sin a. Good to about 15 %; incidence is held to 0-90 degrees.
///
/// Fitted to square-plate data as collected in Hoerner (1965), Fluid-Dynamic Drag (from memory).
///
/// ```
/// // A square plate square to the flow: 1.17 (Hoerner, from memory).
/// assert_eq!(callup::bait::drag::plate_normal_force(90.0), 1.17);
/// ```
pub fn plate_normal_force(incidence_deg: f64) -> f64 {
    let attached = |deg: f64| {
        let a = deg.to_radians();
        1.46 * sin(a) * cos(a) + 1.7 * sin(a) * sin(a)
    };
    let deg = incidence_deg.clamp(0.0, 90.0);
    if deg <= PLATE_STALL_DEG {
        attached(deg)
    } else if deg < PLATE_BLUFF_DEG {
        let share = (deg - PLATE_STALL_DEG) / (PLATE_BLUFF_DEG - PLATE_STALL_DEG);
        attached(PLATE_STALL_DEG) * (1.0 - share) + PLATE_BLUFF * share
    } else {
        PLATE_BLUFF
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_follows_the_formula() {
        let mut re = 1e-5;
        while re < 1e6 {
            let (got, exact) = (tabulated(re), sucker_brauer(re));
            assert!((got / exact - 1.0).abs() < 6e-5, "at {re}: {got}, formula {exact}");
            re *= 1.003;
        }
        for strange in [0.0, -1.0, f64::MIN_POSITIVE, f64::INFINITY] {
            assert!(!tabulated(strange).is_nan() || strange.is_infinite(), "at {strange}");
        }
        // Knots are exact.
        assert_eq!(tabulated(64.0), sucker_brauer(64.0));
    }
}
