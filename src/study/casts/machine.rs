//! Machine output.

use super::{Casts, Showing, Unit};
use serde::{Serialize, Serializer};
use serde_json::{Value, json};

impl Serialize for Casts {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        out(self).serialize(to)
    }
}

fn out(casts: &Casts) -> Value {
    let finite = |x: f64| x.is_finite().then_some(x);
    let worlds = casts.worlds.as_ref().map(|w| {
        json!({
            "strikes_per_100": w.strikes,
            "difference_per_100": w.difference,
            "of_each": { "median": finite(w.size(0.5)), "low": finite(w.size(0.05)), "high": finite(w.size(0.95)) },
            "difference_too_small_share": w.too_small,
            "first_better_share": w.first_better,
            "worlds": w.rates.len(),
        })
    });
    let showing = |s: &Showing| {
        json!({
            "of_each": s.casts,
            "power": s.power,
            "power_over_worlds": s.power_over_worlds,
            "smallest_told_per_100": s.smallest.map(|p| 100.0 * p),
            "from_per_100": 100.0 * s.from,
            "expected_strikes": s.strikes,
            "none_leaves_per_100": 100.0 * s.none_leaves,
        })
    };
    let (unit, passes) = match casts.unit {
        Unit::Casts { passes } => ("casts", passes),
        Unit::Passes => ("passes", None),
    };
    let all = [
        ("names", json!(casts.names)),
        ("unit", json!(unit)),
        ("passes_per_cast", json!(passes.map(|[a, b]| 0.5 * (a + b)))),
        ("passes_per_cast_of_each", json!(passes)),
        ("rates_per_100", json!(casts.rates.map(|p| 100.0 * p))),
        ("alpha", json!(casts.question.demand.alpha)),
        ("power", json!(casts.question.demand.power)),
        ("over_worlds", json!(worlds)),
        (
            "fixed",
            json!(casts.fixed.as_ref().map(|f| json!({
                "of_each": f.planned(),
                "is_exact": f.smallest.is_some(),
                "hours": casts.hours(f.planned()),
                "by_formula": {
                    "of_each": f.casts,
                    "pooled": f.pooled,
                    "power": f.power,
                    "power_is_exact": f.power_is_exact,
                    "false_alarm": f.false_alarm,
                    "hours": casts.hours(f.casts),
                },
            }))),
        ),
        (
            "in_turn",
            json!(casts.lead.as_ref().map(|l| json!({
                "lead": l.plan.lead,
                "wrong": l.plan.wrong,
                "mean_of_each": l.plan.mean_pairs,
                "mean_of_each_if_alike": l.plan.mean_pairs_if_alike,
                "log_likelihood_step": l.step,
                "hours": casts.hours(l.plan.mean_pairs),
            }))),
        ),
        (
            "at_one_fish",
            json!(casts.at_one_fish.map(|a| json!({
                "casts": a.casts,
                "squared_variation": a.squared_variation,
                "times_as_many": a.times_as_many,
            }))),
        ),
        ("showing", json!(casts.showing.as_ref().map(showing))),
        ("hour", showing(&casts.hour)),
        ("few", json!({ "of_each": casts.few.0, "none_leaves_per_100": 100.0 * casts.few.1 })),
        ("casts_per_hour", json!(casts.pace_per_h)),
        ("hours_per_season", json!(casts.question.hours_per_season)),
    ];
    Value::Object(all.into_iter().map(|(key, value)| (key.to_owned(), value)).collect())
}
