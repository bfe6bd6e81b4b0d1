//! Ranks of truths among draws of the posterior: simulation-based calibration.
//!
//! Draw a truth from the prior, make a log up from it, fit the log, and note the rank of the truth among draws of the
//! posterior. If the fit is right, every rank is as likely as any other (Talts, Betancourt, Simpson, Vehtari & Gelman
//! 2018, arXiv:1804.06788), also that of the log's likelihood (Modrak et al. 2023, Bayesian Analysis,
//! doi:10.1214/23-BA1404, from memory).

use callup::maths::ln;
use callup::models::Parameter;
use callup::random::{Purpose, normal, stream};
use callup::study::learn::check::make_up;
use callup::study::learn::counts::{Count, Counts};
use callup::study::learn::sampler::{Fit, FitError, LogModel, PlainDraws, fit};
use callup::study::learn::surrogate::Pair;
use rand::{Rng, RngExt};
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Draws of the posterior in which a truth is ranked; ranks run from 0 to this.
pub const RANKED: usize = 99;
/// Bins of the ranks; divides [`RANKED`] + 1.
pub const BINS: usize = 20;

/// The ranks of one quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranks {
    /// What is ranked.
    pub name: String,
    /// Truths in each bin of ranks.
    pub counts: Vec<usize>,
}

impl Ranks {
    /// Chi-square against even counts, with [`BINS`] - 1 degrees of freedom.
    pub fn chi_square(&self) -> f64 {
        let expected = self.counts.iter().sum::<usize>() as f64 / self.counts.len() as f64;
        self.counts.iter().map(|&n| (n as f64 - expected) * (n as f64 - expected) / expected).sum()
    }

    /// The chance of a chi-square at least as large if ranks are even.
    pub fn p(&self) -> f64 {
        let freedom = self.counts.len().saturating_sub(1) as f64;
        ChiSquared::new(freedom).expect("bins").sf(self.chi_square())
    }
}

/// The outcome.
#[derive(Debug, Clone, PartialEq)]
pub struct Calibration {
    /// Ranks of each quantity.
    pub ranks: Vec<Ranks>,
    /// Logs fitted.
    pub fitted: usize,
    /// Logs refused as not to be trusted; left out of the ranks.
    pub refused: usize,
}

/// Ranks truths in the fits of `logs` made-up logs with the casts of `casts`; the truth of the pair is drawn from
/// `truly`, which is `pair` itself unless a wrong fit is to be shown up. The quantities: the two of the pair, ln of
/// the mean strikes per cast, ln of the ratio of the first two cells, the unknowns numbered in `unknowns`, and the
/// likelihood.
///
/// # Errors
/// [`FitError`] other than a fit that is not to be trusted.
pub fn calibrate(
    model: &impl LogModel,
    casts: &Counts,
    (pair, truly): (Pair, Pair),
    plain: &PlainDraws,
    unknowns: &[usize],
    (logs, seed): (usize, u64),
) -> Result<Calibration, FitError> {
    let mut names =
        vec!["passes per cast".to_owned(), "spread of days".into(), "mean strikes per cast".into()];
    names.push("ratio of two cells".into());
    names.extend(unknowns.iter().map(|u| format!("unknown {u}")));
    names.push("likelihood".into());
    let empty = |name| Ranks { name, counts: vec![0; BINS] };
    let mut outcome = Calibration { ranks: names.into_iter().map(empty).collect(), fitted: 0, refused: 0 };
    let truths: Vec<Vec<f64>> = (0..logs)
        .map(|i| {
            let mut rng = stream(seed, Purpose::Design, 2 * i as u64);
            model.keys().iter().map(|_| normal(&mut rng)).collect()
        })
        .collect();
    let strikes = model.strikes(&truths)?;
    for (i, (truth, p)) in truths.iter().zip(&strikes).enumerate() {
        let mut rng = stream(seed, Purpose::Design, 2 * i as u64 + 1);
        let scores = (normal(&mut rng), normal(&mut rng));
        let made = make_up(casts, p, scores, truly, &mut rng);
        // The same numbers as scores of the pair that is fitted.
        let scores = (
            as_score(&scores.0, truly.per_cast, pair.per_cast),
            as_score(&scores.1, truly.day_spread, pair.day_spread),
        );
        let day = |(day, y): (&Vec<Count>, &Vec<f64>)| {
            day.iter().zip(y).map(|(c, y)| Count { strikes: *y, ..*c }).collect()
        };
        let log = Counts {
            days: casts.days.iter().zip(&made).map(day).collect(),
            cells: casts.cells,
            alike: casts.alike,
        };
        let fit = match fit(model, &log, pair, plain, seed.wrapping_add(1 + i as u64)) {
            Ok(fit) => fit,
            Err(FitError::NotTrusted { .. } | FitError::Impossible) => {
                outcome.refused += 1;
                continue;
            }
            Err(other) => return Err(other),
        };
        let rates = rates(p, pair, scores.0);
        let likelihood = log.ln_likelihood(&rates, pair.day_spread.from_normal(scores.1));
        let of_truth = quantities(&log, p, truth, pair, scores, likelihood, unknowns);
        let drawn = resample(&fit, &mut rng);
        let all: Vec<Vec<f64>> = drawn
            .iter()
            .map(|&(world, pair_scores, likelihood)| {
                let w = &fit.worlds[world];
                quantities(&log, &w.p, &w.scores, pair, pair_scores, likelihood, unknowns)
            })
            .collect();
        for (k, ranks) in outcome.ranks.iter_mut().enumerate() {
            let below = all.iter().filter(|q| q[k] < of_truth[k]).count();
            let same = all.iter().filter(|q| q[k] == of_truth[k]).count();
            let rank = below + rng.random_range(0..=same);
            ranks.counts[rank * BINS / (RANKED + 1)] += 1;
        }
        outcome.fitted += 1;
    }
    Ok(outcome)
}

/// The score at which `to` has the value that `from` has at `score`, by bisection.
fn as_score(score: &f64, from: &Parameter, to: &Parameter) -> f64 {
    if from == to {
        return *score;
    }
    let wanted = from.from_normal(*score);
    let (mut low, mut high) = (-40.0, 40.0);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if to.from_normal(middle) < wanted { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

fn rates(p: &[f64], pair: Pair, per_cast: f64) -> Vec<f64> {
    let a = pair.per_cast.from_normal(per_cast);
    p.iter().map(|p| a * p).collect()
}

fn quantities(
    log: &Counts,
    p: &[f64],
    scores: &[f64],
    pair: Pair,
    (per_cast, day): (f64, f64),
    likelihood: f64,
    unknowns: &[usize],
) -> Vec<f64> {
    let own = rates(p, pair, per_cast);
    let mean: f64 = log.by_cell().iter().zip(&own).map(|((n, _), r)| n * r).sum();
    let ratio = ln(own.first().copied().unwrap_or(1.0).max(1e-300))
        - ln(own.get(1).copied().unwrap_or(1.0).max(1e-300));
    let mut all = vec![per_cast, day, ln(mean.max(1e-300)), ratio];
    all.extend(unknowns.iter().map(|&u| scores[u]));
    all.push(likelihood);
    all
}

/// Draws of world and pair by weight: world, scores of the pair, likelihood.
fn resample(fit: &Fit, rng: &mut impl Rng) -> Vec<(usize, (f64, f64), f64)> {
    let mut sum = 0.0;
    let cumulated: Vec<(f64, usize, (f64, f64), f64)> = fit
        .particles()
        .map(|(world, p, weight)| {
            sum += weight;
            (sum, world, (p.per_cast, p.day_spread), p.ln_likelihood)
        })
        .collect();
    (0..RANKED)
        .map(|_| {
            let u = rng.random::<f64>() * sum;
            let at = cumulated.partition_point(|c| c.0 < u).min(cumulated.len().saturating_sub(1));
            (cumulated[at].1, cumulated[at].2, cumulated[at].3)
        })
        .collect()
}
