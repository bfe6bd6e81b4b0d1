//! Sweeps: what axes may be written, that a cell is what `odds` gives, kept files, readings of made-up cubes.

mod axes;
#[cfg(feature = "cli")]
mod program;
mod readings;
mod runs;
