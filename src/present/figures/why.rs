//! What drives an answer: for each unknown two bars side by side, its share in the odds and in the choice.
use super::{Words, frame, label, largest, nothing_to_show};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis};
use crate::present::escape::terminal_text;
use crate::present::palette::{ACCENT, FAINT, INK, MUTED, PAPER, SERIES};
use crate::present::scene::{Anchor, Colour, Dash, Scene, Stroke, Text, Weight};
use crate::present::text_width::wrap;

/// A share with its range.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its length, not negative.
    pub value: f64,
    /// Lower end of its range.
    pub low: f64,
    /// Upper end of its range.
    pub high: f64,
    /// What is written behind it.
    pub label: String,
    /// Shown pale: not to be told from the floor.
    pub muted: bool,
}

/// One unknown: its bars, one for each panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it is.
    pub name: String,
    /// How well it is known, or whatever stands below the name.
    pub below: String,
    /// Its bars.
    pub bars: Vec<Bar>,
}

/// One panel: its heading and the floor.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// What stands above it.
    pub heading: String,
    /// What its axis measures.
    pub axis: String,
    /// Level under which nothing is told from noise, where that is one level.
    pub floor: Option<f64>,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Why {
    /// The words around it.
    pub words: Words,
    /// What the floor is.
    pub floor: String,
    /// Whether the panels measure the same, so that bars can be compared across.
    pub one_scale: bool,
    /// One panel or two.
    pub sides: Vec<Side>,
    /// The unknowns, the greatest share first.
    pub rows: Vec<Row>,
}

const NAMES_PX: f64 = 300.0;
const LABELS_PX: f64 = 84.0;
const GAP_PX: f64 = 8.0;
const NAME_LINES: usize = 3;
const NAME_STEP: f64 = BODY_PX * 1.16;
const BAR_PX: f64 = 22.0;

/// Draws the picture.
pub fn why(input: &Why) -> Scene {
    let names: Vec<Vec<String>> = input
        .rows
        .iter()
        .map(|r| wrap(&terminal_text(&r.name), BODY_PX, Weight::Regular, NAMES_PX, NAME_LINES))
        .collect();
    let height = |lines: &Vec<String>| NAME_STEP * lines.len().max(1) as f64 + SMALL_PX + 18.0;
    let rows_px = names.iter().map(height).sum::<f64>().max(88.0);
    let headings: Vec<Vec<String>> = input.sides.iter().map(|s| heading(s, input.sides.len())).collect();
    let head_px = 44.0 + NAME_STEP * headings.iter().map(Vec::len).max().unwrap_or(1) as f64;
    let (mut scene, panel) = frame(&input.words, head_px + rows_px + BOTTOM_AXIS_PX);
    if input.rows.is_empty() || input.sides.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let says = |r: &Row| {
        let bars = r.bars.iter().zip(&input.sides).map(|(b, s)| format!("{} {}", s.heading, b.label));
        format!("{}: {}", r.name, bars.collect::<Vec<_>>().join(", "))
    };
    scene.description = input.rows.iter().map(says).collect::<Vec<_>>().join("; ");
    let plots: Vec<Panel> = plots(&panel, head_px, input.sides.len());
    let tops: Vec<f64> = (0..input.sides.len()).map(|k| top(input, k)).collect();
    for (k, (side, plot)) in input.sides.iter().zip(&plots).enumerate() {
        let top = if input.one_scale { largest(tops.iter().copied(), 0.0) } else { tops[k] };
        let scale = Scale::linear(0.0, if top > 0.0 { top * 1.04 } else { 1.0 }, (plot.left, plot.right));
        bottom_axis(&mut scene, plot, &scale, &side.axis);
        for (i, line) in headings[k].iter().enumerate() {
            let at = (plot.left, panel.top + 12.0 + NAME_STEP * i as f64);
            scene.text(Text::new(at, line, BODY_PX, ACCENT).bold());
        }
        let mut y = plot.top;
        for (row, lines) in input.rows.iter().zip(&names) {
            let middle = y + 0.5 * height(lines);
            if let Some(bar) = row.bars.get(k) {
                draw_bar(&mut scene, plot, &scale, bar, middle, colour(k));
            }
            y += height(lines);
        }
        if let Some(level) = side.floor {
            floor(&mut scene, plot, &scale, level, &input.floor);
        }
    }
    let mut y = plots[0].top;
    for (row, lines) in input.rows.iter().zip(&names) {
        let first =
            y + 0.5 * height(lines) - 0.5 * (NAME_STEP * lines.len() as f64 + SMALL_PX) + 0.4 * BODY_PX;
        for (i, line) in lines.iter().enumerate() {
            let at = (plots[0].left - 16.0, first + NAME_STEP * i as f64);
            scene.text(Text::new(at, line, BODY_PX, INK).anchored(Anchor::End).centred_on_line());
        }
        let at = (plots[0].left - 16.0, first + NAME_STEP * lines.len() as f64);
        let below = label(at, &row.below, SMALL_PX, Weight::Regular, NAMES_PX);
        scene.text(Text { colour: MUTED, ..below }.anchored(Anchor::End).centred_on_line());
        y += height(lines);
    }
    scene
}

/// The greatest value of a panel.
fn top(input: &Why, side: usize) -> f64 {
    let ends = input.rows.iter().filter_map(|r| r.bars.get(side)).flat_map(|b| [b.value, b.high]);
    largest(ends.chain(input.sides.get(side).and_then(|s| s.floor)), 0.0)
}

fn colour(side: usize) -> Colour {
    if side == 0 { SERIES[2].towards(ACCENT, 0.35) } else { SERIES[1] }
}

fn width(sides: usize) -> f64 {
    let room = super::WIDTH_PX - 2.0 * super::MARGIN_PX - NAMES_PX - 20.0;
    let n = sides.max(1) as f64;
    (room - GAP_PX * (n - 1.0)) / n
}

fn heading(side: &Side, sides: usize) -> Vec<String> {
    wrap(&terminal_text(&side.heading), BODY_PX, Weight::Bold, width(sides), 3)
}

fn plots(panel: &Panel, head_px: f64, sides: usize) -> Vec<Panel> {
    let (left, each) = (panel.left + NAMES_PX + 20.0, width(sides));
    (0..sides)
        .map(|k| {
            let from = left + (each + GAP_PX) * k as f64;
            Panel {
                left: from,
                top: panel.top + head_px,
                right: from + each - LABELS_PX,
                bottom: panel.bottom - BOTTOM_AXIS_PX,
            }
        })
        .collect()
}

fn draw_bar(scene: &mut Scene, plot: &Panel, scale: &Scale, bar: &Bar, y: f64, colour: Colour) {
    let end = if bar.value.is_finite() { scale.held(bar.value) } else { plot.left };
    let fill = if bar.muted { FAINT } else { colour };
    scene.rect((plot.left, y - 0.5 * BAR_PX), (end - plot.left, BAR_PX), fill);
    if !bar.muted && bar.low.is_finite() && bar.high.is_finite() {
        let (low, high) = (scale.held(bar.low), scale.held(bar.high));
        for stroke in [Stroke::solid(PAPER, 5.0), Stroke::solid(INK, 2.0)] {
            scene.line((low, y), (high, y), stroke);
            for x in [low, high] {
                scene.line((x, y - 5.0), (x, y + 5.0), stroke);
            }
        }
    }
    let said = label((plot.right + 8.0, y), &bar.label, BODY_PX, Weight::Regular, LABELS_PX - 8.0);
    scene.text(Text { colour: if bar.muted { MUTED } else { INK }, ..said }.centred_on_line());
}

fn floor(scene: &mut Scene, plot: &Panel, scale: &Scale, level: f64, text: &str) {
    let x = scale.held(level);
    scene.line((x, plot.top - 4.0), (x, plot.bottom), Stroke::solid(INK, 1.6).dashed(Dash::Dashed));
    let room = plot.right + LABELS_PX - x;
    scene.text(label((x, plot.top - 10.0), text, SMALL_PX, Weight::Regular, room));
}
