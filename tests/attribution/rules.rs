//! Real rules whose answer is known from what the sides differ by, in words too.

use crate::common::{models, setting};
use callup::engine::Budget;
use callup::engine::Control;
use callup::models::{Grade, Group, Groups, Models};
use callup::present::wording::attribution::{line, sentence};
use callup::study::attribution::{Attribution, AttributionError, Comparison, Flag, attribute};
use callup::world::Prepared;
use callup::world::ablation::Side;

type Values = &'static [(&'static str, &'static str)];

const BUDGET: Budget = Budget { seed: 1, worlds: 64, passes: 64, fixed: false };
/// Strikes per 100 passes; small, because some of these rules make little difference.
const DELTA: f64 = 0.1;
/// Secchi depth and depth of the fish.
const CONDITIONS: [(&str, &str); 3] = [("2.5 m", "3.5 m"), ("4 m", "4.5 m"), ("5 m", "4 m")];

fn settings(side: Values) -> Vec<Prepared> {
    let one = |(secchi, depth): &(&str, &str)| {
        let mut values = vec![("water.secchi", *secchi), ("fish.depth", *depth)];
        values.retain(|(key, _)| side.iter().all(|(own, _)| own != key));
        values.extend(side);
        setting(&values)
    };
    CONDITIONS.iter().map(one).collect()
}

fn side(setting: &Prepared) -> Side<'_> {
    Side { prepared: setting, bait: &setting.baits[2] }
}

fn ask_in(models: &Models, a: Values, b: Values, budget: Budget) -> Attribution {
    let (a, b) = (settings(a), settings(b));
    let comparisons: Vec<Comparison> =
        a.iter().zip(&b).map(|(a, b)| Comparison { a: side(a), b: side(b), pace: [1.0; 2] }).collect();
    attribute(models, &comparisons, &[], budget, DELTA, &Control::default())
        .expect("sound")
        .expect("not stopped")
}

fn ask(a: Values, b: Values) -> Attribution {
    ask_in(&models(), a, b, BUDGET)
}

/// The models with opinions about refusal and willingness as good as gone: the swim bladder limits every rise, and
/// no fish refuses.
fn without_opinions() -> Models {
    let mut models = models();
    for p in &mut models.parameters {
        let value = match p.name.as_str() {
            "rise.by_bladder" => 1.0,
            "refuse.hazard" => 1e-9,
            _ => continue,
        };
        (p.low, p.default, p.high) = (value, value, value);
    }
    models
}

const DEEPER: (Values, Values) = (&[("bait.runs", "7 ft")], &[("bait.runs", "4 ft")]);

#[test]
fn less_to_climb_is_physics_alone_where_nobody_has_opinions() {
    let c = ask_in(&without_opinions(), DEEPER.0, DEEPER.1, BUDGET);
    assert_eq!(c.flag(), Flag::Physics);
    assert!(c.total().per_100 > 1.0);
    for group in Group::ALL.into_iter().filter(|g| !Groups::PHYSICS.has(*g)) {
        assert!(c.explained.share_of(group).share.abs() < 1e-6, "{group:?}");
    }
    assert!((c.explained.physics_alone().per_100 / c.total().per_100 - 1.0).abs() < 1e-6);
}

#[test]
fn less_to_climb_with_opinions() {
    let c = ask(DEEPER.0, DEEPER.1);
    assert_eq!(c.flag(), Flag::Physics);
    // Willingness and refusal by the length of the trip add to it.
    assert!(c.explained.share_of(Group::Appetite).share > 0.0);
    assert!(c.explained.share_of(Group::Wariness).share > 0.0);
    // What makes no difference gets none.
    for group in [Group::Phase, Group::Size, Group::Sound] {
        assert_eq!(c.explained.share_of(group).share, 0.0);
    }
    assert!(line(&c).starts_with("follows from physics and measurement (depth, speed and swimming about "));
    assert!(sentence(&c).contains("every opinion about fish switched off"));
}

/// Sides, the one group that carries the difference, and the assumptions that may be named.
const RESTATEMENTS: [(Values, Values, Group, &[&str]); 4] = [
    (
        &[("bait.sound", "rattling"), ("water.secchi", "0.7 m"), ("fish.depth", "2 m")],
        &[("bait.sound", "silent"), ("water.secchi", "0.7 m"), ("fish.depth", "2 m")],
        Group::Sound,
        &["hearing.notice_rate"],
    ),
    (
        &[("fish.phase", "pre-spawn")],
        &[("fish.phase", "spawn")],
        Group::Phase,
        &["largemouth.phase.spawn", "largemouth.phase.prespawn"],
    ),
    (
        &[("fish.pressure", "unfished")],
        &[("fish.pressure", "heavy")],
        Group::Wariness,
        &["pressure.heavy.wariness", "pressure.heavy.appetite"],
    ),
    (&[("forage.length", "9 cm")], &[("forage.length", "3 cm")], Group::Size, &["refuse.size"]),
];

#[test]
fn rules_that_restate_an_assumption_name_it() {
    for (a, b, group, names) in RESTATEMENTS {
        let c = ask(a, b);
        assert_eq!(c.flag(), Flag::Restates(group), "{:?}", c.explained.shares);
        let carrier = c.restated().expect("named");
        assert!(names.contains(&carrier.name.as_str()), "{carrier:?}");
        assert_eq!(carrier.group, group);
        assert!(carrier.lost.is_some_and(|lost| lost > 0.3), "{carrier:?}");
        assert!(!c.explained.survives_on_physics());
        let guess = c.rests_on_guess().iter().any(|g| g.name == carrier.name);
        assert_eq!(guess, carrier.grade == Grade::Guess);
        assert!(line(&c).starts_with(&format!("restates the assumption {}", carrier.name)), "{}", line(&c));
        let document = serde_json::to_value(&c).expect("json");
        assert_eq!(document["flag"], "restates");
        assert_eq!(document["assumption"], carrier.name.as_str());
    }
}

#[test]
fn the_prey_s_length_is_the_weight_of_size_and_goes_with_it() {
    let c = ask(RESTATEMENTS[3].0, RESTATEMENTS[3].1);
    let carrier = c.restated().expect("named");
    assert!((carrier.lost.unwrap_or(0.0) - 1.0).abs() < 0.02, "{carrier:?}");
}

#[test]
fn a_finish_is_light_and_sight_and_its_guesses_are_named() {
    let c = ask(&[("bait.finish", "mirror")], &[("bait.finish", "see-through")]);
    assert_eq!(c.carrying(), [Group::Optics]);
    assert_eq!(c.explained.without(Group::Optics).per_100, 0.0);
    let names: Vec<&str> = c.carriers.iter().map(|k| k.name.as_str()).collect();
    assert!(names.contains(&"finish.see-through.transmittance") && names.contains(&"finish.mirror.specular"));
    assert!(
        !names.iter().any(|n| n.starts_with("finish.pearl") || n.starts_with("forage.perch")),
        "{names:?}"
    );
    assert!(c.rests_on_guess().iter().all(|g| g.grade == Grade::Guess && g.matters()));
    assert!(line(&c).contains("its size hangs on"), "{}", line(&c));
}

#[test]
fn the_same_bait_twice_has_nothing_to_explain() {
    let c = ask(&[], &[]);
    assert_eq!((c.flag(), c.total().per_100), (Flag::NoDifference, 0.0));
    assert!(c.carriers.is_empty() && c.restated().is_none() && c.rests_on_guess().is_empty());
    assert_eq!(line(&c), "no difference to explain");
}

#[test]
fn the_shares_add_to_the_effect_and_repeat_to_the_bit() {
    let rule: (Values, Values) =
        (&[("water.temperature", "20 C"), ("bait.length", "130 mm")], &[("water.temperature", "9 C")]);
    let c = ask(rule.0, rule.1);
    /// Rounding of 128 numbers of a few strikes per 100.
    const ROUNDING: f64 = 1e-11;
    let together: f64 = c.explained.shares.iter().map(|s| s.per_100).sum();
    assert!((together - c.total().per_100).abs() < ROUNDING);
    assert!(c.explained.shares.iter().filter(|s| s.share.abs() > 0.01).count() >= 4);
    assert_eq!(c, ask(rule.0, rule.1));
    // The sides swapped.
    let swapped = ask(rule.1, rule.0);
    assert_eq!(swapped.flag(), c.flag());
    assert!((swapped.total().per_100 + c.total().per_100).abs() < ROUNDING);
}

#[test]
fn more_worlds_move_the_shares_by_no_more_than_their_error() {
    let (few, many) =
        (ask(DEEPER.0, DEEPER.1), ask_in(&models(), DEEPER.0, DEEPER.1, Budget { worlds: 256, ..BUDGET }));
    assert_eq!(few.flag(), many.flag());
    for (one, other) in few.explained.shares.iter().zip(&many.explained.shares) {
        let se = (one.simulation_se.powi(2) + other.simulation_se.powi(2)).sqrt();
        // One seed; a share beyond 5 errors of a t distribution with 7 degrees of freedom: 1 in 300 for seven.
        assert!((one.per_100 - other.per_100).abs() <= 5.0 * se + 1e-9, "{one:?} {other:?}");
    }
}

#[test]
fn one_world_has_the_luck_of_its_passes() {
    let c = ask_in(&models(), DEEPER.0, DEEPER.1, Budget { fixed: true, ..BUDGET });
    assert_eq!(c.explained.draws, 1);
    assert!(c.total().simulation_se > 0.0);
    assert_eq!(c.total().sign_held, 1.0);
}

#[test]
fn stopped_and_empty() {
    let (models, control) = (models(), Control::default());
    let none = attribute(&models, &[], &[], BUDGET, DELTA, &control);
    assert!(matches!(none, Err(AttributionError::Statistics(_))));
    control.stop();
    let one = setting(&[]);
    let side = Side { prepared: &one, bait: &one.baits[0] };
    let stopped =
        attribute(&models, &[Comparison { a: side, b: side, pace: [1.0; 2] }], &[], BUDGET, DELTA, &control);
    assert_eq!(stopped, Ok(None));
    let mut incomplete = models.clone();
    incomplete.parameters.retain(|p| p.name != "swim.lead");
    let missing = attribute(&incomplete, &[], &[], BUDGET, DELTA, &Control::default());
    assert!(matches!(missing, Err(AttributionError::Models(_))));
}

#[cfg(feature = "parallel")]
#[test]
fn any_number_of_threads_gives_the_same_bits() {
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| ask_in(&models(), DEEPER.0, DEEPER.1, Budget { worlds: 16, ..BUDGET }))
    };
    assert_eq!(with(1), with(3));
}
