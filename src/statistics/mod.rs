//! Statistics that know no fish: numbers in, typed results out.
//!
//! - one rate, two rates: [`intervals`], [`differences`], [`paired`], [`bayes`]
//! - how many casts: [`power`], [`sequential`]
//! - which could be best: [`ranking`], [`selection`], [`subset`], [`day_plan`]
//! - what drives an answer: [`sensitivity`], [`information`], [`prim`]
//! - what may be said: [`estimate`], [`verdict`], [`psis`]
//! - cases with a known answer: [`hazards`]
//!
//! A count that cannot be (more strikes than casts, a confidence of 1.2) is refused when its type is
//! made; functions of checked types do not fail.

pub mod bayes;
pub mod day_plan;
pub mod differences;
pub mod distributions;
mod error;
pub mod estimate;
pub mod hazards;
pub mod information;
pub mod intervals;
pub mod paired;
pub mod power;
pub mod prim;
pub mod psis;
pub mod ranking;
pub mod selection;
pub mod sensitivity;
pub mod sequential;
pub mod subset;
pub mod verdict;

pub use error::Error;
pub use estimate::Estimate;
pub use intervals::{Confidence, Interval, Proportion};
