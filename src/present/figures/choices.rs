//! A few things compared under each of some named conditions: middle values and ranges, row by row.
use super::{MARGIN_PX, WIDTH_PX, Words, frame, largest, name, nothing_to_show, widest};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis};
use crate::present::escape::terminal_text;
use crate::present::palette::{HAIRLINE, INK, PAPER, series};
use crate::present::scene::{Anchor, Scene, Stroke, Text, Weight};
use crate::present::text_width::{fit, text_width};

/// The value of one thing under one condition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// Middle value.
    pub middle: f64,
    /// Lower end of its range.
    pub low: f64,
    /// Upper end of its range.
    pub high: f64,
}

/// One condition.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// One mark for each of the things compared.
    pub marks: Vec<Mark>,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Choices {
    /// The words around it.
    pub words: Words,
    /// What is measured, with its unit.
    pub x_title: String,
    /// Names of the things compared.
    pub names: Vec<String>,
    /// The conditions, from the top.
    pub rows: Vec<Row>,
}

const MARK_PX: f64 = 20.0;
const ROW_GAP_PX: f64 = 20.0;
const KEY_LINE_PX: f64 = 26.0;

/// Draws the picture.
pub fn choices(input: &Choices) -> Scene {
    let row_px = MARK_PX * input.names.len() as f64 + ROW_GAP_PX;
    let key = key_rows(&input.names);
    let body_px = row_px * input.rows.len().max(2) as f64 + BOTTOM_AXIS_PX + KEY_LINE_PX * key.len() as f64;
    let (mut scene, panel) = frame(&input.words, body_px);
    if input.rows.is_empty() || input.names.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description = description(input);
    let names_px = widest(input.rows.iter().map(|r| r.name.as_str()), BODY_PX, Weight::Bold, 200.0);
    let below = BOTTOM_AXIS_PX + KEY_LINE_PX * key.len() as f64;
    let plot = panel.inset(names_px + 18.0, 0.0, 12.0, below);
    let highs = input.rows.iter().flat_map(|r| &r.marks).flat_map(|m| [m.middle, m.high]);
    let scale = Scale::linear(0.0, largest(highs, 1e-9) * 1.03, (plot.left, plot.right));
    bottom_axis(&mut scene, &plot, &scale, &input.x_title);
    for (i, row) in input.rows.iter().enumerate() {
        let top = plot.top + row_px * i as f64;
        if i > 0 {
            scene.line((panel.left, top), (plot.right, top), Stroke::solid(HAIRLINE, 1.0));
        }
        name(&mut scene, (panel.left, top + 0.5 * row_px), &row.name, names_px, true, Anchor::Start);
        for (k, mark) in row.marks.iter().enumerate() {
            let y = top + 0.5 * ROW_GAP_PX + MARK_PX * (k as f64 + 0.5);
            draw_mark(&mut scene, &scale, y, mark, k);
        }
    }
    draw_key(&mut scene, &key, plot.bottom + BOTTOM_AXIS_PX + 0.5 * KEY_LINE_PX, &panel);
    scene
}

fn draw_mark(scene: &mut Scene, scale: &Scale, y: f64, mark: &Mark, k: usize) {
    let (colour, dash) = series(k);
    if mark.low.is_finite() && mark.high.is_finite() {
        scene.line(
            (scale.at(mark.low), y),
            (scale.at(mark.high), y),
            Stroke::solid(colour, 3.0).dashed(dash),
        );
    }
    if mark.middle.is_finite() {
        scene.circle((scale.at(mark.middle), y), 6.5, Some(colour.into()), Some(Stroke::solid(PAPER, 1.5)));
    }
}

/// Names set in lines: place in the list, text, x from the left.
fn key_rows(names: &[String]) -> Vec<Vec<(usize, String, f64)>> {
    let room = WIDTH_PX - 2.0 * MARGIN_PX;
    let mut rows: Vec<Vec<(usize, String, f64)>> = Vec::new();
    let mut x = f64::INFINITY;
    for (k, name) in names.iter().enumerate() {
        let text = fit(&terminal_text(name), SMALL_PX, Weight::Regular, room - 60.0);
        let width = 46.0 + text_width(&text, SMALL_PX, Weight::Regular) + 22.0;
        if x + width > room {
            rows.push(Vec::new());
            x = 0.0;
        }
        if let Some(row) = rows.last_mut() {
            row.push((k, text, x));
        }
        x += width;
    }
    rows
}

fn draw_key(scene: &mut Scene, rows: &[Vec<(usize, String, f64)>], top: f64, panel: &Panel) {
    for (r, row) in rows.iter().enumerate() {
        let y = top + KEY_LINE_PX * r as f64;
        for (k, text, x) in row {
            let left = panel.left + x;
            let (colour, dash) = series(*k);
            scene.line((left, y), (left + 38.0, y), Stroke::solid(colour, 3.0).dashed(dash));
            scene.circle((left + 19.0, y), 6.5, Some(colour.into()), Some(Stroke::solid(PAPER, 1.5)));
            scene.text(Text::new((left + 46.0, y), text, SMALL_PX, INK).centred_on_line());
        }
    }
}

fn description(input: &Choices) -> String {
    let number = crate::present::words::two_digits;
    let row = |r: &Row| {
        let one = |(n, m): (&String, &Mark)| format!("{n} {}", number(m.middle));
        format!("{}: {}", r.name, input.names.iter().zip(&r.marks).map(one).collect::<Vec<_>>().join(", "))
    };
    format!("{}. {}", input.x_title, input.rows.iter().map(row).collect::<Vec<_>>().join("; "))
}
