//! A packed box: what each further bait adds, and in how many plausible worlds each bait is in the best set.
use super::{Words, frame, largest, name, nothing_to_show, widest};
use crate::present::axes::{
    BODY_PX, BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis, left_axis, left_axis_px,
};
use crate::present::palette::{ACCENT, FAINT, INK, MUTED, PAPER, SERIES};
use crate::present::scene::{Anchor, Dash, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::text_width;

/// The best set of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Mean strikes per 100 passes.
    pub mean: f64,
    /// Lower end of the range over worlds; not finite for none.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Mean of the set found one bait at a time.
    pub greedy: f64,
    /// What it adds to one bait fewer, ready to print.
    pub adds: String,
}

/// One bait.
#[derive(Debug, Clone, PartialEq)]
pub struct Bait {
    /// Its name.
    pub name: String,
    /// Share of worlds in whose best set it is.
    pub share: f64,
    /// The same, ready to print.
    pub label: String,
    /// Whether it is carried.
    pub carried: bool,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pack {
    /// The words around it.
    pub words: Words,
    /// Sizes from one bait on.
    pub sizes: Vec<Size>,
    /// The size wanted.
    pub carry: usize,
    /// What the whole box draws.
    pub whole: f64,
    /// The baits.
    pub baits: Vec<Bait>,
}

const CURVE_PX: f64 = 270.0;
const GAP_PX: f64 = 46.0;
const ROW_PX: f64 = 46.0;
/// Room right of the curve for the name of the line of the whole box.
const WHOLE_PX: f64 = 150.0;

/// Draws the picture.
pub fn pack(input: &Pack) -> Scene {
    let rows_px = ROW_PX * input.baits.len().max(1) as f64;
    let body = CURVE_PX + BOTTOM_AXIS_PX + GAP_PX + rows_px + BOTTOM_AXIS_PX;
    let (mut scene, panel) = frame(&input.words, body);
    if input.sizes.is_empty() || input.baits.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let said = |b: &Bait| format!("{} {}{}", b.name, b.label, if b.carried { " (carried)" } else { "" });
    scene.description = format!(
        "In the best set of plausible worlds: {}",
        input.baits.iter().map(said).collect::<Vec<_>>().join("; ")
    );
    let curve_at = Panel { bottom: panel.top + CURVE_PX, right: panel.right - WHOLE_PX, ..panel };
    curve(&mut scene, curve_at, input);
    let rows = Panel {
        top: panel.top + CURVE_PX + BOTTOM_AXIS_PX + GAP_PX,
        bottom: panel.bottom - BOTTOM_AXIS_PX,
        ..panel
    };
    shares(&mut scene, &rows, &input.baits);
    scene
}

fn curve(scene: &mut Scene, mut plot: Panel, input: &Pack) {
    plot.top += 8.0;
    let ends = input.sizes.iter().flat_map(|s| [s.mean, s.high]).chain([input.whole]);
    let y = Scale::linear(0.0, 1.06 * largest(ends, 1e-9), (plot.bottom, plot.top));
    plot.left += left_axis_px(&plot, &y);
    left_axis(scene, &plot, &y, "strikes in 100 passes", true);
    let count = input.sizes.len() as f64;
    let x = |i: usize| plot.left + plot.width() * (i as f64 + 0.5) / count;
    if input.whole.is_finite() {
        let at = y.at(input.whole);
        scene.line((plot.left, at), (plot.right, at), Stroke::solid(INK, 1.6).dashed(Dash::Dashed));
        scene.text(Text::new((plot.right + 8.0, at), "the whole box", BODY_PX, INK).centred_on_line());
    }
    for (i, size) in input.sizes.iter().enumerate() {
        let wanted = i + 1 == input.carry;
        if size.low.is_finite() && size.high.is_finite() {
            let (low, high) = (y.at(size.low), y.at(size.high));
            scene.line((x(i), low), (x(i), high), Stroke::solid(FAINT, 7.0));
        }
        let weight = if wanted { Weight::Bold } else { Weight::Regular };
        let text = format!("{}", i + 1);
        let at = (x(i), plot.bottom + 8.0 + SMALL_PX);
        scene.text(
            Text::new(at, &text, SMALL_PX, INK).bold_if(weight == Weight::Bold).anchored(Anchor::Middle),
        );
    }
    let line: Vec<Point> = input.sizes.iter().enumerate().map(|(i, s)| (x(i), y.at(s.mean))).collect();
    scene.polyline(line.clone(), Stroke::solid(ACCENT, 3.0));
    for (i, size) in input.sizes.iter().enumerate() {
        let at = line[i];
        let wanted = i + 1 == input.carry;
        let radius = if wanted { 8.5 } else { 5.5 };
        scene.circle(at, radius, Some(ACCENT.into()), Some(Stroke::solid(PAPER, 1.5)));
        if size.greedy < size.mean - 1e-9 {
            let at = (x(i), y.at(size.greedy));
            scene.circle(at, 5.0, Some(PAPER.into()), Some(Stroke::solid(SERIES[1], 2.5)));
        }
        if i > 0 {
            // Below the curve, where no line of the whole box runs.
            let at = (at.0, at.1 + 14.0 + SMALL_PX);
            let text = Text::new(at, &size.adds, SMALL_PX, INK).bold_if(wanted);
            scene.text(text.anchored(Anchor::Middle).halo(PAPER));
        }
    }
    if input.sizes.iter().any(|s| s.greedy < s.mean - 1e-9) {
        let at = (plot.right + 8.0, plot.bottom - 26.0);
        scene.circle((at.0 + 5.0, at.1), 5.0, Some(PAPER.into()), Some(Stroke::solid(SERIES[1], 2.5)));
        scene.text(Text::new((at.0 + 18.0, at.1), "one at a time", SMALL_PX, MUTED).centred_on_line());
    }
    scene.line((plot.left, plot.bottom), (plot.right, plot.bottom), Stroke::solid(MUTED, 1.2));
    let middle = (0.5 * (plot.left + plot.right), plot.bottom + 14.0 + SMALL_PX + BODY_PX);
    scene.text(Text::new(middle, "baits carried", BODY_PX, MUTED).anchored(Anchor::Middle));
}

fn shares(scene: &mut Scene, panel: &Panel, baits: &[Bait]) {
    let name_px = widest(baits.iter().map(|b| b.name.as_str()), BODY_PX, Weight::Bold, 330.0);
    let label_px = widest(baits.iter().map(|b| b.label.as_str()), BODY_PX, Weight::Regular, 80.0);
    let plot = panel.inset(name_px + 20.0, 0.0, label_px + 22.0, 0.0);
    let scale = Scale::linear(0.0, 100.0, (plot.left, plot.right));
    bottom_axis(scene, &plot, &scale, "in the best set of so many plausible worlds (%)");
    let head = "carried in bold";
    let at = (plot.left - 16.0 - text_width(head, SMALL_PX, Weight::Regular), panel.top - 12.0);
    scene.text(Text::new((at.0.max(panel.left), at.1), head, SMALL_PX, MUTED));
    for (i, bait) in baits.iter().enumerate() {
        let y = plot.top + ROW_PX * (i as f64 + 0.5);
        let colour = if bait.carried { ACCENT } else { FAINT };
        name(scene, (plot.left - 16.0, y), &bait.name, name_px, bait.carried, Anchor::End);
        scene.rect((plot.left, y - 11.0), (scale.held(100.0 * bait.share) - plot.left, 22.0), colour);
        let at = (plot.right + 12.0, y);
        scene.text(Text::new(at, &bait.label, BODY_PX, INK).centred_on_line());
    }
}
