//! The day from first light to dark: what to throw when, when to change, what to have tied on.
//!
//! The sun and its light follow from place, date and hour; sky and clarity from the scenario and its hourly table;
//! everything else stays as the scenario says. A plan must be made without knowing which of the plausible worlds is
//! the true one, and strikes add up over the day: so plans go by the *mean* over worlds. How far the worlds agree
//! with it is told beside.

pub mod changes;
mod choice;
mod machine;
pub mod steps;

use super::many;
use super::pace::{casts_per_hour, mean_cast_m, passes_by_world};
use super::sweep::Cube;
use super::sweep::reading::ENOUGH;
use super::{Context, SMALLEST_DIFFERENCE, Study, Unanswered, over_worlds};
use crate::engine::Control;
use crate::engine::{Budget, prepare};
use crate::models::{Assumed, Models};
use crate::scenario::{Clarity, Scenario, Sky, day};
use crate::statistics;
use crate::statistics::estimate::{Estimate, mean};
use crate::water::sun::Sun;
use crate::world::{PrepareError, Prepared, World};
use changes::Change;
use choice::Choice;
use steps::Planned;

/// The day from first light to dark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayOf {
    /// Length of a step, s.
    pub step_s: f64,
    /// Fishing time lost with each change of bait on one rod, s.
    pub change_s: f64,
    /// Casts in an hour of fishing; none to work it out from the tackle.
    pub casts_per_hour: Option<f64>,
}

impl Default for DayOf {
    fn default() -> Self {
        Self { step_s: 1800.0, change_s: 300.0, casts_per_hour: None }
    }
}

impl Study for DayOf {
    const NAME: &'static str = "day";
    const USUAL: (usize, usize) = (256, 256);
    type Answer = Day;

    fn run(&self, on: &Context, control: &Control) -> Result<Day, Unanswered> {
        day(on.scenario, on.models, *self, on.budget, control).map_err(|why| match why {
            DayError::Stopped => Unanswered::Failed(why.to_string()),
            _ => Unanswered::Input(format!("{}: {why}", on.file), String::new()),
        })
    }
}

/// Shortest and longest step, s.
pub const STEP_LIMITS_S: (f64, f64) = (300.0, 14_400.0);
/// Rods for which the best baits to have tied on are told.
pub const MOST_RODS: usize = 3;

/// Why no day can be planned.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DayError {
    /// The scenario cannot be set up.
    #[error(transparent)]
    Prepared(#[from] PrepareError),
    /// Too much to hold.
    #[error(
        "{numbers} numbers (steps times baits times worlds) are more than {} can be held; take longer steps, fewer \
         baits or fewer --worlds",
        many::MOST_NUMBERS
    )]
    TooLarge {
        /// Steps times baits times worlds.
        numbers: usize,
    },
    /// No plan can be made of the rates.
    #[error("no plan can be made: {0}")]
    Statistics(#[from] statistics::Error),
    /// Stopped before the first world was finished.
    #[error("stopped before the first world was finished")]
    Stopped,
}

/// One step of the day.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Beginning and end, seconds since 1970-01-01T00:00:00Z.
    pub span_s: (f64, f64),
    /// The same on the wall clock.
    pub clock: (String, String),
    /// The sun in the middle of the step.
    pub sun: Sun,
    /// Sky then.
    pub sky: Sky,
    /// Clarity then.
    pub clarity: Clarity,
    /// Illuminance on the surface, every assumption at its default, lux.
    pub surface_lux: f64,
    /// Illuminance at the depth of the fish, lux.
    pub fish_lux: f64,
    /// Strikes per 100 passes of each bait.
    pub strikes: Vec<Estimate>,
    /// Mean over worlds of the same.
    pub means: Vec<f64>,
    /// The bait with the greatest mean.
    pub best: usize,
    /// The baits that cannot be told from it: within the smallest difference that matters, or not behind it in at
    /// least six plausible worlds in ten.
    pub ties: Vec<usize>,
    /// Casts in this step.
    pub casts: f64,
}

impl Step {
    /// Whether the best bait is told from all others.
    pub fn told(&self) -> bool {
        self.ties.is_empty()
    }
}

/// A way to spend the day.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The bait of each step.
    pub choices: Vec<usize>,
    /// Strikes per 100 passes over the day, what changing costs taken off: over plausible worlds.
    pub strikes: Estimate,
    /// The same world by world.
    pub by_world: Vec<f64>,
    /// Its mean over worlds.
    pub mean: f64,
    /// Strikes per 100 passes fewer than with every bait at hand and no cost of changing, world by world.
    pub fewer: Estimate,
    /// Its mean over worlds.
    pub mean_fewer: f64,
}

/// The baits to have tied on where there is a rod for each.
#[derive(Debug, Clone, PartialEq)]
pub struct TiedOn {
    /// The baits; fewer than the rods where no further one is ever the best.
    pub baits: Vec<usize>,
    /// The day with them; changing rods costs nothing.
    pub plan: Plan,
    /// Whether it is proven that no other set is better.
    pub proven: bool,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Day {
    /// What part of the day is planned.
    pub planned: Planned,
    /// The steps.
    pub steps: Vec<Step>,
    /// Names of the baits, in the order of the box.
    pub baits: Vec<String>,
    /// Strikes per 100 passes: step x bait x world.
    pub cube: Cube,
    /// Casts in an hour.
    pub casts_per_hour: f64,
    /// Passes near a fish per cast, mean over the box, middle of the worlds, where the density of fish is known.
    pub passes_per_cast: Option<f64>,
    /// Strikes over the day with one rod, where the density of fish is known.
    pub strikes_with_one_rod: Option<Estimate>,
    /// What one change costs: strikes per 100 passes of the whole day.
    pub change_cost: f64,
    /// The best bait of every step, changing costs nothing.
    pub stepwise: Plan,
    /// One rod: the plan with the cost of changing.
    pub one_rod: Plan,
    /// The best one, two, three baits to have tied on, a rod each.
    pub tied_on: Vec<TiedOn>,
    /// The changes of the plan with one rod.
    pub changes: Vec<Change>,
    /// Share of worlds whose own best plan with one rod has a change.
    pub changing_worlds: f64,
    /// Strikes per 100 passes that knowing the true world before would add to the plan with one rod, mean.
    pub knowing_adds: f64,
    /// Rows of the hourly table that lie outside the part of the day planned, and act on nothing.
    pub idle_rows: Vec<String>,
}

/// Works out the day of a scenario.
///
/// # Errors
/// [`DayError`].
pub fn day(
    scenario: &Scenario,
    models: &Models,
    request: DayOf,
    budget: Budget,
    control: &Control,
) -> Result<Day, DayError> {
    let planned = steps::planned(scenario).map_err(PrepareError::from)?;
    let borders = steps::borders(scenario, planned.span, request.step_s);
    let draws = budget.as_run().worlds;
    let numbers = (borders.len() - 1) * scenario.baits.len() * draws;
    if numbers > many::MOST_NUMBERS {
        return Err(DayError::TooLarge { numbers });
    }
    let moments: Vec<Scenario> = borders.windows(2).map(|b| at(scenario, 0.5 * (b[0] + b[1]))).collect();
    let settings = prepare(&moments, models).map_err(|(_, e)| e)?;
    let (cube, worlds) = many::strikes(models, &settings, budget, control)?;
    if cube.draws == 0 {
        return Err(DayError::Stopped);
    }
    let casts_per_hour = request.casts_per_hour.unwrap_or_else(|| settings.first().map_or(0.0, usual_pace));
    let fixed = Assumed::defaults(models).map_err(PrepareError::from)?;
    let steps: Vec<Step> = (0..settings.len())
        .map(|s| step(scenario, (borders[s], borders[s + 1]), &settings[s], &fixed, &cube, s, casts_per_hour))
        .collect();
    let passes = settings.first().and_then(|s| passes_by_world(s, mean_cast_m(s), &worlds));
    let choice = Choice::new(&steps, &cube, request.change_s / 3600.0 * casts_per_hour);
    let tied_on = (1..=MOST_RODS.min(cube.baits.len()))
        .map(|k| choice.tied_on(k))
        .collect::<Result<_, statistics::Error>>()?;
    let one_rod = choice.one_rod()?;
    let casts: f64 = steps.iter().map(|s| s.casts).sum();
    let caught = passes.as_ref().map(|by_world| {
        let strikes = one_rod.by_world.iter().zip(by_world);
        over_worlds(&strikes.map(|(s, m)| casts * m * s / 100.0).collect::<Vec<f64>>(), cube.per_scramble)
    });
    let own = choice.own_plans()?;
    let stepwise = choice.plan(steps.iter().map(|s| s.best).collect(), 0);
    let own_mean = own.iter().map(|p| p.value).sum::<f64>() / own.len().max(1) as f64;
    Ok(Day {
        planned,
        idle_rows: idle_rows(scenario, &planned),
        baits: cube.baits.clone(),
        casts_per_hour,
        passes_per_cast: passes.map(|by_world| over_worlds(&by_world, cube.per_scramble).point),
        strikes_with_one_rod: caught,
        change_cost: choice.cost,
        changes: choice
            .changes(&one_rod.choices, &steps)
            .into_iter()
            .map(|c| Change { clock: day::clock(scenario, c.unix_s), ..c })
            .collect(),
        changing_worlds: own.iter().filter(|p| p.changes > 0).count() as f64 / own.len().max(1) as f64,
        knowing_adds: own_mean - one_rod.mean,
        stepwise,
        one_rod,
        tied_on,
        steps,
        cube,
    })
}

/// The scenario at another instant of its day.
fn at(scenario: &Scenario, unix_s: f64) -> Scenario {
    let (sky, clarity) = scenario.conditions_at(unix_s);
    let mut moment = scenario.clone();
    (moment.sky, moment.water.clarity, moment.when.unix_s) = (sky.clone(), clarity, unix_s);
    moment
}

/// Casts an hour with the box's mean cast.
pub fn usual_pace(prepared: &Prepared) -> f64 {
    casts_per_hour(prepared, mean_cast_m(prepared))
}

fn step(
    scenario: &Scenario,
    (from_s, to_s): (f64, f64),
    prepared: &Prepared,
    fixed: &Assumed,
    cube: &Cube,
    s: usize,
    casts_per_hour: f64,
) -> Step {
    let world = World::new(prepared, fixed);
    let of = |b: usize| cube.strikes(s, b).unwrap_or(&[]);
    let count = cube.baits.len();
    let means: Vec<f64> = (0..count).map(|b| mean(of(b)).unwrap_or(0.0)).collect();
    // Of equal baits the first in the box.
    let best = (0..count).fold(0, |best, b| if means[b] > means[best] { b } else { best });
    let ties = (0..count).filter(|&b| {
        let ahead = of(best).iter().zip(of(b)).filter(|(x, y)| x > y).count();
        let told =
            means[best] - means[b] >= SMALLEST_DIFFERENCE && ahead as f64 >= ENOUGH * cube.draws as f64;
        b != best && !told
    });
    let clock = |t: f64| day::clock(scenario, t);
    let (sky, clarity) = scenario.conditions_at(0.5 * (from_s + to_s));
    Step {
        span_s: (from_s, to_s),
        clock: (clock(from_s), clock(to_s)),
        sun: prepared.sun,
        sky: sky.clone(),
        clarity,
        surface_lux: world.surface_lux,
        fish_lux: world.light_at(prepared.fish_depth_m),
        strikes: (0..count).map(|b| over_worlds(of(b), cube.per_scramble)).collect(),
        ties: ties.collect(),
        best,
        means,
        casts: (to_s - from_s) / 3600.0 * casts_per_hour,
    }
}

/// Times of rows that act on no step: those after the last, and those before the first that another one follows
/// before it begins.
fn idle_rows(scenario: &Scenario, planned: &Planned) -> Vec<String> {
    let rows = scenario.hours.iter().skip(1);
    let last_before = scenario
        .hours
        .iter()
        .filter(|h| h.unix_s <= planned.span.from_s)
        .map(|h| h.unix_s)
        .fold(0.0, f64::max);
    rows.filter(|h| h.unix_s >= planned.span.to_s || h.unix_s < last_before)
        .map(|h| day::clock(scenario, h.unix_s))
        .collect()
}
