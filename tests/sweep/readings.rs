//! What is read from cubes made up so that the answer is known.

use callup::models::Models;
use callup::scenario::{Catalogue, paths};
use callup::study::axis::{Axis, Wish};
use callup::study::sweep::Cube;
use callup::study::sweep::reading::{Answer, Stretch, difference, flips, read, shares, stretches};

/// Rounding of sums and products of a few numbers.
const ROUNDING: f64 = 1e-9;
const DRAWS: usize = 64;

fn axis(text: &str) -> Axis {
    let settings = paths(&Catalogue::of(&Models::embedded().expect("embedded")));
    Axis::parse(text, Wish { steps: 5, logarithmic: false }, &settings).unwrap_or_else(|e| panic!("{e}"))
}

/// A cube whose strikes are a function of place along the first axis, bait and world.
fn cube(over: &str, baits: usize, strikes: impl Fn(f64, usize, usize) -> f64) -> Cube {
    let axis = axis(over);
    let cells = axis
        .numbers()
        .iter()
        .map(|&x| Some((0..baits * DRAWS).map(|k| strikes(x, k / DRAWS, k % DRAWS)).collect()))
        .collect();
    Cube {
        axes: vec![axis],
        baits: (0..baits).map(|b| format!("bait {b}")).collect(),
        draws: DRAWS,
        per_scramble: 8,
        cells,
    }
}

/// Straight lines cross where they cross: 12 - 2 x against 2 + x at x = 10/3, on the grid or off it.
#[test]
fn the_lead_changes_where_the_medians_cross() {
    for steps in [5, 8, 17] {
        let cube = cube(
            &format!("depth=1..5m:{steps}lin"),
            2,
            |x, b, _| if b == 0 { 12.0 - 2.0 * x } else { 2.0 + x },
        );
        let answer = Answer::of(cube, None);
        assert_eq!(answer.flips.len(), 1, "{:?}", answer.flips);
        let flip = answer.flips[0];
        assert_eq!((flip.from, flip.to, flip.flips_in), (0, 1, 1.0));
        // Linear between steps, so interpolation is exact.
        assert!((flip.at - 10.0 / 3.0).abs() < ROUNDING, "{}", flip.at);
    }
}

/// On an axis of equal ratios the crossing of 8 - log2 x against 4 + log2 x lies at x = 4.
#[test]
fn a_crossing_between_equal_ratios_is_found_on_their_scale() {
    let cube =
        cube("clarity=0.5..20m:6log", 2, |x, b, _| if b == 0 { 8.0 - x.log2() } else { 4.0 + x.log2() });
    let answer = Answer::of(cube, None);
    assert_eq!(answer.flips.len(), 1);
    assert!((answer.flips[0].at - 4.0).abs() < 1e-6, "{}", answer.flips[0].at);
}

/// In three worlds of four the second bait gains along the axis, in the others it does not.
#[test]
fn the_share_of_worlds_that_flip_is_counted() {
    let turns = |d: usize| !d.is_multiple_of(4);
    let cube = cube("depth=1..5m:9lin", 2, |x, b, d| match (b, turns(d)) {
        (0, _) => 10.0,
        (_, true) => 4.0 * x,
        (_, false) => 2.0,
    });
    let answer = Answer::of(cube, None);
    assert_eq!(answer.flips.len(), 1);
    assert_eq!(answer.flips[0].flips_in, 0.75);
    assert!((answer.flips[0].at - 2.5).abs() < ROUNDING);
}

#[test]
fn the_leader_is_told_only_where_it_leads_often_and_it_matters() {
    // Worlds in which bait 0 is 3 ahead, of 64; else it is 2 behind.
    for (ahead, told) in [(64, true), (39, true), (38, false), (33, false)] {
        let cube = cube("depth=1..5m:2", 2, |_, b, d| match (b, d < ahead) {
            (0, true) => 8.0,
            (0, false) => 3.0,
            _ => 5.0,
        });
        let reading = read(&cube, 0).expect("there");
        assert_eq!((reading.leader, reading.told, reading.level), (0, told, false), "{ahead}");
        assert_eq!(reading.leads[0], ahead as f64 / 64.0);
    }
    // Always ahead, but by less than matters.
    for (gap, told) in [(0.99, false), (1.01, true)] {
        let cube = cube("depth=1..5m:2", 3, |_, b, _| if b == 1 { 3.0 + gap } else { 3.0 });
        let reading = read(&cube, 0).expect("there");
        assert_eq!((reading.leader, reading.told, reading.level), (1, told, !told), "{gap}");
        let apart = difference(&cube, 0, 1, 0).expect("there");
        assert_eq!((apart.told, apart.ahead), (told, 1.0));
        assert!((apart.more.point - gap).abs() < ROUNDING);
    }
    // Nothing at all, as in the dark.
    let dark = cube("depth=1..5m:2", 4, |_, _, _| 0.0);
    assert!(!read(&dark, 0).expect("there").told);
}

#[test]
fn stretches_and_shares_count_what_was_worked_out() {
    let mut cube = cube("depth=1..10m:10lin", 2, |x, b, _| match b {
        0 if x <= 3.0 => 9.0,
        0 => 5.0,
        _ if x >= 8.0 => 9.0,
        _ => 5.0,
    });
    cube.cells[1] = None;
    let readings: Vec<_> = (0..10).map(|c| read(&cube, c)).collect();
    let expected = [
        Stretch { leader: Some(0), steps: (0, 2) },
        Stretch { leader: None, steps: (3, 6) },
        Stretch { leader: Some(1), steps: (7, 9) },
    ];
    assert_eq!(stretches(&readings), expected);
    assert_eq!(shares(&readings), [(None, 4.0 / 9.0), (Some(1), 3.0 / 9.0), (Some(0), 2.0 / 9.0)]);
    // The two are level from 4 to 7 m; the second overtakes where they part.
    let flips = flips(&cube, &readings);
    assert_eq!((flips.len(), flips[0].from, flips[0].to, flips[0].at), (1, 0, 1, 7.0));
}

#[test]
fn one_bait_or_none_worked_out_is_no_trouble() {
    let mut cube = cube("depth=1..5m:3", 1, |x, _, _| x);
    assert!(read(&cube, 2).expect("there").told);
    cube.cells = vec![None; 3];
    let answer = Answer::of(cube, Some(0));
    assert!(answer.flips.is_empty() && answer.pair.is_none());
}
