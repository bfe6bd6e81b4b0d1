//! A packed box for other programs.

use super::Asked;
use crate::present::answers::estimate_json;
use crate::present::table::{Column, Table};
use crate::study::axis::Values;
use crate::study::pack::{Pack, Set, Size};
use serde_json::{Value, json};

/// Machine output.
pub fn json(asked: &Asked, pack: &Pack) -> Value {
    let mut document = asked.document("pack");
    let name = |b: usize| pack.baits[b].clone();
    let set = |s: &Set| {
        json!({
            "baits": s.baits.iter().map(|&b| name(b)).collect::<Vec<_>>(),
            "strikes_per_100": estimate_json(&s.strikes), "mean_per_100": s.mean,
            "sampling_se_per_100": s.sampling_se, "proven": s.proven,
        })
    };
    let size = |s: &Size| {
        json!({
            "carried": s.size, "best": set(&s.best), "greedy": set(&s.greedy),
            "adds_per_100": estimate_json(&s.adds), "mean_adds_per_100": s.mean_adds,
        })
    };
    let sources = pack.sources.iter().map(|(title, share)| json!({ "title": title, "share": share }));
    document.insert("scenarios".into(), sources.collect());
    document.insert("spread".into(), pack.axes.iter().map(|a| Value::from(a.write())).collect());
    let conditions = pack.conditions.iter().zip(&pack.throw).enumerate().map(|(c, (condition, &throw))| {
        let values = pack.axes.iter().zip(&condition.values).map(|(axis, v)| match &axis.values {
            Values::Words(words) => words.get(*v as usize).cloned().into(),
            _ => Value::from(*v),
        });
        let means: Vec<f64> = (0..pack.baits.len()).map(|b| mean_of(pack, c, b)).collect();
        json!({
            "scenario": condition.source, "weight": condition.weight, "values": values.collect::<Vec<_>>(),
            "throw": name(throw), "mean_per_100": means,
        })
    });
    document.insert("conditions".into(), conditions.collect());
    let baits = (0..pack.baits.len())
        .map(|b| json!({ "name": name(b), "in_best_set_of_worlds_share": pack.inclusion[b] }));
    document.insert("baits".into(), baits.collect());
    document.insert("carry".into(), pack.carry.into());
    document.insert("chosen".into(), pack.chosen().map_or(Value::Null, size));
    document.insert("sizes".into(), pack.sizes.iter().map(size).collect());
    let members = pack.members.iter().map(|m| {
        json!({
            "name": name(m.bait), "thrown_share": m.thrown, "loss_without_per_100": m.without,
            "substitute": m.substitute.map(|(b, loss)| json!({ "name": name(b), "loss_per_100": loss })),
            "thrown_at": m.where_thrown.iter().map(|[low, median, high]| {
                json!({ "low": low, "median": median, "high": high })
            }).collect::<Vec<_>>(),
        })
    });
    document.insert("members".into(), members.collect());
    document.insert("best_in_worlds_share".into(), pack.stays_best.into());
    document.insert("within_1_per_100_in_worlds_share".into(), pack.nearly_best.into());
    document.insert("regret_per_100".into(), estimate_json(&pack.regret));
    document.insert("mean_regret_per_100".into(), pack.mean_regret.into());
    document.insert("whole_box_adds_per_100".into(), estimate_json(&pack.whole_box_adds));
    document.insert("mean_whole_box_adds_per_100".into(), pack.mean_whole_box_adds.into());
    document.insert("worlds_proven".into(), pack.worlds_proven.into());
    document.into()
}

fn mean_of(pack: &Pack, condition: usize, bait: usize) -> f64 {
    pack.cube.strikes(condition, bait).and_then(crate::statistics::estimate::mean).unwrap_or(f64::NAN)
}

/// One row for each condition and bait.
pub fn csv(pack: &Pack) -> Table {
    let mut columns = vec![Column::text("condition"), Column::text("scenario"), Column::text("weight")];
    columns.extend(pack.axes.iter().map(|a| Column::text(a.path)));
    columns.extend(["bait", "mean_per_100", "carried", "throw"].map(Column::text));
    let mut table = Table::new(columns);
    let yes = |is: bool| if is { "1".to_owned() } else { "0".to_owned() };
    for (c, condition) in pack.conditions.iter().enumerate() {
        for (b, name) in pack.baits.iter().enumerate() {
            let mut row =
                vec![c.to_string(), pack.sources[condition.source].0.clone(), condition.weight.to_string()];
            row.extend(pack.axes.iter().zip(&condition.values).map(|(axis, v)| match &axis.values {
                Values::Words(words) => words.get(*v as usize).cloned().unwrap_or_default(),
                _ => v.to_string(),
            }));
            row.extend([
                name.clone(),
                mean_of(pack, c, b).to_string(),
                yes(pack.members.iter().any(|m| m.bait == b)),
                yes(pack.throw[c] == b),
            ]);
            table.push(row);
        }
    }
    table
}
