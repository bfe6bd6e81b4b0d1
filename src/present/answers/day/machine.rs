//! A day for other programs.

use super::Asked;
use crate::present::answers::estimate_json;
use crate::present::table::{Column, Table};
use crate::scenario::{Clarity, day as calendar};
use crate::study::day::steps::Daylight;
use crate::study::day::{Day, Plan, Step};
use serde_json::{Value, json};

/// Machine output.
pub fn json(asked: &Asked, day: &Day) -> Value {
    let mut document = asked.document("day");
    let times = day.planned.times;
    document.insert(
        "sun_times_unix_s".into(),
        json!({
            "first_light": times.civil_dawn_s, "sunrise": times.sunrise_s,
            "sunset": times.sunset_s, "dark": times.civil_dusk_s,
        }),
    );
    document.insert("daylight".into(), daylight(day.planned.daylight).into());
    document.insert("planned_unix_s".into(), json!([day.planned.span.from_s, day.planned.span.to_s]));
    document.insert("casts_per_hour".into(), day.casts_per_hour.into());
    document.insert("passes_per_cast".into(), day.passes_per_cast.into());
    document
        .insert("strikes_with_one_rod".into(), day.strikes_with_one_rod.as_ref().map(estimate_json).into());
    document.insert("change_cost_per_100".into(), day.change_cost.into());
    document.insert(
        "steps".into(),
        day.steps.iter().enumerate().map(|(s, step)| step_json(day, s, step)).collect(),
    );
    document.insert("one_rod".into(), plan_json(day, &day.one_rod));
    document.insert("stepwise".into(), plan_json(day, &day.stepwise));
    let sets = day.tied_on.iter().map(|set| {
        let mut value = plan_json(day, &set.plan);
        value["baits"] = set.baits.iter().map(|&b| day.baits[b].clone()).collect();
        value["proven"] = set.proven.into();
        value
    });
    document.insert("tied_on".into(), sets.collect());
    let changes = day.changes.iter().map(|c| {
        json!({
            "from": day.baits[c.from], "to": day.baits[c.to],
            "time": calendar::clock(asked.scenario, c.unix_s), "unix_s": c.unix_s,
            "pays_in_share": c.pays_in, "first_kept_share": c.stays_in, "second_at_once_share": c.sooner_in,
            "pays_at_unix_s": c.pays_at_s.map(|[low, median, high]| json!({"low": low, "median": median, "high": high})),
        })
    });
    document.insert("changes".into(), changes.collect());
    document.insert("worlds_whose_own_plan_changes_share".into(), day.changing_worlds.into());
    document.insert("knowing_the_world_adds_per_100".into(), day.knowing_adds.into());
    document.insert("idle_rows".into(), day.idle_rows.clone().into());
    document.into()
}

fn daylight(daylight: Daylight) -> &'static str {
    match daylight {
        Daylight::Ordinary => "ordinary",
        Daylight::PastMidnight => "dark-after-midnight",
        Daylight::NoDusk => "no-dusk",
        Daylight::NoDawn => "no-dawn",
        Daylight::NeverDark => "never-dark",
        Daylight::NeverLight => "never-light",
    }
}

fn step_json(day: &Day, s: usize, step: &Step) -> Value {
    let baits: Vec<Value> = (0..day.baits.len())
        .map(|b| {
            json!({
                "name": day.baits[b], "strikes_per_100": estimate_json(&step.strikes[b]), "mean_per_100": step.means[b],
            })
        })
        .collect();
    let (secchi_m, turbidity_ntu) = match step.clarity {
        Clarity::Secchi(depth) => (Some(depth), None),
        Clarity::Turbidity(ntu) => (None, Some(ntu)),
    };
    json!({
        "from": step.clock.0, "to": step.clock.1,
        "from_unix_s": step.span_s.0, "to_unix_s": step.span_s.1,
        "sun": { "elevation_deg": step.sun.elevation_deg, "azimuth_deg": step.sun.azimuth_deg },
        "surface_lux": step.surface_lux, "fish_lux": step.fish_lux,
        "cloud": step.sky.cloud, "wind_m_s": step.sky.wind_m_s, "rain": step.sky.rain.label(),
        "secchi_m": secchi_m, "turbidity_ntu": turbidity_ntu, "casts": step.casts,
        "best": day.baits[step.best],
        "ties": step.ties.iter().map(|&b| day.baits[b].clone()).collect::<Vec<_>>(),
        "one_rod": day.baits[day.one_rod.choices[s]],
        "baits": baits,
    })
}

fn plan_json(day: &Day, plan: &Plan) -> Value {
    json!({
        "choices": plan.choices.iter().map(|&b| day.baits[b].clone()).collect::<Vec<_>>(),
        "strikes_per_100": estimate_json(&plan.strikes), "mean_per_100": plan.mean,
        "fewer_per_100": estimate_json(&plan.fewer), "mean_fewer_per_100": plan.mean_fewer,
    })
}

/// One row for each step and bait.
pub fn csv(day: &Day) -> Table {
    let columns = [
        "from",
        "to",
        "from_unix_s",
        "to_unix_s",
        "sun_elevation_deg",
        "surface_lux",
        "fish_lux",
        "cloud",
        "wind_m_s",
        "bait",
        "mean_per_100",
        "median_per_100",
        "low_per_100",
        "high_per_100",
        "best",
        "tie",
        "one_rod",
    ];
    let mut table = Table::new(columns.map(Column::text).to_vec());
    for (s, step) in day.steps.iter().enumerate() {
        for (b, name) in day.baits.iter().enumerate() {
            let e = &step.strikes[b];
            let yes = |is: bool| if is { "1".to_owned() } else { "0".to_owned() };
            table.push([
                step.clock.0.clone(),
                step.clock.1.clone(),
                step.span_s.0.to_string(),
                step.span_s.1.to_string(),
                step.sun.elevation_deg.to_string(),
                step.surface_lux.to_string(),
                step.fish_lux.to_string(),
                step.sky.cloud.to_string(),
                step.sky.wind_m_s.to_string(),
                name.clone(),
                step.means[b].to_string(),
                e.point.to_string(),
                e.low.to_string(),
                e.high.to_string(),
                yes(step.best == b),
                yes(step.ties.contains(&b)),
                yes(day.one_rod.choices[s] == b),
            ]);
        }
    }
    table
}
