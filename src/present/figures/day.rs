//! A day: sun and light above, the odds of the leaders below them, the plan as a strip with its changes.
use super::light::bottom_axis_of_hours;
use super::lines::{END_LABEL_PX, EndLabel, Series, band, end_labels};
use super::{Words, frame, label, largest, nothing_to_show};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, left_axis, left_axis_px};
use crate::present::palette::{FAINT, HAIRLINE, INK, MUTED, PAPER, SUN, ink_on, series};
use crate::present::scene::{Anchor, Colour, Dash, Fill, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::text_width;

/// A stretch of the plan with one bait.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Beginning, hours.
    pub from: f64,
    /// End, hours.
    pub to: f64,
    /// Which line shows the bait; none for one not shown.
    pub series: Option<usize>,
    /// Name of the bait.
    pub name: String,
}

/// A change of the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Hour.
    pub at: f64,
    /// Hours between which it pays.
    pub range: Option<(f64, f64)>,
    /// Whether it can be told that it pays at all.
    pub told: bool,
    /// What is written at it.
    pub label: String,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Day {
    /// The words around it.
    pub words: Words,
    /// First and last hour.
    pub ends: (f64, f64),
    /// Height of the sun over the hours, degrees.
    pub sun: Vec<Point>,
    /// Illuminance on the water over the hours, lux.
    pub surface_lux: Vec<Point>,
    /// Illuminance at the fish, lux.
    pub fish_lux: Vec<Point>,
    /// Hour of sunrise.
    pub sunrise: Option<f64>,
    /// Hour of sunset.
    pub sunset: Option<f64>,
    /// The leaders.
    pub series: Vec<Series>,
    /// The plan.
    pub strip: Vec<Piece>,
    /// Its changes.
    pub changes: Vec<Change>,
}

const HEAD_PX: f64 = 26.0;
const LIGHT_PX: f64 = 190.0;
const GAP_PX: f64 = 36.0;
const ODDS_PX: f64 = 300.0;
const STRIP_PX: f64 = 34.0;
/// Room under the strip for the bars of the changes.
const BAR_PX: f64 = 18.0;
const LABELS_PX: f64 = 226.0;
/// Nothing is drawn below a thousandth of a lux: starlight.
const LEAST_LUX: f64 = 1e-3;

/// Draws the picture.
pub fn day(input: &Day) -> Scene {
    let odds_px = ODDS_PX.max(END_LABEL_PX * input.series.len() as f64);
    let body = HEAD_PX + LIGHT_PX + GAP_PX + odds_px + 14.0 + STRIP_PX + BAR_PX + BOTTOM_AXIS_PX;
    let (mut scene, panel) = frame(&input.words, body);
    let (from, to) = input.ends;
    if !(from.is_finite() && to.is_finite() && to > from) || input.surface_lux.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description = description(input);
    let top = panel.top + HEAD_PX;
    let right = panel.right - LABELS_PX - 30.0;
    let mut light = Panel { left: panel.left, top, right, bottom: top + LIGHT_PX };
    let mut odds = Panel { top: light.bottom + GAP_PX, bottom: light.bottom + GAP_PX + odds_px, ..light };
    let all_lux = || input.surface_lux.iter().chain(&input.fish_lux).map(|p| p.1).filter(|v| v.is_finite());
    let brightest = largest(all_lux(), 1.0);
    let darkest = all_lux().fold(brightest, f64::min).max(LEAST_LUX);
    let lux = Scale::logarithmic(0.7 * darkest, 2.0 * brightest, (light.bottom, light.top));
    let ends = input.series.iter().flat_map(|s| &s.points).flat_map(|p| [p.middle, p.high]);
    let strikes = Scale::linear(0.0, 1.05 * largest(ends, 1.0), (odds.bottom, odds.top));
    let left = panel.left + left_axis_px(&light, &lux).max(left_axis_px(&odds, &strikes));
    (light.left, odds.left) = (left, left);
    let hour = Scale::linear(from, to, (left, right));
    left_axis(&mut scene, &light, &lux, "light (lux)", true);
    left_axis(&mut scene, &odds, &strikes, "strikes in 100 passes", true);
    light_panel(&mut scene, &light, &hour, &lux, input);
    odds_panel(&mut scene, &odds, &hour, &strikes, input);
    strip(&mut scene, &odds, &hour, input);
    let floor = Panel { bottom: odds.bottom + 14.0 + STRIP_PX + BAR_PX, ..odds };
    bottom_axis_of_hours(&mut scene, &floor, &hour);
    scene
}

fn description(input: &Day) -> String {
    let number = crate::present::words::two_digits;
    let piece = |p: &Piece| format!("{} from hour {} to {}", p.name, number(p.from), number(p.to));
    let plan: Vec<String> = input.strip.iter().map(piece).collect();
    let most = largest(input.surface_lux.iter().map(|p| p.1), 0.0);
    format!("Plan: {}. At most {} lux on the water.", plan.join("; "), number(most))
}

/// Sun as an area, light as two lines.
fn light_panel(scene: &mut Scene, plot: &Panel, hour: &Scale, lux: &Scale, input: &Day) {
    let highest =
        input.sun.iter().copied().filter(|p| p.1 > 0.0 && p.1 <= 90.0).max_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((at, most)) = highest {
        // The area shows the course only; its height is said.
        let y = |elevation: f64| plot.bottom - 0.8 * plot.height() * elevation.max(0.0) / most;
        let mut area: Vec<Point> = input.sun.iter().map(|p| (hour.at(p.0), y(p.1))).collect();
        if let (Some(first), Some(last)) = (input.sun.first(), input.sun.last()) {
            area.extend([(hour.at(last.0), plot.bottom), (hour.at(first.0), plot.bottom)]);
        }
        scene.polygon(area, Some(Fill { colour: SUN, opacity: 0.22 }), None);
        let text = format!("sun {most:.0}° high");
        let half = 0.5 * text_width(&text, SMALL_PX, Weight::Regular) + 4.0;
        let x = hour.at(at).clamp(plot.left + half, plot.right - half);
        let at = (x, plot.bottom - 0.3 * plot.height());
        scene.text(Text::new(at, &text, SMALL_PX, INK).anchored(Anchor::Middle).halo(PAPER));
    }
    for (at, text) in [(input.sunrise, "sunrise"), (input.sunset, "sunset")] {
        let Some(h) = at.filter(|h| *h >= input.ends.0 && *h <= input.ends.1) else { continue };
        let x = hour.at(h);
        scene.line((x, plot.top - 6.0), (x, plot.bottom), Stroke::solid(SUN, 2.0).dashed(Dash::Dashed));
        let minutes = (h * 60.0).round() as i64;
        let text =
            format!("{text} {:02}:{:02}", minutes.div_euclid(60).rem_euclid(24), minutes.rem_euclid(60));
        let half = 0.5 * text_width(&text, SMALL_PX, Weight::Regular);
        let middle = x.max(plot.left + half).min(plot.right - half);
        let said = label((middle, plot.top - 12.0), &text, SMALL_PX, Weight::Regular, plot.width());
        scene.text(said.anchored(Anchor::Middle));
    }
    let mut labels = Vec::new();
    let lines: [(&[Point], Colour, Dash, &str); 2] = [
        (&input.surface_lux, INK, Dash::Solid, "light on the water"),
        (&input.fish_lux, MUTED, Dash::Dashed, "light at the fish"),
    ];
    for (points, colour, dash, text) in lines {
        let line: Vec<Point> = points
            .iter()
            .filter(|p| p.1.is_finite())
            .map(|p| (hour.at(p.0), lux.held(p.1.max(LEAST_LUX))))
            .collect();
        labels.extend(line.last().map(|&from| EndLabel {
            from,
            text: text.into(),
            colour,
            dash,
            muted: false,
        }));
        scene.polyline(line, Stroke::solid(colour, 2.6).dashed(dash));
    }
    end_labels(scene, &labels, plot.right, (plot.top + 10.0, plot.bottom - 4.0));
}

/// The odds of the leaders, with the changes through both panels.
fn odds_panel(scene: &mut Scene, plot: &Panel, hour: &Scale, y: &Scale, input: &Day) {
    for (i, s) in input.series.iter().enumerate() {
        band(scene, s, hour, y, series(i).0);
    }
    let mut free_from = f64::NEG_INFINITY;
    for change in input.changes.iter().filter(|c| c.at >= input.ends.0 && c.at <= input.ends.1) {
        let x = hour.at(change.at);
        let stroke = Stroke::solid(INK, 1.4).dashed(Dash::Dashed);
        scene.line((x, plot.top - 4.0), (x, plot.bottom + 14.0), stroke);
        let text = format!("change {}{}", change.label, if change.told { "" } else { "?" });
        let half = 0.5 * text_width(&text, SMALL_PX, Weight::Regular);
        let middle = x.max(plot.left + half).min(plot.right - half);
        if middle - half > free_from {
            let at = (middle, plot.top - 9.0);
            scene.text(Text::new(at, &text, SMALL_PX, INK).anchored(Anchor::Middle).halo(PAPER));
            free_from = middle + half + 8.0;
        }
    }
    let mut labels = Vec::new();
    for (i, s) in input.series.iter().enumerate() {
        let (colour, dash) = series(i);
        let line: Vec<Point> = s.points.iter().map(|p| (hour.at(p.x), y.at(p.middle))).collect();
        labels.extend(line.iter().rev().find(|p| p.1.is_finite()).map(|&from| EndLabel {
            from,
            text: s.name.clone(),
            colour,
            dash,
            muted: false,
        }));
        scene.polyline(line, Stroke::solid(colour, 3.2).dashed(dash));
    }
    end_labels(scene, &labels, plot.right, (plot.top + 10.0, plot.bottom - 6.0));
}

/// The plan as a strip; under it, when each change pays.
fn strip(scene: &mut Scene, odds: &Panel, hour: &Scale, input: &Day) {
    let top = odds.bottom + 14.0;
    for piece in &input.strip {
        let (left, right) = (hour.at(piece.from), hour.at(piece.to));
        let colour = piece.series.map_or(FAINT, |i| series(i).0);
        scene.rect((left, top), (right - left, STRIP_PX), colour);
        scene.line((left, top), (left, top + STRIP_PX), Stroke::solid(PAPER, 2.0));
        let room = right - left - 16.0;
        if text_width(&piece.name, SMALL_PX, Weight::Bold) <= room {
            let at = (0.5 * (left + right), top + 0.5 * STRIP_PX);
            let text = label(at, &piece.name, SMALL_PX, Weight::Bold, room);
            scene.text(Text { colour: ink_on(colour), ..text }.anchored(Anchor::Middle).centred_on_line());
        }
    }
    let at = (odds.right + 18.0, top + 0.5 * STRIP_PX);
    scene.text(Text::new(at, "plan with one rod", BODY_PX, INK).centred_on_line());
    let y = top + STRIP_PX + 9.0;
    for change in &input.changes {
        let Some((low, high)) = change.range else { continue };
        let (left, right) = (hour.held(low), hour.held(high));
        let colour = if change.told { INK } else { FAINT };
        scene.line((left - 2.0, y), (right + 2.0, y), Stroke::solid(colour, 5.0));
        scene.circle((hour.held(change.at), y), 4.0, Some(PAPER.into()), Some(Stroke::solid(colour, 2.0)));
    }
    let bottom = top + STRIP_PX + BAR_PX;
    scene.line((odds.left, bottom), (odds.right, bottom), Stroke::solid(HAIRLINE, 1.0));
}
