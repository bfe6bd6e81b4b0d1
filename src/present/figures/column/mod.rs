//! The water column: light fading with depth, the baits' paths, the fish and how far it sees each.
//!
//! One coordinate system for all of it: along the line to the right, depth downwards, so that the shape
//! around the fish shows where along its path a bait is in sight. Depths are drawn larger than lengths;
//! the note says by how much.
mod ground;
mod life;

use super::chart::{Axis, BOTTOM_AXIS_PX, chart, left_axis_px};
use super::{MARGIN_PX, WIDTH_PX, Words, frame, largest, nothing_to_show};
use crate::maths::interpolate::linear;
use crate::present::axes::{Panel, Scale};
use crate::present::palette::{INK, SERIES};
use crate::present::scene::{Colour, Point, Scene, Stroke};
use crate::present::words::two_digits;

/// What colours the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tint {
    /// Clear.
    #[default]
    Clear,
    /// Stained like tea.
    Tea,
    /// Green with algae.
    Green,
    /// Clouded by clay.
    Clay,
}

impl Tint {
    /// The shades of full surface light and of a thousandth of it.
    fn shades(self) -> (Colour, Colour) {
        match self {
            Tint::Clear => (Colour(0xdd, 0xec, 0xef), Colour(0x17, 0x3a, 0x52)),
            Tint::Tea => (Colour(0xf2, 0xe6, 0xcd), Colour(0x4b, 0x30, 0x17)),
            Tint::Green => (Colour(0xe0, 0xec, 0xd8), Colour(0x1f, 0x42, 0x34)),
            Tint::Clay => (Colour(0xef, 0xe4, 0xd3), Colour(0x5c, 0x49, 0x39)),
        }
    }
}

/// The sun above the water and its direction below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sun {
    /// Degrees above the horizon.
    pub elevation_deg: f64,
    /// Degrees from the level of its light under water.
    pub refracted_deg: f64,
}

/// The fish.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Fish {
    /// Depth at which it hangs.
    pub depth: f64,
    /// How much that depth varies, up and down.
    pub spread: f64,
    /// Where it is shown along the retrieve; none: where the first bait runs deep.
    pub reeled: Option<f64>,
}

/// How far the fish sees a bait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Upwards.
    pub up: f64,
    /// Level.
    pub level: f64,
    /// Downwards.
    pub down: f64,
}

/// One bait, with its path and how far the fish sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Bait {
    /// Its name.
    pub name: String,
    /// (line reeled in, depth), from where it lands to the rod.
    pub path: Vec<Point>,
    /// How far the fish sees it.
    pub seen: Option<Range>,
}

/// What the picture shows; lengths and depths in the reader's unit.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Column {
    /// The words around it.
    pub words: Words,
    /// The unit.
    pub unit: String,
    /// What colours the water.
    pub tint: Tint,
    /// (depth, share of the surface's light), from the surface down.
    pub light: Vec<(f64, f64)>,
    /// The sun, if it is up.
    pub sun: Option<Sun>,
    /// The fish.
    pub fish: Option<Fish>,
    /// The baits; two or three read best.
    pub baits: Vec<Bait>,
    /// Secchi depth.
    pub secchi: Option<f64>,
    /// Depth of the bottom.
    pub bottom: Option<f64>,
}

const SKY_PX: f64 = 76.0;
const WATER_PX: f64 = 440.0;
const LIGHT_STRIP_PX: f64 = 136.0;
const LABELS_PX: f64 = 236.0;
/// Steps of shade from the surface to the bottom of the picture.
const SHADES: usize = 220;
/// Opacity of the white band that shows how much the fish's depth varies.
const BAND_OPACITY: f64 = 0.17;
/// The light share at which the water is drawn darkest, as a power of ten.
const DARKEST_LOG10: f64 = -3.0;

/// Draws the picture.
pub fn column(input: &Column) -> Scene {
    let layout = Layout::new(input);
    let times = layout.exaggeration();
    let mut words = input.words.clone();
    let drawn = format!(
        "Depths are drawn {} times as large as lengths; fish and baits are not to scale.",
        two_digits(times)
    );
    words.note = format!("{} {drawn}", words.note).trim().to_owned();
    let (mut scene, panel) = frame(&words, SKY_PX + WATER_PX + BOTTOM_AXIS_PX);
    if input.baits.iter().all(|b| b.path.is_empty()) && input.fish.is_none() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description = description(input);
    let layout = layout.moved_down(panel.top);
    let w = layout.water;
    let sky = if input.sun.is_some() { Colour(0xf3, 0xf7, 0xf8) } else { Colour(0xe3, 0xe7, 0xec) };
    scene.rect((w.left, panel.top), (w.width(), SKY_PX), sky);
    layout.shade_water(&mut scene, input);
    layout.sunbeam(&mut scene, input);
    layout.bottom_of_lake(&mut scene, input);
    let upright = format!("depth ({})", input.unit);
    let (along, depth) = (&layout.along, &layout.depth);
    chart(&mut scene, &w, Axis::hidden(along), Axis::new(depth, &upright).bare(), &[]);
    let title = format!("line reeled in ({}): from where it lands to the rod", input.unit);
    chart(&mut scene, &layout.main, Axis::new(along, &title).bare(), Axis::hidden(depth), &[]);
    layout.light_strip(&mut scene, input);
    layout.fish_band(&mut scene, input);
    layout.ranges(&mut scene, input, false);
    layout.fish(&mut scene, input);
    layout.ranges(&mut scene, input, true);
    layout.paths(&mut scene, input);
    scene.line((w.left, w.top), (w.right, w.top), Stroke::solid(SERIES[2].towards(INK, 0.2), 2.5));
    layout.rod(&mut scene);
    layout.fish_label(&mut scene, input);
    layout.key(&mut scene, input);
    layout.bait_labels(&mut scene, input);
    scene
}

fn description(input: &Column) -> String {
    let unit = &input.unit;
    let mut parts = Vec::new();
    if let Some(f) = input.fish {
        parts.push(format!("The fish hangs at {} {unit}", two_digits(f.depth)));
    }
    parts.extend(
        input.secchi.map(|s| format!("the Secchi disk is lost from sight at {} {unit}", two_digits(s))),
    );
    for b in &input.baits {
        let runs = two_digits(largest(b.path.iter().map(|p| p.1), 0.0));
        let seen = b.seen.map_or(String::new(), |r| format!(", {}", seen_from(&r, unit)));
        parts.push(format!("{} runs down to {runs} {unit}{seen}", b.name));
    }
    parts.join("; ") + "."
}

fn seen_from(r: &Range, unit: &str) -> String {
    let [u, l, d] = [r.up, r.level, r.down].map(two_digits);
    format!("in sight {u} {unit} up, {l} level, {d} down")
}

/// Where things lie.
struct Layout {
    /// The whole body of water, with the strip of light at its left.
    water: Panel,
    /// The water right of the strip.
    main: Panel,
    depth: Scale,
    along: Scale,
    deepest: f64,
    reach: f64,
    /// Where the fish is shown.
    fish_x: f64,
}

impl Layout {
    fn new(input: &Column) -> Self {
        let paths = || input.baits.iter().flat_map(|b| &b.path);
        let runs = largest(paths().map(|p| p.1), 0.0);
        let hangs = input.fish.map_or(0.0, |f| f.depth + f.spread.max(0.0));
        let seen_down = |b: &Bait| Some(input.fish?.depth + 0.75 * b.seen?.down);
        let looks = largest(input.baits.iter().filter_map(seen_down), 0.0).min(1.7 * hangs.max(runs));
        let mut deepest = largest([1.2 * runs, 1.25 * hangs, looks], 0.5);
        // The disk and the bottom are shown where that does not squeeze the rest.
        for (extra, room) in [(input.secchi, 1.12), (input.bottom, 1.06)] {
            let near = extra.filter(|d| d.is_finite() && *d <= 1.5 * deepest);
            deepest = deepest.max(near.unwrap_or(0.0) * room);
        }
        let reach = largest(paths().map(|p| p.0), 1.0);
        let reeled = input.fish.and_then(|f| f.reeled).filter(|r| r.is_finite());
        let fish_at = reeled.or(input.baits.first().and_then(deep_middle)).unwrap_or(0.5 * reach);
        Self::at(SKY_PX, deepest, reach, fish_at.clamp(0.2 * reach, 0.85 * reach))
    }

    fn at(top: f64, deepest: f64, reach: f64, fish_at: f64) -> Self {
        let edge = WIDTH_PX - MARGIN_PX - LABELS_PX;
        let mut water = Panel { left: MARGIN_PX, top, right: edge, bottom: top + WATER_PX };
        let depth = Scale::linear(0.0, deepest, (top, water.bottom));
        water.left += left_axis_px(&water, &depth);
        let main = Panel { left: water.left + LIGHT_STRIP_PX, ..water };
        let along = Scale::linear(0.0, reach, (main.left, main.right));
        Self { water, main, depth, along, deepest, reach, fish_x: fish_at }
    }

    fn moved_down(self, top: f64) -> Self {
        Self::at(top + SKY_PX, self.deepest, self.reach, self.fish_x)
    }

    fn exaggeration(&self) -> f64 {
        (WATER_PX / self.deepest) / (self.main.width() / self.reach)
    }

    /// The shade of the water at a depth.
    fn shade(&self, input: &Column, depth: f64) -> Colour {
        let (pale, deep) = input.tint.shades();
        let log: Vec<(f64, f64)> = input.light.iter().map(|p| (p.0, p.1.max(1e-9).log10())).collect();
        let at = linear(&log, depth);
        pale.towards(deep, if at.is_finite() { at / DARKEST_LOG10 } else { depth / self.deepest })
    }
}

/// The middle of the stretch in which a bait runs within a twentieth of its greatest depth.
fn deep_middle(b: &Bait) -> Option<f64> {
    let deepest = largest(b.path.iter().map(|p| p.1), 0.0);
    let deep: Vec<f64> = b.path.iter().filter(|p| p.1 >= 0.95 * deepest).map(|p| p.0).collect();
    let middle = 0.5 * (deep.first()? + deep.last()?);
    middle.is_finite().then_some(middle)
}
