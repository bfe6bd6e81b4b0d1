//! Learning from a log: posteriors known otherwise, what must not matter, bad logs, calibration, the program.

#[path = "learn/calibration.rs"]
mod calibration;
#[path = "learn/posterior.rs"]
mod posterior;
#[path = "learn/toy.rs"]
mod toy;
