use super::{SIMULATED_CRITICAL, close, generator, normal, table};
use callup::statistics::Confidence;
use callup::statistics::ranking::Comparison;
use ndarray::Array2;

const NINETY_FIVE: Confidence = Confidence::NINETY_FIVE;
const DRAWS: usize = 200_000;

#[test]
fn eight_baits_of_two_thousand_casts() {
    let rows = table("rank_sets");
    let rates: Vec<f64> = rows.iter().map(|r| r.number("x") / r.number("n")).collect();
    let variances: Vec<f64> = rows.iter().zip(&rates).map(|(r, p)| p * (1.0 - p) / r.number("n")).collect();
    let covariance = Array2::from_diag(&ndarray::Array1::from(variances));
    let comparison = Comparison::new(rates, covariance).unwrap();
    let best = comparison.against_best(NINETY_FIVE, DRAWS, &mut generator(4)).unwrap();
    for (i, row) in rows.iter().enumerate() {
        assert_eq!(best[i].could_be_best.to_string(), row.text("could_be_best"), "{}", row.text("bait"));
        let critical = row.number("critical_against_best");
        close(best[i].critical, critical, SIMULATED_CRITICAL, row.text("bait"));
    }
}

/// True values with ties; errors that rise and fall together.
const TRUTH: [f64; 6] = [0.10, 0.10, 0.10, 0.08, 0.06, 0.02];
const COMMON_SD: f64 = 0.02;
const OWN_SD: f64 = 0.006;

/// Errors of six alternatives: one part shared, one part each its own.
fn with_errors(rng: &mut impl rand::Rng) -> Vec<f64> {
    let common = COMMON_SD * normal(rng);
    TRUTH.iter().map(|t| t + common + OWN_SD * normal(rng)).collect()
}

/// How often, of `REPEATS`, one of the three true best was left out, and how often the last was.
fn left_out(mut comparison: impl FnMut() -> Comparison, rng: &mut impl rand::Rng) -> (usize, usize) {
    let (mut missed, mut last) = (0, 0);
    for _ in 0..REPEATS {
        let best = comparison().against_best(NINETY_FIVE, 1_000, rng).unwrap();
        missed += usize::from(!best[..3].iter().all(|b| b.could_be_best));
        last += usize::from(!best[5].could_be_best);
    }
    (missed, last)
}

const REPEATS: usize = 400;
/// Each true best is left out 20 times or fewer on average; more than 37 (four standard deviations) has a chance
/// near 1e-4. Three are asked for together.
const MOST_MISSED: usize = 3 * 37;

/// The set must also say something: the shared error is as large as the gap to the last, and only the covariance
/// reveals that the last is not the best.
#[test]
fn the_true_best_are_among_those_that_could_be_at_the_stated_rate() {
    let covariance = Array2::from_shape_fn((6, 6), |(i, j)| {
        COMMON_SD * COMMON_SD + if i == j { OWN_SD * OWN_SD } else { 0.0 }
    });
    let mut errors = generator(5);
    let draw = || Comparison::new(with_errors(&mut errors), covariance.clone()).unwrap();
    let (missed, last) = left_out(draw, &mut generator(9));
    assert!(missed <= MOST_MISSED, "{missed} of {REPEATS} left out a true best");
    assert!(last >= 390, "{last}");
}

/// The same with the covariance estimated from 16 replicates (Student's t comes in), and from 4, where the
/// Bonferroni bound must take over.
#[test]
fn they_are_from_replicates_too() {
    for replicates in [16, 4] {
        let mut errors = generator(6);
        let draw = || {
            let mut table = Array2::zeros((replicates, 6));
            for mut row in table.rows_mut() {
                // Each replicate is noisier, so that the mean has the same error as above.
                let scale = (replicates as f64).sqrt();
                for (cell, (v, t)) in row.iter_mut().zip(with_errors(&mut errors).iter().zip(TRUTH)) {
                    *cell = t + scale * (v - t);
                }
            }
            Comparison::from_replicates(table.view()).unwrap()
        };
        let (missed, last) = left_out(draw, &mut generator(10));
        assert!(missed <= MOST_MISSED, "{replicates} replicates: {missed} of {REPEATS} missed");
        assert!(last >= if replicates == 16 { 390 } else { 200 }, "{replicates}: {last}");
    }
}
