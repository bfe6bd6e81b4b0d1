//! What may be view.

use crate::engine::Budget;
use crate::units::UnitSystem;
use serde::Deserialize;

/// The kinds of questions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Ask {
    /// What there is to choose from.
    Start,
    /// What a scenario says, without simulation.
    Read,
    /// The odds of two baits, and the water column.
    Odds,
    /// One condition varied.
    Sweep,
}

/// A bait of the two compared.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Chosen {
    /// Its name.
    pub name: String,
    /// Whether it is one of the scenario's own box; else one of the catalogue.
    #[serde(default)]
    pub own: bool,
}

/// A question with all that it takes.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Request {
    /// Which question.
    pub ask: Ask,
    /// Text of the scenario's file.
    #[serde(default)]
    pub source: String,
    /// Its name.
    #[serde(default = "page")]
    pub file: String,
    /// Values put in place of the file's.
    #[serde(default)]
    pub set: Vec<(String, String)>,
    /// The two baits.
    #[serde(default)]
    pub baits: Vec<Chosen>,
    /// Seed.
    #[serde(default = "one")]
    pub seed: u64,
    /// World draws.
    #[serde(default)]
    pub draws: Option<usize>,
    /// Passes in each.
    #[serde(default)]
    pub points: Option<usize>,
    /// Every assumption at its default.
    #[serde(default)]
    pub fixed: bool,
    /// Units to write in: `metric` or `us`.
    #[serde(default)]
    pub units: Option<String>,
    /// The axis of a sweep, as `callup sweep --over` takes it.
    #[serde(default)]
    pub over: String,
}

fn page() -> String {
    "page.toml".into()
}

fn one() -> u64 {
    1
}

/// More than this and a page would stand still for minutes.
const MOST: usize = 4096;

impl Request {
    /// The budget asked for, or `usual` (draws and points), within what a page can do.
    pub fn budget(&self, usual: (usize, usize)) -> Budget {
        let within = |wished: Option<usize>, usual: usize| wished.unwrap_or(usual).clamp(1, MOST);
        let (draws, points) = (within(self.draws, usual.0), within(self.points, usual.1));
        Budget { seed: self.seed, worlds: draws, passes: points, fixed: self.fixed }
    }

    /// The units to write in; metric unless told otherwise.
    pub fn units(&self) -> UnitSystem {
        match self.units.as_deref() {
            Some("us") => UnitSystem::Us,
            _ => UnitSystem::Metric,
        }
    }
}
