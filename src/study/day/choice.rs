//! The strikes of a day as numbers to choose by.

use super::changes::{self, Change, Pair, best_cut};
use super::{Plan, Step, TiedOn};
use crate::engine::each;
use crate::statistics::day_plan::{DayPlan, best_plan};
use crate::statistics::estimate::mean;
use crate::statistics::{self, subset};
use crate::study::over_worlds;
use crate::study::sweep::Cube;
use ndarray::{Array2, Axis};

/// Strikes per 100 passes of the whole day, so that steps add up.
pub(super) struct Choice<'a> {
    cube: &'a Cube,
    /// Share of the day's casts in each step.
    shares: Vec<f64>,
    /// Mean over worlds: step x bait.
    gains: Array2<f64>,
    /// Share of the day's casts that a change takes.
    change_share: f64,
    /// What a change costs at the mean rate of the best bait of every step.
    pub cost: f64,
}

impl<'a> Choice<'a> {
    pub fn new(steps: &[Step], cube: &'a Cube, change_casts: f64) -> Self {
        let casts: f64 = steps.iter().map(|s| s.casts).sum();
        let shares: Vec<f64> = steps.iter().map(|s| s.casts / casts).collect();
        let gains =
            Array2::from_shape_fn((steps.len(), cube.baits.len()), |(s, b)| shares[s] * steps[s].means[b]);
        let change_share = change_casts / casts;
        let cost = change_share * best_sum(&gains);
        Self { cube, shares, gains, change_share, cost }
    }

    /// One world: step x bait.
    fn world(&self, d: usize) -> Array2<f64> {
        Array2::from_shape_fn(self.gains.dim(), |(s, b)| {
            self.shares[s] * self.cube.strikes(s, b).and_then(|v| v.get(d)).copied().unwrap_or(0.0)
        })
    }

    /// What a change costs in one world: its share of the day's casts at that world's rate of the baits that are best
    /// in the mean.
    fn cost_in(&self, world: &Array2<f64>) -> f64 {
        let best = |s: usize| world[(s, best_of(self.gains.row(s).iter()))];
        self.change_share * (0..world.nrows()).map(best).sum::<f64>()
    }

    /// A plan valued in every world, what its changes cost there taken off.
    pub fn plan(&self, choices: Vec<usize>, changes: usize) -> Plan {
        let lost = changes as f64 * self.change_share;
        let values: Vec<(f64, f64)> = (0..self.cube.draws)
            .map(|d| {
                let at = |s: usize, b: usize| {
                    self.shares[s] * self.cube.strikes(s, b).and_then(|v| v.get(d)).copied().unwrap_or(0.0)
                };
                let sum = |of: &dyn Fn(usize) -> usize| (0..choices.len()).map(|s| at(s, of(s))).sum::<f64>();
                let free = sum(&|s| best_of(self.gains.row(s).iter()));
                (sum(&|s| choices[s]) - lost * free, free)
            })
            .collect();
        let with: Vec<f64> = values.iter().map(|v| v.0).collect();
        let fewer: Vec<f64> = values.iter().map(|v| v.1 - v.0).collect();
        Plan {
            strikes: over_worlds(&with, self.cube.per_scramble),
            mean: mean(&with).unwrap_or(0.0),
            fewer: over_worlds(&fewer, self.cube.per_scramble),
            mean_fewer: mean(&fewer).unwrap_or(0.0),
            by_world: with,
            choices,
        }
    }

    pub fn one_rod(&self) -> Result<Plan, statistics::Error> {
        let DayPlan { choices, changes, .. } = best_plan(self.gains.view(), self.cost)?;
        Ok(self.plan(choices, changes))
    }

    /// The best plan of each world with one rod, were it known.
    pub fn own_plans(&self) -> Result<Vec<DayPlan>, statistics::Error> {
        each(self.cube.draws, |d| {
            let gains = self.world(d);
            best_plan(gains.view(), self.cost_in(&gains))
        })
        .into_iter()
        .collect()
    }

    pub fn tied_on(&self, rods: usize) -> Result<TiedOn, statistics::Error> {
        let ones = vec![1.0; self.gains.nrows()];
        let set = subset::best(self.gains.t(), &ones, rods)?;
        let best_in = |s: usize| {
            let gain = |b: &usize| self.gains[(s, *b)];
            set.members.iter().copied().reduce(|a, b| if gain(&b) > gain(&a) { b } else { a }).unwrap_or(0)
        };
        let choices: Vec<usize> = (0..self.gains.nrows()).map(best_in).collect();
        // A bait that is never the best of the set adds nothing; its rod is free.
        let baits = set.members.iter().copied().filter(|b| choices.contains(b)).collect();
        Ok(TiedOn { baits, plan: self.plan(choices, 0), proven: set.proven })
    }

    pub fn changes(&self, choices: &[usize], steps: &[Step]) -> Vec<Change> {
        let starts: Vec<usize> =
            (0..choices.len()).filter(|&s| s == 0 || choices[s] != choices[s - 1]).collect();
        let stretch_end = |k: usize| starts.get(k + 1).copied().unwrap_or(choices.len());
        (1..starts.len())
            .map(|k| {
                let (begin, step, end) = (starts[k - 1], starts[k], stretch_end(k));
                let (from, to) = (choices[begin], choices[step]);
                let cuts = each(self.cube.draws, |d| {
                    let gains = self.world(d);
                    let of = |b: usize| (begin..end).map(|s| gains[(s, b)]).collect();
                    best_cut(&Pair { from: of(from), to: of(to), cost: self.cost_in(&gains) })
                });
                let starts_s: Vec<f64> = steps[begin..end].iter().map(|s| s.span_s.0).collect();
                changes::over_worlds((from, to, step), steps[step].span_s.0, &cuts, &starts_s)
            })
            .collect()
    }
}

/// Sum over the steps of the best gain.
fn best_sum(gains: &Array2<f64>) -> f64 {
    gains.axis_iter(Axis(0)).map(|row| row.iter().copied().fold(0.0, f64::max)).sum()
}

/// Place of the greatest, the first of equal ones.
fn best_of<'a>(values: impl Iterator<Item = &'a f64>) -> usize {
    values.enumerate().fold((0, f64::NEG_INFINITY), |best, (i, &v)| if v > best.1 { (i, v) } else { best }).0
}
