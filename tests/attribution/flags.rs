//! Made-up effects whose shares and flags are known by hand.

use callup::models::{Group, Groups};
use callup::study::attribution::{Explained, Flag, Worth};
use proptest::prelude::*;

const WORLDS: usize = 32;
const PER_SCRAMBLE: usize = 4;
const DELTA: f64 = 1.0;
/// 128 terms of rounding.
const ROUNDING: f64 = 1e-12;

/// Worlds that agree on the sign and differ in size by half either way.
fn explained(effect: impl Fn(Groups) -> f64) -> Explained {
    let worths: Vec<Worth> = (0..WORLDS)
        .map(|w| {
            let size = 0.5 + w as f64 / (WORLDS - 1) as f64;
            std::array::from_fn(|set| size * effect(Groups::numbered(set)))
        })
        .collect();
    Explained::of(&worths, PER_SCRAMBLE, DELTA).expect("finite")
}

/// A sum of parts, each there if its group acts.
fn sum(parts: &'static [(Group, f64)]) -> impl Fn(Groups) -> f64 {
    move |active| parts.iter().filter(|p| active.has(p.0)).map(|p| p.1).sum()
}

fn share(e: &Explained, group: Group) -> f64 {
    e.share_of(group).share
}

#[test]
fn a_pure_restatement_names_its_group() {
    for group in [Group::Appetite, Group::Phase, Group::Wariness, Group::Size, Group::Sound] {
        let e = explained(|active| if active.has(group) { 5.0 } else { 0.0 });
        assert_eq!(e.flag, Flag::Restates(group));
        assert!((share(&e, group) - 1.0).abs() < ROUNDING);
        assert_eq!(e.carrying(), [group]);
        assert_eq!(e.without(group).per_100, 0.0);
        assert!(!e.survives_on_physics());
    }
}

#[test]
fn physics_needs_its_share_and_a_sign_that_survives() {
    let e = explained(sum(&[(Group::Optics, 3.0), (Group::Mechanics, 2.0), (Group::Wariness, 1.0)]));
    assert_eq!(e.flag, Flag::Physics);
    // 3/6 and 2/6 by hand.
    assert!((share(&e, Group::Optics) - 0.5).abs() < ROUNDING);
    assert!((share(&e, Group::Mechanics) - 1.0 / 3.0).abs() < ROUNDING);
    assert_eq!(e.carrying(), [Group::Optics, Group::Mechanics]);

    // Optics and mechanics move 9.5 of 11.5, but without the opinion about size the sign turns.
    let e = explained(sum(&[(Group::Optics, 4.5), (Group::Mechanics, -5.0), (Group::Size, 2.0)]));
    assert_eq!(e.flag, Flag::Mixed);
    assert!(!e.survives_on_physics());
    // The same with the sign kept.
    let e = explained(sum(&[(Group::Optics, 6.5), (Group::Mechanics, -5.0), (Group::Size, 1.0)]));
    assert_eq!(e.flag, Flag::Physics);

    // An effect that needs an opinion to show at all: a third each.
    let needs = Groups::PHYSICS.with(Group::Appetite);
    let e = explained(|active| if active.and(needs) == needs { 6.0 } else { 0.0 });
    assert_eq!(e.flag, Flag::Mixed);
    assert!((share(&e, Group::Appetite) - 1.0 / 3.0).abs() < ROUNDING);
    assert_eq!(e.physics_alone().per_100, 0.0);
}

#[test]
fn two_opinions_are_mixed() {
    let e = explained(sum(&[(Group::Size, 3.0), (Group::Sound, 3.0)]));
    assert_eq!(e.flag, Flag::Mixed);
    assert_eq!(e.carrying(), [Group::Size, Group::Sound]);
}

#[test]
fn groups_that_pull_apart_are_told_with_their_signs() {
    let e = explained(sum(&[(Group::Optics, 5.0), (Group::Size, -3.0)]));
    assert_eq!(e.flag, Flag::Mixed);
    assert!((share(&e, Group::Optics) - 5.0 / 8.0).abs() < ROUNDING);
    assert!((share(&e, Group::Size) + 3.0 / 8.0).abs() < ROUNDING);

    // The sides swapped: every effect turns its sign; what works for the sign of the effect stays.
    let swapped = explained(sum(&[(Group::Optics, -5.0), (Group::Size, 3.0)]));
    assert_eq!(swapped.flag, e.flag);
    for group in Group::ALL {
        assert!((share(&swapped, group) - share(&e, group)).abs() < ROUNDING);
        assert!((swapped.share_of(group).per_100 + e.share_of(group).per_100).abs() < ROUNDING);
    }
}

#[test]
fn nothing_to_explain() {
    // Smaller than what matters.
    let e = explained(sum(&[(Group::Size, 0.9)]));
    assert_eq!((e.flag, e.cancels()), (Flag::NoDifference, false));
    assert!(e.carrying().is_empty());
    // None at all.
    let e = explained(|_| 0.0);
    assert_eq!((e.flag, e.total().per_100), (Flag::NoDifference, 0.0));
    assert!(e.shares.iter().all(|s| s.share == 0.0));
    // Two that cancel: told, because either alone would matter.
    let e = explained(sum(&[(Group::Optics, 5.0), (Group::Size, -5.0)]));
    assert_eq!((e.flag, e.cancels()), (Flag::NoDifference, true));

    // Large on average but within the luck of the simulation: scrambles of +30 and -20 in turn have the mean 5 and
    // the standard error 25 sqrt(8/7)/sqrt(8) = 9.449 by hand.
    let worths: Vec<Worth> = (0..WORLDS)
        .map(|w| {
            let value = if (w / PER_SCRAMBLE).is_multiple_of(2) { 30.0 } else { -20.0 };
            std::array::from_fn(|set| if Groups::numbered(set).has(Group::Sound) { value } else { 0.0 })
        })
        .collect();
    let e = Explained::of(&worths, PER_SCRAMBLE, DELTA).expect("finite");
    assert_eq!(e.flag, Flag::NoDifference);
    assert!((e.total().per_100 - 5.0).abs() < ROUNDING);
    for se in [e.total().simulation_se, e.share_of(Group::Sound).simulation_se] {
        assert!((se - 9.449_111_825).abs() < 1e-8, "{se}");
    }
    assert_eq!(e.total().sign_held, 0.5);
}

#[test]
fn bad_effects_are_refused() {
    assert!(Explained::of(&[], 4, DELTA).is_err());
    assert!(Explained::of(&[[f64::NAN; Groups::COUNT]], 4, DELTA).is_err());
    // No scramble size is no reason to panic.
    assert!(Explained::of(&[[0.0; Groups::COUNT]], 0, DELTA).is_ok());
}

/// Any effects of the sets of groups, the empty one 0.
fn any_effects() -> impl Strategy<Value = Vec<f64>> {
    proptest::collection::vec(-20.0..20.0_f64, Groups::COUNT).prop_map(|mut v| {
        v[0] = 0.0;
        v
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn shares_add_to_the_effect(effects in any_effects()) {
        let e = explained(|active| effects[active.number()]);
        let together: f64 = e.shares.iter().map(|s| s.per_100).sum();
        prop_assert!((together - e.total().per_100).abs() < 100.0 * ROUNDING);
        let absolute: f64 = e.shares.iter().map(|s| s.share.abs()).sum();
        prop_assert!((absolute - 1.0).abs() < ROUNDING);
        // Those that work for the sign outweigh those against it.
        prop_assert!(e.shares.iter().map(|s| s.share).sum::<f64>() >= 0.0);
    }

    #[test]
    fn groups_that_do_the_same_get_the_same(effects in any_effects(), i in 0..7_usize, j in 0..7_usize) {
        let (i, j) = (Group::ALL[i], Group::ALL[j]);
        let swap = |set: Groups| -> Groups {
            let turned = |g| if g == i { j } else if g == j { i } else { g };
            Group::ALL.into_iter().filter(|g| set.has(*g)).map(turned).collect()
        };
        // Made symmetric in i and j.
        let e = explained(|set| effects[set.number()] + effects[swap(set).number()]);
        prop_assert!((e.share_of(i).per_100 - e.share_of(j).per_100).abs() < 100.0 * ROUNDING);
    }

    #[test]
    fn a_group_that_changes_nothing_gets_nothing(effects in any_effects(), i in 0..7_usize) {
        let idle = Group::ALL[i];
        let e = explained(|set| effects[set.and(Groups::NONE.with(idle).others()).number()]);
        prop_assert!(e.share_of(idle).per_100.abs() < ROUNDING);
    }
}
