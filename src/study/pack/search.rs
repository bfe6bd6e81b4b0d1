//! The search for sets, and how they stand in every world.

use super::conditions::{Condition, SCRAMBLES};
use super::{Member, Set, Size};
use crate::engine::each;
use crate::statistics::estimate::{Estimate, mean, weighted_quantile};
use crate::statistics::subset::{self, Subset};
use crate::statistics::{self};
use crate::study::sweep::Cube;
use crate::study::{over_worlds, standard_error};
use ndarray::Array2;

/// Sets whose values are closer than this, strikes per 100 passes, are the same but for rounding.
pub(super) const SAME: f64 = 1e-9;
/// Sizes beyond the one wanted that are told, and sizes told at least.
const BEYOND: usize = 2;
const FEWEST_SIZES: usize = 6;
/// Nodes of the search in one world: many times what such boxes take.
const NODES_PER_WORLD: usize = 20_000;

/// Share of values for which something holds.
pub(super) fn share(values: &[f64], holds: impl Fn(f64) -> bool) -> f64 {
    values.iter().filter(|v| holds(**v)).count() as f64 / values.len().max(1) as f64
}

pub(super) struct Search<'a> {
    conditions: &'a [Condition],
    cube: &'a Cube,
    /// Mean over worlds: bait x condition.
    means: Array2<f64>,
    weights: Vec<f64>,
}

impl<'a> Search<'a> {
    pub fn new(conditions: &'a [Condition], cube: &'a Cube) -> Self {
        let means = Array2::from_shape_fn((cube.baits.len(), conditions.len()), |(b, c)| {
            cube.strikes(c, b).and_then(mean).unwrap_or(0.0)
        });
        Self { conditions, cube, means, weights: conditions.iter().map(|c| c.weight).collect() }
    }

    fn at(&self, c: usize, b: usize, d: usize) -> f64 {
        self.cube.strikes(c, b).and_then(|v| v.get(d)).copied().unwrap_or(0.0)
    }

    /// The bait of a set to throw in each condition; of equal ones the first in the set.
    pub fn thrown(&self, set: &[usize]) -> Vec<usize> {
        let better =
            |c: usize| move |a: usize, b: usize| if self.means[(b, c)] > self.means[(a, c)] { b } else { a };
        (0..self.conditions.len()).map(|c| set.iter().copied().reduce(better(c)).unwrap_or(0)).collect()
    }

    /// Strikes per 100 passes of a set in every world.
    fn worlds(&self, set: &[usize]) -> Vec<f64> {
        let thrown = self.thrown(set);
        let in_world = |d: usize| {
            thrown.iter().enumerate().map(|(c, &b)| self.weights[c] * self.at(c, b, d)).sum::<f64>()
        };
        (0..self.cube.draws).map(in_world).collect()
    }

    pub fn over_worlds(&self, values: &[f64]) -> (Estimate, f64) {
        (over_worlds(values, self.cube.per_scramble), mean(values).unwrap_or(0.0))
    }

    /// A set as it is told: without baits never thrown, the most thrown first.
    fn told(&self, found: &Subset) -> Set {
        let thrown = self.thrown(&found.members);
        let often = |b: usize| {
            thrown.iter().zip(&self.weights).filter(|(t, _)| **t == b).map(|(_, w)| w).sum::<f64>()
        };
        let mut baits: Vec<usize> = found.members.iter().copied().filter(|b| thrown.contains(b)).collect();
        baits.sort_by(|&a, &b| often(b).total_cmp(&often(a)).then(a.cmp(&b)));
        let (strikes, mean) = self.over_worlds(&self.worlds(&baits));
        Set { strikes, mean, sampling_se: self.sampling_se(&thrown), proven: found.proven, baits }
    }

    /// Error of the mean by the sample of conditions, from the independent samples it comes in.
    fn sampling_se(&self, thrown: &[usize]) -> f64 {
        let of = |k: usize| {
            let part = || (0..self.conditions.len()).filter(move |&c| self.conditions[c].scramble == k);
            let weight: f64 = part().map(|c| self.weights[c]).sum();
            part().map(|c| self.weights[c] * self.means[(thrown[c], c)]).sum::<f64>() / weight
        };
        let values: Vec<f64> = (0..SCRAMBLES).map(of).filter(|v| v.is_finite()).collect();
        standard_error(&values)
    }

    /// The best sets from one bait to some more than wanted.
    pub fn sizes(&self, carry: usize) -> Result<Vec<Size>, statistics::Error> {
        let most = (carry + BEYOND).max(FEWEST_SIZES).min(self.cube.baits.len());
        let mut sizes: Vec<Size> = Vec::with_capacity(most);
        let mut before: Option<Vec<f64>> = None;
        for size in 1..=most {
            let best = self.told(&subset::best(self.means.view(), &self.weights, size)?);
            let greedy = self.told(&subset::greedy(self.means.view(), &self.weights, size)?);
            let worlds = self.worlds(&best.baits);
            let more: Vec<f64> = match &before {
                Some(before) => worlds.iter().zip(before).map(|(now, then)| now - then).collect(),
                None => worlds.clone(),
            };
            let (adds, mean_adds) = self.over_worlds(&more);
            sizes.push(Size { size, best, greedy, adds, mean_adds });
            before = Some(worlds);
        }
        Ok(sizes)
    }

    /// One world: bait x condition.
    fn world(&self, d: usize) -> Array2<f64> {
        Array2::from_shape_fn(self.means.dim(), |(b, c)| self.at(c, b, d))
    }

    /// The best set of each world, were it known.
    pub fn own_sets(&self, size: usize) -> Result<Vec<Subset>, statistics::Error> {
        each(self.cube.draws, |d| {
            let rates = self.world(d);
            let found = subset::best_within(rates.view(), &self.weights, size, NODES_PER_WORLD)?;
            // A bait that is the best nowhere is in the set by its number only.
            let used = |b: &usize| {
                let others: Vec<usize> = found.members.iter().copied().filter(|o| o != b).collect();
                subset::value(rates.view(), &self.weights, &others) < found.value - SAME
            };
            let members = found.members.iter().copied().filter(used).collect();
            Ok(Subset { members, ..found })
        })
        .into_iter()
        .collect()
    }

    /// What a set lacks in each world against the best set of that world, the world known.
    pub fn lost_to(&self, set: &[usize], own: &[Subset]) -> Vec<f64> {
        each(own.len(), |d| (own[d].value - subset::value(self.world(d).view(), &self.weights, set)).max(0.0))
    }

    /// Share of worlds in whose best set each bait is.
    pub fn inclusion(&self, own: &[Subset]) -> Vec<f64> {
        let count = |b: usize| own.iter().filter(|s| s.members.contains(&b)).count();
        (0..self.cube.baits.len()).map(|b| count(b) as f64 / own.len().max(1) as f64).collect()
    }

    /// What having every bait at hand would add to a set.
    pub fn without_limit(&self, set: &[usize]) -> (Estimate, f64) {
        let all: Vec<usize> = (0..self.cube.baits.len()).collect();
        let more: Vec<f64> =
            self.worlds(&all).iter().zip(self.worlds(set)).map(|(all, set)| all - set).collect();
        self.over_worlds(&more)
    }

    /// What each bait of a set does.
    pub fn members(&self, set: &[usize]) -> Vec<Member> {
        let thrown = self.thrown(set);
        let value = |set: &[usize]| subset::value(self.means.view(), &self.weights, set);
        let whole = value(set);
        set.iter()
            .map(|&bait| {
                let others: Vec<usize> = set.iter().copied().filter(|&o| o != bait).collect();
                let swapped = (0..self.cube.baits.len()).filter(|b| !set.contains(b)).map(|b| {
                    let with: Vec<usize> = others.iter().copied().chain([b]).collect();
                    (b, whole - value(&with))
                });
                Member {
                    bait,
                    thrown: thrown
                        .iter()
                        .zip(&self.weights)
                        .filter(|(t, _)| **t == bait)
                        .map(|(_, w)| w)
                        .sum(),
                    without: whole - value(&others),
                    substitute: swapped.min_by(|a, b| a.1.total_cmp(&b.1)),
                    where_thrown: self.where_thrown(&thrown, bait),
                }
            })
            .collect()
    }

    fn where_thrown(&self, thrown: &[usize], bait: usize) -> Vec<[f64; 3]> {
        let here: Vec<usize> = (0..thrown.len()).filter(|&c| thrown[c] == bait).collect();
        let weights: Vec<f64> = here.iter().map(|&c| self.weights[c]).collect();
        let axes = self.conditions.first().map_or(0, |c| c.values.len());
        (0..axes)
            .map(|k| {
                let values: Vec<f64> = here.iter().map(|&c| self.conditions[c].values[k]).collect();
                [0.1, 0.5, 0.9].map(|q| weighted_quantile(&values, &weights, q).unwrap_or(f64::NAN))
            })
            .collect()
    }
}
