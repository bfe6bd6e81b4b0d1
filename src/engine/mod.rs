//! The Monte Carlo engine: encounters in, strike table out. Pure: no printing, no clock, no environment.
//!
//! [`encounter`] is one pass, written to be read beside the model; [`block`] is the same arithmetic over many
//! points at once; [`points`] are the quasi-random passes; [`table`] fills the strike table, the only product.

pub mod block;
pub mod encounter;
pub mod points;
pub mod table;

pub use points::Passes;
pub use table::{Budget, StrikeTable};
