//! The bait and the line that carries it: what it looks like, how deep it runs, how far it flies, what
//! it sounds like.
//!
//! - [`body`]: sizes, lip, drag and down-lift areas, silhouette; [`finish`]: what the flank does to light.
//! - [`mod@line`]: diameter, strength, weight in water; [`drag`]: cylinders and plates in a flow.
//! - [`pivot`] and [`path`]: where a cast-and-retrieved bait runs; [`reach`]: what reaches a wanted depth.
//! - [`tow`]: the towed line in closed forms.
//! - [`cast`]: how far it flies; [`sound`]: near field and rattle.
//!
//! Water density and viscosity come in as numbers: this module knows no water.

pub mod body;
pub mod cast;
pub mod drag;
pub mod finish;
pub mod line;
pub mod path;
pub mod pivot;
pub mod reach;
pub mod refusal;
pub mod sound;
pub mod tow;

pub use body::{Body, BodyCoefficients, Lip, Pull, Sound};
pub use finish::Finish;
pub use line::Line;
pub use path::{Detail, Path, Retrieve};
pub use refusal::Refusal;

/// Standard gravity, 9.80665 m/s2 (3rd General Conference on Weights and Measures, 1901).
pub const GRAVITY_M_S2: f64 = 9.806_65;
