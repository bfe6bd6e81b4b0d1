//! Running depths: the table, the paths, and what tackle reaches a wanted depth.

use super::{Asked, CAUTION};
use crate::bait::reach::Reach;
use crate::present::figures::{self, Words, paths};
use crate::present::scene::Scene;
use crate::present::table::{Column, Table};
use crate::study::depth::{Depths, Options};
use serde_json::{Value, json};

/// The answer as text; `wanted` holds the depth asked for and the options per bait.
pub fn text(asked: &Asked, depths: &Depths, wanted: Option<(f64, &[Options])>) -> String {
    let mut out = asked.conditions();
    out.push('\n');
    out.push_str(&asked.wrapped(&headline(asked, depths)));
    out.push('\n');
    out.push_str(&table(asked, depths).terminal(asked.width));
    out.push('\n');
    if let Some((depth_m, options)) = wanted {
        out.push_str(&asked.wrapped(&format!(
            "What takes a bait to {}, one change at a time, everything else as it is:",
            asked.units.length(depth_m)
        )));
        out.push_str(&options_table(asked, options).terminal(asked.width));
        out.push('\n');
    }
    out.push_str(&asked.wrapped(
        "The path is an arch: a bait runs near its greatest depth only for the share of the retrieve given. The range \
         is tuning and drag together (nine in ten baits). Speed hardly changes the depth; a higher rod tip, a \
         shorter cast and thicker line cost depth.",
    ));
    out.push('\n');
    out.push_str(&asked.wrapped(CAUTION));
    out
}

fn headline(asked: &Asked, depths: &Depths) -> String {
    let Some(deepest) = depths.baits.iter().max_by(|a, b| a.max_depth_m.total_cmp(&b.max_depth_m)) else {
        return "The box is empty.".into();
    };
    let u = asked.units;
    let gap = depths.fish_depth_m - deepest.max_depth_m;
    let place = if gap > 0.05 {
        format!("{} above the fish", u.length(gap))
    } else if gap < -0.05 {
        format!("{} below the fish", u.length(-gap))
    } else {
        "at the depth of the fish".into()
    };
    format!(
        "The deepest, {}, runs to {} ({} to {}) on this tackle, {place}.",
        deepest.name,
        u.length(deepest.max_depth_m),
        u.length(deepest.depth_range_m.0),
        u.length(deepest.depth_range_m.1),
    )
}

/// Greatest depths.
pub fn table(asked: &Asked, depths: &Depths) -> Table {
    let u = asked.units;
    let (_, unit) = u.length_value(1.0);
    let mut table = Table::new(vec![
        Column::text("bait"),
        Column::number("greatest depth").unit(unit),
        Column::text("range").unit(unit),
        Column::number("cast").unit(unit),
        Column::number("line reeled in there").unit(unit),
        Column::number("of the retrieve within a foot (0.3 m)"),
    ]);
    let number = |metres: f64| format!("{:.1}", u.length_value(metres).0);
    for b in &depths.baits {
        table.push([
            b.name.clone(),
            number(b.max_depth_m),
            format!("{} to {}", number(b.depth_range_m.0), number(b.depth_range_m.1)),
            number(b.path.cast_m()),
            number(b.reeled_to_max_m),
            format!("{:.0} %", 100.0 * b.share_near_max),
        ]);
    }
    table
}

fn options_table(asked: &Asked, options: &[Options]) -> Table {
    let u = asked.units;
    let mut table = Table::new(vec![
        Column::text("bait"),
        Column::text("now"),
        Column::text("line diameter"),
        Column::text("cast"),
        Column::text("rod tip"),
        Column::text("other line, same diameter"),
    ]);
    let say = |reach: &Reach, write: &dyn Fn(f64) -> String| match *reach {
        Reach::At(value) => write(value),
        Reach::TooDeepForIt { deepest_m } => format!("no: {} at most", u.length(deepest_m)),
        Reach::TooShallowForIt { shallowest_m } => format!("no: {} at least", u.length(shallowest_m)),
    };
    for o in options {
        let others: Vec<String> =
            o.materials.iter().map(|(name, depth)| format!("{name} {}", u.length(*depth))).collect();
        table.push([
            o.bait.clone(),
            u.length(o.now_m),
            say(&o.diameter, &|v| u.short_length(v)),
            say(&o.cast, &|v| u.length(v)),
            say(&o.rod_tip, &|v| u.length(v)),
            others.join(", "),
        ]);
    }
    table
}

/// Machine output.
pub fn json(asked: &Asked, depths: &Depths, wanted: Option<(f64, &[Options])>) -> Value {
    let mut document = asked.document("depth");
    let baits: Vec<Value> = depths
        .baits
        .iter()
        .map(|b| {
            let path: Vec<[f64; 2]> = b.path.points().map(|(x, z)| [x, z.min(depths.bottom_m)]).collect();
            json!({
                "name": b.name,
                "max_depth_m": b.max_depth_m,
                "max_depth_range_m": [b.depth_range_m.0, b.depth_range_m.1],
                "cast_m": b.path.cast_m(),
                "reeled_to_max_m": b.reeled_to_max_m,
                "share_near_max": b.share_near_max,
                "path": path,
            })
        })
        .collect();
    document.insert("baits".into(), baits.into());
    if let Some((depth_m, options)) = wanted {
        let all: Vec<Value> = options.iter().map(options_json).collect();
        document.insert("wanted_depth_m".into(), depth_m.into());
        document.insert("options".into(), all.into());
    }
    document.into()
}

fn options_json(o: &Options) -> Value {
    let reach = |r: &Reach| match *r {
        Reach::At(value) => json!({ "at_m": value }),
        Reach::TooDeepForIt { deepest_m } => json!({ "at_m": null, "deepest_m": deepest_m }),
        Reach::TooShallowForIt { shallowest_m } => json!({ "at_m": null, "shallowest_m": shallowest_m }),
    };
    let materials: serde_json::Map<String, Value> =
        o.materials.iter().map(|(name, depth)| (name.clone(), (*depth).into())).collect();
    json!({
        "bait": o.bait,
        "now_m": o.now_m,
        "diameter": reach(&o.diameter),
        "cast": reach(&o.cast),
        "rod_tip": reach(&o.rod_tip),
        "other_lines_m": materials,
    })
}

/// Depths by line reeled in, for a spreadsheet.
pub fn csv(depths: &Depths) -> Table {
    let mut table = Table::new(["bait", "reeled_m", "depth_m"].map(Column::text).to_vec());
    for b in &depths.baits {
        for (reeled, depth) in b.path.points() {
            table.push([b.name.clone(), reeled.to_string(), depth.min(depths.bottom_m).to_string()]);
        }
    }
    table
}

/// The picture.
pub fn pictures(asked: &Asked, depths: &Depths) -> Vec<(&'static str, Scene)> {
    let length = |metres: f64| asked.units.length_value(metres).0;
    let input = paths::Paths {
        words: Words {
            caption: headline(asked, depths),
            note: asked.note_on("Paths as computed; the range is tuning and drag together."),
        },
        unit: asked.units.length_value(1.0).1.into(),
        paths: shapes(depths)
            .into_iter()
            .map(|(name, b)| paths::Path {
                name,
                points: b.path.points().map(|(x, z)| (length(x), length(z.min(depths.bottom_m)))).collect(),
            })
            .collect(),
        fish_depth: Some(length(depths.fish_depth_m)),
        bottom: Some(length(depths.bottom_m)),
    };
    vec![("depth", figures::paths::paths(&input))]
}

/// One entry per distinct path: baits that run alike share a line in the picture, under what their names share.
fn shapes(depths: &Depths) -> Vec<(String, &crate::study::depth::BaitPath)> {
    let mut groups: Vec<Vec<&crate::study::depth::BaitPath>> = Vec::new();
    for bait in &depths.baits {
        match groups.iter_mut().find(|g| g[0].path == bait.path) {
            Some(group) => group.push(bait),
            None => groups.push(vec![bait]),
        }
    }
    groups
        .into_iter()
        .map(|group| {
            let parts = |b: &crate::study::depth::BaitPath| -> Vec<String> {
                b.name.split(", ").map(str::to_owned).collect()
            };
            let mut shared = parts(group[0]);
            for other in group.iter().skip(1) {
                let theirs = parts(other);
                shared.truncate(shared.iter().zip(&theirs).take_while(|(a, b)| a == b).count());
            }
            let name = match (shared.is_empty(), group.len()) {
                (_, 1) => group[0].name.clone(),
                (true, n) => format!("{} and {} more", group[0].name, n - 1),
                (false, n) => format!("{} ({n} baits)", shared.join(", ")),
            };
            (name, group[0])
        })
        .collect()
}
