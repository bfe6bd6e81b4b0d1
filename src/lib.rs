//! `callup`: how likely a bass that hangs at depth is to come up for a twitched minnow bait.
//!
//! A scenario file becomes a checked [`Scenario`]; set up with the [`Models`] it is a [`Prepared`]; the engine fills a
//! [`Strikes`] with the chances of every bait in many plausible worlds; and every answer is a reduction of such
//! tables: [`odds`], a [`sweep`] over conditions, the test of [`rules`] of thumb.
//!
//! ```
//! use callup::{Budget, Catalogue, Control, Models, Prepared, Strikes, library, load, odds};
//!
//! let models = Models::embedded()?;
//! let text = library::get("first-light").ok_or("no such scenario")?;
//! let checked = load(text, "first-light", &[], &Catalogue::of(&models))
//!     .map_err(|faults| faults.iter().map(|f| f.render_plain(text)).collect::<String>())?;
//! let prepared = Prepared::new(&checked.scenario, &models)?;
//!
//! // Few worlds and passes: quick, and coarse.
//! let budget = Budget { worlds: 16, passes: 64, ..Budget::default() };
//! let table = Strikes::of(&models, std::slice::from_ref(&prepared), budget, &Control::default())?;
//! let odds = odds(&models, &prepared, &table, 0, budget.seed);
//! let leader = &odds.baits[odds.order[0]];
//! println!("{}: {:.1} strikes in 100 passes", leader.name, leader.strikes.point);
//! assert!(leader.strikes.low <= leader.strikes.point && leader.strikes.point <= leader.strikes.high);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! The same seed gives the same bits on every platform and with any number of threads. `examples/` has a sweep written
//! as a table and a rule of one's own.
//!
//! # Inside
//!
//! What is named on this page is meant to be used from outside; the modules are open for tests and curious readers, and
//! may change at any time. The road of the data is their layout, and each may use only those before it: `units`, `maths`
//! -> `random`, `statistics` -> `water` | `bait` | `fish` -> `models` -> `scenario` -> `world` -> `engine` -> `study` ->
//! `present` -> `cli` | `web`. Nothing below `cli` prints, reads a clock or looks at the environment.
#![forbid(unsafe_code)]

#[cfg_attr(docsrs, doc(hidden))]
pub mod bait;
#[cfg(feature = "cli")]
#[cfg_attr(docsrs, doc(hidden))]
pub mod cli;
#[cfg_attr(docsrs, doc(hidden))]
pub mod engine;
#[cfg_attr(docsrs, doc(hidden))]
pub mod fish;
mod labels;
#[cfg_attr(docsrs, doc(hidden))]
pub mod maths;
#[cfg_attr(docsrs, doc(hidden))]
pub mod models;
#[cfg_attr(docsrs, doc(hidden))]
pub mod present;
#[cfg_attr(docsrs, doc(hidden))]
pub mod random;
#[cfg_attr(docsrs, doc(hidden))]
pub mod scenario;
#[cfg_attr(docsrs, doc(hidden))]
pub mod statistics;
#[cfg_attr(docsrs, doc(hidden))]
pub mod study;
#[cfg_attr(docsrs, doc(hidden))]
pub mod units;
#[cfg_attr(docsrs, doc(hidden))]
pub mod water;
#[cfg_attr(docsrs, doc(hidden))]
pub mod web;
#[cfg_attr(docsrs, doc(hidden))]
pub mod world;

pub use engine::{Budget, Control, Strikes};
pub use models::Models;
pub use scenario::{Catalogue, Diagnostic, Scenario, library, load, paths};
pub use statistics::Estimate;
pub use study::axis::{Axis, Wish};
pub use study::odds::{Odds, odds};
pub use study::{rules, sweep};
pub use world::Prepared;
