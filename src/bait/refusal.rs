//! Why a calculation of this module was refused, and what to give instead.

/// An input that no fishing tackle has, or that the equations cannot answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// A value outside the range in which the equations mean anything.
    #[error("{what} is {value}, outside {low} to {high}: {advice}")]
    Outside {
        /// The quantity, with its unit.
        what: &'static str,
        /// What was given.
        value: f64,
        /// Smallest value accepted.
        low: f64,
        /// Largest value accepted.
        high: f64,
        /// What to do about it.
        advice: &'static str,
    },
    /// The rod tip is as high as the line is long.
    #[error(
        "the rod tip is {tip_m} m above the water but only {cast_m} m of line is out: cast further or lower the rod"
    )]
    TipBeyondCast {
        /// Rod-tip height.
        tip_m: f64,
        /// Line out at the start.
        cast_m: f64,
    },
    /// The bait never comes down, or the arithmetic leaves the range of numbers.
    #[error("no answer could be computed for {what}: bring the values closer to real tackle")]
    NoAnswer {
        /// What was being computed.
        what: &'static str,
    },
}

/// Lets `value` through if it is a number from `low` to `high`.
pub(crate) fn within(
    what: &'static str,
    value: f64,
    low: f64,
    high: f64,
    advice: &'static str,
) -> Result<(), Refusal> {
    if (low..=high).contains(&value) {
        Ok(())
    } else {
        Err(Refusal::Outside { what, value, low, high, advice })
    }
}
