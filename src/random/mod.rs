//! Where every random number comes from: scrambled Sobol points and named generator streams.
//!
//! A number depends on the seed, on what it is for and on its index, never on the thread, the block or
//! the order of evaluation; seed 0 is a seed like any other.

use crate::maths::special::normal_quantile;
use rand::{Rng, RngExt};

/// What a set of points is for; sets of different purposes are scrambled independently.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Draws of what nobody knows about fish.
    Worlds,
    /// Encounters: where the bait is, where the fish hangs, how keen it is.
    Encounters,
    /// Designs of sensitivity studies.
    Design,
    /// Resampling of results.
    Resample,
}

impl Purpose {
    fn number(self) -> u64 {
        match self {
            Purpose::Worlds => 1,
            Purpose::Encounters => 2,
            Purpose::Design => 3,
            Purpose::Resample => 4,
        }
    }
}

/// Mixes seed, purpose and index to 64 well spread bits (splitmix64's finaliser, twice).
pub fn mix(seed: u64, purpose: Purpose, index: u64) -> u64 {
    let finish = |mut z: u64| {
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    };
    let first = finish(seed.wrapping_add(0x9e37_79b9_7f4a_7c15_u64.wrapping_mul(purpose.number())));
    finish(first.wrapping_add(0x9e37_79b9_7f4a_7c15_u64.wrapping_mul(index.wrapping_add(1))))
}

/// A number for a name: FNV-1a, 64 bits.
pub fn key(name: &str) -> u64 {
    name.bytes()
        .fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// A generator for resampling and designs: xoshiro256++, portable and of a fixed definition.
pub fn stream(seed: u64, purpose: Purpose, index: u64) -> rand::rngs::Xoshiro256PlusPlus {
    rand::SeedableRng::seed_from_u64(mix(seed, purpose, index))
}

/// A standard normal deviate by inversion, so that the same generator gives the same bits everywhere.
pub fn normal(rng: &mut impl Rng) -> f64 {
    // 53 bits, moved to the middle of their cell: never 0 or 1.
    normal_quantile(rng.random::<f64>() + 0.5 / (1u64 << 53) as f64)
}

/// Owen-scrambled Sobol points of any dimension, four dimensions to a scramble.
#[derive(Debug, Clone, Copy)]
pub struct ScrambledSobol {
    scramble: u64,
    joint: usize,
}

impl ScrambledSobol {
    /// Longest sequence that keeps its uniformity.
    pub const MOST_POINTS: u32 = 1 << 16;
    /// Dimensions that share one scramble; the next ones take a fresh one (padding, as in Burley 2020, J. Comput.
    /// Graph. Tech. 9(4):1-20). Few points in many dimensions of one Sobol sequence are strongly correlated in
    /// some pairs; the first four dimensions are not, at any power of two of points.
    const BLOCK: usize = 4;
    /// Most dimensions that the generator holds in one scramble.
    const MOST_JOINT: usize = 256;

    /// The scramble number `replicate` of the sequence for `purpose`; replicates are independent.
    pub fn new(seed: u64, purpose: Purpose, replicate: u64) -> Self {
        Self { scramble: mix(seed, purpose, replicate), joint: Self::BLOCK }
    }

    /// The same with `dimensions` (1 to 256) to a scramble: for designs of many points, whose halves must be
    /// uniform together.
    pub fn jointly(self, dimensions: usize) -> Self {
        Self { joint: dimensions.clamp(1, Self::MOST_JOINT), ..self }
    }

    /// Coordinate `dimension` of point `index`, strictly between 0 and 1.
    pub fn at(&self, index: u32, dimension: usize) -> f64 {
        let block = (dimension / self.joint) as u64;
        let bits = self.scramble ^ block.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        let seed = (bits ^ (bits >> 32)) as u32;
        let u = sobol_burley::sample(index % Self::MOST_POINTS, (dimension % self.joint) as u32, seed);
        // The generator gives 24 bits with 0 included; move to the middle of the cell.
        f64::from(u) + 0.5 / f64::from(1u32 << 24)
    }

    /// Coordinate called `name` of point `index` as a standard normal value.
    ///
    /// It depends on the name alone and not on what other coordinates there are; names have scrambles of their own.
    pub fn normal_named(&self, index: u32, name: u64) -> f64 {
        let own = Self { scramble: mix(self.scramble, Purpose::Worlds, name), joint: 1 };
        own.normal(index, 0)
    }

    /// Coordinate `dimension` of point `index` as a standard normal value.
    pub fn normal(&self, index: u32, dimension: usize) -> f64 {
        normal_quantile(self.at(index, dimension))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_open_uniform_and_repeatable_with_seed_zero() {
        let s = ScrambledSobol::new(0, Purpose::Encounters, 0);
        let mean: f64 = (0..1024).map(|i| s.at(i, 3)).sum::<f64>() / 1024.0;
        assert!((mean - 0.5).abs() < 1e-3, "{mean}");
        assert!((0..1024).all(|i| s.at(i, 200) > 0.0 && s.at(i, 200) < 1.0));
        assert_eq!(s.at(17, 5), ScrambledSobol::new(0, Purpose::Encounters, 0).at(17, 5));
        assert_ne!(s.at(17, 5), ScrambledSobol::new(0, Purpose::Encounters, 1).at(17, 5));
        assert_ne!(s.at(17, 5), ScrambledSobol::new(0, Purpose::Worlds, 0).at(17, 5));
        assert_ne!(s.at(17, 5), s.at(17, 5 + 256));
    }

    /// Few points in many dimensions must not be correlated beyond chance.
    #[test]
    fn no_pair_of_coordinates_is_correlated() {
        // 256 points: standard error 1/16; the largest of 4950 pairs stays below 4.5 of them (chance 3e-2).
        let scrambles: Vec<ScrambledSobol> =
            (0..8).map(|r| ScrambledSobol::new(1, Purpose::Worlds, r)).collect();
        let column = |d: usize| -> Vec<f64> {
            let name = key(&format!("parameter.{d}"));
            scrambles.iter().flat_map(|s| (0..32).map(move |i| s.normal_named(i, name))).collect()
        };
        let columns: Vec<Vec<f64>> = (0..100).map(column).collect();
        for i in 0..100 {
            for j in 0..i {
                let dot: f64 = columns[i].iter().zip(&columns[j]).map(|(a, b)| a * b).sum::<f64>() / 256.0;
                assert!(dot.abs() < 4.5 / 16.0, "dimensions {i} and {j}: {dot}");
            }
        }
    }

    /// Every dyadic interval of length 1/256 holds just one of the first 256 points: the property that
    /// makes Sobol points better than random ones.
    #[test]
    fn each_coordinate_is_stratified() {
        let s = ScrambledSobol::new(7, Purpose::Worlds, 2);
        for d in [0, 1, 50, 255, 300] {
            let mut seen = [0; 256];
            (0..256).for_each(|i| seen[(s.at(i, d) * 256.0) as usize] += 1);
            assert!(seen.iter().all(|&n| n == 1), "dimension {d}");
        }
    }
}
