//! The points of a sensitivity study: two independent halves, and the first half with one input from the second.
//!
//! The coordinates are independent standard normal scores, one for each parameter, from which a world is drawn.
//! Each has a scramble of its own, keyed by its name: dimension 0 of a pair of Sobol dimensions gives the first
//! half, dimension 1 the second, so that the two are uniform together, which is what a total index rests on.
//! One sequence over all coordinates would need twice as many dimensions as there are parameters: with the few
//! hundred points of a scramble some pairs of so many dimensions are strongly correlated, and a parameter that
//! comes or goes would move all others. With keys it moves none.
//!
//! The last input of every design is luck: which passes were simulated. It says nothing about fish, so the share
//! of the spread that it takes is the floor under which no parameter can be told from noise.

use crate::engine::each;
use crate::random::{Purpose, ScrambledSobol, key, mix};
use crate::statistics::Error;
use crate::statistics::sensitivity::{IndexEstimate, indices, over_scrambles};
use ndarray::Array2;

/// What is varied, and how finely.
#[derive(Debug, Clone)]
pub struct Design {
    seed: u64,
    /// Key of each coordinate; none for a coordinate that does not vary.
    keys: Vec<Option<u64>>,
    rows: usize,
    scrambles: usize,
}

/// A point of the design.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Standard normal scores of the coordinates; 0 where one does not vary.
    pub scores: Vec<f64>,
    /// Number of the luck: which passes.
    pub luck: usize,
}

/// Outputs at the points of one scramble: row by row.
pub type Scramble<T> = Vec<T>;

/// Outputs of the model at one point.
pub type Outputs = Vec<f64>;

impl Design {
    /// A design of `scrambles` independent scrambles of `rows` (a power of two) rows each; `names` holds the name of
    /// each coordinate, none for one that does not vary.
    pub fn new(seed: u64, names: &[Option<&str>], rows: usize, scrambles: usize) -> Self {
        let keys = names.iter().map(|n| n.map(key)).collect();
        Self { seed, keys, rows: rows.max(2).next_power_of_two(), scrambles: scrambles.max(2) }
    }

    /// Rows of a scramble.
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// Score of coordinate `d` in row `row` of a scramble, in the first half (0) or the second (1).
    pub fn score(&self, scramble: usize, row: usize, d: usize, half: usize) -> f64 {
        let Some(name) = self.keys.get(d).copied().flatten() else { return 0.0 };
        let own =
            ScrambledSobol::new(mix(self.seed, Purpose::Design, name), Purpose::Design, scramble as u64);
        own.jointly(2).normal(row as u32, half)
    }

    /// The point of a row in the first half (0) or the second (1).
    pub fn site(&self, scramble: usize, row: usize, half: usize) -> Site {
        Site {
            scores: (0..self.keys.len()).map(|d| self.score(scramble, row, d, half)).collect(),
            luck: 2 * (scramble * self.rows + row) + half,
        }
    }

    /// Works the model out in both halves; one entry for each scramble that was finished before a stop. The model
    /// gives outputs at each of some points, fewer where it was stopped.
    ///
    /// # Errors
    /// The first that the model gives.
    pub fn halves<E>(
        &self,
        model: impl Fn(&[Site]) -> Result<Vec<Outputs>, E>,
    ) -> Result<Vec<Scramble<Vec<Outputs>>>, E> {
        self.run(2, |scramble, row| vec![self.site(scramble, row, 0), self.site(scramble, row, 1)], model)
    }

    /// Works the model out in the first half with each input taken from the second: all rows, input by input, the
    /// luck last. An input is a set of coordinates that move together.
    ///
    /// # Errors
    /// The first that the model gives.
    pub fn mixed<E>(
        &self,
        inputs: &[Vec<usize>],
        model: impl Fn(&[Site]) -> Result<Vec<Outputs>, E>,
    ) -> Result<Vec<Scramble<Vec<Outputs>>>, E> {
        let sites = |scramble, row| {
            let (first, second) = (self.site(scramble, row, 0), self.site(scramble, row, 1));
            let with = |input: &Vec<usize>| {
                let mut site = first.clone();
                input.iter().for_each(|&d| site.scores[d] = second.scores[d]);
                site
            };
            let mut all: Vec<Site> = inputs.iter().map(with).collect();
            all.push(Site { luck: second.luck, ..first });
            all
        };
        self.run(inputs.len() + 1, sites, model)
    }

    /// Scramble after scramble, so that what is finished when a stop comes is whole.
    fn run<E>(
        &self,
        steps: usize,
        sites: impl Fn(usize, usize) -> Vec<Site> + Sync + Send,
        model: impl Fn(&[Site]) -> Result<Vec<Outputs>, E>,
    ) -> Result<Vec<Scramble<Vec<Outputs>>>, E> {
        let at_once = (MOST_SITES / steps).max(1);
        let mut done = Vec::with_capacity(self.scrambles);
        for scramble in 0..self.scrambles {
            let mut rows: Scramble<Vec<Outputs>> = Vec::with_capacity(self.rows);
            for first in (0..self.rows).step_by(at_once) {
                let count = at_once.min(self.rows - first);
                let some: Vec<Site> =
                    each(count, |k| sites(scramble, first + k)).into_iter().flatten().collect();
                let outputs = model(&some)?;
                if outputs.len() < some.len() {
                    return Ok(done);
                }
                rows.extend(outputs.chunks(steps).map(<[Outputs]>::to_vec));
            }
            done.push(rows);
        }
        Ok(done)
    }
}

/// Points worked out together: more would take memory and no less time.
const MOST_SITES: usize = 2048;

/// First-order and total index of every input, the luck last, for one output: over the scrambles that both have.
///
/// `of_half` and `of_mixed` pick the output from what the model gave in the halves and at the mixed points.
///
/// # Errors
/// [`Error`] for fewer than two scrambles or an output that is not finite.
pub fn index_estimates(
    halves: &[Scramble<Vec<Outputs>>],
    mixed: &[Scramble<Vec<Outputs>>],
    of_half: impl Fn(&Outputs) -> f64,
    of_mixed: impl Fn(&Outputs) -> f64,
) -> Result<Vec<IndexEstimate>, Error> {
    let all = halves
        .iter()
        .zip(mixed)
        .map(|(half, mixed)| {
            let column = |h: usize| half.iter().map(|row| of_half(&row[h])).collect::<Vec<f64>>();
            let inputs = mixed.first().map_or(0, Vec::len);
            let swapped = Array2::from_shape_fn((inputs, mixed.len()), |(k, row)| of_mixed(&mixed[row][k]));
            indices(&column(0), &column(1), swapped.view())
        })
        .collect::<Result<Vec<_>, Error>>()?;
    over_scrambles(&all)
}
