//! How far each finish is seen: looking up, level and down.
use super::{Words, frame, largest, name, nothing_to_show, shapes, widest};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, SMALL_PX, Scale, bottom_axis};
use crate::present::palette::{FAINT, HAIRLINE, INK, SERIES};
use crate::present::scene::{Anchor, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::text_width;
use crate::present::words::two_digits;

/// One finish.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// Seen from below, by a fish that looks up: distance in the reader's unit.
    pub up: f64,
    /// Seen level.
    pub level: f64,
    /// Seen from above, by a fish that looks down.
    pub down: f64,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Seen {
    /// The words around it.
    pub words: Words,
    /// Unit of the distances.
    pub unit: String,
    /// The finishes.
    pub rows: Vec<Row>,
}

const ROW_PX: f64 = 48.0;
const KEY_PX: f64 = 44.0;
const LOOKS: [&str; 3] = ["looking up", "level", "looking down"];

/// Draws the picture.
pub fn seen(input: &Seen) -> Scene {
    let rows_px = ROW_PX * input.rows.len().max(2) as f64;
    let (mut scene, panel) = frame(&input.words, KEY_PX + rows_px + BOTTOM_AXIS_PX);
    if input.rows.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let says = |r: &Row| {
        let [u, l, d] = [r.up, r.level, r.down].map(two_digits);
        format!("{}: {u} up, {l} level, {d} down", r.name)
    };
    let all: Vec<String> = input.rows.iter().map(says).collect();
    scene.description = format!("Seen from ({}). {}", input.unit, all.join("; "));
    let name_px = widest(input.rows.iter().map(|r| r.name.as_str()), BODY_PX, Weight::Regular, 260.0);
    let plot = panel.inset(name_px + 24.0, KEY_PX, 24.0, BOTTOM_AXIS_PX);
    let far = largest(input.rows.iter().flat_map(|r| [r.up, r.level, r.down]), 0.0);
    let scale = Scale::linear(0.0, if far > 0.0 { far * 1.05 } else { 1.0 }, (plot.left, plot.right));
    bottom_axis(&mut scene, &plot, &scale, &format!("seen from ({})", input.unit));
    let mut x = plot.left;
    for (look, text) in LOOKS.into_iter().enumerate() {
        mark(&mut scene, (x + 7.0, panel.top + 16.0), look);
        scene.text(Text::new((x + 22.0, panel.top + 16.0), text, SMALL_PX, INK).centred_on_line());
        x += 22.0 + text_width(text, SMALL_PX, Weight::Regular) + 28.0;
    }
    for (i, row) in input.rows.iter().enumerate() {
        let y = plot.top + ROW_PX * (i as f64 + 0.5);
        name(&mut scene, (plot.left - 20.0, y), &row.name, name_px, false, Anchor::End);
        scene.line((plot.left, y), (plot.right, y), Stroke::solid(HAIRLINE, 1.0));
        let places = [row.up, row.level, row.down].map(|v| scale.held(v));
        let known = || places.into_iter().filter(|x| x.is_finite());
        let (low, high) = (known().fold(f64::INFINITY, f64::min), known().fold(f64::NEG_INFINITY, f64::max));
        scene.line((low, y), (high, y), Stroke::solid(FAINT, 4.0));
        for (look, x) in places.into_iter().enumerate() {
            mark(&mut scene, (x, y), look);
        }
    }
    scene
}

/// A triangle up for looking up, a disk for level, a triangle down for looking down.
fn mark(scene: &mut Scene, at: Point, look: usize) {
    let rim = Some(Stroke::solid(crate::present::palette::PAPER, 1.4));
    match look {
        0 => scene.polygon(shapes::triangle(at, 8.0, true), Some(SERIES[1].into()), rim),
        1 => scene.circle(at, 7.0, Some(SERIES[2].into()), rim),
        _ => scene.polygon(shapes::triangle(at, 8.0, false), Some(SERIES[0].into()), rim),
    }
}
