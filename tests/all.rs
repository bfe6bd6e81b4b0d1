//! Every test outside the sources, one module an area: one program to build, link and run.

mod common;
mod reference;

mod architecture;
mod attribution;
mod casts;
#[cfg(feature = "cli")]
mod cli;
mod day;
mod engine;
mod fish;
mod learn;
mod mechanics;
mod optics;
mod present;
#[cfg(feature = "cli")]
mod report;
mod rules;
mod scenario;
mod sky;
mod statistics;
mod sweep;
#[cfg(feature = "cli")]
mod trials;
mod values;
#[cfg(feature = "cli")]
mod web;
mod why;
