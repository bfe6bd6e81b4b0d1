//! Packed boxes: against brute force, against the odds of a condition, and at the ends.

use crate::common::{models, setting_of};
use callup::engine::Control;
use callup::engine::{Budget, Strikes};
use callup::scenario::{Catalogue, library, paths};
use callup::study::axis::{Axis, Wish};
use callup::study::pack::conditions::{Conditions, Source, conditions, usual_spread};
use callup::study::pack::{Pack, PackError, pack};

/// Sums of some hundred numbers in another order.
const ROUNDING: f64 = 1e-9;
const BUDGET: Budget = Budget { seed: 3, worlds: 16, passes: 64, fixed: false };
/// Five baits.
const FIVE: &str = "70 mm, standard lip, silent, see-through; 90 mm, deep lip, rattling, chartreuse; \
    110 mm, deep lip, silent, pearl; 130 mm, deep lip, rattling, dark; 150 mm, deep lip, silent, pearl";

fn set(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
    pairs.iter().map(|(p, v)| ((*p).to_owned(), (*v).to_owned())).collect()
}

fn axes(over: &[&str]) -> Vec<Axis> {
    let settings = paths(&Catalogue::of(&models()));
    let wish = Wish { steps: 2, logarithmic: false };
    over.iter().map(|text| Axis::parse(text, wish, &settings).expect("an axis")).collect()
}

fn sources(names: &[(&'static str, f64)]) -> Vec<Source<'static>> {
    names
        .iter()
        .map(|&(name, weight)| Source { text: library::get(name).expect("embedded"), file: name, weight })
        .collect()
}

fn drawn(
    names: &[(&'static str, f64)],
    overrides: &[(&str, &str)],
    over: &[&str],
    wanted: usize,
) -> Result<Conditions, PackError> {
    conditions(&sources(names), &set(overrides), &models(), &axes(over), wanted, BUDGET.seed)
}

fn packed(
    names: &[(&'static str, f64)],
    overrides: &[(&str, &str)],
    over: &[&str],
    carry: usize,
) -> Result<Pack, PackError> {
    let conditions = drawn(names, overrides, over, 16)?;
    let shares: Vec<f64> = names.iter().map(|n| n.1).collect();
    let request = (carry, BUDGET);
    pack(&conditions, &shares, &models(), &axes(over), request, &Control::default())
}

const LAKE: [(&str, f64); 1] = [("main-lake-point", 1.0)];
const SPREAD: [&str; 3] = ["water.secchi=0.3m..9m", "fish.depth=1m..6m", "tint=clear,clay"];

/// Mean over conditions and worlds of the best of a set, thrown knowing the condition.
fn worth(pack: &Pack, set: &[usize]) -> f64 {
    let of = |c: usize, b: usize| {
        let worlds = pack.cube.strikes(c, b).expect("worked out");
        worlds.iter().sum::<f64>() / worlds.len() as f64
    };
    let best = |c: usize| set.iter().map(|&b| of(c, b)).fold(0.0, f64::max);
    pack.conditions.iter().enumerate().map(|(c, condition)| condition.weight * best(c)).sum()
}

fn sets(n: usize, size: usize) -> impl Iterator<Item = Vec<usize>> {
    (0..1_u32 << n)
        .filter(move |s| s.count_ones() as usize == size)
        .map(move |s| (0..n).filter(|i| s >> i & 1 == 1).collect())
}

#[test]
fn the_best_set_is_brute_force() {
    let packed = packed(&LAKE, &[("box.use", FIVE)], &SPREAD, 3).expect("packed");
    assert_eq!((packed.baits.len(), packed.conditions.len()), (5, 16));
    for size in &packed.sizes {
        let brute = sets(5, size.size).map(|s| worth(&packed, &s)).fold(0.0, f64::max);
        assert!((size.best.mean - brute).abs() < ROUNDING, "{}: {} {brute}", size.size, size.best.mean);
        assert!((worth(&packed, &size.best.baits) - brute).abs() < ROUNDING && size.best.proven);
        assert!(size.greedy.mean <= brute + ROUNDING && size.greedy.mean >= 0.63 * brute);
    }
    // In every world of its own, too.
    let chosen: Vec<usize> = packed.members.iter().map(|m| m.bait).collect();
    let in_world = |d: usize, set: &[usize]| -> f64 {
        let best = |c: usize| set.iter().map(|&b| packed.cube.strikes(c, b).unwrap()[d]).fold(0.0, f64::max);
        packed.conditions.iter().enumerate().map(|(c, one)| one.weight * best(c)).sum()
    };
    let lost: Vec<f64> = (0..packed.cube.draws)
        .map(|d| sets(5, 3).map(|s| in_world(d, &s)).fold(0.0, f64::max) - in_world(d, &chosen))
        .collect();
    let mean = lost.iter().sum::<f64>() / lost.len() as f64;
    assert!((packed.mean_regret - mean).abs() < ROUNDING, "{} {mean}", packed.mean_regret);
    let best = lost.iter().filter(|l| **l <= ROUNDING).count() as f64 / lost.len() as f64;
    assert_eq!((packed.stays_best, packed.worlds_proven), (best, packed.cube.draws));
}

#[test]
fn carrying_more_never_loses_and_the_parts_add_up() {
    let packed = packed(&LAKE, &[("box.use", FIVE)], &SPREAD, 2).expect("packed");
    assert!(packed.sizes.windows(2).all(|w| w[1].best.mean >= w[0].best.mean - ROUNDING));
    for pair in packed.sizes.windows(2) {
        assert!((pair[1].mean_adds - (pair[1].best.mean - pair[0].best.mean)).abs() < ROUNDING);
    }
    let chosen = packed.chosen().expect("chosen");
    let all: Vec<usize> = (0..5).collect();
    assert!((packed.mean_whole_box_adds - (worth(&packed, &all) - chosen.best.mean)).abs() < ROUNDING);
    assert!(packed.mean_whole_box_adds >= -ROUNDING && packed.regret.low >= 0.0);
    let thrown: f64 = packed.members.iter().map(|m| m.thrown).sum();
    assert!((thrown - 1.0).abs() < ROUNDING);
    assert!((packed.conditions.iter().map(|c| c.weight).sum::<f64>() - 1.0).abs() < ROUNDING);
    for m in &packed.members {
        assert!(m.without > 0.0, "a carried bait is the best somewhere");
        let (b, loss) = m.substitute.expect("five baits, two carried");
        let swapped: Vec<usize> =
            packed.members.iter().map(|o| if o.bait == m.bait { b } else { o.bait }).collect();
        assert!((loss - (chosen.best.mean - worth(&packed, &swapped))).abs() < ROUNDING && loss >= -ROUNDING);
        assert!(loss <= m.without + ROUNDING, "a substitute is no worse than none");
    }
    assert!(
        packed.inclusion.iter().all(|s| (0.0..=1.0).contains(s)) && packed.stays_best <= packed.nearly_best
    );
}

#[test]
fn one_condition_needs_one_bait() {
    let packed = packed(&LAKE, &[("box.use", FIVE)], &[], 3).expect("packed");
    assert_eq!(packed.conditions.len(), 1);
    let chosen = packed.chosen().expect("chosen");
    assert_eq!(chosen.best.baits.len(), 1, "no second bait is the best in the one condition");
    let table = Strikes::of(
        &models(),
        &[setting_of("main-lake-point", &[("box.use", FIVE)])],
        BUDGET,
        &Control::default(),
    )
    .expect("complete");
    for b in 0..5 {
        let odds: Vec<f64> = (0..table.draws()).map(|d| 100.0 * table.struck()[(0, b, d)]).collect();
        assert_eq!(packed.cube.strikes(0, b), Some(odds.as_slice()), "the same bits as odds has");
    }
    assert!(packed.sizes.iter().skip(1).all(|s| s.mean_adds.abs() < ROUNDING));
}

#[test]
fn every_box_is_in_the_choice_and_weights_are_ratios() {
    let two = [("main-lake-point", 2.0), ("clay-after-rain", 1.0)];
    let both = packed(&two, &[], &[], 2).expect("packed");
    let boxes: Vec<usize> =
        ["main-lake-point", "clay-after-rain"].iter().map(|n| setting_of(n, &[]).baits.len()).collect();
    assert!(both.baits.len() > boxes[0] && both.baits.len() <= boxes[0] + boxes[1]);
    let shares: Vec<f64> = both.sources.iter().map(|s| s.1).collect();
    assert!(
        (shares[0] - 2.0 / 3.0).abs() < ROUNDING && (both.conditions[1].weight - 1.0 / 3.0).abs() < ROUNDING
    );
    let scaled =
        packed(&[("main-lake-point", 20.0), ("clay-after-rain", 10.0)], &[], &[], 2).expect("packed");
    assert!((both.chosen().unwrap().best.mean - scaled.chosen().unwrap().best.mean).abs() < ROUNDING);
    // A scenario that counts nearly nothing leaves the choice to the other.
    let alone = packed(&[("clay-after-rain", 1.0)], &[], &[], 1).expect("packed");
    let nearly = packed(&[("main-lake-point", 1e-9), ("clay-after-rain", 1.0)], &[], &[], 1).expect("packed");
    let name = |p: &Pack| p.baits[p.members[0].bait].clone();
    assert_eq!(name(&alone), name(&nearly));
}

#[test]
fn a_spread_is_even_within_its_ends_and_the_same_for_a_seed() {
    let over = [
        "water.secchi=0.5m..8m",
        "fish.depth=2m..4m",
        "tint=clear,clay,algae-green,tea-stained",
        "hour=5..21",
    ];
    let spread = drawn(&LAKE, &[], &over, 64).expect("possible");
    assert_eq!(spread.list.len(), 64);
    for (k, (low, high)) in [(0, (0.5, 8.0)), (1, (2.0, 4.0)), (2, (0.0, 3.0)), (3, (5.0, 21.0))] {
        let values: Vec<f64> = spread.list.iter().map(|c| c.values[k]).collect();
        assert!(values.iter().all(|v| *v >= low && *v <= high), "{k}: {values:?}");
        // Scrambled Sobol points: every sample of 16 has four in each quarter; clarity counts in ratios.
        for quarter in 0..4 {
            let ends = |q: f64| match k {
                0 => low * (high / low).powf(q / 4.0),
                2 => q - 0.5,
                _ => low + (high - low) * q / 4.0,
            };
            let (a, b) = (ends(f64::from(quarter)), ends(f64::from(quarter + 1)));
            assert_eq!(
                values.iter().filter(|v| **v >= a && **v < b).count(),
                16,
                "axis {k}, quarter {quarter}"
            );
        }
    }
    assert_eq!(drawn(&LAKE, &[], &over, 64).expect("possible").list, spread.list);
    assert_eq!(spread.scenarios[0].fish.depth_m, spread.list[0].values[1]);
    let other =
        conditions(&sources(&LAKE), &[], &models(), &axes(&over), 64, BUDGET.seed + 1).expect("possible");
    assert_ne!(other.list, spread.list);
    // Several scenarios see the same spread.
    let two = drawn(&[("main-lake-point", 1.0), ("winter-bluff", 3.0)], &[], &["sky.cloud=0..1"], 64)
        .expect("possible");
    let of = |s: usize| {
        two.list.iter().filter(move |c| c.source == s).map(|c| c.values.clone()).collect::<Vec<_>>()
    };
    assert_eq!((of(0), of(0).len()), (of(1), 32));
}

#[test]
fn the_usual_spread_is_possible_everywhere() {
    let settings = paths(&Catalogue::of(&models()));
    for (name, _) in library::list() {
        let scenario = crate::common::scenario_of(name, &[]);
        let wish = Wish { steps: 2, logarithmic: false };
        let axes: Vec<Axis> = usual_spread(&scenario)
            .iter()
            .map(|text| Axis::parse(text, wish, &settings).unwrap_or_else(|e| panic!("{name}: {e}")))
            .collect();
        let drawn = conditions(&sources(&[(name, 1.0)]), &[], &models(), &axes, 16, 1);
        assert_eq!(drawn.unwrap_or_else(|e| panic!("{name}: {e}")).list.len(), 16);
    }
}

#[test]
fn the_same_seed_gives_the_same_bits() {
    let one = || packed(&LAKE, &[("box.use", FIVE)], &SPREAD, 2).expect("packed");
    assert_eq!(one(), one());
}

#[test]
fn what_cannot_be_packed_is_refused() {
    assert!(matches!(drawn(&LAKE, &[], &["bait.length=80mm..120mm"], 16), Err(PackError::BaitAxis { .. })));
    assert!(matches!(
        drawn(&LAKE, &[], &["sky.cloud=0..1", "cloud=0..0.5"], 16),
        Err(PackError::Twice { .. })
    ));
    assert!(matches!(drawn(&LAKE, &[], &["depth=1m..30m"], 16), Err(PackError::Faults { .. })));
    assert!(matches!(drawn(&LAKE, &[], &["sky.cloud=0..1"], 2048), Err(PackError::TooMany { .. })));
    for carry in [0, 6] {
        let refused = packed(&LAKE, &[("box.use", FIVE)], &[], carry);
        assert!(matches!(refused, Err(PackError::Carry { baits: 5, .. })), "{refused:?}");
    }
    // One name, two baits.
    let own = |length: &str| {
        let text = library::get("main-lake-point").expect("embedded");
        format!(
            "{text}\n[[box.bait]]\nname = \"old\"\nlike = \"90 mm, standard lip, silent\"\nlength = \"{length}\"\n"
        )
    };
    let (a, b) = (own("80 mm"), own("85 mm"));
    let two =
        [Source { text: &a, file: "a.toml", weight: 1.0 }, Source { text: &b, file: "b.toml", weight: 1.0 }];
    let clash = conditions(&two, &[], &models(), &[], 16, 1);
    assert!(
        matches!(&clash, Err(PackError::TwoBaits { name, first, .. }) if name == "old" && first == "a.toml")
    );
    let control = Control::default();
    control.stop();
    let all = drawn(&LAKE, &[], &[], 16).expect("possible");
    let request = (1, BUDGET);
    assert_eq!(pack(&all, &[1.0], &models(), &[], request, &control), Err(PackError::Stopped));
    let request = (1, Budget { worlds: 65_536, ..BUDGET });
    let many = drawn(&LAKE, &[], &["sky.cloud=0..1"], 64).expect("possible");
    let refused = pack(&many, &[1.0], &models(), &[], request, &Control::default());
    assert!(matches!(refused, Err(PackError::TooLarge { .. })));
}
