//! Plans for two baits: the odds differ from world to world.

use crate::common::{models, setting};
use callup::engine::Control;
use callup::engine::block::Means;
use callup::engine::{Budget, Strikes};
use callup::statistics::power::Plan;
use callup::study::casts::{Casts, Demand, Question, Unit, lead::behaviour, of_baits, power_at};
use callup::world::Prepared;

const SMALL: Budget = Budget { seed: 3, worlds: 64, passes: 64, fixed: false };
const DEMAND: Demand = Demand { alpha: 0.05, power: 0.8 };
const USUAL: Question = Question {
    demand: DEMAND,
    casts: Some(200),
    pace_per_h: None,
    usual_pace_per_h: 40.0,
    hours_per_season: 100.0,
    lifetime_seasons: 40.0,
    seed: 1,
};
const TWO: &str = "150 mm, deep lip, silent, pearl; 110 mm, standard lip, silent, pearl";

fn table(setting: &Prepared, budget: Budget) -> Strikes {
    Strikes::of(&models(), std::slice::from_ref(setting), budget, &Control::default()).expect("table")
}

fn casts(set: &[(&str, &str)], budget: Budget) -> (Casts, Strikes) {
    let setting = setting(&[&[("box.use", TWO)], set].concat());
    let table = table(&setting, budget);
    (of_baits(&setting, &table, [0, 1], USUAL).expect("answer"), table)
}

/// Every world has its own size, by the formula that the plan of that world has.
#[test]
fn the_number_of_casts_is_told_over_worlds() {
    let (found, table) = casts(&[], SMALL);
    let w = found.worlds.as_ref().expect("worlds");
    assert_eq!((w.rates.len(), w.sizes.len()), (64, 64));
    let mut direct: Vec<f64> = (0..64)
        .map(|d| {
            let [a, b] = [0, 1].map(|bait| table.struck()[(0, bait, d)]);
            assert_eq!(w.rates[d], [a, b]);
            // A rate of nothing is held off it by less than can be seen.
            let [a, b] = [a, b].map(|p| p.max(1e-12));
            Plan::new(a, b, DEMAND.alpha, DEMAND.power).map_or(f64::INFINITY, |p| p.size_pooled())
        })
        .collect();
    direct.sort_by(f64::total_cmp);
    assert_eq!(w.sizes, direct);
    assert_eq!((w.size(0.0), w.size(1.0)), (direct[0], direct[63]));
    assert!(w.size(0.05) <= w.size(0.5) && w.size(0.5) <= w.size(0.95));
    let small = w.rates.iter().filter(|r| (r[0] - r[1]).abs() < 0.01).count() as f64 / 64.0;
    let better = w.rates.iter().filter(|r| r[0] > r[1]).count() as f64 / 64.0;
    assert_eq!((w.too_small, w.first_better), (small, better));
    // The plan is made for the middle odds.
    for k in 0..2 {
        assert_eq!(found.rates[k], w.strikes[k].point / 100.0);
    }
    let mean = w.rates.iter().map(|&r| power_at(r, 200, &DEMAND, true)).sum::<f64>() / 64.0;
    let said = found.showing.expect("asked").power_over_worlds.expect("worlds");
    assert!((said - mean).abs() < 1e-12, "{said} {mean}");
    let lead = found.lead.expect("two rates").plan.lead;
    let wrong = w.rates.iter().map(|&r| behaviour(r, lead).0).sum::<f64>() / 64.0;
    assert!((w.in_turn.expect("plan").0 - wrong).abs() < 1e-12 && wrong <= 0.5);
}

/// Fish scattered at random: a cast meets a Poisson number of them. 1 - exp(-m p), m = 0.0030 x 27 x 5 = 0.405.
#[test]
fn a_density_of_fish_turns_passes_into_casts() {
    let (passes, _) = casts(&[], SMALL);
    let (found, _) = casts(&[("fish.density", "30 per ha"), ("fish.reachable", "1")], SMALL);
    assert_eq!(passes.unit, Unit::Passes);
    let Unit::Casts { passes: Some([m, other]) } = found.unit else { panic!("{:?}", found.unit) };
    assert!((m - 0.405).abs() < 1e-12 && m == other, "{m}");
    let (a, b) = (passes.worlds.expect("worlds"), found.worlds.expect("worlds"));
    for (pass, cast) in a.rates.iter().zip(&b.rates) {
        for k in 0..2 {
            assert!((cast[k] - (1.0 - (-0.405 * pass[k]).exp())).abs() < 1e-14);
        }
    }
    assert!(b.size(0.5) > a.size(0.5), "fewer strikes in a cast than in a pass");
}

/// Not all fish are where a bait passes: the share is that of each world, and each bait's casts are its own.
#[test]
fn fish_within_reach_and_flights_differ() {
    let (passes, _) = casts(&[("tackle.launch", "24 m/s")], SMALL);
    let set = [("tackle.launch", "24 m/s"), ("fish.density", "30 per ha")];
    let (found, table) = casts(&set, SMALL);
    let baits = &setting(&[&[("box.use", TWO)], &set[..]].concat()).baits;
    let (a, b) = (passes.worlds.expect("worlds"), found.worlds.expect("worlds"));
    assert_ne!(baits[0].path.cast_m(), baits[1].path.cast_m());
    for (w, (pass, cast)) in a.rates.iter().zip(&b.rates).enumerate() {
        for k in 0..2 {
            let m = 0.003 * 5.0 * baits[k].path.cast_m() * table.worlds[w].reachable;
            assert!((cast[k] - (1.0 - (-m * pass[k]).exp())).abs() < 1e-14);
        }
    }
}

/// 27 m at half of 0.8 m/s and 12 s between two: 3600 / 79.5 casts an hour.
#[test]
fn the_pace_follows_from_the_tackle_unless_given() {
    let (found, _) = casts(&[], SMALL);
    assert!((found.pace_per_h - 3600.0 / 79.5).abs() < 1e-9 && found.pace_from_tackle);
    let setting = setting(&[("box.use", TWO)]);
    let asked = Question { pace_per_h: Some(60.0), hours_per_season: 10.0, ..USUAL };
    let found = of_baits(&setting, &table(&setting, SMALL), [0, 1], asked).expect("answer");
    assert!(found.pace_per_h == 60.0 && !found.pace_from_tackle && found.hour.casts == 60);
    assert!((found.hours(300.0) - 10.0).abs() < 1e-12 && (found.seasons(300.0) - 1.0).abs() < 1e-12);
}

/// One world, and the same bait twice: nothing to tell.
#[test]
fn one_world_and_a_tie() {
    let (found, _) = casts(&[], Budget { fixed: true, ..SMALL });
    let w = found.worlds.expect("worlds");
    assert_eq!((w.rates.len(), w.sizes.len()), (1, 1));
    assert!((w.size(0.5) - found.fixed.expect("plan").pooled).abs() < 1e-6);
    let setting = setting(&[("box.use", TWO)]);
    let tie = of_baits(&setting, &table(&setting, SMALL), [0, 0], USUAL).expect("answer");
    assert!(tie.fixed.is_none() && tie.lead.is_none());
    let w = tie.worlds.expect("worlds");
    assert!(w.sizes.iter().all(|n| n.is_infinite()));
    assert_eq!((w.too_small, w.first_better, w.in_turn), (1.0, 0.0, None));
}

/// Baits that never draw a strike in any world: no plan, nothing told, and no trouble.
#[test]
fn no_strikes_at_all() {
    let setting = setting(&[("box.use", TWO)]);
    let mut none = table(&setting, SMALL);
    none.cells.fill(Means::default());
    let found = of_baits(&setting, &none, [0, 1], USUAL).expect("answer");
    assert!(found.fixed.is_none() && found.lead.is_none());
    let w = found.worlds.expect("worlds");
    assert!(w.sizes.iter().all(|n| n.is_infinite()));
    assert_eq!((w.too_small, w.first_better), (1.0, 0.0));
    let showing = found.showing.expect("asked");
    assert_eq!((showing.power, showing.smallest, showing.strikes), (0.0, None, [0.0, 0.0]));
}
