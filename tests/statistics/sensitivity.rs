use super::{CLOSED_FORM, ITERATED, close, generator, table};
use callup::random::{Purpose, ScrambledSobol};
use callup::statistics::psis::{effective_size, smooth};
use callup::statistics::sensitivity::{Index, indices, over_scrambles, shapley};
use ndarray::Array2;
use proptest::prelude::*;
use std::f64::consts::PI;

/// Ishigami & Homma (1990): sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1, each even on -pi..pi. The fourth
/// coordinate does nothing.
fn ishigami(x: &[f64; 4]) -> f64 {
    let (s1, s2) = (x[0].sin(), x[1].sin());
    s1 + 7.0 * s2 * s2 + 0.1 * x[2].powi(4) * s1
}

fn scramble(replicate: u64, points: u32) -> Vec<Index> {
    let s = ScrambledSobol::new(5, Purpose::Design, replicate).jointly(8);
    let half = |i: u32, offset: usize| -> [f64; 4] {
        std::array::from_fn(|d| PI * (2.0 * s.at(i, offset + d) - 1.0))
    };
    let of = |offset: usize| (0..points).map(|i| ishigami(&half(i, offset))).collect::<Vec<f64>>();
    let mixed = Array2::from_shape_fn((4, points as usize), |(parameter, i)| {
        let mut x = half(i as u32, 0);
        x[parameter] = half(i as u32, 4)[parameter];
        ishigami(&x)
    });
    indices(&of(0), &of(4), mixed.view()).expect("design")
}

/// The mean of 16 scrambles of 1024 points lies within one standard deviation of a single scramble (four
/// standard errors) of the exact index; chance of failure 4e-4 for the six together. The standard deviations
/// are SALib's; our own error must be of that size.
#[test]
fn ishigami_indices() {
    let (scrambles, rows) = (16, table("ishigami"));
    let all: Vec<Vec<Index>> = (0..scrambles).map(|r| scramble(r, 1024)).collect();
    let estimates = over_scrambles(&all).unwrap();
    for (row, estimate) in rows.iter().zip(&estimates) {
        let name = row.text("variable");
        for (kind, got) in [("first", estimate.first), ("total", estimate.total)] {
            let sd = row.number(&format!("sd_{kind}_jansen"));
            close(got.mean, row.number(kind), sd, &format!("{kind} {name}"));
            let expected_se = sd / (scrambles as f64).sqrt();
            assert!(got.se < 3.0 * expected_se, "{kind} {name}: error {} not {expected_se}", got.se);
        }
    }
    let dummy = &estimates[3];
    assert_eq!(dummy.total.mean, 0.0);
    assert!(estimates[..3].iter().all(|e| e.stands_out_from(dummy, 2.0)));
    assert!(!dummy.stands_out_from(dummy, 2.0));
}

/// Worth of a set: the variance that its variables explain together, in closed form.
#[test]
fn ishigami_shapley_shares() {
    let rows = table("ishigami");
    let [s1, s2, st3] = [rows[0].number("first"), rows[1].number("first"), rows[2].number("total")];
    let worth: Vec<f64> = (0..8_usize)
        .map(|set| {
            let has = |bit: usize| f64::from(u8::from(set >> bit & 1 == 1));
            s1 * has(0) + s2 * has(1) + st3 * has(0) * has(2)
        })
        .collect();
    for (got, row) in shapley(&worth).unwrap().iter().zip(&rows) {
        close(*got, row.number("shapley"), CLOSED_FORM, "Shapley share");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// Efficiency, the idle player, and symmetry, for any worth.
    #[test]
    fn shapley_axioms(worth in proptest::collection::vec(-1.0f64..1.0, 32)) {
        let shares = shapley(&worth).unwrap();
        prop_assert!((shares.iter().sum::<f64>() - (worth[31] - worth[0])).abs() < 1e-12);
        // A sixth player who adds nothing gets nothing and changes nothing.
        let doubled: Vec<f64> = worth.iter().chain(&worth).copied().collect();
        let with_idle = shapley(&doubled).unwrap();
        prop_assert!(with_idle[5].abs() < 1e-12);
        for (a, b) in shares.iter().zip(&with_idle) {
            prop_assert!((a - b).abs() < 1e-12);
        }
        // Worth that depends on the number of players only is shared evenly.
        let even: Vec<f64> = (0..32_usize).map(|s| worth[s.count_ones() as usize]).collect();
        for share in shapley(&even).unwrap() {
            prop_assert!((share - (worth[5] - worth[0]) / 5.0).abs() < 1e-12);
        }
    }
}

#[test]
fn pareto_smoothing_gives_the_reference_shape() {
    let ratios: Vec<f64> = table("psis_log_ratios").iter().map(|r| r.number("log_ratio")).collect();
    let smoothed = smooth(&ratios).unwrap();
    // arviz 0.23.4.
    close(smoothed.k_hat, 1.7975485181448163, ITERATED, "k-hat");
    assert!(smoothed.k_hat > smoothed.k_limit());
    close(smoothed.k_limit(), 2.0 / 3.0, CLOSED_FORM, "limit for 1000 draws");
    close(smoothed.weights.iter().sum(), 1.0, CLOSED_FORM, "sum of weights");
    close(smoothed.effective_size, effective_size(&smoothed.weights), CLOSED_FORM, "size");
    // Smoothing keeps the order of the draws.
    let mut order: Vec<usize> = (0..ratios.len()).collect();
    order.sort_by(|&i, &j| ratios[i].total_cmp(&ratios[j]));
    assert!(order.windows(2).all(|w| smoothed.weights[w[0]] <= smoothed.weights[w[1]] * (1.0 + 1e-12)));
}

/// Ratios with a Pareto tail of known shape (u^-k has shape k): the estimate from a tail of M has a standard
/// error near (1+k)/sqrt(M); four of them are allowed (6e-5 by chance each). The shapes chosen lie three of
/// them or more from the limit of 0.7. A mean that exists is found.
#[test]
fn k_hat_reads_the_tail() {
    let mut rng = generator(7);
    let draws = 200_000;
    let tail = 3.0 * f64::from(draws).sqrt();
    for k in [0.2, 0.5, 0.95] {
        let u: Vec<f64> = (0..draws).map(|_| super::uniform(&mut rng)).collect();
        let logs: Vec<f64> = u.iter().map(|u| -k * u.ln()).collect();
        let smoothed = smooth(&logs).unwrap();
        close(smoothed.k_hat, k, 4.0 * (1.0 + k) / tail.sqrt(), "k-hat");
        assert_eq!(smoothed.k_hat < smoothed.k_limit(), k < 0.7);
        if k < 0.4 {
            // E[w u]/E[w] with w = u^-k is (1-k)/(2-k); its standard error here is below 0.001.
            let mean: f64 = smoothed.weights.iter().zip(&u).map(|(w, u)| w * u).sum();
            close(mean, (1.0 - k) / (2.0 - k), 0.004, "weighted mean");
        }
    }
}
