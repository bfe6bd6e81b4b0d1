//! A packed box for other programs: baits by name.

use super::{Pack, Set, Size};
use serde::{Serialize, Serializer};
use serde_json::{Map, Value, json};

impl Serialize for Pack {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        out(self).serialize(to)
    }
}

fn out(pack: &Pack) -> Value {
    let mut document = Map::new();
    let name = |b: usize| pack.baits[b].clone();
    let set = |s: &Set| {
        json!({
            "baits": s.baits.iter().map(|&b| name(b)).collect::<Vec<_>>(),
            "strikes_per_100": json!(&s.strikes), "mean_per_100": s.mean,
            "sampling_se_per_100": s.sampling_se, "proven": s.proven,
        })
    };
    let size = |s: &Size| {
        json!({
            "carried": s.size, "best": set(&s.best), "greedy": set(&s.greedy),
            "adds_per_100": json!(&s.adds), "mean_adds_per_100": s.mean_adds,
        })
    };
    let sources = pack.sources.iter().map(|(title, share)| json!({ "title": title, "share": share }));
    document.insert("scenarios".into(), sources.collect());
    document.insert("spread".into(), pack.axes.iter().map(|a| Value::from(a.write())).collect());
    let conditions = pack.conditions.iter().zip(&pack.throw).enumerate().map(|(c, (condition, &throw))| {
        let values = pack.axes.iter().zip(&condition.values).map(|(axis, v)| axis.kept(*v));
        let means: Vec<f64> = (0..pack.baits.len()).map(|b| pack.mean_of(c, b)).collect();
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
    document.insert("regret_per_100".into(), json!(&pack.regret));
    document.insert("mean_regret_per_100".into(), pack.mean_regret.into());
    document.insert("whole_box_adds_per_100".into(), json!(&pack.whole_box_adds));
    document.insert("mean_whole_box_adds_per_100".into(), pack.mean_whole_box_adds.into());
    document.insert("worlds_proven".into(), pack.worlds_proven.into());
    document.into()
}
