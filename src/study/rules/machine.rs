//! Rules for programs.

use super::answer::{Answer, Tried};
use super::{Claim, Condition};
use crate::statistics::prim::Limit;
use crate::study::axis::Values;
use serde::{Serialize, Serializer};
use serde_json::{Map, Value, json};

impl Serialize for Tried {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        json!({
            "rule_file": self.file,
            "rules_asked": self.asked_for,
            "rules": self.answers.iter().map(rule).collect::<Vec<_>>(),
        })
        .serialize(to)
    }
}

fn rule(answer: &Answer) -> Value {
    let (rule, r) = (&answer.rule, &answer.reading);
    json!({
        "id": rule.id,
        "says": rule.says,
        "claim": if rule.claim == Claim::Same { "same" } else { "a" },
        "verdict": r.verdict.words(),
        "holds_share": r.holds_share,
        "matters_share": r.matters_share,
        "against_share": r.against_share,
        "every_step_share": r.steps_share,
        "conditions_share_of_sign": r.conditions_share,
        "effect_per_100": r.effect,
        "smallest_difference_per_100": rule.smallest_difference,
        "strikes_per_100_by_level": r.levels,
        "judged": if r.per_hour.is_some() { "per hour" } else { "per pass" },
        "per_hour": r.per_hour.map(|[a, b]| json!({ "a": a, "b": b })),
        "gain": r.gains.as_ref().map(|[here, over]| json!({
            "a_over_b": here,
            "a_over_b_under_gain_over": over,
            "gain_over": rule.gain_over.iter().map(|p| (p.path.clone(), Value::from(p.value.clone())))
                .collect::<Map<_, _>>(),
        })),
        "draws": answer.draws,
        "points": answer.points,
        "conditions": answer.differences.by_condition.len(),
        "rests_on": answer.rests_on,
        "literature": rule.literature.label(),
        "source": rule.source,
        "flip": flip(answer),
    })
}

fn flip(answer: &Answer) -> Value {
    let f = &answer.flip;
    let limit = |l: &Limit| limit(&answer.rule.conditions, l);
    json!({
        "share_of_conditions": f.share,
        "rule_fails_there": f.fails_there,
        "told": f.is_told(),
        "limits": f.found.as_ref().map(|b| b.limits.iter().map(limit).collect::<Vec<_>>()),
        "coverage": f.found.as_ref().map(|b| b.coverage),
        "density": f.found.as_ref().map(|b| b.density),
        "support": f.found.as_ref().map(|b| b.support),
        "effect_there_per_100": f.effect_there.is_finite().then_some(f.effect_there),
        "conditions": answer.rule.conditions.iter().zip(&f.matters)
            .map(|(c, m)| json!({ "path": c.axis.path, "share_of_effect": m })).collect::<Vec<_>>(),
    })
}

/// A limit in the unit kept, or as the words inside.
fn limit(conditions: &[Condition], l: &Limit) -> Value {
    let axis = conditions.iter().find(|c| c.axis.path == l.name).map(|c| &c.axis.values);
    match axis {
        Some(Values::Words(all)) => {
            let inside = |i: usize| {
                l.low.is_none_or(|low| i as f64 >= low) && l.high.is_none_or(|high| i as f64 <= high)
            };
            let words: Vec<&String> =
                all.iter().enumerate().filter(|(i, _)| inside(*i)).map(|(_, w)| w).collect();
            json!({ "path": l.name, "words": words })
        }
        _ => json!({ "path": l.name, "low": l.low, "high": l.high }),
    }
}
