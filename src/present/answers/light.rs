//! Light by hour and depth, and how far each finish is seen.

use super::{Asked, CAUTION, estimate_json};
use crate::present::figures::{self, Words, light as light_figure, seen};
use crate::present::scene::Scene;
use crate::present::table::{Column, Table};
use crate::present::words::two_digits;
use crate::scenario::day;
use crate::study::light::Light;
use serde_json::{Value, json};

/// The answer as text.
pub fn text(asked: &Asked, light: &Light) -> String {
    let mut out = asked.conditions();
    out.push('\n');
    out.push_str(&asked.wrapped(&headline(asked, light)));
    out.push_str(&asked.wrapped(&sun_line(asked, light)));
    out.push('\n');
    out.push_str(&asked.wrapped("Light by hour and depth, in lux (middle of the plausible worlds):"));
    out.push_str(&hours_table(asked, light).terminal(asked.width));
    out.push('\n');
    out.push_str(&asked.wrapped(&who_looks(asked, light)));
    out.push_str(&finish_table(asked, light).terminal(asked.width));
    out.push('\n');
    out.push_str(&asked.wrapped(&up_or_level(light)));
    out.push('\n');
    out.push_str(&asked.wrapped(CAUTION));
    out
}

/// Which bait is looked at, and from where.
fn who_looks(asked: &Asked, light: &Light) -> String {
    let u = asked.units;
    let (fish, bait) = (u.length(asked.setting.fish_depth_m), u.length(light.bait_depth_m));
    let eyes = if asked.setting.fish_depth_m >= light.bait_depth_m {
        format!("looking up by a fish at {fish}, level and looking down by one at {bait}")
    } else {
        format!("looking down by a fish at {fish}, level and looking up by one at {bait}")
    };
    format!(
        "How far each finish is seen on {} running at {bait}: {eyes} (middle, and nine in ten plausible worlds):",
        light.bait
    )
}

/// Whether height or side shows a finish better here.
fn up_or_level(light: &Light) -> String {
    let of = light.finishes.len();
    let up = light.finishes.iter().filter(|f| f.up.point > f.level.point).count();
    let found = match up {
        0 => "Here every finish is seen further level than from below.".to_owned(),
        n if n == of => "Here every finish is seen further from below than level.".to_owned(),
        n => format!("Here {n} of {of} finishes are seen further from below than level."),
    };
    format!(
        "{found} Contrast fades by c less K per metre looking up, by c level, by c plus K looking down; how bright a \
         finish stands before the water behind it differs too."
    )
}

fn headline(asked: &Asked, light: &Light) -> String {
    let mut order: Vec<usize> = (0..light.finishes.len()).collect();
    order.sort_by(|&a, &b| light.finishes[b].up.point.total_cmp(&light.finishes[a].up.point));
    let (Some(&first), Some(&last)) = (order.first(), order.last()) else { return String::new() };
    let (first, last) = (&light.finishes[first], &light.finishes[last]);
    format!(
        "From below, {} is seen furthest, from {}; {} least far, from {}.",
        first.name,
        asked.units.length(first.up.point),
        last.name,
        asked.units.length(last.up.point)
    )
}

fn sun_line(asked: &Asked, light: &Light) -> String {
    let clock = |t: Option<f64>| t.map_or("none".into(), |s| day::clock(asked.scenario, s));
    format!(
        "First light {}, sunrise {}, sunset {}, dark {}. Now {} lux on the water, {} just below; it fades by K = {} \
         per metre of depth and contrast by c = {} per metre of sight (daylight eye).",
        clock(light.times.civil_dawn_s),
        clock(light.times.sunrise_s),
        clock(light.times.sunset_s),
        clock(light.times.civil_dusk_s),
        two_digits(light.surface_lux.point),
        two_digits(light.below_surface_lux.point),
        two_digits(light.k_per_m.point),
        two_digits(light.c_per_m.point),
    )
}

/// Every second depth is shown: the rest is in the machine output.
const SHOWN: usize = 2;

/// Rows of the printed table: every half hour.
const TABLE_STEP_S: f64 = 1800.0;

fn hours_table(asked: &Asked, light: &Light) -> Table {
    let mut columns = vec![Column::text("time"), Column::number("sun °"), Column::number("surface")];
    let depths: Vec<usize> = (0..light.depths_m.len()).step_by(SHOWN).collect();
    columns.extend(depths.iter().map(|&d| Column::number(&asked.units.length(light.depths_m[d]))));
    let mut table = Table::new(columns);
    for hour in light.hours.iter().filter(|h| h.unix_s % TABLE_STEP_S == 0.0) {
        let mut row =
            vec![hour.clock.clone(), format!("{:.0}", hour.sun.elevation_deg), lux(hour.surface_lux)];
        row.extend(depths.iter().map(|&d| lux(hour.lux[d])));
        table.push(row);
    }
    table
}

fn lux(value: f64) -> String {
    if value < 1e-6 { "0".into() } else { two_digits(value) }
}

fn finish_table(asked: &Asked, light: &Light) -> Table {
    let (_, unit) = asked.units.length_value(1.0);
    let mut table = Table::new(vec![
        Column::text("finish"),
        Column::text("looking up").unit(unit),
        Column::text("level").unit(unit),
        Column::text("looking down").unit(unit),
    ]);
    let say = |e: &crate::statistics::estimate::Estimate| {
        let n = |m: f64| format!("{:.1}", asked.units.length_value(m).0);
        format!("{} ({} to {})", n(e.point), n(e.low), n(e.high))
    };
    for f in &light.finishes {
        table.push([f.name.clone(), say(&f.up), say(&f.level), say(&f.down)]);
    }
    table
}

/// Machine output.
pub fn json(asked: &Asked, light: &Light) -> Value {
    let mut document = asked.document("light");
    let pair =
        |e: &[crate::statistics::estimate::Estimate; 2]| json!({ "green": e[0].point, "red": e[1].point });
    document.insert(
        "sun".into(),
        json!({ "elevation_deg": light.sun.elevation_deg, "azimuth_deg": light.sun.azimuth_deg }),
    );
    document.insert("surface_lux".into(), light.surface_lux.point.into());
    document.insert("below_surface_lux".into(), light.below_surface_lux.point.into());
    document.insert("secchi_m".into(), light.secchi_m.point.into());
    document.insert("k_per_m".into(), light.k_per_m.point.into());
    document.insert("c_per_m".into(), light.c_per_m.point.into());
    document.insert("band_k_per_m".into(), pair(&light.band_k_per_m));
    document.insert("band_c_per_m".into(), pair(&light.band_c_per_m));
    document.insert(
        "sun_times_unix_s".into(),
        json!({
            "first_light": light.times.civil_dawn_s,
            "sunrise": light.times.sunrise_s,
            "sunset": light.times.sunset_s,
            "dark": light.times.civil_dusk_s,
        }),
    );
    document.insert("depths_m".into(), light.depths_m.clone().into());
    document.insert("lux".into(), light.lux.iter().map(estimate_json).collect());
    let hours: Vec<Value> = light
        .hours
        .iter()
        .map(|h| {
            json!({
                "time": h.clock, "unix_s": h.unix_s, "elevation_deg": h.sun.elevation_deg,
                "azimuth_deg": h.sun.azimuth_deg, "surface_lux": h.surface_lux, "lux": h.lux,
            })
        })
        .collect();
    document.insert("hours".into(), hours.into());
    document.insert("bait".into(), json!({ "name": light.bait, "depth_m": light.bait_depth_m }));
    let finishes: Vec<Value> = light
        .finishes
        .iter()
        .map(|f| {
            json!({
                "name": f.name,
                "seen_from_m": { "up": f.up.point, "level": f.level.point, "down": f.down.point },
                "range_m": {
                    "up": [f.up.low, f.up.high],
                    "level": [f.level.low, f.level.high],
                    "down": [f.down.low, f.down.high],
                },
            })
        })
        .collect();
    document.insert("finishes".into(), finishes.into());
    document.into()
}

/// Lux by hour and depth, for a spreadsheet.
pub fn csv(light: &Light) -> Table {
    let mut table =
        Table::new(["time", "unix_s", "sun_elevation_deg", "depth_m", "lux"].map(Column::text).to_vec());
    for h in &light.hours {
        for (depth, lux) in light.depths_m.iter().zip(&h.lux) {
            table.push([
                h.clock.clone(),
                h.unix_s.to_string(),
                h.sun.elevation_deg.to_string(),
                depth.to_string(),
                lux.to_string(),
            ]);
        }
    }
    table
}

/// The pictures: light by hour and depth, and the finishes.
pub fn pictures(asked: &Asked, light: &Light) -> Vec<(&'static str, Scene)> {
    let length = |metres: f64| asked.units.length_value(metres).0;
    let unit = asked.units.length_value(1.0).1.to_owned();
    // A day can run past midnight on the wall clock; the axis must rise.
    let start = light.hours.first().map_or(0.0, |h| h.unix_s);
    let first = light.hours.first().map_or(0.0, |h| h.clock_h);
    let hour = |unix_s: f64| first + (unix_s - start) / 3600.0;
    let field = light_figure::Light {
        words: Words { caption: day_caption(asked, light), note: note(asked) },
        unit: unit.clone(),
        hours: light.hours.iter().map(|h| hour(h.unix_s)).collect(),
        depths: light.depths_m.iter().map(|&z| length(z)).collect(),
        log10_lux: light
            .hours
            .iter()
            .map(|h| h.lux.iter().map(|l| crate::maths::log10(l.max(1e-9))).collect())
            .collect(),
        sunrise: light.times.sunrise_s.map(hour),
        sunset: light.times.sunset_s.map(hour),
        fish_depth: Some(length(asked.setting.fish_depth_m)),
    };
    let rows = light.finishes.iter().map(|f| seen::Row {
        name: f.name.clone(),
        up: length(f.up.point),
        level: length(f.level.point),
        down: length(f.down.point),
    });
    let finishes = seen::Seen {
        words: Words { caption: headline(asked, light), note: note(asked) },
        unit,
        rows: rows.collect(),
    };
    vec![("light", figures::light::light(&field)), ("finishes", figures::seen::seen(&finishes))]
}

fn note(asked: &Asked) -> String {
    asked.note_on(if asked.budget.fixed {
        "One world, every assumption at its default."
    } else {
        "Middle of the plausible worlds."
    })
}

/// What the day's light means at the depth of the fish.
fn day_caption(asked: &Asked, light: &Light) -> String {
    let depth = asked.setting.fish_depth_m;
    let nearest = (0..light.depths_m.len())
        .min_by(|&a, &b| (light.depths_m[a] - depth).abs().total_cmp(&(light.depths_m[b] - depth).abs()))
        .unwrap_or(0);
    let brightest = light.hours.iter().max_by(|a, b| a.lux[nearest].total_cmp(&b.lux[nearest]));
    match brightest {
        Some(h) => format!(
            "At {} the day is brightest about {}, {} lux; the surface has {}.",
            asked.units.length(light.depths_m[nearest]),
            h.clock,
            lux(h.lux[nearest]),
            lux(h.surface_lux)
        ),
        None => "Light by hour and depth.".into(),
    }
}
