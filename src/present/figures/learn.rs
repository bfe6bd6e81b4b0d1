//! Ranges before and after, one above the other: what a log changed.
use super::{Words, frame, label, largest, name, nothing_to_show, widest};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis};
use crate::present::palette::{ACCENT, FAINT, HAIRLINE, INK, MUTED, PAPER};
use crate::present::scene::{Anchor, Scene, Stroke, Text, Weight};

/// One quantity before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it is.
    pub name: String,
    /// Low end, middle, high end before.
    pub before: [f64; 3],
    /// The same after.
    pub after: [f64; 3],
    /// The range before in words.
    pub said_before: String,
    /// The range after in words.
    pub said_after: String,
}

/// What the axis measures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Axis {
    /// A quantity from zero, with its title.
    FromZero(String),
    /// Standard scores of what was plausible before.
    Plausible,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq)]
pub struct BeforeAfter {
    /// The words around it.
    pub words: Words,
    /// The axis.
    pub axis: Axis,
    /// The quantities.
    pub rows: Vec<Row>,
}

const ROW_PX: f64 = 60.0;
const HEAD_PX: f64 = 30.0;
/// Standard score of the ends of a plausible range.
const END: f64 = 1.645;
/// Furthest score shown.
const FURTHEST: f64 = 2.6;

/// Draws the picture.
pub fn before_after(input: &BeforeAfter) -> Scene {
    let rows_px = ROW_PX * input.rows.len().max(2) as f64;
    let (mut scene, panel) = frame(&input.words, HEAD_PX + rows_px + BOTTOM_AXIS_PX);
    if input.rows.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let says = |r: &Row| format!("{}: before {}, after {}", r.name, r.said_before, r.said_after);
    scene.description = input.rows.iter().map(says).collect::<Vec<_>>().join("; ");
    let name_px = widest(input.rows.iter().map(|r| r.name.as_str()), BODY_PX, Weight::Regular, 312.0);
    let said = input.rows.iter().flat_map(|r| [r.said_before.as_str(), r.said_after.as_str()]);
    let said_px = widest(said, BODY_PX, Weight::Bold, 270.0);
    let plot = panel.inset(name_px + 20.0, HEAD_PX, said_px + 24.0, BOTTOM_AXIS_PX);
    let px = (plot.left, plot.right);
    let scale = match &input.axis {
        Axis::FromZero(title) => {
            let ends = input.rows.iter().flat_map(|r| [r.before[2], r.after[2]]);
            let scale = Scale::linear(0.0, largest(ends, 2.0) * 1.02, px);
            bottom_axis(&mut scene, &plot, &scale, title);
            scale
        }
        Axis::Plausible => {
            let scale = Scale::linear(-FURTHEST, FURTHEST, px);
            plausible_axis(&mut scene, &plot, &scale);
            scale
        }
    };
    heading(&mut scene, &plot, &panel);
    for (i, row) in input.rows.iter().enumerate() {
        let y = plot.top + ROW_PX * (i as f64 + 0.5);
        name(&mut scene, (plot.left - 16.0, y), &row.name, name_px, false, Anchor::End);
        bar(&mut scene, &scale, row.before, y - 11.0, false);
        bar(&mut scene, &scale, row.after, y + 11.0, true);
        let room = panel.right - plot.right - 18.0;
        for (text, dy, after) in [(&row.said_before, -11.0, false), (&row.said_after, 11.0, true)] {
            let weight = if after { Weight::Bold } else { Weight::Regular };
            let said = label((plot.right + 18.0, y + dy), text, BODY_PX, weight, room);
            scene.text(Text { colour: if after { INK } else { MUTED }, ..said }.centred_on_line());
        }
        if i > 0 {
            let at = plot.top + ROW_PX * i as f64;
            scene.line((panel.left, at), (panel.right, at), Stroke::solid(HAIRLINE, 1.0));
        }
    }
    scene
}

/// What pale and dark bars are.
fn heading(scene: &mut Scene, plot: &Panel, panel: &Panel) {
    let y = plot.top - 16.0;
    let mut x = plot.left;
    for (text, after) in [("before the log", false), ("after it", true)] {
        let (colour, half) = if after { (ACCENT, 5.0) } else { (FAINT, 3.5) };
        scene.rect((x, y - half), (26.0, 2.0 * half), colour);
        let said = label((x + 34.0, y), text, SMALL_PX, Weight::Regular, panel.right - x - 34.0);
        scene.text(said.centred_on_line());
        x += 34.0 + super::text_width(text, SMALL_PX, Weight::Regular) + 26.0;
    }
}

/// A range with its middle marked.
fn bar(scene: &mut Scene, scale: &Scale, [low, middle, high]: [f64; 3], y: f64, after: bool) {
    if ![low, middle, high].iter().all(|v| v.is_finite()) {
        return;
    }
    let (colour, half) = if after { (ACCENT, 5.0) } else { (FAINT, 3.5) };
    let (from, to) = (scale.held(low), scale.held(high));
    // Never so short that it could not be seen.
    let wide = (to - from).max(3.0);
    scene.rect((0.5 * (from + to) - 0.5 * wide, y - half), (wide, 2.0 * half), colour);
    let at = scale.held(middle);
    scene.line((at, y - half - 2.5), (at, y + half + 2.5), Stroke::solid(PAPER, 5.0));
    scene.line(
        (at, y - half - 2.5),
        (at, y + half + 2.5),
        Stroke::solid(if after { INK } else { MUTED }, 2.4),
    );
}

/// Ends and middle of what was plausible, in words.
fn plausible_axis(scene: &mut Scene, plot: &Panel, scale: &Scale) {
    for (score, text) in [(-END, "low end"), (0.0, "middle"), (END, "high end")] {
        let x = scale.at(score);
        scene.line((x, plot.top), (x, plot.bottom), Stroke::solid(HAIRLINE, 1.4));
        let said = Text::new((x, plot.bottom + 8.0 + SMALL_PX), text, SMALL_PX, MUTED);
        scene.text(said.anchored(Anchor::Middle));
    }
    let middle = (0.5 * (plot.left + plot.right), plot.bottom + 14.0 + 2.2 * SMALL_PX);
    let title = Text::new(middle, "within what was plausible before", SMALL_PX, INK);
    scene.text(title.anchored(Anchor::Middle));
}
