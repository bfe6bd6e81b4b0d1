//! Strikes per 100 passes for every bait in the box: the main answer.

use super::drivers::{Driver, drivers};
use super::pace::{Usual, casts_differ, casts_per_hour, mean_cast_m, passes_by_world};
use super::{Context, SMALLEST_DIFFERENCE, Study, Unanswered, over_worlds};
use crate::engine::{Control, Strikes};
use crate::models::Models;
use crate::random::{Purpose, stream};
use crate::statistics::estimate::{Estimate, quantile, sorted};
use crate::statistics::intervals::Confidence;
use crate::statistics::ranking::Comparison;
use crate::world::{Prepared, World};
use ndarray::{Array2, ArrayBase, Axis, Data, Ix2};
use serde::Serialize;

/// Where 100 passes go, means over plausible worlds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Losses {
    /// The fish never noticed the bait.
    pub never_noticed: f64,
    /// It noticed and stayed put.
    pub stayed_put: f64,
    /// It came and turned away.
    pub turned_away: f64,
    /// It struck.
    pub struck: f64,
}

/// How far a fish sees a bait, medians over plausible worlds, m.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SeenFrom {
    /// By a fish straight below.
    pub up: f64,
    /// By a fish at the bait's depth.
    pub level: f64,
    /// By a fish straight above.
    pub down: f64,
}

/// The odds of one bait.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BaitOdds {
    /// Name.
    pub name: String,
    /// Strikes per 100 passes.
    #[serde(rename = "strikes_per_100")]
    pub strikes: Estimate,
    /// Strikes per 100 passes at 20 evenly spaced quantiles of the plausible worlds.
    #[serde(skip)]
    pub dots: Vec<f64>,
    /// Where the passes go, per 100.
    pub losses: Losses,
    /// Greatest running depth, m, as computed.
    pub running_depth_m: f64,
    /// How far it is seen from.
    #[serde(rename = "seen_from_m")]
    pub seen_from: SeenFrom,
    /// Leads, or is within the smallest difference that matters, in one world in ten; or cannot be told from the
    /// leader by the simulation done.
    pub could_be_best: bool,
    /// Best and worst rank over plausible worlds (5-95 %), widened by the luck of the simulation.
    pub rank: (usize, usize),
    /// Share of plausible worlds in which it leads.
    #[serde(rename = "leads_share")]
    pub leads: f64,
    /// Hooked fish per 100 passes.
    #[serde(rename = "hooked_per_100")]
    pub hooked: Estimate,
    /// Passes near a fish in a cast of its own, middle of the worlds, where the density of fish is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub passes_per_cast: Option<f64>,
    /// Strikes in 100 casts, where the density of fish is known.
    #[serde(rename = "strikes_per_100_casts", skip_serializing_if = "Option::is_none")]
    pub per_100_casts: Option<Estimate>,
    /// Strikes in an hour, where the density of fish is known or the baits fly differently far.
    #[serde(rename = "strikes_per_hour", skip_serializing_if = "Option::is_none")]
    pub per_hour: Option<Estimate>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Odds {
    /// One entry per bait, in the order of the box.
    pub baits: Vec<BaitOdds>,
    /// Places of the baits, most strikes first (by the median).
    #[serde(skip)]
    pub order: Vec<usize>,
    /// What the spread of the leader's odds rests on most.
    #[serde(rename = "spread_goes_with")]
    pub drivers: Vec<Driver>,
    /// Passes near a fish per cast, mean over the box, middle of the worlds, where the density of fish is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub passes_per_cast: Option<f64>,
    /// World draws that went in.
    #[serde(rename = "draws_done")]
    pub draws: usize,
}

/// Strikes per 100 passes of every bait in the box.
#[derive(Debug, Clone, Copy, Default)]
pub struct OddsOf;

impl Study for OddsOf {
    const NAME: &'static str = "odds";
    type Answer = Odds;

    fn run(&self, on: &Context, control: &Control) -> Result<Odds, Unanswered> {
        let strikes = Strikes::of(on.models, std::slice::from_ref(on.prepared), on.budget, control)?;
        if strikes.draws() == 0 {
            return Err(Unanswered::stopped("the first world"));
        }
        Ok(odds(on.models, on.prepared, &strikes, 0, on.budget.seed))
    }
}

/// What can be said of who leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Finding {
    /// There is no bait.
    EmptyBox,
    /// One leads in nearly every plausible world.
    Leads,
    /// Each of these few could be the best, by their places, most strikes first.
    Few(Vec<usize>),
    /// So many could be the best, and these may come first by rank; none where no rank tells them apart.
    Many {
        /// How many could be the best.
        possible: usize,
        /// Who may come first.
        first: Vec<usize>,
    },
}

impl Odds {
    /// The bait with the most strikes.
    pub fn leader(&self) -> Option<&BaitOdds> {
        self.order.first().map(|&b| &self.baits[b])
    }

    /// The baits, most strikes first.
    pub fn in_order(&self) -> Vec<BaitOdds> {
        self.order.iter().map(|&b| self.baits[b].clone()).collect()
    }

    /// Who could be the best, told apart by rank where the odds alone do not.
    pub fn finding(&self) -> Finding {
        let places = |keep: &dyn Fn(&BaitOdds) -> bool| -> Vec<usize> {
            self.order.iter().copied().filter(|&b| keep(&self.baits[b])).collect()
        };
        let possible = places(&|b| b.could_be_best);
        match possible.len() {
            _ if self.baits.is_empty() => Finding::EmptyBox,
            0 | 1 => Finding::Leads,
            few if few <= LISTED => Finding::Few(possible),
            many => {
                let mut first = places(&|b| b.rank.0 == 1);
                if first.len() == self.baits.len() {
                    first.clear();
                }
                Finding::Many { possible: many, first }
            }
        }
    }
}

/// So many are named one by one.
pub const LISTED: usize = 4;

/// Dots of a quantile dot plot.
pub const DOTS: usize = 20;
/// Share of plausible worlds in which a bait must lead, or nearly, to count as a possible best.
const ENOUGH_WORLDS: f64 = 0.1;
/// Simulated error vectors for the critical values of the comparison.
const CRITICAL_DRAWS: usize = 4_000;

/// Reduces condition number `condition` of a strike table to the odds of each bait.
pub fn odds(models: &Models, prepared: &Prepared, table: &Strikes, condition: usize, seed: u64) -> Odds {
    let strikes = table.per_100(condition);
    let variance: Array2<f64> = table.variance().index_axis(Axis(0), condition).map(|v| 1e4 * v);
    let (noticed, came, struck) = (table.noticed(), table.came(), table.struck());
    let ranks = ranks(&strikes, &variance);
    let possible = could_be_best(&strikes, table.per_scramble, seed);
    let leads = leads(&strikes);
    let seen = seen_from(prepared, table);
    let (usual, differ) = (Usual::of(prepared), casts_differ(prepared));
    let mean = |of: &ndarray::Array3<f64>, b: usize| {
        100.0 * of.index_axis(Axis(0), condition).index_axis(Axis(0), b).mean().unwrap_or(0.0)
    };
    let baits: Vec<BaitOdds> = prepared
        .baits
        .iter()
        .enumerate()
        .map(|(b, bait)| {
            let values = strikes.index_axis(Axis(0), b).to_vec();
            let (noticed, came, struck) = (mean(&noticed, b), mean(&came, b), mean(&struck, b));
            // One world has no spread over worlds; its luck is that of its passes.
            let with_luck = |e: Estimate, factor: f64| match values.len() {
                1 => Estimate { simulation_se: factor * variance[(b, 0)].sqrt(), ..e },
                _ => e,
            };
            let hooked_share = table.worlds.first().map_or(0.0, |w| w.hooked);
            let cast_m = bait.path.cast_m();
            let casts_h = casts_per_hour(prepared, cast_m);
            let passes = passes_by_world(prepared, cast_m, &table.worlds);
            let times = |factor: &dyn Fn(usize) -> f64| {
                let by_world: Vec<f64> = values.iter().enumerate().map(|(w, s)| s * factor(w)).collect();
                with_luck(over_worlds(&by_world, table.per_scramble), factor(0))
            };
            let per_hour = match &passes {
                Some(passes) => Some(times(&|w| passes.get(w).map_or(0.0, |m| m * casts_h / 100.0))),
                None if differ => Some(times(&|_| usual.passes_per_hour(prepared, cast_m) / 100.0)),
                None => None,
            };
            let hooked: Vec<f64> = values.iter().zip(&table.worlds).map(|(s, w)| s * w.hooked).collect();
            BaitOdds {
                name: bait.name.clone(),
                strikes: with_luck(over_worlds(&values, table.per_scramble), 1.0),
                dots: dots(&values),
                losses: Losses {
                    never_noticed: 100.0 - noticed,
                    stayed_put: noticed - came,
                    turned_away: came - struck,
                    struck,
                },
                running_depth_m: bait.path.max_depth_m().min(prepared.bottom_m),
                seen_from: seen[b],
                could_be_best: possible[b],
                rank: ranks[b],
                leads: leads[b],
                passes_per_cast: passes.as_ref().map(|p| over_worlds(p, table.per_scramble).point),
                per_100_casts: passes.as_ref().map(|p| times(&|w| p.get(w).copied().unwrap_or(0.0))),
                per_hour,
                hooked: with_luck(over_worlds(&hooked, table.per_scramble), hooked_share),
            }
        })
        .collect();
    let mut order: Vec<usize> = (0..baits.len()).collect();
    order.sort_by(|&a, &b| baits[b].strikes.point.total_cmp(&baits[a].strikes.point));
    let leader = order.first().map(|&b| strikes.index_axis(Axis(0), b).to_vec()).unwrap_or_default();
    Odds {
        drivers: drivers(models, &table.draws, &leader),
        passes_per_cast: passes_by_world(prepared, mean_cast_m(prepared), &table.worlds)
            .map(|passes| over_worlds(&passes, table.per_scramble).point),
        draws: table.draws(),
        baits,
        order,
    }
}

fn dots(values: &[f64]) -> Vec<f64> {
    let all = sorted(values);
    let count = DOTS.min(all.len());
    (0..count).filter_map(|i| quantile(&all, (i as f64 + 0.5) / count as f64)).collect()
}

/// Best and worst rank of each bait: 5 % of worlds lie beyond each end, a rank in one world being as good or
/// as bad as two standard errors of the pairwise difference allow.
fn ranks(strikes: &Array2<f64>, variance: &Array2<f64>) -> Vec<(usize, usize)> {
    let (baits, draws) = strikes.dim();
    (0..baits)
        .map(|b| {
            let mut best = Vec::with_capacity(draws);
            let mut worst = Vec::with_capacity(draws);
            for d in 0..draws {
                let gap = |o: usize| strikes[(o, d)] - strikes[(b, d)];
                let noise = |o: usize| 2.0 * (variance[(o, d)] + variance[(b, d)]).sqrt();
                let others = || (0..baits).filter(|&o| o != b);
                best.push(1.0 + others().filter(|&o| gap(o) > noise(o)).count() as f64);
                worst.push(1.0 + others().filter(|&o| gap(o) > -noise(o)).count() as f64);
            }
            let at = |v: &[f64], q| quantile(&sorted(v), q).unwrap_or(1.0);
            (at(&best, 0.05).floor() as usize, at(&worst, 0.95).ceil() as usize)
        })
        .collect()
}

/// Share of worlds in which each bait strikes most.
pub(super) fn leads<S: Data<Elem = f64>>(strikes: &ArrayBase<S, Ix2>) -> Vec<f64> {
    let (baits, draws) = strikes.dim();
    let mut count = vec![0usize; baits];
    for world in strikes.axis_iter(Axis(1)) {
        if let Some((best, _)) = world.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1)) {
            count[best] += 1;
        }
    }
    count.iter().map(|&c| c as f64 / draws.max(1) as f64).collect()
}

/// Which baits could be the best.
fn could_be_best(strikes: &Array2<f64>, per_scramble: usize, seed: u64) -> Vec<bool> {
    let (baits, draws) = strikes.dim();
    let mut near = vec![0usize; baits];
    for d in 0..draws {
        let leader = strikes.index_axis(Axis(1), d).iter().copied().fold(f64::NEG_INFINITY, f64::max);
        for (b, count) in near.iter_mut().enumerate() {
            *count += usize::from(strikes[(b, d)] >= leader - SMALLEST_DIFFERENCE);
        }
    }
    let scrambles = draws / per_scramble.max(1);
    let replicates = Array2::from_shape_fn((scrambles, baits), |(r, b)| {
        (0..per_scramble).map(|i| strikes[(b, r * per_scramble + i)]).sum::<f64>() / per_scramble as f64
    });
    let untold = Comparison::from_replicates(replicates.view())
        .and_then(|c| {
            c.against_best(Confidence::NINETY_FIVE, CRITICAL_DRAWS, &mut stream(seed, Purpose::Resample, 0))
        })
        .map(|all| all.iter().map(|a| a.could_be_best).collect())
        .unwrap_or_else(|_| vec![false; baits]);
    near.iter()
        .zip(untold)
        .map(|(&count, untold): (&usize, bool)| untold || count as f64 >= ENOUGH_WORLDS * draws as f64)
        .collect()
}

/// Worlds looked at for the ranges of sight, which vary smoothly.
const SIGHT_WORLDS: usize = 64;

/// Median range at which each bait is seen: a fish at its depth looking up, level at the bait's depth, and down.
fn seen_from(prepared: &Prepared, table: &Strikes) -> Vec<SeenFrom> {
    let step = (table.worlds.len() / SIGHT_WORLDS).max(1);
    let mut all = vec![[Vec::new(), Vec::new(), Vec::new()]; prepared.baits.len()];
    for assumed in table.worlds.iter().step_by(step) {
        let world = World::new(prepared, assumed);
        for (ranges, bait) in all.iter_mut().zip(prepared.baits.iter()) {
            let offer = world.offer(prepared, assumed, bait);
            let depth = (bait.path.max_depth_m() * assumed.depth_error).min(prepared.bottom_m);
            for (range, sine) in ranges.iter_mut().zip([1.0, 0.0, -1.0]) {
                range.push(world.seen_from_m(&offer, sine, eye_depth(prepared, depth, sine), depth));
            }
        }
    }
    let median = |v: &[f64]| quantile(&sorted(v), 0.5).unwrap_or(0.0);
    all.iter().map(|[u, l, d]| SeenFrom { up: median(u), level: median(l), down: median(d) }).collect()
}

/// Depth of the eye that looks at a bait at `bait_depth_m`: the fish's own for a fish below that looks up or one
/// above that looks down, the bait's where the fish hangs on the other side, or level.
pub fn eye_depth(prepared: &Prepared, bait_depth_m: f64, sin_elevation: f64) -> f64 {
    if sin_elevation > 0.0 {
        prepared.fish_depth_m.max(bait_depth_m)
    } else if sin_elevation < 0.0 {
        prepared.fish_depth_m.min(bait_depth_m)
    } else {
        bait_depth_m
    }
}
