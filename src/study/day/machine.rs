//! A day for other programs: baits by name.

use super::steps::Daylight;
use super::{Day, Plan, Step};
use crate::scenario::Clarity;
use serde::{Serialize, Serializer};
use serde_json::{Map, Value, json};

impl Serialize for Day {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        out(self).serialize(to)
    }
}

fn out(day: &Day) -> Value {
    let mut document = Map::new();
    let times = day.planned.times;
    document.insert("sun_times_unix_s".into(), json!(times));
    document.insert("daylight".into(), daylight(day.planned.daylight).into());
    document.insert("planned_unix_s".into(), json!([day.planned.span.from_s, day.planned.span.to_s]));
    document.insert("casts_per_hour".into(), day.casts_per_hour.into());
    document.insert("passes_per_cast".into(), day.passes_per_cast.into());
    document.insert("strikes_with_one_rod".into(), json!(day.strikes_with_one_rod));
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
            "time": c.clock, "unix_s": c.unix_s,
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
                "name": day.baits[b], "strikes_per_100": json!(&step.strikes[b]), "mean_per_100": step.means[b],
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
        "sun": step.sun,
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
        "strikes_per_100": json!(&plan.strikes), "mean_per_100": plan.mean,
        "fewer_per_100": json!(&plan.fewer), "mean_fewer_per_100": plan.mean_fewer,
    })
}
