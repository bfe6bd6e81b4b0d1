//! Strikes per 100 passes for every bait: the plausible worlds as dots, ties as a group.
use super::{Words, frame, label, largest, name, nothing_to_show, shapes, widest};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, Panel, Scale, bottom_axis};
use crate::present::palette::{ACCENT, FAINT, HAIRLINE, INK, MUTED};
use crate::present::scene::{Anchor, Scene, Stroke, Text, Weight};
use crate::present::words::short_range;

/// One bait.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// Strikes per 100 passes at evenly spaced quantiles of the plausible worlds (20 reads best).
    pub dots: Vec<f64>,
    /// Median over plausible worlds.
    pub median: f64,
    /// Lower end of the range of plausible worlds.
    pub low: f64,
    /// Upper end of the range of plausible worlds.
    pub high: f64,
    /// Whether it belongs to the group that could be best.
    pub could_be_best: bool,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Odds {
    /// The words around it.
    pub words: Words,
    /// One row per bait, best first; the group that could be best is moved to the top.
    pub rows: Vec<Row>,
}

const ROW_PX: f64 = 58.0;
const HEADING_PX: f64 = 40.0;
/// Room that the dots of one row may take above its line.
const STACK_PX: f64 = 44.0;

/// Draws the picture.
pub fn odds(input: &Odds) -> Scene {
    let (best, others): (Vec<&Row>, Vec<&Row>) = input.rows.iter().partition(|r| r.could_be_best);
    let headings = usize::from(!best.is_empty()) + usize::from(!others.is_empty());
    let rows_px = ROW_PX * input.rows.len().max(2) as f64 + HEADING_PX * headings as f64;
    let (mut scene, panel) = frame(&input.words, rows_px + BOTTOM_AXIS_PX + 10.0);
    if input.rows.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let said: Vec<String> = input.rows.iter().map(|r| short_range(r.median, r.low, r.high)).collect();
    let says =
        |r: &Row| format!("{}: {} strikes in 100 passes", r.name, short_range(r.median, r.low, r.high));
    scene.description = input.rows.iter().map(says).collect::<Vec<_>>().join("; ");

    let name_px = widest(input.rows.iter().map(|r| r.name.as_str()), BODY_PX, Weight::Bold, 236.0);
    let said_px = widest(said.iter().map(String::as_str), BODY_PX, Weight::Bold, 260.0);
    let plot = panel.inset(22.0 + name_px + 20.0, 0.0, said_px + 24.0, BOTTOM_AXIS_PX);
    let values = input.rows.iter().flat_map(|r| r.dots.iter().copied().chain([r.median]));
    let scale = Scale::linear(0.0, largest(values, 2.0) * 1.02, (plot.left, plot.right));
    let dots = input.rows.iter().map(|r| r.dots.len()).max().unwrap_or(0);
    let title = format!("strikes in 100 passes; each dot is one plausible world in {dots}");
    bottom_axis(&mut scene, &plot, &scale, &title);

    let radius = dot_radius(&input.rows, &scale);
    let mut y = plot.top;
    for (group, heading) in [(best, "Could be best"), (others, "Behind")] {
        if group.is_empty() {
            continue;
        }
        let first = group[0].could_be_best;
        let at = (panel.left, y + 0.66 * HEADING_PX);
        let colour = if first { ACCENT } else { MUTED };
        scene.text(Text { colour, ..label(at, heading, BODY_PX, Weight::Bold, 300.0) });
        y += HEADING_PX;
        let (top, bottom) = (y + 6.0, y + ROW_PX * group.len() as f64 - 2.0);
        if first {
            bracket(&mut scene, panel.left + 8.0, top, bottom);
        }
        for row in group {
            draw_row(&mut scene, &panel, &plot, &scale, row, y, (name_px, radius));
            y += ROW_PX;
        }
    }
    scene
}

/// The bracket that holds the group together.
fn bracket(scene: &mut Scene, x: f64, top: f64, bottom: f64) {
    let points = vec![(x + 7.0, top), (x, top), (x, bottom), (x + 7.0, bottom)];
    scene.polyline(points, Stroke::solid(ACCENT, 3.0));
}

fn draw_row(
    scene: &mut Scene,
    panel: &Panel,
    plot: &Panel,
    scale: &Scale,
    row: &Row,
    top: f64,
    (name_px, radius): (f64, f64),
) {
    let bold = row.could_be_best;
    let line = top + ROW_PX - 8.0;
    let middle = top + 0.5 * ROW_PX + 4.0;
    name(scene, (panel.left + 22.0, middle), &row.name, name_px, bold, Anchor::Start);
    scene.line((plot.left, line), (plot.right, line), Stroke::solid(HAIRLINE.towards(FAINT, 0.6), 1.2));
    let colour = if bold { ACCENT } else { FAINT };
    for (x, stack) in stacks(&row.dots, scale, radius) {
        let step = (2.0 * radius).min((STACK_PX - 2.0 * radius) / (stack.max(2) - 1) as f64);
        for k in 0..stack {
            let y = line - 1.0 - radius - step * k as f64;
            scene.circle((x, y), radius - 0.6, Some(colour.into()), None);
        }
    }
    let mark = shapes::triangle((scale.at(row.median), line + 4.5), 5.0, true);
    scene.polygon(mark, Some(if bold { INK } else { MUTED }.into()), None);
    let text = short_range(row.median, row.low, row.high);
    let weight = if bold { Weight::Bold } else { Weight::Regular };
    let said = label((plot.right + 20.0, middle), &text, BODY_PX, weight, panel.right - plot.right - 20.0);
    scene.text(Text { colour: if bold { INK } else { MUTED }, ..said }.centred_on_line());
}

/// Where the dots of a row are heaped: the x of each heap and how many lie on it (Wilkinson 1999,
/// Am. Stat. 53:276, from memory): dots closer than one diameter to the first of a heap join it.
fn stacks(dots: &[f64], scale: &Scale, radius: f64) -> Vec<(f64, usize)> {
    let mut xs: Vec<f64> = dots.iter().map(|&d| scale.held(d)).filter(|x| x.is_finite()).collect();
    xs.sort_by(f64::total_cmp);
    let mut heaps = Vec::new();
    let mut rest = &xs[..];
    while let Some(&first) = rest.first() {
        let n = rest.partition_point(|&x| x < first + 2.0 * radius);
        heaps.push((0.5 * (first + rest[n - 1]), n));
        rest = &rest[n..];
    }
    heaps
}

/// The largest dots of which no heap outgrows its row; the smallest size overlaps instead.
fn dot_radius(rows: &[Row], scale: &Scale) -> f64 {
    let fits = |radius: &f64| {
        let tallest =
            rows.iter().flat_map(|r| stacks(&r.dots, scale, *radius)).map(|s| s.1).max().unwrap_or(0);
        2.0 * radius * tallest as f64 <= STACK_PX
    };
    [6.0, 5.5, 5.0].into_iter().find(fits).unwrap_or(4.6)
}
