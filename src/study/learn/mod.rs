//! What a log of casts says about the unknowns, and what it does not.
//!
//! A log counts casts; the model speaks of passes near such a fish. Between them stand two unknowns of their own,
//! `pass.per_cast` and `pass.day_spread` ([`counts`] has the likelihood): how many passes near a fish a cast makes, and
//! how much days differ. A log that never says which casts passed a fish cannot tell few fish from unwilling fish: it
//! fixes their *product*, and beside it how baits and conditions compare. That is why the odds of one pass often stay
//! nearly as wide as they were; [`Learnt::tied`] names what is only known together. Passes per cast are taken to be the
//! same, on average, in all rows. Who knows better can state them ([`Stated`]), or give the density of fish.
//!
//! [`log`] reads the file, [`cells`] sets its conditions up, [`sampler`] weights worlds by it, [`changes`] and
//! [`check`] reduce these to what changed and whether the model fits, [`overlay`] writes them as an assumption file.

pub mod cells;
pub mod changes;
pub mod check;
pub mod counts;
pub mod log;
mod machine;
pub mod matrix;
pub mod overlay;
mod proposal;
pub mod sampler;
pub mod surrogate;
mod table;

use super::{Context, Unanswered};
use crate::engine::Control;
use crate::engine::{Budget, Condition, simulate};
use crate::maths::exp;
use crate::maths::quadrature::gauss_hermite_normal;
use crate::models::draw::draw_at;
use crate::models::{Models, ModelsError, Parameter, Spread, Worlds};
use crate::statistics::estimate::{Estimate, quantile, sorted, weighted_quantile};
use crate::study::drivers::{Driver, drivers};
use crate::study::{over_worlds, standard_error};
use cells::{Plan, Simulated};
use changes::{Change, Tie};
use check::Check;
use counts::Counts;
use log::Log;
use overlay::{Loss, Origin};
use sampler::{Fit, FitError, PlainDraws};
use surrogate::Pair;

/// Names of the pair's parameters.
pub const PER_CAST: &str = "pass.per_cast";
/// The same.
pub const DAY_SPREAD: &str = "pass.day_spread";

/// What the user knows of passes near a fish per cast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stated {
    /// Just so many.
    Exactly(f64),
    /// Nine chances in ten to lie between the two.
    Between(f64, f64),
}

/// What a log of casts says.
#[derive(Debug, Clone, Copy)]
pub struct LearnOf<'a> {
    /// The log.
    pub log: &'a Log,
    /// The log, made ready.
    pub plan: &'a Plan,
    /// Where it comes from.
    pub origin: &'a Origin,
    /// What is known of passes per cast; it goes before the density of fish.
    pub stated: Option<Stated>,
    /// Whether an assumption file is to hold what was learnt, so that it is told what that loses.
    pub kept: bool,
}

/// What there is to tell of a log.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The log.
    pub log: Log,
    /// Where it comes from.
    pub origin: Origin,
    /// What it says.
    pub learnt: Learnt,
    /// What the assumption file loses, where one is written.
    pub loss: Option<Loss>,
}

impl super::Study for LearnOf<'_> {
    const NAME: &'static str = "learn";
    type Answer = Told;

    fn steps(&self, on: &Context) -> usize {
        steps(self.plan, on.budget)
    }

    fn run(&self, on: &Context, control: &Control) -> Result<Told, Unanswered> {
        if on.budget.fixed {
            let what = "with --fixed there is one world, and nothing to learn";
            return Err(Unanswered::Input(what.into(), "take --fixed away".into()));
        }
        let answer = || {
            let learnt = self.learn(on, control)?;
            let both = (self.plan, on.prepared);
            let loss = (self.kept && !learnt.changed.is_empty())
                .then(|| overlay::loss(&learnt, both, on.models, self.origin, on.budget, control))
                .transpose()?;
            Ok(Told { log: self.log.clone(), origin: self.origin.clone(), learnt, loss })
        };
        answer().map_err(|why: FitError| Unanswered::Failed(why.to_string()))
    }
}

/// Strikes of one bait before and after, per 100 passes.
#[derive(Debug, Clone, PartialEq)]
pub struct BeforeAfter {
    /// The bait.
    pub name: String,
    /// Over plain worlds.
    pub before: Estimate,
    /// Over weighted worlds.
    pub after: Estimate,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Learnt {
    /// Days with casts, casts, strikes.
    pub days: usize,
    /// Casts.
    pub casts: f64,
    /// Strikes.
    pub strikes: f64,
    /// Weighted worlds and how far they are to be trusted.
    pub fit: Fit,
    /// What passes per cast were taken to be.
    pub per_cast: Parameter,
    /// Whether they come from the density of fish.
    pub from_density: bool,
    /// Strikes per 100 casts like those of the log.
    pub level: BeforeAfter,
    /// How alike casts at one fish are: squared variation between fish times casts at one fish.
    pub alike: f64,
    /// Unknowns that moved, most first.
    pub changed: Vec<Change>,
    /// Number of unknowns about which the log says nothing.
    pub silent: usize,
    /// Those among them that the odds of today's leader go with most.
    pub silent_drivers: Vec<Driver>,
    /// The least contraction that can be told from the luck of the draws.
    pub least_told: f64,
    /// Unknowns that are only known together.
    pub tied: Vec<Tie>,
    /// Whether the log looks like one the model could have made, after and before learning.
    pub checks: Vec<Check>,
    /// Today's odds, in the order of the box.
    pub baits: Vec<BeforeAfter>,
}

/// Plain world draws for a log of so many cells, where nothing else is said: as many as seconds allow.
pub fn usual_draws(cells: usize) -> usize {
    const MOST: usize = 4096;
    const LEAST: usize = 512;
    const SIMULATED: usize = 150_000;
    let fits = (SIMULATED / cells.max(1)).clamp(LEAST, MOST);
    // The largest power of two that fits.
    1 << fits.ilog2()
}

/// Passes in each world where nothing else is said: their luck is small beside that of a log's casts.
pub const USUAL_POINTS: usize = 128;

/// World draws that [`Control::done`] will count.
pub fn steps(plan: &Plan, budget: Budget) -> usize {
    2 * Simulated::steps(plan, budget.as_run().worlds) + 2 * budget.as_run().worlds
}

impl LearnOf<'_> {
    /// Learns from a log.
    ///
    /// # Errors
    /// [`FitError`]: stopped, models incomplete, a log that cannot be, or a fit that is not to be trusted.
    pub fn learn(&self, on: &Context, control: &Control) -> Result<Learnt, FitError> {
        let (plan, models, budget) = (self.plan, on.models, on.budget);
        let (per_cast, day_spread) = self.pair_of(models)?;
        let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };
        let model = Simulated::new(plan, models, budget, control);
        let plain = PlainDraws::new(&model, budget.seed, budget.worlds)?;
        let fit = sampler::fit(&model, &plan.counts, pair, &plain, budget.seed)?;
        let draws = fit.worlds.iter().map(|w| draw_at(models, |d| w.scores[d])).collect::<Vec<_>>();
        let worlds = Worlds::of(models, draws, fit.plain / crate::models::draw::WORLD_SCRAMBLES)?;
        let today = std::slice::from_ref(on.prepared);
        let table = simulate(&Condition::all(today), &worlds, budget, control);
        if control.stopped() {
            return Err(FitError::Stopped);
        }
        let per_100 = table.per_100(0);
        let struck = |b: usize| per_100.row(b).to_vec();
        let baits: Vec<BeforeAfter> = on
            .prepared
            .baits
            .iter()
            .enumerate()
            .map(|(b, bait)| fit.before_after(&bait.name, &struck(b)))
            .collect();
        let (changed, silent) = changes::changes(models, &fit, pair);
        let leader = (0..baits.len()).max_by(|&a, &b| baits[a].after.point.total_cmp(&baits[b].after.point));
        let moved = |name: &str| changed.iter().any(|c| c.parameter.name == name);
        let silent_drivers = leader
            .map(|b| {
                let plain = fit.plain.min(table.draws());
                let all = drivers(models, &table.draws[..plain], &struck(b)[..plain]);
                all.into_iter().filter(|d| !moved(&d.name)).collect()
            })
            .unwrap_or_default();
        Ok(Learnt {
            days: plan.counts.days.len(),
            casts: plan.counts.casts(),
            strikes: plan.counts.strikes(),
            from_density: plan.density && self.stated.is_none(),
            level: level(&fit, &plan.counts, pair),
            alike: plan.counts.alike,
            silent,
            silent_drivers,
            least_told: changes::least_told(fit.effective),
            tied: changes::ties(models, &fit, pair, &changed),
            checks: check::checks(plan, &fit, pair, budget.seed),
            baits,
            changed,
            per_cast,
            fit,
        })
    }

    /// The pair's parameters: from the models, or passes per cast as stated, or one where strikes are per cast already.
    fn pair_of(&self, models: &Models) -> Result<(Parameter, Parameter), FitError> {
        let get = |name: &str| -> Result<Parameter, FitError> {
            let i = models.index(name).ok_or_else(|| ModelsError::Missing(name.to_owned()))?;
            Ok(models.parameters[i].clone())
        };
        let known = get(PER_CAST)?;
        let at = |low: f64, default: f64, high: f64, spread| Parameter {
            low,
            default,
            high,
            spread,
            ..known.clone()
        };
        let per_cast = match self.stated {
            Some(Stated::Exactly(a)) => at(a, a, a, Spread::Fixed),
            Some(Stated::Between(low, high)) => at(low, (low * high).sqrt(), high, Spread::Lognormal),
            None if self.plan.density => at(1.0, 1.0, 1.0, Spread::Fixed),
            None => known,
        };
        Ok((per_cast, get(DAY_SPREAD)?))
    }
}

impl Fit {
    /// One value per world before and after, with both uncertainties.
    fn before_after(&self, name: &str, values: &[f64]) -> BeforeAfter {
        let plain = &values[..self.plain.min(values.len())];
        let weights: Vec<f64> = self.worlds.iter().map(|w| w.weight).collect();
        let scrambles: Vec<usize> = self.worlds.iter().map(|w| w.scramble).collect();
        // Without casts all weights are alike and nothing changes, to the last bit.
        let before = over_worlds(plain, plain.len() / crate::models::draw::WORLD_SCRAMBLES);
        let untouched = self.worlds.len() == self.plain;
        let after = if untouched { before } else { weighted(values, &weights, &scrambles) };
        BeforeAfter { name: name.to_owned(), before, after }
    }
}

/// Median and 5 to 95 % range of weighted values; the luck of the simulation from the spread of the medians of the
/// independent scrambles.
pub fn weighted(values: &[f64], weights: &[f64], scrambles: &[usize]) -> Estimate {
    let at = |q| weighted_quantile(values, weights, q).unwrap_or(f64::NAN);
    let count = scrambles.iter().max().map_or(0, |s| s + 1);
    let medians: Vec<f64> = (0..count)
        .filter_map(|s| {
            let own = |of: &[f64]| -> Vec<f64> {
                of.iter().zip(scrambles).filter(|(_, k)| **k == s).map(|(v, _)| *v).collect()
            };
            weighted_quantile(&own(values), &own(weights), 0.5)
        })
        .collect();
    Estimate {
        point: at(0.5),
        simulation_se: standard_error(&medians),
        low: at(Estimate::TAIL),
        high: at(1.0 - Estimate::TAIL),
    }
}

/// Strikes per 100 casts like those of the log, days averaged.
fn level(fit: &Fit, counts: &Counts, pair: Pair) -> BeforeAfter {
    let mut values = Vec::new();
    let mut weights = Vec::new();
    let mut scrambles = Vec::new();
    let mut plain = Vec::new();
    for (i, particle, weight) in fit.particles() {
        let a = pair.per_cast.from_normal(particle.per_cast);
        let spread = pair.day_spread.from_normal(particle.day_spread);
        values.push(100.0 * mean_chance(counts, &fit.worlds[i].p, a, spread));
        weights.push(weight);
        scrambles.push(fit.worlds[i].scramble);
    }
    // Before: the pair as it was, at evenly spaced quantiles in an order that has nothing to do with the worlds'.
    const STEPS: usize = 64;
    const STRIDE: usize = 37;
    for (i, world) in fit.worlds.iter().take(fit.plain).enumerate() {
        let u = |k: usize| ((k % STEPS) as f64 + 0.5) / STEPS as f64;
        let (a, spread) =
            (pair.per_cast.quantile(u(i * STRIDE)), pair.day_spread.quantile(u(i / STEPS + 5 * i)));
        plain.push(100.0 * mean_chance(counts, &world.p, a, spread));
    }
    let before = over_worlds(&plain, plain.len() / crate::models::draw::WORLD_SCRAMBLES);
    let after = if counts.casts() > 0.0 { weighted(&values, &weights, &scrambles) } else { before };
    BeforeAfter { name: "strikes in 100 such casts".into(), before, after }
}

/// Chance of a strike in a cast of the log, mean over its casts and over days.
pub(crate) fn mean_chance(counts: &Counts, p: &[f64], per_cast: f64, spread: f64) -> f64 {
    let by_cell = counts.by_cell();
    let total: f64 = by_cell.iter().map(|c| c.0).sum();
    // A log without casts: every cell alike.
    let share = |casts: f64| if total > 0.0 { casts / total } else { 1.0 / by_cell.len().max(1) as f64 };
    let rule = gauss_hermite_normal(7);
    let cell = |p: f64| -> f64 {
        let one =
            |(u, w): &(f64, f64)| w * -libm::expm1(-per_cast * p * exp(spread * u - 0.5 * spread * spread));
        rule.iter().map(one).sum()
    };
    by_cell.iter().zip(p).filter(|(c, _)| c.0 > 0.0 || total <= 0.0).map(|(c, p)| share(c.0) * cell(*p)).sum()
}

/// Middle and range of plain values.
pub(crate) fn range(values: &[f64]) -> [f64; 3] {
    let all = sorted(values);
    [0.05, 0.5, 0.95].map(|q| quantile(&all, q).unwrap_or(f64::NAN))
}
