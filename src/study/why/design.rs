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

use crate::engine::table::Control;
use crate::random::{Purpose, ScrambledSobol, key, mix};
use crate::statistics::Error;
use crate::statistics::sensitivity::{IndexEstimate, indices, over_scrambles};
use crate::study::sweep::parallel::each;
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

    /// Independent scrambles.
    pub fn scrambles(&self) -> usize {
        self.scrambles
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

    /// Works the model out in both halves; one entry for each scramble that was finished before a stop.
    ///
    /// # Errors
    /// The first that the model gives.
    pub fn halves<E: Send>(
        &self,
        control: &Control,
        model: impl Fn(&Site) -> Result<Outputs, E> + Sync + Send,
    ) -> Result<Vec<Scramble<[Outputs; 2]>>, E> {
        self.run(control, 2, |scramble, row| {
            Ok([model(&self.site(scramble, row, 0))?, model(&self.site(scramble, row, 1))?])
        })
    }

    /// Works the model out in the first half with each input taken from the second: all rows, input by input, the
    /// luck last. An input is a set of coordinates that move together.
    ///
    /// # Errors
    /// The first that the model gives.
    pub fn mixed<E: Send>(
        &self,
        inputs: &[Vec<usize>],
        control: &Control,
        model: impl Fn(&Site) -> Result<Outputs, E> + Sync + Send,
    ) -> Result<Vec<Scramble<Vec<Outputs>>>, E> {
        self.run(control, inputs.len() + 1, |scramble, row| {
            let (first, second) = (self.site(scramble, row, 0), self.site(scramble, row, 1));
            let mut all = Vec::with_capacity(inputs.len() + 1);
            for input in inputs {
                let mut site = first.clone();
                for &d in input {
                    site.scores[d] = second.scores[d];
                }
                all.push(model(&site)?);
            }
            all.push(model(&Site { luck: second.luck, ..first })?);
            Ok(all)
        })
    }

    /// Scramble after scramble, so that what is finished when a stop comes is whole.
    fn run<T: Send, E: Send>(
        &self,
        control: &Control,
        steps: usize,
        one: impl Fn(usize, usize) -> Result<T, E> + Sync + Send,
    ) -> Result<Vec<Scramble<T>>, E> {
        let mut done = Vec::with_capacity(self.scrambles);
        for scramble in 0..self.scrambles {
            let rows = each(self.rows, |row| {
                if control.stopped() {
                    return None;
                }
                let result = one(scramble, row);
                control.advance(steps);
                Some(result)
            });
            match rows.into_iter().collect::<Option<Result<Scramble<T>, E>>>() {
                Some(whole) => done.push(whole?),
                None => break,
            }
        }
        Ok(done)
    }
}

/// First-order and total index of every input, the luck last, for one output: over the scrambles that both have.
///
/// `of_half` and `of_mixed` pick the output from what the model gave in the halves and at the mixed points.
///
/// # Errors
/// [`Error`] for fewer than two scrambles or an output that is not finite.
pub fn index_estimates(
    halves: &[Scramble<[Outputs; 2]>],
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
