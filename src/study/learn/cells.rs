//! From the rows of a log to what is simulated: conditions, each set up once, and the baits cast in them.

use super::counts::Counts;
use super::log::{Log, Row};
use super::sampler::{FitError, LogModel};
use crate::engine::Control;
use crate::engine::each;
use crate::engine::{Budget, Condition, simulate};
use crate::models::draw::{WORLD_SCRAMBLES, draw_at};
use crate::models::{Assumed, Models, Worlds};
use crate::random::key;
use crate::scenario::catalogue::same_name;
use crate::scenario::{self, Catalogue, Diagnostic, Scenario, Severity};
use crate::study::alike::of_bait;
use crate::study::pace::passes_in;
use crate::study::sweep::{SweepError, bait_of};
use crate::world::Prepared;
use std::collections::HashMap;

/// What the rows are laid over.
#[derive(Debug, Clone, Copy)]
pub struct Base<'a> {
    /// Text of the scenario's file.
    pub source: &'a str,
    /// Its name.
    pub file: &'a str,
    /// Values put in place of the file's.
    pub overrides: &'a [(String, String)],
    /// The scenario itself.
    pub scenario: &'a Scenario,
    /// Assumptions.
    pub models: &'a Models,
}

/// One bait under one condition.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// Place of the condition.
    pub condition: usize,
    /// The bait.
    pub bait: String,
}

/// A log made ready.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The conditions, set up, each with the baits cast in it.
    pub settings: Vec<Prepared>,
    /// For each condition the cells of its baits.
    pub cells_of: Vec<Vec<usize>>,
    /// The cells.
    pub cells: Vec<Cell>,
    /// Casts and strikes.
    pub counts: Counts,
    /// Whether the density of fish is known, so that passes per cast need not be learnt.
    pub density: bool,
    /// Doubts about conditions: rows that have any, and the first.
    pub doubts: Option<(usize, Diagnostic)>,
}

/// A bait of the log: in the box, or only in the catalogue.
#[derive(Debug, Clone, PartialEq)]
enum Found {
    InBox(usize),
    Catalogue(String),
}

/// Finds baits and conditions.
///
/// # Errors
/// Every fault found, with its row.
pub fn plan(log: &Log, file: &str, base: Base) -> Result<Plan, Vec<Diagnostic>> {
    let mut faults: Vec<Diagnostic> = Vec::new();
    let catalogue = Catalogue::of(base.models);
    let baits = baits(log, file, base, &catalogue, &mut faults);
    let conditions = conditions(log);
    let loaded = each(conditions.len(), |c| load(&log.rows[conditions[c].1[0]], base, &catalogue, &[]));
    let mut doubts: Option<(usize, Diagnostic)> = None;
    for ((_, rows), one) in conditions.iter().zip(&loaded) {
        let (all, error) = match one {
            Ok(checked) => (&checked.warnings, false),
            Err(all) => (all, true),
        };
        for &row in rows {
            if error {
                let wrong = all.iter().filter(|d| d.severity == Severity::Error);
                faults.extend(wrong.map(|d| of_row(d, &log.rows[row], file)));
            } else if let Some(first) = all.first() {
                doubts.get_or_insert_with(|| (0, of_row(first, &log.rows[row], file))).0 += 1;
            }
        }
    }
    let mut plan = Plan {
        settings: Vec::new(),
        cells_of: Vec::new(),
        cells: Vec::new(),
        counts: Counts::default(),
        density: false,
        doubts,
    };
    let mut cell_of_row = vec![0; log.rows.len()];
    if faults.is_empty() {
        let built = each(conditions.len(), |c| {
            let rows = &conditions[c].1;
            let own = own_baits(rows, &baits);
            let scenario =
                loaded[c].as_ref().map(|l| l.scenario.clone()).unwrap_or_else(|_| base.scenario.clone());
            (prepared(scenario, &log.rows[rows[0]], &own, base, &catalogue), own)
        });
        for ((_, rows), (prepared, own)) in conditions.iter().zip(built) {
            match prepared {
                Ok(prepared) => {
                    let condition = plan.settings.len();
                    let first = plan.cells.len();
                    let named = prepared.baits.iter().map(|b| Cell { condition, bait: b.name.clone() });
                    plan.cells.extend(named);
                    for &row in rows {
                        let place = own.iter().position(|o| Some(o) == baits[row].as_ref());
                        cell_of_row[row] = first + place.unwrap_or(0);
                    }
                    plan.cells_of.push((first..plan.cells.len()).collect());
                    plan.settings.push(prepared);
                }
                Err(why) => {
                    let row = &log.rows[rows[0]];
                    let help =
                        "correct the row or the scenario; `callup odds` with the same values says the same";
                    faults.push(Diagnostic::error(file, row.at.clone(), why, "in this row", help));
                }
            }
        }
    }
    let known = plan.settings.iter().filter(|s| s.fish_per_ha.is_some()).count();
    plan.density = known > 0;
    if known > 0 && known < plan.settings.len() {
        let without = conditions.iter().zip(&plan.settings).filter(|(_, s)| s.fish_per_ha.is_none());
        let help = "give fish.density in every row, or none at all, or set it once with --set fish.density=\"30 per ha\"";
        for &row in without.flat_map(|((_, rows), _)| rows) {
            let title = "the density of fish is given for other rows, not for this";
            faults.push(Diagnostic::error(file, log.rows[row].at.clone(), title, "no fish.density", help));
        }
    }
    if !faults.is_empty() {
        faults.sort_by_key(|f| f.span.as_ref().map_or(usize::MAX, |s| s.start));
        return Err(faults);
    }
    let day = |row: &Row| {
        let d = row.date;
        (i64::from(d.year()) * 16 + i64::from(d.month())) * 32 + i64::from(d.day())
    };
    let rows = log.rows.iter().zip(&cell_of_row).map(|(r, &cell)| (day(r), cell, r.casts, r.strikes));
    plan.counts = Counts { cells: plan.cells.len(), ..Counts::of(rows) };
    plan.counts.alike = alike(&plan, base.models);
    Ok(plan)
}

/// How alike casts at one fish are: the squared variation between fish, mean over a few of the conditions with every
/// assumption at its default, times the casts at one fish.
fn alike(plan: &Plan, models: &Models) -> f64 {
    /// Fish differ about alike everywhere; a few conditions tell it.
    const FEW: usize = 6;
    let Ok(defaults) = Assumed::defaults(models) else { return 0.0 };
    let step = plan.settings.len().div_ceil(FEW).max(1);
    let some: Vec<&Prepared> = plan.settings.iter().step_by(step).collect();
    let each = each(some.len(), |i| {
        some[i].baits.first().map_or(0.0, |bait| of_bait(some[i], bait, &defaults, SEED_OF_FISH))
    });
    let seen: Vec<f64> = each.into_iter().filter(|v| *v > 0.0).collect();
    seen.iter().sum::<f64>() / seen.len().max(1) as f64 * defaults.casts_at_one_fish
}

/// The same fish for every log.
const SEED_OF_FISH: u64 = 1;

/// Rows with the same values, in the order of their first row.
fn conditions(log: &Log) -> Vec<(String, Vec<usize>)> {
    let mut places: HashMap<String, usize> = HashMap::new();
    let mut all: Vec<(String, Vec<usize>)> = Vec::new();
    for (i, row) in log.rows.iter().enumerate() {
        let key = format!("{} {:?}", row.date, row.overrides);
        let place = *places.entry(key.clone()).or_insert_with(|| {
            all.push((key, Vec::new()));
            all.len() - 1
        });
        all[place].1.push(i);
    }
    all
}

fn load(
    row: &Row,
    base: Base,
    catalogue: &Catalogue,
    more: &[(String, String)],
) -> Result<scenario::Checked, Vec<Diagnostic>> {
    let mut overrides = base.overrides.to_vec();
    overrides.push(("when.date".to_owned(), row.date.to_string()));
    overrides.extend(row.overrides.iter().cloned());
    overrides.extend_from_slice(more);
    scenario::load(base.source, base.file, &overrides, catalogue)
}

/// What is wrong with a scenario as a fault of the row that made it: at the cell whose value it is about, else at the
/// row.
fn of_row(why: &Diagnostic, row: &Row, file: &str) -> Diagnostic {
    let path = why.set.as_deref().and_then(|set| set.split_once('=')).map(|(path, _)| path);
    let place = path.and_then(|path| row.overrides.iter().position(|(own, _)| own == path));
    let at = place.map_or(row.at.clone(), |i| row.places[i].clone());
    let label = if why.label.is_empty() { "in this row".to_owned() } else { why.label.clone() };
    Diagnostic {
        severity: why.severity,
        ..Diagnostic::error(file, at, why.title.clone(), label, why.help.clone())
    }
}

/// The bait of every row.
fn baits(
    log: &Log,
    file: &str,
    base: Base,
    catalogue: &Catalogue,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Option<Found>> {
    let names: Vec<String> = base.scenario.baits.iter().map(|b| b.name.clone()).collect();
    let mut known: HashMap<&str, Result<Found, (String, String)>> = HashMap::new();
    log.rows
        .iter()
        .map(|row| {
            let (name, at) = (&row.bait.0, &row.bait.1);
            let found = known.entry(name).or_insert_with(|| bait(name, &names, base, catalogue));
            match found {
                Ok(found) => Some(found.clone()),
                Err((title, help)) => {
                    faults.push(Diagnostic::error(
                        file,
                        at.clone(),
                        title.clone(),
                        "not a bait known here",
                        help.clone(),
                    ));
                    None
                }
            }
        })
        .collect()
}

fn bait(name: &str, names: &[String], base: Base, catalogue: &Catalogue) -> Result<Found, (String, String)> {
    if let Some(exact) = names.iter().position(|n| same_name(n, name)) {
        return Ok(Found::InBox(exact));
    }
    let mut overrides = base.overrides.to_vec();
    overrides.push(("box.use".to_owned(), name.to_owned()));
    let of_catalogue = scenario::load(base.source, base.file, &overrides, catalogue);
    if let Ok(checked) = &of_catalogue
        && let [one] = checked.scenario.baits.as_slice()
    {
        let in_box = names.iter().position(|n| *n == one.name);
        return Ok(in_box.map_or_else(|| Found::Catalogue(one.name.clone()), Found::InBox));
    }
    let shown = scenario::diagnostic::visible(name);
    match bait_of(names, name) {
        Ok(part) => Ok(Found::InBox(part)),
        Err(SweepError::UnknownBait { several: true, names, .. }) => Err((
            format!("several baits of the box answer to `{shown}`"),
            format!("write one of \"{}\"", names.join("\" or \"")),
        )),
        Err(_) => {
            let said = of_catalogue.err().and_then(|all| all.into_iter().find(|d| d.set.is_some()));
            let help = said.map(|d| d.help).filter(|h| !h.is_empty()).unwrap_or_else(|| {
                "write the name of a bait in the scenario's box, or of the catalogue, as in \"90 mm, standard lip, \
                 silent, mirror\""
                    .to_owned()
            });
            Err((format!("there is no bait `{shown}` in the box or the catalogue"), help))
        }
    }
}

/// The different baits of some rows.
fn own_baits(rows: &[usize], baits: &[Option<Found>]) -> Vec<Found> {
    let mut own: Vec<Found> = Vec::new();
    for found in rows.iter().filter_map(|&r| baits[r].as_ref()) {
        if !own.contains(found) {
            own.push(found.clone());
        }
    }
    own
}

/// The condition of a row with its own baits only.
fn prepared(
    mut scenario: Scenario,
    row: &Row,
    own: &[Found],
    base: Base,
    catalogue: &Catalogue,
) -> Result<Prepared, String> {
    let of_box = std::mem::take(&mut scenario.baits);
    for found in own {
        let bait = match found {
            Found::InBox(i) => of_box.get(*i).cloned(),
            Found::Catalogue(name) => load(row, base, catalogue, &[("box.use".to_owned(), name.clone())])
                .ok()
                .and_then(|checked| checked.scenario.baits.into_iter().next()),
        };
        scenario.baits.push(bait.ok_or("a bait of this row cannot be made under its conditions")?);
    }
    Prepared::new(&scenario, base.models).map_err(|e| e.to_string())
}

/// Conditions simulated together: the passes are made once for all of them.
const CHUNK: usize = 32;

/// The simulator as a model of strikes per pass; where the density of fish is known, of strikes per cast.
#[derive(Debug)]
pub struct Simulated<'a> {
    plan: &'a Plan,
    models: &'a Models,
    budget: Budget,
    control: &'a Control,
    keys: Vec<u64>,
    /// Conditions, those with most baits first, as a strike table wants them.
    order: Vec<usize>,
}

impl<'a> Simulated<'a> {
    /// The cells of a plan.
    pub fn new(plan: &'a Plan, models: &'a Models, budget: Budget, control: &'a Control) -> Self {
        let mut order: Vec<usize> = (0..plan.settings.len()).collect();
        order.sort_by_key(|&c| std::cmp::Reverse(plan.settings[c].baits.len()));
        let keys = models.parameters.iter().map(|p| key(&p.name)).collect();
        Self { plan, models, budget, control, keys, order }
    }

    /// World draws that [`Control::done`] counts in one call for `worlds` worlds.
    pub fn steps(plan: &Plan, worlds: usize) -> usize {
        plan.settings.len().div_ceil(CHUNK) * worlds
    }
}

impl LogModel for Simulated<'_> {
    fn keys(&self) -> &[u64] {
        &self.keys
    }

    fn strikes(&self, scores: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, FitError> {
        let draws: Vec<_> = scores.iter().map(|z| draw_at(self.models, |d| z[d])).collect();
        let per_scramble = draws.len().div_ceil(WORLD_SCRAMBLES);
        let worlds = Worlds::of(self.models, draws, per_scramble)?;
        let mut all = vec![vec![0.0; self.plan.cells.len()]; scores.len()];
        for chunk in self.order.chunks(CHUNK) {
            let conditions: Vec<Condition> =
                chunk.iter().map(|&c| Condition { prepared: &self.plan.settings[c], luck: 0 }).collect();
            let table = simulate(&conditions, &worlds, self.budget, self.control);
            if self.control.stopped() || table.draws() < scores.len() {
                return Err(FitError::Stopped);
            }
            for (k, &c) in chunk.iter().enumerate() {
                let prepared = &self.plan.settings[c];
                for (b, &cell) in self.plan.cells_of[c].iter().enumerate() {
                    for (i, one) in all.iter_mut().enumerate() {
                        let cast_m = prepared.baits[b].path.cast_m();
                        let passes = passes_in(prepared, cast_m, &table.worlds[i]);
                        let passes = passes.filter(|_| self.plan.density).unwrap_or(1.0);
                        one[cell] = passes * table.cells[(k, b, i)].mean(2);
                    }
                }
            }
        }
        Ok(all)
    }
}
