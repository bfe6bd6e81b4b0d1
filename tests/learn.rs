//! Learning from a log: posteriors known otherwise, what must not matter, bad logs, calibration, the program.

#[path = "learn/calibration.rs"]
mod calibration;
#[path = "learn/logs.rs"]
mod logs;
#[path = "learn/posterior.rs"]
mod posterior;
#[cfg(feature = "cli")]
#[path = "learn/program.rs"]
mod program;
#[path = "learn/toy.rs"]
mod toy;
