//! How the lead of one bait over another wanders until it reaches a line at which to stop.
use super::{Words, frame, label, largest, nothing_to_show};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, SMALL_PX, Scale, bottom_axis, left_axis, left_axis_px};
use crate::present::palette::{INK, MUTED, PAPER, SERIES};
use crate::present::scene::{Anchor, Dash, Point, Scene, Stroke, Text, Weight};

/// One example: turn and lead at every change, from (0, 0).
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    /// The corners.
    pub points: Vec<(f64, f64)>,
    /// Whether it ended at the wrong line.
    pub wrong: bool,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lead {
    /// The words around it.
    pub words: Words,
    /// What is counted across, with its unit.
    pub x_title: String,
    /// What stands upright.
    pub y_title: String,
    /// Lead at which to stop, either way.
    pub lead: f64,
    /// What the upper and the lower line say.
    pub lines: [String; 2],
    /// Where the walks end on average, and what that mark says.
    pub mean: (f64, String),
    /// The examples.
    pub walks: Vec<Walk>,
}

const PLOT_PX: f64 = 380.0;
const HEAD_PX: f64 = 32.0;
/// Share of the height beyond the two lines.
const BEYOND: f64 = 1.28;

/// Draws the picture.
pub fn lead(input: &Lead) -> Scene {
    let (mut scene, panel) = frame(&input.words, HEAD_PX + PLOT_PX + BOTTOM_AXIS_PX);
    if input.walks.is_empty() || !(input.lead.is_finite() && input.lead > 0.0) {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let wrong = input.walks.iter().filter(|w| w.wrong).count();
    scene.description = format!(
        "{} examples of how the lead wanders between {} and {}; {wrong} of them end at the wrong line",
        input.walks.len(),
        input.lines[0],
        input.lines[1]
    );
    let mut plot = panel.inset(0.0, HEAD_PX, 24.0, BOTTOM_AXIS_PX);
    let y = Scale::linear(-BEYOND * input.lead, BEYOND * input.lead, (plot.bottom, plot.top));
    plot.left += left_axis_px(&plot, &y);
    let last = input.walks.iter().flat_map(|w| w.points.last()).map(|p| p.0);
    let end = largest(last.chain([input.mean.0]), 1.0);
    let x = Scale::linear(0.0, 1.03 * end, (plot.left, plot.right));
    left_axis(&mut scene, &plot, &y, &input.y_title, true);
    bottom_axis(&mut scene, &plot, &x, &input.x_title);
    scene.line((plot.left, y.at(0.0)), (plot.right, y.at(0.0)), Stroke::solid(MUTED, 1.2));
    // The wrong ones last, so that they are not hidden.
    for walk in input.walks.iter().filter(|w| !w.wrong).chain(input.walks.iter().filter(|w| w.wrong)) {
        let stroke = match walk.wrong {
            true => Stroke::solid(SERIES[3], 2.4).dashed(Dash::Dashed),
            false => Stroke::solid(SERIES[2].towards(PAPER, 0.25), 1.5),
        };
        scene.polyline(steps(&walk.points, &x, &y), stroke);
        if let Some(&(turn, lead)) = walk.points.last() {
            scene.circle((x.at(turn), y.at(lead)), 3.6, Some(stroke.colour.into()), None);
        }
    }
    let at = x.at(input.mean.0);
    scene.line((at, plot.top - 4.0), (at, plot.bottom), Stroke::solid(MUTED, 1.5).dashed(Dash::Dashed));
    let text = Text {
        colour: MUTED,
        ..label((at, plot.top - 12.0), &input.mean.1, SMALL_PX, Weight::Regular, plot.width())
    };
    let half = 0.5 * crate::present::text_width::text_width(&text.text, SMALL_PX, Weight::Regular);
    let middle = at.min(plot.right - half).max(plot.left + half);
    scene.text(Text { at: (middle, text.at.1), ..text }.anchored(Anchor::Middle));
    for (side, text) in [1.0, -1.0].into_iter().zip(&input.lines) {
        let at = y.at(side * input.lead);
        scene.line((plot.left, at), (plot.right, at), Stroke::solid(INK, 2.4));
        let above = at - side * (0.5 * BODY_PX + 6.0);
        let said = label((plot.left + 12.0, above), text, BODY_PX, Weight::Bold, plot.width() - 24.0);
        scene.text(said.halo(PAPER).centred_on_line());
    }
    scene
}

/// Level until the next change, then up or down.
fn steps(points: &[(f64, f64)], x: &Scale, y: &Scale) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::with_capacity(2 * points.len());
    let mut before: Option<f64> = None;
    for &(turn, lead) in points {
        if let Some(level) = before {
            out.push((x.at(turn), y.at(level)));
        }
        out.push((x.at(turn), y.at(lead)));
        before = Some(lead);
    }
    out
}
