//! What finding out would be worth over several waters: for each unknown its share of the spread of the odds and the
//! value of knowing it, both in the mean over the waters.
//!
//! Each water is a study of its own, with points of its own, so that the luck of the simulation is independent from
//! water to water. Unlike the study of one water it goes straight to single unknowns: groups are not needed, and none
//! may be missed. An unknown that moves nothing in a water counts there with 0.

use super::design::{Outputs, Scramble};
use super::{Compared, FALSE_ALARM, Input, Kind, SCRAMBLES, Study, WhyError, top_two, worth};
use crate::engine::Budget;
use crate::engine::Control;
use crate::maths::special::normal_quantile;
use crate::maths::sqrt;
use crate::models::{Models, Spread};
use crate::random::{Purpose, mix};
use crate::statistics::distributions::t_quantile;
use crate::statistics::sensitivity::IndexEstimate;
use crate::world::Prepared;

/// Rows of the design of a water in all scrambles together: half of what one water alone gets.
pub const DRAWS: usize = 512;
/// Passes at each point: half of what one water alone gets.
pub const POINTS: usize = 128;
/// One-sided chance of taking a worthless piece of knowledge for a worthy one: a dozen dozen are looked at.
const FALSE_WORTH: f64 = 0.001;
/// 95 % point of the standard normal distribution, at which the noise of a worth is known.
const NOISE_AT: f64 = 0.95;

/// A number with its standard error by the luck of the simulation.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Measured {
    /// Mean over the waters.
    pub mean: f64,
    /// Its standard error.
    pub se: f64,
    /// Whether it stands out of that luck.
    pub stands_out: bool,
}

impl Measured {
    /// The mean where it stands out, else 0.
    pub fn told(&self) -> f64 {
        if self.stands_out { self.mean } else { 0.0 }
    }
}

/// One unknown over all waters.
#[derive(Debug, Clone, PartialEq)]
pub struct Unknown {
    /// A parameter, or readiness, whose members are drawn together.
    pub kind: Kind,
    /// Total share of the spread of the leader's odds.
    pub share: Measured,
    /// Value of knowing it, as a share of what the best bait draws.
    pub worth: Measured,
    /// Waters in which it moves the odds of any bait.
    pub waters: usize,
    /// Number of the water in which its share is greatest.
    pub most_in: usize,
    /// Its share there.
    pub most: f64,
}

impl Unknown {
    /// What knowing it gives, by which unknowns are put in order: its share of the spread of the odds, plus its part of
    /// the value of knowing everything; what is not told from luck counts as 0.
    pub fn gives(&self, evpi: f64) -> f64 {
        self.share.told() + ratio(self.worth.told(), evpi)
    }
}

/// One water.
#[derive(Debug, Clone, PartialEq)]
pub struct Water {
    /// Its name.
    pub name: String,
    /// The bait with the most strikes (median over worlds).
    pub leader: String,
    /// What the bait draws that strikes most in the mean over worlds, per 100 passes.
    pub strikes: f64,
    /// Value of knowing everything, as a share of that.
    pub evpi: f64,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Waters {
    /// The waters worked out.
    pub waters: Vec<Water>,
    /// Waters asked for.
    pub asked: usize,
    /// Every drawn assumption, best worth finding out first.
    pub unknowns: Vec<Unknown>,
    /// Share of the spread that the luck of the passes takes, mean over waters.
    pub floor: f64,
}

impl Waters {
    /// Value of knowing everything, as a share of what the best bait draws, mean over the waters.
    pub fn evpi(&self) -> f64 {
        self.waters.iter().map(|w| w.evpi).sum::<f64>() / self.waters.len().max(1) as f64
    }
}

/// What one water says.
struct Singles {
    leader: usize,
    inputs: Vec<Input>,
    floor: IndexEstimate,
    strikes: f64,
    evpi: f64,
}

impl Study<'_> {
    /// Every unknown by itself, for the leading bait; none where it was stopped.
    fn singles(&self, control: &Control) -> Result<Option<Singles>, WhyError> {
        let all: Vec<usize> = (0..self.prepared.baits.len()).collect();
        let halves = self.halves(control)?;
        if halves.len() < SCRAMBLES {
            return Ok(None);
        }
        let rows: Vec<&Outputs> = halves.iter().flatten().flatten().collect();
        let column = |b: usize| rows.iter().map(|w| w[b]).collect::<Vec<f64>>();
        let (leader, _) = top_two(&all, &column);
        let acting = self.single(|_| true, &[leader]);
        let mixed = self.mixed(&acting, &[leader], control)?;
        if mixed.len() < SCRAMBLES {
            return Ok(None);
        }
        let compared = Compared { models: self.models, halves: &halves, leader, next: None };
        let (mut inputs, (floor, _)) = compared.inputs(&acting, &mixed)?;
        // What moves other baits alone has no share, but may be worth knowing.
        for (kind, members) in self.single(|_| true, &all) {
            if inputs.iter().all(|i| i.kind != kind) {
                inputs.push(Input::new(kind, members.len(), self.models));
            }
        }
        let knowing = worth::Worth::of(&halves, &all, self.budget.seed);
        for input in &mut inputs {
            input.worth = Some(knowing.evppi(&self.theta(&input.kind, &halves, all.len()))?);
        }
        let (evpi, best) = worth::evpi(&halves, &all)?;
        let strikes = mean_of(&halves, best);
        Ok(Some(Singles { leader, inputs, floor, strikes, evpi: evpi.mean }))
    }
}

fn mean_of(halves: &[Scramble<Vec<Outputs>>], bait: usize) -> f64 {
    let rows: Vec<&Outputs> = halves.iter().flatten().flatten().collect();
    rows.iter().map(|w| w[bait]).sum::<f64>() / rows.len().max(1) as f64
}

/// Steps that [`Control::done`] will count at most for one water.
fn steps_of_one(models: &Models, budget: Budget) -> usize {
    let drawn = models.parameters.iter().filter(|p| p.spread != Spread::Fixed).count();
    budget.as_run().worlds * (2 + drawn + 2)
}

/// Steps that [`Control::done`] will count for so many waters.
pub fn steps(models: &Models, budget: Budget, waters: usize) -> usize {
    waters * steps_of_one(models, budget)
}

/// Works out every water; a stop leaves out those that were not finished.
///
/// # Errors
/// [`WhyError::Fixed`], [`WhyError::Stopped`] where not even one water was finished, and faults of the models.
pub fn over(
    models: &Models,
    waters: &[(String, Prepared)],
    budget: Budget,
    control: &Control,
) -> Result<Waters, WhyError> {
    let mut done = Vec::new();
    for (w, (_, prepared)) in waters.iter().enumerate() {
        let own = Budget { seed: mix(budget.seed, Purpose::Design, w as u64), ..budget };
        let before = control.done();
        let Some(singles) = Study::prepare(models, prepared, own)?.singles(control)? else { break };
        done.push(singles);
        control.advance(steps_of_one(models, budget).saturating_sub(control.done() - before));
    }
    if done.is_empty() {
        return Err(WhyError::Stopped);
    }
    let described = waters.iter().zip(&done).map(|((name, prepared), s)| Water {
        name: name.clone(),
        leader: prepared.baits.get(s.leader).map_or(String::new(), |b| b.name.clone()),
        strikes: s.strikes,
        evpi: ratio(s.evpi, s.strikes),
    });
    let mut found = Waters {
        waters: described.collect(),
        asked: waters.len(),
        unknowns: kinds(models).into_iter().map(|kind| unknown(kind, &done)).collect(),
        floor: done.iter().map(|s| s.floor.total.mean).sum::<f64>() / done.len() as f64,
    };
    let everything = found.evpi();
    found.unknowns.sort_by(|a, b| {
        let gives = |u: &Unknown| u.gives(everything);
        gives(b).total_cmp(&gives(a)).then_with(|| b.share.mean.total_cmp(&a.share.mean))
    });
    Ok(found)
}

/// Every input there can be: readiness, then every drawn parameter outside a product.
fn kinds(models: &Models) -> Vec<Kind> {
    let drawn = |i: &usize| {
        let p = &models.parameters[*i];
        p.spread != Spread::Fixed && p.product.is_none()
    };
    let all = (0..models.parameters.len()).filter(drawn).map(Kind::Parameter);
    std::iter::once(Kind::Readiness).chain(all).collect()
}

fn ratio(part: f64, whole: f64) -> f64 {
    if whole > 0.0 { part / whole } else { 0.0 }
}

/// One unknown, in the mean over the waters.
fn unknown(kind: Kind, waters: &[Singles]) -> Unknown {
    let n = waters.len() as f64;
    let z =
        (t_quantile(1.0 - 0.5 * FALSE_ALARM, n * (SCRAMBLES - 1) as f64), normal_quantile(1.0 - FALSE_WORTH));
    let noise = normal_quantile(NOISE_AT);
    let (mut share, mut floor, mut worth) = (Measured::default(), Measured::default(), Measured::default());
    let (mut acts, mut most_in, mut most) = (0, 0, 0.0);
    for (w, of) in waters.iter().enumerate() {
        let Some(input) = of.inputs.iter().find(|i| i.kind == kind) else { continue };
        acts += 1;
        let total = input.odds.index.total;
        for (sum, one) in [(&mut share, total), (&mut floor, of.floor.total)] {
            sum.mean += one.mean / n;
            sum.se += one.se * one.se;
        }
        if total.mean > most {
            (most_in, most) = (w, total.mean);
        }
        if let Some(i) = input.worth {
            let error = ratio(i.floor_95 - i.floor, noise * of.strikes);
            worth.mean += ratio(i.raw - i.floor, of.strikes) / n;
            worth.se += error * error;
        }
    }
    share.stands_out = share.mean - floor.mean > z.0 * sqrt(share.se + floor.se) / n;
    worth.stands_out = worth.mean > z.1 * sqrt(worth.se) / n;
    share.se = sqrt(share.se) / n;
    worth.se = sqrt(worth.se) / n;
    Unknown { kind, share, worth, waters: acts, most_in, most }
}
