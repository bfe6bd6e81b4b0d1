//! Scenario files: what is accepted, what is refused and how, units, overrides, phases, and that no
//! input whatever makes the reader panic.

mod catalogue;
mod faults;
mod files;
mod overrides;
mod phases;
mod rendering;
mod robustness;
mod units;
