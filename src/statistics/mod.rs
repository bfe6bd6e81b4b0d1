//! Statistics that know no fish: numbers in, typed results out.
//!
//! - one rate: [`intervals`]
//! - how many casts: [`power`], [`sequential`]
//! - which could be best: [`ranking`], [`subset`], [`day_plan`]
//! - what drives an answer: [`sensitivity`], [`information`], [`prim`]
//! - what may be said: [`estimate`], [`verdict`], [`psis`]
//!
//! A count that cannot be (more strikes than casts, a confidence of 1.2) is refused when its type is
//! made; functions of checked types do not fail.

pub mod day_plan;
pub mod distributions;
mod error;
pub mod estimate;
pub mod information;
pub mod intervals;
pub mod power;
pub mod prim;
pub mod psis;
pub mod ranking;
pub mod sensitivity;
pub mod sequential;
pub mod subset;
pub mod verdict;

pub use error::Error;
pub use estimate::Estimate;
pub use intervals::{Confidence, Interval, Proportion};
