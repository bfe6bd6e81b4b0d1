//! Lines with bands over a condition that is varied, labelled at their right ends.
use super::{MARGIN_PX, WIDTH_PX, Words, frame, label, largest, nothing_to_show};
use crate::present::axes::{
    BODY_PX, BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis, left_axis, left_axis_px, spread_unordered,
};
use crate::present::escape::terminal_text;
use crate::present::palette::{FAINT, INK, MUTED, PAPER, series};
use crate::present::scene::{Anchor, Colour, Dash, Fill, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{text_width, wrap};

/// One point of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At {
    /// Where on the axis.
    pub x: f64,
    /// The line's value.
    pub middle: f64,
    /// Lower edge of its band; not finite for none.
    pub low: f64,
    /// Upper edge of its band; not finite for none.
    pub high: f64,
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Its name.
    pub name: String,
    /// Its points from left to right.
    pub points: Vec<At>,
    /// Shown pale and without a band, for comparison only.
    pub muted: bool,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lines {
    /// The words around it.
    pub words: Words,
    /// What is varied, with its unit.
    pub x_title: String,
    /// What is measured, with its unit.
    pub y_title: String,
    /// Equal ratios along x are equally long.
    pub x_logarithmic: bool,
    /// The lines.
    pub series: Vec<Series>,
    /// Upright marks: where they stand and what they say.
    pub markers: Vec<(f64, String)>,
}

const PLOT_PX: f64 = 420.0;
/// Height that a label on two lines needs, with the space below it.
pub(super) const END_LABEL_PX: f64 = 2.0 * 1.14 * BODY_PX + 5.0;
const LABELS_PX: f64 = 226.0;

/// Draws the picture.
pub fn lines(input: &Lines) -> Scene {
    let head_px = if input.markers.is_empty() { 8.0 } else { 30.0 };
    let plot_px = PLOT_PX.max(END_LABEL_PX * input.series.len() as f64);
    let (mut scene, panel) = frame(&input.words, head_px + plot_px + BOTTOM_AXIS_PX);
    let points = || input.series.iter().flat_map(|s| &s.points);
    let known = |v: &f64| v.is_finite();
    let xs = || points().map(|p| p.x).filter(known);
    if xs().next().is_none() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description = description(input);
    let mut plot = panel.inset(0.0, head_px, LABELS_PX + 30.0, BOTTOM_AXIS_PX);
    let ends = || points().flat_map(|p| [p.middle, p.low, p.high]).filter(known);
    let bottom = ends().fold(0.0, f64::min);
    let top = largest(ends(), if bottom < 0.0 { 0.0 } else { 1e-9 });
    let room = 0.05 * (top - bottom);
    let down = if bottom < 0.0 { bottom - room } else { 0.0 };
    let y = Scale::linear(down, top + room, (plot.bottom, plot.top));
    plot.left += left_axis_px(&plot, &y);
    let (from, to) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
    let px = (plot.left, plot.right);
    let x = if input.x_logarithmic { Scale::logarithmic(from, to, px) } else { Scale::linear(from, to, px) };
    left_axis(&mut scene, &plot, &y, &input.y_title, true);
    bottom_axis(&mut scene, &plot, &x, &input.x_title);
    if bottom < 0.0 {
        scene.line((plot.left, y.at(0.0)), (plot.right, y.at(0.0)), Stroke::solid(INK, 1.4));
    }
    markers(&mut scene, &plot, &x, &input.markers);
    for (i, s) in input.series.iter().enumerate().filter(|(_, s)| !s.muted) {
        band(&mut scene, s, &x, &y, series(i).0);
    }
    let mut labels = Vec::new();
    for (i, s) in input.series.iter().enumerate() {
        let (colour, dash) = if s.muted { (FAINT, Dash::Solid) } else { series(i) };
        let line: Vec<Point> = s.points.iter().map(|p| (x.at(p.x), y.at(p.middle))).collect();
        let stroke = Stroke::solid(colour, if s.muted { 2.0 } else { 3.2 }).dashed(dash);
        labels.extend(line.iter().rev().find(|p| p.0.is_finite() && p.1.is_finite()).map(|&at| EndLabel {
            from: at,
            text: s.name.clone(),
            colour,
            dash,
            muted: s.muted,
        }));
        scene.polyline(line, stroke);
    }
    end_labels(&mut scene, &labels, plot.right, (plot.top + 10.0, plot.bottom - 6.0));
    scene
}

fn description(input: &Lines) -> String {
    let says = |s: &Series| {
        let (first, last) = (s.points.first()?, s.points.last()?);
        let number = crate::present::words::two_digits;
        Some(format!(
            "{}: from {} at {} to {} at {}",
            s.name,
            number(first.middle),
            number(first.x),
            number(last.middle),
            number(last.x)
        ))
    };
    let all: Vec<String> = input.series.iter().filter_map(says).collect();
    format!("{} over {}. {}", input.y_title, input.x_title, all.join("; "))
}

pub(super) fn band(scene: &mut Scene, s: &Series, x: &Scale, y: &Scale, colour: Colour) {
    let known = |p: &&At| p.low.is_finite() && p.high.is_finite();
    let upper = s.points.iter().filter(known).map(|p| (x.at(p.x), y.at(p.high)));
    let lower = s.points.iter().rev().filter(known).map(|p| (x.at(p.x), y.at(p.low)));
    scene.polygon(upper.chain(lower).collect(), Some(Fill { colour, opacity: 0.11 }), None);
}

fn markers(scene: &mut Scene, plot: &Panel, x: &Scale, markers: &[(f64, String)]) {
    let (low, high) = x.limits();
    for (value, text) in markers.iter().filter(|m| m.0 >= low && m.0 <= high) {
        let at = x.at(*value);
        scene.line((at, plot.top - 4.0), (at, plot.bottom), Stroke::solid(MUTED, 1.5).dashed(Dash::Dashed));
        let half = 0.5 * text_width(text, SMALL_PX, Weight::Regular).min(plot.width());
        let middle = at.clamp(plot.left + half, (plot.right - half).max(plot.left + half));
        let said = label((middle, plot.top - 11.0), text, SMALL_PX, Weight::Regular, plot.width());
        scene.text(said.anchored(Anchor::Middle));
    }
}

/// A label that belongs to a point of the plot and stands right of it.
pub(super) struct EndLabel {
    /// The point.
    pub from: Point,
    /// What it says.
    pub text: String,
    /// Colour of what it names.
    pub colour: Colour,
    /// Dash of what it names.
    pub dash: Dash,
    /// Written paler.
    pub muted: bool,
}

/// Writes labels into the column right of `right`, each as near to its point's height as the others
/// let it, tied to it by a hair line, on two lines each where there is room for that.
pub(super) fn end_labels(scene: &mut Scene, labels: &[EndLabel], right: f64, (top, bottom): (f64, f64)) {
    let line_px = 1.14 * BODY_PX;
    let text_x = right + 54.0;
    let room = WIDTH_PX - MARGIN_PX - text_x + 14.0;
    let blocks = |most: usize| -> Vec<Vec<String>> {
        labels.iter().map(|l| wrap(&terminal_text(&l.text), BODY_PX, Weight::Regular, room, most)).collect()
    };
    let needs =
        |blocks: &[Vec<String>]| blocks.iter().map(Vec::len).max().unwrap_or(1) as f64 * line_px + 5.0;
    let mut lines = blocks(2);
    if needs(&lines) * labels.len().saturating_sub(1) as f64 > bottom - top {
        lines = blocks(1);
    }
    let gap = needs(&lines);
    let wanted: Vec<f64> = labels.iter().map(|l| l.from.1).collect();
    let places = spread_unordered(&wanted, gap, top, bottom);
    for ((l, block), y) in labels.iter().zip(lines).zip(places) {
        let tie = Stroke::solid(l.colour.towards(PAPER, 0.45), 1.1);
        let elbow = l.from.0.max(right + 2.0);
        if l.from.0 < right - 1.0 {
            let dots = Stroke::solid(l.colour.towards(PAPER, 0.25), 1.1).dashed(Dash::Dotted);
            scene.line(l.from, (elbow, l.from.1), dots);
        }
        scene.polyline(vec![(elbow, l.from.1), (right + 18.0, y), (right + 24.0, y)], tie);
        scene.line((right + 24.0, y), (right + 48.0, y), Stroke::solid(l.colour, 3.2).dashed(l.dash));
        let first = y - 0.5 * line_px * (block.len().saturating_sub(1)) as f64;
        for (k, line) in block.iter().enumerate() {
            let colour = if l.muted { MUTED } else { INK };
            let at = (text_x, first + line_px * k as f64);
            scene.text(Text::new(at, line, BODY_PX, colour).centred_on_line());
        }
    }
}
