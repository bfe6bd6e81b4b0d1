//! Machine output.

use super::one_at_a_time::{Given, Off, What};
use super::{Input, Why};
use crate::statistics::sensitivity::IndexEstimate;
use serde::{Serialize, Serializer};
use serde_json::{Value, json};

fn share_json(index: &IndexEstimate, stands_out: Option<bool>) -> Value {
    json!({
        "total_share": index.total.mean,
        "total_se": index.total.se,
        "first_share": index.first.mean,
        "first_se": index.first.se,
        "stands_out": stands_out,
    })
}

fn input_json(input: &Input) -> Value {
    json!({
        "name": input.name,
        "means": input.means,
        "grade": input.grade,
        "group": input.group.map(|g| g.name()),
        "members": input.members,
        "odds": share_json(&input.odds.index, Some(input.odds.stands_out)),
        "difference": input.difference.map(|d| share_json(&d.index, Some(d.stands_out))),
        "worth_per_100": input.worth.map(|w| json!({
            "corrected": input.gain(), "raw": w.raw, "floor": w.floor, "floor_95": w.floor_95,
        })),
    })
}

fn given_json(given: &Given) -> Value {
    let (name, unit) = match given.what {
        What::Depth => ("fish.depth", "m"),
        What::Secchi => ("water.secchi", "m"),
        What::Turbidity => ("water.turbidity", "NTU"),
        What::Speed => ("tackle.speed", "m/s"),
        What::Temperature => ("water.temperature", "C"),
    };
    let off = |o: &Off| {
        json!({
            "value": o.value, "strikes_per_100": o.strikes, "difference_per_100": o.difference,
        })
    };
    json!({
        "path": name,
        "unit": unit,
        "as_given": off(&given.here),
        "lower": given.lower.as_ref().map(off),
        "higher": given.higher.as_ref().map(off),
    })
}

impl Serialize for Why {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        out(self).serialize(to)
    }
}

fn out(why: &Why) -> Value {
    let inputs = |all: &[Input]| all.iter().map(input_json).collect::<Vec<Value>>();
    let all = [
        ("leader", json!(why.baits[why.leader])),
        ("next", json!(why.next.map(|n| &why.baits[n]))),
        ("strikes_per_100", json!(why.strikes)),
        ("difference_per_100", json!(why.difference)),
        (
            "floor",
            json!({
                "odds": share_json(&why.floor, None),
                "difference": why.difference_floor.as_ref().map(|f| share_json(f, None)),
            }),
        ),
        ("groups", inputs(&why.groups).into()),
        ("parameters", json!(why.parameters.as_deref().map(inputs))),
        (
            "perfect_information_per_100",
            json!({
                "mean": why.evpi.mean, "simulation_se": why.evpi.se,
            }),
        ),
        ("best_now", json!(why.baits[why.best_now])),
        ("parameters_varied", json!(why.varied.0)),
        ("parameters_idle", json!(why.varied.1)),
        ("given", why.given.iter().map(given_json).collect::<Vec<Value>>().into()),
        ("worlds", json!(why.worlds)),
        ("complete", json!(why.complete)),
    ];
    Value::Object(all.into_iter().map(|(key, value)| (key.to_owned(), value)).collect())
}
