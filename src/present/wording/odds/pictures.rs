//! The pictures: plausible worlds as dots, where passes are lost, the water column.

use super::super::capital;
use super::lost;
use crate::models::Assumed;
use crate::present::document::Picture;
use crate::present::figures::rows::{Cell, Group, Mark, Row, Rows, Said, Shape, Side, rows};
use crate::present::figures::{Words, column};
use crate::present::palette::{ACCENT, FAINT, PAPER};
use crate::present::scene::Colour;
use crate::present::view::View;
use crate::present::words::{self, number_per_100, short_range};
use crate::study::odds::{BaitOdds, Odds};
use crate::world::World;

/// The pictures: name and scene.
pub fn pictures(view: &View, odds: &Odds) -> Vec<Picture> {
    let mut all =
        vec![("odds".into(), rows(&dots(view, odds))), ("losses".into(), rows(&stages(view, odds)))];
    if let Ok(defaults) = Assumed::defaults(view.models) {
        let column = water_column(view, odds, &World::new(view.prepared, &defaults));
        all.push(("column".into(), column::column(&column)));
    }
    all
}

/// The plausible worlds as dots, ties as a group.
fn dots(view: &View, odds: &Odds) -> Rows {
    let row = |b: &BaitOdds| {
        let (best, e) = (b.could_be_best, &b.strikes);
        let heap = Shape::Heap { dots: b.dots.clone(), median: e.point };
        let said = Said::new(short_range(e.point, e.low, e.high), best, !best);
        let cell = Cell { marks: vec![Mark::new(heap, if best { ACCENT } else { FAINT })], said: vec![said] };
        Row { name: b.name.clone(), bold: best, cells: vec![cell], ..Row::default() }
    };
    let baits = || odds.order.iter().map(|&b| &odds.baits[b]);
    let group = |heading: &str, bracket: bool| Group {
        heading: heading.into(),
        bracket,
        rows: baits().filter(|b| b.could_be_best == bracket).map(row).collect(),
    };
    let count = baits().map(|b| b.dots.len()).max().unwrap_or(0);
    let title = format!("strikes in 100 passes; each dot is one plausible world in {count}");
    Rows {
        words: Words { caption: short_headline(odds), note: view.note() },
        sides: vec![Side { title, ..Side::default() }],
        groups: vec![group("Could be best", true), group("Behind", false)],
        row_px: 58.0,
        ..Rows::default()
    }
}

/// What became of 100 passes, from pale to dark, so that grey print keeps the order; the strike is the darkest.
fn stages(view: &View, odds: &Odds) -> Rows {
    let shades = [ACCENT.towards(PAPER, 0.88), Colour(0xa9, 0xc4, 0xd0), Colour(0x5b, 0x8d, 0x9f), ACCENT];
    let names = ["never noticed", "stayed put", "turned away", "struck"];
    let row = |b: &BaitOdds| {
        let l = &b.losses;
        let shares = [l.never_noticed, l.stayed_put, l.turned_away, l.struck];
        let mut from = 0.0;
        let bar = |(k, share): (usize, f64)| {
            let to = from + share;
            // The strikes stand behind the bar.
            let said = if k < 3 { number_per_100(share) } else { String::new() };
            let mark = Mark::new(Shape::Bar { from, to, px: 37.0, said }, shades[k]);
            from = to;
            mark
        };
        let marks = shares.into_iter().enumerate().map(bar).collect();
        let said = Said::new(format!("{} struck", number_per_100(l.struck)), true, false);
        let tells = shares.iter().zip(names).map(|(v, n)| format!("{} {n}", number_per_100(*v)));
        Row {
            name: b.name.clone(),
            cells: vec![Cell { marks, said: vec![said] }],
            tells: tells.collect::<Vec<_>>().join(", "),
            ..Row::default()
        }
    };
    let swatch = |shade| Mark::new(Shape::Bar { from: 0.0, to: 1.0, px: 16.0, said: String::new() }, shade);
    Rows {
        words: Words { caption: lost(odds).unwrap_or_default(), note: view.note() },
        key: shades.into_iter().zip(names).map(|(s, n)| (vec![swatch(s)], n.to_owned())).collect(),
        sides: vec![Side {
            title: "of 100 passes near such a fish".into(),
            ends: Some((0.0, 100.0)),
            ..Side::default()
        }],
        groups: vec![Group::plain(odds.order.iter().map(|&b| row(&odds.baits[b])))],
        row_px: 52.0,
        ..Rows::default()
    }
}

/// The house figure, for the leader, the bait in the middle and the last.
fn water_column(view: &View, odds: &Odds, defaults: &World) -> column::Column {
    let (u, prepared) = (view.units, view.prepared);
    let length = |metres: f64| u.length_value(metres).0;
    let mut shown: Vec<usize> = [0, odds.order.len() / 2, odds.order.len().saturating_sub(1)]
        .iter()
        .filter_map(|&i| odds.order.get(i).copied())
        .collect();
    shown.dedup();
    let baits: Vec<column::Bait> = shown
        .iter()
        .map(|&b| {
            let seen = odds.baits[b].seen_from;
            column::Bait {
                name: odds.baits[b].name.clone(),
                path: prepared.baits[b]
                    .path
                    .points()
                    .map(|(x, z)| (length(x), length(z.min(prepared.bottom_m))))
                    .collect(),
                seen: Some(column::Range {
                    up: length(seen.up),
                    level: length(seen.level),
                    down: length(seen.down),
                }),
            }
        })
        .collect();
    let k = defaults.k_per_m[defaults.clearest];
    let light = (0..=40).map(|i| {
        let z = prepared.bottom_m * f64::from(i) / 40.0;
        (length(z), crate::maths::exp(-k * z))
    });
    let up = prepared.sun.elevation_deg > 0.0;
    column::Column {
        words: Words { caption: reach_caption(view, odds, &shown), note: view.note() },
        unit: u.length_value(1.0).1.into(),
        tint: match view.scenario.water.tint {
            crate::scenario::Tint::Clear => column::Tint::Clear,
            crate::scenario::Tint::TeaStained => column::Tint::Tea,
            crate::scenario::Tint::AlgaeGreen => column::Tint::Green,
            crate::scenario::Tint::Clay => column::Tint::Clay,
        },
        light: light.collect(),
        sun: up.then(|| column::Sun {
            elevation_deg: prepared.sun.elevation_deg,
            refracted_deg: 90.0 - crate::maths::acos(defaults.below.cos_refracted).to_degrees(),
        }),
        fish: Some(column::Fish {
            depth: length(prepared.fish_depth_m),
            spread: length(prepared.depth_spread_m),
            reeled: None,
        }),
        baits,
        secchi: Some(length(defaults.secchi_m)),
        bottom: Some(length(prepared.bottom_m)),
    }
}

/// Whether the fish can see the leader from where it hangs.
fn reach_caption(view: &View, odds: &Odds, shown: &[usize]) -> String {
    let Some(leader) = shown.first().map(|&b| &odds.baits[b]) else { return String::new() };
    let gap = view.prepared.fish_depth_m - leader.running_depth_m;
    let (u, seen) = (view.units, &leader.seen_from);
    let range = if gap >= 0.0 { seen.up } else { seen.down };
    let way = if gap >= 0.0 { "below" } else { "above" };
    let sight = match u.length(range) {
        _ if u.length_value(range).0 < words::UNSEEN => "cannot make it out".to_string(),
        far => format!("sees it from {far}{}", if range < gap.abs() { ", not far enough" } else { "" }),
    };
    format!(
        "{} runs to {}; the fish hangs {} {way} that and {sight}.",
        leader.name,
        u.length(leader.running_depth_m),
        u.length(gap.abs()),
    )
}

/// The finding in a line or two, for a picture that names every bait itself.
fn short_headline(odds: &Odds) -> String {
    let Some(leader) = odds.leader() else { return "The box is empty.".into() };
    let strikes =
        capital(&words::range_per_100(leader.strikes.point, leader.strikes.low, leader.strikes.high));
    let rank = match (odds.baits.iter().filter(|b| b.rank.0 == 1).count(), odds.baits.len()) {
        (0 | 1, _) => String::new(),
        (n, of) if n == of => format!(" All {of} may come first by rank."),
        (n, of) => format!(" {n} of {of} may come first by rank."),
    };
    format!("{strikes} passes end in a strike with {}.{rank}", leader.name)
}
