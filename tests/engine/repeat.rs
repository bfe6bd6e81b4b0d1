//! The same question has the same answer to the last bit: any number of threads, any order or company of
//! conditions and baits, stopped early or not; and another seed is another run.

use super::fill;
use crate::common::{models, setting, setting_of};
use callup::engine::Control;
use callup::engine::{Budget, Passes, Strikes};
use callup::models::Worlds;
use callup::world::Prepared;
use ndarray::{Array3, Axis, s};
use std::sync::Arc;

const SMALL: Budget = Budget { seed: 3, worlds: 32, passes: 64, fixed: false };

fn bits(values: &Array3<f64>) -> Vec<u64> {
    values.iter().map(|v| v.to_bits()).collect()
}

#[track_caller]
fn same(what: &str, a: &Strikes, b: &Strikes) {
    let stages = |t: &Strikes| [&t.noticed(), &t.came(), &t.struck(), &t.variance()].map(bits);
    assert!(stages(a) == stages(b), "{what}");
    assert!(a.struck().iter().all(|p| (0.0..=1.0).contains(p)) && a.draws() > 0);
}

/// One condition of a table, as a table.
fn condition(t: &Strikes, c: usize) -> Strikes {
    Strikes { cells: t.cells.slice(s![c..=c, .., ..]).to_owned(), ..t.clone() }
}

/// The chosen baits of a table, in that order.
fn baits(t: &Strikes, chosen: &[usize]) -> Strikes {
    Strikes { cells: t.cells.select(Axis(1), chosen), ..t.clone() }
}

fn with_baits(setting: &Prepared, chosen: &[usize]) -> Prepared {
    Prepared { baits: chosen.iter().map(|&i| setting.baits[i].clone()).collect(), ..setting.clone() }
}

fn three() -> [Prepared; 3] {
    [
        setting(&[]),
        setting(&[("sky.cloud", "0"), ("when.time", "12:00")]),
        setting(&[("water.secchi", "1 m"), ("fish.depth", "2 m")]),
    ]
}

#[test]
#[cfg(feature = "parallel")]
fn any_number_of_threads_gives_the_same_bits() {
    let settings = three();
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| fill(&settings, SMALL))
    };
    let one = with(1);
    for threads in [2, 3, 8] {
        same(&format!("{threads} threads"), &one, &with(threads));
    }
}

#[test]
fn a_condition_does_not_depend_on_the_others() {
    let settings = three();
    let together = fill(&settings, SMALL);
    let [a, b, c] = settings;
    let turned = fill(&[c.clone(), a.clone(), b.clone()], SMALL);
    for (i, alone) in [a, b, c].into_iter().enumerate() {
        let whole = condition(&together, i);
        same("alone", &whole, &fill(&[alone], SMALL));
        same("in another order", &whole, &condition(&turned, (i + 1) % 3));
    }
}

/// In the sun too, whose glint is tabulated by depth.
#[test]
fn a_bait_does_not_depend_on_the_others_of_the_box() {
    for setting in three() {
        let whole = fill(std::slice::from_ref(&setting), SMALL);
        let turned: Vec<usize> = (0..setting.baits.len()).rev().collect();
        same("turned round", &baits(&whole, &turned), &fill(&[with_baits(&setting, &turned)], SMALL));
        // The shallow baits without the deep ones, and one alone.
        for chosen in [&[0, 1, 2, 3][..], &[2], &[11, 0]] {
            let few = fill(&[with_baits(&setting, chosen)], SMALL);
            same(&format!("only {chosen:?}"), &baits(&whole, chosen), &few);
        }
    }
}

#[test]
fn seed_zero_is_a_seed_and_another_seed_is_another_run() {
    let setting = [setting_of("stained-lowland", &[])];
    let with = |seed| fill(&setting, Budget { seed, ..SMALL });
    same("seed 0 twice", &with(0), &with(0));
    same("the greatest seed twice", &with(u64::MAX), &with(u64::MAX));
    let tables = [with(0), with(1), with(u64::MAX)];
    for (i, a) in tables.iter().enumerate() {
        for b in &tables[..i] {
            let equal = a.struck().iter().zip(&b.struck()).filter(|(x, y)| x == y).count();
            assert!(equal * 10 < a.struck().len(), "{equal} of {} alike", a.struck().len());
        }
    }
}

#[test]
fn the_fixed_world_is_one_world_at_the_defaults() {
    let setting = [setting(&[])];
    let fixed = fill(&setting, Budget { fixed: true, ..SMALL });
    assert_eq!(fixed.draws(), 1);
    assert_eq!(fixed.draws[0], Worlds::fixed(&models()).expect("complete").draws[0].values);
    same("draws do not count", &fixed, &fill(&setting, Budget { fixed: true, worlds: 512, ..SMALL }));
}

/// Stopped from outside after a few worlds, the table holds whole worlds, the same bits as in the whole run.
#[test]
fn a_stopped_run_keeps_whole_worlds_and_says_how_far_it_got() {
    let setting = setting(&[]);
    let models = models();
    let budget = Budget { worlds: 1024, passes: 512, ..SMALL };
    let control = Arc::new(Control::default());
    let asked = Arc::clone(&control);
    let stopper = std::thread::spawn(move || {
        while asked.done() < 12 {
            std::thread::yield_now();
        }
        asked.stop();
    });
    let part = Strikes::of(&models, std::slice::from_ref(&setting), budget, &control).expect("table");
    stopper.join().expect("stopper");
    assert!(part.draws() >= 12 && part.draws() < 1024, "{}", part.draws());
    assert_eq!(part.draws(), control.done());
    assert!(part.struck().iter().chain(&part.variance()).all(|v| v.is_finite()));
    // Each kept world is a world of the whole run, in its order.
    let whole = fill(std::slice::from_ref(&setting), budget);
    let places: Vec<usize> = part
        .draws
        .iter()
        .map(|d| whole.draws.iter().position(|w| w == d).expect("a world of the run"))
        .collect();
    assert!(places.windows(2).all(|w| w[0] < w[1]));
    let kept = |values: &Array3<f64>| values.select(Axis(2), &places);
    assert_eq!(bits(&kept(&whole.struck())), bits(&part.struck()));
    assert_eq!(bits(&kept(&whole.variance())), bits(&part.variance()));
    // And the luck of having seen so few is in the error.
    let values: Vec<f64> = part.struck().slice(s![0, 0, ..]).to_vec();
    let estimate = callup::study::over_worlds(&values, part.per_scramble);
    assert!(estimate.simulation_se > 0.0);

    let never = Control::default();
    never.stop();
    let none = Strikes::of(&models, &[], budget, &never).expect("table");
    assert_eq!(none.draws(), 0);
}

/// What a budget says it runs is what is run, whatever was asked for.
#[test]
fn the_budget_as_run_is_what_is_run() {
    let setting = [setting(&[])];
    for (draws, points) in [(8, 64), (9, 65), (100, 100), (1, 1), (32, 512)] {
        for fixed in [false, true] {
            let asked = Budget { seed: 1, worlds: draws, passes: points, fixed };
            let run = asked.as_run();
            assert_eq!(run, run.as_run());
            assert!(fixed || run.worlds >= draws && run.passes >= points);
            let table = fill(&setting, asked);
            assert_eq!(table.draws(), run.worlds);
            assert_eq!(Passes::of_world(1, 0, points).len(), run.passes);
            same("as run", &table, &fill(&setting, run));
        }
    }
}
