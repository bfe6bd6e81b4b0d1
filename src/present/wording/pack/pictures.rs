//! The picture of a packed box.

use super::super::capital;
use super::{order, percent};
use crate::present::document::Picture;
use crate::present::figures::Words;
use crate::present::figures::panel::{Layer, One, Panels, Run, Side as Upright, panels};
use crate::present::figures::rows::{Cell, Group, Mark, Row, Rows, Said, Shape, Side};
use crate::present::palette::{ACCENT, FAINT, INK, PAPER, SERIES};
use crate::present::scene::{Dash, Stroke};
use crate::present::view::View;
use crate::present::words;
use crate::study::pack::Pack;

/// Baits shown.
const SHOWN: usize = 9;

/// What each further bait adds, and how often each bait is in the best set.
pub fn pictures(view: &View, pack: &Pack) -> Vec<Picture> {
    let carried = |b: usize| pack.members.iter().any(|m| m.bait == b);
    let mut shown = order(pack).baits().to_vec();
    shown.sort_by(|&a, &b| carried(b).cmp(&carried(a)).then(pack.inclusion[b].total_cmp(&pack.inclusion[a])));
    let mut layers = Vec::new();
    let sizes: Vec<_> = pack.sizes.iter().filter(|s| s.best.baits.len() == s.size).collect();
    let whole = pack.chosen().map(|s| s.best.mean + pack.mean_whole_box_adds);
    let named =
        |points, stroke, name: &str| Layer::Line { points, stroke, name: name.into(), tied_low: false };
    if let Some(at) = whole {
        let ends = vec![(0.5, at), (sizes.len() as f64 + 0.5, at)];
        layers.push(named(ends, Stroke::solid(INK, 1.6).dashed(Dash::Dashed), "the whole box"));
    }
    let ranges = if view.budget.fixed { &[][..] } else { &sizes[..] };
    layers.extend(ranges.iter().map(|s| {
        let ends = [s.best.strikes.low, s.best.strikes.high].map(|v| (s.size as f64, v));
        Layer::line(ends.into(), Stroke::solid(FAINT, 7.0))
    }));
    let curve = sizes.iter().map(|s| (s.size as f64, s.best.mean)).collect();
    layers.push(Layer::line(curve, Stroke::solid(ACCENT, 3.0)));
    let mut worse = Vec::new();
    for s in &sizes {
        let wanted = s.size == pack.members.len();
        layers.push(Layer::Dot {
            at: (s.size as f64, s.best.mean),
            radius: if wanted { 8.5 } else { 5.5 },
            fill: ACCENT,
            rim: Stroke::solid(PAPER, 1.5),
            said: if s.size > 1 {
                format!("+{}", words::small(s.mean_adds).replace("under ", "<"))
            } else {
                String::new()
            },
            bold: wanted,
        });
        if s.greedy.mean < s.best.mean - 1e-9 {
            worse.push((s.size as f64, s.greedy.mean));
        }
    }
    layers.extend(worse.iter().map(|&at| Layer::Dot {
        at,
        radius: 5.0,
        fill: PAPER,
        rim: Stroke::solid(SERIES[1], 2.5),
        said: String::new(),
        bold: false,
    }));
    // Only the last ring is tied to what the rings are.
    layers.extend(worse.last().map(|&at| named(vec![at], Stroke::solid(SERIES[1], 2.5), "one at a time")));
    let bait = |b: usize| {
        let (label, bar) = (percent(pack.inclusion[b]), 100.0 * pack.inclusion[b]);
        let shape = Shape::Bar { from: 0.0, to: bar, px: 22.0, said: String::new() };
        let marks = vec![Mark::new(shape, if carried(b) { ACCENT } else { FAINT })];
        let tells = format!("{label}{}", if carried(b) { " (carried)" } else { "" });
        let cells = vec![Cell { marks, said: vec![Said::new(label, false, false)] }];
        Row { name: pack.baits[b].clone(), bold: carried(b), tells, cells, ..Row::default() }
    };
    let shares = Rows {
        sides: vec![Side {
            title: "in the best set of so many plausible worlds (%)".into(),
            ends: Some((0.0, 100.0)),
            ..Side::default()
        }],
        groups: vec![Group {
            heading: "carried in bold".into(),
            bracket: false,
            rows: shown.into_iter().take(SHOWN).map(bait).collect(),
        }],
        row_px: 46.0,
        ..Rows::default()
    };
    let input = Panels {
        words: around(view, pack),
        tells: String::new(),
        x: Upright {
            ends: (Some(0.5), Some(sizes.len() as f64 + 0.5)),
            run: Run::Counts,
            ..Upright::new("baits carried")
        },
        panels: vec![One {
            y: Upright { ends: (Some(0.0), None), ..Upright::new("strikes in 100 passes") },
            height: 270.0,
            head: 8.0,
            layers,
            aside: String::new(),
        }],
        below: Some(shares),
    };
    vec![("pack".into(), panels(&input))]
}

fn around(view: &View, pack: &Pack) -> Words {
    let caption = match pack.sizes.iter().find(|s| s.best.baits.len() == pack.members.len()) {
        Some(size) if size.size > 1 => format!(
            "{} baits draw {} in 100 more than {}; all {} would add {}.",
            capital(&spelt(pack.members.len())),
            words::small(size.mean_adds),
            spelt(size.size - 1),
            pack.baits.len(),
            words::small(pack.mean_whole_box_adds)
        ),
        _ => format!(
            "One bait does: all {} would add {} in 100.",
            pack.baits.len(),
            words::small(pack.mean_whole_box_adds)
        ),
    };
    let ranges = if view.budget.fixed { "" } else { " Bars: nine in ten plausible worlds." };
    let titles: Vec<&str> = pack.sources.iter().map(|s| s.0.as_str()).collect();
    Words {
        caption,
        note: format!(
            "{}. Means over {} conditions, the best carried bait thrown in each.{ranges} {} A model, not a promise.",
            titles.join("; ").trim_end_matches('.'),
            pack.conditions.len(),
            view.run_line()
        ),
    }
}

fn spelt(n: usize) -> String {
    const WORDS: [&str; 10] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    WORDS.get(n).map_or_else(|| n.to_string(), |w| (*w).to_owned())
}
