//! Does the log look like one that the model could have made?
//!
//! Logs of the same rows are made up from the weighted worlds (posterior predictive check; Gelman, Meng & Stern 1996,
//! Statistica Sinica 6:733, from memory) and from the plain ones (prior-data conflict; Evans & Moshonov 2006, Bayesian
//! Analysis 1:893, from memory), and three numbers of the real log are held against theirs.

use super::cells::Plan;
use super::counts::Counts;
use super::range;
use super::sampler::Fit;
use super::surrogate::Pair;
use crate::maths::exp;
use crate::random::{Purpose, normal, stream};
use rand::{Rng, RngExt};

/// What is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aspect {
    /// All strikes of the log.
    Strikes,
    /// How unevenly they fell on days.
    Days,
    /// How unevenly they fell on baits.
    Baits,
}

/// One aspect of the real log among those of made-up ones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Check {
    /// What is compared.
    pub aspect: Aspect,
    /// Of the real log.
    pub seen: f64,
    /// 5 %, 50 %, 95 % points of logs made up after learning.
    pub after: [f64; 3],
    /// Share of logs made up after learning with more, ties counted half.
    pub p_after: f64,
    /// 5 %, 50 %, 95 % points of logs made up before learning.
    pub before: [f64; 3],
    /// Share of logs made up before learning with more, ties counted half.
    pub p_before: f64,
}

impl Check {
    /// Whether a share of made-up logs says that the real one is odd: 5 % of logs are called so by chance for all
    /// strikes (2.5 % each way); days and baits count only when they are too uneven.
    fn odd(&self, p: f64) -> bool {
        let low = if self.aspect == Aspect::Strikes { 0.025 } else { 0.05 };
        p < low || (self.aspect == Aspect::Strikes && p > 1.0 - low)
    }

    /// The model, having learnt, could hardly have made this log.
    pub fn misfit(&self) -> bool {
        self.odd(self.p_after)
    }

    /// What was held plausible before could hardly have made this log.
    pub fn conflict(&self) -> bool {
        self.odd(self.p_before)
    }
}

/// Logs made up on each side.
const MADE_UP: usize = 1000;

/// Compares the log with made-up ones; none for a log without casts.
pub fn checks(plan: &Plan, fit: &Fit, pair: Pair, seed: u64) -> Vec<Check> {
    let counts = &plan.counts;
    if counts.casts() <= 0.0 {
        return Vec::new();
    }
    let mut rng = stream(seed, Purpose::Design, 0x10f);
    let bait_of = baits(plan);
    let seen = aspects(counts, &strikes_of(counts), &bait_of);
    let mut after = Vec::with_capacity(MADE_UP);
    let mut before = Vec::with_capacity(MADE_UP);
    let cumulated: Vec<(f64, usize, f64, f64)> = fit
        .particles()
        .scan(0.0, |sum, (world, particle, weight)| {
            *sum += weight;
            Some((*sum, world, particle.per_cast, particle.day_spread))
        })
        .collect();
    let last = cumulated.len().saturating_sub(1);
    for i in 0..MADE_UP {
        let u = (i as f64 + rng.random::<f64>()) / MADE_UP as f64;
        let (_, world, per_cast, day) = cumulated[cumulated.partition_point(|c| c.0 < u).min(last)];
        let made = make_up(counts, &fit.worlds[world].p, (per_cast, day), pair, &mut rng);
        after.push(aspects(counts, &made, &bait_of));
        let world = rng.random_range(0..fit.plain.max(1));
        let scores = (normal(&mut rng), normal(&mut rng));
        let made = make_up(counts, &fit.worlds[world].p, scores, pair, &mut rng);
        before.push(aspects(counts, &made, &bait_of));
    }
    let one = |(k, aspect): (usize, Aspect)| {
        let of = |all: &[[f64; 3]]| -> Vec<f64> { all.iter().map(|a| a[k]).collect() };
        let (after, before) = (of(&after), of(&before));
        Check {
            aspect,
            seen: seen[k],
            p_after: share_above(&after, seen[k]),
            after: range(&after),
            p_before: share_above(&before, seen[k]),
            before: range(&before),
        }
    };
    [Aspect::Strikes, Aspect::Days, Aspect::Baits]
        .into_iter()
        .enumerate()
        .filter(|(k, _)| match k {
            1 => counts.days.len() > 1,
            2 => bait_of.iter().any(|b| *b != bait_of[0]),
            _ => true,
        })
        .map(one)
        .collect()
}

/// The number of the bait of each cell.
fn baits(plan: &Plan) -> Vec<usize> {
    let mut names: Vec<&str> = Vec::new();
    plan.cells
        .iter()
        .map(|cell| {
            names.iter().position(|n| *n == cell.bait).unwrap_or_else(|| {
                names.push(&cell.bait);
                names.len() - 1
            })
        })
        .collect()
}

fn strikes_of(counts: &Counts) -> Vec<Vec<f64>> {
    counts.days.iter().map(|day| day.iter().map(|c| c.strikes).collect()).collect()
}

/// Strikes of a log with the same casts, made up in one world.
pub fn make_up(
    counts: &Counts,
    p: &[f64],
    (per_cast, day_spread): (f64, f64),
    pair: Pair,
    rng: &mut impl Rng,
) -> Vec<Vec<f64>> {
    let (a, s) = (pair.per_cast.from_normal(per_cast), pair.day_spread.from_normal(day_spread));
    let mut made = Vec::with_capacity(counts.days.len());
    for day in &counts.days {
        let s = counts.spread_of(day, s);
        let m = exp(s * normal(rng) - 0.5 * s * s);
        let strikes = |c: &super::counts::Count, rng: &mut _| {
            let q = -libm::expm1(-a * m * p[c.cell]);
            (0..c.casts as u32)
                .filter(|_| Rng::next_u64(rng) as f64 / 18_446_744_073_709_551_616.0 < q)
                .count() as f64
        };
        made.push(day.iter().map(|c| strikes(c, rng)).collect());
    }
    made
}

/// All strikes; and over days and baits the sum of (strikes - expected)^2 / expected at the log's own rate.
fn aspects(counts: &Counts, strikes: &[Vec<f64>], bait_of: &[usize]) -> [f64; 3] {
    let total: f64 = strikes.iter().flatten().sum();
    let rate = total / counts.casts();
    let uneven = |groups: &[(f64, f64)]| -> f64 {
        groups
            .iter()
            .filter(|g| g.0 * rate > 0.0)
            .map(|(n, y)| (y - n * rate) * (y - n * rate) / (n * rate))
            .sum()
    };
    let days: Vec<(f64, f64)> = counts
        .days
        .iter()
        .zip(strikes)
        .map(|(day, y)| (day.iter().map(|c| c.casts).sum(), y.iter().sum()))
        .collect();
    let mut baits = vec![(0.0, 0.0); bait_of.iter().max().map_or(0, |b| b + 1)];
    for (count, y) in counts.days.iter().flatten().zip(strikes.iter().flatten()) {
        let own = &mut baits[bait_of[count.cell]];
        own.0 += count.casts;
        own.1 += y;
    }
    [total, uneven(&days), uneven(&baits)]
}

fn share_above(made: &[f64], seen: f64) -> f64 {
    let more = made.iter().filter(|v| **v > seen).count() as f64;
    let same = made.iter().filter(|v| **v == seen).count() as f64;
    (more + 0.5 * same) / made.len().max(1) as f64
}
