//! The study on the simulator.

use crate::common::{models, setting};
use callup::engine::Budget;
use callup::engine::Control;
use callup::models::{Group, Models, Spread};
use callup::study::why::one_at_a_time::{What, given};
use callup::study::why::{Input, Kind, Study, Why, WhyError};
use callup::world::Prepared;

/// 8 scrambles of 16 rows.
const SMALL: Budget = Budget { seed: 2, worlds: 128, passes: 64, fixed: false };
/// Two silent baits, one of which hears nothing of rattles.
const TWO: &str = "150 mm, deep lip, silent, pearl; 110 mm, standard lip, silent, pearl";

fn why(models: &Models, setting: &Prepared, budget: Budget) -> Why {
    let study = Study::prepare(models, setting, budget).expect("prepared");
    study.run(None, &Control::default()).expect("answer")
}

fn input<'a>(models: &Models, inputs: &'a [Input], name: &str) -> Option<&'a Input> {
    inputs.iter().find(|i| matches!(i.kind, Kind::Parameter(d) if models.parameters[d].name == name))
}

/// The models with everything held at its default but the parameters named.
fn only(names: &[&str]) -> Models {
    let mut models = models();
    for p in &mut models.parameters {
        if !names.contains(&p.name.as_str()) {
            if p.spread == Spread::Choice {
                p.default = p.fixed();
            }
            p.spread = Spread::Fixed;
        }
    }
    models
}

/// Where one thing is unknown, it has all of the spread but the luck, alone and in all.
#[test]
fn the_only_unknown_drives_everything() {
    let (models, setting) = (only(&["sight.contrast_threshold"]), setting(&[("box.use", TWO)]));
    let budget = Budget { worlds: 512, passes: 512, ..SMALL };
    let found = why(&models, &setting, budget);
    let parameters = found.parameters.as_ref().expect("parameters");
    assert_eq!((found.varied, parameters.len()), ((1, 0), 1));
    let one = input(&models, parameters, "sight.contrast_threshold").expect("known");
    let floor = found.difference_floor.expect("two baits");
    for (index, luck) in [(one.odds.index, found.floor), (one.difference.expect("two").index, floor)] {
        // Of two inputs, what the first is in alone or with the other and what the other is alone make up all;
        // 4.5 standard errors with 7 degrees of freedom, chance 3e-3.
        let (sum, se) = (index.total.mean + luck.first.mean, index.total.se.hypot(luck.first.se));
        assert!((sum - 1.0).abs() < 4.5 * se && se < 0.1, "{index:?} {luck:?}");
    }
    assert!(one.odds.index.first.mean > 0.9, "{:?}", one.odds.index);
    assert!(one.odds.stands_out && found.floor.total.mean < 0.05, "{:?}", found.floor);
}

/// Where one thing is unknown, knowing it is knowing everything.
#[test]
fn the_only_unknown_is_worth_everything() {
    let models = only(&["hearing.rattle_level"]);
    let mixed = "150 mm, deep lip, silent, pearl; 130 mm, deep lip, rattling, chartreuse";
    let found = why(&models, &setting(&[("box.use", mixed)]), Budget { worlds: 512, passes: 256, ..SMALL });
    let parameters = found.parameters.as_ref().expect("parameters");
    let worth = input(&models, parameters, "hearing.rattle_level").expect("known").worth.expect("worked out");
    let everything = found.evpi.mean;
    assert!(everything > 0.01, "the louder the rattle, the sooner the other bait leads: {:?}", found.evpi);
    assert!(worth.raw <= everything + 1e-12 && worth.stands_out(), "{worth:?} {everything}");
    // Sixteen bins of equal count and the luck of the passes lose a little of it.
    assert!(worth.raw > 0.8 * everything, "{worth:?} {everything}");
}

#[test]
fn shares_and_worths_stay_within_their_limits() {
    let models = models();
    let found = why(&models, &setting(&[]), SMALL);
    assert!(found.complete && found.worlds == 256);
    assert!(found.evpi.mean >= 0.0 && found.evpi.se >= 0.0);
    assert!(found.floor.total.mean > 0.0, "the luck of 64 passes shows");
    let (varied, idle) = found.varied;
    assert!(0 < idle && idle < varied && varied < models.parameters.len());
    for i in found.groups.iter().chain(found.parameters.iter().flatten()) {
        let d = i.difference.expect("two baits");
        for share in [i.odds, d] {
            let total = share.index.total;
            assert!(total.mean >= 0.0 && total.mean < 1.0 + 4.5 * total.se.max(0.1), "{i:?}");
            assert!(share.index.total.se >= 0.0);
        }
    }
    for p in found.parameters.iter().flatten() {
        let worth = p.worth.expect("worked out");
        assert!((0.0..=found.evpi.mean + 1e-12).contains(&worth.raw), "{p:?} {:?}", found.evpi);
        assert!(p.gain() <= worth.raw && p.gain() >= 0.0);
        if let Kind::Parameter(d) = p.kind {
            assert_eq!(models.parameters[d].product, None, "members of a product have no index of their own");
        }
    }
    // The groups hold every parameter that varies, once.
    assert_eq!(found.groups.iter().map(|g| g.members).sum::<usize>(), varied);
    assert!(found.groups.iter().any(|g| g.kind == Kind::Readiness && g.members > 3));
}

/// What a bait does not depend on has no share in it, exactly.
#[test]
fn a_rattle_drives_no_silent_bait() {
    let models = models();
    let mixed = "150 mm, deep lip, silent, pearl; 130 mm, deep lip, rattling, pearl";
    let setting = setting(&[("box.use", mixed)]);
    let found = why(&models, &setting, SMALL);
    let silent = usize::from(!found.baits[0].contains("silent"));
    let parameters = found.parameters.as_ref().expect("parameters");
    let level = input(&models, parameters, "hearing.rattle_level").expect("it moves the other bait");
    assert!(level.difference.expect("two").index.total.mean > 0.0);
    if found.leader == silent {
        assert_eq!(level.odds.index.total.mean, 0.0);
        assert!(!level.odds.stands_out);
    } else {
        assert!(level.odds.index.total.mean > 0.0);
    }
    // In a box without rattles it moves nothing and is not there.
    let found = why(&models, &crate::common::setting(&[("box.use", TWO)]), SMALL);
    assert!(input(&models, found.parameters.as_ref().expect("parameters"), "hearing.rattle_level").is_none());
    for other in ["smallmouth.feeding.warm_best", "finish.chartreuse.specular", "tint.clay.gamma_k"] {
        assert!(models.index(other).is_some(), "{other}");
        assert!(input(&models, found.parameters.as_ref().expect("parameters"), other).is_none(), "{other}");
    }
}

#[test]
fn the_same_seed_gives_the_same_bits_whatever_the_box_holds_besides() {
    let models = models();
    let run = |baits: &str, pair| {
        let setting = setting(&[("box.use", baits)]);
        Study::prepare(&models, &setting, SMALL)
            .expect("prepared")
            .run(pair, &Control::default())
            .expect("answer")
    };
    let two = run(TWO, None);
    assert_eq!(two, run(TWO, None));
    let three = run(&format!("{TWO}; 70 mm, standard lip, silent, pearl"), Some((0, 1)));
    assert_eq!((two.strikes, two.difference, two.floor), (three.strikes, three.difference, three.floor));
    let shares =
        |w: &Why| w.groups.iter().map(|g| (g.kind.clone(), g.odds, g.difference)).collect::<Vec<_>>();
    assert_eq!(shares(&two), shares(&three));
}

#[test]
fn the_baits_asked_for_are_compared_in_that_order() {
    let models = models();
    let setting = setting(&[("box.use", TWO)]);
    let study = Study::prepare(&models, &setting, SMALL).expect("prepared");
    let run = |pair| study.run(pair, &Control::default()).expect("answer");
    let (one, other) = (run(Some((0, 1))), run(Some((1, 0))));
    assert_eq!((one.leader, one.next), (0, Some(1)));
    let (a, b) = (one.difference.expect("two"), other.difference.expect("two"));
    assert!((a.point + b.point).abs() < 1e-12, "{a:?} {b:?}");
    // A difference has the same indices whichever way it is taken.
    let mechanics = |w: &Why| {
        let group = w.groups.iter().find(|g| g.kind == Kind::Group(Group::Mechanics)).expect("group");
        group.difference.expect("two").index.total.mean
    };
    assert!((mechanics(&one) - mechanics(&other)).abs() < 1e-9);
    // By default the one that strikes more comes first.
    assert!(run(None).difference.expect("two").point >= 0.0);
}

#[test]
fn a_box_of_one_has_odds_and_no_choice() {
    let models = models();
    let setting = setting(&[("box.use", "150 mm, deep lip, silent, pearl")]);
    let found = why(&models, &setting, SMALL);
    assert_eq!((found.next, found.difference, found.difference_floor), (None, None, None));
    assert_eq!(found.evpi.mean, 0.0);
    assert!(found.groups.iter().all(|g| g.difference.is_none()));
    assert!(found.groups.iter().any(|g| g.odds.stands_out));
}

#[test]
fn what_cannot_be_told_is_refused() {
    let (models, setting) = (models(), setting(&[("box.use", TWO)]));
    let fixed = Budget { fixed: true, ..SMALL };
    assert_eq!(Study::prepare(&models, &setting, fixed).err(), Some(WhyError::Fixed));
    let control = Control::default();
    control.stop();
    let study = Study::prepare(&models, &setting, SMALL).expect("prepared");
    assert_eq!(study.run(None, &control).err(), Some(WhyError::Stopped));
}

/// Stopped among the single unknowns, the groups are told and the parameters are not.
#[test]
fn a_stop_gives_what_is_known() {
    let (models, setting) = (models(), setting(&[("box.use", TWO)]));
    let study = Study::prepare(&models, &setting, SMALL).expect("prepared");
    let control = Control::default();
    // Both halves and all groups: 128 rows of 2, of the groups and of the luck.
    let groups = study.run(None, &Control::default()).expect("whole").groups.len();
    let found = std::thread::scope(|scope| {
        scope.spawn(|| {
            while control.done() < 128 * (2 + groups + 1) {
                std::thread::yield_now();
            }
            control.stop();
        });
        study.run(None, &control).expect("groups")
    });
    assert!(!found.complete && !found.groups.is_empty());
    assert!(control.done() < study.steps());
}

/// What was given and may be off: as given it is what `odds` would say, a value that cannot be is left out, and a
/// bait nearer to the fish draws more.
#[test]
fn values_that_were_given_may_be_off() {
    let of = |set: &[(&str, &str)]| {
        let set = [&[("box.use", TWO)], set].concat();
        let scenario = crate::common::scenario_of("main-lake-point", &set);
        let control = Control::default();
        (given(&models(), &scenario, (0, Some(1)), 2, &control).expect("given"), scenario)
    };
    let (all, scenario) = of(&[]);
    assert_eq!(
        all.iter().map(|g| g.what).collect::<Vec<_>>(),
        [What::Depth, What::Secchi, What::Speed, What::Temperature]
    );
    assert_eq!(all[0].here.value, scenario.fish.depth_m);
    for g in &all {
        let (lower, higher) = (g.lower.expect("possible"), g.higher.expect("possible"));
        assert!(lower.value < g.here.value && g.here.value < higher.value);
        // The same worlds and passes: as given, every row says the same.
        assert_eq!((g.here.strikes, g.here.difference), (all[0].here.strikes, all[0].here.difference));
    }
    let depth = &all[0];
    assert!(depth.lower.expect("possible").strikes > depth.here.strikes);
    assert!(depth.higher.expect("possible").strikes < depth.here.strikes);
    // 4.6 m down over 5 m: no fish hangs at 5.07 m.
    let (shallow, _) = of(&[("water.bottom", "5 m"), ("fish.depth_spread", "0.1 m")]);
    assert!(shallow[0].higher.is_none() && shallow[0].lower.is_some());
    // Turbidity where turbidity was given.
    let scenario = crate::common::scenario_of("clay-after-rain", &[]);
    let murky = given(&models(), &scenario, (0, None), 2, &Control::default()).expect("given");
    assert!(murky.iter().all(|g| g.here.difference.is_none()));
    let stopped = Control::default();
    stopped.stop();
    assert_eq!(given(&models(), &scenario, (0, None), 2, &stopped).expect("stopped"), []);
}
