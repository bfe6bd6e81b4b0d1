//! Sweeps: what axes may be written, that a cell is what `odds` gives, kept files, readings of made-up cubes.

#[path = "sweep/axes.rs"]
mod axes;
#[cfg(feature = "cli")]
#[path = "sweep/program.rs"]
mod program;
#[path = "sweep/readings.rs"]
mod readings;
#[path = "sweep/runs.rs"]
mod runs;
