//! One or two conditions, or properties of baits, varied: the strikes of every bait in every cell.
//!
//! [`Sweep::prepare`] checks every cell before any is worked out; [`Sweep::run`] fills a [`Cube`] in chunks, coarse
//! grid first, with the same worlds and passes in every cell, so that a cell holds just what `odds` gives for its
//! conditions; [`reading`] reduces the cube to who leads where. [`mod@file`] keeps a cube between runs.

pub mod error;
pub mod file;
pub mod hours;
pub mod order;
pub mod reading;

pub use error::SweepError;

use super::axis::Axis;
use super::{Context, Study, Unanswered};
use crate::engine::Control;
use crate::engine::conditions::prepare_with;
use crate::engine::{Budget, Condition, each, simulate};
use crate::models::Models;
use crate::models::draw::WORLD_SCRAMBLES;
use crate::scenario::{self, Bait, Catalogue, Diagnostic};
use crate::world::Prepared;
use file::FileError;
use reading::Answer;

/// More cells than this are a slip.
pub const MOST_CELLS: usize = 10_000;
/// More numbers (cells times baits times worlds) than this would not fit the memory a sweep may take (190 MB).
pub const MOST_NUMBERS: usize = 24_000_000;
/// Cells worked out together: the passes are made once for all of them, and a stop loses no more.
const CHUNK: usize = 32;

/// Worlds and passes where one axis is varied and nothing else is said: enough for bands.
pub const LINE_BUDGET: (usize, usize) = (128, 128);
/// Worlds and passes where two are: enough for who leads where.
pub const MAP_BUDGET: (usize, usize) = (64, 64);

/// One or two conditions, or properties of baits, varied.
#[derive(Debug, Clone, Default)]
pub struct Varied {
    /// One axis or two; the first runs along a row.
    pub axes: Vec<Axis>,
    /// The baits compared; empty for the whole box.
    pub baits: Vec<String>,
    /// A bait to compare the best of the others with.
    pub against: Option<String>,
    /// A kept sweep to go on with: its name and its bytes.
    pub resume: Option<(String, Vec<u8>)>,
}

impl Study for Varied {
    const NAME: &'static str = "sweep";
    type Answer = Answer;

    fn steps(&self, on: &Context) -> usize {
        let cells: usize = self.axes.iter().map(Axis::len).product();
        cells.div_ceil(CHUNK) * on.budget.as_run().worlds
    }

    fn run(&self, on: &Context, control: &Control) -> Result<Answer, Unanswered> {
        let sweep = Sweep::prepare(Request {
            source: on.source,
            file: on.file,
            overrides: on.overrides,
            models: on.models,
            axes: self.axes.clone(),
            baits: &self.baits,
            budget: on.budget,
        })?;
        let refused = |name: &String, e: FileError| Unanswered::Input(format!("{name}: {e}"), String::new());
        let mut cube = match &self.resume {
            Some((name, bytes)) => sweep.read_bytes(bytes).map_err(|e| refused(name, e))?,
            None => sweep.cube(),
        };
        let against = self.against.as_deref().map(|name| bait_of(&cube.baits, name)).transpose()?;
        sweep.run(&mut cube, control)?;
        let hours = sweep.hours(on.scenario)?;
        let kept = sweep.to_bytes(&cube);
        Ok(Answer { doubts: sweep.doubts, kept, ..Answer::of(cube, against).with_hours(hours.as_ref()) })
    }
}

impl From<SweepError> for Unanswered {
    fn from(why: SweepError) -> Self {
        let help = why.help();
        match why {
            SweepError::Impossible { ref faults, .. } => {
                let over = Some((why.to_string(), help));
                Self::Faults { over, faults: faults.clone(), source: None }
            }
            _ => Self::Input(why.to_string(), help),
        }
    }
}

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

/// A sweep whose every cell is possible.
#[derive(Debug, Clone)]
pub struct Sweep<'a> {
    request: Request<'a>,
    cells: Vec<Prepared>,
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
        let numbers = count * names.len() * request.budget.as_run().worlds;
        if numbers > MOST_NUMBERS {
            return Err(SweepError::TooLarge { numbers });
        }
        let boxes: Vec<&[Bait]> = boxes.iter().map(Vec::as_slice).collect();
        let cells = prepare_with(&cells, &boxes, request.models)
            .map_err(|(cell, reason)| SweepError::Prepared { at: at(axes, cell), reason })?;
        Ok(Self { cells, names, doubts, request })
    }

    /// An empty cube for this sweep.
    pub fn cube(&self) -> Cube {
        let budget = self.request.budget.as_run();
        let draws = budget.worlds;
        let per_scramble = if budget.fixed { 1 } else { draws / WORLD_SCRAMBLES };
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
    /// [`SweepError::Models`] for incomplete models.
    pub fn run(&self, cube: &mut Cube, control: &Control) -> Result<(), SweepError> {
        let todo: Vec<usize> = order::interleaved(&cube.shape())
            .into_iter()
            .filter(|&c| cube.cells.get(c).is_some_and(Option::is_none))
            .collect();
        let worlds = self.request.budget.worlds(self.request.models)?;
        for chunk in todo.chunks(CHUNK) {
            if control.stopped() {
                break;
            }
            let conditions: Vec<Condition> =
                chunk.iter().map(|&c| Condition { prepared: &self.cells[c], luck: 0 }).collect();
            let strikes = simulate(&conditions, &worlds, self.request.budget, control);
            if strikes.draws() < cube.draws {
                break;
            }
            for (k, &cell) in chunk.iter().enumerate() {
                cube.cells[cell] = Some(strikes.per_100(k).into_iter().collect());
            }
        }
        Ok(())
    }
}

/// "fish.depth = 4 m, sky.wind = 2 m/s".
fn at(axes: &[Axis], cell: usize) -> String {
    let one = |(axis, i): (&Axis, usize)| {
        let (path, value) = axis.override_at(i);
        format!("{path} = {value}")
    };
    axes.iter().zip(places(axes, cell)).map(one).collect::<Vec<_>>().join(", ")
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

/// Two different baits by their names, or parts of them; all that is wrong with them at once.
///
/// # Errors
/// [`Unanswered::Several`], [`Unanswered::Input`].
pub fn two_baits(names: &[String], wished: &[String; 2]) -> Result<[usize; 2], Unanswered> {
    let found = [0, 1].map(|k| bait_of(names, &wished[k]));
    let wrong = found.iter().filter_map(|f| f.as_ref().err()).map(|e| (e.to_string(), e.help()));
    match found {
        [Ok(a), Ok(b)] if a != b => Ok([a, b]),
        [Ok(a), Ok(_)] => Err(Unanswered::Input(
            format!("both are {}", names[a]),
            "name two different baits of the box".into(),
        )),
        _ => Err(Unanswered::Several(wrong.collect())),
    }
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
