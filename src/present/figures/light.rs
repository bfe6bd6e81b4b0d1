//! Light in the water by hour and depth, in bands of a factor of ten.
use super::chart::{Axis, BOTTOM_AXIS_PX, chart, left_axis_px};
use super::{Words, frame, label, nothing_to_show};
use crate::maths::interpolate::linear;
use crate::present::axes::{Panel, SMALL_PX, Scale, tick_label};
use crate::present::palette::{INK, MUTED, PAPER, SUN, ink_on, light_shade};
use crate::present::scene::{Anchor, Colour, Dash, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::text_width;
use crate::present::words::two_digits;

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Light {
    /// The words around it.
    pub words: Words,
    /// Unit of depths.
    pub unit: String,
    /// Hours of local time, rising.
    pub hours: Vec<f64>,
    /// Depths, rising from 0.
    pub depths: Vec<f64>,
    /// log10 of the illuminance in lux: one row per hour, one value per depth, falling with depth.
    pub log10_lux: Vec<Vec<f64>>,
    /// Hour of sunrise.
    pub sunrise: Option<f64>,
    /// Hour of sunset.
    pub sunset: Option<f64>,
    /// Depth at which the fish hangs.
    pub fish_depth: Option<f64>,
}

const PLOT_PX: f64 = 400.0;
const HEAD_PX: f64 = 30.0;
/// Room for the ladder of shades right of the plot.
const LADDER_PX: f64 = 132.0;

/// Draws the picture.
pub fn light(input: &Light) -> Scene {
    let (mut scene, panel) = frame(&input.words, HEAD_PX + PLOT_PX + BOTTOM_AXIS_PX);
    let (Some(&first), Some(&last), Some(&deepest)) =
        (input.hours.first(), input.hours.last(), input.depths.last())
    else {
        nothing_to_show(&mut scene, &panel);
        return scene;
    };
    let mut plot = panel.inset(0.0, HEAD_PX, LADDER_PX, BOTTOM_AXIS_PX);
    let depth = Scale::linear(0.0, deepest, (plot.top, plot.bottom));
    plot.left += left_axis_px(&plot, &depth);
    let hour = Scale::hours(first, last, (plot.left, plot.right));
    let all = || input.log10_lux.iter().flatten().copied().filter(|v| v.is_finite());
    let (low, high) = (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max));
    if low > high {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    // No bands where nothing is seen (below a millionth of a lux) or brighter than the sun.
    let (low, high) = (low.clamp(-6.0, 6.0).floor() as i32, high.clamp(-5.0, 7.0).ceil() as i32);
    let shade = |level: i32| light_shade(f64::from(level - low + 1) / f64::from((high - low).max(1)));
    scene.rect((plot.left, plot.top), (plot.width(), plot.height()), shade(low - 1));
    let mut borders = Vec::new();
    for level in low..high {
        let line = border(input, f64::from(level), &hour, &depth);
        let mut area = line.clone();
        area.extend([(plot.right, plot.top), (plot.left, plot.top)]);
        scene.polygon(area, Some(shade(level).into()), None);
        borders.push((level, line));
    }
    let upright = format!("depth ({})", input.unit);
    let (x, y) = (Axis::new(&hour, "local time").bare(), Axis::new(&depth, &upright).bare());
    chart(&mut scene, &plot, x, y, &[]);
    for (level, line) in &borders {
        scene.polyline(line.clone(), Stroke::solid(INK.towards(shade(*level), 0.45), 1.1));
    }
    sun_marks(&mut scene, &plot, &hour, input);
    let mut fish_y = None;
    if let Some(fish) = input.fish_depth.filter(|d| *d >= 0.0 && *d <= deepest) {
        let y = depth.at(fish);
        for stroke in [Stroke::solid(PAPER, 4.0), Stroke::solid(INK, 2.0).dashed(Dash::Dashed)] {
            scene.line((plot.left, y), (plot.right, y), stroke);
        }
        let text = format!("fish at {} {}", two_digits(fish), input.unit);
        fish_y = fish_label(&mut scene, &plot, y, &text, &borders);
    }
    contour_labels(&mut scene, &plot, &borders, &shade, fish_y);
    ladder(&mut scene, &plot, (low, high), &shade);
    scene.description = format!(
        "Illuminance in lux by hour of the day and depth in {}, in bands of a factor of ten from 10^{low} to 10^{high}.",
        input.unit
    );
    scene
}

/// Where the light falls to `level` at each hour: the surface if it never reaches it.
fn border(input: &Light, level: f64, hour: &Scale, depth: &Scale) -> Vec<Point> {
    let mut line = Vec::with_capacity(input.hours.len());
    for (h, row) in input.hours.iter().zip(&input.log10_lux) {
        // Depth as a function of falling light: rising in its negative.
        let fall: Vec<(f64, f64)> = row.iter().zip(&input.depths).map(|(v, d)| (-v, *d)).collect();
        let reached = row.first().is_some_and(|v| *v >= level);
        let d = if reached { linear(&fall, -level) } else { 0.0 };
        line.push((hour.at(*h), depth.held(d)));
    }
    line
}

/// An event with its time of day.
pub fn clock(event: &str, hour: f64) -> String {
    let minutes = (hour * 60.0).round() as i64;
    format!("{event} {:02}:{:02}", minutes.div_euclid(60).rem_euclid(24), minutes.rem_euclid(60))
}

fn sun_marks(scene: &mut Scene, plot: &Panel, hour: &Scale, input: &Light) {
    let (from, to) = hour.limits();
    for (at, text) in [(input.sunrise, "sunrise"), (input.sunset, "sunset")] {
        let Some(h) = at.filter(|h| *h >= from && *h <= to) else { continue };
        let x = hour.at(h);
        scene.line((x, plot.top - 6.0), (x, plot.bottom), Stroke::solid(SUN, 2.0).dashed(Dash::Dashed));
        let text = clock(text, h);
        let half = 0.5 * text_width(&text, SMALL_PX, Weight::Regular);
        let middle = x.max(plot.left + half).min(plot.right - half);
        let said = label((middle, plot.top - 12.0), &text, SMALL_PX, Weight::Regular, plot.width());
        scene.text(said.anchored(Anchor::Middle));
    }
}

/// Writes the fish's label on its line, where it touches the fewest borders; returns its height.
fn fish_label(
    scene: &mut Scene,
    plot: &Panel,
    y: f64,
    text: &str,
    borders: &[(i32, Vec<Point>)],
) -> Option<f64> {
    let half = 0.5 * text_width(text, SMALL_PX, Weight::Bold) + 6.0;
    let touched = |at: &Point| {
        let inside = |p: &&Point| (p.0 - at.0).abs() < half + 8.0 && (p.1 - at.1).abs() < SMALL_PX;
        borders.iter().flat_map(|b| &b.1).filter(inside).count()
    };
    let spots = [0.5, 0.35, 0.65, 0.25, 0.75].into_iter().flat_map(|share| {
        let x = plot.left + share * plot.width();
        [(x, y - 14.0), (x, y + 14.0)]
    });
    let inside = |p: &Point| p.1 > plot.top + 12.0 && p.1 < plot.bottom - 12.0;
    let spot = spots.filter(inside).min_by_key(touched)?;
    let said = label(spot, text, SMALL_PX, Weight::Bold, plot.width());
    scene.text(said.anchored(Anchor::Middle).halo(PAPER).centred_on_line());
    Some(spot.1)
}

/// Writes each border's light on it where it runs deepest and nearly level, unless that would touch
/// another label; steep borders are left to the ladder.
fn contour_labels(
    scene: &mut Scene,
    plot: &Panel,
    borders: &[(i32, Vec<Point>)],
    shade: &dyn Fn(i32) -> Colour,
    fish_y: Option<f64>,
) {
    let mut taken: Vec<f64> = fish_y.into_iter().collect();
    for (level, line) in borders.iter().rev() {
        let text = format!("{} lux", lux(*level));
        let half = 0.5 * text_width(&text, SMALL_PX, Weight::Regular) + 6.0;
        let inside = |p: &Point| {
            p.0 - half > plot.left
                && p.0 + half < plot.right
                && p.1 > plot.top + 12.0
                && p.1 < plot.bottom - 12.0
        };
        let level_there = |p: &Point| {
            let near = line.iter().filter(|q| (q.0 - p.0).abs() < half);
            near.clone().count() > 1 && near.clone().all(|q| (q.1 - p.1).abs() < 0.7 * SMALL_PX)
        };
        let places = line.iter().filter(|p| inside(p) && level_there(p));
        let Some(&(x, y)) = places.max_by(|a, b| a.1.total_cmp(&b.1)) else { continue };
        if taken.iter().any(|t| (t - y).abs() < SMALL_PX + 4.0) {
            continue;
        }
        taken.push(y);
        let ground = shade(*level);
        let said = Text::new((x, y), &text, SMALL_PX, ink_on(ground)).anchored(Anchor::Middle).halo(ground);
        scene.text(said.centred_on_line());
    }
}

/// The shades from bright to dark with the light at the borders between them.
fn ladder(scene: &mut Scene, plot: &Panel, (low, high): (i32, i32), shade: &dyn Fn(i32) -> Colour) {
    let rungs = high - low + 1;
    let step = (plot.height() / f64::from(rungs)).min(34.0);
    let (x, width) = (plot.right + 28.0, 18.0);
    let top = plot.top;
    scene.text(Text::new((x, top - 12.0), "lux", SMALL_PX, INK));
    for (k, level) in ((low - 1)..high).rev().enumerate() {
        let y = top + step * k as f64;
        scene.rect((x, y), (width, step + 0.5), shade(level));
        if level >= low && (step > SMALL_PX || k % 2 == 0) {
            let said = Text::new((x + width + 8.0, y + step), &lux(level), SMALL_PX, INK);
            scene.text(said.centred_on_line());
        }
    }
    let size = (width, step * f64::from(rungs));
    scene.outlined_rect((x, top), size, None, Some(Stroke::solid(MUTED, 1.0)));
}

/// A power of ten as people write it.
fn lux(level: i32) -> String {
    let value = 10f64.powi(level);
    tick_label(value, value)
}
