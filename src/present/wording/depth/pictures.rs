//! How deep every bait runs along the retrieve.

use super::headline;
use crate::present::document::Picture;
use crate::present::figures::Words;
use crate::present::figures::panel::{Layer, One, Panels, Run, Side, panels};
use crate::present::palette::{INK, PAPER, SERIES, series};
use crate::present::scene::{Dash, Stroke};
use crate::present::view::View;
use crate::present::words::two_digits;
use crate::study::depth::{BaitPath, Depths};

/// The picture.
pub fn pictures(view: &View, depths: &Depths) -> Vec<Picture> {
    let length = |metres: f64| view.units.length_value(metres).0;
    let unit = view.units.length_value(1.0).1;
    let paths: Vec<(String, Vec<(f64, f64)>)> = shapes(depths)
        .into_iter()
        .map(|(name, b)| {
            let points = b.path.iter().map(|[x, z]| (length(*x), length(*z)));
            (name, points.collect())
        })
        .collect();
    let deepest = |points: &[(f64, f64)]| points.iter().map(|p| p.1).fold(0.0, f64::max);
    let runs = paths.iter().map(|p| deepest(&p.1)).fold(0.0, f64::max);
    let reach = paths.iter().flat_map(|p| &p.1).map(|p| p.0).fold(0.1, f64::max);
    let (fish, bottom) = (length(depths.fish_depth_m), length(depths.bottom_m));
    // A bottom far below everything else would only squeeze the paths.
    let shown = bottom <= 1.6 * runs.max(fish);
    let floor = (1.12 * runs.max(fish)).max(if shown { 1.06 * bottom } else { 0.5 });
    let mut layers = Vec::new();
    if shown {
        let corners = vec![(0.0, bottom), (reach, bottom), (reach, floor), (0.0, floor)];
        layers.push(Layer::Area { points: corners, fill: SERIES[3].towards(PAPER, 0.72).into() });
    } else {
        let text = format!("bottom at {} {unit}, below this picture", two_digits(bottom));
        layers.push(Layer::Words { at: (reach, 0.965 * floor), text });
    }
    let level = |at, text: String, stroke| Layer::Level { at, text, stroke, below: false };
    layers.push(level(0.0, String::new(), Stroke::solid(SERIES[6], 3.0)));
    layers.extend(paths.iter().enumerate().map(|(i, (name, points))| {
        let (colour, dash) = series(i);
        let stroke = Stroke::solid(colour, 3.0).dashed(dash);
        Layer::Line { points: points.clone(), stroke, name: name.clone(), tied_low: true }
    }));
    let dashed = Stroke::solid(INK, 2.0).dashed(Dash::Dashed);
    layers.push(level(fish, format!("fish at {} {unit}", two_digits(fish)), dashed));
    let tells = paths.iter().map(|(n, p)| format!("{n}: down to {} {unit}", two_digits(deepest(p))));
    let note = view.note_on("Paths as computed; the range is tuning and drag together.");
    let input = Panels {
        words: Words { caption: headline(view, depths), note },
        tells: tells.collect::<Vec<_>>().join("; "),
        x: Side {
            ends: (Some(0.0), Some(reach)),
            ..Side::new(&format!("line reeled in ({unit}): from where it lands to the rod"))
        },
        panels: vec![One {
            y: Side {
                title: format!("depth ({unit})"),
                ends: (Some(0.0), Some(floor)),
                run: Run::Even,
                downward: true,
            },
            height: 430.0,
            head: 10.0,
            layers,
            aside: String::new(),
        }],
        below: None,
    };
    vec![("depth".into(), panels(&input))]
}

/// One entry per distinct path: baits that run alike share a line in the picture, under what their names share.
fn shapes(depths: &Depths) -> Vec<(String, &BaitPath)> {
    let mut groups: Vec<Vec<&BaitPath>> = Vec::new();
    for bait in &depths.baits {
        match groups.iter_mut().find(|g| g[0].path == bait.path) {
            Some(group) => group.push(bait),
            None => groups.push(vec![bait]),
        }
    }
    let named = |group: Vec<&'_ BaitPath>| {
        let parts = |i: usize| group[i].name.split(", ").collect::<Vec<_>>();
        let mut shared = parts(0);
        for theirs in (1..group.len()).map(parts) {
            shared.truncate(shared.iter().zip(&theirs).take_while(|(a, b)| a == b).count());
        }
        match (shared.is_empty(), group.len()) {
            (_, 1) => group[0].name.clone(),
            (true, n) => format!("{} and {} more", group[0].name, n - 1),
            (false, n) => format!("{} ({n} baits)", shared.join(", ")),
        }
    };
    groups.into_iter().map(|group| (named(group.clone()), group[0])).collect()
}
