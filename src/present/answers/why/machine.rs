//! Machine output.

use super::{known, short_name};
use crate::models::Models;
use crate::present::answers::{Asked, estimate_json};
use crate::present::table::{Column, Table};
use crate::statistics::sensitivity::IndexEstimate;
use crate::study::why::given::{Given, Off, What};
use crate::study::why::{Input, Kind, Share, Why};
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

fn input_json(models: &Models, input: &Input) -> Value {
    let parameter = match input.kind {
        Kind::Parameter(d) => models.parameters.get(d),
        _ => None,
    };
    json!({
        "name": key(models, input),
        "means": short_name(models, input),
        "grade": parameter.map(|p| p.grade),
        "group": match input.kind {
            Kind::Group(g) => Some(g.name()),
            Kind::Readiness => None,
            Kind::Parameter(_) => parameter.map(|p| p.group.name()),
        },
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

/// Name for programs.
fn key(models: &Models, input: &Input) -> String {
    match input.kind {
        Kind::Parameter(d) => models.parameters.get(d).map_or(String::new(), |p| p.name.clone()),
        Kind::Readiness => "readiness".into(),
        Kind::Group(group) => group.name().into(),
    }
}

/// Machine output.
pub fn json(asked: &Asked, models: &Models, why: &Why, given: &[Given]) -> Value {
    let mut document = asked.document("why");
    let inputs = |all: &[Input]| all.iter().map(|i| input_json(models, i)).collect::<Vec<Value>>();
    for (key, value) in [
        ("leader", json!(why.baits[why.leader])),
        ("next", json!(why.next.map(|n| &why.baits[n]))),
        ("strikes_per_100", estimate_json(&why.strikes)),
        ("difference_per_100", json!(why.difference.as_ref().map(estimate_json))),
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
                "mean": why.everything.mean, "simulation_se": why.everything.se,
            }),
        ),
        ("best_now", json!(why.baits[why.best_now])),
        ("parameters_varied", json!(why.varied.0)),
        ("parameters_idle", json!(why.varied.1)),
        ("given", given.iter().map(given_json).collect::<Vec<Value>>().into()),
        ("worlds", json!(why.worlds)),
        ("complete", json!(why.complete)),
    ] {
        document.insert(key.into(), value);
    }
    document.into()
}

/// Groups and parameters for a spreadsheet.
pub fn csv(models: &Models, why: &Why) -> Table {
    let names = [
        "level",
        "name",
        "means",
        "known_by",
        "odds_total_share",
        "odds_total_se",
        "odds_first_share",
        "odds_stands_out",
        "difference_total_share",
        "difference_total_se",
        "difference_first_share",
        "difference_stands_out",
        "worth_per_100",
    ];
    let mut table = Table::new(names.iter().map(|n| Column::text(n)).collect());
    let levels = [("group", Some(&why.groups)), ("parameter", why.parameters.as_ref())];
    for (level, input) in
        levels.into_iter().flat_map(|(l, all)| all.into_iter().flatten().map(move |i| (l, i)))
    {
        let share = |s: Option<Share>| match s {
            Some(s) => {
                let numbers =
                    [s.index.total.mean, s.index.total.se, s.index.first.mean].map(|v| v.to_string());
                numbers.into_iter().chain([s.stands_out.to_string()]).collect()
            }
            None => vec![String::new(); 4],
        };
        let mut row =
            vec![level.to_owned(), key(models, input), short_name(models, input), known(models, input)];
        row.extend(share(Some(input.odds)));
        row.extend(share(input.difference));
        row.push(input.worth.map_or(String::new(), |_| input.gain().to_string()));
        table.push(row);
    }
    table
}
