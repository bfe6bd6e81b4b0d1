//! Scenario files: what is accepted, what is refused and how, units, overrides, phases, and that no
//! input whatever makes the reader panic.

#[path = "scenario/catalogue.rs"]
mod catalogue;
#[path = "scenario/faults.rs"]
mod faults;
#[path = "scenario/files.rs"]
mod files;
#[path = "scenario/overrides.rs"]
mod overrides;
#[path = "scenario/phases.rs"]
mod phases;
#[path = "scenario/rendering.rs"]
mod rendering;
#[path = "scenario/robustness.rs"]
mod robustness;
#[path = "scenario/units.rs"]
mod units;
