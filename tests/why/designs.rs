//! Functions with known indices, through the same designs and reductions that `why` uses.

use crate::reference::{number, table};
use callup::maths::special::normal_cdf;
use callup::random::{Purpose, stream};
use callup::statistics::sensitivity::IndexEstimate;
use callup::study::why::design::{Design, Site, index_estimates};
use rand::RngExt;
use std::convert::Infallible;
use std::f64::consts::PI;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Standard errors by which an estimate may miss: with seven degrees of freedom or more a correct program fails at
/// another seed with a chance below 3e-3 for each number.
const MISS: f64 = 4.5;
/// Scrambles and rows of most designs here.
const SIZE: (usize, usize) = (8, 512);

fn estimate(
    names: &[Option<&str>],
    inputs: &[Vec<usize>],
    (scrambles, rows): (usize, usize),
    f: impl Fn(&Site) -> f64 + Sync + Send,
) -> Vec<IndexEstimate> {
    let design = Design::new(11, names, rows, scrambles);
    let points = AtomicUsize::new(0);
    let model = |sites: &[Site]| {
        points.fetch_add(sites.len(), Ordering::Relaxed);
        Ok::<_, Infallible>(sites.iter().map(|site| vec![f(site)]).collect())
    };
    let halves = design.halves(model).expect("no error");
    let mixed = design.mixed(inputs, model).expect("no error");
    assert_eq!(points.into_inner(), rows * scrambles * (2 + inputs.len() + 1));
    index_estimates(&halves, &mixed, |o| o[0], |o| o[0]).expect("indices")
}

fn each(count: usize) -> Vec<Vec<usize>> {
    (0..count).map(|d| vec![d]).collect()
}

#[track_caller]
fn near(what: &str, got: &IndexEstimate, first: f64, total: f64, largest_se: f64) {
    for (kind, got, wanted) in [("first", got.first, first), ("total", got.total, total)] {
        assert!(got.se < largest_se, "{what}, {kind}: error {}", got.se);
        let miss = (got.mean - wanted).abs();
        assert!(miss <= MISS * got.se + 1e-12, "{what}, {kind}: {} +- {}, not {wanted}", got.mean, got.se);
    }
}

/// A standard normal value that only the number of the luck decides.
fn luck(number: usize) -> f64 {
    let mut rng = stream(3, Purpose::Resample, number as u64);
    (0..12).map(|_| rng.random::<f64>()).sum::<f64>() - 6.0
}

/// Every column has a scramble of its own, so its error is larger than that of one sequence for all (0.008 for a
/// scramble of 1024 points); that of 16 such scrambles together must stay below it.
#[test]
fn ishigami_through_the_design_of_why() {
    let names = [Some("one"), Some("two"), Some("three"), Some("idle")];
    let found = estimate(&names, &each(4), (16, 1024), |site| {
        let x: Vec<f64> = site.scores.iter().map(|z| PI * (2.0 * normal_cdf(*z) - 1.0)).collect();
        let (s1, s2) = (x[0].sin(), x[1].sin());
        s1 + 7.0 * s2 * s2 + 0.1 * x[2].powi(4) * s1
    });
    for (row, got) in table("ishigami").iter().zip(&found) {
        near(&row["variable"], got, number(row, "first"), number(row, "total"), 0.015);
    }
    // Neither the idle coordinate nor the luck has a hand in it, to the last bit.
    assert_eq!((found[3].total.mean, found[4].total.mean), (0.0, 0.0));
    assert!(found[..3].iter().all(|i| i.stands_out_from(&found[4], 2.0)));
}

/// a z0 + b z1 + c z2: each index is the square of its factor over the sum of all.
#[test]
fn an_additive_model_has_the_shares_of_its_variances() {
    let names = [Some("a"), Some("b"), Some("c")];
    let found = estimate(&names, &each(3), SIZE, |s| 3.0 * s.scores[0] + 2.0 * s.scores[1] + s.scores[2]);
    for (got, share) in found.iter().zip([9.0 / 14.0, 4.0 / 14.0, 1.0 / 14.0]) {
        near("additive", got, share, share, 0.02);
    }
}

/// z0 z1 + z2: neither of the first two does anything alone, both together have half of the spread.
#[test]
fn coordinates_that_move_together_are_one_input() {
    let names = [Some("a"), Some("b"), Some("c")];
    let inputs = [vec![0, 1], vec![2], vec![0], vec![1]];
    let found = estimate(&names, &inputs, SIZE, |s| s.scores[0] * s.scores[1] + s.scores[2]);
    near("both", &found[0], 0.5, 0.5, 0.04);
    near("the other", &found[1], 0.5, 0.5, 0.04);
    near("one of two", &found[2], 0.0, 0.5, 0.04);
    near("one of two", &found[3], 0.0, 0.5, 0.04);
}

/// z0 + 0.3 noise: the luck has 0.09 of 1.09, and an input that is smaller than that is not told from it.
#[test]
fn luck_is_the_floor() {
    let names = [Some("a"), Some("small"), Some("idle")];
    let found = estimate(&names, &each(3), SIZE, |s| s.scores[0] + 0.1 * s.scores[1] + 0.3 * luck(s.luck));
    let all = 1.0 + 0.01 + 0.09;
    near("driver", &found[0], 1.0 / all, 1.0 / all, 0.04);
    near("small", &found[1], 0.01 / all, 0.01 / all, 0.04);
    near("luck", &found[3], 0.09 / all, 0.09 / all, 0.04);
    assert_eq!(found[2].total.mean, 0.0);
    let told: Vec<bool> = found[..3].iter().map(|i| i.stands_out_from(&found[3], 2.4)).collect();
    assert_eq!(told, [true, false, false]);
}

/// What moves nothing has no index; what does not vary has no score.
#[test]
fn a_constant_has_no_indices() {
    let found = estimate(&[Some("a"), None], &each(2), (2, 4), |s| {
        assert_eq!(s.scores[1], 0.0);
        7.0
    });
    assert!(found.iter().all(|i| i.total.mean == 0.0 && i.first.mean == 0.0));
}

/// The score of a name is its own: others may come, go or change places.
#[test]
fn scores_depend_on_the_name_alone() {
    let few = Design::new(4, &[Some("sight"), Some("hunger")], 64, 8);
    let many = Design::new(4, &[Some("new"), None, Some("hunger"), Some("sight")], 64, 8);
    for (scramble, row) in [(0, 0), (3, 17), (7, 63)] {
        for half in [0, 1] {
            assert_eq!(few.score(scramble, row, 0, half), many.score(scramble, row, 3, half));
            assert_eq!(few.score(scramble, row, 1, half), many.score(scramble, row, 2, half));
        }
        assert_ne!(few.score(scramble, row, 0, 0), few.score(scramble, row, 0, 1));
        assert_ne!(few.score(scramble, row, 0, 0), few.score(scramble, row, 1, 0));
    }
    assert_ne!(few.score(0, 5, 0, 0), Design::new(5, &[Some("sight")], 64, 8).score(0, 5, 0, 0));
}

/// The halves of a coordinate are uniform together: every cell of an 8 by 8 grid holds one of 64 points.
#[test]
fn the_two_halves_fill_the_square_evenly() {
    let design = Design::new(1, &[Some("sight")], 64, 2);
    let cell = |row: usize, half: usize| (8.0 * normal_cdf(design.score(1, row, 0, half))) as usize;
    let mut seen = [0; 64];
    (0..64).for_each(|row| seen[8 * cell(row, 0) + cell(row, 1)] += 1);
    assert_eq!(seen, [1; 64]);
}

/// A stop leaves whole scrambles; none may be counted that is not finished.
#[test]
fn a_stop_keeps_whole_scrambles() {
    let design = Design::new(1, &[Some("a")], 32, 8);
    let done = AtomicUsize::new(0);
    // Stopped in the middle of the fourth scramble: half of its points are missing.
    let model = |sites: &[Site]| {
        let whole = done.fetch_add(1, Ordering::Relaxed) < 3;
        let kept = if whole { sites.len() } else { sites.len() / 2 };
        Ok::<_, Infallible>(sites[..kept].iter().map(|site| site.scores.clone()).collect())
    };
    let halves = design.halves(model).expect("no error");
    assert_eq!(halves.len(), 3);
    assert!(halves.iter().all(|s| s.len() == 32));
}

/// An error of the model comes through.
#[test]
fn an_error_of_the_model_ends_the_work() {
    let design = Design::new(1, &[Some("a")], 4, 2);
    let failed = design.halves(|_| Err::<Vec<Vec<f64>>, _>("no"));
    assert_eq!(failed, Err("no"));
}
