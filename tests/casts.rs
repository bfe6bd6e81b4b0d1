//! `callup casts`: plans for given rates, plans over plausible worlds, the program.

mod common;
#[path = "casts/plans.rs"]
mod plans;
#[cfg(feature = "cli")]
#[path = "casts/program.rs"]
mod program;
mod reference;
#[path = "casts/worlds.rs"]
mod worlds;
