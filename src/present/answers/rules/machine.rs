//! Rules for programs.

use super::verdict_words;
use crate::present::answers::{Asked, circularity, estimate_json};
use crate::present::table::{Column, Table};
use crate::statistics::prim::Limit;
use crate::study::axis::Values;
use crate::study::rules::answer::Answer;
use crate::study::rules::{Claim, Condition};
use serde_json::{Value, json};

/// The document; `asked_for` is how many rules were asked for.
pub fn json(asked: &Asked, file: &str, answers: &[Answer], asked_for: usize) -> Value {
    let mut document = asked.document("rules");
    document.insert("rule_file".into(), file.into());
    document.insert("rules_asked".into(), asked_for.into());
    document.insert("rules".into(), answers.iter().map(rule).collect());
    document.into()
}

fn rule(answer: &Answer) -> Value {
    let (rule, r) = (&answer.rule, &answer.reading);
    json!({
        "id": rule.id,
        "says": rule.says,
        "claim": if rule.claim == Claim::Same { "same" } else { "a" },
        "verdict": verdict_words(r.verdict),
        "holds_share": r.holds_share,
        "matters_share": r.matters_share,
        "against_share": r.against_share,
        "every_step_share": r.steps_share,
        "conditions_share_of_sign": r.conditions_share,
        "effect_per_100": estimate_json(&r.effect),
        "smallest_difference_per_100": rule.smallest_difference,
        "strikes_per_100_by_level": r.levels,
        "judged": if r.per_hour.is_some() { "per hour" } else { "per pass" },
        "per_hour": r.per_hour.map(|[a, b]| json!({ "a": a, "b": b })),
        "gain": r.gains.as_ref().map(|[here, over]| json!({
            "a_over_b": estimate_json(here),
            "a_over_b_under_gain_over": estimate_json(over),
            "gain_over": rule.gain_over.iter().map(|p| (p.path.clone(), Value::from(p.value.clone())))
                .collect::<serde_json::Map<_, _>>(),
        })),
        "draws": answer.draws,
        "points": answer.points,
        "conditions": answer.differences.by_condition.len(),
        "rests_on": circularity::machine(&answer.rests_on),
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

/// One row for each rule.
pub fn csv(answers: &[Answer]) -> Table {
    let names = [
        "id",
        "says",
        "verdict",
        "holds_share",
        "matters_share",
        "against_share",
        "median",
        "low",
        "high",
        "simulation_se",
        "rests_on",
        "assumption",
        "literature",
        "flip_share",
        "judged",
        "per_hour_a",
        "per_hour_b",
    ];
    let mut table = Table::new(names.iter().map(|n| Column::text(n)).collect());
    for answer in answers {
        let (rule, r) = (&answer.rule, &answer.reading);
        let e = &r.effect;
        let mut row = vec![rule.id.clone(), rule.says.clone(), verdict_words(r.verdict).to_owned()];
        let numbers =
            [r.holds_share, r.matters_share, r.against_share, e.point, e.low, e.high, e.simulation_se];
        row.extend(numbers.map(|v| v.to_string()));
        row.push(answer.rests_on.flag().name().to_owned());
        row.push(answer.rests_on.restated().map_or(String::new(), |c| c.name.clone()));
        row.push(rule.literature.label().to_owned());
        row.push(answer.flip.share.to_string());
        row.push(if r.per_hour.is_some() { "per hour" } else { "per pass" }.to_owned());
        let hour = |k: usize| r.per_hour.map_or(String::new(), |h| h[k].to_string());
        row.extend([hour(0), hour(1)]);
        table.push(row);
    }
    table
}
