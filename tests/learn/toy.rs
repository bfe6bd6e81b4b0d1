//! Models small enough for their posterior to be known otherwise.

use callup::models::{Grade, Group, Parameter, Spread};
use callup::study::learn::sampler::{FitError, LogModel};

/// Any function of standard scores as a model.
pub struct Toy<F: Fn(&[f64]) -> Vec<f64> + Sync> {
    keys: Vec<u64>,
    strikes: F,
}

impl<F: Fn(&[f64]) -> Vec<f64> + Sync> Toy<F> {
    pub fn new(unknowns: usize, strikes: F) -> Self {
        Self { keys: (1..=unknowns as u64).collect(), strikes }
    }
}

impl<F: Fn(&[f64]) -> Vec<f64> + Sync> LogModel for Toy<F> {
    fn keys(&self) -> &[u64] {
        &self.keys
    }
    fn strikes(&self, scores: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, FitError> {
        Ok(scores.iter().map(|z| (self.strikes)(z)).collect())
    }
}

/// Strikes per pass that make a cast end in a strike with the chance `q` where there is one pass per cast.
pub fn as_passes(q: f64) -> f64 {
    -(-q).ln_1p()
}

pub fn parameter(name: &str, spread: Spread, [low, default, high]: [f64; 3]) -> Parameter {
    Parameter {
        name: name.into(),
        means: name.into(),
        low,
        default,
        high,
        spread,
        least: 0.0,
        most: f64::INFINITY,
        unit: "1".into(),
        grade: Grade::Guess,
        group: Group::Mechanics,
        product: None,
        alternative: false,
        lowers: false,
        source: "a test".into(),
        file: "test".into(),
    }
}

/// A pair that says nothing: one pass per cast, days all alike.
pub fn plain_pair() -> [Parameter; 2] {
    [
        parameter("pass.per_cast", Spread::Fixed, [1.0; 3]),
        parameter("pass.day_spread", Spread::Fixed, [0.0; 3]),
    ]
}

/// A pair as unknown as the shipped one.
pub fn open_pair() -> [Parameter; 2] {
    [
        parameter("pass.per_cast", Spread::Lognormal, [0.03, 0.3, 3.0]),
        parameter("pass.day_spread", Spread::Lognormal, [0.2, 0.6, 1.5]),
    ]
}
