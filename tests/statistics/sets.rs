use super::{CLOSED_FORM, close, generator, normal, table};
use callup::statistics::day_plan::best_plan;
use callup::statistics::information::{parameter_information, perfect_information};
use callup::statistics::subset::{best, greedy, value};
use ndarray::{Array2, array};
use proptest::prelude::*;

/// All sets of `size` out of `n`, as bit masks.
fn sets(n: usize, size: usize) -> impl Iterator<Item = Vec<usize>> {
    (0..1_u32 << n)
        .filter(move |s| s.count_ones() as usize == size)
        .map(move |s| (0..n).filter(|i| s >> i & 1 == 1).collect())
}

/// Six baits in four conditions; greedy and exact values by numpy 2.4.6, exact ones by brute force.
#[test]
fn greedy_is_not_always_best() {
    let p = array![
        [0.10, 0.02, 0.03, 0.06],
        [0.04, 0.09, 0.02, 0.05],
        [0.07, 0.06, 0.04, 0.03],
        [0.02, 0.03, 0.11, 0.04],
        [0.06, 0.05, 0.05, 0.06],
        [0.03, 0.08, 0.06, 0.02]
    ];
    let w = [0.4, 0.25, 0.2, 0.15];
    for (size, by_greedy, exact) in
        [(1, 0.06, 0.06), (2, 0.081, 0.081), (3, 0.091, 0.0935), (4, 0.0935, 0.0935)]
    {
        let (g, b) = (greedy(p.view(), &w, size).unwrap(), best(p.view(), &w, size).unwrap());
        close(g.value, by_greedy, CLOSED_FORM, "greedy");
        close(b.value, exact, CLOSED_FORM, "exact");
        close(value(p.view(), &w, &b.members), b.value, CLOSED_FORM, "value of the members");
        assert!(b.proven);
    }
    assert_eq!(greedy(p.view(), &w, 3).unwrap().members, [0, 5, 3]);
    assert_eq!(best(p.view(), &w, 3).unwrap().members, [0, 1, 3]);
    let trap = array![
        [0.065, 0.065, 0.065, 0.065, 0.0, 0.0],
        [0.08, 0.08, 0.0, 0.0, 0.08, 0.0],
        [0.0, 0.0, 0.08, 0.08, 0.0, 0.08],
        [0.01, 0.01, 0.01, 0.01, 0.01, 0.01]
    ];
    let even = [1.0 / 6.0; 6];
    let (g, b) = (greedy(trap.view(), &even, 2).unwrap(), best(trap.view(), &even, 2).unwrap());
    assert_eq!(b.members, [1, 2]);
    close(g.value / b.value, 0.7708333333333334, CLOSED_FORM, "ratio in the trap");
}

#[test]
fn four_of_forty() {
    let rows = table("subset_rates");
    let p = Array2::from_shape_fn((40, 60), |(i, c)| rows[i].number(&c.to_string()));
    let w: Vec<f64> = table("subset_weights").iter().map(|r| r.number("w")).collect();
    let found = best(p.view(), &w, 4).unwrap();
    // Brute force over 91 390 sets, numpy 2.4.6.
    assert_eq!(found.members, [7, 11, 29, 30]);
    close(found.value, 0.2028942718045623, CLOSED_FORM, "value");
    assert!(found.proven && found.nodes < 1_000, "{} nodes", found.nodes);
}

fn plan_value(rates: &Array2<f64>, cost: f64, plan: &[usize]) -> f64 {
    let sum: f64 = plan.iter().enumerate().map(|(h, &b)| rates[(h, b)]).sum();
    sum - cost * plan.windows(2).filter(|w| w[0] != w[1]).count() as f64
}

#[test]
fn a_day_of_six_hours() {
    let rows = table("day_rates");
    let rates = Array2::from_shape_fn((6, 4), |(h, b)| rows[h].number(&format!("a{b}")));
    for row in table("day_plans") {
        let plan = best_plan(rates.view(), row.number("cost")).unwrap();
        let choices: Vec<String> = plan.choices.iter().map(ToString::to_string).collect();
        assert_eq!(choices.join(" "), row.text("plan"), "cost {}", row.text("cost"));
        close(plan.value, row.number("value"), CLOSED_FORM, "value");
        assert_eq!(plan.changes as u64, row.count("changes"));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn branch_and_bound_is_brute_force_and_greedy_keeps_its_bound(
        cells in proptest::collection::vec(0.0f64..1.0, 9 * 5),
        w in proptest::collection::vec(0.0f64..1.0, 5),
        size in 1usize..5,
        // Half of the cases on a coarse grid, so that ties occur.
        coarse in any::<bool>(),
    ) {
        let round = |x: f64| if coarse { (x * 4.0).round() / 4.0 } else { x };
        let p = Array2::from_shape_fn((9, 5), |(i, c)| round(cells[i * 5 + c]));
        let brute = sets(9, size).map(|s| value(p.view(), &w, &s)).fold(0.0, f64::max);
        let found = best(p.view(), &w, size).unwrap();
        prop_assert!((found.value - brute).abs() < 1e-12, "{} {brute}", found.value);
        let k = size as f64;
        let bound = 1.0 - (1.0 - 1.0 / k).powf(k);
        let g = greedy(p.view(), &w, size).unwrap().value;
        prop_assert!(g >= bound * brute - 1e-12 && g <= brute + 1e-12);
        prop_assert!(bound >= 1.0 - (-1.0f64).exp());
    }

    #[test]
    fn the_day_plan_is_brute_force(
        cells in proptest::collection::vec(0.0f64..3.0, 5 * 3),
        cost in 0.0f64..2.0,
    ) {
        let rates = Array2::from_shape_fn((5, 3), |(h, b)| cells[h * 3 + b]);
        let plans = (0..243_usize).map(|n| (0..5).map(|h| n / 3_usize.pow(h) % 3).collect::<Vec<_>>());
        let brute = plans.map(|p| plan_value(&rates, cost, &p)).fold(f64::NEG_INFINITY, f64::max);
        let found = best_plan(rates.view(), cost).unwrap();
        prop_assert!((found.value - brute).abs() < 1e-12);
        prop_assert!((plan_value(&rates, cost, &found.choices) - found.value).abs() < 1e-12);
    }
}

#[test]
fn what_knowing_is_worth() {
    let (prior, worth) = ([0.6, 0.4], array![[0.09, 0.05], [0.03, 0.07]]);
    // By hand: 0.082 - 0.066.
    close(perfect_information(&prior, worth.view()).unwrap(), 0.016, CLOSED_FORM, "EVPI");
}

/// Decisions worth 0 and 1/2 + theta + noise, both standard normal: knowing theta is worth
/// E max(0, 1/2 + theta) - 1/2 = Phi(1/2)/2 + phi(1/2) - 1/2. With 20 000 draws the standard error is that of the
/// mean of max(0, -1/2 - theta) and of the noise in the third of the bins where the choice flips, 0.0049; four of
/// them and 0.002 for the bins are allowed (chance of failure below 1e-4). The noise itself is worth as much.
#[test]
fn what_one_parameter_is_worth() {
    let mut rng = generator(8);
    let n = 20_000;
    let draw = |rng: &mut _| (0..n).map(|_| normal(rng)).collect::<Vec<f64>>();
    let (theta, noise, idle) = (draw(&mut rng), draw(&mut rng), draw(&mut rng));
    let worth = |shift: f64| Array2::from_shape_fn((n, 2), |(i, d)| d as f64 * (shift + theta[i] + noise[i]));
    use callup::maths::{quadrature::normal_density, special::normal_cdf};
    let exact = 0.5 * normal_cdf(0.5) + normal_density(0.5) - 0.5;
    let tolerance = 4.0 * 0.0049 + 0.002;
    for known in [&theta, &noise] {
        let v = parameter_information(known, worth(0.5).view(), 40, 40, &mut rng).unwrap();
        close(v.corrected(), exact, tolerance, "EVPPI");
        assert!(v.stands_out());
    }
    // Where the decisions tie, noise alone seems worth something: the floor takes it off, and a number that
    // has nothing to do with the decision does not stand out (5 % by chance, seed fixed).
    let v = parameter_information(&idle, worth(0.0).view(), 40, 40, &mut rng).unwrap();
    assert!(v.raw > 0.01, "the plain estimate is never free of noise: {v:?}");
    assert!(!v.stands_out() && v.corrected() < 0.01, "{v:?}");
}
