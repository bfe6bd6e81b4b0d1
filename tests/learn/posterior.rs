//! Posteriors that are known otherwise, and what must not matter.

use super::toy::{Toy, as_passes, open_pair, parameter, plain_pair};
use callup::maths::special::normal_cdf;
use callup::models::Spread;
use callup::study::learn::counts::Counts;
use callup::study::learn::sampler::{Fit, FitError, PlainDraws, fit};
use callup::study::learn::surrogate::Pair;
use statrs::distribution::{Beta, ContinuousCDF};
use std::path::Path;

fn table(name: &str) -> Vec<csv::StringRecord> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/reference/{name}.csv"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).expect("reference table");
    reader.records().map(|r| r.expect("row")).collect()
}

fn numbers(row: &csv::StringRecord) -> Vec<f64> {
    row.iter().filter_map(|v| v.parse().ok()).collect()
}

/// Weighted mean and standard deviation of a function of the worlds' scores.
fn moments(fit: &Fit, of: impl Fn(&[f64]) -> f64) -> (f64, f64) {
    let mean: f64 = fit.worlds.iter().map(|w| w.weight * of(&w.scores)).sum();
    let square: f64 = fit.worlds.iter().map(|w| w.weight * (of(&w.scores) - mean).powi(2)).sum();
    (mean, square.sqrt())
}

/// Means may be off by this many standard errors of the effective sample: a false alarm in 16 000 for each.
const STANDARD_ERRORS: f64 = 4.0;
/// Standard deviations may be off by 5 %: about four standard errors at 3000 effective worlds.
const SD_TOLERANCE: f64 = 0.05;

#[test]
fn the_posterior_of_a_known_log_is_found() {
    let rows: Vec<Vec<f64>> = table("catch_log").iter().map(numbers).collect();
    let known: Vec<Vec<f64>> = table("catch_log_posterior").iter().map(numbers).collect();
    let evidence: Vec<f64> = table("catch_log_fit").iter().map(|r| r[1].parse().expect("number")).collect();
    let prior: Vec<(f64, f64)> = known.iter().map(|k| (k[0], k[1])).collect();
    let theta = |z: &[f64]| -> Vec<f64> { z.iter().zip(&prior).map(|(z, (m, s))| m + s * z).collect() };
    let chance = |t: &[f64], row: &[f64]| {
        let (s, r) = ((t[0] + t[1] * row[0]).exp(), (t[2] + t[3] * row[1]).exp());
        s / (s + r) * -(-(s + r)).exp_m1()
    };
    let model = Toy::new(4, |z| rows.iter().map(|row| as_passes(chance(&theta(z), row))).collect());
    let counts = Counts::of(rows.iter().enumerate().map(|(i, r)| (0, i, r[2] as u32, r[3] as u32)));
    let [per_cast, day_spread] = plain_pair();
    let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };

    // The likelihood at the maximum, to the digits given.
    let most_likely: Vec<f64> = known.iter().map(|k| k[5]).collect();
    let rates: Vec<f64> = rows.iter().map(|row| as_passes(chance(&most_likely, row))).collect();
    assert!((counts.ln_likelihood(&rates, 0.0) - evidence[0]).abs() < 1e-9);

    let plain = PlainDraws::new(&model, 1, 4096).unwrap();
    let fit = fit(&model, &counts, pair, &plain, 1).unwrap();
    assert!(fit.k_hat < 0.5 && fit.effective > 2000.0, "{} {}", fit.k_hat, fit.effective);
    for (i, k) in known.iter().enumerate() {
        let (mean, sd) = moments(&fit, |z| theta(z)[i]);
        let error = STANDARD_ERRORS * k[3] / fit.effective.sqrt();
        assert!((mean - k[2]).abs() < error, "t{i}: mean {mean}, known {}", k[2]);
        assert!((sd / k[3] - 1.0).abs() < SD_TOLERANCE, "t{i}: sd {sd}, known {}", k[3]);
        let contraction = 1.0 - (sd / k[1]).powi(2);
        // Twice the tolerance of the standard deviation, on what is left.
        assert!((contraction - k[4]).abs() < 2.0 * SD_TOLERANCE, "t{i}: {contraction}, known {}", k[4]);
    }
    // ln of a mean over draws: its standard error is 1/sqrt(effective).
    let error = STANDARD_ERRORS / fit.effective.sqrt();
    assert!((fit.ln_evidence - evidence[1]).abs() < error, "{} {}", fit.ln_evidence, evidence[1]);
}

/// One rate with a beta prior: the posterior is a beta distribution.
#[test]
fn a_conjugate_log_gives_its_beta_distribution() {
    for (casts, strikes) in [(12, 0), (40, 3), (400, 36)] {
        let (a, b) = (1.5, 14.0);
        let prior = Beta::new(a, b).unwrap();
        let rate = move |z: f64| prior.inverse_cdf(normal_cdf(z));
        let model = Toy::new(3, move |z| vec![as_passes(rate(z[1]))]);
        let counts = Counts::of([(0, 0, casts, strikes)]);
        let [per_cast, day_spread] = plain_pair();
        let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };
        let plain = PlainDraws::new(&model, 2, 2048).unwrap();
        let fit = fit(&model, &counts, pair, &plain, 2).unwrap();
        let (a, b) = (a + f64::from(strikes), b + f64::from(casts - strikes));
        let (mean, sd) = moments(&fit, |z| rate(z[1]));
        let known = (a / (a + b), (a * b / ((a + b) * (a + b) * (a + b + 1.0))).sqrt());
        assert!(
            (mean - known.0).abs() < STANDARD_ERRORS * known.1 / fit.effective.sqrt(),
            "{mean} {known:?}"
        );
        assert!((sd / known.1 - 1.0).abs() < 0.08, "{casts}/{strikes}: {sd} {known:?}");
        // What the log does not touch stays as it was.
        let (mean, sd) = moments(&fit, |z| z[0]);
        assert!(mean.abs() < STANDARD_ERRORS / fit.effective.sqrt() && (sd - 1.0).abs() < 0.1, "{mean} {sd}");
    }
}

/// Passes per cast alone unknown, days alike: the posterior by a fine sum over its score.
#[test]
fn the_level_is_learnt_as_a_fine_sum_says() {
    let per_cast = parameter("pass.per_cast", Spread::Lognormal, [0.03, 0.3, 3.0]);
    let [_, day_spread] = plain_pair();
    let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };
    let model = Toy::new(2, |_| vec![0.15]);
    let counts = Counts::of([(0, 0, 60, 2), (3, 0, 50, 1)]);
    let plain = PlainDraws::new(&model, 3, 1024).unwrap();
    let fit = fit(&model, &counts, pair, &plain, 3).unwrap();
    let mean: f64 = fit.particles().map(|(_, p, w)| w * p.per_cast).sum();
    let (mut norm, mut first) = (0.0, 0.0);
    for k in -8000..=8000 {
        let z = f64::from(k) * 1e-3;
        let weight = (counts.ln_likelihood(&[0.15 * per_cast.from_normal(z)], 0.0) - 0.5 * z * z).exp();
        norm += weight;
        first += weight * z;
    }
    // Four draws in each of 2048 worlds of one kind: the error is far below 4/sqrt(2048) of an sd below 1.
    assert!((mean - first / norm).abs() < 0.03, "{mean} {}", first / norm);
}

#[test]
fn the_order_of_rows_and_the_splitting_of_casts_do_not_matter() {
    let [per_cast, day_spread] = open_pair();
    let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };
    let model = Toy::new(4, |z| vec![0.1 * (0.6 * z[0]).exp().min(5.0), 0.1 * (0.6 * z[1]).exp().min(5.0)]);
    let plain = PlainDraws::new(&model, 4, 512).unwrap();
    let rows = [(5, 0, 10, 2), (5, 1, 12, 0), (9, 1, 30, 3), (2, 0, 4, 0)];
    let whole = fit(&model, &Counts::of(rows), pair, &plain, 4).unwrap();
    let other = [(2, 0, 4, 0), (9, 1, 30, 3), (5, 0, 5, 2), (5, 1, 12, 0), (5, 0, 5, 0)];
    assert_eq!(whole, fit(&model, &Counts::of(other), pair, &plain, 4).unwrap());
}

#[test]
fn a_log_without_casts_leaves_the_plain_worlds() {
    let [per_cast, day_spread] = open_pair();
    let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };
    let model = Toy::new(2, |z| vec![0.1 * (0.3 * z[0]).exp().min(5.0)]);
    let plain = PlainDraws::new(&model, 5, 512).unwrap();
    let fit = fit(&model, &Counts::of([(0, 0, 0, 0)]), pair, &plain, 5).unwrap();
    assert_eq!((fit.worlds.len(), fit.effective), (512, 512.0));
    assert!(fit.worlds.iter().zip(&plain.scores).all(|(w, z)| w.scores == *z && w.weight == 1.0 / 512.0));
}

#[test]
fn a_log_beyond_belief_is_refused() {
    let [per_cast, day_spread] = plain_pair();
    let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };
    // Nothing but world draws 12 standard deviations out could give this.
    let model = Toy::new(8, |z| {
        let level = |i: usize| 0.01 * (0.3 * z[i] * z[i + 1]).exp().min(90.0);
        vec![level(0), level(2), level(4), level(6)]
    });
    let plain = PlainDraws::new(&model, 6, 512).unwrap();
    let counts = Counts::of([(0, 0, 4000, 1200), (0, 1, 4000, 3), (1, 2, 4000, 1500), (1, 3, 4000, 600)]);
    let refused = fit(&model, &counts, pair, &plain, 6);
    assert!(matches!(refused, Err(FitError::NotTrusted { .. })), "{refused:?}");
    let none = Toy::new(2, |_| vec![0.0]);
    let plain = PlainDraws::new(&none, 6, 64).unwrap();
    assert_eq!(fit(&none, &Counts::of([(0, 0, 5, 1)]), pair, &plain, 6), Err(FitError::Impossible));
}
