//! Plans of a day: against brute force, at the ends of what a change may cost, and against the odds of an hour.

use crate::common::{models, scenario_of, setting_of};
use callup::engine::Control;
use callup::engine::{Budget, Strikes};
use callup::scenario::day as calendar;
use callup::statistics::estimate::sorted;
use callup::study::day::changes::{Cut, Pair, best_cut};
use callup::study::day::{Day, DayError, DayOf, day};
use callup::study::odds::odds;
use proptest::prelude::*;

/// Sums of some thirty numbers in another order.
const ROUNDING: f64 = 1e-9;

const BUDGET: Budget = Budget { seed: 5, worlds: 32, passes: 64, fixed: false };
/// Four baits that differ; water that clears by the hour, so that the best one changes.
const CLEARING: [(&str, &str); 3] = [
    ("water.secchi", "0.3 m"),
    ("hour.secchi", "10:00 0.7 m; 13:00 1.5 m; 16:00 6 m"),
    (
        "box.use",
        "70 mm, standard lip, silent, see-through; 130 mm, deep lip, rattling, chartreuse; \
         150 mm, deep lip, silent, pearl; 110 mm, standard lip, silent, dark",
    ),
];

fn worked(step_s: f64, change_s: f64) -> Day {
    let request = DayOf { step_s, change_s, casts_per_hour: Some(40.0) };
    day(&scenario_of("main-lake-point", &CLEARING), &models(), request, BUDGET, &Control::default())
        .expect("a day")
}

/// Mean strikes per 100 passes of the whole day of a plan, changes paid for.
fn value(day: &Day, plan: &[usize]) -> f64 {
    let casts: f64 = day.steps.iter().map(|s| s.casts).sum();
    let sum: f64 = day.steps.iter().zip(plan).map(|(s, &b)| s.casts * s.means[b]).sum();
    let changes = plan.windows(2).filter(|w| w[0] != w[1]).count();
    sum / casts - changes as f64 * day.change_cost
}

#[test]
fn the_plan_is_brute_force() {
    for change_s in [0.0, 300.0, 1800.0, 7200.0] {
        let day = worked(7200.0, change_s);
        let (steps, baits) = (day.steps.len() as u32, day.baits.len());
        let plans =
            (0..baits.pow(steps)).map(|n| (0..steps).map(|s| n / baits.pow(s) % baits).collect::<Vec<_>>());
        let best = plans.map(|p| value(&day, &p)).fold(f64::NEG_INFINITY, f64::max);
        assert!((day.one_rod.mean - best).abs() < ROUNDING, "{change_s}: {} {best}", day.one_rod.mean);
        assert!((value(&day, &day.one_rod.choices) - best).abs() < ROUNDING);
        // Sets of baits with a rod each, changes free.
        for (k, set) in day.tied_on.iter().enumerate() {
            let sets = (0..1_u32 << baits).filter(|s| s.count_ones() as usize == k + 1);
            let of = |set: u32| {
                let best = |s: &callup::study::day::Step| {
                    (0..baits).filter(|b| set >> b & 1 == 1).map(|b| s.means[b]).fold(0.0, f64::max)
                };
                let casts: f64 = day.steps.iter().map(|s| s.casts).sum();
                day.steps.iter().map(|s| s.casts * best(s)).sum::<f64>() / casts
            };
            let brute = sets.map(of).fold(0.0, f64::max);
            assert!((set.plan.mean - brute).abs() < ROUNDING && set.proven, "{k}: {} {brute}", set.plan.mean);
        }
    }
}

#[test]
fn a_free_change_gives_the_best_of_every_step_and_an_endless_one_a_single_bait() {
    let free = worked(1800.0, 0.0);
    assert_eq!(free.change_cost, 0.0);
    for (s, step) in free.steps.iter().enumerate() {
        assert_eq!(step.means[free.one_rod.choices[s]], step.means[step.best]);
    }
    assert!((free.one_rod.mean - free.stepwise.mean).abs() < ROUNDING);
    assert!(free.changes.len() > 1 || free.one_rod.choices.iter().any(|b| *b != free.one_rod.choices[0]));
    let dear = worked(1800.0, 86_400.0);
    assert!(dear.one_rod.choices.iter().all(|b| *b == dear.one_rod.choices[0]) && dear.changes.is_empty());
    assert_eq!(dear.tied_on[0].baits, [dear.one_rod.choices[0]]);
    assert!((dear.one_rod.mean - dear.tied_on[0].plan.mean).abs() < ROUNDING);
}

#[test]
fn more_rods_and_cheaper_changes_never_lose() {
    let means: Vec<f64> = [0.0, 300.0, 900.0, 3600.0].map(|c| worked(1800.0, c).one_rod.mean).to_vec();
    assert!(means.windows(2).all(|w| w[0] >= w[1] - ROUNDING), "{means:?}");
    let day = worked(1800.0, 600.0);
    assert!(day.tied_on.windows(2).all(|w| w[1].plan.mean >= w[0].plan.mean - ROUNDING));
    assert!(day.one_rod.mean >= day.tied_on[0].plan.mean - ROUNDING);
    assert!(day.stepwise.mean >= day.tied_on[2].plan.mean - ROUNDING);
    assert!(day.one_rod.mean_fewer >= -ROUNDING && day.knowing_adds >= -ROUNDING);
    // What a plan lacks is what it has less than the best of every step, in the mean.
    assert!((day.stepwise.mean - day.one_rod.mean - day.one_rod.mean_fewer).abs() < ROUNDING);
}

#[test]
fn a_step_holds_what_the_odds_of_its_hour_are() {
    let day = worked(1800.0, 300.0);
    for s in [0, 8, day.steps.len() - 1] {
        let (from, to) = day.steps[s].span_s;
        let lake = scenario_of("main-lake-point", &CLEARING);
        let clock = calendar::clock_h(&lake, 0.5 * (from + to));
        let seconds = (clock * 3600.0).round() as u32;
        let time = format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
        let mut overrides = CLEARING.to_vec();
        overrides.push(("when.time", &time));
        let setting = setting_of("main-lake-point", &overrides);
        let table = Strikes::of(&models(), &[setting], BUDGET, &Control::default()).expect("complete");
        for b in 0..day.baits.len() {
            let here = day.cube.strikes(s, b).expect("worked out");
            for (d, p) in here.iter().enumerate() {
                // The middle of a step is no whole second; the sun moves by 0.002 degrees in half of one.
                assert!(
                    (p - 100.0 * table.struck()[(0, b, d)]).abs() < 0.02,
                    "step {s}, bait {b}, world {d}"
                );
            }
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_bits() {
    assert_eq!(worked(3600.0, 300.0), worked(3600.0, 300.0));
}

#[test]
fn shares_of_worlds_add_up_and_hours_lie_within_the_stretch() {
    let day = worked(1800.0, 300.0);
    assert!(!day.changes.is_empty(), "clearing water changes the leader");
    for c in &day.changes {
        assert!((c.pays_in + c.stays_in + c.sooner_in - 1.0).abs() < ROUNDING, "{c:?}");
        assert_eq!(c.all_s.len(), (c.pays_in * day.cube.draws as f64).round() as usize);
        assert_eq!(c.unix_s, day.steps[c.step].span_s.0);
        let within = |t: &f64| *t > day.planned.span.from_s && *t < day.planned.span.to_s;
        assert!(c.all_s.iter().all(within));
    }
}

#[test]
fn the_density_of_fish_gives_passes_and_the_tackle_the_pace() {
    let set = [
        ("fish.density", "100 per ha"),
        ("fish.reachable", "1"),
        ("tackle.cast", "30 m"),
        ("tackle.speed", "1 m/s"),
        ("tackle.pause", "0.5"),
    ];
    let lake = scenario_of("main-lake-point", &set);
    let request = DayOf { step_s: 7200.0, change_s: 0.0, casts_per_hour: None };
    let day = day(&lake, &models(), request, BUDGET, &Control::default()).expect("a day");
    // 60 s of retrieve and 12 s between two casts; 30 m by 5 m of a hectare that holds 100 fish.
    assert!((day.casts_per_hour - 3600.0 / 72.0).abs() < ROUNDING);
    assert!((day.passes_per_cast.expect("density given") - 1.5).abs() < ROUNDING);
    let hours = (day.planned.span.to_s - day.planned.span.from_s) / 3600.0;
    let casts: f64 = day.steps.iter().map(|s| s.casts).sum();
    assert!((casts - hours * 3600.0 / 72.0).abs() < 1e-6);
}

/// One formula for passes in a cast: where each bait flies as far as it can, odds and day say the same.
#[test]
fn odds_and_day_agree_on_passes() {
    let set = [("tackle.launch", "24 m/s"), ("fish.density", "30 per ha")];
    let lake = scenario_of("main-lake-point", &set);
    let request = DayOf { step_s: 14_400.0, change_s: 0.0, casts_per_hour: None };
    let day = day(&lake, &models(), request, BUDGET, &Control::default()).expect("a day");
    let setting = setting_of("main-lake-point", &set);
    let settings = std::slice::from_ref(&setting);
    let table = Strikes::of(&models(), settings, BUDGET, &Control::default()).expect("a table");
    let found = odds(&models(), &setting, &table, 0, BUDGET.seed);
    assert_eq!(day.passes_per_cast, found.passes_per_cast);
    let shares: Vec<f64> = table.worlds.iter().map(|w| w.reachable).collect();
    let middle = callup::statistics::estimate::quantile(&sorted(&shares), 0.5).expect("worlds");
    for (bait, own) in setting.baits.iter().zip(&found.baits) {
        let (cast_m, passes) = (bait.path.cast_m(), own.passes_per_cast.expect("density given"));
        assert!((passes - 0.003 * 5.0 * cast_m * middle).abs() < ROUNDING);
        // In one hour as many casts as fit, and of each its passes.
        let hour = 3600.0 / (cast_m / 0.4 + 12.0) / 100.0;
        let (casts, hours) = (own.per_100_casts.expect("density"), own.per_hour.expect("density"));
        assert!((hours.point - hour * casts.point).abs() < ROUNDING);
    }
    let caught = day.strikes_with_one_rod.expect("density given");
    assert!(0.0 < caught.low && caught.low < caught.point && caught.point < caught.high, "{caught:?}");
}

#[test]
fn too_much_and_stopped_are_refused() {
    let lake = scenario_of("main-lake-point", &[]);
    let budget = Budget { worlds: 65_536, ..BUDGET };
    let request = DayOf { step_s: 300.0, change_s: 0.0, casts_per_hour: None };
    assert!(matches!(
        day(&lake, &models(), request, budget, &Control::default()),
        Err(DayError::TooLarge { .. })
    ));
    let control = Control::default();
    control.stop();
    assert_eq!(day(&lake, &models(), request, BUDGET, &control), Err(DayError::Stopped));
}

#[test]
fn a_day_in_the_dark_and_one_without_night_are_planned_whole() {
    for (date, hours) in [("2026-12-21", 24.0), ("2026-06-21", 24.0)] {
        let set = [
            ("place.latitude", "78"),
            ("place.longitude", "15"),
            ("place.zone", "Arctic/Longyearbyen"),
            ("when.date", date),
        ];
        let request = DayOf { step_s: 3600.0, change_s: 300.0, casts_per_hour: None };
        let day = day(&scenario_of("main-lake-point", &set), &models(), request, BUDGET, &Control::default())
            .expect("a day");
        assert_eq!(day.steps.len(), 24);
        assert_eq!((day.planned.span.to_s - day.planned.span.from_s) / 3600.0, hours);
        assert!(day.steps.iter().flat_map(|s| &s.means).all(|m| m.is_finite()));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_best_cut_is_brute_force(
        from in proptest::collection::vec(0.0f64..3.0, 1..9),
        other in proptest::collection::vec(0.0f64..3.0, 9),
        cost in 0.0f64..2.0,
    ) {
        let to = other[..from.len()].to_vec();
        let n = from.len();
        let worth = |t: usize| from[..t].iter().sum::<f64>() + to[t..].iter().sum::<f64>();
        let paid = (1..n).map(|t| worth(t) - cost).fold(f64::NEG_INFINITY, f64::max);
        let ends = worth(0).max(worth(n));
        let cut = best_cut(&Pair { from: from.clone(), to: to.clone(), cost });
        match cut {
            Cut::At(t) => {
                prop_assert!(t >= 1 && t < n);
                prop_assert!((worth(t) - cost - paid).abs() < ROUNDING && paid > ends - ROUNDING);
            }
            Cut::Never => prop_assert!(worth(n) >= worth(0) - ROUNDING && paid <= ends + ROUNDING),
            Cut::AtOnce => prop_assert!(worth(0) >= worth(n) - ROUNDING && paid <= ends + ROUNDING),
        }
    }
}
