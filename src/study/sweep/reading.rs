//! Who leads where, and how sure that is: pure reductions of a cube.
//!
//! *Leader*: the bait with the greatest median over plausible worlds. *Told*: it leads in at least six plausible
//! worlds in ten, and the best and the worst bait differ by the smallest difference that matters. Where it is not
//! told, several baits could be the best, or it makes no difference which; there the map is grey.

use super::Cube;
use super::hours::Hours;
use crate::scenario::Diagnostic;
use crate::statistics::estimate::Estimate;
use crate::study::axis::Step;
use crate::study::odds::leads;
use crate::study::{SMALLEST_DIFFERENCE, over_worlds};
use ndarray::ArrayView2;
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};
use serde_json::json;

/// Share of plausible worlds in which a bait must lead, or be ahead of another, for it to be told. Of two baits that
/// nothing tells apart one leads in 0.6 of 64 independent worlds or more with a chance of 7 % (binomial).
pub const ENOUGH: f64 = 0.6;

/// What one cell says.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Strikes per 100 passes of each bait.
    pub strikes: Vec<Estimate>,
    /// Share of plausible worlds in which each bait leads.
    pub leads: Vec<f64>,
    /// The bait with the greatest median.
    pub leader: usize,
    /// Whether it can be told that it leads.
    pub told: bool,
    /// Whether all baits are within the smallest difference that matters: nothing to choose.
    pub level: bool,
}

impl Reading {
    /// Strikes per 100 passes of the leader.
    pub fn best(&self) -> Estimate {
        self.strikes[self.leader]
    }
}

/// Reads one cell; `None` where it was not worked out.
pub fn read(cube: &Cube, cell: usize) -> Option<Reading> {
    let values = cube.cells.get(cell)?.as_ref()?;
    let table = ArrayView2::from_shape((cube.baits.len(), cube.draws), values.as_slice()).ok()?;
    let strikes: Vec<Estimate> =
        table.rows().into_iter().map(|row| over_worlds(&row.to_vec(), cube.per_scramble)).collect();
    let medians: Vec<f64> = strikes.iter().map(|s| s.point).collect();
    let leader = (0..medians.len()).max_by(|&a, &b| medians[a].total_cmp(&medians[b]).then(b.cmp(&a)))?;
    let leads = leads(&table);
    let least = medians.iter().copied().fold(f64::INFINITY, f64::min);
    let level = medians.len() > 1 && medians[leader] - least < SMALLEST_DIFFERENCE;
    let told = !level && (leads.len() < 2 || leads[leader] >= ENOUGH);
    Some(Reading { strikes, leads, leader, told, level })
}

/// How two baits differ in one cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// Strikes per 100 passes of the first less those of the second, world by world.
    pub more: Estimate,
    /// Share of plausible worlds in which the first is ahead.
    pub ahead: f64,
    /// Whether the sign can be told.
    pub told: bool,
}

/// Compares two baits in a cell; `None` where it was not worked out.
pub fn difference(cube: &Cube, cell: usize, first: usize, second: usize) -> Option<Difference> {
    let (a, b) = (cube.strikes(cell, first)?, cube.strikes(cell, second)?);
    let apart: Vec<f64> = a.iter().zip(b).map(|(a, b)| a - b).collect();
    let more = over_worlds(&apart, cube.per_scramble);
    let share = |yes: &dyn Fn(f64) -> bool| {
        apart.iter().filter(|d| yes(**d)).count() as f64 / apart.len().max(1) as f64
    };
    let (ahead, behind) = (share(&|d| d > 0.0), share(&|d| d < 0.0));
    let mine = if more.point >= 0.0 { ahead } else { behind };
    let told = mine >= ENOUGH && more.point.abs() >= SMALLEST_DIFFERENCE;
    Some(Difference { more, ahead, told })
}

/// A stretch of one axis with the same answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// Who leads; none where it cannot be told.
    pub leader: Option<usize>,
    /// First and last step.
    pub steps: (usize, usize),
}

/// The stretches of a sweep over one axis, from one end to the other; cells not worked out are passed over.
pub fn stretches(readings: &[Option<Reading>]) -> Vec<Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    for (i, reading) in readings.iter().enumerate() {
        let Some(reading) = reading else { continue };
        let leader = reading.told.then_some(reading.leader);
        match all.last_mut() {
            Some(last) if last.leader == leader => last.steps.1 = i,
            _ => all.push(Stretch { leader, steps: (i, i) }),
        }
    }
    all
}

/// Where one bait takes the lead from another along one axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flip {
    /// Who led before.
    pub from: usize,
    /// Who leads after.
    pub to: usize,
    /// Where the medians cross, in the unit kept of the axis (by interpolation).
    pub at: f64,
    /// Share of plausible worlds in which the order of the two is one way at the first step and the other way at
    /// the last.
    pub flips_in: f64,
}

/// Where the leader changes among the stretches that can be told.
pub fn flips(cube: &Cube, readings: &[Option<Reading>]) -> Vec<Flip> {
    let told: Vec<Stretch> = stretches(readings).into_iter().filter(|s| s.leader.is_some()).collect();
    told.windows(2)
        .filter_map(|pair| {
            let (from, to) = (pair[0].leader?, pair[1].leader?);
            if from == to {
                return None;
            }
            let at = crossing(cube, readings, (from, to), (pair[0].steps.1, pair[1].steps.0))?;
            Some(Flip { from, to, at, flips_in: flips_in(cube, readings, from, to) })
        })
        .collect()
}

/// Where the median of `to` overtakes that of `from`, between two steps.
fn crossing(
    cube: &Cube,
    readings: &[Option<Reading>],
    (from, to): (usize, usize),
    (first, last): (usize, usize),
) -> Option<f64> {
    let axis = cube.axes.first()?;
    let gap = |i: usize| readings[i].as_ref().map(|r| r.strikes[from].point - r.strikes[to].point);
    let known: Vec<(usize, f64)> = (first..=last).filter_map(|i| Some((i, gap(i)?))).collect();
    let pair = known.windows(2).find(|w| w[0].1 >= 0.0 && w[1].1 < 0.0)?;
    let ((i, a), (j, b)) = (pair[0], pair[1]);
    let t = a / (a - b);
    // Steps between two known ones may be missing in a sweep that was stopped.
    let place = i as f64 + t * (j - i) as f64;
    Some(axis.between(place as usize, place - place.floor()))
}

fn flips_in(cube: &Cube, readings: &[Option<Reading>], from: usize, to: usize) -> f64 {
    let known: Vec<usize> = (0..readings.len()).filter(|&i| readings[i].is_some()).collect();
    let (Some(&first), Some(&last)) = (known.first(), known.last()) else { return 0.0 };
    let at = |cell, bait| cube.strikes(cell, bait).unwrap_or(&[]);
    let worlds = at(first, from).iter().zip(at(first, to)).zip(at(last, from).iter().zip(at(last, to)));
    let turned = worlds.filter(|((f0, t0), (f1, t1))| f0 > t0 && t1 > f1).count();
    turned as f64 / cube.draws.max(1) as f64
}

/// Who leads over how much of what was worked out: bait (none where it cannot be told) and share, most first.
pub fn shares(readings: &[Option<Reading>]) -> Vec<(Option<usize>, f64)> {
    let mut count: Vec<(Option<usize>, usize)> = Vec::new();
    for reading in readings.iter().flatten() {
        let leader = reading.told.then_some(reading.leader);
        match count.iter_mut().find(|(l, _)| *l == leader) {
            Some((_, n)) => *n += 1,
            None => count.push((leader, 1)),
        }
    }
    let of = readings.iter().flatten().count().max(1) as f64;
    count.sort_by_key(|&(leader, n)| (std::cmp::Reverse(n), leader));
    count.into_iter().map(|(leader, n)| (leader, n as f64 / of)).collect()
}

/// The baits by the mean of their medians over the whole sweep, best first.
pub fn overall(readings: &[Option<Reading>]) -> Vec<usize> {
    let baits = readings.iter().flatten().next().map_or(0, |r| r.strikes.len());
    let sums: Vec<f64> =
        (0..baits).map(|b| readings.iter().flatten().map(|r| r.strikes[b].point).sum()).collect();
    let mut order: Vec<usize> = (0..baits).collect();
    order.sort_by(|&a, &b| sums[b].total_cmp(&sums[a]));
    order
}

/// A cube with everything read from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The cube.
    pub cube: Cube,
    /// What each cell says.
    pub readings: Vec<Option<Reading>>,
    /// For each cell itself, or the one worked out that is nearest.
    pub nearest: Vec<Option<usize>>,
    /// Where the lead changes; for one axis of numbers.
    pub flips: Vec<Flip>,
    /// Two baits to compare: the first against the second.
    pub pair: Option<(usize, usize)>,
    /// How they differ in each cell.
    pub differences: Vec<Option<Difference>>,
    /// Where cells or baits fish at different pace.
    pub by_the_hour: Option<ByTheHour>,
    /// Cells that are doubtful, and the first doubt.
    pub doubts: Option<(usize, Diagnostic)>,
    /// The bytes that keep it, to be gone on with.
    pub kept: Vec<u8>,
}

/// An estimate and the share of plausible worlds in which it leads, or is ahead.
#[derive(Serialize)]
struct WithShare<'a> {
    #[serde(flatten)]
    estimate: &'a Estimate,
    #[serde(skip_serializing_if = "Option::is_none")]
    leads_share: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ahead_share: Option<f64>,
}

/// A cell as programs read it.
#[derive(Serialize)]
struct CellOut<'a> {
    place: Vec<usize>,
    at: Vec<Step>,
    leader: Option<&'a str>,
    greatest_median: &'a str,
    strikes_per_100: Vec<WithShare<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    strikes_per_hour: Option<&'a [Estimate]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    difference_per_100: Option<WithShare<'a>>,
}

impl Answer {
    fn cell_out(&self, c: usize) -> Option<CellOut<'_>> {
        let (cube, r) = (&self.cube, self.readings[c].as_ref()?);
        let places = cube.places(c)[..cube.axes.len()].to_vec();
        let bait = |(estimate, leads): (_, &f64)| WithShare {
            estimate,
            leads_share: Some(*leads),
            ahead_share: None,
        };
        let difference = self.differences.get(c).and_then(Option::as_ref);
        Some(CellOut {
            at: cube.axes.iter().zip(&places).map(|(axis, i)| axis.value(*i)).collect(),
            place: places,
            leader: r.told.then(|| cube.baits[r.leader].as_str()),
            greatest_median: &cube.baits[r.leader],
            strikes_per_100: r.strikes.iter().zip(&r.leads).map(bait).collect(),
            strikes_per_hour: self.by_the_hour.as_ref().and_then(|h| h.strikes[c].as_deref()),
            difference_per_100: difference.map(|d| WithShare {
                estimate: &d.more,
                leads_share: None,
                ahead_share: Some(d.ahead),
            }),
        })
    }
}

/// Axes, baits, and every cell that was worked out.
impl Serialize for Answer {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let cube = &self.cube;
        let name = |b: usize| cube.baits[b].as_str();
        let mut map = to.serialize_map(None)?;
        map.serialize_entry("axes", &cube.axes)?;
        map.serialize_entry("baits", &cube.baits)?;
        map.serialize_entry("cells_done", &cube.done())?;
        map.serialize_entry("cells_asked", &cube.cells.len())?;
        if let Some(hour) = &self.by_the_hour {
            map.serialize_entry("one_pass_in_a_cast_of_m", &hour.one_pass_in_m)?;
        }
        let cells: Vec<CellOut> = (0..self.readings.len()).filter_map(|c| self.cell_out(c)).collect();
        map.serialize_entry("cells", &cells)?;
        if let Some((first, second)) = self.pair {
            map.serialize_entry("difference", &json!({ "first": name(first), "second": name(second) }))?;
        }
        let flip = |f: &Flip| json!({ "from": name(f.from), "to": name(f.to), "at": f.at, "order_flips_share": f.flips_in });
        map.serialize_entry("leader_changes", &self.flips.iter().map(flip).collect::<Vec<_>>())?;
        map.end()
    }
}

/// Strikes in an hour.
#[derive(Debug, Clone, PartialEq)]
pub struct ByTheHour {
    /// Of every bait in each cell.
    pub strikes: Vec<Option<Vec<Estimate>>>,
    /// The cast that passes one such fish, where no density of fish is given, m.
    pub one_pass_in_m: Option<f64>,
}

impl Answer {
    /// Reads a cube; `against` is a bait to hold the best of the others against. Where there are just two baits they
    /// are compared in any case, the better one first.
    pub fn of(cube: Cube, against: Option<usize>) -> Self {
        let readings: Vec<Option<Reading>> = (0..cube.cells.len()).map(|c| read(&cube, c)).collect();
        let best = overall(&readings).into_iter().find(|b| Some(*b) != against);
        let pair = match (against, best) {
            (Some(second), Some(first)) => Some((first, second)),
            (None, Some(first)) if cube.baits.len() == 2 => Some((first, 1 - first)),
            _ => None,
        };
        let differences = match pair {
            Some((a, b)) => (0..cube.cells.len()).map(|c| difference(&cube, c, a, b)).collect(),
            None => Vec::new(),
        };
        let along = cube.axes.len() == 1 && cube.axes.iter().all(|a| !a.is_words());
        let flips = if along { flips(&cube, &readings) } else { Vec::new() };
        let nearest = (0..cube.cells.len()).map(|c| cube.nearest(c)).collect();
        Self {
            cube,
            readings,
            nearest,
            flips,
            pair,
            differences,
            by_the_hour: None,
            doubts: None,
            kept: Vec::new(),
        }
    }

    /// The same with strikes in an hour.
    pub fn with_hours(mut self, hours: Option<&Hours>) -> Self {
        self.by_the_hour = hours.map(|hours| ByTheHour {
            strikes: (0..self.cube.cells.len()).map(|c| hours.strikes(&self.cube, c)).collect(),
            one_pass_in_m: (!hours.density).then_some(hours.cast_m),
        });
        self
    }

    /// The reading of a cell, or of the one worked out that is nearest.
    pub fn near(&self, cell: usize) -> Option<&Reading> {
        self.readings.get(self.nearest.get(cell).copied()??)?.as_ref()
    }
}
