use super::{CLOSED_FORM, close, generator, table};
use callup::statistics::distributions::binomial_masses;
use callup::statistics::estimate::ReplicateMean;
use callup::statistics::intervals::wilson;
use callup::statistics::{Confidence, Interval, Proportion};
use proptest::prelude::*;

const NINETY_FIVE: Confidence = Confidence::NINETY_FIVE;

fn proportion(x: u64, n: u64) -> Proportion {
    Proportion::new(x, n).expect("counts of the table")
}

#[test]
fn one_rate() {
    for row in table("single_proportion") {
        let p = proportion(row.count("x"), row.count("n"));
        let interval = wilson(p, NINETY_FIVE);
        close(interval.low, row.number("wilson_lo"), CLOSED_FORM, &format!("{p:?}"));
        close(interval.high, row.number("wilson_hi"), CLOSED_FORM, &format!("{p:?}"));
    }
}

fn contains(i: Interval, x: f64) -> bool {
    i.low <= x && x <= i.high
}

/// Coverage of Wilson's interval at rate p: the probability of the counts whose interval holds p.
fn coverage(n: u64, p: f64) -> f64 {
    let masses = binomial_masses(n as usize, p);
    (0..=n).filter(|&x| contains(wilson(proportion(x, n), NINETY_FIVE), p)).map(|x| masses[x as usize]).sum()
}

/// By full enumeration, no chance involved: on average over rates from 2 to 98 in 100 it lies within a point of
/// 95 % and nowhere below 90 %.
#[test]
fn coverage_by_exact_enumeration() {
    for n in [30, 100] {
        let rates: Vec<f64> = (0..=192).map(|i| 0.02 + 0.005 * f64::from(i)).collect();
        let of_wilson: Vec<f64> = rates.iter().map(|&p| coverage(n, p)).collect();
        let mean = of_wilson.iter().sum::<f64>() / of_wilson.len() as f64;
        close(mean, 0.95, 0.01, "Wilson's mean coverage");
        assert!(of_wilson.iter().all(|&c| c > 0.90), "n {n}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_interval_is_ordered_and_holds_the_estimate((n, x) in (1u64..400).prop_flat_map(|n| (Just(n), 0..=n))) {
        let p = proportion(x, n);
        let i = wilson(p, NINETY_FIVE);
        prop_assert!(0.0 <= i.low && i.high <= 1.0 && contains(i, p.rate()));
    }
}

/// The interval from 16 scrambles covers the known integral of a smooth function: 300 repeats miss at a rate
/// of 5 % on average; more than 31 misses (four standard deviations) has a chance near 1e-4. The error
/// that treats the points as independent is far too wide.
#[test]
fn the_replicate_interval_covers_and_the_naive_error_does_not_fit() {
    use callup::random::{Purpose, ScrambledSobol};
    let (repeats, scrambles, points) = (300, 16, 128);
    // f = prod (1 + (u - 1/2)/j) has mean 1.
    let f = |s: &ScrambledSobol, i: u32| -> f64 {
        (0..3).map(|d| 1.0 + (s.at(i, d) - 0.5) / (d + 1) as f64).product()
    };
    let mut misses = 0;
    let mut ratio = 0.0;
    for repeat in 0..repeats {
        let replicate = |r: u64| {
            let s = ScrambledSobol::new(11, Purpose::Design, repeat * scrambles + r);
            (0..points).map(|i| f(&s, i)).sum::<f64>() / f64::from(points)
        };
        let means: Vec<f64> = (0..scrambles).map(replicate).collect();
        let mean = ReplicateMean::of(&means).unwrap();
        misses += usize::from(!contains(mean.interval(NINETY_FIVE), 1.0));
        let s = ScrambledSobol::new(11, Purpose::Design, repeat * scrambles);
        let values: Vec<f64> = (0..points).map(|i| f(&s, i)).collect();
        let naive = callup::statistics::estimate::variance(&values).unwrap() / f64::from(points);
        ratio += (naive / scrambles as f64).sqrt() / mean.se / repeats as f64;
    }
    assert!(misses <= 31, "{misses} of {repeats} missed");
    assert!(misses >= 3, "far too wide: {misses}");
    assert!(ratio > 10.0, "naive error only {ratio} times too wide");
}

/// The quantile definition against a sample drawn here: half the values lie below the median.
#[test]
fn quantiles_split_a_sample() {
    let mut rng = generator(1);
    let sample: Vec<f64> = (0..1001).map(|_| super::uniform(&mut rng)).collect();
    let sorted = callup::statistics::estimate::sorted(&sample);
    let median = callup::statistics::estimate::quantile(&sorted, 0.5).unwrap();
    assert_eq!(sample.iter().filter(|x| **x < median).count(), 500);
}
