//! How deep every bait runs along the retrieve.
use super::lines::{END_LABEL_PX, EndLabel, end_labels};
use super::{Words, frame, label, largest, nothing_to_show};
use crate::present::axes::{BOTTOM_AXIS_PX, SMALL_PX, Scale, bottom_axis, left_axis, left_axis_px};
use crate::present::palette::{INK, MUTED, PAPER, SERIES, series};
use crate::present::scene::{Anchor, Dash, Point, Scene, Stroke, Text, Weight};
use crate::present::words::two_digits;

/// One bait's path.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// The bait's name.
    pub name: String,
    /// (line reeled in, depth), from where it lands to the rod.
    pub points: Vec<Point>,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Paths {
    /// The words around it.
    pub words: Words,
    /// Unit of lengths and depths.
    pub unit: String,
    /// The paths.
    pub paths: Vec<Path>,
    /// Depth at which the fish hangs.
    pub fish_depth: Option<f64>,
    /// Depth of the bottom.
    pub bottom: Option<f64>,
}

const PLOT_PX: f64 = 430.0;
const LABELS_PX: f64 = 250.0;

/// Draws the picture.
pub fn paths(input: &Paths) -> Scene {
    let plot_px = PLOT_PX.max(END_LABEL_PX * input.paths.len() as f64);
    let (mut scene, panel) = frame(&input.words, 10.0 + plot_px + BOTTOM_AXIS_PX);
    let points = || input.paths.iter().flat_map(|p| &p.points);
    if points().all(|p| !(p.0.is_finite() && p.1.is_finite())) {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let deep = |p: &Path| largest(p.points.iter().map(|q| q.1), 0.0);
    let says = |p: &Path| format!("{}: down to {} {}", p.name, two_digits(deep(p)), input.unit);
    scene.description = input.paths.iter().map(says).collect::<Vec<_>>().join("; ");
    let mut plot = panel.inset(0.0, 10.0, LABELS_PX + 30.0, BOTTOM_AXIS_PX);
    let runs = largest(points().map(|p| p.1), 0.0);
    let deepest = largest([runs, input.fish_depth.unwrap_or(0.0)], 0.0);
    // A bottom far below everything else would only squeeze the paths.
    let shown_bottom = input.bottom.filter(|b| b.is_finite() && *b <= 1.6 * deepest);
    let depth = Scale::linear(
        0.0,
        largest([1.12 * deepest, shown_bottom.unwrap_or(0.0) * 1.06], 0.5),
        (plot.top, plot.bottom),
    );
    plot.left += left_axis_px(&plot, &depth);
    let reach = largest(points().map(|p| p.0), 0.1);
    let along = Scale::linear(0.0, reach, (plot.left, plot.right));
    left_axis(&mut scene, &plot, &depth, &format!("depth ({})", input.unit), true);
    let title = format!("line reeled in ({}): from where it lands to the rod", input.unit);
    bottom_axis(&mut scene, &plot, &along, &title);
    scene.line((plot.left, plot.top), (plot.right, plot.top), Stroke::solid(SERIES[6], 3.0));
    if let Some(b) = shown_bottom {
        let sand = SERIES[3].towards(PAPER, 0.72);
        scene.rect((plot.left, depth.held(b)), (plot.width(), plot.bottom - depth.held(b)), sand);
    }
    let mut labels = Vec::new();
    for (i, path) in input.paths.iter().enumerate() {
        let (colour, dash) = series(i);
        let line: Vec<Point> = path.points.iter().map(|p| (along.at(p.0), depth.held(p.1))).collect();
        let lowest = line.iter().filter(|p| p.0.is_finite()).max_by(|a, b| a.1.total_cmp(&b.1));
        labels.extend(lowest.map(|&from| EndLabel {
            from,
            text: path.name.clone(),
            colour,
            dash,
            muted: false,
        }));
        scene.polyline(line, Stroke::solid(colour, 3.0).dashed(dash));
    }
    if let Some(fish) = input.fish_depth.filter(|d| d.is_finite() && *d >= 0.0) {
        let y = depth.held(fish);
        scene.line((plot.left, y), (plot.right, y), Stroke::solid(INK, 2.0).dashed(Dash::Dashed));
        let text = format!("fish at {} {}", two_digits(fish), input.unit);
        let said = label((plot.left + 8.0, y - 7.0), &text, SMALL_PX, Weight::Bold, plot.width());
        scene.text(said.halo(PAPER));
    }
    end_labels(&mut scene, &labels, plot.right, (plot.top + 12.0, plot.bottom - 8.0));
    if let (Some(b), None) = (input.bottom.filter(|b| b.is_finite()), shown_bottom) {
        let text = format!("bottom at {} {}, below this picture", two_digits(b), input.unit);
        let at = (plot.right - 6.0, plot.bottom - 8.0);
        let said = label(at, &text, SMALL_PX, Weight::Regular, plot.width() - 12.0);
        scene.text(Text { colour: MUTED, ..said }.anchored(Anchor::End).halo(PAPER));
    }
    scene
}
