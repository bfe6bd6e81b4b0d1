//! `callup why` and what it says over several waters: its designs on functions with known indices, the study itself, the program.

mod common;
#[path = "why/designs.rs"]
mod designs;
#[cfg(feature = "cli")]
#[path = "why/program.rs"]
mod program;
mod reference;
#[path = "why/study.rs"]
mod study;
#[path = "why/waters.rs"]
mod waters;
