//! A sweep as machine output: the whole cube.

use crate::present::answers::{Asked, estimate_json};
use crate::present::table::{Column, Table};
use crate::study::axis::{Axis, Values};
use crate::study::sweep::reading::Answer;
use crate::units::Dimension;
use serde_json::{Value, json};

/// The unit a dimension is kept in, as the end of a key.
fn unit_key(dimension: Option<Dimension>) -> &'static str {
    match dimension {
        None => "1",
        Some(Dimension::Length) => "m",
        Some(Dimension::Temperature) => "c",
        Some(Dimension::Speed) => "m_s",
        Some(Dimension::Force) => "n",
        Some(Dimension::Mass) => "kg",
        Some(Dimension::Area) => "m2",
        Some(Dimension::Angle) => "deg",
        Some(Dimension::Turbidity) => "ntu",
        Some(Dimension::FishDensity) => "per_ha",
    }
}

fn axis_json(axis: &Axis) -> Value {
    match &axis.values {
        Values::Numbers { values, dimension, logarithmic } => json!({
            "path": axis.path,
            "unit": unit_key(*dimension),
            "spacing": if *logarithmic { "log" } else { "lin" },
            "values": values,
        }),
        Values::Hours(hours) => json!({ "path": axis.path, "unit": "h", "spacing": "lin", "values": hours }),
        Values::Words(words) => json!({ "path": axis.path, "values": words }),
    }
}

/// The value of an axis in a cell.
fn value(axis: &Axis, i: usize) -> Value {
    match &axis.values {
        Values::Words(words) => words.get(i).cloned().into(),
        _ => axis.numbers().get(i).copied().into(),
    }
}

/// The document: axes, baits, and every cell that was worked out.
pub fn json(asked: &Asked, answer: &Answer) -> Value {
    let cube = &answer.cube;
    let mut document = asked.document("sweep");
    document.insert("axes".into(), cube.axes.iter().map(axis_json).collect());
    document.insert("baits".into(), cube.baits.clone().into());
    document.insert("cells_done".into(), cube.done().into());
    document.insert("cells_asked".into(), cube.cells.len().into());
    let cell = |(c, reading): (usize, &Option<crate::study::sweep::reading::Reading>)| {
        let r = reading.as_ref()?;
        let places = cube.places(c);
        let at: Vec<Value> = cube.axes.iter().zip(places).map(|(axis, i)| value(axis, i)).collect();
        let baits: Vec<Value> = (0..cube.baits.len())
            .map(|b| {
                let mut one = estimate_json(&r.strikes[b]);
                one["leads_share"] = r.leads[b].into();
                one
            })
            .collect();
        let mut one = json!({
            "place": &places[..cube.axes.len()],
            "at": at,
            "leader": r.told.then(|| cube.baits[r.leader].as_str()),
            "greatest_median": cube.baits[r.leader],
            "strikes_per_100": baits,
        });
        if let Some(hour) = answer.by_the_hour.as_ref().and_then(|h| h.strikes[c].as_ref()) {
            one["strikes_per_hour"] = hour.iter().map(estimate_json).collect();
        }
        if let Some(d) = answer.differences.get(c).and_then(Option::as_ref) {
            one["difference_per_100"] = estimate_json(&d.more);
            one["difference_per_100"]["ahead_share"] = d.ahead.into();
        }
        Some(one)
    };
    if let Some(hour) = &answer.by_the_hour {
        document.insert("one_pass_in_a_cast_of_m".into(), hour.one_pass_in_m.into());
    }
    let cells: Vec<Value> = answer.readings.iter().enumerate().filter_map(cell).collect();
    document.insert("cells".into(), cells.into());
    if let Some((first, second)) = answer.pair {
        let pair = json!({ "first": cube.baits[first], "second": cube.baits[second] });
        document.insert("difference".into(), pair);
    }
    let flips: Vec<Value> = answer
        .flips
        .iter()
        .map(|f| {
            json!({
                "from": cube.baits[f.from], "to": cube.baits[f.to], "at": f.at, "order_flips_share": f.flips_in,
            })
        })
        .collect();
    document.insert("leader_changes".into(), flips.into());
    document.into()
}

/// One row for each cell worked out and bait.
pub fn csv(answer: &Answer) -> Table {
    let cube = &answer.cube;
    let mut columns: Vec<Column> = cube.axes.iter().map(|a| Column::text(&key(a))).collect();
    let names =
        ["bait", "median", "low", "high", "simulation_se", "leads_share", "greatest_median", "leader_told"];
    columns.extend(names.iter().map(|n| Column::text(n)));
    let hour = ["strikes_per_hour_median", "strikes_per_hour_low", "strikes_per_hour_high"];
    columns.extend(hour.iter().filter(|_| answer.by_the_hour.is_some()).map(|n| Column::text(n)));
    let mut table = Table::new(columns);
    for (c, reading) in answer.readings.iter().enumerate() {
        let Some(r) = reading else { continue };
        for (b, name) in cube.baits.iter().enumerate() {
            let s = &r.strikes[b];
            let mut row: Vec<String> = cube
                .axes
                .iter()
                .zip(cube.places(c))
                .map(|(axis, i)| match value(axis, i) {
                    Value::String(word) => word,
                    number => number.to_string(),
                })
                .collect();
            row.push(name.clone());
            row.extend([s.point, s.low, s.high, s.simulation_se, r.leads[b]].map(|v| v.to_string()));
            row.extend([(b == r.leader).to_string(), (b == r.leader && r.told).to_string()]);
            let hour = answer.by_the_hour.as_ref().and_then(|h| h.strikes[c].as_ref()?.get(b));
            row.extend(hour.iter().flat_map(|e| [e.point, e.low, e.high]).map(|v| v.to_string()));
            table.push(row);
        }
    }
    table
}

/// The heading of an axis: its path with the unit at the end.
fn key(axis: &Axis) -> String {
    match &axis.values {
        Values::Numbers { dimension: Some(d), .. } => format!("{}_{}", axis.path, unit_key(Some(*d))),
        Values::Hours(_) => format!("{}_h", axis.path),
        _ => axis.path.to_owned(),
    }
}
