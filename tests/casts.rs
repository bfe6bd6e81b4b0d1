//! `callup casts`: plans for given rates, plans over plausible worlds, the program.

mod plans;
#[cfg(feature = "cli")]
mod program;
mod worlds;
