//! What is written into a panel and beside it.
use super::{LABELS_PX, Layer, One};
use crate::present::axes::{BODY_PX, Panel, SMALL_PX, Scale, spread_unordered};
use crate::present::escape::terminal_text;
use crate::present::figures::{MARGIN_PX, WIDTH_PX, label};
use crate::present::palette::{FAINT, INK, MUTED, PAPER, ink_on};
use crate::present::scene::{Anchor, Dash, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{text_width, wrap};

/// All that is written into a panel and beside it.
pub(super) fn words(scene: &mut Scene, plot: &Panel, x: &Scale, y: &Scale, input: &One) {
    let mut labels = Vec::new();
    for layer in &input.layers {
        match layer {
            Layer::Line { points, stroke, name, tied_low } if !name.is_empty() => {
                let place = |p: &Point| (x.held(p.0), y.held(p.1));
                let mut known = points.iter().map(place).filter(|p| p.0.is_finite() && p.1.is_finite());
                let from =
                    if *tied_low { known.max_by(|a, b| a.1.total_cmp(&b.1)) } else { known.next_back() };
                labels.extend(from.map(|from| EndLabel { from, text: name.clone(), stroke: *stroke }));
            }
            Layer::Dot { at, said, bold, .. } => {
                let at = (x.held(at.0), y.held(at.1) + 14.0 + SMALL_PX);
                let text = label(at, said, SMALL_PX, Weight::Regular, 160.0).bold_if(*bold);
                scene.text(text.anchored(Anchor::Middle).halo(PAPER));
            }
            Layer::Level { at, text, below, .. } => {
                let at = y.held(*at) + if *below { 0.5 * BODY_PX + 6.0 } else { -0.5 * BODY_PX - 6.0 };
                let at = (plot.left + 10.0, at);
                let said = label(at, text, SMALL_PX, Weight::Bold, plot.width() - 20.0);
                scene.text(said.halo(PAPER).centred_on_line());
            }
            Layer::Words { at, text } => {
                let at = (x.held(at.0), y.held(at.1));
                let said = label(at, text, SMALL_PX, Weight::Regular, plot.width() - 12.0);
                scene.text(within(said.anchored(Anchor::Middle), plot).halo(PAPER).centred_on_line());
            }
            Layer::Block { corners: [a, b], fill, text } => {
                let (left, right) = (x.held(a.0), x.held(b.0));
                if text_width(text, SMALL_PX, Weight::Bold) + 16.0 <= right - left {
                    let at = (0.5 * (left + right), 0.5 * (y.held(a.1) + y.held(b.1)));
                    let said = label(at, text, SMALL_PX, Weight::Bold, right - left);
                    let said = Text { colour: ink_on(*fill), ..said };
                    scene.text(said.anchored(Anchor::Middle).centred_on_line());
                }
            }
            _ => {}
        }
    }
    marks_above(scene, plot, x, &input.layers);
    let at = (plot.right + 18.0, plot.top + 17.0);
    scene.text(label(at, &input.aside, BODY_PX, Weight::Regular, LABELS_PX - 18.0).centred_on_line());
    end_labels(scene, &labels, plot.right, (plot.top + 10.0, plot.bottom - 6.0));
}

/// The ends of upright marks above the panel, with their words from the left as far as they do not touch.
fn marks_above(scene: &mut Scene, plot: &Panel, x: &Scale, layers: &[Layer]) {
    let (low, high) = x.limits();
    let mark = |l: &Layer| match l {
        Layer::Upright { at, text, stroke } if low <= *at && *at <= high => {
            Some((x.at(*at), text.clone(), *stroke))
        }
        _ => None,
    };
    let mut marks: Vec<(f64, String, Stroke)> = layers.iter().filter_map(mark).collect();
    marks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut free_from = f64::NEG_INFINITY;
    for (at, text, stroke) in marks {
        scene.line((at, plot.top - 5.0), (at, plot.top), stroke);
        let said = label((at, plot.top - 11.0), &text, SMALL_PX, Weight::Regular, plot.width());
        let said = within(said.anchored(Anchor::Middle), plot);
        let half = 0.5 * text_width(&said.text, SMALL_PX, Weight::Regular);
        if said.at.0 - half > free_from && !said.text.is_empty() {
            free_from = said.at.0 + half + 8.0;
            scene.text(said.halo(PAPER));
        }
    }
}

/// A text about its middle, moved so that it does not leave the panel at the sides.
fn within(text: Text, plot: &Panel) -> Text {
    let half = 0.5 * text_width(&text.text, text.size, text.weight) + 4.0;
    let x = text.at.0.min(plot.right - half).max(plot.left + half);
    Text { at: (x, text.at.1), ..text }
}

/// A label that belongs to a point of the plot and stands right of it.
pub(in crate::present::figures) struct EndLabel {
    /// The point.
    pub from: Point,
    /// What it says.
    pub text: String,
    /// How what it names is drawn.
    pub stroke: Stroke,
}

/// Writes labels into the column right of `right`, each as near to its point's height as the others
/// let it, tied to it by a hair line, on two lines each where there is room for that.
pub(in crate::present::figures) fn end_labels(
    scene: &mut Scene,
    labels: &[EndLabel],
    right: f64,
    (top, bottom): (f64, f64),
) {
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
        let (colour, muted) = (l.stroke.colour, l.stroke.colour == FAINT);
        let tie = Stroke::solid(colour.towards(PAPER, 0.45), 1.1);
        let elbow = l.from.0.max(right + 2.0);
        if l.from.0 < right - 1.0 {
            let dots = Stroke::solid(colour.towards(PAPER, 0.25), 1.1).dashed(Dash::Dotted);
            scene.line(l.from, (elbow, l.from.1), dots);
        }
        scene.polyline(vec![(elbow, l.from.1), (right + 18.0, y), (right + 24.0, y)], tie);
        scene.line((right + 24.0, y), (right + 48.0, y), Stroke { width: 3.2, ..l.stroke });
        let first = y - 0.5 * line_px * (block.len().saturating_sub(1)) as f64;
        for (k, line) in block.iter().enumerate() {
            let colour = if muted { MUTED } else { INK };
            let at = (text_x, first + line_px * k as f64);
            scene.text(Text::new(at, line, BODY_PX, colour).centred_on_line());
        }
    }
}
