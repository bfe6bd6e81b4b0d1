//! From strikes to a verdict: plain arithmetic, whatever made the strikes.
//!
//! The effect of a rule in one world is the mean over its conditions of A - B, strikes per 100 passes. Where the sides
//! fish at different pace, strikes are counted at equal time, per 100 passes at the pace of the scenario started from.
//! A rule about a gain compares A with B x (A/B elsewhere), the ratio being that of the world. The verdict is
//! about the share of plausible worlds ([`crate::statistics::verdict`]); the luck of the simulation within a world only
//! decides what may not be said yet.

use super::table::{ByScramble, Struck};
use super::{Claim, Rule, Test};
use crate::engine::points::SCRAMBLES;
use crate::statistics::Error;
use crate::statistics::estimate::{Estimate, quantile, sorted};
use crate::statistics::verdict::{Evidence, Thresholds, Unclear, Verdict, classify};
use crate::study::{gain, over_worlds, standard_error};

/// Share of worlds in which every single step must go the claimed way for a direction to hold in full.
const EVERY_STEP: f64 = 0.9;

/// A - B in strikes per 100 passes.
#[derive(Debug, Clone, PartialEq)]
pub struct Differences {
    /// Point of the conditions, world.
    pub by_condition: Vec<Vec<f64>>,
    /// Mean over the conditions in each world.
    pub mean: Vec<f64>,
    /// Its standard error by the luck of the passes.
    pub standard_error: Vec<f64>,
    /// World draws per independent scramble of the worlds.
    pub per_scramble: usize,
}

/// The gain that a rule is compared with in one world.
struct Gain {
    /// A over B, means over the points.
    ratio: f64,
    /// How far each scramble is from it, as a share.
    luck: [f64; SCRAMBLES],
}

fn gains(struck: &Struck) -> Option<Vec<Gain>> {
    if struck.over.is_empty() {
        return None;
    }
    let [a, b] = [0, 1].map(|side| by_scramble(&struck.timed_over(side)));
    let one = |(a, b): (&ByScramble, &ByScramble)| {
        let mean = |s: &ByScramble| s.iter().sum::<f64>() / SCRAMBLES as f64;
        let (whole_a, whole_b) = (mean(a), mean(b));
        let both = whole_a > 0.0 && whole_b > 0.0;
        let luck = |k: usize| if both { a[k] / whole_a - b[k] / whole_b } else { 0.0 };
        Gain { ratio: gain(whole_a, whole_b), luck: std::array::from_fn(luck) }
    };
    Some(a.iter().zip(&b).map(one).collect())
}

/// Mean over the points in each world, by scramble.
fn by_scramble(level: &[Vec<ByScramble>]) -> Vec<ByScramble> {
    let worlds = level.first().map_or(0, Vec::len);
    let n = level.len().max(1) as f64;
    let mean = |w: usize| std::array::from_fn(|k| level.iter().map(|c| c[w][k]).sum::<f64>() / n);
    (0..worlds).map(mean).collect()
}

impl Differences {
    /// The first level less the last, at equal time, and over the gain elsewhere where the rule is about one.
    ///
    /// Both levels and all conditions of a world share their passes, so the standard error is that of the mean
    /// difference itself, from the spread of the four scrambles. So few replicates say little: half of each variance is
    /// the world's own, half the mean of all worlds.
    pub fn of(struck: &Struck) -> Self {
        let (a, b) = (struck.timed(0), struck.timed(struck.levels.len().saturating_sub(1)));
        if a.is_empty() {
            return Self { by_condition: vec![], mean: vec![], standard_error: vec![], per_scramble: 1 };
        }
        let worlds = a.first().map_or(0, Vec::len);
        let share = 1.0 / a.len().max(1) as f64;
        let mut scrambles = vec![[0.0; SCRAMBLES]; worlds];
        let gains = gains(struck);
        let mut by_condition = Vec::with_capacity(a.len());
        for (a, b) in a.iter().zip(&b) {
            let mut here = Vec::with_capacity(worlds);
            for (w, (a, b)) in a.iter().zip(b).enumerate() {
                let mut sum = 0.0;
                for k in 0..SCRAMBLES {
                    let d = a[k] - gains.as_ref().map_or(b[k], |g| g[w].ratio * b[k]);
                    sum += d;
                    scrambles[w][k] += share * d;
                }
                here.push(sum / SCRAMBLES as f64);
            }
            by_condition.push(here);
        }
        // The luck of the ratio, to first order; its mean over the scrambles is nothing.
        for (w, gain) in gains.iter().flatten().enumerate() {
            let b = b.iter().map(|c| c[w].iter().sum::<f64>()).sum::<f64>() * share / SCRAMBLES as f64;
            scrambles[w].iter_mut().zip(gain.luck).for_each(|(s, luck)| *s -= gain.ratio * b * luck);
        }
        let mean = scrambles.iter().map(|s| s.iter().sum::<f64>() / SCRAMBLES as f64).collect();
        let own: Vec<f64> = scrambles.iter().map(|s| standard_error(s)).map(|se| se * se).collect();
        let pooled = own.iter().sum::<f64>() / worlds.max(1) as f64;
        let standard_error = own.iter().map(|v| (0.5 * (v + pooled)).sqrt()).collect();
        Self { by_condition, mean, standard_error, per_scramble: struck.per_scramble }
    }

    /// Median over worlds at each point of the conditions.
    pub fn medians(&self) -> Vec<f64> {
        self.by_condition.iter().map(|worlds| median(worlds)).collect()
    }

    /// Mean size of the difference over the conditions, whichever side is ahead, in each world.
    fn sizes(&self) -> Vec<f64> {
        let n = self.by_condition.len().max(1) as f64;
        (0..self.mean.len()).map(|w| self.by_condition.iter().map(|c| c[w].abs()).sum::<f64>() / n).collect()
    }
}

pub(super) fn median(values: &[f64]) -> f64 {
    quantile(&sorted(values), 0.5).unwrap_or(0.0)
}

/// What the model says of a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The verdict; for a rule that claims no difference, [`Verdict::Holds`] means that there is none that matters.
    pub verdict: Verdict,
    /// A - B per 100 passes; for a rule that claims no difference the mean size of the difference.
    pub effect: Estimate,
    /// Share of plausible worlds in which the rule is right, however little it matters: A ahead, or the sizes of the
    /// differences too small to matter.
    pub holds_share: f64,
    /// Share of plausible worlds in which A is ahead by the smallest difference that matters, or more.
    pub matters_share: f64,
    /// Share in which B is.
    pub against_share: f64,
    /// Share of the variance of the sign (over worlds and conditions) that the conditions explain.
    pub conditions_share: f64,
    /// For a direction: share of worlds in which every single step goes the claimed way.
    pub steps_share: Option<f64>,
    /// Mean strikes per 100 passes at each level, middle of the worlds.
    pub levels: Vec<f64>,
    /// Strikes in an hour at the first and the last level, middle of the worlds, where they fish at different pace: the
    /// rule is then judged by these.
    pub per_hour: Option<[f64; 2]>,
    /// For a rule about a gain: A over B where the rule is claimed, and where the gain is compared with.
    pub gains: Option<[Estimate; 2]>,
}

/// Reads a rule.
///
/// # Errors
/// No world, or numbers that are none.
pub fn read(rule: &Rule, struck: &Struck, differences: &Differences) -> Result<Reading, Error> {
    let by_level: Vec<Vec<f64>> = struck.levels.iter().map(|l| level_means(l)).collect();
    let timed: Vec<Vec<f64>> = (0..struck.levels.len()).map(|l| level_means(&struck.timed(l))).collect();
    let steps = matches!(rule.test, Test::Direction { .. }).then(|| every_step(&timed));
    let mut reading = judge(rule.claim, rule.smallest_difference, differences)?;
    reading.steps_share = steps;
    reading.levels = by_level.iter().map(|worlds| median(worlds)).collect();
    if let (Some(a), Some(b)) = (timed.first(), timed.last()) {
        let hour = |worlds: &Vec<f64>| {
            let per_hour = worlds.iter().zip(&struck.passes_per_hour).map(|(s, passes)| s * passes / 100.0);
            median(&per_hour.collect::<Vec<f64>>())
        };
        reading.per_hour = struck.paces.as_ref().map(|_| [hour(a), hour(b)]);
        let over_b = |a: &[f64], b: &[f64]| {
            let ratios: Vec<f64> = a.iter().zip(b).map(|(a, b)| gain(*a, *b)).collect();
            over_worlds(&ratios, struck.per_scramble)
        };
        let [over_a, under] = [0, 1].map(|side| level_means(&struck.timed_over(side)));
        reading.gains = (!struck.over.is_empty()).then(|| [over_b(a, b), over_b(&over_a, &under)]);
    }
    // From end to end, but not step by step: something else than "the more, the less".
    if reading.verdict == Verdict::Holds && steps.is_some_and(|s| s < EVERY_STEP) {
        reading.verdict = Verdict::HoldsWeakly;
    }
    Ok(reading)
}

/// The verdict on differences, strikes per 100 passes; `delta` is the smallest that matters.
///
/// # Errors
/// No world, or numbers that are none.
pub fn judge(claim: Claim, delta: f64, d: &Differences) -> Result<Reading, Error> {
    let thresholds = Thresholds { smallest_difference: delta, ..Thresholds::default() };
    let sizes = d.sizes();
    let (tested, conditions) = match claim {
        Claim::More => (&d.mean, explained(&d.by_condition, |v| v)),
        Claim::Same => (&sizes, explained(&d.by_condition, |v| v.abs() - delta)),
    };
    let evidence = Evidence::from_worlds(tested, &d.standard_error, Some(conditions), &thresholds)?;
    let found = match d.mean.as_slice() {
        // One world, every assumption at its default, is taken at its word.
        [_] => single(&evidence),
        _ => classify(&evidence, &thresholds),
    };
    let undecided = || match conditions > thresholds.conditions {
        true => Verdict::DependsOnConditions,
        false => Verdict::CannotTell(Unclear::AssumptionsDisagree),
    };
    let verdict = match (claim, found) {
        (Claim::More, v) => v,
        (Claim::Same, Verdict::NoDifferenceThatMatters) => Verdict::Holds,
        (Claim::Same, Verdict::Holds) => Verdict::Reversed,
        // A size is never below zero: that says nothing.
        (Claim::Same, Verdict::HoldsWeakly | Verdict::Reversed) => undecided(),
        (Claim::Same, v) => v,
    };
    Ok(Reading {
        verdict,
        effect: over_worlds(tested, d.per_scramble),
        holds_share: if claim == Claim::Same { evidence.within.point } else { evidence.positive.point },
        matters_share: evidence.above.point,
        against_share: evidence.below.point,
        conditions_share: conditions,
        steps_share: None,
        levels: Vec::new(),
        per_hour: None,
        gains: None,
    })
}

/// The verdict of the only world.
fn single(evidence: &Evidence) -> Verdict {
    if evidence.above.point > 0.5 {
        Verdict::Holds
    } else if evidence.below.point > 0.5 {
        Verdict::Reversed
    } else {
        Verdict::NoDifferenceThatMatters
    }
}

/// Share of the variance of the sign of `of(difference)` that the conditions explain: Var(E[s | condition]) / Var(s),
/// less what the means over so few worlds vary by chance. 0 where the sign never changes.
fn explained(by_condition: &[Vec<f64>], of: impl Fn(f64) -> f64) -> f64 {
    let sign = |v: f64| {
        if of(v) > 0.0 {
            1.0
        } else if of(v) < 0.0 {
            0.0
        } else {
            0.5
        }
    };
    let shares: Vec<f64> = by_condition
        .iter()
        .map(|worlds| worlds.iter().map(|v| sign(*v)).sum::<f64>() / worlds.len().max(1) as f64)
        .collect();
    let n = shares.len().max(1) as f64;
    let mean = shares.iter().sum::<f64>() / n;
    let total = mean * (1.0 - mean);
    if total <= 0.0 {
        return 0.0;
    }
    let between = shares.iter().map(|s| (s - mean) * (s - mean)).sum::<f64>() / n;
    let worlds = by_condition.first().map_or(1, Vec::len).max(2) as f64;
    let within = shares.iter().map(|s| s * (1.0 - s)).sum::<f64>() / n;
    ((between - within / (worlds - 1.0)) / total).clamp(0.0, 1.0)
}

/// Mean over the conditions in each world.
fn level_means(level: &[Vec<super::table::ByScramble>]) -> Vec<f64> {
    let worlds = level.first().map_or(0, Vec::len);
    let n = (level.len() * SCRAMBLES).max(1) as f64;
    (0..worlds).map(|w| level.iter().map(|c| c[w].iter().sum::<f64>()).sum::<f64>() / n).collect()
}

/// Share of worlds in which every level is at or above the next.
fn every_step(levels: &[Vec<f64>]) -> f64 {
    let worlds = levels.first().map_or(0, Vec::len);
    let falls = |w: usize| levels.windows(2).all(|pair| pair[0][w] >= pair[1][w]);
    (0..worlds).filter(|&w| falls(w)).count() as f64 / worlds.max(1) as f64
}
