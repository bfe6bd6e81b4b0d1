//! Horizontal bars with ranges: what drives the answer, what finding out would be worth.
use super::{Words, frame, label, largest, name, nothing_to_show, widest};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, SMALL_PX, Scale, bottom_axis};
use crate::present::palette::{ACCENT, FAINT, INK, MUTED, PAPER, SERIES};
use crate::present::scene::{Anchor, Dash, Scene, Stroke, Text, Weight};

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it stands for.
    pub name: String,
    /// Its length, not negative.
    pub value: f64,
    /// Lower end of its range; not finite for none.
    pub low: f64,
    /// Upper end of its range; not finite for none.
    pub high: f64,
    /// What is written behind it.
    pub label: String,
    /// Shown pale: not to be told from nothing.
    pub muted: bool,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bars {
    /// The words around it.
    pub words: Words,
    /// What the axis measures, with its unit.
    pub axis: String,
    /// The bars, longest first.
    pub rows: Vec<Row>,
    /// A level to compare with and what it is, for example a noise floor.
    pub reference: Option<(f64, String)>,
}

const ROW_PX: f64 = 44.0;

/// Draws the picture.
pub fn bars(input: &Bars) -> Scene {
    let head_px = if input.reference.is_some() { 28.0 } else { 4.0 };
    let rows_px = ROW_PX * input.rows.len().max(2) as f64;
    let (mut scene, panel) = frame(&input.words, head_px + rows_px + BOTTOM_AXIS_PX);
    if input.rows.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description =
        input.rows.iter().map(|r| format!("{}: {}", r.name, r.label)).collect::<Vec<_>>().join("; ");
    let name_px = widest(input.rows.iter().map(|r| r.name.as_str()), BODY_PX, Weight::Regular, 290.0);
    let label_px = widest(input.rows.iter().map(|r| r.label.as_str()), BODY_PX, Weight::Regular, 230.0);
    let plot = panel.inset(name_px + 20.0, head_px, label_px + 22.0, BOTTOM_AXIS_PX);
    let ends = input.rows.iter().flat_map(|r| [r.value, r.high]).chain(input.reference.iter().map(|r| r.0));
    let top = largest(ends, 0.0);
    let scale = Scale::linear(0.0, if top > 0.0 { top * 1.04 } else { 1.0 }, (plot.left, plot.right));
    bottom_axis(&mut scene, &plot, &scale, &input.axis);
    for (i, row) in input.rows.iter().enumerate() {
        let y = plot.top + ROW_PX * (i as f64 + 0.5);
        let end = if row.value.is_finite() { scale.held(row.value) } else { plot.left };
        let colour = if row.muted { FAINT } else { SERIES[2].towards(ACCENT, 0.35) };
        name(&mut scene, (plot.left - 16.0, y), &row.name, name_px, false, Anchor::End);
        scene.rect((plot.left, y - 12.0), (end - plot.left, 24.0), colour);
        if row.low.is_finite() && row.high.is_finite() {
            whisker(&mut scene, scale.held(row.low), scale.held(row.high), y);
        }
        let said = label((plot.right + 16.0, y), &row.label, BODY_PX, Weight::Regular, label_px);
        let colour = if row.muted { MUTED } else { INK };
        scene.text(Text { colour, ..said }.centred_on_line());
    }
    if let Some((level, text)) = &input.reference {
        let x = scale.held(*level);
        let stroke = Stroke::solid(INK, 1.6).dashed(Dash::Dashed);
        scene.line((x, plot.top - 6.0), (x, plot.bottom), stroke);
        let said = label((x + 2.0, plot.top - 12.0), text, SMALL_PX, Weight::Regular, panel.right - x - 2.0);
        scene.text(said);
    }
    scene
}

/// A range, dark on a pale rim so that it shows on the bar and beside it.
fn whisker(scene: &mut Scene, low: f64, high: f64, y: f64) {
    for stroke in [Stroke::solid(PAPER, 5.0), Stroke::solid(INK, 2.0)] {
        scene.line((low, y), (high, y), stroke);
        for x in [low, high] {
            scene.line((x, y - 6.0), (x, y + 6.0), stroke);
        }
    }
}
