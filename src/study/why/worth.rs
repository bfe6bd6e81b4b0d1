//! What finding out would be worth: strikes that a better choice of bait would add.

use super::design::{Outputs, Scramble};
use crate::random::{Purpose, stream};
use crate::statistics::Error;
use crate::statistics::estimate::ReplicateMean;
use crate::statistics::information::{ParameterInformation, parameter_information, perfect_information};
use ndarray::Array2;

/// Worlds that a bin must hold at least, so that its mean is not all noise.
const PER_BIN: usize = 64;
/// Bins at most; more gain nothing, since the mean varies smoothly.
const MOST_BINS: usize = 16;
/// Shuffles for the floor of noise.
const SHUFFLES: usize = 40;

/// Strikes of every bait in every world of both halves.
pub struct Worth {
    strikes: Array2<f64>,
    seed: u64,
}

fn table(rows: &[&Outputs], baits: &[usize]) -> Array2<f64> {
    Array2::from_shape_fn((rows.len(), baits.len()), |(w, b)| rows[w][b])
}

impl Worth {
    /// Gathers the worlds.
    pub fn of(halves: &[Scramble<Vec<Outputs>>], baits: &[usize], seed: u64) -> Self {
        let rows: Vec<&Outputs> = halves.iter().flatten().flatten().collect();
        Self { strikes: table(&rows, baits), seed }
    }

    /// What knowing `theta`, one value for each world, would add.
    ///
    /// # Errors
    /// [`Error`] for values that are not finite.
    pub fn evppi(&self, theta: &[f64]) -> Result<ParameterInformation, Error> {
        let bins = (theta.len() / PER_BIN).clamp(2, MOST_BINS);
        let mut rng = stream(self.seed, Purpose::Resample, 1);
        parameter_information(theta, self.strikes.view(), bins, SHUFFLES, &mut rng)
    }
}

/// What knowing everything would add, with the spread over scrambles, and the best bait as long as nothing is known.
///
/// # Errors
/// [`Error`] for fewer than two scrambles or values that are not finite.
pub fn evpi(halves: &[Scramble<Vec<Outputs>>], baits: &[usize]) -> Result<(ReplicateMean, usize), Error> {
    let gain = |rows: &[&Outputs]| {
        let strikes = table(rows, baits);
        perfect_information(&vec![1.0; rows.len()], strikes.view())
    };
    let by_scramble = halves
        .iter()
        .map(|s| gain(&s.iter().flatten().collect::<Vec<_>>()))
        .collect::<Result<Vec<f64>, Error>>()?;
    let all: Vec<&Outputs> = halves.iter().flatten().flatten().collect();
    let spread = ReplicateMean::of(&by_scramble)?;
    let mean = |b: usize| all.iter().map(|w| w[b]).sum::<f64>();
    let best = baits.iter().copied().max_by(|&a, &b| mean(a).total_cmp(&mean(b))).unwrap_or(0);
    Ok((ReplicateMean { mean: gain(&all)?, ..spread }, best))
}
