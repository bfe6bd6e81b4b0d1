//! Both sides of every rule set up at every point of its conditions, before anything is worked out.
//!
//! A prepared scenario that several rules, or both sides of one, have in common is set up and worked out once.

use super::design::{Design, points};
use super::{Override, Rule, Test};
use crate::engine::each;
use crate::models::Models;
use crate::scenario::{self, Bait, Catalogue, Diagnostic, Scenario, Severity};
use crate::study::axis::Values;
use crate::study::axis::names::value_in;
use crate::study::pace::Usual;
use crate::study::sweep::file::check_sum;
use crate::world::Prepared;
use std::collections::HashMap;

/// What the rules are tried on.
#[derive(Debug, Clone, Copy)]
pub struct Ground<'a> {
    /// Text of the scenario that the rules start from.
    pub source: &'a str,
    /// The name of its file.
    pub file: &'a str,
    /// Values of the user, put in place of the scenario's; a condition on the same value gives way.
    pub overrides: &'a [(String, String)],
    /// Name of the rule file, for faults.
    pub rule_file: &'a str,
}

/// A bait in one of the settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Which prepared scenario.
    pub prepared: usize,
    /// Which bait of it.
    pub bait: usize,
}

/// A rule with its points.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The rule, without the conditions that the user has settled.
    pub rule: Rule,
    /// Its points.
    pub design: Design,
    /// Where each level stands at each point.
    pub cells: Vec<Vec<Place>>,
    /// The same of the first and the last level under what the gain is compared with; empty for a rule without.
    pub over: Vec<Vec<Place>>,
    /// What a pass of each level at each point counts for at equal time ([`Usual::share`]), under what the gain is
    /// compared with too; none where all levels fish at one pace.
    pub paces: Option<Paces>,
}

/// Passes in an hour over those of the scenario started from.
#[derive(Debug, Clone, PartialEq)]
pub struct Paces {
    /// Of each level at each point.
    pub levels: Vec<Vec<f64>>,
    /// Of the first and the last level under what the gain is compared with.
    pub over: Vec<Vec<f64>>,
}

/// Paces nearer than this share of each other are one.
const SAME_PACE: f64 = 1e-9;

impl Paces {
    fn of(cells: &[Vec<Place>], over: &[Vec<Place>], settings: &[Prepared], usual: &Usual) -> Option<Self> {
        let pace = |p: &Place| {
            let prepared = &settings[p.prepared];
            usual.share(prepared, prepared.baits[p.bait].path.cast_m())
        };
        let all = |levels: &[Vec<Place>]| -> Vec<Vec<f64>> {
            levels.iter().map(|points| points.iter().map(pace).collect()).collect()
        };
        let one = |levels: &[Vec<f64>]| {
            levels.windows(2).all(|w| w[0].iter().zip(&w[1]).all(|(a, b)| (a - b).abs() <= SAME_PACE * b))
        };
        let (levels, over) = (all(cells), all(over));
        (!one(&levels) || !one(&over)).then_some(Self { levels, over })
    }
}

/// Everything set up.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The rules.
    pub rules: Vec<Planned>,
    /// The settings, each once.
    pub settings: Vec<Prepared>,
    /// The number of the point at which each prepared scenario stands.
    pub points: Vec<usize>,
    /// The scenario started from, without its baits.
    pub base: Prepared,
    /// Its cast and pace.
    pub usual: Usual,
}

/// Scenarios without baits at a point, and the baits each is asked with.
#[derive(Default)]
struct Distinct {
    all: Vec<((Scenario, usize), Vec<Bait>)>,
    alike: HashMap<u64, Vec<usize>>,
}

impl Distinct {
    fn place(&mut self, mut scenario: Scenario, point: usize) -> Option<Place> {
        let bait = std::mem::take(&mut scenario.baits).into_iter().next()?;
        let scenario = (scenario, point);
        let known = self.alike.entry(check_sum(format!("{scenario:?}").as_bytes())).or_default();
        // Scenarios of one check sum are compared in full.
        let prepared = match known.iter().copied().find(|&k| self.all[k].0 == scenario) {
            Some(prepared) => prepared,
            None => {
                self.all.push((scenario, Vec::new()));
                known.push(self.all.len() - 1);
                self.all.len() - 1
            }
        };
        let baits = &mut self.all[prepared].1;
        let bait = baits.iter().position(|b| *b == bait).unwrap_or_else(|| {
            baits.push(bait);
            baits.len() - 1
        });
        Some(Place { prepared, bait })
    }
}

impl Plan {
    /// Sets every rule up.
    ///
    /// # Errors
    /// The faults of all rules, each at the place in the rule file that causes it.
    pub fn new(rules: Vec<Rule>, ground: &Ground, models: &Models) -> Result<Self, Vec<Diagnostic>> {
        let with_points = |mut rule: Rule| {
            rule.conditions.retain(|c| ground.overrides.iter().all(|(path, _)| path != c.axis.path));
            let count = if rule.conditions.is_empty() { 1 } else { rule.points };
            let design = points(&rule.conditions, count);
            (rule, design, count)
        };
        Self::of(rules.into_iter().map(with_points).collect(), ground, models)
    }

    /// Sets one rule up at given points of its conditions.
    ///
    /// # Errors
    /// As [`Plan::new`].
    pub(super) fn at(
        rule: Rule,
        design: Design,
        ground: &Ground,
        models: &Models,
    ) -> Result<Self, Vec<Diagnostic>> {
        let count = design.columns.first().map_or(1, |c| c.len());
        Self::of(vec![(rule, design, count)], ground, models)
    }

    fn of(
        rules: Vec<(Rule, Design, usize)>,
        ground: &Ground,
        models: &Models,
    ) -> Result<Self, Vec<Diagnostic>> {
        let catalogue = Catalogue::of(models);
        let (mut distinct, mut faults, mut planned) = (Distinct::default(), Vec::new(), Vec::new());
        for asked in rules {
            match one(asked, ground, &catalogue, &mut distinct) {
                Ok(one) => planned.push(one),
                Err(mut own) => faults.append(&mut own),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let settings = each(distinct.all.len(), |i| {
            let ((scenario, _), baits) = &distinct.all[i];
            Prepared::new(&Scenario { baits: baits.clone(), ..scenario.clone() }, models)
        });
        let user = |(i, reason): (usize, String)| {
            let uses = |p: &&Planned| p.cells.iter().flatten().any(|c| c.prepared == i);
            let at = planned.iter().find(uses).map_or(0..0, |p| p.rule.at.clone());
            fault(ground, at, reason, "narrow the conditions to what can be")
        };
        let bad: Vec<Diagnostic> = settings
            .iter()
            .enumerate()
            .filter_map(|(i, s)| Some(user((i, s.as_ref().err()?.to_string()))))
            .take(1)
            .collect();
        if !bad.is_empty() {
            return Err(bad);
        }
        let points = distinct.all.iter().map(|((_, point), _)| *point).collect();
        let settings: Vec<Prepared> = settings.into_iter().filter_map(Result::ok).collect();
        let started = scenario::load(ground.source, ground.file, ground.overrides, &catalogue)?.scenario;
        let base = Usual::of_scenario(&started, models).and_then(|usual| {
            Ok((Prepared::new(&Scenario { baits: Vec::new(), ..started }, models)?, usual))
        });
        let (base, usual) =
            base.map_err(|e| vec![fault(ground, 0..0, e.to_string(), "correct the scenario started from")])?;
        for one in &mut planned {
            one.paces = Paces::of(&one.cells, &one.over, &settings, &usual);
        }
        Ok(Self { rules: planned, settings, points, base, usual })
    }
}

fn fault(ground: &Ground, at: std::ops::Range<usize>, title: String, help: &str) -> Diagnostic {
    Diagnostic {
        severity: Severity::Error,
        title,
        label: String::new(),
        span: Some(at),
        file: ground.rule_file.to_owned(),
        set: None,
        help: help.to_owned(),
    }
}

fn one(
    (rule, design, count): (Rule, Design, usize),
    ground: &Ground,
    catalogue: &Catalogue,
    distinct: &mut Distinct,
) -> Result<Planned, Vec<Diagnostic>> {
    let levels = rule.levels();
    let common: Vec<(String, String)> = ground
        .overrides
        .iter()
        .cloned()
        .chain(rule.always.iter().map(|p| (p.path.clone(), p.value.clone())))
        .collect();
    let own = levels.len();
    let over: &[usize] = if rule.gain_over.is_empty() { &[] } else { &[0, own - 1] };
    let loaded = each((own + over.len()) * count, |i| {
        let (level, point) = (i / count, i % count);
        let compared = if level < own { &[][..] } else { &rule.gain_over };
        let level = if level < own { level } else { over[level - own] };
        let all: Vec<_> = common
            .iter()
            .cloned()
            .chain(design.overrides(point))
            .chain(levels[level].iter().cloned())
            .chain(compared.iter().map(|p| (p.path.clone(), p.value.clone())))
            .collect();
        scenario::load(ground.source, ground.file, &all, catalogue).map(|c| c.scenario)
    });
    let mut faults: Vec<Diagnostic> = Vec::new();
    let mut cells = vec![Vec::with_capacity(count); own + over.len()];
    for (i, one) in loaded.into_iter().enumerate() {
        if let (true, Ok(scenario)) = (i >= own * count, &one) {
            faults.extend(claimed_there_too(scenario, &rule, ground));
        }
        let single = one.map(|s| (s.baits.len(), distinct.place(s, i % count)));
        match single {
            Ok((1, Some(place))) => cells[i / count].push(place),
            Ok((baits, _)) => {
                let at = rule.puts().find(|p| p.path == "box.use").map_or(rule.at.clone(), |p| p.at.clone());
                let title = format!("a rule is tried with one bait, not with {baits}");
                faults.push(fault(
                    ground,
                    at,
                    title,
                    "name one, as in bait = \"110 mm, standard lip, silent\"",
                ));
            }
            Err(found) => {
                let where_ = design.overrides(i % count);
                faults.extend(
                    found
                        .into_iter()
                        .filter(|f| f.severity == Severity::Error)
                        .map(|f| at_its_place(f, &rule, ground, &where_)),
                );
            }
        }
        // One impossible point is told; the others say the same.
        if !faults.is_empty() {
            break;
        }
    }
    let over = cells.split_off(own.min(cells.len()));
    if faults.is_empty() && own == 2 && cells[0] == cells[1] {
        let title = "the two sides come to the same".to_owned();
        faults.push(fault(
            ground,
            rule.at.clone(),
            title,
            "let the sides differ in something that the bait or water has",
        ));
    }
    // Whoever sets the value by hand knows that it is the same.
    let set = |p: &Override| ground.overrides.iter().any(|(path, _)| *path == p.path);
    if faults.is_empty() && over.first() == cells.first() && !rule.gain_over.iter().any(set) {
        let at = rule.gain_over.first().map_or(rule.at.clone(), |p| p.at.clone());
        let title = "what the gain is compared with is where the rule is claimed".to_owned();
        faults.push(fault(
            ground,
            at,
            title,
            "give gain_over a value that differs from the rule's conditions",
        ));
    }
    if faults.is_empty() { Ok(Planned { rule, design, cells, over, paces: None }) } else { Err(faults) }
}

/// A gain compared with that of conditions in which the rule is claimed too.
fn claimed_there_too(scenario: &Scenario, rule: &Rule, ground: &Ground) -> Option<Diagnostic> {
    rule.gain_over.iter().find_map(|put| {
        let axis = &rule.conditions.iter().find(|c| c.axis.path == put.path)?.axis;
        let inside = match &axis.values {
            Values::Words(words) => words.iter().any(|w| w.eq_ignore_ascii_case(put.value.trim())),
            Values::Numbers { values, .. } | Values::Hours(values) => {
                let value = value_in(scenario, axis.path)?;
                let least = values.iter().copied().fold(f64::INFINITY, f64::min);
                let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                (least..=most).contains(&value)
            }
        };
        let title = format!("gain_over has {} = {}, and the rule is claimed there", put.path, put.value);
        let help = "give gain_over a value outside the condition on it";
        inside.then(|| fault(ground, put.at.clone(), title, help))
    })
}

/// A fault of a scenario, told at the place of the rule file that causes it.
fn at_its_place(found: Diagnostic, rule: &Rule, ground: &Ground, point: &[(String, String)]) -> Diagnostic {
    let said = |path: &str, value: &str| format!("{path}={value}");
    let set = found.set.clone().unwrap_or_default();
    let put: Option<&Override> =
        rule.gain_over.iter().chain(rule.puts()).find(|p| said(&p.path, &p.value) == set);
    let condition = rule.conditions.iter().find(|c| set.starts_with(&format!("{}=", c.axis.path)));
    let along = match &rule.test {
        Test::Direction { axis, at, .. } if set.starts_with(&format!("{}=", axis.path)) => Some(at.clone()),
        _ => None,
    };
    let at = put.map(|p| p.at.clone()).or(condition.map(|c| c.at.clone())).or(along);
    let places: Vec<String> = point.iter().map(|(path, value)| said(path, value)).collect();
    // A value that is wrong by itself needs no point to be wrong at.
    let title = match put {
        Some(_) => found.title,
        None if places.is_empty() => format!("rule {}: {}", rule.id, found.title),
        None => format!("rule {}: {}, at {}", rule.id, found.title, places.join(", ")),
    };
    Diagnostic {
        title,
        label: found.label,
        span: Some(at.unwrap_or(rule.at.clone())),
        file: ground.rule_file.to_owned(),
        set: None,
        help: found.help,
        severity: Severity::Error,
    }
}
