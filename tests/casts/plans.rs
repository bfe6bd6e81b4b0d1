//! Plans for given rates, against reference values, closed forms, and following every count.

use crate::reference::{number, table};
use callup::statistics::power::exact_power;
use callup::statistics::sequential::lead_plan;
use callup::study::casts::{Casts, Demand, Question, lead::behaviour, of_rates, power_at, rate};
use proptest::prelude::*;

const DEMAND: Demand = Demand { alpha: 0.05, power: 0.8 };
const USUAL: Question = Question {
    demand: DEMAND,
    casts: Some(60),
    pace_per_h: None,
    usual_pace_per_h: 40.0,
    hours_per_season: 100.0,
    lifetime_seasons: 40.0,
    seed: 1,
};
/// Closed forms in double precision, against values printed to eight digits.
const PRINTED: f64 = 6e-8;

fn plan(a: f64, b: f64, question: Question) -> Casts {
    of_rates(["a".into(), "b".into()], [a, b], question).expect("rates")
}

/// Sizes and exact powers of scipy and statsmodels, through the command's own road.
#[test]
fn fixed_plans_agree_with_reference_values() {
    let mut powers = 0;
    for row in table("sample_size") {
        let [a, b, alpha, power] = ["p1", "p2", "alpha", "target_power"].map(|c| number(&row, c));
        let question = Question { demand: Demand { alpha, power }, ..USUAL };
        let fixed = plan(a, b, question).fixed.expect("two rates");
        let pooled = number(&row, "n_normal_pooled");
        assert!((fixed.pooled / pooled - 1.0).abs() < PRINTED, "{a} {b}: {} {pooled}", fixed.pooled);
        assert_eq!(fixed.casts, pooled.ceil());
        if let Ok(exact) = row["exact_power_score_at_N"].parse::<f64>() {
            assert!((fixed.power - exact).abs() < PRINTED, "{a} {b}: {} {exact}", fixed.power);
            assert!(fixed.power_is_exact);
            powers += 1;
        }
    }
    assert!(powers > 5);
    for row in table("stable_size") {
        let [a, b] = ["p1", "p2"].map(|c| number(&row, c));
        let fixed = plan(a, b, USUAL).fixed.expect("two rates");
        assert_eq!(fixed.smallest.expect("small"), number(&row, "stable_n_power80") as usize, "{a} {b}");
    }
}

/// The lead followed turn by turn gives the chance of the worse bait and the mean length, at the planned rates and
/// at others.
#[test]
fn the_lead_is_followed_turn_by_turn() {
    for (rates, lead) in [([0.14, 0.07], 4), ([0.1, 0.08], 6), ([0.2, 0.2], 5), ([0.05, 0.3], 2)] {
        let k = lead as usize;
        let (better, worse) = (f64::max(rates[0], rates[1]), f64::min(rates[0], rates[1]));
        let (win, lose) = (better * (1.0 - worse), (1.0 - better) * worse);
        let mut alive = vec![0.0; 2 * k + 1];
        alive[k] = 1.0;
        let (mut wrong, mut turns) = (0.0, 0.0);
        while alive.iter().sum::<f64>() > 1e-14 {
            turns += alive.iter().sum::<f64>();
            let mut next = vec![0.0; 2 * k + 1];
            for j in 1..2 * k {
                next[j + 1] += alive[j] * win;
                next[j - 1] += alive[j] * lose;
                next[j] += alive[j] * (1.0 - win - lose);
            }
            wrong += next[0];
            (next[0], next[2 * k]) = (0.0, 0.0);
            alive = next;
        }
        let (said_wrong, said_turns) = behaviour(rates, lead);
        assert!((said_turns / turns - 1.0).abs() < 1e-9, "{rates:?}: {said_turns} {turns}");
        // Of two that are alike neither is the worse.
        let wrong = if rates[0] == rates[1] { 0.0 } else { wrong };
        assert!((said_wrong - wrong).abs() < 1e-9, "{rates:?}: {said_wrong} {wrong}");
    }
    let p = lead_plan(0.14, 0.07, 0.05).expect("plan");
    let (wrong, turns) = behaviour([0.07, 0.14], p.lead);
    assert!((wrong - p.wrong).abs() < 1e-12 && (turns / p.mean_pairs - 1.0).abs() < 1e-12);
}

/// The examples are fair: over 2400 of them the share that names the worse bait and the mean length agree with the
/// closed forms to four standard errors (chance of failure 1e-4). Cutting off at six times the mean hardly shows.
#[test]
fn the_examples_are_fair() {
    let (mut wrong, mut turns, mut count) = (0.0, Vec::new(), 0.0);
    let mut plan_made = None;
    for seed in 0..200 {
        let lead = plan(0.2, 0.1, Question { seed, ..USUAL }).lead.expect("two rates");
        for walk in &lead.walks {
            let (last, k) = (walk.points[walk.points.len() - 1], f64::from(lead.plan.lead));
            assert!(walk.points.windows(2).all(|w| w[1].0 > w[0].0 && (w[1].1 - w[0].1).abs() == 1.0));
            assert!(walk.points[..walk.points.len() - 1].iter().all(|p| p.1.abs() < k));
            assert_eq!(walk.right.is_some(), last.1.abs() == k);
            assert_ne!(walk.right, Some(last.1 < 0.0));
            wrong += f64::from(u8::from(walk.right == Some(false)));
            count += 1.0;
            turns.push(last.0);
        }
        plan_made = Some(lead.plan);
    }
    let p = plan_made.expect("plans");
    let share = wrong / count;
    assert!((share - p.wrong).abs() < 4.0 * (p.wrong * (1.0 - p.wrong) / count).sqrt(), "{share} {p:?}");
    let mean = turns.iter().sum::<f64>() / count;
    let variance = turns.iter().map(|t| (t - mean) * (t - mean)).sum::<f64>() / (count - 1.0);
    assert!((mean - p.mean_pairs).abs() < 4.0 * (variance / count).sqrt(), "{mean} {p:?}");
}

/// Nothing in n: Wilson's upper end is z^2/(n + z^2).
#[test]
fn what_an_empty_log_leaves() {
    let z2 = 1.959_963_984_540_054_f64.powi(2);
    let found = plan(0.03, 0.2, USUAL);
    let showing = found.showing.expect("asked");
    for (n, upper) in [(60, showing.none_leaves), (5, found.few.1), (40, found.hour.none_leaves)] {
        assert!((upper - z2 / (f64::from(n) + z2)).abs() < 1e-12, "{n}: {upper}");
    }
    assert_eq!((found.hour.casts, found.few.0, showing.casts), (40, 5, 60));
    // 60 casts of each tell 3 in 100 from about 18 in 100 and no less.
    let p = showing.smallest.expect("a rate");
    assert!(exact_power(0.03, p, 60, 0.05).expect("power") >= 0.8);
    assert!(exact_power(0.03, p - 0.002, 60, 0.05).expect("power") < 0.8);
    assert_eq!(showing.power, exact_power(0.03, 0.2, 60, 0.05).expect("power"));
    assert_eq!(plan(0.03, 0.2, Question { casts: Some(1), ..USUAL }).showing.expect("asked").smallest, None);
}

/// The formula is what the pooled size inverts, and where it takes over from the exact power it is as good.
#[test]
fn power_by_formula_inverts_the_size_and_meets_the_exact_power() {
    for (a, b) in [(0.07, 0.1), (0.03, 0.02), (0.3, 0.4), (0.07, 0.06)] {
        let casts = plan(a, b, USUAL).fixed.expect("two").casts as usize;
        let (at, before) =
            (power_at([a, b], casts, &DEMAND, false), power_at([a, b], casts - 1, &DEMAND, false));
        assert!(at >= 0.8 && before < 0.8, "{a} {b}: {before} {at}");
        let (formula, exact) =
            (power_at([a, b], 5_000, &DEMAND, false), power_at([a, b], 5_000, &DEMAND, true));
        assert!((formula - exact).abs() < 5e-3, "{a} {b}: {formula} {exact}");
    }
    assert_eq!(power_at([0.0, 0.0], 10, &DEMAND, false), 0.0);
    assert_eq!(power_at([0.0, 1.0], 10, &DEMAND, false), 1.0);
}

#[test]
fn rates_and_demands_that_cannot_be_are_refused() {
    let alike = plan(0.07, 0.07, USUAL);
    assert!(alike.fixed.is_none() && alike.lead.is_none() && alike.showing.is_some());
    for demand in [
        Demand { alpha: 0.0, power: 0.8 },
        Demand { alpha: 0.05, power: 1.0 },
        Demand { alpha: f64::NAN, power: 0.8 },
    ] {
        assert!(of_rates(["a".into(), "b".into()], [0.1, 0.2], Question { demand, ..USUAL }).is_err());
    }
    // Rates that no plan can tell apart within reason still have a size.
    let close = plan(0.07, 0.0700001, USUAL).fixed.expect("two rates");
    assert!(
        close.casts > 1e9 && !close.power_is_exact && close.false_alarm.is_none() && close.smallest.is_none()
    );
    assert!((close.power - 0.8).abs() < 1e-6);
}

#[test]
fn rates_are_read_as_they_are_written() {
    for (text, value) in
        [("12.5%", 0.125), (" 1 in 8 ", 0.125), ("1/8", 0.125), ("0.125", 0.125), ("1e-1", 0.1)]
    {
        let read = rate(text).expect(text).expect(text);
        assert!((read - value).abs() < 1e-15, "{text}: {read}");
    }
    for text in ["7", "0", "100%", "0%", "-3%", "9 in 4", "1/0", "0/0", "nan", "inf", "1.0"] {
        assert!(rate(text).expect(text).is_err(), "{text}");
    }
    for text in ["", "%", "90 mm, deep lip", "seven in 100", "7 in", "a/b", "150 mm"] {
        assert!(rate(text).is_none(), "{text}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// A wider gap takes fewer casts, a higher power and a lower false-alarm rate take more.
    #[test]
    fn plans_move_the_way_they_must(a in 0.01f64..0.4, gap in 0.02f64..0.2, more in 0.01f64..0.2) {
        let size = |a: f64, b: f64, alpha: f64, power: f64| {
            let question = Question { demand: Demand { alpha, power }, casts: None, ..USUAL };
            plan(a, b, question).fixed.expect("two rates").pooled
        };
        let usual = size(a, a + gap, 0.05, 0.8);
        prop_assert!(size(a, a + gap + more, 0.05, 0.8) < usual);
        prop_assert!(size(a, a + gap, 0.05, 0.9) > usual);
        prop_assert!(size(a, a + gap, 0.01, 0.8) > usual);
        prop_assert!((size(a + gap, a, 0.05, 0.8) / usual - 1.0).abs() < 1e-12);
    }

    /// No text makes it fail.
    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,24}") {
        if let Some(Ok(p)) = rate(&text) {
            prop_assert!(p > 0.0 && p < 1.0);
        }
    }
}
