use super::{CLOSED_FORM, ITERATED, close, generator, table};
use callup::statistics::distributions::binomial_masses;
use callup::statistics::estimate::ReplicateMean;
use callup::statistics::intervals::{clopper_pearson, jeffreys, jeffreys_equal_tail, jeffreys_mean, wilson};
use callup::statistics::paired::Pairs;
use callup::statistics::{Confidence, Interval, Proportion, differences};
use proptest::prelude::*;

const NINETY_FIVE: Confidence = Confidence::NINETY_FIVE;
/// The two-sample and paired tables print ten significant digits of numbers up to 1000.
const TEN_DIGITS: f64 = 1e-9;

fn proportion(x: u64, n: u64) -> Proportion {
    Proportion::new(x, n).expect("counts of the table")
}

#[test]
fn one_rate() {
    for row in table("single_proportion") {
        let p = proportion(row.count("x"), row.count("n"));
        let pairs: [(&str, Interval, f64); 4] = [
            ("wilson", wilson(p, NINETY_FIVE), CLOSED_FORM),
            ("cp", clopper_pearson(p, NINETY_FIVE), ITERATED),
            ("jeffreys_equal_tail", jeffreys_equal_tail(p, NINETY_FIVE), ITERATED),
            ("jeffreys_bcd", jeffreys(p, NINETY_FIVE), ITERATED),
        ];
        for (name, interval, tolerance) in pairs {
            let what = format!("{name} {p:?}");
            close(interval.low, row.number(&format!("{name}_lo")), tolerance, &what);
            close(interval.high, row.number(&format!("{name}_hi")), tolerance, &what);
        }
        close(jeffreys_mean(p), row.number("jeffreys_mean"), CLOSED_FORM, "mean");
    }
}

#[test]
fn two_rates() {
    for row in table("two_proportions") {
        let (a, b) =
            (proportion(row.count("x1"), row.count("n1")), proportion(row.count("x2"), row.count("n2")));
        let intervals = [
            ("newcombe", differences::newcombe(a, b, NINETY_FIVE), CLOSED_FORM),
            ("mn", differences::miettinen_nurminen(a, b, NINETY_FIVE), ITERATED),
            ("mee_fm", differences::mee(a, b, NINETY_FIVE), ITERATED),
        ];
        for (name, interval, tolerance) in intervals {
            let what = format!("{name} {a:?} {b:?}");
            close(interval.low, row.number(&format!("{name}_lo")), tolerance, &what);
            close(interval.high, row.number(&format!("{name}_hi")), tolerance, &what);
            let d = row.number("diff");
            assert!(interval.low <= d + 1e-12 && d <= interval.high + 1e-12, "{what} leaves out {d}");
        }
        ratios(&row, a, b);
        let p = row.given("p_score_pooled");
        assert_eq!(differences::pooled_score_p(a, b).is_some(), p.is_some());
        if let (Some(got), Some(p)) = (differences::pooled_score_p(a, b), p) {
            close(got, p, TEN_DIGITS, "pooled score test");
        }
    }
}

fn ratios(row: &super::Row, a: Proportion, b: Proportion) {
    let katz = differences::katz_ratio(a, b, NINETY_FIVE);
    assert_eq!(katz.is_some(), row.given("rr_katz_log_lo").is_some(), "{a:?} {b:?}");
    let pairs = [("rr_katz_log", katz), ("rr_log_adjusted", differences::adjusted_ratio(a, b, NINETY_FIVE))];
    for (name, interval) in pairs {
        let Some(interval) = interval else { continue };
        for (end, got) in [("lo", interval.low), ("hi", interval.high)] {
            let expected = row.number(&format!("{name}_{end}"));
            close(got / expected, 1.0, TEN_DIGITS, &format!("{name} {a:?} {b:?}"));
        }
    }
}

#[test]
fn paired_rates() {
    for row in table("paired") {
        let [a, b, c, d] = ["a_both", "b_A_only", "c_B_only", "d_neither"].map(|n| row.count(n));
        let pairs = Pairs::new(a, b, c, d).expect("counts of the table");
        close(pairs.difference(), row.number("diff"), TEN_DIGITS, "difference");
        close(pairs.standard_error(), row.number("wald_se_paired"), TEN_DIGITS, "error");
        close(pairs.standard_error_if_independent(), row.number("se_if_independent"), TEN_DIGITS, "apart");
        close(pairs.corrected_phi(), row.number("newcombe10_phi"), TEN_DIGITS, "phi");
        let interval = pairs.newcombe(NINETY_FIVE).expect("interval");
        close(interval.low, row.number("newcombe10_lo"), TEN_DIGITS, "low");
        close(interval.high, row.number("newcombe10_hi"), TEN_DIGITS, "high");
        close(pairs.mcnemar_exact_p().expect("p"), row.number("mcnemar_exact_p"), TEN_DIGITS, "exact");
        close(pairs.mcnemar_mid_p().expect("p"), row.number("mcnemar_midp"), TEN_DIGITS, "mid-p");
        assert_eq!(pairs.mcnemar_chi2().is_some(), row.given("mcnemar_chi2").is_some());
        if let (Some(chi2), Some(p)) = (pairs.mcnemar_chi2(), pairs.mcnemar_p()) {
            close(chi2, row.number("mcnemar_chi2"), TEN_DIGITS, "chi2");
            close(p, row.number("mcnemar_asym_p"), TEN_DIGITS, "asymptotic");
        }
    }
}

/// Coverage of an interval at rate p: the probability of the counts whose interval holds p.
fn coverage(n: u64, p: f64, of: impl Fn(Proportion) -> Interval) -> f64 {
    let masses = binomial_masses(n as usize, p);
    (0..=n).filter(|&x| of(proportion(x, n)).contains(p)).map(|x| masses[x as usize]).sum()
}

/// By full enumeration, no chance involved: Clopper-Pearson never covers less than 95 %; Wilson on average
/// over rates from 2 to 98 in 100 lies within a point of it and nowhere below 90 %.
#[test]
fn coverage_by_exact_enumeration() {
    for n in [30, 100] {
        let rates: Vec<f64> = (0..=192).map(|i| 0.02 + 0.005 * f64::from(i)).collect();
        let of_wilson: Vec<f64> = rates.iter().map(|&p| coverage(n, p, |x| wilson(x, NINETY_FIVE))).collect();
        let mean = of_wilson.iter().sum::<f64>() / of_wilson.len() as f64;
        close(mean, 0.95, 0.01, "Wilson's mean coverage");
        assert!(of_wilson.iter().all(|&c| c > 0.90), "n {n}");
        for &p in rates.iter().step_by(8) {
            assert!(coverage(n, p, |x| clopper_pearson(x, NINETY_FIVE)) >= 0.95, "n {n}, rate {p}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn intervals_are_ordered_hold_the_estimate_and_grow_with_confidence(
        (n1, x1) in (1u64..400).prop_flat_map(|n| (Just(n), 0..=n)),
        (n2, x2) in (1u64..400).prop_flat_map(|n| (Just(n), 0..=n)),
        level in 0.5f64..0.98,
    ) {
        let (a, b) = (proportion(x1, n1), proportion(x2, n2));
        let (narrow, wide) = (Confidence::new(level).unwrap(), Confidence::new(level + 0.019).unwrap());
        for of in [wilson, clopper_pearson, jeffreys] {
            let (inner, outer) = (of(a, narrow), of(a, wide));
            prop_assert!(0.0 <= outer.low && outer.low <= inner.low && inner.high <= outer.high);
            prop_assert!(outer.high <= 1.0 && inner.contains(a.rate()));
        }
        let d = a.rate() - b.rate();
        for of in [differences::newcombe, differences::miettinen_nurminen, differences::mee] {
            let (inner, outer) = (of(a, b, narrow), of(a, b, wide));
            prop_assert!(outer.low <= inner.low + 1e-12 && inner.high <= outer.high + 1e-12);
            prop_assert!(inner.low <= d + 1e-12 && d <= inner.high + 1e-12);
            prop_assert!(-1.0 - 1e-12 <= outer.low && outer.high <= 1.0 + 1e-12);
            // Swapping the baits turns the interval round.
            let turned = of(b, a, narrow);
            prop_assert!((turned.low + inner.high).abs() < 1e-9 && (turned.high + inner.low).abs() < 1e-9);
        }
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
        misses += usize::from(!mean.interval(NINETY_FIVE).contains(1.0));
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
