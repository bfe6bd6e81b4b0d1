//! The luck of the cast: quasi-random passes, the same for every bait and every condition.

use super::encounter::Pass;
use crate::random::{Purpose, ScrambledSobol};

/// Independent scrambles among the passes of one world.
pub const SCRAMBLES: usize = 4;
/// Passes worked out together.
pub const LANES: usize = 64;

/// The passes of one world, as columns.
#[derive(Debug, Clone, PartialEq)]
pub struct Passes {
    /// Fraction of the retrieve.
    pub along: Vec<f64>,
    /// Side.
    pub side: Vec<f64>,
    /// Depth of the fish, standard score.
    pub hang: Vec<f64>,
    /// Eye, standard score.
    pub eye: Vec<f64>,
    /// Wariness, standard score.
    pub wary: Vec<f64>,
    /// Easy speed, standard score.
    pub pace: Vec<f64>,
}

impl Passes {
    /// The passes of world number `world`: `count` (rounded up to [`LANES`] times a power of two), in
    /// [`SCRAMBLES`] independent scrambles one after the other.
    pub fn of_world(seed: u64, world: usize, count: usize) -> Self {
        let count = count.div_ceil(LANES).max(1).next_power_of_two() * LANES;
        let each = count / SCRAMBLES;
        let column = |dimension: usize, normal: bool| -> Vec<f64> {
            (0..SCRAMBLES)
                .flat_map(|s| {
                    let replicate = (world * SCRAMBLES + s) as u64;
                    let points = ScrambledSobol::new(seed, Purpose::Encounters, replicate);
                    (0..each).map(move |i| {
                        if normal {
                            points.normal(i as u32, dimension)
                        } else {
                            points.at(i as u32, dimension)
                        }
                    })
                })
                .collect()
        };
        Self {
            along: column(0, false),
            side: column(1, false).into_iter().map(|u| 2.0 * u - 1.0).collect(),
            hang: column(2, true),
            eye: column(3, true),
            wary: column(4, true),
            pace: column(5, true),
        }
    }

    /// Number of passes.
    pub fn len(&self) -> usize {
        self.along.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.along.is_empty()
    }

    /// Pass number `i`.
    pub fn get(&self, i: usize) -> Pass {
        Pass {
            along: self.along[i],
            side: self.side[i],
            hang: self.hang[i],
            eye: self.eye[i],
            wary: self.wary[i],
            pace: self.pace[i],
        }
    }
}
