//! The Monte Carlo engine: encounters in, strikes out. Pure: no printing, no clock, no environment.
//!
//! [`encounter`] is one pass, written to be read beside the model; [`block`] is the same arithmetic over many
//! points at once; [`points`] are the quasi-random passes; [`strikes`] has the loop, [`simulate`], and its one product.

pub mod block;
pub mod conditions;
pub mod control;
pub mod encounter;
pub mod points;
pub mod strikes;

pub use conditions::prepare;
pub use control::{Control, each};
pub use points::Passes;
pub use strikes::{Budget, Condition, Strikes, each_world, simulate};
