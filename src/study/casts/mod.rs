//! How many casts tell two baits apart, and what a number of casts could at most show.
//!
//! For two rates the plans are those of [`crate::statistics`]: a fixed number of casts of each with the exact
//! power of its test, and casting turn and turn about until one bait leads by enough. The odds of two baits differ
//! from one plausible world to the next, and with them the number of casts: so that number is told over worlds.
//!
//! The model knows passes near a fish, not casts. Where the density of fish is given, fish scattered at random make
//! the number of passes of a cast a Poisson number, and a cast draws a strike with the chance `1 - exp(-m p)`, m
//! the mean number of passes; else everything is counted in passes.

pub mod curve;
pub mod lead;
mod machine;
pub mod plan;
pub mod rate;

pub use lead::{Lead, Walk};
pub use plan::{Demand, Fixed, power_at};
pub use rate::{RateError, rate};

use super::alike::{own_chances, squared_variation, times_as_many};
use super::pace::{casts_per_hour, passes_by_world, passes_in};
use super::sweep::two_baits;
use super::{Context, SMALLEST_DIFFERENCE, Study, Unanswered, over_worlds};
use crate::engine::{Control, Strikes};
use crate::maths::exp;
use crate::models::Assumed;
use crate::statistics::Error;
use crate::statistics::estimate::{Estimate, quantile, sorted};
use crate::statistics::intervals::{Confidence, Proportion, wilson};
use crate::statistics::power::smallest_detectable;
use crate::world::Prepared;
use ndarray::Axis;

/// The casts of the example of what a few without a strike say.
const FEW: usize = 5;
/// Exact powers are worked out for no more than this at once (sizes times worlds); beyond it by formula.
const MOST_WORK: usize = 3_000_000;

/// Two baits of the box, or two rates, with the numbers asked with.
#[derive(Debug, Clone, PartialEq)]
pub struct CastsOf {
    /// The two, as they were written.
    pub names: [String; 2],
    /// Their rates, where they are rates.
    pub rates: Option<[f64; 2]>,
    /// How surely, and with how many false alarms.
    pub demand: Demand,
    /// A number of casts of each to say what it could show.
    pub casts: Option<usize>,
    /// Casts an hour, where they are not to be worked out.
    pub pace_per_h: Option<f64>,
    /// Hours of fishing in a season, where they are known.
    pub hours_per_season: Option<f64>,
}

impl Study for CastsOf {
    const NAME: &'static str = "casts";
    type Answer = Casts;

    fn run(&self, on: &Context, control: &Control) -> Result<Casts, Unanswered> {
        let practice = Assumed::defaults(on.models)?;
        let question = Question {
            demand: self.demand,
            casts: self.casts,
            pace_per_h: self.pace_per_h,
            usual_pace_per_h: practice.casts_per_hour,
            hours_per_season: self.hours_per_season.unwrap_or(practice.season_hours),
            lifetime_seasons: practice.lifetime_seasons,
            seed: on.budget.seed,
        };
        let bad = |e: Error| Unanswered::Input(e.to_string(), String::new());
        if let Some(rates) = self.rates {
            return of_rates(self.names.clone(), rates, question).map_err(bad);
        }
        let names: Vec<String> = on.prepared.baits.iter().map(|b| b.name.clone()).collect();
        let pair = two_baits(&names, &self.names)?;
        let strikes = Strikes::of(on.models, std::slice::from_ref(on.prepared), on.budget, control)?;
        if strikes.draws() == 0 {
            return Err(Unanswered::stopped("the first world"));
        }
        of_baits(on.prepared, &strikes, pair, question).map_err(bad)
    }
}

/// What is asked of the plans.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// How surely, and with how many false alarms.
    pub demand: Demand,
    /// A number of casts of each bait to say what it could show.
    pub casts: Option<usize>,
    /// Casts an hour; worked out from the tackle where not given.
    pub pace_per_h: Option<f64>,
    /// Casts an hour where neither this nor the tackle is known.
    pub usual_pace_per_h: f64,
    /// Hours of fishing in a season.
    pub hours_per_season: f64,
    /// Seasons in a lifetime.
    pub lifetime_seasons: f64,
    /// Seed of the walks drawn as examples.
    pub seed: u64,
}

/// What is counted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unit {
    /// Casts.
    Casts {
        /// Mean number of passes near such a fish in a cast of each bait, middle of the worlds, where it was worked
        /// out from a density of fish.
        passes: Option<[f64; 2]>,
    },
    /// Passes near such a fish.
    Passes,
}

/// The rates and sizes over plausible worlds.
#[derive(Debug, Clone, PartialEq)]
pub struct Worlds {
    /// Strikes per 100 of each.
    pub strikes: [Estimate; 2],
    /// How many more the first draws per 100.
    pub difference: Estimate,
    /// Chance of a strike of each, world by world.
    pub rates: Vec<[f64; 2]>,
    /// Casts (or passes) of each bait that the fixed plan takes, by world, the smallest first; infinite for a tie.
    pub sizes: Vec<f64>,
    /// Share of worlds in which the difference is under the smallest that matters.
    pub too_small: f64,
    /// Share of worlds in which the first draws more.
    pub first_better: f64,
    /// How often the lead of the plan names the worse bait in the mean over worlds, and in how many turns it ends in
    /// the middle one of them; none where there is no such plan.
    pub in_turn: Option<(f64, f64)>,
}

impl Worlds {
    fn in_turn(&self, lead: &Lead) -> (f64, f64) {
        let (wrong, mut turns): (Vec<f64>, Vec<f64>) =
            self.rates.iter().map(|&r| lead::behaviour(r, lead.plan.lead)).unzip();
        turns.sort_by(f64::total_cmp);
        let middle = turns.get(turns.len() / 2).copied().unwrap_or(f64::INFINITY);
        (wrong.iter().sum::<f64>() / wrong.len().max(1) as f64, middle)
    }

    /// The size that a share `q` of the worlds does not exceed (no interpolation: sizes may be infinite).
    pub fn size(&self, q: f64) -> f64 {
        let last = self.sizes.len().saturating_sub(1);
        let place = (q.clamp(0.0, 1.0) * last as f64).round() as usize;
        self.sizes.get(place).copied().unwrap_or(f64::INFINITY)
    }
}

/// What a given number of casts of each could show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Showing {
    /// Casts (or passes) of each.
    pub casts: usize,
    /// Chance that the test tells the two apart at the rates of the plan.
    pub power: f64,
    /// Mean of that chance over plausible worlds.
    pub power_over_worlds: Option<f64>,
    /// The lower of the two rates.
    pub from: f64,
    /// The smallest rate above it that would be told from it with the power asked for; none where not even
    /// certainty would.
    pub smallest: Option<f64>,
    /// Strikes to expect with each bait.
    pub strikes: [f64; 2],
    /// What that many without a strike leave possible (95 % Wilson).
    pub none_leaves: f64,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Casts {
    /// What is compared.
    pub names: [String; 2],
    /// Chance of a strike of each that the plan is made for.
    pub rates: [f64; 2],
    /// What is counted.
    pub unit: Unit,
    /// Over worlds, where the rates are the model's.
    pub worlds: Option<Worlds>,
    /// The fixed plan; none where the rates are the same.
    pub fixed: Option<Fixed>,
    /// The plan that stops early; none where the rates are the same.
    pub lead: Option<Lead>,
    /// What the casts asked about could show.
    pub showing: Option<Showing>,
    /// The same for the casts of an hour.
    pub hour: Showing,
    /// A few casts, and what so many without a strike leave possible (95 % Wilson).
    pub few: (usize, f64),
    /// Casts an hour.
    pub pace_per_h: f64,
    /// Whether the pace was worked out from the tackle.
    pub pace_from_tackle: bool,
    /// What it takes where casts in a row pass the same fish, and fish differ; none for rates given.
    pub at_one_fish: Option<AtOneFish>,
    /// As asked.
    pub question: Question,
}

/// Casts in a row at the same fish: they are alike, and so many more are needed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtOneFish {
    /// Casts (or passes) at one fish before the next.
    pub casts: f64,
    /// How much fish differ: variance of their own chances over the square of the mean, mean over some worlds.
    pub squared_variation: f64,
    /// How many times as many casts the fixed plan takes, at most.
    pub times_as_many: f64,
}

/// Worlds, fish and passes of each by which it is found how much fish differ.
const ALIKE: (usize, usize, usize) = (8, 256, 32);

/// How alike casts at one fish are with the better of two baits.
fn at_one_fish(prepared: &Prepared, table: &Strikes, bait: usize, rate: f64, seed: u64) -> Option<AtOneFish> {
    let step = table.worlds.len().div_ceil(ALIKE.0).max(1);
    let differ = |a: &Assumed| {
        squared_variation(&own_chances(prepared, &prepared.baits[bait], a, (ALIKE.1, ALIKE.2), seed))
    };
    let seen: Vec<f64> = table.worlds.iter().step_by(step).map(differ).filter(|v| *v > 0.0).collect();
    let squared_variation = seen.iter().sum::<f64>() / seen.len().max(1) as f64;
    let casts = table.worlds.first()?.casts_at_one_fish;
    let times_as_many = times_as_many(squared_variation, rate, casts);
    Some(AtOneFish { casts, squared_variation, times_as_many })
}

/// Two rates per cast, given.
///
/// # Errors
/// [`Error`] for rates, powers and false-alarm rates that are not between 0 and 1.
pub fn of_rates(names: [String; 2], rates: [f64; 2], question: Question) -> Result<Casts, Error> {
    let pace = question.pace_per_h.unwrap_or(question.usual_pace_per_h);
    answer(names, rates, Unit::Casts { passes: None }, (None, None), (pace, false), question)
}

/// Two baits of the prepared scenario, by their places in the box.
///
/// # Errors
/// [`Error`] for powers and false-alarm rates that are not between 0 and 1, or an empty table.
pub fn of_baits(
    prepared: &Prepared,
    table: &Strikes,
    baits: [usize; 2],
    question: Question,
) -> Result<Casts, Error> {
    // Two baits of different weight may fly differently far: the time of both goes by what lies between.
    let cast_m = 0.5 * baits.map(|b| prepared.baits[b].path.cast_m()).iter().sum::<f64>();
    let passes = |b: usize, world: &Assumed| passes_in(prepared, prepared.baits[b].path.cast_m(), world);
    let struck = table.struck();
    let struck = struck.index_axis(Axis(0), 0);
    let of = |b: usize| {
        let per_unit = |(&p, world): (&f64, &Assumed)| passes(b, world).map_or(p, |m| 1.0 - exp(-m * p));
        struck.index_axis(Axis(0), b).iter().zip(&table.worlds).map(per_unit).collect::<Vec<f64>>()
    };
    let [first, second] = baits.map(of);
    let pairs: Vec<[f64; 2]> = first.iter().zip(&second).map(|(&a, &b)| [a, b]).collect();
    let worlds = over(&pairs, table.per_scramble, &question.demand);
    let middle = [0, 1].map(|k| worlds.strikes[k].point / 100.0);
    let names = baits.map(|b| prepared.baits[b].name.clone());
    let from_tackle = casts_per_hour(prepared, cast_m);
    let pace = (question.pace_per_h.unwrap_or(from_tackle), question.pace_per_h.is_none());
    let middle_passes = |b: usize| {
        let cast_m = prepared.baits[b].path.cast_m();
        quantile(&sorted(&passes_by_world(prepared, cast_m, &table.worlds)?), 0.5)
    };
    let unit = match baits.map(middle_passes) {
        [Some(a), Some(b)] => Unit::Casts { passes: Some([a, b]) },
        _ => Unit::Passes,
    };
    let better = baits[usize::from(middle[1] > middle[0])];
    let alike = at_one_fish(prepared, table, better, middle[0].max(middle[1]), question.seed);
    answer(names, middle, unit, (Some(worlds), alike), pace, question)
}

fn over(pairs: &[[f64; 2]], per_scramble: usize, demand: &Demand) -> Worlds {
    let per_100 = |f: &dyn Fn(&[f64; 2]) -> f64| {
        over_worlds(&pairs.iter().map(|p| 100.0 * f(p)).collect::<Vec<f64>>(), per_scramble)
    };
    let share = |f: &dyn Fn(&[f64; 2]) -> bool| {
        pairs.iter().filter(|p| f(p)).count() as f64 / pairs.len().max(1) as f64
    };
    let mut sizes: Vec<f64> = pairs.iter().map(|&p| plan::size(p, demand)).collect();
    sizes.sort_by(f64::total_cmp);
    Worlds {
        strikes: [per_100(&|p| p[0]), per_100(&|p| p[1])],
        difference: per_100(&|p| p[0] - p[1]),
        too_small: share(&|p| 100.0 * (p[0] - p[1]).abs() < SMALLEST_DIFFERENCE),
        first_better: share(&|p| p[0] > p[1]),
        in_turn: None,
        rates: pairs.to_vec(),
        sizes,
    }
}

fn answer(
    names: [String; 2],
    rates: [f64; 2],
    unit: Unit,
    (worlds, at_one_fish): (Option<Worlds>, Option<AtOneFish>),
    (pace_per_h, pace_from_tackle): (f64, bool),
    question: Question,
) -> Result<Casts, Error> {
    question.demand.check()?;
    let alike = rates[0] == rates[1];
    // The plans hold a rate of nothing, or of every time, off it by less than can be seen.
    let held = rates.map(|p| p.clamp(plan::EDGE, 1.0 - plan::EDGE));
    let fixed = if alike { None } else { Some(Fixed::new(held, &question.demand)?) };
    let lead = if alike { None } else { Lead::new(held, &question).ok() };
    let worlds = worlds.map(|w| Worlds { in_turn: lead.as_ref().map(|l| w.in_turn(l)), ..w });
    let show = |casts: usize| showing(casts, rates, worlds.as_ref(), &question.demand);
    Ok(Casts {
        showing: question.casts.map(show).transpose()?,
        hour: show((pace_per_h.round() as usize).max(1))?,
        few: (FEW, wilson(Proportion::new(0, FEW as u64)?, Confidence::NINETY_FIVE).high),
        names,
        rates,
        unit,
        worlds,
        fixed,
        lead,
        pace_per_h,
        pace_from_tackle,
        at_one_fish,
        question,
    })
}

fn showing(
    casts: usize,
    rates: [f64; 2],
    worlds: Option<&Worlds>,
    demand: &Demand,
) -> Result<Showing, Error> {
    let from = rates[0].min(rates[1]);
    let none = wilson(Proportion::new(0, casts as u64)?, Confidence::NINETY_FIVE);
    let over = worlds.map(|w| {
        let exact = casts * w.rates.len() <= MOST_WORK;
        let all = w.rates.iter().map(|&p| power_at(p, casts, demand, exact)).sum::<f64>();
        all / w.rates.len().max(1) as f64
    });
    Ok(Showing {
        casts,
        power: power_at(rates, casts, demand, true),
        power_over_worlds: over,
        from,
        smallest: match from {
            p if p > 0.0 && p < 1.0 => smallest_detectable(p, casts, demand.alpha, demand.power)?,
            _ => None,
        },
        strikes: rates.map(|p| p * casts as f64),
        none_leaves: none.high,
    })
}

impl Casts {
    /// Casts (or passes) of both baits together as hours at the pace; a pass counts as a cast, so that for passes
    /// it is the least that it can take where a cast passes one such fish at most.
    pub fn hours(&self, of_each: f64) -> f64 {
        2.0 * of_each / self.pace_per_h
    }

    /// The same in seasons.
    pub fn seasons(&self, of_each: f64) -> f64 {
        self.hours(of_each) / self.question.hours_per_season
    }
}
