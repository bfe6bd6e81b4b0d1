//! Days and packed boxes: the hourly table, the course of the sun, plans against brute force, the commands as typed.

mod common;
mod reference;

#[path = "day/days.rs"]
mod days;
#[path = "day/hours.rs"]
mod hours;
#[path = "day/pack.rs"]
mod pack;
#[cfg(feature = "cli")]
#[path = "day/pack_program.rs"]
mod pack_program;
#[path = "day/pictures.rs"]
mod pictures;
#[path = "day/plans.rs"]
mod plans;
#[cfg(feature = "cli")]
#[path = "day/program.rs"]
mod program;
