//! `callup why` and what it says over several waters: its designs on functions with known indices, the study itself, the program.

mod designs;
#[cfg(feature = "cli")]
mod program;
mod study;
mod waters;
