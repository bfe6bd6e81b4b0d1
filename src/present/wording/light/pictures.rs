//! Light by hour and depth, and how far each finish is seen: looking up, level and down.

use super::headline;
use crate::present::columns::Kind;
use crate::present::document::Picture;
use crate::present::figures::rows::{Cell, Group, Mark, Row, Rows, Shape, Side, rows};
use crate::present::figures::{Words, light as light_figure};
use crate::present::palette::{FAINT, SERIES};
use crate::present::scene::Dash;
use crate::present::view::View;
use crate::present::words::two_digits;
use crate::study::light::{Hour, Light};

/// The pictures: name and scene.
pub fn pictures(view: &View, light: &Light) -> Vec<Picture> {
    let length = |metres: f64| view.units.length_value(metres).0;
    let unit = view.units.length_value(1.0).1.to_owned();
    let note = view.note_on(match view.budget.fixed {
        true => "One world, every assumption at its default.",
        false => "Middle of the plausible worlds.",
    });
    // A day can run past midnight on the wall clock; the axis must rise.
    let (start, first) = light.hours.first().map_or((0.0, 0.0), |h| (h.unix_s, h.clock_h));
    let hour = |unix_s: f64| first + (unix_s - start) / 3600.0;
    let log = |h: &Hour| h.lux.iter().map(|l| crate::maths::log10(l.max(1e-9))).collect();
    let field = light_figure::Light {
        words: Words { caption: day_caption(view, light), note: note.clone() },
        unit,
        hours: light.hours.iter().map(|h| hour(h.unix_s)).collect(),
        depths: light.depths_m.iter().map(|&z| length(z)).collect(),
        log10_lux: light.hours.iter().map(log).collect(),
        sunrise: light.times.sunrise_s.map(hour),
        sunset: light.times.sunset_s.map(hour),
        fish_depth: Some(length(view.prepared.fish_depth_m)),
    };
    vec![
        ("light".into(), light_figure::light(&field)),
        ("finishes".into(), rows(&finishes(view, light, note))),
    ]
}

/// A triangle up for looking up, a disk for level, a triangle down for looking down.
fn finishes(view: &View, light: &Light, note: String) -> Rows {
    let length = |metres: f64| view.units.length_value(metres).0;
    let unit = view.units.length_value(1.0).1;
    let signs = |[up, level, down]: [f64; 3]| {
        vec![
            Mark::new(Shape::Triangle { at: up, half: 8.0, up: true }, SERIES[1]),
            Mark::new(Shape::Dot { at: level, radius: 7.0 }, SERIES[2]),
            Mark::new(Shape::Triangle { at: down, half: 8.0, up: false }, SERIES[0]),
        ]
    };
    let looks = ["looking up", "level", "looking down"];
    let rows = light.finishes.iter().map(|f| {
        let places = [f.middle.up, f.middle.level, f.middle.down].map(length);
        let low = places.into_iter().fold(f64::INFINITY, f64::min);
        let high = places.into_iter().fold(f64::NEG_INFINITY, f64::max);
        let mut marks = vec![Mark::new(Shape::Line { low, high, px: 4.0, dash: Dash::Solid }, FAINT)];
        marks.extend(signs(places));
        let [up, level, down] = places.map(two_digits);
        Row {
            name: f.name.clone(),
            cells: vec![Cell { marks, said: Vec::new() }],
            tells: format!("{up} up, {level} level, {down} down"),
            ..Row::default()
        }
    });
    Rows {
        words: Words { caption: headline(view, light), note },
        key: signs([0.5; 3]).into_iter().zip(looks).map(|(m, l)| (vec![m], l.to_owned())).collect(),
        sides: vec![Side { title: format!("seen from ({unit})"), ..Side::default() }],
        groups: vec![Group::plain(rows)],
        row_px: 48.0,
        ..Rows::default()
    }
}

/// What the day's light means at the depth of the fish.
fn day_caption(view: &View, light: &Light) -> String {
    let off = |i: &usize| (light.depths_m[*i] - view.prepared.fish_depth_m).abs();
    let nearest = (0..light.depths_m.len()).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(0);
    match light.hours.iter().max_by(|a, b| a.lux[nearest].total_cmp(&b.lux[nearest])) {
        Some(h) => format!(
            "At {} the day is brightest about {}, {} lux; the surface has {}.",
            view.units.length(light.depths_m[nearest]),
            h.clock,
            Kind::Lux.number(h.lux[nearest], view.units),
            Kind::Lux.number(h.surface_lux, view.units)
        ),
        None => "Light by hour and depth.".into(),
    }
}
