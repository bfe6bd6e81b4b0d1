//! What a log says as machine output.

use super::changes::{Change, Tie};
use super::check::{Aspect, Check};
use super::{BeforeAfter, Told};
use crate::models::Spread;
use serde::{Serialize, Serializer};
use serde_json::{Map, Value, json};

/// Three numbers as an object.
fn three([low, median, high]: [f64; 3]) -> Value {
    json!({ "low": low, "median": median, "high": high })
}

impl Serialize for Told {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        out(self).serialize(to)
    }
}

fn out(told: &Told) -> Value {
    let l = &told.learnt;
    let mut document = Map::new();
    let pair = |b: &BeforeAfter| json!({ "before": b.before, "after": b.after });
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
            "grade": c.parameter.grade.name(), "before": three(c.before()), "after": three(c.after),
            "contraction": c.contraction, "shift_sd": c.shift,
        })
    };
    document.insert("changed".into(), l.changed.iter().map(change).collect());
    document.insert("unchanged".into(), l.silent.into());
    document.insert("least_contraction_told".into(), l.least_told.into());
    let silent: Vec<&str> = l.silent_drivers.iter().map(|d| d.name.as_str()).collect();
    document.insert("unchanged_that_odds_rest_on".into(), silent.into());
    let tie = |t: &Tie| json!({ "names": t.names, "correlation": t.correlation.0, "correlation_before": t.correlation.1 });
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
            "strikes_per_100": { "before": b.before, "after": b.after },
        })
    };
    document.insert("baits".into(), l.baits.iter().map(bait).collect());
    if let Some(loss) = &told.loss {
        let baits: Vec<Value> = loss.baits.iter().map(|e| json!(e)).collect();
        document.insert(
            "by_assumption_file".into(),
            json!({ "strikes_per_100_casts": loss.level, "strikes_per_100": baits }),
        );
    }
    document.into()
}
