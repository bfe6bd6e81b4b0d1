//! Measured against modelled numbers on equal ratios: the nearer to the line, the better.
use super::lines::{EndLabel, end_labels};
use super::{Words, frame, label, nothing_to_show};
use crate::present::axes::{BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis, left_axis, left_axis_px};
use crate::present::palette::{FAINT, INK, PAPER, UNTOLD, series};
use crate::present::scene::{Point, Scene, Stroke, Weight};

/// One number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// What was measured.
    pub measured: f64,
    /// Middle of what the model says.
    pub middle: f64,
    /// Lower end of its range.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Shown hollow: it does not count.
    pub hollow: bool,
}

/// The numbers of one study.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Its name.
    pub name: String,
    /// Its numbers.
    pub marks: Vec<Mark>,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Agreement {
    /// The words around it.
    pub words: Words,
    /// Title of the level axis.
    pub x_title: String,
    /// Title of the upright axis.
    pub y_title: String,
    /// The groups.
    pub groups: Vec<Group>,
    /// Half width of the grey band, as a factor.
    pub band: f64,
    /// What is written into the band.
    pub band_label: String,
}

const PLOT_PX: f64 = 560.0;
const LABELS_PX: f64 = 256.0;
const DOT_PX: f64 = 5.0;

/// Draws the picture.
pub fn agreement(input: &Agreement) -> Scene {
    let (mut scene, panel) = frame(&input.words, PLOT_PX + BOTTOM_AXIS_PX);
    let marks = || input.groups.iter().flat_map(|g| &g.marks);
    let ends = || {
        let all = marks().flat_map(|m| [m.measured, m.middle, m.low, m.high]);
        all.filter(|v| v.is_finite() && *v > 0.0)
    };
    let (low, high) = ends().fold((f64::INFINITY, 0.0_f64), |(l, h), v| (l.min(v), h.max(v)));
    if high <= 0.0 {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    // Ranges that reach far down would leave the measured numbers no room.
    let least = marks().map(|m| m.measured).filter(|v| *v > 0.0).fold(f64::INFINITY, f64::min);
    let (from, to) = (low.max(least / 20.0) / 1.3, high * 1.3);
    let mut plot = panel.inset(0.0, 0.0, LABELS_PX, BOTTOM_AXIS_PX);
    let y = Scale::logarithmic(from, to, (plot.bottom, plot.top));
    plot.left += left_axis_px(&plot, &y);
    let x = Scale::logarithmic(from, to, (plot.left, plot.right));
    // Nothing at all stands at the lower edge.
    let held = |v: f64| if v > 0.0 { v } else { from };
    let on = |measured: f64, modelled: f64| -> Point { (x.held(held(measured)), y.held(held(modelled))) };
    scene.polygon(band(from, to, input.band).map(|(m, v)| on(m, v)).to_vec(), Some(UNTOLD.into()), None);
    left_axis(&mut scene, &plot, &y, &input.y_title, true);
    bottom_axis(&mut scene, &plot, &x, &input.x_title);
    scene.line(on(from, from), on(to, to), Stroke::solid(INK, 1.4));
    let said = label(
        (plot.left + 10.0, plot.top + 18.0),
        &input.band_label,
        SMALL_PX,
        Weight::Regular,
        plot.width(),
    );
    scene.text(said);
    let mut labels = Vec::new();
    for (i, group) in input.groups.iter().enumerate() {
        let (colour, dash) = series(i);
        for mark in &group.marks {
            let at = on(mark.measured, mark.middle);
            let (bottom, top) = (on(mark.measured, mark.low), on(mark.measured, mark.high));
            scene.line(bottom, top, Stroke::solid(colour.towards(PAPER, 0.45), 2.0));
            let fill = if mark.hollow { PAPER } else { colour };
            scene.circle(at, DOT_PX, Some(fill.into()), Some(Stroke::solid(colour, 1.8)));
        }
        labels.extend(rightmost(group, &on).map(|from| EndLabel {
            from,
            text: group.name.clone(),
            colour,
            dash,
            muted: false,
        }));
    }
    end_labels(&mut scene, &labels, plot.right, (plot.top + 10.0, plot.bottom - 6.0));
    frame_of(&mut scene, &plot);
    scene.description = input
        .groups
        .iter()
        .map(|g| format!("{}: {}", g.name, g.marks.iter().map(said_mark).collect::<Vec<_>>().join(", ")))
        .collect::<Vec<_>>()
        .join("; ");
    scene
}

fn said_mark(m: &Mark) -> String {
    let number = crate::present::words::two_digits;
    format!("measured {}, model {}", number(m.measured), number(m.middle))
}

/// The point of a group that lies farthest to the right: its label stands there.
fn rightmost(group: &Group, on: &impl Fn(f64, f64) -> Point) -> Option<Point> {
    let points = group.marks.iter().map(|m| on(m.measured, m.middle));
    points.filter(|p| p.0.is_finite() && p.1.is_finite()).max_by(|a, b| a.0.total_cmp(&b.0))
}

/// Corners of the band about the line, cut off at the limits.
fn band(from: f64, to: f64, factor: f64) -> [(f64, f64); 6] {
    [
        (from, from),
        (from, from * factor),
        (to / factor, to),
        (to, to),
        (to, to / factor),
        (from * factor, from),
    ]
}

fn frame_of(scene: &mut Scene, plot: &Panel) {
    let stroke = Stroke::solid(FAINT, 1.0);
    scene.outlined_rect((plot.left, plot.top), (plot.width(), plot.height()), None, Some(stroke));
}
