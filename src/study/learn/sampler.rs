//! Weighted worlds: importance sampling from the plain world draws and from draws placed where the log points.
//!
//! 1. Plain world draws (the same as every other command's), simulated in every cell of the log.
//! 2. As many worlds more, placed by the [`Surrogate`]: along its directions Student's t with 7 degrees of freedom
//!    around the peak, covariance 1.44 times that of the peak, everything else as drawn. Weights are prior over the
//!    *mixture* of both (balance heuristic; Veach & Guibas 1995, from memory; Owen & Zhou 2000, J. Am. Stat. Assoc.
//!    95:135), so that no weight exceeds that of the plain draws by more than their share: a defensive mixture
//!    (Hesterberg 1995, Technometrics 37:185, from memory).
//! 3. In each world the pair (passes per cast, spread of days), which costs no simulation, is drawn a few times from a
//!    defensive mixture of its own, placed by that world's own peak; the world's weight is the mean.
//! 4. Pareto smoothing and its k-hat. Where that or the effective number of worlds does not do, once more with a picture
//!    and a place fitted to the weighted worlds; where it still does not do, no answer.

use super::counts::{Counts, ln_struck};
use super::proposal::{Placed, WIDER, along, defended, flattened};
use super::surrogate::{Pair, Peak, Surrogate};
use crate::engine::each;
use crate::maths::{exp, ln};
use crate::models::ModelsError;
use crate::models::draw::WORLD_SCRAMBLES;
use crate::random::{Purpose, ScrambledSobol, normal, stream};
use crate::statistics::psis::smooth;

/// A model that gives strikes per pass.
pub trait LogModel: Sync {
    /// A number for the name of every unknown; draws depend on it alone.
    fn keys(&self) -> &[u64];
    /// Strikes per pass in every cell, for each world of standard scores.
    ///
    /// # Errors
    /// [`FitError`]: stopped, or a model without a parameter it needs.
    fn strikes(&self, scores: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, FitError>;
}

/// Why there is nothing to say.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FitError {
    /// View to stop.
    #[error("stopped: nothing was learnt")]
    Stopped,
    /// The model is incomplete.
    #[error(transparent)]
    Models(#[from] ModelsError),
    /// A log that cannot be under any world drawn.
    #[error(
        "no plausible world gives the strikes of this log: they stand where the model has none at all (no light and no \
         sound, water too clear or too muddy, a fish that cannot catch the bait); check the conditions of the rows with \
         strikes against the scenario"
    )]
    Impossible,
    /// Weights that cannot be trusted.
    #[error(
        "the fit is not to be trusted, so nothing is said: k-hat {k_hat:.2} (at most {limit:.2}), and the weighted worlds \
         are worth {effective:.0} ({least} at least). A few worlds carry all the weight: the log lies far from what was \
         held plausible, or holds much more than {worlds} worlds can follow. Check the log and the scenario for slips; \
         then try --worlds {next}"
    )]
    NotTrusted {
        /// Shape of the tail of the weights.
        k_hat: f64,
        /// Its limit.
        limit: f64,
        /// Effective number of worlds.
        effective: f64,
        /// Least that is let pass.
        least: usize,
        /// Worlds simulated.
        worlds: usize,
        /// Draws to try next.
        next: usize,
    },
}

/// Draws of the pair in each world.
pub const PAIRS: usize = 4;
/// Fewer effective worlds than this, and the placing is done once more.
const ENOUGH_WORLDS: f64 = 300.0;
/// Fewer than this, and nothing is said: a 5 % point would rest on five worlds.
pub const LEAST_WORLDS: f64 = 100.0;

/// One draw of the pair in one world.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Particle {
    /// Standard score of passes per cast.
    pub per_cast: f64,
    /// Standard score of the spread of days.
    pub day_spread: f64,
    /// ln likelihood of the log.
    pub ln_likelihood: f64,
    /// Share of its world's weight.
    pub share: f64,
}

/// One world.
#[derive(Debug, Clone, PartialEq)]
pub struct WeightedWorld {
    /// Independent standard scores of every unknown.
    pub scores: Vec<f64>,
    /// Strikes per pass in each cell.
    pub p: Vec<f64>,
    /// Which of the independent scrambles it is from.
    pub scramble: usize,
    /// Draws of the pair.
    pub pairs: Vec<Particle>,
    /// ln of the mean weight of its pairs, times prior over mixture once that is known.
    ln_inner: f64,
    /// Weight; all add up to 1.
    pub weight: f64,
}

/// What the log made of the worlds.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The worlds; the first `plain` are the plain draws.
    pub worlds: Vec<WeightedWorld>,
    /// Plain draws.
    pub plain: usize,
    /// Shape of the tail of the weights.
    pub k_hat: f64,
    /// The largest that is trusted.
    pub k_limit: f64,
    /// Effective number of worlds.
    pub effective: f64,
    /// ln of the probability of the log under the prior, without binomial coefficients.
    pub ln_evidence: f64,
    /// Whether the placing was done twice.
    pub adapted: bool,
    /// Directions in which draws were placed.
    pub directions: usize,
}

/// Plain draws, simulated: of use for several logs of the same cells.
#[derive(Debug, Clone, PartialEq)]
pub struct PlainDraws {
    /// Standard scores of every unknown, one list per world, scramble after scramble.
    pub scores: Vec<Vec<f64>>,
    /// Strikes per pass in each cell, one list per world.
    pub p: Vec<Vec<f64>>,
}

impl PlainDraws {
    /// Draws and simulates; `count` is rounded as that of world draws is.
    ///
    /// # Errors
    /// As [`LogModel::strikes`].
    pub fn new(model: &impl LogModel, seed: u64, count: usize) -> Result<Self, FitError> {
        let scores = plain_scores(model.keys(), seed, count, 0);
        Ok(Self { p: model.strikes(&scores)?, scores })
    }
}

/// Plain scores: of stage 0 those of [`crate::models::Worlds::drawn`], of others independent ones.
pub fn plain_scores(keys: &[u64], seed: u64, count: usize, stage: usize) -> Vec<Vec<f64>> {
    let each_scramble = count.div_ceil(WORLD_SCRAMBLES).max(1).next_power_of_two();
    (0..WORLD_SCRAMBLES)
        .flat_map(|s| {
            let points = ScrambledSobol::new(seed, Purpose::Worlds, (stage * WORLD_SCRAMBLES + s) as u64);
            (0..each_scramble).map(move |i| keys.iter().map(|&k| points.normal_named(i as u32, k)).collect())
        })
        .collect()
}

/// Fits a log.
///
/// # Errors
/// [`FitError`]: stopped, impossible, or not to be trusted.
pub fn fit(
    model: &impl LogModel,
    counts: &Counts,
    pair: Pair,
    plain: &PlainDraws,
    seed: u64,
) -> Result<Fit, FitError> {
    let mut sampler = Sampler::new(counts, pair, plain, seed);
    if counts.casts() <= 0.0 {
        return Ok(sampler.untouched());
    }
    let count = plain.scores.len();
    sampler.extend(model, count)?;
    let mut fit = sampler.weighted()?;
    if fit.k_hat >= fit.k_limit || fit.effective < ENOUGH_WORLDS.min(0.15 * count as f64) {
        sampler.place_again();
        sampler.extend(model, count)?;
        fit = Fit { adapted: true, ..sampler.weighted()? };
    }
    if fit.k_hat >= fit.k_limit || fit.effective < LEAST_WORLDS {
        return Err(FitError::NotTrusted {
            k_hat: fit.k_hat,
            limit: fit.k_limit,
            effective: fit.effective,
            least: LEAST_WORLDS as usize,
            worlds: fit.worlds.len(),
            next: 4 * count,
        });
    }
    Ok(fit)
}

struct Sampler<'a> {
    counts: &'a Counts,
    totals: Vec<(f64, f64)>,
    pair: Pair<'a>,
    seed: u64,
    plain: usize,
    directions: usize,
    peak: Peak,
    /// Components, each with the worlds drawn from it; none is a plain one.
    components: Vec<(Option<Placed>, usize)>,
    worlds: Vec<WeightedWorld>,
    next: Option<Placed>,
}

impl<'a> Sampler<'a> {
    fn new(counts: &'a Counts, pair: Pair<'a>, plain: &PlainDraws, seed: u64) -> Self {
        let even = vec![1.0 / plain.scores.len().max(1) as f64; plain.scores.len()];
        let surrogate = Surrogate::fit(&plain.scores, &plain.p, &even, counts);
        let peak = surrogate.peak(counts, pair);
        let next = Placed::new(&surrogate, &peak);
        let mut sampler = Self {
            counts,
            totals: counts.by_cell(),
            pair,
            seed,
            plain: plain.scores.len(),
            directions: surrogate.directions(),
            peak,
            components: vec![(None, plain.scores.len())],
            worlds: Vec::new(),
            next,
        };
        sampler.add(plain.scores.clone(), plain.p.clone());
        sampler
    }

    /// Plain draws with equal weights: what a log without casts leaves.
    fn untouched(self) -> Fit {
        let n = self.worlds.len();
        let one = |(i, mut w): (usize, WeightedWorld)| {
            let mut rng = stream(self.seed, Purpose::Resample, i as u64);
            let particle = |_| Particle {
                per_cast: normal(&mut rng),
                day_spread: normal(&mut rng),
                ln_likelihood: 0.0,
                share: 1.0 / PAIRS as f64,
            };
            w.pairs = (0..PAIRS).map(particle).collect();
            w.weight = 1.0 / n as f64;
            w
        };
        Fit {
            worlds: self.worlds.into_iter().enumerate().map(one).collect(),
            plain: n,
            k_hat: 0.0,
            k_limit: 0.7,
            effective: n as f64,
            ln_evidence: 0.0,
            adapted: false,
            directions: 0,
        }
    }

    /// Adds worlds with their pairs.
    fn add(&mut self, scores: Vec<Vec<f64>>, p: Vec<Vec<f64>>) {
        let start = self.worlds.len();
        let each_scramble = (scores.len() / WORLD_SCRAMBLES).max(1);
        let made = each(scores.len(), |i| self.pairs(start + i, &p[i]));
        for (i, ((scores, p), (pairs, ln_inner))) in scores.into_iter().zip(p).zip(made).enumerate() {
            let scramble = (i / each_scramble).min(WORLD_SCRAMBLES - 1);
            self.worlds.push(WeightedWorld { scores, p, scramble, pairs, ln_inner, weight: 0.0 });
        }
    }

    /// Draws `count` worlds from the component that is next, and simulates them.
    fn extend(&mut self, model: &impl LogModel, count: usize) -> Result<(), FitError> {
        let stage = self.components.len();
        let mut scores = plain_scores(model.keys(), self.seed, count, stage);
        if let Some(placed) = &self.next {
            let basis = &placed.basis;
            for (i, z) in scores.iter_mut().enumerate() {
                // Streams of their own: below 2^32 pairs are drawn.
                let mut rng = stream(self.seed, Purpose::Resample, ((stage as u64) << 32) + i as u64);
                let (from, to) = (along(basis, z), placed.draw(&mut rng));
                for (k, (f, t)) in from.iter().zip(&to).enumerate() {
                    z.iter_mut().enumerate().for_each(|(j, z)| *z += basis[(j, k)] * (t - f));
                }
            }
        }
        let p = model.strikes(&scores)?;
        self.components.push((self.next.take(), scores.len()));
        self.add(scores, p);
        Ok(())
    }

    /// The pair's draws in one world, and ln of their mean weight.
    fn pairs(&self, index: usize, p: &[f64]) -> (Vec<Particle>, f64) {
        let mut rng = stream(self.seed, Purpose::Resample, index as u64);
        let (mode, information, slope) = self.level(p);
        let all: Vec<(Particle, f64)> = (0..PAIRS)
            .map(|_| {
                let (day_spread, ln_day) =
                    defended(&mut rng, self.peak.day.0, WIDER.sqrt() * self.peak.day.1);
                let spread = self.pair.day_spread.from_normal(day_spread);
                let (per_cast, ln_level) = if slope > 0.0 && information > 0.0 {
                    let of_days = spread * spread * self.counts.concentration() / (slope * slope);
                    let sd = (WIDER / (1.0 + 1.0 / (1.0 / information + of_days))).sqrt();
                    defended(&mut rng, mode, sd)
                } else {
                    (normal(&mut rng), 0.0)
                };
                let a = self.pair.per_cast.from_normal(per_cast);
                let rates: Vec<f64> = p.iter().map(|p| a * p).collect();
                let ln_likelihood = self.counts.ln_likelihood(&rates, spread);
                (
                    Particle { per_cast, day_spread, ln_likelihood, share: 0.0 },
                    ln_likelihood + ln_day + ln_level,
                )
            })
            .collect();
        let top = all.iter().map(|a| a.1).fold(f64::NEG_INFINITY, f64::max);
        if !top.is_finite() {
            return (all.into_iter().map(|a| a.0).collect(), f64::NEG_INFINITY);
        }
        let sum: f64 = all.iter().map(|a| exp(a.1 - top)).sum();
        let pairs = all.into_iter().map(|(p, l)| Particle { share: exp(l - top) / sum, ..p }).collect();
        (pairs, top + ln(sum / PAIRS as f64))
    }

    /// The most likely score of passes per cast in a world without day effects, what the log tells of it there, and
    /// how fast ln of passes per cast grows with the score.
    fn level(&self, p: &[f64]) -> (f64, f64, f64) {
        const STEP: f64 = 0.01;
        let missed: f64 = self.totals.iter().zip(p).map(|((n, y), p)| (n - y) * p).sum();
        let hits: Vec<(f64, f64)> =
            self.totals.iter().zip(p).filter(|(t, _)| t.1 > 0.0).map(|((_, y), p)| (*y, *p)).collect();
        let value = |z: f64| self.pair.per_cast.from_normal(z);
        let f = |z: f64| {
            let a = value(z);
            hits.iter().map(|(y, p)| y * ln_struck((a * p).max(1e-300))).sum::<f64>() - a * missed
        };
        let curved = |z: f64| {
            let (up, here, down) = (f(z + STEP), f(z), f(z - STEP));
            ((up - down) / (2.0 * STEP) - z, (up - 2.0 * here + down) / (STEP * STEP))
        };
        let mut z: f64 = 0.0;
        for _ in 0..30 {
            let (first, second) = curved(z);
            let step = (first / (1.0 - second).max(0.1)).clamp(-1.0, 1.0);
            z = (z + step).clamp(-5.0, 5.0);
            if step.abs() < 1e-3 {
                break;
            }
        }
        let slope = ln(value(z + STEP) / value(z - STEP)) / (2.0 * STEP);
        (z, (-curved(z).1).max(0.0), slope)
    }

    /// ln of plain density over that of the mixture.
    fn ln_outer(&self, scores: &[f64]) -> f64 {
        let total: usize = self.components.iter().map(|c| c.1).sum();
        let sum: f64 = self
            .components
            .iter()
            .map(|(placed, count)| {
                let ratio = placed.as_ref().map_or(1.0, |p| exp(p.ln_ratio(scores).min(600.0)));
                ratio * *count as f64 / total as f64
            })
            .sum();
        -ln(sum)
    }

    fn weighted(&mut self) -> Result<Fit, FitError> {
        let ratios: Vec<f64> = self.worlds.iter().map(|w| w.ln_inner + self.ln_outer(&w.scores)).collect();
        let smoothed = smooth(&ratios).map_err(|_| FitError::Impossible)?;
        self.worlds.iter_mut().zip(&smoothed.weights).for_each(|(w, v)| w.weight = *v);
        let top = ratios.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mean = ratios.iter().map(|r| exp(r - top)).sum::<f64>() / ratios.len() as f64;
        Ok(Fit {
            plain: self.plain,
            k_hat: smoothed.k_hat,
            k_limit: smoothed.k_limit(),
            effective: smoothed.effective_size,
            ln_evidence: top + ln(mean),
            adapted: false,
            directions: self.directions,
            worlds: self.worlds.clone(),
        })
    }

    /// A picture fitted to the weighted worlds, flattened until enough of them count, and the place it gives: near the
    /// worlds that count a line fits better than over all of them.
    fn place_again(&mut self) {
        let flat = flattened(&self.worlds.iter().map(|w| w.weight).collect::<Vec<_>>());
        let scores: Vec<Vec<f64>> = self.worlds.iter().map(|w| w.scores.clone()).collect();
        let p: Vec<Vec<f64>> = self.worlds.iter().map(|w| w.p.clone()).collect();
        let surrogate = Surrogate::fit(&scores, &p, &flat, self.counts);
        self.peak = surrogate.peak(self.counts, self.pair);
        self.directions = surrogate.directions();
        self.next = Placed::new(&surrogate, &self.peak);
    }
}

impl Fit {
    /// All draws of world and pair with their weights: scores of the pair, place of the world, weight.
    pub fn particles(&self) -> impl Iterator<Item = (usize, &Particle, f64)> {
        let all = self.worlds.iter().enumerate();
        all.flat_map(|(i, w)| w.pairs.iter().map(move |p| (i, p, w.weight * p.share)))
    }
}
