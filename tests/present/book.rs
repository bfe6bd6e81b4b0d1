//! The book of what the program says: every kind of finding as it is read on a terminal, to be gone through in review.
//!
//! Answers are worked out on a small budget, or made to say what is rare. Numbers in these pages are no results.

use crate::common::{models, scenario_of};
use callup::engine::{Budget, Control};
use callup::models::Models;
use callup::present::view::View;
use callup::present::wording::Readable;
use callup::scenario::{Catalogue, library, paths};
use callup::study::axis::{Axis, Wish};
use callup::study::casts::{CastsOf, Demand};
use callup::study::day::DayOf;
use callup::study::depth::Depth;
use callup::study::light::LightOf;
use callup::study::odds::{Odds, OddsOf};
use callup::study::pack::PackOf;
use callup::study::rules::answer::{RulesOf, Tried};
use callup::study::rules::plan::{Ground, Plan};
use callup::study::rules::{EMBEDDED, EMBEDDED_FILE, file};
use callup::study::selfcheck::Selfcheck;
use callup::study::sweep::Varied;
use callup::study::sweep::reading::Answer as Swept;
use callup::study::trials::answer::TrialsOf;
use callup::study::trials::plan::Planned;
use callup::study::trials::{self, file as trial_file};
use callup::study::why::WhyOf;
use callup::study::{Context, Study};
use callup::units::UnitSystem;
use callup::world::Prepared;
use std::sync::LazyLock;

static MODELS: LazyLock<Models> = LazyLock::new(models);
const SMALL: Budget = Budget { seed: 5, worlds: 32, passes: 64, fixed: false };
const LAKE: &str = "main-lake-point";

/// A page of the book: a question about a scenario with values laid over it.
struct Page<'a> {
    set: &'a [(&'a str, &'a str)],
    budget: Budget,
    units: UnitSystem,
    width: usize,
}

const PLAIN: Page = Page { set: &[], budget: SMALL, units: UnitSystem::Metric, width: 100 };

impl Page<'_> {
    /// What is read of an answer, once it is made to say what it is to say.
    fn read<S: Study>(&self, study: &S, make: impl FnOnce(&mut S::Answer)) -> String
    where
        S::Answer: Readable,
    {
        let scenario = scenario_of(LAKE, self.set);
        let setting = Prepared::new(&scenario, &MODELS).expect("a setting");
        let overrides: Vec<(String, String)> =
            self.set.iter().map(|(p, v)| ((*p).to_owned(), (*v).to_owned())).collect();
        let on = Context {
            models: &MODELS,
            scenario: &scenario,
            prepared: &setting,
            budget: self.budget,
            source: library::get(LAKE).expect("embedded"),
            file: LAKE,
            overrides: &overrides,
        };
        let mut answer = study.run(&on, &Control::default()).unwrap_or_else(|e| panic!("{e:?}"));
        make(&mut answer);
        let view = View::of(&on, self.units, self.width);
        answer.document(&view).terminal(self.width)
    }
}

/// Writes a page, or holds it against the one kept.
fn page<S: Study>(name: &str, of: &Page, study: &S, make: impl FnOnce(&mut S::Answer))
where
    S::Answer: Readable,
{
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("book");
    settings.set_prepend_module_to_snapshot(false);
    settings.bind(|| insta::assert_snapshot!(name, of.read(study, make)));
}

fn axes(over: &[&str]) -> Vec<Axis> {
    let settings = paths(&Catalogue::of(&MODELS));
    let wish = Wish { steps: 5, logarithmic: false };
    over.iter().map(|text| Axis::parse(text, wish, &settings).expect("an axis")).collect()
}

const TWO: [(&str, &str); 1] =
    [("box.use", "[\"150 mm, deep lip, silent, pearl\", \"110 mm, standard lip, silent, see-through\"]")];
const ONE: [(&str, &str); 1] = [("box.use", "[\"110 mm, standard lip, silent, pearl\"]")];

#[test]
fn odds() {
    let possible = |count: usize, first: usize| {
        move |odds: &mut Odds| {
            for (place, b) in odds.order.clone().into_iter().enumerate() {
                odds.baits[b].could_be_best = place < count;
                odds.baits[b].rank = if place < first { (1, 4) } else { (3, 12) };
            }
        }
    };
    page("odds", &PLAIN, &OddsOf, |_| ());
    page("odds, one leads", &PLAIN, &OddsOf, possible(1, 1));
    page("odds, three could be best", &PLAIN, &OddsOf, possible(3, 3));
    page("odds, many, and few by rank", &PLAIN, &OddsOf, possible(9, 2));
    page("odds, many, and many by rank", &PLAIN, &OddsOf, possible(12, 7));
    page("odds, no rank tells", &PLAIN, &OddsOf, possible(12, 12));
    page("odds, one bait", &Page { set: &ONE, ..PLAIN }, &OddsOf, |_| ());
    page("odds, one world", &Page { budget: Budget { fixed: true, ..SMALL }, ..PLAIN }, &OddsOf, |_| ());
    let density = [("fish.density", "30 per ha")];
    page("odds, density given", &Page { set: &density, ..PLAIN }, &OddsOf, |_| ());
    let us = Page { set: &[("tackle.launch", "25 m/s")], units: UnitSystem::Us, ..PLAIN };
    page("odds, launched, in feet", &us, &OddsOf, |_| ());
    page("odds, narrow", &Page { width: 70, ..PLAIN }, &OddsOf, |_| ());
}

#[test]
fn depth_and_light() {
    page("depth", &Page { set: &TWO, ..PLAIN }, &Depth::default(), |_| ());
    page("depth wanted", &Page { set: &TWO, ..PLAIN }, &Depth { wanted_m: Some(3.0) }, |_| ());
    page("depth, out of reach", &Page { set: &ONE, ..PLAIN }, &Depth { wanted_m: Some(9.0) }, |_| ());
    page("light", &PLAIN, &LightOf, |_| ());
    let over = Page { set: &[("fish.depth", "0.5 m")], units: UnitSystem::Us, ..PLAIN };
    page("light, fish above the bait", &over, &LightOf, |_| ());
}

#[test]
fn sweeps() {
    let of = |over: &[&str]| Varied { axes: axes(over), ..Varied::default() };
    page("sweep, numbers", &Page { set: &TWO, ..PLAIN }, &of(&["depth=1m..6m:5"]), |_| ());
    page("sweep, words", &Page { set: &TWO, ..PLAIN }, &of(&["tint=all"]), |_| ());
    page("sweep, one bait", &Page { set: &ONE, ..PLAIN }, &of(&["clarity=0.5m..6m:4"]), |_| ());
    page("sweep, by the hour", &Page { set: &TWO, ..PLAIN }, &of(&["pause=0.1..0.8:4"]), |_| ());
    let map = of(&["clarity=0.5m..6m:5", "depth=1m..6m:4"]);
    page("sweep, map", &Page { set: &TWO, ..PLAIN }, &map, |_| ());
    let against = Varied { against: Some("110 mm".into()), ..map.clone() };
    page("sweep, map against a bait", &Page { set: &TWO, ..PLAIN }, &against, |_| ());
    let all_level = |swept: &mut Swept| {
        swept.readings.iter_mut().flatten().for_each(|r| (r.told, r.level) = (false, true));
    };
    page("sweep, nothing to choose", &Page { set: &TWO, ..PLAIN }, &of(&["depth=1m..6m:5"]), all_level);
    let untold = |swept: &mut Swept| {
        swept.readings.iter_mut().flatten().for_each(|r| (r.told, r.level) = (false, false));
    };
    page("sweep, none can be told", &Page { set: &TWO, ..PLAIN }, &of(&["depth=1m..6m:5"]), untold);
}

#[test]
fn days_and_packs() {
    let hours = DayOf { step_s: 7200.0, ..DayOf::default() };
    page("day", &PLAIN, &hours, |_| ());
    page("day, one bait", &Page { set: &ONE, ..PLAIN }, &hours, |_| ());
    let clearing = [("hour.secchi", "09:00 0.6 m; 13:00 3 m"), ("fish.density", "30 per ha")];
    page("day, clearing, density given", &Page { set: &clearing, ..PLAIN }, &hours, |_| ());
    let dark = [("place.latitude", "78"), ("when.date", "2026-12-21")];
    page("day, never light", &Page { set: &dark, ..PLAIN }, &DayOf { step_s: 14_400.0, ..hours }, |_| ());
    let source = |name: &str| (library::get(name).expect("embedded").to_owned(), name.to_owned(), 1.0);
    let pack = |sources, over: &[&str], carry, usual| PackOf {
        sources,
        axes: axes(over),
        usual,
        conditions: 16,
        carry,
    };
    let spread = pack(vec![source(LAKE)], &["clarity=1m..6m", "depth=2m..6m"], 3, true);
    page("pack", &PLAIN, &spread, |_| ());
    let one = Page { set: &TWO, ..PLAIN };
    page("pack, one is enough", &one, &pack(vec![source(LAKE)], &["depth=4m..6m"], 2, false), |_| ());
    let two = pack(vec![source(LAKE), source("winter-bluff")], &[], 2, false);
    page("pack, two waters", &PLAIN, &two, |_| ());
}

#[test]
fn casts() {
    let demand = Demand { alpha: 0.05, power: 0.8 };
    let of = |names: [&str; 2], rates, casts| CastsOf {
        names: names.map(str::to_owned),
        rates,
        demand,
        casts,
        pace_per_h: None,
        hours_per_season: None,
    };
    page("casts, two baits", &Page { set: &TWO, ..PLAIN }, &of(["150 mm", "110 mm"], None, None), |_| ());
    let density = [TWO[0], ("fish.density", "30 per ha")];
    let asked = of(["150 mm", "110 mm"], None, Some(200));
    page("casts, two baits, density given", &Page { set: &density, ..PLAIN }, &asked, |_| ());
    page("casts, two rates", &PLAIN, &of(["7%", "4%"], Some([0.07, 0.04]), Some(300)), |_| ());
    page("casts, no difference", &PLAIN, &of(["4%", "4%"], Some([0.04, 0.04]), None), |_| ());
    page("casts, hardly any difference", &PLAIN, &of(["1%", "1.2%"], Some([0.01, 0.012]), None), |_| ());
}

#[test]
fn why() {
    page("why", &Page { set: &TWO, ..PLAIN }, &WhyOf::default(), |_| ());
    page("why, one bait", &Page { set: &ONE, ..PLAIN }, &WhyOf::default(), |_| ());
    page("why, only groups", &Page { set: &TWO, ..PLAIN }, &WhyOf::default(), |why| {
        (why.parameters, why.complete) = (None, false);
    });
}

/// Rules of each verdict, as they come at this budget.
#[test]
fn rules() {
    let catalogue = Catalogue::of(&MODELS);
    let all = file::read(EMBEDDED, EMBEDDED_FILE, &catalogue).expect("embedded rules");
    let source = library::get(LAKE).expect("embedded");
    let ground = Ground { source, file: LAKE, overrides: &[], rule_file: EMBEDDED_FILE };
    let chosen = |ids: &[&str]| {
        let rules = all.iter().filter(|r| ids.contains(&r.id.as_str())).cloned().collect();
        Plan::new(rules, &ground, &MODELS).expect("a plan")
    };
    let of = |plan| RulesOf { plan, ground: &ground, longer: false, maps: false, others: None };
    let one = chosen(&["less-to-climb"]);
    page("rules, one", &PLAIN, &of(&one), |_| ());
    let several = chosen(&["less-to-climb", "every-foot-costs", "long-pauses-in-cold"]);
    page("rules, several", &PLAIN, &of(&several), |_| ());
    let here = RulesOf { others: Some(7), ..of(&several) };
    page("rules, at one place", &PLAIN, &here, |_| ());
    page("rules, stopped", &PLAIN, &of(&several), |tried: &mut Tried| {
        tried.answers.truncate(2);
    });
}

#[test]
fn trials_and_checks() {
    let plans: Vec<Planned> = trials::EMBEDDED
        .iter()
        .take(2)
        .map(|(name, text)| {
            let trial = trial_file::read(text, name, &MODELS).expect("a trial");
            Planned::new(trial, name, &MODELS).expect("set up")
        })
        .collect();
    page("trials", &PLAIN, &TrialsOf(&plans), |_| ());
    page("trial alone", &PLAIN, &TrialsOf(&plans[..1]), |_| ());
    page("selfcheck", &PLAIN, &Selfcheck, |_| ());
    page("selfcheck, one fails", &PLAIN, &Selfcheck, |all| all.checks[0].got += 1.0);
}
