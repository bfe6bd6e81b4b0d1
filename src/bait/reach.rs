//! What to change so that the bait runs at a wanted depth: thinner line, longer cast, lower rod tip.

use super::body::Pull;
use super::line::Line;
use super::path::{Detail, Path, Retrieve};
use super::refusal::{Refusal, within};
use crate::maths::roots;

/// The one thing that is changed, everything else staying as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Change {
    /// Line diameter, m (same material).
    Diameter,
    /// Line out at the start, m.
    Cast,
    /// Height of the rod tip, m.
    RodTip,
}

/// Whether a change reaches the wanted depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reach {
    /// Yes, at this value (m).
    At(f64),
    /// No: even the most favourable value of the range stays shallower.
    TooDeepForIt {
        /// The greatest depth within the range, m.
        deepest_m: f64,
    },
    /// No: even the least favourable value of the range runs deeper.
    TooShallowForIt {
        /// The smallest greatest-depth within the range, m.
        shallowest_m: f64,
    },
}

impl serde::Serialize for Reach {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let (at, other) = match *self {
            Reach::At(value) => (Some(value), None),
            Reach::TooDeepForIt { deepest_m } => (None, Some(("deepest_m", deepest_m))),
            Reach::TooShallowForIt { shallowest_m } => (None, Some(("shallowest_m", shallowest_m))),
        };
        to.collect_map(std::iter::once(("at_m", at)).chain(other.map(|(key, value)| (key, Some(value)))))
    }
}

/// Precision of the found value, m: a hundredth of a hair for a diameter, a millimetre elsewhere.
const DIAMETER_TOLERANCE_M: f64 = 1e-7;
const LENGTH_TOLERANCE_M: f64 = 1e-3;

/// The value of `change` between `low` and `high` (m) at which the greatest depth of the path is
/// `depth_m`, found by root search on [`Path::solve`], or why there is none.
pub fn reach(
    depth_m: f64,
    change: Change,
    (low, high): (f64, f64),
    retrieve: &Retrieve,
    pull: &Pull,
    line: &Line,
) -> Result<Reach, Refusal> {
    within("wanted depth (m)", depth_m, 0.0, 100.0, "give a depth below the surface")?;
    let depth_at = |value: f64| -> Result<f64, Refusal> {
        let (mut r, mut l) = (*retrieve, *line);
        match change {
            Change::Diameter => l.diameter_m = value,
            Change::Cast => r.cast_m = value,
            Change::RodTip => r.rod_tip_m = value,
        }
        Ok(Path::solve(&r, pull, &l, Detail::default())?.max_depth_m())
    };
    let (at_low, at_high) = (depth_at(low)?, depth_at(high)?);
    let (shallowest_m, deepest_m) = (at_low.min(at_high), at_low.max(at_high));
    if depth_m > deepest_m {
        return Ok(Reach::TooDeepForIt { deepest_m });
    }
    if depth_m < shallowest_m {
        return Ok(Reach::TooShallowForIt { shallowest_m });
    }
    let tolerance = if change == Change::Diameter { DIAMETER_TOLERANCE_M } else { LENGTH_TOLERANCE_M };
    roots::bracketed(low, high, tolerance, |value| depth_at(value).map_or(f64::NAN, |d| d - depth_m))
        .map(Reach::At)
        .ok_or(Refusal::NoAnswer { what: "the tackle that reaches this depth" })
}
