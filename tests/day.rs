//! Days and packed boxes: the hourly table, the course of the sun, plans against brute force, the commands as typed.

mod days;
mod hours;
mod pack;
#[cfg(feature = "cli")]
mod pack_program;
mod plans;
#[cfg(feature = "cli")]
mod program;
