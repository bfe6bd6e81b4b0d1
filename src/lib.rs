//! `callup`: how likely a bass that hangs at depth is to come up for a twitched minnow bait.
//!
//! The road of the data is the layout of the crate, and each module may use only those before it:
//! [`units`], [`maths`] -> [`random`], [`statistics`] -> [`water`] | [`bait`] | [`fish`] ->
//! [`models`] -> [`scenario`] -> [`world`] -> [`engine`] -> [`study`] -> [`present`] -> `cli` | [`web`].
//!
//! A scenario file becomes a checked [`scenario`]; with one draw of what nobody knows about fish it
//! becomes a [`world`]; the [`engine`] turns worlds into a strike table; every question in [`study`]
//! is a reduction of strike tables to an answer; [`present`] turns answers into tables, pictures and
//! words. Nothing below `cli` prints, reads a clock or looks at the environment.
#![forbid(unsafe_code)]
#![deny(missing_docs)]

pub mod bait;
#[cfg(feature = "cli")]
pub mod cli;
pub mod engine;
pub mod fish;
mod labels;
pub mod maths;
pub mod models;
pub mod present;
pub mod random;
pub mod scenario;
pub mod statistics;
pub mod study;
pub mod units;
pub mod water;
pub mod web;
pub mod world;
