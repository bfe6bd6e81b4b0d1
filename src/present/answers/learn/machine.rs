//! What a log says as machine output.

use super::{Told, before};
use crate::models::Spread;
use crate::present::answers::{Asked, estimate_json};
use crate::present::table::{Column, Table};
use crate::statistics::estimate::Estimate;
use crate::study::learn::BeforeAfter;
use crate::study::learn::changes::Change;
use crate::study::learn::check::{Aspect, Check};
use serde_json::{Value, json};

/// Three numbers as an object.
fn three([low, median, high]: [f64; 3]) -> Value {
    json!({ "low": low, "median": median, "high": high })
}

/// The document.
pub fn json(asked: &Asked, told: &Told) -> Value {
    let l = told.learnt;
    let mut document = asked.document("learn");
    let pair =
        |b: &BeforeAfter| json!({ "before": estimate_json(&b.before), "after": estimate_json(&b.after) });
    let ignored: Vec<&str> = told.log.ignored.iter().map(|i| i.0.as_str()).collect();
    let open: Vec<Value> =
        told.log.left_open.iter().map(|(path, rows)| json!({ "path": path, "rows": rows })).collect();
    document.insert(
        "log".into(),
        json!({
            "file": told.origin.log, "rows": told.log.rows.len(), "days": l.days, "casts": l.casts, "strikes": l.strikes,
            "columns": told.log.varied, "columns_ignored": ignored, "left_to_scenario": open,
        }),
    );
    document.insert(
        "fit".into(),
        json!({
            "k_hat": l.fit.k_hat, "k_limit": l.fit.k_limit, "effective_worlds": l.fit.effective,
            "plain_worlds": l.fit.plain, "worlds": l.fit.worlds.len(), "placed_twice": l.fit.adapted,
            "directions": l.fit.directions, "ln_evidence": l.fit.ln_evidence,
        }),
    );
    document.insert(
        "passes_per_cast".into(),
        json!({
            "low": l.per_cast.low, "default": l.per_cast.default, "high": l.per_cast.high,
            "from_density": l.from_density, "learnt": l.per_cast.spread != Spread::Fixed,
        }),
    );
    document.insert("casts_alike".into(), l.alike.into());
    document.insert("strikes_per_100_casts".into(), pair(&l.level));
    let change = |c: &Change| {
        json!({
            "name": c.parameter.name, "means": c.parameter.means, "unit": c.parameter.unit,
            "grade": c.parameter.grade.name(), "before": three(before(&c.parameter)), "after": three(c.after),
            "contraction": c.contraction, "shift_sd": c.shift,
        })
    };
    document.insert("changed".into(), l.changed.iter().map(change).collect());
    document.insert("unchanged".into(), l.silent.into());
    document.insert("least_contraction_told".into(), l.least_told.into());
    let silent: Vec<&str> = l.silent_drivers.iter().map(|d| d.name.as_str()).collect();
    document.insert("unchanged_that_odds_rest_on".into(), silent.into());
    let tie = |t: &crate::study::learn::changes::Tie| json!({ "names": t.names, "correlation": t.correlation.0, "correlation_before": t.correlation.1 });
    document.insert("known_together".into(), l.tied.iter().map(tie).collect());
    let check = |c: &Check| {
        json!({
            "aspect": match c.aspect { Aspect::Strikes => "strikes", Aspect::Days => "days", Aspect::Baits => "baits" },
            "seen": c.seen, "after": three(c.after), "p_after": c.p_after, "before": three(c.before),
            "p_before": c.p_before, "misfit": c.misfit(), "conflict": c.conflict(),
        })
    };
    document.insert("checks".into(), l.checks.iter().map(check).collect());
    let bait = |b: &BeforeAfter| {
        json!({
            "name": b.name,
            "strikes_per_100": { "before": estimate_json(&b.before), "after": estimate_json(&b.after) },
        })
    };
    document.insert("baits".into(), l.baits.iter().map(bait).collect());
    if let Some(loss) = told.loss {
        let baits: Vec<Value> = loss.baits.iter().map(estimate_json).collect();
        document.insert(
            "by_assumption_file".into(),
            json!({ "strikes_per_100_casts": estimate_json(&loss.level), "strikes_per_100": baits }),
        );
    }
    document.into()
}

/// One line for each quantity.
pub fn csv(told: &Told) -> Table {
    let l = told.learnt;
    let columns = [
        "kind",
        "name",
        "unit",
        "before_low",
        "before_middle",
        "before_high",
        "after_low",
        "after_middle",
        "after_high",
        "contraction",
    ];
    let mut table = Table::new(columns.iter().map(|c| Column::text(c)).collect());
    let mut push = |kind: &str, name: &str, unit: &str, b: [f64; 3], a: [f64; 3], contraction: String| {
        let mut row = vec![kind.to_owned(), name.to_owned(), unit.to_owned()];
        row.extend(b.iter().chain(&a).map(ToString::to_string));
        row.push(contraction);
        table.push(row);
    };
    let ends = |e: &Estimate| [e.low, e.point, e.high];
    push("log", "strikes", "per 100 casts", ends(&l.level.before), ends(&l.level.after), String::new());
    for b in &l.baits {
        push("bait", &b.name, "per 100 passes", ends(&b.before), ends(&b.after), String::new());
    }
    for c in &l.changed {
        let p = &c.parameter;
        push("unknown", &p.name, &p.unit, before(p), c.after, c.contraction.to_string());
    }
    table
}
