//! The odds for other programs.

use crate::present::answers::{Asked, estimate_json};
use crate::present::table::{Column, Table};
use crate::study::odds::Odds;
use serde_json::{Value, json};

/// Machine output.
pub fn json(asked: &Asked, odds: &Odds) -> Value {
    let mut document = asked.document("odds");
    let baits: Vec<Value> = odds
        .baits
        .iter()
        .map(|b| {
            let mut one = json!({
                "name": b.name,
                "strikes_per_100": estimate_json(&b.strikes),
                "losses": {
                    "never_noticed": b.losses.never_noticed,
                    "stayed_put": b.losses.stayed_put,
                    "turned_away": b.losses.turned_away,
                    "struck": b.losses.struck,
                },
                "running_depth_m": b.running_depth_m,
                "seen_from_m": { "up": b.seen_from.up, "level": b.seen_from.level, "down": b.seen_from.down },
                "could_be_best": b.could_be_best,
                "rank": [b.rank.0, b.rank.1],
                "leads_share": b.leads,
                "hooked_per_100": estimate_json(&b.hooked),
            });
            for (key, value) in
                [("strikes_per_100_casts", &b.per_100_casts), ("strikes_per_hour", &b.per_hour)]
            {
                if let Some(e) = value {
                    one[key] = estimate_json(e);
                }
            }
            if let Some(passes) = b.passes_per_cast {
                one["passes_per_cast"] = passes.into();
            }
            one
        })
        .collect();
    document.insert("baits".into(), baits.into());
    let drivers: Vec<Value> = odds
        .drivers
        .iter()
        .map(|d| json!({ "name": d.name, "grade": d.grade, "rank_correlation": d.correlation }))
        .collect();
    document.insert("spread_goes_with".into(), drivers.into());
    if let Some(passes) = odds.passes_per_cast {
        document.insert("passes_per_cast".into(), passes.into());
    }
    document.insert("draws_done".into(), odds.draws.into());
    document.into()
}

/// The baits for a spreadsheet, in the order of the box.
pub fn csv(odds: &Odds) -> Table {
    let names = [
        "bait",
        "strikes_per_100_median",
        "strikes_per_100_low",
        "strikes_per_100_high",
        "simulation_se",
        "never_noticed",
        "stayed_put",
        "turned_away",
        "struck",
        "running_depth_m",
        "seen_from_up_m",
        "seen_from_level_m",
        "seen_from_down_m",
        "could_be_best",
        "rank_best",
        "rank_worst",
    ];
    let by_the_hour = odds.baits.iter().any(|b| b.per_hour.is_some());
    let hour = ["strikes_per_hour_median", "strikes_per_hour_low", "strikes_per_hour_high"];
    let names = names.iter().chain(hour.iter().filter(|_| by_the_hour));
    let mut table = Table::new(names.map(|n| Column::text(n)).collect());
    for b in &odds.baits {
        let (s, l, e) = (&b.strikes, &b.losses, &b.seen_from);
        let numbers = [
            s.point,
            s.low,
            s.high,
            s.simulation_se,
            l.never_noticed,
            l.stayed_put,
            l.turned_away,
            l.struck,
            b.running_depth_m,
            e.up,
            e.level,
            e.down,
        ];
        let mut row = vec![b.name.clone()];
        row.extend(numbers.iter().map(f64::to_string));
        row.extend([b.could_be_best.to_string(), b.rank.0.to_string(), b.rank.1.to_string()]);
        row.extend(b.per_hour.iter().flat_map(|e| [e.point, e.low, e.high]).map(|v| v.to_string()));
        table.push(row);
    }
    table
}
