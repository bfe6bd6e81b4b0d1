//! Questions put to the engine: each a pure reduction of strike tables, or of the physics, to a typed answer.

pub mod alike;
pub mod attribution;
pub mod axis;
pub mod casts;
pub mod day;
pub mod depth;
pub mod drivers;
pub mod learn;
pub mod light;
pub mod many;
pub mod odds;
mod overrides;
pub mod pace;
pub mod pack;
pub mod rules;
pub mod selfcheck;
pub mod sweep;
pub mod trials;
pub mod why;

use crate::engine::{Budget, Control};
use crate::models::{Models, ModelsError};
use crate::scenario::{Diagnostic, Scenario};
use crate::statistics::estimate::{Estimate, quantile, sorted};
use crate::world::{PrepareError, Prepared};

/// What a question is asked about.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// Assumptions.
    pub models: &'a Models,
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The scenario, set up.
    pub prepared: &'a Prepared,
    /// How much to compute.
    pub budget: Budget,
    /// Text of the scenario's file.
    pub source: &'a str,
    /// Its name.
    pub file: &'a str,
    /// Values put in place of the file's.
    pub overrides: &'a [(String, String)],
}

/// A question with its options: one entry point, one typed answer, which as it is serialised makes the machine output.
pub trait Study {
    /// Name of its command.
    const NAME: &'static str;
    /// World draws and passes where nothing else is said.
    const USUAL: (usize, usize) = (256, 512);
    /// What it gives.
    type Answer: serde::Serialize;

    /// Steps that [`Control::done`] will count.
    fn steps(&self, on: &Context) -> usize {
        on.budget.as_run().worlds
    }

    /// Answers the question; a stop leaves an answer that rests on less, or none.
    ///
    /// # Errors
    /// [`Unanswered`].
    fn run(&self, on: &Context, control: &Control) -> Result<Self::Answer, Unanswered>;
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Unanswered {
    /// What was given cannot be used: why, and what to write instead (nothing where the text says it).
    Input(String, String),
    /// Several such faults.
    Several(Vec<(String, String)>),
    /// Faults of a scenario, with their places.
    Faults {
        /// What they stand in the way of, and what to do.
        over: Option<(String, String)>,
        /// The faults.
        faults: Vec<Diagnostic>,
        /// Text of the file where it is not that of the scenario asked about.
        source: Option<String>,
    },
    /// The work was stopped too early, or failed.
    Failed(String),
}

impl Unanswered {
    /// Stopped before anything was finished.
    pub fn stopped(before: &str) -> Self {
        Self::Failed(format!("stopped before {before} was finished"))
    }
}

impl From<PrepareError> for Unanswered {
    fn from(why: PrepareError) -> Self {
        Self::Input(why.to_string(), String::new())
    }
}

impl From<ModelsError> for Unanswered {
    fn from(why: ModelsError) -> Self {
        Self::Input(why.to_string(), String::new())
    }
}

/// The smallest difference that matters, strikes per 100 passes.
pub const SMALLEST_DIFFERENCE: f64 = 1.0;

/// How many times the strikes of `b` the other side draws; 1 where neither draws any, at most [`MOST_GAIN`].
pub fn gain(a: f64, b: f64) -> f64 {
    match (a > 0.0, b > 0.0) {
        (false, false) => 1.0,
        (true, false) => MOST_GAIN,
        _ => (a / b).min(MOST_GAIN),
    }
}

/// As good as infinitely many times.
pub const MOST_GAIN: f64 = 1e3;

/// Median and range over plausible worlds, with the luck of the simulation from the spread of the medians of the
/// independent scrambles that the worlds come in. Zero for no values.
pub fn over_worlds(values: &[f64], per_scramble: usize) -> Estimate {
    let all = sorted(values);
    let at = |q: f64| quantile(&all, q).unwrap_or(0.0);
    let medians: Vec<f64> =
        values.chunks(per_scramble.max(1)).filter_map(|scramble| quantile(&sorted(scramble), 0.5)).collect();
    Estimate {
        point: at(0.5),
        simulation_se: standard_error(&medians),
        low: at(Estimate::TAIL),
        high: at(1.0 - Estimate::TAIL),
    }
}

/// Standard error of the mean of independent replicates; 0 for fewer than two.
pub fn standard_error(replicates: &[f64]) -> f64 {
    let n = replicates.len() as f64;
    if replicates.len() < 2 {
        return 0.0;
    }
    let mean = replicates.iter().sum::<f64>() / n;
    let squares: f64 = replicates.iter().map(|v| (v - mean) * (v - mean)).sum();
    (squares / (n * (n - 1.0))).sqrt()
}
