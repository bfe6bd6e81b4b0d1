//! Signed effects with their ranges about zero: which side is ahead, and whether it matters.
use super::{Words, frame, label, name, nothing_to_show, widest};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, SMALL_PX, Scale, bottom_axis};
use crate::present::palette::{ACCENT, FAINT, HAIRLINE, INK, MUTED, UNTOLD};
use crate::present::scene::{Anchor, Scene, Stroke, Text, Weight};

/// One effect.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it is of.
    pub name: String,
    /// Its middle.
    pub middle: f64,
    /// Lower end of its range.
    pub low: f64,
    /// Upper end of its range.
    pub high: f64,
    /// What is written behind it.
    pub label: String,
    /// Shown pale: nothing is told.
    pub muted: bool,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Effects {
    /// The words around it.
    pub words: Words,
    /// What the axis measures, with its unit.
    pub axis: String,
    /// The rows, from the top.
    pub rows: Vec<Row>,
    /// Effects smaller than this do not matter.
    pub matters: f64,
    /// What stands over the left and the right half.
    pub halves: [String; 2],
}

const ROW_PX: f64 = 34.0;
const HEAD_PX: f64 = 30.0;

/// Draws the picture.
pub fn effects(input: &Effects) -> Scene {
    let rows_px = ROW_PX * input.rows.len().max(2) as f64;
    let (mut scene, panel) = frame(&input.words, HEAD_PX + rows_px + BOTTOM_AXIS_PX);
    if input.rows.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description =
        input.rows.iter().map(|r| format!("{}: {}", r.name, r.label)).collect::<Vec<_>>().join("; ");
    let name_px = widest(input.rows.iter().map(|r| r.name.as_str()), BODY_PX, Weight::Bold, 290.0);
    let label_px = widest(input.rows.iter().map(|r| r.label.as_str()), BODY_PX, Weight::Regular, 215.0);
    let plot = panel.inset(name_px + 18.0, HEAD_PX, label_px + 20.0, BOTTOM_AXIS_PX);
    let ends = || input.rows.iter().flat_map(|r| [r.low, r.middle, r.high]).filter(|v| v.is_finite());
    let low = ends().fold(-1.5 * input.matters, f64::min);
    let high = ends().fold(1.5 * input.matters, f64::max);
    let room = 0.03 * (high - low);
    let scale = Scale::linear(low - room, high + room, (plot.left, plot.right));
    let (left, right) = (scale.held(-input.matters), scale.held(input.matters));
    scene.rect((left, plot.top), (right - left, plot.bottom - plot.top), UNTOLD);
    bottom_axis(&mut scene, &plot, &scale, &input.axis);
    let zero = scale.held(0.0);
    scene.line((zero, plot.top - 4.0), (zero, plot.bottom), Stroke::solid(INK, 1.4));
    let over = plot.top - 12.0;
    for (text, x, anchor, room) in [
        (&input.halves[0], zero - 8.0, Anchor::End, zero - panel.left - 10.0),
        (&input.halves[1], zero + 8.0, Anchor::Start, panel.right - zero - 10.0),
    ] {
        let said = label((x, over), text, SMALL_PX, Weight::Regular, room);
        scene.text(Text { colour: MUTED, ..said }.anchored(anchor));
    }
    for (i, row) in input.rows.iter().enumerate() {
        let y = plot.top + ROW_PX * (i as f64 + 0.5);
        if i > 0 {
            let top = y - 0.5 * ROW_PX;
            scene.line((panel.left, top), (panel.right, top), Stroke::solid(HAIRLINE, 0.8));
        }
        let (colour, ink) = if row.muted { (FAINT, MUTED) } else { (ACCENT, INK) };
        name(&mut scene, (plot.left - 14.0, y), &row.name, name_px, !row.muted, Anchor::End);
        if row.low.is_finite() && row.high.is_finite() {
            let ends = (scale.held(row.low), scale.held(row.high));
            scene.line((ends.0, y), (ends.1, y), Stroke::solid(colour, 3.0));
        }
        scene.circle((scale.held(row.middle), y), 5.5, Some(colour.into()), None);
        let said = label((plot.right + 14.0, y), &row.label, BODY_PX, Weight::Regular, label_px + 4.0);
        scene.text(Text { colour: ink, ..said }.centred_on_line());
    }
    scene
}
