//! Rules tried in one place and at one hour: those that are claimed for such conditions, at these very conditions.

use super::plan::{Ground, Plan};
use super::{Condition, Rule};
use crate::models::Models;
use crate::scenario::{self, Catalogue, Scenario};
use crate::study::axis::Values;
use crate::study::axis::names::value_in;
use crate::world::Prepared;
use crate::world::prepared::PHASE_NAMES;

/// Points spread over what a scenario leaves open, such as the lip of the bait.
const POINTS: usize = 8;
/// A value this share beyond the end of a range still counts as within: numbers are converted from text.
const ROUNDING: f64 = 1e-9;

/// What the rules are held against.
#[derive(Debug, Clone, Copy)]
pub struct Here<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The scenario, set up.
    pub prepared: &'a Prepared,
    /// Its Secchi depth, m, also where the scenario gives turbidity.
    pub secchi_m: f64,
}

/// The rules claimed for such conditions, set up to be tried at these alone; and how many are claimed for others.
///
/// A condition on place, hour, sky, water, fish, prey or tackle must hold here, and gives way to what the scenario
/// says; one on the bait is spread as ever. A rule that puts in a value of its own must come to this scenario. Rules
/// that cannot be set up here (a bait held deeper than the bottom) count among the others.
pub fn here(rules: &[Rule], here: &Here, ground: &Ground, models: &Models) -> (Vec<Rule>, usize) {
    let catalogue = Catalogue::of(models);
    let own: Vec<Rule> = rules
        .iter()
        .filter(|rule| {
            rule.conditions.iter().all(|c| here.holds(c)) && here.is_left(rule, ground, &catalogue)
        })
        .map(|rule| {
            let mut rule = rule.clone();
            rule.conditions.retain(|c| about_the_bait(c.axis.path));
            rule.points = rule.points.min(POINTS);
            rule
        })
        .filter(|rule| Plan::new(vec![rule.clone()], ground, models).is_ok())
        .collect();
    let others = rules.len() - own.len();
    (own, others)
}

fn about_the_bait(path: &str) -> bool {
    path.starts_with("bait.") || path.starts_with("box.")
}

impl Here<'_> {
    /// Whether a condition of a rule holds here.
    fn holds(&self, condition: &Condition) -> bool {
        let axis = &condition.axis;
        match &axis.values {
            _ if about_the_bait(axis.path) => true,
            Values::Words(words) => self.word(axis.path).is_none_or(|w| words.iter().any(|one| one == w)),
            Values::Numbers { values, .. } | Values::Hours(values) => {
                let value = match axis.path {
                    "water.secchi" => Some(self.secchi_m),
                    path => value_in(self.scenario, path),
                };
                let (Some(&first), Some(&last)) = (values.first(), values.last()) else { return false };
                value.is_none_or(|v| {
                    let slack = ROUNDING * (first.abs() + last.abs());
                    v >= first - slack && v <= last + slack
                })
            }
        }
    }

    /// The scenario's word for a value that is a word.
    fn word(&self, path: &str) -> Option<&str> {
        let s = self.scenario;
        match path {
            "sky.rain" => Some(s.sky.rain.label()),
            "water.tint" => Some(s.water.tint.label()),
            "fish.species" => Some(s.fish.species.label()),
            "fish.pressure" => Some(s.fish.pressure.label()),
            "fish.phase" => PHASE_NAMES.get(self.prepared.phase).copied(),
            "forage.kind" => Some(&s.forage.kind),
            "tackle.line" => Some(&s.tackle.line),
            _ => None,
        }
    }

    /// Whether what a rule always puts in leaves the scenario as it is, the bait apart.
    fn is_left(&self, rule: &Rule, ground: &Ground, catalogue: &Catalogue) -> bool {
        let puts = rule.always.iter().filter(|p| !about_the_bait(&p.path));
        let (words, others): (Vec<_>, Vec<_>) = puts.partition(|p| self.word(&p.path).is_some());
        if words.iter().any(|p| self.word(&p.path) != Some(p.value.as_str())) {
            return false;
        }
        if others.is_empty() {
            return true;
        }
        let with: Vec<(String, String)> = ground
            .overrides
            .iter()
            .cloned()
            .chain(others.iter().map(|p| (p.path.clone(), p.value.clone())))
            .collect();
        scenario::load(ground.source, ground.file, &with, catalogue)
            .is_ok_and(|loaded| loaded.scenario == *self.scenario)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::models::Assumed;
    use crate::scenario::library;
    use crate::study::rules::{EMBEDDED, EMBEDDED_FILE, file};
    use crate::world::World;

    fn ids(name: &str, overrides: &[(&str, &str)]) -> (Vec<String>, usize, usize) {
        let models = Models::embedded().expect("embedded");
        let catalogue = Catalogue::of(&models);
        let source = library::get(name).expect("embedded");
        let overrides: Vec<(String, String)> =
            overrides.iter().map(|(p, v)| ((*p).to_owned(), (*v).to_owned())).collect();
        let scenario = scenario::load(source, name, &overrides, &catalogue).expect("sound").scenario;
        let prepared = Prepared::new(&scenario, &models).expect("set up");
        let fixed = Assumed::defaults(&models).expect("complete");
        let secchi_m = World::new(&prepared, &fixed).secchi_m;
        let rules = file::read(EMBEDDED, EMBEDDED_FILE, &catalogue).expect("sound");
        let ground = Ground { source, file: name, overrides: &overrides, rule_file: EMBEDDED_FILE };
        let held = Here { scenario: &scenario, prepared: &prepared, secchi_m };
        let (own, others) = here(&rules, &held, &ground, &models);
        assert!(own.iter().all(|r| r.conditions.iter().all(|c| about_the_bait(c.axis.path))));
        (own.iter().map(|r| r.id.clone()).collect(), others, rules.len())
    }

    #[test]
    fn a_rule_is_tried_where_it_is_claimed_and_nowhere_else() {
        let (own, others, all) = ids("main-lake-point", &[]);
        assert_eq!(own.len() + others, all);
        let has = |ids: &[String], id: &str| ids.iter().any(|i| i == id);
        // 15 ft, 3.4 m, 13 C, 07:30: all that the first rule names.
        assert!(has(&own, "less-to-climb"), "{own:?}");
        assert!(has(&own, "small-silent-pre-spawn"), "{own:?}");
        // Hung elsewhere, the rule about fish at 15 ft is not about these fish; in summer, the one about the spawn.
        let (elsewhere, ..) = ids("main-lake-point", &[("fish.depth", "5 m"), ("fish.phase", "summer")]);
        assert!(!has(&elsewhere, "less-to-climb"), "{elsewhere:?}");
        assert!(!has(&elsewhere, "small-silent-pre-spawn"), "{elsewhere:?}");
        // In muddy water none of those claimed for a Secchi depth of 1.5 m or more is left.
        let (muddy, ..) = ids("clay-after-rain", &[]);
        assert!(!has(&muddy, "every-foot-costs"), "{muddy:?}");
    }
}
