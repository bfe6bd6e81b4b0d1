use super::{
    CLOSED_FORM, EIGHT_DIGITS, close, close_relative, exponential, generator, normal, table, uniform,
};
use callup::statistics::hazards as h;
use callup::statistics::verdict::{Decomposition, expected_naive_share};

/// One repeat: M worlds with true differences Normal(b, a), each estimated with noise s/sqrt(m).
fn worlds(row: &super::Row, rng: &mut impl rand::Rng) -> Decomposition {
    let [b, a, s] = ["b", "a", "within_sd"].map(|c| row.number(c));
    let (m, count) = (row.number("m_per_theta"), row.count("M_theta") as usize);
    let noise = s * s / m;
    let differences: Vec<f64> =
        (0..count).map(|_| b + a * normal(rng) + noise.sqrt() * normal(rng)).collect();
    Decomposition::of(&differences, &vec![noise; count]).unwrap()
}

/// 60 repeats of each row; means within four standard errors (6e-5 each by chance). The naive share is drawn
/// towards one half just as the closed form says; with the noise taken off the share comes right, unless
/// the noise hides the worlds' disagreement, and then the decomposition says so.
#[test]
fn noise_and_disagreement_are_told_apart() {
    let repeats = 60;
    for (i, row) in table("verdict_decomposition").iter().enumerate() {
        let [b, a, s] = ["b", "a", "within_sd"].map(|c| row.number(c));
        let noise = s * s / row.number("m_per_theta");
        let expected = expected_naive_share(b, a * a, noise);
        close_relative(expected, row.number("naive_expected"), EIGHT_DIGITS, "closed form");
        close_relative(a * a, row.number("true_tau2"), EIGHT_DIGITS, "tau2");
        let mut rng = generator(20 + i as u64);
        let all: Vec<Decomposition> = (0..repeats).map(|_| worlds(row, &mut rng)).collect();
        let mean = |of: &dyn Fn(&Decomposition) -> f64| all.iter().map(of).sum::<f64>() / repeats as f64;
        let draws = repeats as f64 * row.number("M_theta");
        let binomial = (expected * (1.0 - expected) / draws).sqrt();
        close(mean(&|d| d.naive_share), expected, 4.0 * binomial, "naive share");
        // The reference's own mean of the reported error, itself known to a few per cent.
        close_relative(mean(&|d| d.se), row.number("se_mean_reported"), 0.05, "standard error");
        let too_short = all.iter().filter(|d| d.too_short()).count();
        if noise > 5.0 * a * a {
            assert!(too_short > repeats / 2, "row {i}: only {too_short} warn");
            continue;
        }
        assert!(too_short <= repeats / 10, "row {i}: {too_short} warn");
        // Spread of one tau2 is (tau2 + W) sqrt(2/M).
        let spread = (a * a + noise) * (2.0 / draws).sqrt();
        close(mean(&|d| d.tau2), a * a, 4.0 * spread, "tau2");
        // The reference's corrected shares deviate from the truth by up to 0.0035: small-sample bias.
        let corrected = mean(&|d| d.corrected_share.unwrap_or(f64::NAN));
        close(corrected, row.number("true_P_pos"), 0.01, "corrected share");
    }
}

/// All cases of the table, exact to its fourteen digits, and the table's own simulation within four standard
/// errors.
#[test]
fn competing_hazards_of_the_table() {
    for row in table("competing_hazards") {
        let n = |name: &str| row.number(name);
        let got = match row.text("case") {
            "const_inf" => h::strike_first(n("s"), n("r")),
            "const_exp_window" => h::strike_within_exponential(n("s"), n("r"), n("g")),
            "gamma_look_vs_refuse" => h::look_before_refusal(n("k"), n("b"), n("r")),
            "gamma_vs_gamma" => h::gamma_before_gamma((n("ks"), n("bs")), (n("kr"), n("br"))),
            "gauss_pass_prop_refuse" => {
                let hazard = h::pass_hazard(n("s0"), n("w"), n("h"), n("v"));
                h::strike_with_proportional_refusal(hazard, n("c"))
            }
            "linear_hazard_const_refuse" => h::strike_with_growing_hazard(n("a"), n("r")),
            "gamblers_ruin" => h::reaches_top_first(n("p"), n("i"), n("n")),
            "gamma_frailty" => h::strike_within_over_fish(n("k"), n("theta"), n("T")),
            other => panic!("no function for {other}"),
        };
        let (exact, draws, simulated) = (n("exact"), n("mc_n"), n("mc_p"));
        close(got, exact, CLOSED_FORM, row.text("case"));
        close(simulated, got, 4.0 * (got * (1.0 - got) / draws).sqrt(), "simulation of the table");
    }
    // Scipy 1.17.1, to the six digits printed.
    close(h::strike_within(0.3, 0.45, 1.5), 0.270139, 1e-6, "within a window");
    close(h::event_in_pass(h::pass_hazard(1.2, 1.5, 2.0, 0.8)), 0.901592, 1e-6, "Gaussian pass");
    close(h::strike_within_by_mean_fish(0.5, 0.4, 1.0), 0.1812692469, CLOSED_FORM, "mean fish");
}

/// Strike or refusal, whichever comes first, with both times drawn: `n` encounters, share of strikes within
/// four standard errors of the exact value (6e-5 by chance each).
#[track_caller]
fn simulated(
    exact: f64,
    n: u32,
    index: u64,
    what: &str,
    mut strikes: impl FnMut(&mut rand::rngs::Xoshiro256PlusPlus) -> bool,
) {
    let mut rng = generator(100 + index);
    let count = (0..n).filter(|_| strikes(&mut rng)).count();
    let share = count as f64 / f64::from(n);
    close(share, exact, 4.0 * (exact * (1.0 - exact) / f64::from(n)).sqrt(), what);
}

/// The sum of k exponential times.
fn erlang(k: u32, rate: f64, rng: &mut impl rand::Rng) -> f64 {
    (0..k).map(|_| exponential(rate, rng)).sum()
}

#[test]
fn competing_hazards_by_simulation() {
    let n = 200_000;
    simulated(h::strike_within(0.3, 0.45, 1.5), n, 0, "window", |g| {
        let (s, r) = (exponential(0.3, g), exponential(0.45, g));
        s < r && s < 1.5
    });
    simulated(h::strike_within_gamma(0.3, 0.45, 3.0, 2.0), n, 1, "gamma window", |g| {
        let (s, r, t) = (exponential(0.3, g), exponential(0.45, g), erlang(3, 2.0, g));
        s < r && s < t
    });
    simulated(h::look_before_refusal_within(3.0, 4.0, 0.45, 1.0), n, 2, "look within", |g| {
        let look = erlang(3, 4.0, g);
        look < exponential(0.45, g) && look < 1.0
    });
    simulated(h::gamma_before_gamma((2.0, 3.0), (3.0, 2.5)), n, 3, "gamma before gamma", |g| {
        erlang(2, 3.0, g) < erlang(3, 2.5, g)
    });
    simulated(h::strike_with_growing_hazard(0.8, 0.5), n, 4, "growing hazard", |g| {
        (2.0 * exponential(1.0, g) / 0.8).sqrt() < exponential(0.5, g)
    });
    simulated(h::noticed_then_strike_within(0.6, 0.3, 0.45, 1.5), n, 5, "noticed first", |g| {
        let (s, r) = (exponential(0.3, g), exponential(0.45, g));
        uniform(g) <= 0.6 && s < r && s < 1.5
    });
    simulated(h::strike_within_over_fish(2.0, 0.4, 1.0), n, 6, "fish that differ", |g| {
        exponential(erlang(2, 1.0 / 0.4, g), g) < 1.0
    });
    simulated(h::strike_in_souring_casts(0.1, 0.8, 6), n, 7, "souring fish", |g| {
        (0..6).any(|j| uniform(g) <= 0.1 * 0.8_f64.powi(j))
    });
    simulated(h::reaches_top_first(0.55, 4.0, 10.0), n / 4, 8, "ruin", |g| {
        let mut at = 4;
        while at > 0 && at < 10 {
            at += if uniform(g) <= 0.55 { 1 } else { -1 };
        }
        at == 10
    });
}

/// The pass with refusal: Lewis' thinning of the hazard's maximum, refusal as an exponential time from the
/// start of the pass.
#[test]
fn pass_with_refusal_by_thinning() {
    let (s0, w, closest, v, r, reach) = (1.2, 1.5, 1.0, 0.8, 0.3, 4.0);
    let exact = h::strike_in_pass_with_refusal(s0, w, closest, v, r, reach);
    simulated(exact, 200_000, 9, "pass with refusal", |g| {
        let refuse = exponential(r, g);
        let mut t = 0.0;
        loop {
            t += exponential(s0, g);
            if t >= refuse || t >= 2.0 * reach / v {
                return false;
            }
            let x = v * t - reach;
            if uniform(g) <= (-(closest * closest + x * x) / (2.0 * w * w)).exp() {
                return true;
            }
        }
    });
}

/// Stepping through the same pass with 1 - exp(-hazard dt) split between strike and refusal: the error
/// must halve with the step (first order), and vanish.
#[test]
fn time_steps_converge_to_the_exact_pass() {
    let (s0, w, closest, v, r, reach) = (1.2, 1.5, 1.0, 0.8, 0.3, 4.0);
    let exact = h::strike_in_pass_with_refusal(s0, w, closest, v, r, reach);
    let stepped = |steps: u32| {
        let dt = 2.0 * reach / v / f64::from(steps);
        let (mut alive, mut struck) = (1.0, 0.0);
        for i in 0..steps {
            let x = v * dt * f64::from(i) - reach;
            let s = s0 * (-(closest * closest + x * x) / (2.0 * w * w)).exp();
            let leaves = alive * (1.0 - (-(s + r) * dt).exp());
            struck += leaves * s / (s + r);
            alive -= leaves;
        }
        struck
    };
    let errors = [100, 200, 400, 800].map(|n| stepped(n) - exact);
    for pair in errors.windows(2) {
        close(pair[1] / pair[0], 0.5, 0.05, "ratio of errors");
    }
    assert!(stepped(100_000) - exact < 1e-5);
}

/// The gambler's ruin with fine steps is the Brownian case: step d, up-probability (1 + mu d/sigma^2)/2.
#[test]
fn fine_steps_of_ruin_are_brownian() {
    let (mu, sigma, a, b) = (0.3, 0.9, 1.0, 2.5);
    let exact = h::drifts_to_top_first(mu, sigma, a, b);
    let d = 1e-3;
    let walk = h::reaches_top_first(0.5 * (1.0 + mu * d / (sigma * sigma)), a / d, b / d);
    close(walk, exact, 1e-6, "Brownian");
}
