//! One or two conditions, or properties of baits, varied: the strikes of every bait in every cell.
//!
//! [`Sweep::prepare`] checks every cell before any is worked out; [`Sweep::run`] fills a [`Cube`] in chunks, coarse
//! grid first, with the same worlds and passes in every cell, so that a cell holds just what `odds` gives for its
//! conditions; [`reading`] reduces the cube to who leads where. [`mod@file`] keeps a cube between runs.

pub mod error;
pub mod file;
pub mod hours;
pub mod order;
pub(in crate::study) mod parallel;
pub mod reading;

pub use error::SweepError;

use super::axis::Axis;
use crate::engine::table::Control;
use crate::engine::{Budget, StrikeTable};
use crate::models::{Models, Worlds};
use crate::scenario::{self, Bait, Cast, Catalogue, Diagnostic, Scenario};
use crate::world::{OfferedBait, Setting};
use parallel::each;
use std::collections::HashMap;

/// More cells than this are a slip.
pub const MOST_CELLS: usize = 10_000;
/// More numbers (cells times baits times worlds) than this would not fit the memory a sweep may take (190 MB).
pub const MOST_NUMBERS: usize = 24_000_000;
/// Cells worked out together: the passes are made once for all of them, and a stop loses no more.
const CHUNK: usize = 32;
/// Boxes with their running paths kept at hand.
const BOXES_KEPT: usize = 256;

/// Worlds and passes where one axis is varied and nothing else is said: enough for bands.
pub const LINE_BUDGET: (usize, usize) = (128, 128);
/// Worlds and passes where two are: enough for who leads where.
pub const MAP_BUDGET: (usize, usize) = (64, 64);

/// What is asked.
#[derive(Debug, Clone)]
pub struct Request<'a> {
    /// Text of the scenario's file.
    pub source: &'a str,
    /// Its name.
    pub file: &'a str,
    /// Values put in place of the file's.
    pub overrides: &'a [(String, String)],
    /// Assumptions.
    pub models: &'a Models,
    /// One axis or two; the first runs along a row.
    pub axes: Vec<Axis>,
    /// The baits compared; empty for the whole box.
    pub baits: &'a [String],
    /// Seed, worlds, passes.
    pub budget: Budget,
}

/// One cell: its scenario, and which of the boxes it has.
#[derive(Debug, Clone)]
struct Cell {
    /// Without its baits.
    scenario: Scenario,
    rig: usize,
}

/// A box on a tackle in water of a temperature: all that the running paths depend on.
#[derive(Debug, Clone)]
struct Rig {
    /// Which of the boxes.
    own: usize,
    /// A cell that has it.
    cell: usize,
}

/// A sweep whose every cell is possible.
#[derive(Debug, Clone)]
pub struct Sweep<'a> {
    request: Request<'a>,
    cells: Vec<Cell>,
    rigs: Vec<Rig>,
    boxes: Vec<Vec<Bait>>,
    /// Names of the baits: what stays the same of them in every cell.
    names: Vec<String>,
    /// Doubts about cells: how many have any, and the first.
    pub doubts: Option<(usize, Diagnostic)>,
}

/// Strikes per 100 passes: cell x bait x world draw.
#[derive(Debug, Clone, PartialEq)]
pub struct Cube {
    /// The axes.
    pub axes: Vec<Axis>,
    /// Names of the baits.
    pub baits: Vec<String>,
    /// World draws.
    pub draws: usize,
    /// World draws per independent scramble.
    pub per_scramble: usize,
    /// For each cell (row by row, the first axis along a row) bait after bait the strikes in every world; `None`
    /// where it was not worked out.
    pub cells: Vec<Option<Vec<f64>>>,
}

impl Cube {
    /// Steps of each axis.
    pub fn shape(&self) -> Vec<usize> {
        self.axes.iter().map(Axis::len).collect()
    }

    /// Cells worked out.
    pub fn done(&self) -> usize {
        self.cells.iter().filter(|c| c.is_some()).count()
    }

    /// Whether every cell is worked out.
    pub fn is_complete(&self) -> bool {
        self.cells.iter().all(Option::is_some)
    }

    /// Place of a cell on each axis.
    pub fn places(&self, cell: usize) -> [usize; 2] {
        places(&self.axes, cell)
    }

    /// The strikes of a bait in a cell, one per world.
    pub fn strikes(&self, cell: usize, bait: usize) -> Option<&[f64]> {
        self.cells.get(cell)?.as_ref()?.get(bait * self.draws..(bait + 1) * self.draws)
    }

    /// The cell itself if it was worked out, else the one worked out that is nearest on the grid, each axis
    /// counted by its own length; `None` where there is none at all.
    pub fn nearest(&self, cell: usize) -> Option<usize> {
        if self.cells.get(cell)?.is_some() {
            return Some(cell);
        }
        let here = self.places(cell);
        let per = [0, 1].map(|k| 1.0 / self.axes.get(k).map_or(1, Axis::len).max(1) as f64);
        let distance = |other: &usize| {
            let there = self.places(*other);
            let [x, y] = [0, 1].map(|k| there[k].abs_diff(here[k]) as f64 * per[k]);
            x * x + y * y
        };
        (0..self.cells.len())
            .filter(|&c| self.cells[c].is_some())
            .min_by(|a, b| distance(a).total_cmp(&distance(b)))
    }
}

fn places(axes: &[Axis], cell: usize) -> [usize; 2] {
    let nx = axes.first().map_or(1, Axis::len).max(1);
    [cell % nx, cell / nx]
}

impl<'a> Sweep<'a> {
    /// Checks the request and every cell of it.
    ///
    /// # Errors
    /// [`SweepError`]: no axis or too many, too many cells, a cell that is impossible, a bait that is not in the box.
    pub fn prepare(request: Request<'a>) -> Result<Self, SweepError> {
        let axes = &request.axes;
        if axes.is_empty() || axes.len() > 2 {
            return Err(SweepError::Axes { count: axes.len() });
        }
        if axes.len() == 2 && axes[0].path == axes[1].path {
            return Err(SweepError::Twice { path: axes[0].path });
        }
        let count: usize = axes.iter().map(Axis::len).product();
        if count > MOST_CELLS {
            return Err(SweepError::TooManyCells { cells: count });
        }
        let catalogue = Catalogue::of(request.models);
        let loaded = each(count, |cell| {
            let mut overrides = request.overrides.to_vec();
            overrides.extend(axes.iter().zip(places(axes, cell)).map(|(axis, i)| axis.override_at(i)));
            scenario::load(request.source, request.file, &overrides, &catalogue)
        });
        let bad = loaded.iter().filter(|l| l.is_err()).count();
        let mut cells = Vec::with_capacity(count);
        let mut boxes = Vec::with_capacity(count);
        let mut doubts: Option<(usize, Diagnostic)> = None;
        for (cell, one) in loaded.into_iter().enumerate() {
            match one {
                Ok(checked) => {
                    if let Some(first) = checked.warnings.into_iter().next() {
                        doubts.get_or_insert((0, first)).0 += 1;
                    }
                    let mut scenario = checked.scenario;
                    boxes.push(std::mem::take(&mut scenario.baits));
                    cells.push(scenario);
                }
                Err(faults) => {
                    return Err(SweepError::Impossible { at: at(axes, cell), bad, of: count, faults });
                }
            }
        }
        let names = names_of(&boxes, axes)?;
        let chosen = chosen(&names, request.baits)?;
        for one in &mut boxes {
            *one = chosen.iter().filter_map(|&b| one.get(b).cloned()).collect();
        }
        let names: Vec<String> = chosen.iter().map(|&b| names[b].clone()).collect();
        let numbers = count * names.len() * draws_of(request.models, request.budget).0;
        if numbers > MOST_NUMBERS {
            return Err(SweepError::TooLarge { numbers });
        }
        let (cells, rigs, boxes) = rigs(cells, boxes);
        Ok(Self { cells, rigs, boxes, names, doubts, request })
    }

    /// An empty cube for this sweep.
    pub fn cube(&self) -> Cube {
        let (draws, per_scramble) = draws_of(self.request.models, self.request.budget);
        Cube {
            axes: self.request.axes.clone(),
            baits: self.names.clone(),
            draws,
            per_scramble,
            cells: vec![None; self.cells.len()],
        }
    }

    /// How many world draws [`Control::done`] will count for the cells that a cube lacks.
    pub fn steps(&self, cube: &Cube) -> usize {
        (self.cells.len() - cube.done().min(self.cells.len())).div_ceil(CHUNK) * cube.draws
    }

    /// Works out the cells that the cube lacks, until done or stopped. What is stopped half-way is not kept.
    ///
    /// # Errors
    /// [`SweepError::Setting`] for a cell that cannot be set up, [`SweepError::Models`] for incomplete models.
    pub fn run(&self, cube: &mut Cube, control: &Control) -> Result<(), SweepError> {
        let todo: Vec<usize> = order::interleaved(&cube.shape())
            .into_iter()
            .filter(|&c| cube.cells.get(c).is_some_and(Option::is_none))
            .collect();
        let mut kept = HashMap::new();
        for chunk in todo.chunks(CHUNK) {
            if control.stopped() {
                break;
            }
            let settings = self.settings(chunk, &mut kept)?;
            let table = StrikeTable::fill(self.request.models, &settings, self.request.budget, control)?;
            if table.draws() < cube.draws {
                break;
            }
            for (k, &cell) in chunk.iter().enumerate() {
                let struck = table.struck.index_axis(ndarray::Axis(0), k);
                cube.cells[cell] = Some(struck.iter().map(|p| 100.0 * p).collect());
            }
        }
        Ok(())
    }

    /// Sets the cells of a chunk up; running paths are worked out once for each box, tackle and temperature.
    fn settings(
        &self,
        chunk: &[usize],
        kept: &mut HashMap<usize, Vec<OfferedBait>>,
    ) -> Result<Vec<Setting>, SweepError> {
        if kept.len() > BOXES_KEPT {
            kept.clear();
        }
        let mut missing: Vec<usize> =
            chunk.iter().map(|&c| self.cells[c].rig).filter(|r| !kept.contains_key(r)).collect();
        missing.sort_unstable();
        missing.dedup();
        let fail = |cell: usize, reason| SweepError::Setting { at: at(&self.request.axes, cell), reason };
        let solved = each(missing.len(), |k| {
            let rig = &self.rigs[missing[k]];
            let whole =
                Scenario { baits: self.boxes[rig.own].clone(), ..self.cells[rig.cell].scenario.clone() };
            Setting::new(&whole, self.request.models).map(|s| s.baits).map_err(|e| fail(rig.cell, e))
        });
        for (rig, baits) in missing.iter().zip(solved) {
            kept.insert(*rig, baits?);
        }
        let kept = &*kept;
        each(chunk.len(), |k| {
            let cell = &self.cells[chunk[k]];
            let mut setting =
                Setting::new(&cell.scenario, self.request.models).map_err(|e| fail(chunk[k], e))?;
            setting.baits = kept.get(&cell.rig).cloned().unwrap_or_default();
            Ok(setting)
        })
        .into_iter()
        .collect()
    }
}

/// World draws of a budget as they are drawn, and how many share a scramble.
fn draws_of(models: &Models, budget: Budget) -> (usize, usize) {
    if budget.fixed {
        return (1, 1);
    }
    let worlds = Worlds::drawn(models, budget.seed, budget.draws);
    (worlds.draws.len(), worlds.per_scramble)
}

/// "fish.depth = 4 m, sky.wind = 2 m/s".
fn at(axes: &[Axis], cell: usize) -> String {
    let one = |(axis, i): (&Axis, usize)| {
        let (path, value) = axis.override_at(i);
        format!("{path} = {value}")
    };
    axes.iter().zip(places(axes, cell)).map(one).collect::<Vec<_>>().join(", ")
}

/// Gives every cell the number of its rig, and every rig the number of its box.
fn rigs(scenarios: Vec<Scenario>, boxes: Vec<Vec<Bait>>) -> (Vec<Cell>, Vec<Rig>, Vec<Vec<Bait>>) {
    let mut distinct: Vec<Vec<Bait>> = Vec::new();
    let mut alike: HashMap<u64, Vec<usize>> = HashMap::new();
    let mut known = HashMap::new();
    let mut rigs: Vec<Rig> = Vec::new();
    let cells = scenarios.into_iter().zip(boxes).enumerate().map(|(cell, (scenario, baits))| {
        // Boxes of one check sum are compared in full.
        let same = alike.entry(file::check_sum(format!("{baits:?}").as_bytes())).or_default();
        let own = same.iter().copied().find(|&k| distinct[k] == baits).unwrap_or_else(|| {
            distinct.push(baits);
            same.push(distinct.len() - 1);
            distinct.len() - 1
        });
        let t = &scenario.tackle;
        let (launched, cast) = match t.cast {
            Cast::LineOut(line_out_m) => (false, line_out_m),
            Cast::Launch(speed_m_s) => (true, speed_m_s),
        };
        let numbers = [t.diameter_m, cast, t.speed_m_s, t.rod_tip_m, scenario.water.temperature_c];
        let rig =
            *known.entry((own, t.line.clone(), launched, numbers.map(f64::to_bits))).or_insert_with(|| {
                rigs.push(Rig { own, cell });
                rigs.len() - 1
            });
        Cell { scenario, rig }
    });
    let cells = cells.collect();
    (cells, rigs, distinct)
}

/// What stays the same of each bait's name in every cell: "110 mm, deep lip, silent" without its length where the
/// length is varied.
fn names_of(boxes: &[Vec<Bait>], axes: &[Axis]) -> Result<Vec<String>, SweepError> {
    let first = boxes.first().map_or(&[][..], Vec::as_slice);
    if let Some(cell) = boxes.iter().position(|b| b.len() != first.len()) {
        return Err(SweepError::BoxDiffers {
            first: (at(axes, 0), first.len()),
            other: (at(axes, cell), boxes[cell].len()),
        });
    }
    let common = |b: usize| {
        let mut parts: Vec<&str> = first[b].name.split(", ").collect();
        for one in boxes {
            let other: Vec<&str> = one[b].name.split(", ").collect();
            if other.len() == parts.len() || one[b].name != first[b].name {
                parts.retain(|p| other.contains(p));
            }
        }
        parts.join(", ")
    };
    let mut names: Vec<String> = (0..first.len()).map(common).collect();
    for b in 0..names.len() {
        // Nothing left, or the same left of two: keep the full name of the first cell.
        if names[b].is_empty() || names.iter().filter(|n| **n == names[b]).count() > 1 {
            names[b] = if first.len() == 1 { "the bait".into() } else { first[b].name.clone() };
        }
    }
    Ok(names)
}

/// Places of the baits wished for, in the order of the box; all for no wish. A name may be shortened to any part
/// that only one bait has.
fn chosen(names: &[String], wished: &[String]) -> Result<Vec<usize>, SweepError> {
    if wished.is_empty() {
        return Ok((0..names.len()).collect());
    }
    let mut chosen = wished.iter().map(|w| bait_of(names, w)).collect::<Result<Vec<_>, _>>()?;
    chosen.sort_unstable();
    chosen.dedup();
    Ok(chosen)
}

/// The bait of that name, or the only one whose name contains it.
///
/// # Errors
/// [`SweepError::UnknownBait`] where there is none, or more than one.
pub fn bait_of(names: &[String], wished: &str) -> Result<usize, SweepError> {
    let wanted = wished.trim().to_lowercase();
    if let Some(exact) = names.iter().position(|n| n.to_lowercase() == wanted) {
        return Ok(exact);
    }
    let containing: Vec<usize> = (0..names.len())
        .filter(|&b| !wanted.is_empty() && names[b].to_lowercase().contains(&wanted))
        .collect();
    match containing.as_slice() {
        [one] => Ok(*one),
        several => Err(SweepError::UnknownBait {
            name: wished.to_owned(),
            several: several.len() > 1,
            names: if several.len() > 1 {
                several.iter().map(|&b| names[b].clone()).collect()
            } else {
                names.to_vec()
            },
        }),
    }
}
