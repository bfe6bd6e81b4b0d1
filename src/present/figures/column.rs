//! The water column: light fading with depth, the baits' paths, the fish and how far it sees each.
//!
//! One coordinate system for all of it: along the line to the right, depth downwards, so that the shape
//! around the fish shows where along its path a bait is in sight. Depths are drawn larger than lengths;
//! the note says by how much.
use super::lines::{EndLabel, end_labels};
use super::shapes::{fish, minnow, secchi_disk, smooth};
use super::{MARGIN_PX, WIDTH_PX, Words, frame, label, largest, nothing_to_show};
use crate::maths::interpolate::linear;
use crate::present::axes::{
    BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis, left_axis, left_axis_px, spread, spread_unordered,
};
use crate::present::escape::terminal_text;
use crate::present::palette::{FAINT, INK, MUTED, PAPER, SERIES, SUN, ink_on, series};
use crate::present::scene::{Anchor, Colour, Dash, Fill, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{text_width, wrap};
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
const LIGHT_STRIP_PX: f64 = 122.0;
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
    left_axis(&mut scene, &w, &layout.depth, &format!("depth ({})", input.unit), false);
    let title = format!("line reeled in ({}): from where it lands to the rod", input.unit);
    bottom_axis(&mut scene, &Panel { top: w.bottom, ..layout.main }, &layout.along, &title);
    layout.light_strip(&mut scene, input);
    layout.fish_band(&mut scene, input);
    layout.ranges(&mut scene, input, false);
    layout.fish(&mut scene, input);
    layout.ranges(&mut scene, input, true);
    layout.paths(&mut scene, input);
    scene.line((w.left, w.top), (w.right, w.top), Stroke::solid(SERIES[2].towards(INK, 0.2), 2.5));
    layout.rod(&mut scene);
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

    fn shade_water(&self, scene: &mut Scene, input: &Column) {
        // Each step reaches down to the bottom, so that no seams show.
        let mut last = None;
        for k in 0..SHADES {
            let share = k as f64 / SHADES as f64;
            let y = self.water.top + share * self.water.height();
            let colour = self.shade(input, (share + 0.5 / SHADES as f64) * self.deepest);
            if last != Some(colour) {
                scene.rect((self.water.left, y), (self.water.width(), self.water.bottom - y), colour);
                last = Some(colour);
            }
        }
        let x = self.main.left;
        scene.line((x, self.water.top), (x, self.water.bottom), Stroke::solid(PAPER, 2.0));
    }

    fn bottom_of_lake(&self, scene: &mut Scene, input: &Column) {
        let Some(bottom) = input.bottom.filter(|b| b.is_finite() && *b > 0.0) else { return };
        let text = format!("bottom at {} {}", two_digits(bottom), input.unit);
        let y = self.depth.at(bottom);
        let (ground, at) = if bottom <= self.deepest {
            let sand = Colour(0x8a, 0x75, 0x5c);
            scene.rect((self.water.left, y), (self.water.width(), self.water.bottom - y), sand);
            (sand, 0.5 * (y + self.water.bottom))
        } else {
            (self.shade(input, self.deepest), self.water.bottom - 14.0)
        };
        let text = if bottom <= self.deepest { text } else { format!("{text}, below this picture") };
        let said = Text::new((self.main.right - 10.0, at), &text, SMALL_PX, ink_on(ground));
        scene.text(said.anchored(Anchor::End).centred_on_line());
    }

    /// Ticks where 50, 10, 1 and 0.1 % of the light are left, and the Secchi disk on its rope.
    fn light_strip(&self, scene: &mut Scene, input: &Column) {
        let (left, top) = (self.water.left, self.water.top);
        let head = Text::new((left + 0.5 * LIGHT_STRIP_PX, top - 10.0), "light left", SMALL_PX, INK);
        scene.text(head.anchored(Anchor::Middle));
        let fall: Vec<(f64, f64)> = input.light.iter().map(|p| (-p.1.max(1e-12).log10(), p.0)).collect();
        let darkest = fall.last().map_or(0.0, |p| p.0);
        let mut marks: Vec<(f64, String, bool)> =
            [(0.5, "50 %"), (0.1, "10 %"), (0.01, "1 %"), (0.001, "0.1 %")]
                .into_iter()
                .filter(|(share, _)| -f64::log10(*share) <= darkest)
                .map(|(share, text)| (linear(&fall, -f64::log10(share)), text.to_owned(), false))
                .chain(input.secchi.map(|s| (s, format!("disk {} {}", two_digits(s), input.unit), true)))
                .filter(|m| m.0 >= 0.0 && m.0 <= 0.97 * self.deepest)
                .collect();
        marks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let wanted: Vec<f64> = marks.iter().map(|m| self.depth.at(m.0)).collect();
        let places = spread(&wanted, 25.0, top + 14.0, self.water.bottom - 14.0);
        for ((depth, text, disk), y) in marks.into_iter().zip(places) {
            let ink = ink_on(self.shade(input, depth));
            let at = self.depth.at(depth);
            if disk {
                scene.line(
                    (left + 20.0, top),
                    (left + 20.0, at),
                    Stroke::solid(ink.towards(MUTED, 0.4), 1.4),
                );
                secchi_disk(scene, (left + 20.0, at), 15.0);
            } else {
                let tick = vec![(left, at), (left + 10.0, at), (left + 36.0, y), (left + 38.0, y)];
                scene.polyline(tick, Stroke::solid(ink, 1.4));
            }
            let room = LIGHT_STRIP_PX - 46.0;
            let said = label((left + 42.0, y), &text, SMALL_PX, Weight::Regular, room);
            scene.text(Text { colour: ink, ..said }.centred_on_line());
        }
    }

    /// The sun's disk, its ray to the surface, and a beam at the refracted angle, all with the
    /// picture's stretch.
    fn sunbeam(&self, scene: &mut Scene, input: &Column) {
        let Some(sun) = input.sun.filter(|s| s.elevation_deg > 0.0 && s.refracted_deg > 0.0) else { return };
        let stretch = self.exaggeration();
        let run = |rise: f64, deg: f64| (rise / (deg.min(89.9).to_radians().tan() * stretch)).min(150.0);
        let surface = (self.main.left + 0.2 * self.main.width(), self.main.top);
        let disk = (surface.0 - run(46.0, sun.elevation_deg), surface.1 - 46.0);
        scene.line(disk, surface, Stroke::solid(SUN, 2.0));
        let fall = 0.45 * self.water.height();
        let along = fall / (sun.refracted_deg.min(89.9).to_radians().tan() * stretch);
        let fall =
            if along > 0.7 * self.main.width() { fall * 0.7 * self.main.width() / along } else { fall };
        let end = (surface.0 + along.min(0.7 * self.main.width()), surface.1 + fall);
        let beam = |half: f64, opacity: f64, scene: &mut Scene| {
            let points = vec![
                (surface.0 - half, surface.1),
                (surface.0 + half, surface.1),
                (end.0 + 1.8 * half, end.1),
                (end.0 - 1.8 * half, end.1),
            ];
            scene.polygon(points, Some(Fill { colour: Colour(0xff, 0xf3, 0xcf), opacity }), None);
        };
        beam(15.0, 0.22, scene);
        beam(6.0, 0.25, scene);
        scene.circle(disk, 13.0, Some(SUN.into()), Some(Stroke::solid(PAPER, 2.0)));
        let (high, under) = (sun.elevation_deg.round(), sun.refracted_deg.round());
        let text = format!("sun {high}° high, {under}° under water");
        scene.text(Text::new((disk.0 + 22.0, disk.1 - 4.0), &text, SMALL_PX, INK).centred_on_line());
    }

    fn fish_band(&self, scene: &mut Scene, input: &Column) {
        let Some(f) = input.fish.filter(|f| f.depth.is_finite()) else { return };
        let spread = if f.spread.is_finite() { f.spread.max(0.0) } else { 0.0 };
        let (top, bottom) = (self.depth.held(f.depth - spread), self.depth.held(f.depth + spread));
        let size = (self.main.width(), (bottom - top).max(2.0));
        scene.rect((self.main.left, top), size, Fill { colour: PAPER, opacity: BAND_OPACITY });
    }

    fn eye(&self, f: &Fish) -> Point {
        (self.along.at(self.fish_x), self.depth.held(f.depth))
    }

    /// For every bait a closed curve through the distances at which the fish sees it upwards, level and
    /// downwards: two half ellipses, an aid to the eye between three computed distances. Without
    /// `edges` only the inside is painted, so that the fish can lie between inside and edge.
    fn ranges(&self, scene: &mut Scene, input: &Column, edges: bool) {
        let Some(f) = input.fish.filter(|f| f.depth.is_finite()) else { return };
        let eye = self.eye(&f);
        let (px_x, px_y) = (self.main.width() / self.reach, self.water.height() / self.deepest);
        let curve = |r: &Range| -> Vec<Point> {
            (0..=180)
                .map(|k| {
                    let (sin, cos) = f64::from(2 * k).to_radians().sin_cos();
                    let high = if sin > 0.0 { r.up } else { r.down };
                    (eye.0 + r.level * cos * px_x, eye.1 - high * sin * px_y)
                })
                .collect()
        };
        let floor = input.bottom.filter(|b| b.is_finite()).map_or(self.main.bottom, |b| self.depth.held(b));
        let open = Panel { bottom: floor, ..self.main };
        for (i, b) in input.baits.iter().enumerate() {
            let Some(r) = b.seen else { continue };
            let (colour, dash) = series(i);
            let points = curve(&r);
            if !edges {
                let clamped = points.iter().map(|&p| open.clamp(p)).collect();
                let inside = Fill { colour: colour.towards(PAPER, 0.45), opacity: 0.16 };
                scene.polygon(clamped, Some(inside), None);
                continue;
            }
            // Where the water ends there is no edge of sight to draw.
            let inside = |p: &Point| if open.clamp(*p) == *p { *p } else { (f64::NAN, f64::NAN) };
            let edge: Vec<Point> = points.iter().map(inside).collect();
            scene.polyline(edge.clone(), Stroke::solid(PAPER, 3.6));
            scene.polyline(edge, Stroke::solid(colour, 2.2).dashed(dash));
        }
    }

    fn paths(&self, scene: &mut Scene, input: &Column) {
        for (i, b) in input.baits.iter().enumerate().rev() {
            let (colour, dash) = series(i);
            let line: Vec<Point> =
                b.path.iter().map(|p| (self.along.at(p.0), self.depth.held(p.1))).collect();
            scene.polyline(line.clone(), Stroke::solid(PAPER, 5.2));
            scene.polyline(line.clone(), Stroke::solid(colour, 3.6).dashed(dash));
            let near = line.iter().filter(|p| p.0.is_finite() && p.1.is_finite());
            let goal = self.along.at(self.fish_x);
            if let Some(&at) = near.min_by(|p, q| (p.0 - goal).abs().total_cmp(&(q.0 - goal).abs())) {
                minnow(scene, at, 30.0, colour);
            }
        }
    }

    fn rod(&self, scene: &mut Scene) {
        let tip = (self.main.right - 2.0, self.main.top - 8.0);
        let curve =
            [tip, (tip.0 + 6.0, tip.1 - 22.0), (tip.0 + 24.0, tip.1 - 42.0), (tip.0 + 54.0, tip.1 - 60.0)];
        scene.polyline(smooth(&curve, false, 8), Stroke::solid(INK, 3.0));
        scene.text(Text::new((tip.0 + 40.0, tip.1 - 22.0), "rod", SMALL_PX, MUTED));
    }

    fn fish(&self, scene: &mut Scene, input: &Column) {
        let Some(f) = input.fish.filter(|f| f.depth.is_finite()) else { return };
        let eye = self.eye(&f);
        fish(scene, eye, 84.0, Colour(0x3c, 0x4f, 0x45));
        let spread =
            if f.spread > 0.0 { format!(", give or take {}", two_digits(f.spread)) } else { String::new() };
        let text = format!("fish at {} {}{spread}", two_digits(f.depth), input.unit);
        let ground = self.shade(input, f.depth).towards(PAPER, BAND_OPACITY);
        let room = eye.0 - self.main.left - 40.0;
        let said = label((self.main.left + 12.0, eye.1), &text, SMALL_PX, Weight::Bold, room);
        scene.text(Text { colour: ink_on(ground), ..said }.halo(ground).centred_on_line());
    }

    /// What line and shape mean, once, above the water.
    fn key(&self, scene: &mut Scene, input: &Column) {
        if input.baits.iter().all(|b| b.seen.is_none()) || input.fish.is_none() {
            return;
        }
        let text = "shape: where the fish can see it";
        let x = self.main.right - 18.0 - text_width(text, SMALL_PX, Weight::Regular);
        let y = self.main.top - 15.0;
        let oval: Vec<Point> = (0..24)
            .map(|k| (f64::from(k) * 15.0).to_radians().sin_cos())
            .map(|(s, c)| (x - 16.0 + 11.0 * c, y + 8.0 * s))
            .collect();
        scene.polygon(oval, Some(FAINT.towards(PAPER, 0.6).into()), Some(Stroke::solid(MUTED, 1.8)));
        scene.text(Text::new((x, y), text, SMALL_PX, INK).centred_on_line());
    }

    /// Name, running depth and range of each bait right of the water, tied to the deepest point of its
    /// path; with many baits only the names.
    fn bait_labels(&self, scene: &mut Scene, input: &Column) {
        let right = self.main.right;
        let mut ties = Vec::new();
        for (i, b) in input.baits.iter().enumerate() {
            let (colour, dash) = series(i);
            let line = b.path.iter().map(|p| (self.along.at(p.0), self.depth.held(p.1)));
            let from = line.filter(|p| p.0.is_finite()).max_by(|p, q| p.1.total_cmp(&q.1));
            let from = from.unwrap_or((right, self.main.top));
            ties.push(EndLabel { from, text: b.name.clone(), colour, dash, muted: false });
        }
        let ends = (self.main.top + 24.0, self.main.bottom - 20.0);
        if ties.len() > 4 {
            return end_labels(scene, &ties, right, ends);
        }
        let blocks: Vec<Vec<(String, bool)>> = input.baits.iter().map(|b| block(b, &input.unit)).collect();
        let line_px = 1.2 * SMALL_PX;
        let tallest = blocks.iter().map(Vec::len).max().unwrap_or(1) as f64;
        let wanted: Vec<f64> = ties.iter().map(|t| t.from.1).collect();
        let margin = 0.5 * tallest * line_px;
        let places = spread_unordered(
            &wanted,
            tallest * line_px + 14.0,
            self.main.top + 8.0 + margin,
            self.main.bottom - margin,
        );
        for ((tie, block), y) in ties.iter().zip(blocks).zip(places) {
            let first = y - 0.5 * line_px * (block.len().saturating_sub(1)) as f64;
            scene.line(tie.from, (right, tie.from.1), Stroke::solid(PAPER, 1.6).dashed(Dash::Dotted));
            let elbow = vec![(right, tie.from.1), (right + 12.0, first), (right + 16.0, first)];
            scene.polyline(elbow, Stroke::solid(tie.colour.towards(PAPER, 0.3), 1.2));
            scene.line(
                (right + 16.0, first),
                (right + 42.0, first),
                Stroke::solid(tie.colour, 3.6).dashed(tie.dash),
            );
            for (k, (text, bold)) in block.iter().enumerate() {
                let at = (right + 48.0, first + line_px * k as f64);
                let said = Text::new(at, text, SMALL_PX, if *bold { INK } else { MUTED });
                scene.text(said.bold_if(*bold).centred_on_line());
            }
        }
    }
}

/// The middle of the stretch in which a bait runs within a twentieth of its greatest depth.
fn deep_middle(b: &Bait) -> Option<f64> {
    let deepest = largest(b.path.iter().map(|p| p.1), 0.0);
    let deep: Vec<f64> = b.path.iter().filter(|p| p.1 >= 0.95 * deepest).map(|p| p.0).collect();
    let middle = 0.5 * (deep.first()? + deep.last()?);
    middle.is_finite().then_some(middle)
}

/// The lines written about a bait: its name in bold, then what it does.
fn block(b: &Bait, unit: &str) -> Vec<(String, bool)> {
    let room = LABELS_PX - 48.0 + 12.0;
    let name = wrap(&terminal_text(&b.name), SMALL_PX, Weight::Bold, room, 2).into_iter().map(|l| (l, true));
    let runs = two_digits(largest(b.path.iter().map(|p| p.1), 0.0));
    let mut facts = vec![format!("runs down to {runs} {unit}")];
    facts.extend(b.seen.map(|r| seen_from(&r, unit)));
    let facts = facts.iter().flat_map(|f| wrap(f, SMALL_PX, Weight::Regular, room, 2)).map(|l| (l, false));
    name.chain(facts.collect::<Vec<_>>()).collect()
}
