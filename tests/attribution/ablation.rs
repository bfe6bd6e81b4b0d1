//! Neutral groups in the simulator.

use crate::common::{drawn, models, setting};
use callup::engine::Control;
use callup::engine::block::{FishColumns, run};
use callup::engine::{Budget, Passes, Strikes};
use callup::models::{Assumed, Group, Groups};
use callup::study::attribution::worth::{over_passes, worth};
use callup::study::attribution::{Comparison, Worth};
use callup::world::ablation::{Ground, Shown, Side};
use callup::world::{BaitInWater, Prepared, World};

const SEED: u64 = 3;
const POINTS: usize = 64;
/// Strikes among the stages.
const STRUCK: usize = 2;

fn side(setting: &Prepared, bait: usize) -> Side<'_> {
    Side { prepared: setting, bait: &setting.baits[bait] }
}

fn worths(a: (&Prepared, usize), b: (&Prepared, usize)) -> Vec<Worth> {
    let comparison = Comparison { a: side(a.0, a.1), b: side(b.0, b.1), pace: [1.0; 2] };
    let worlds = drawn(SEED, 16);
    let one = |(i, assumed): (usize, &Assumed)| {
        over_passes(&worth(&comparison, assumed, &Passes::of_world(SEED, i, POINTS)))
    };
    worlds.iter().enumerate().map(one).collect()
}

/// Two settings that differ in almost everything, and a bait of either.
fn unlike() -> [Prepared; 2] {
    [
        setting(&[]),
        setting(&[
            ("water.secchi", "1.5 m"),
            ("water.tint", "clay"),
            ("water.temperature", "22 C"),
            ("water.bottom", "6 m"),
            ("when.time", "13:00"),
            ("sky.cloud", "0.1"),
            ("sky.wind", "7 m/s"),
            ("sky.rain", "rain"),
            ("fish.species", "smallmouth"),
            ("fish.depth", "3 m"),
            ("fish.pressure", "heavy"),
            ("fish.phase", "summer"),
            ("fish.length", "30 cm"),
            ("forage.kind", "perch"),
            ("forage.length", "6 cm"),
            ("tackle.pause", "0.2"),
            ("tackle.cast", "20 m"),
        ]),
    ]
}

#[test]
fn with_nothing_neutral_a_side_is_what_it_is() {
    let settings = unlike();
    for assumed in &drawn(SEED, 8) {
        for (s, own) in settings.iter().enumerate() {
            for (b, bait) in own.baits.iter().enumerate() {
                let shown = Shown::new(Side { prepared: own, bait }, assumed);
                let other = Shown::new(side(&settings[1 - s], b), assumed);
                let mut ground = Ground::new(&shown, &other, Groups::NONE);
                // There and back: nothing sticks.
                ground.neutralise(Groups::ALL);
                ground.neutralise(Groups::NONE);
                let world = World::new(own, assumed);
                assert_eq!(ground.offer, world.offer(own, assumed, bait));
                assert_eq!(ground.world, world);
            }
        }
    }
}

#[test]
fn with_everything_acting_the_effect_is_that_of_the_strike_table() {
    let settings = unlike();
    let budget = Budget { seed: SEED, worlds: 16, passes: POINTS, fixed: false };
    let table = Strikes::of(&models(), &settings, budget, &Control::default()).expect("table");
    let effects = worths((&settings[0], 3), (&settings[1], 8));
    /// Sums of four scrambles in another order.
    const ROUNDING: f64 = 1e-13;
    for (w, effect) in effects.iter().enumerate() {
        let difference = 100.0 * (table.struck()[(0, 3, w)] - table.struck()[(1, 8, w)]);
        assert!((effect[Groups::ALL.number()] - difference).abs() < ROUNDING, "world {w}");
    }
}

#[test]
fn with_everything_neutral_the_sides_are_the_same_to_the_bit() {
    let settings = unlike();
    for effect in worths((&settings[0], 3), (&settings[1], 8)) {
        assert_eq!(effect[Groups::NONE.number()], 0.0);
        assert_ne!(effect[Groups::ALL.number()], 0.0);
    }
}

#[test]
fn swapping_the_sides_turns_the_signs_and_nothing_else() {
    let settings = unlike();
    let (ab, ba) =
        (worths((&settings[0], 3), (&settings[1], 8)), worths((&settings[1], 8), (&settings[0], 3)));
    for (one, other) in ab.iter().zip(&ba) {
        assert!(one.iter().zip(other).all(|(x, y)| *x == -*y));
    }
}

/// What the sides differ by, and the groups through which it acts.
const DIFFERENCES: [(&str, &str, &str, &[Group]); 9] = [
    ("bait.finish", "mirror", "see-through", &[Group::Optics]),
    ("sky.cloud", "0.1", "0.9", &[Group::Optics]),
    ("water.secchi", "5 m", "2 m", &[Group::Optics]),
    ("bait.runs", "3 m", "1.5 m", &[Group::Mechanics]),
    ("tackle.pause", "0.6", "0.3", &[Group::Mechanics]),
    ("fish.depth", "1.5 m", "2.5 m", &[Group::Mechanics]),
    ("bait.sound", "rattling", "silent", &[Group::Sound]),
    ("fish.phase", "pre-spawn", "spawn", &[Group::Phase]),
    ("fish.pressure", "unfished", "heavy", &[Group::Wariness]),
];

#[test]
fn what_acts_through_one_group_goes_with_it() {
    for (key, a, b, through) in DIFFERENCES {
        // Within sight in every world, so that there is something to make neutral.
        let near = |value| match key {
            "fish.depth" => setting(&[(key, value)]),
            _ => setting(&[(key, value), ("fish.depth", "2 m")]),
        };
        let (a, b) = (near(a), near(b));
        let without = through.iter().copied().collect::<Groups>().others();
        for effect in worths((&a, 2), (&b, 2)) {
            assert_ne!(effect[Groups::ALL.number()], 0.0, "{key}");
            assert_eq!(effect[without.number()], 0.0, "{key}");
        }
    }
}

#[test]
fn what_acts_through_several_groups_goes_with_them_all_and_not_with_fewer() {
    let fixed_phase = |t: &str| setting(&[("water.temperature", t), ("fish.phase", "summer")]);
    let prey = |l: &str| setting(&[("forage.length", l)]);
    let cases = [
        // Temperature: hunger; swimming and the water's density; a bait's volume, which the near field knows.
        (fixed_phase("20 C"), fixed_phase("10 C"), vec![Group::Appetite, Group::Mechanics, Group::Sound]),
        // A longer prey is another size, and its bent flank throws more sun.
        (prey("9 cm"), prey("5 cm"), vec![Group::Size, Group::Optics]),
    ];
    for (a, b, through) in cases {
        let effects = worths((&a, 2), (&b, 2));
        let mean = |active: Groups| effects.iter().map(|e| e[active.number()]).sum::<f64>() / 16.0;
        let all: Groups = through.iter().copied().collect();
        assert_eq!(mean(all.others()), 0.0);
        assert_ne!(mean(Groups::NONE.with(through[0])), 0.0);
        assert_ne!(mean(Groups::NONE.with(through[0]).others()), mean(Groups::ALL));
    }
}

/// Room for what one pass in the middle does not say of all passes.
const LEVEL: f64 = 0.25;

#[test]
fn neutral_groups_leave_the_level_near_what_it_was() {
    let assumed = drawn(1, 64);
    let mean = |setting: &Prepared, bait: &BaitInWater, neutral: Groups| -> f64 {
        let one = |(i, a): (usize, &Assumed)| {
            let shown = Shown::new(Side { prepared: setting, bait }, a);
            let mut ground = Ground::new(&shown, &shown, neutral);
            ground.neutralise(neutral);
            let fish = FishColumns::new(&ground.world, &Passes::of_world(1, i, POINTS));
            run(&ground.world, &ground.offer, &fish).mean(STRUCK)
        };
        assumed.iter().enumerate().map(one).sum::<f64>() / assumed.len() as f64
    };
    for depth in ["3 m", "4.5 m", "6 m"] {
        let setting = setting(&[("fish.depth", depth)]);
        for bait in [0, 3, 7, 11].map(|b| &setting.baits[b]) {
            let as_it_is = mean(&setting, bait, Groups::NONE);
            for neutral in [Groups::ALL, Groups::PHYSICS, Groups::PHYSICS.others()] {
                let ratio = mean(&setting, bait, neutral) / as_it_is;
                assert!((ratio - 1.0).abs() < LEVEL, "{depth}, {}: {ratio}", bait.name);
            }
        }
    }
}

#[test]
fn dark_mud_and_uncatchable_baits_are_no_trouble() {
    let extremes = [
        setting(&[("when.time", "00:30"), ("water.secchi", "0.1 m")]),
        setting(&[("tackle.speed", "5 m/s"), ("tackle.pause", "0"), ("fish.length", "15 cm")]),
        setting(&[("fish.depth", "0.3 m"), ("water.bottom", "0.6 m"), ("water.secchi", "20 m")]),
    ];
    let usual = setting(&[]);
    for extreme in &extremes {
        for effect in worths((&usual, 8), (extreme, 8)) {
            assert!(effect.iter().all(|v| v.is_finite() && v.abs() <= 100.0));
            assert_eq!(effect[0], 0.0);
        }
    }
}
