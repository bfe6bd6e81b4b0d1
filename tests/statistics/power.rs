use super::{CLOSED_FORM, EIGHT_DIGITS, close, close_relative, generator, table, uniform};
use callup::statistics::power::{Plan, exact_power, exact_size, smallest_detectable};
use callup::statistics::sequential::{discordant_share, lead_plan};

#[test]
fn sizes_by_formula_and_exact_power_at_them() {
    for row in table("sample_size") {
        let [p1, p2, alpha] = ["p1", "p2", "alpha"].map(|c| row.number(c));
        let plan = Plan::new(p1, p2, alpha, row.number("target_power")).unwrap();
        close_relative(
            plan.size_pooled(),
            row.number("n_normal_pooled"),
            EIGHT_DIGITS,
            &format!("{p1} {p2}"),
        );
        if let Some(power) = row.given("exact_power_score_at_N") {
            let n = row.count("n_per_arm_eval") as usize;
            close_relative(exact_power(p1, p2, n, alpha).unwrap(), power, EIGHT_DIGITS, "exact power");
        }
    }
}

#[test]
fn stable_sizes_and_exact_false_alarm_rates() {
    for row in table("stable_size") {
        let plan = Plan::new(row.number("p1"), row.number("p2"), 0.05, 0.8).unwrap();
        let n = plan.smallest_stable_size(25).unwrap();
        assert_eq!(n as u64, row.count("stable_n_power80"));
        let power = exact_power(row.number("p1"), row.number("p2"), n, 0.05).unwrap();
        close(power, row.number("power_at_stable"), CLOSED_FORM, "power");
    }
    for row in table("exact_size") {
        let size = exact_size(row.number("p"), row.count("n") as usize, 0.05).unwrap();
        close(size, row.number("exact_size"), CLOSED_FORM, "size");
    }
}

/// Two-sided p-value of the pooled score test of two rates, n of each; 1 where nothing or everything succeeded.
fn pooled_score_p(x: usize, y: usize, n: usize) -> f64 {
    let pooled = (x + y) as f64 / (2 * n) as f64;
    let se = (pooled * (1.0 - pooled) * 2.0 / n as f64).sqrt();
    let gap = (x.abs_diff(y)) as f64 / n as f64;
    if se > 0.0 { 2.0 * callup::maths::special::normal_cdf(-gap / se) } else { 1.0 }
}

/// The sum over all tables, each tested by the function that tests one table.
#[test]
fn exact_power_is_the_probability_of_a_significant_table() {
    use callup::statistics::distributions::binomial_masses;
    let (p1, p2, n) = (0.1, 0.3, 40);
    let (a, b) = (binomial_masses(n, p1), binomial_masses(n, p2));
    let mut power = 0.0;
    for (x, mass_a) in a.iter().enumerate() {
        for (y, mass_b) in b.iter().enumerate() {
            if pooled_score_p(x, y, n) <= 0.05 {
                power += mass_a * mass_b;
            }
        }
    }
    close(exact_power(p1, p2, n, 0.05).unwrap(), power, CLOSED_FORM, "power");
}

/// Power rises with the rate to be told and detectable rates fall with the number of casts.
#[test]
fn more_casts_show_smaller_differences() {
    let detectable: Vec<f64> = [30, 60, 120, 400, 1_400]
        .iter()
        .map(|&n| smallest_detectable(0.05, n, 0.05, 0.8).unwrap().unwrap())
        .collect();
    assert!(detectable.windows(2).all(|w| w[1] < w[0]), "{detectable:?}");
    assert!(Plan::new(0.07, 0.06, 0.05, 0.8).unwrap().smallest_stable_size(25).is_err());
}

/// Twenty thousand days of casting two baits in turn. The share of wrong calls lies within four standard errors
/// of the closed form, as does the mean number of pairs (each fails by chance 6e-5).
#[test]
fn the_lead_plan_does_on_the_water_what_it_promises() {
    let (a, b) = (0.14, 0.07);
    let plan = lead_plan(a, b, 0.05).unwrap();
    assert!(plan.lead >= 2 && plan.wrong <= 0.05);
    close(discordant_share(a, b), 0.14 * 0.93 / (0.14 * 0.93 + 0.86 * 0.07), CLOSED_FORM, "share");
    let mut rng = generator(2);
    let days = 20_000;
    let (mut wrong, mut pairs, mut squares) = (0.0, 0.0, 0.0);
    for _ in 0..days {
        let (mut lead, mut casts) = (0_i32, 0.0);
        while lead.unsigned_abs() < plan.lead {
            lead += i32::from(uniform(&mut rng) <= a) - i32::from(uniform(&mut rng) <= b);
            casts += 1.0;
        }
        wrong += f64::from(u8::from(lead < 0));
        pairs += casts;
        squares += casts * casts;
    }
    let n = f64::from(days);
    let mean = pairs / n;
    let se = ((squares / n - mean * mean) / n).sqrt();
    close(wrong / n, plan.wrong, 4.0 * (plan.wrong * (1.0 - plan.wrong) / n).sqrt(), "wrong calls");
    close(mean, plan.mean_pairs, 4.0 * se, "pairs");
}
