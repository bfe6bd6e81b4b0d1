//! What a bass can sense and do: formulas on plain numbers, which come from `models/`.
//!
//! One file per faculty: [`sight`], [`noticing`], [`temperature`], [`swimming`], [`rising`],
//! [`inspection`], [`size`]. The fish knows neither bait nor water; they meet in the world.

pub mod inspection;
pub mod noticing;
pub mod rising;
pub mod sight;
pub mod size;
pub mod swimming;
pub mod temperature;
