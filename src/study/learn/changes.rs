//! Which unknowns a log moved, and which it only knows together.

use super::sampler::Fit;
use super::surrogate::Pair;
use super::{DAY_SPREAD, PER_CAST};
use crate::models::draw::scores_at;
use crate::models::{Models, Parameter, Spread};
use crate::statistics::estimate::weighted_quantile;

/// One unknown that moved.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// As it was.
    pub parameter: Parameter,
    /// 5 %, 50 % and 95 % points after; for a choice of mechanisms three times the chance of the first.
    pub after: [f64; 3],
    /// The same points as standard scores of what it was before.
    pub scores: [f64; 3],
    /// 1 - variance after / variance before, of the standard score.
    pub contraction: f64,
    /// Mean of the standard score after: how many of its own standard deviations it moved.
    pub shift: f64,
}

impl Change {
    /// Where nine in ten worlds lay before, and the middle between.
    pub fn before(&self) -> [f64; 3] {
        [self.parameter.low, self.parameter.default, self.parameter.high]
    }
}

/// Two unknowns that are only known together.
#[derive(Debug, Clone, PartialEq)]
pub struct Tie {
    /// What they mean.
    pub means: [String; 2],
    /// Their names.
    pub names: [String; 2],
    /// Correlation of their standard scores after, and before.
    pub correlation: (f64, f64),
}

/// Contraction from which the log is said to have told something.
pub const LEAST_CONTRACTION: f64 = 0.1;
/// Shift, in standard deviations, from which it is: moves the variance about the old middle by as much.
const LEAST_SHIFT: f64 = 0.32;
/// Anything under so many standard errors of the draws is luck; one false alarm among 150 unknowns in 5 logs.
const STANDARD_ERRORS: f64 = 3.0;
/// Change of the chance of a mechanism from which the log is said to have told something.
const LEAST_CHANCE: f64 = 0.1;
/// Correlation from which two unknowns are said to be known together, and its change by the log.
const TIED: f64 = 0.4;
const TIED_BY_LOG: f64 = 0.25;
/// Pairs named.
const TIES_NAMED: usize = 3;

/// The least contraction that can be told from luck with so many effective worlds: the standard error of a variance is
/// sqrt(2/n) of it.
pub fn least_told(effective: f64) -> f64 {
    (STANDARD_ERRORS * (2.0 / effective).sqrt()).max(LEAST_CONTRACTION)
}

/// One value per particle: standard scores of all drawn unknowns, weights.
struct Cloud {
    /// Place of each unknown in the models.
    unknowns: Vec<usize>,
    /// Scores of each unknown.
    scores: Vec<Vec<f64>>,
    weights: Vec<f64>,
}

impl Cloud {
    fn of(models: &Models, fit: &Fit, pair: Pair) -> Self {
        let drawn = |p: &Parameter| match p.name.as_str() {
            PER_CAST => pair.per_cast.spread != Spread::Fixed,
            DAY_SPREAD => pair.day_spread.spread != Spread::Fixed,
            _ => p.spread != Spread::Fixed && p.low < p.high || p.spread == Spread::Choice,
        };
        let unknowns: Vec<usize> =
            (0..models.parameters.len()).filter(|&i| drawn(&models.parameters[i])).collect();
        let opposed: Vec<Vec<f64>> = fit.worlds.iter().map(|w| scores_at(models, |d| w.scores[d])).collect();
        let mut scores = vec![Vec::new(); unknowns.len()];
        let mut weights = Vec::new();
        for (world, particle, weight) in fit.particles() {
            weights.push(weight);
            for (column, &i) in scores.iter_mut().zip(&unknowns) {
                column.push(match models.parameters[i].name.as_str() {
                    PER_CAST => particle.per_cast,
                    DAY_SPREAD => particle.day_spread,
                    _ => opposed[world][i],
                });
            }
        }
        Self { unknowns, scores, weights }
    }

    fn mean(&self, of: &[f64]) -> f64 {
        of.iter().zip(&self.weights).map(|(v, w)| v * w).sum()
    }

    fn covariance(&self, a: &[f64], b: &[f64]) -> f64 {
        let (ma, mb) = (self.mean(a), self.mean(b));
        a.iter().zip(b).zip(&self.weights).map(|((x, y), w)| w * (x - ma) * (y - mb)).sum()
    }
}

/// The parameter as the pair has it: passes per cast may have been stated.
fn as_used(models: &Models, i: usize, pair: Pair) -> Parameter {
    let p = &models.parameters[i];
    if p.name == PER_CAST { pair.per_cast.clone() } else { p.clone() }
}

/// The unknowns that moved, most first, and how many did not.
pub fn changes(models: &Models, fit: &Fit, pair: Pair) -> (Vec<Change>, usize) {
    let cloud = Cloud::of(models, fit, pair);
    let (on_spread, on_mean) = (least_told(fit.effective), STANDARD_ERRORS / fit.effective.sqrt());
    let one = |(&i, scores): (&usize, &Vec<f64>)| -> Option<Change> {
        let parameter = as_used(models, i, pair);
        let shift = cloud.mean(scores);
        let contraction = 1.0 - cloud.covariance(scores, scores);
        let values: Vec<f64> = scores.iter().map(|z| parameter.from_normal(*z)).collect();
        if parameter.spread == Spread::Choice {
            let chance = cloud.mean(&values);
            let luck = (parameter.default * (1.0 - parameter.default) / fit.effective).sqrt();
            let moved = (chance - parameter.default).abs() > LEAST_CHANCE.max(STANDARD_ERRORS * luck);
            let scores = [shift; 3];
            return moved.then_some(Change { after: [chance; 3], scores, contraction, shift, parameter });
        }
        let moved = contraction >= on_spread || shift.abs() >= LEAST_SHIFT.max(on_mean);
        let at = |of: &[f64]| {
            [0.05, 0.5, 0.95].map(|q| weighted_quantile(of, &cloud.weights, q).unwrap_or(f64::NAN))
        };
        moved.then(|| Change { after: at(&values), scores: at(scores), contraction, shift, parameter })
    };
    let mut changed: Vec<Change> = cloud.unknowns.iter().zip(&cloud.scores).filter_map(one).collect();
    let size = |c: &Change| c.contraction.max(0.0) + c.shift * c.shift;
    changed.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let silent = cloud.unknowns.len() - changed.len();
    (changed, silent)
}

/// Pairs of unknowns, one of them moved, that the log knows together better than each, strongest first.
pub fn ties(models: &Models, fit: &Fit, pair: Pair, changed: &[Change]) -> Vec<Tie> {
    let cloud = Cloud::of(models, fit, pair);
    let plain = |a: usize, b: usize| {
        let n = fit.plain as f64;
        let of = |i: usize| -> Vec<f64> {
            let own = |w: &super::sampler::WeightedWorld| scores_at(models, |d| w.scores[d])[i];
            fit.worlds.iter().take(fit.plain).map(own).collect()
        };
        of(a).iter().zip(of(b)).map(|(x, y)| x * y).sum::<f64>() / n
    };
    let moved =
        |k: usize| changed.iter().any(|c| c.parameter.name == models.parameters[cloud.unknowns[k]].name);
    let mut found: Vec<(usize, usize, f64)> = Vec::new();
    for a in (0..cloud.unknowns.len()).filter(|&k| moved(k)) {
        for b in 0..cloud.unknowns.len() {
            if b == a || (b < a && moved(b)) {
                continue;
            }
            let (va, vb) = (
                cloud.covariance(&cloud.scores[a], &cloud.scores[a]),
                cloud.covariance(&cloud.scores[b], &cloud.scores[b]),
            );
            let r = cloud.covariance(&cloud.scores[a], &cloud.scores[b]) / (va * vb).sqrt().max(1e-300);
            if r.abs() >= TIED {
                found.push((cloud.unknowns[a], cloud.unknowns[b], r));
            }
        }
    }
    found.sort_by(|a, b| b.2.abs().total_cmp(&a.2.abs()));
    let tie = |(a, b, after): (usize, usize, f64)| {
        let of = |i: usize| &models.parameters[i];
        let before = plain(a, b);
        ((after - before).abs() >= TIED_BY_LOG).then(|| Tie {
            means: [of(a).means.clone(), of(b).means.clone()],
            names: [of(a).name.clone(), of(b).name.clone()],
            correlation: (after, before),
        })
    };
    found.into_iter().take(4 * TIES_NAMED).filter_map(tie).take(TIES_NAMED).collect()
}
