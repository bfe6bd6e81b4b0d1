//! Panels one above the other over a common axis: lines with bands, areas, dots, levels and marks, labelled directly.
mod labels;

pub(super) use labels::{EndLabel, end_labels};

use super::chart::{Axis, BOTTOM_AXIS_PX, Piece, chart, left_axis_px};
use super::rows::{self, Rows};
use super::{Words, frame, nothing_to_show};
use crate::present::axes::{BODY_PX, Panel, Scale};
use crate::present::palette::{INK, MUTED, PAPER, series};
use crate::present::scene::{Colour, Dash, Fill, Point, Scene, Stroke};
use crate::present::words::two_digits;

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

/// What a panel holds, in the values of its axes.
#[derive(Debug, Clone, PartialEq)]
pub enum Layer {
    /// A line; with a name it is labelled right of the panel.
    Line {
        /// Its points from left to right.
        points: Vec<Point>,
        /// How it is drawn.
        stroke: Stroke,
        /// Its name, or nothing.
        name: String,
        /// Which of its points the name is tied to: the lowest on the canvas, or the last.
        tied_low: bool,
    },
    /// A filled shape.
    Area {
        /// Its corners.
        points: Vec<Point>,
        /// Its inside.
        fill: Fill,
    },
    /// A disk.
    Dot {
        /// Its centre.
        at: Point,
        /// Its radius, px.
        radius: f64,
        /// Its inside.
        fill: Colour,
        /// Its rim.
        rim: Stroke,
        /// Written below it.
        said: String,
        /// What is written is bold.
        bold: bool,
    },
    /// An upright mark through the panel; its words stand above the panel.
    Upright {
        /// Where.
        at: f64,
        /// What it says.
        text: String,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// A level line; its words stand on it at the left, or below it.
    Level {
        /// How high.
        at: f64,
        /// What it says.
        text: String,
        /// How it is drawn.
        stroke: Stroke,
        /// The words stand below the line.
        below: bool,
    },
    /// Words about a place.
    Words {
        /// Where their middle stands; beyond the panel they are moved inside.
        at: Point,
        /// What they say.
        text: String,
    },
    /// A rectangle with words inside, where they fit.
    Block {
        /// Two corners.
        corners: [Point; 2],
        /// Its colour.
        fill: Colour,
        /// What it says.
        text: String,
    },
}

impl Layer {
    /// A line without a name.
    pub fn line(points: Vec<Point>, stroke: Stroke) -> Self {
        Layer::Line { points, stroke, name: String::new(), tied_low: false }
    }

    /// A disk of one colour.
    pub fn dot(at: Point, radius: f64, colour: Colour) -> Self {
        let rim = Stroke::solid(colour, 1.0);
        Layer::Dot { at, radius: radius - 0.5, fill: colour, rim, said: String::new(), bold: false }
    }

    /// An upright mark, dashed.
    pub fn marker(at: f64, text: String) -> Self {
        Layer::Upright { at, text, stroke: Stroke::solid(MUTED, 1.5).dashed(Dash::Dashed) }
    }
}

/// Lines with bands over a condition that is varied.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curves {
    /// The words around it.
    pub words: Words,
    /// What is varied, with its unit.
    pub x_title: String,
    /// What is measured, with its unit.
    pub y_title: String,
    /// Equal ratios along x are equally long.
    pub x_logarithmic: bool,
    /// The lines with their names.
    pub lines: Vec<(String, Vec<At>)>,
    /// Upright marks: where they stand and what they say.
    pub markers: Vec<(f64, String)>,
}

/// Draws lines with bands as one panel.
pub fn curves(input: &Curves) -> Scene {
    let all = || input.lines.iter().flat_map(|l| &l.1).flat_map(|p| [p.middle, p.low, p.high]);
    let (low, high) =
        all().filter(|v| v.is_finite()).fold((0.0_f64, 0.0_f64), |(l, h), v| (l.min(v), h.max(v)));
    let room = 0.05 * (high - low).max(1e-9);
    let markers = input.markers.iter().map(|(at, text)| Layer::marker(*at, text.clone()));
    let mut layers: Vec<Layer> = markers.collect();
    if low < 0.0 {
        let stroke = Stroke::solid(INK, 1.4);
        layers.push(Layer::Level { at: 0.0, text: String::new(), stroke, below: false });
    }
    layers.extend(lines_with_bands(&input.lines));
    let says = |(name, points): &(String, Vec<At>)| {
        let [first, last] = [points.first()?, points.last()?];
        let [a, b, c, d] = [first.middle, first.x, last.middle, last.x].map(two_digits);
        Some(format!("{name}: from {a} at {b} to {c} at {d}"))
    };
    let tells = input.lines.iter().filter_map(says).collect::<Vec<_>>().join("; ");
    let run = if input.x_logarithmic { Run::Ratios } else { Run::Even };
    let ends = (Some(if low < 0.0 { low - room } else { 0.0 }), Some(high + room));
    panels(&Panels {
        words: input.words.clone(),
        tells: format!("{} over {}. {tells}", input.y_title, input.x_title),
        x: Side { run, ..Side::new(&input.x_title) },
        panels: vec![One {
            y: Side { ends, ..Side::new(&input.y_title) },
            height: 420.0,
            head: if input.markers.is_empty() { 8.0 } else { 30.0 },
            layers,
            aside: String::new(),
        }],
        below: None,
    })
}

/// The layers of some lines, in the colours of series: all bands, then the lines.
pub fn lines_with_bands(lines: &[(String, Vec<At>)]) -> Vec<Layer> {
    let band = |(i, (_, points)): (usize, &(String, Vec<At>))| {
        let known = || points.iter().filter(|p| p.low.is_finite() && p.high.is_finite());
        let upper = known().map(|p| (p.x, p.high));
        let points = upper.chain(known().rev().map(|p| (p.x, p.low))).collect();
        Layer::Area { points, fill: Fill { colour: series(i).0, opacity: 0.11 } }
    };
    let line = |(i, (name, points)): (usize, &(String, Vec<At>))| {
        let (colour, dash) = series(i);
        Layer::Line {
            points: points.iter().map(|p| (p.x, p.middle)).collect(),
            stroke: Stroke::solid(colour, 3.2).dashed(dash),
            name: name.clone(),
            tied_low: false,
        }
    };
    lines.iter().enumerate().map(band).chain(lines.iter().enumerate().map(line)).collect()
}

/// How values lie along an axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Run {
    /// Equal steps are equally long.
    #[default]
    Even,
    /// Equal ratios are equally long.
    Ratios,
    /// Hours of the day.
    Hours,
    /// Whole numbers, each written.
    Counts,
}

/// An axis.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Side {
    /// What it measures, with its unit; empty for an upright axis that is not drawn.
    pub title: String,
    /// Its ends, as far as they are known.
    pub ends: (Option<f64>, Option<f64>),
    /// How values lie along it.
    pub run: Run,
    /// Counted downwards, as depth is (only for an upright axis).
    pub downward: bool,
}

impl Side {
    /// An axis whose ends follow from what is drawn.
    pub fn new(title: &str) -> Self {
        Self { title: title.into(), ..Self::default() }
    }

    /// The scale of values, with a share of their span as room beyond the last.
    fn scale(&self, values: impl Iterator<Item = f64>, px: (f64, f64), room: f64) -> Scale {
        let known = |v: &f64| v.is_finite() && (self.run != Run::Ratios || *v > 0.0);
        let found =
            values.filter(known).fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        let low = self.ends.0.unwrap_or(found.0);
        let high = self.ends.1.unwrap_or(found.1 + room * (found.1 - low));
        let px = if self.downward { (px.1, px.0) } else { px };
        match self.run {
            Run::Even => Scale::linear(low, high, px),
            Run::Ratios => Scale::logarithmic(low, high, px),
            Run::Hours => Scale::hours(low, high, px),
            Run::Counts => {
                let all = (low.ceil().max(-1e3) as i64)..=(high.floor().min(1e3) as i64);
                Scale::linear(low, high, px).marked(all.map(|n| (n as f64, n.to_string())).collect())
            }
        }
    }
}

/// One panel.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct One {
    /// The upright axis.
    pub y: Side,
    /// Its height, px.
    pub height: f64,
    /// Room above it for the words of upright marks, px.
    pub head: f64,
    /// What it holds, the first one lowest.
    pub layers: Vec<Layer>,
    /// Written right of it.
    pub aside: String,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Panels {
    /// The words around it.
    pub words: Words,
    /// What it shows in words.
    pub tells: String,
    /// The common axis.
    pub x: Side,
    /// The panels from the top.
    pub panels: Vec<One>,
    /// Rows below them.
    pub below: Option<Rows>,
}

/// Height that a label on two lines needs, with the space below it.
const END_LABEL_PX: f64 = 2.0 * 1.14 * BODY_PX + 5.0;
const LABELS_PX: f64 = 256.0;
/// Space above rows that stand below panels.
const ROWS_GAP_PX: f64 = 16.0;

impl Layer {
    fn points(&self) -> Vec<Point> {
        match self {
            Layer::Line { points, .. } | Layer::Area { points, .. } => points.clone(),
            Layer::Dot { at, .. } | Layer::Words { at, .. } => vec![*at],
            Layer::Upright { .. } => vec![],
            Layer::Level { at, .. } => vec![(f64::NAN, *at)],
            Layer::Block { corners, .. } => corners.to_vec(),
        }
    }
}

/// Draws the picture.
pub fn panels(input: &Panels) -> Scene {
    let named = |p: &One| {
        let name = |l: &&Layer| matches!(l, Layer::Line { name, .. } if !name.is_empty());
        p.layers.iter().filter(name).count()
    };
    let height = |p: &One| p.height.max(END_LABEL_PX * named(p) as f64);
    let body: f64 = input.panels.iter().map(|p| p.head + height(p)).sum();
    let rows = input.below.as_ref().map(|r| (rows::Layout::new(r), r));
    let rows_px = rows.as_ref().map_or(0.0, |(layout, _)| layout.height + ROWS_GAP_PX);
    let (mut scene, panel) = frame(&input.words, body + BOTTOM_AXIS_PX + rows_px);
    let points = || input.panels.iter().flat_map(|p| &p.layers).flat_map(Layer::points);
    let drawn = |l: &Layer| matches!(l, Layer::Line { .. } | Layer::Dot { .. } | Layer::Area { .. });
    let known = |p: Point| p.0.is_finite() && p.1.is_finite();
    let shown = || input.panels.iter().flat_map(|p| &p.layers).filter(|l| drawn(l)).flat_map(Layer::points);
    if !shown().any(known) {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description = input.tells.clone();
    if let Some((layout, rows)) = &rows {
        scene.description += &rows::description(rows);
        layout.draw(&mut scene, &Panel { top: panel.bottom - layout.height, ..panel }, rows);
    }
    let labelled = input.panels.iter().any(|p| named(p) > 0 || !p.aside.is_empty());
    let right = panel.right - if labelled { LABELS_PX } else { 24.0 };
    let mut top = panel.top;
    let mut plots: Vec<(Panel, Scale)> = Vec::new();
    for p in &input.panels {
        top += p.head;
        let plot = Panel { left: panel.left, top, right, bottom: top + height(p) };
        let y =
            p.y.scale(p.layers.iter().flat_map(Layer::points).map(|v| v.1), (plot.bottom, plot.top), 0.05);
        plots.push((plot, y));
        top = plot.bottom;
    }
    let wide = plots.iter().map(|(plot, y)| left_axis_px(plot, y)).fold(0.0, f64::max);
    let px = (panel.left + wide, right);
    let x = input.x.scale(points().map(|p| p.0), px, 0.0);
    let last = input.panels.len() - 1;
    for (k, (p, (plot, y))) in input.panels.iter().zip(plots).enumerate() {
        let plot = Panel { left: px.0, ..plot };
        let level = if k == last { Axis::new(&x, &input.x.title) } else { Axis::hidden(&x) };
        let upright = if p.y.title.is_empty() { Axis::hidden(&y) } else { Axis::new(&y, &p.y.title) };
        let pieces: Vec<Piece> = p.layers.iter().flat_map(|l| pieces(l, &x, &y)).collect();
        chart(&mut scene, &plot, level, upright, &pieces);
        labels::words(&mut scene, &plot, &x, &y, p);
    }
    scene
}

fn pieces(layer: &Layer, x: &Scale, y: &Scale) -> Option<Piece> {
    let (left, right) = x.limits();
    let (low, high) = y.limits();
    Some(match layer {
        Layer::Line { points, stroke, .. } => Piece::line(points.clone(), *stroke),
        Layer::Area { points, fill } => Piece::shape(points.clone(), *fill, None),
        Layer::Dot { at, radius, fill, rim, .. } => Piece::dot(*at, *radius, *fill, Some(*rim)),
        Layer::Upright { at, stroke, .. } if *at >= left && *at <= right => {
            Piece::line(vec![(*at, low), (*at, high)], *stroke)
        }
        Layer::Level { at, stroke, .. } => Piece::line(vec![(left, *at), (right, *at)], *stroke),
        Layer::Block { corners, fill, .. } => {
            Piece::bar(corners[0], corners[1], *fill, Some(Stroke::solid(PAPER, 2.0)))
        }
        Layer::Upright { .. } | Layer::Words { .. } => return None,
    })
}
