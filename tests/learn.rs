//! Learning from a log: posteriors known otherwise, what must not matter, bad logs, calibration, the program.

mod calibration;
mod logs;
mod posterior;
#[cfg(feature = "cli")]
mod program;
mod ranks;
mod toy;
