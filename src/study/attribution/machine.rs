//! What a rule rests on, for programs.

use super::{Attribution, Effect, Share};
use serde::{Serialize, Serializer};
use serde_json::{Value, json};

impl Serialize for Attribution {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        out(self).serialize(to)
    }
}

fn effect_json(e: Effect) -> Value {
    json!({ "per_100": e.per_100, "simulation_se": e.simulation_se, "sign_held": e.sign_held })
}

/// What a rule rests on, for programs. Shares are signed: positive works for the sign of the effect; absolute values
/// add to 1.
fn out(c: &Attribution) -> Value {
    let shares: Vec<Value> = c
        .explained
        .shares
        .iter()
        .map(|s: &Share| {
            json!({
                "group": s.group.name(),
                "per_100": s.per_100,
                "simulation_se": s.simulation_se,
                "share": s.share,
                "without_it_per_100": c.explained.without(s.group).per_100,
            })
        })
        .collect();
    let carriers: Vec<Value> = c
        .carriers
        .iter()
        .filter(|k| k.matters() || c.restated() == Some(k))
        .map(|k| {
            json!({
                "name": k.name,
                "group": k.group.name(),
                "grade": k.grade.name(),
                "lost_when_neutral": k.lost,
                "moved_over_its_range": k.swing,
            })
        })
        .collect();
    json!({
        "flag": c.flag().name(),
        "assumption": c.restated().map(|k| k.name.as_str()),
        "guesses": c.rests_on_guess().iter().map(|k| k.name.as_str()).collect::<Vec<_>>(),
        "effect": effect_json(c.total()),
        "physics_alone": effect_json(c.explained.physics_alone()),
        "survives_on_physics": c.explained.survives_on_physics(),
        "cancels": c.explained.cancels(),
        "shares": shares,
        "assumptions": carriers,
        "draws": c.explained.draws,
    })
}
