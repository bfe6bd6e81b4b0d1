//! Days and packed boxes: the hourly table, the course of the sun, plans against brute force, the commands as typed.

mod common;
mod reference;

#[path = "day/days.rs"]
mod days;
#[path = "day/hours.rs"]
mod hours;
#[path = "day/plans.rs"]
mod plans;
#[cfg(feature = "cli")]
#[path = "day/program.rs"]
mod program;
