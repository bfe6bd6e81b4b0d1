//! What swims in the water column: the fish, what it sees, the baits and their labels.
use super::{BAND_OPACITY, Bait, Column, Fish, LABELS_PX, Layout, Range, seen_from};
use crate::present::axes::{Panel, SMALL_PX, spread_unordered};
use crate::present::escape::terminal_text;
use crate::present::figures::panel::{EndLabel, end_labels};
use crate::present::figures::shapes::{fish, minnow, smooth};
use crate::present::figures::{label, largest};
use crate::present::palette::{FAINT, INK, MUTED, PAPER, ink_on, series};
use crate::present::scene::{Colour, Dash, Fill, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{text_width, wrap};
use crate::present::words::two_digits;

impl Layout {
    pub(super) fn fish_band(&self, scene: &mut Scene, input: &Column) {
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
    pub(super) fn ranges(&self, scene: &mut Scene, input: &Column, edges: bool) {
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

    pub(super) fn paths(&self, scene: &mut Scene, input: &Column) {
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

    pub(super) fn rod(&self, scene: &mut Scene) {
        let tip = (self.main.right - 2.0, self.main.top - 8.0);
        let curve =
            [tip, (tip.0 + 6.0, tip.1 - 22.0), (tip.0 + 24.0, tip.1 - 42.0), (tip.0 + 54.0, tip.1 - 60.0)];
        scene.polyline(smooth(&curve, false, 8), Stroke::solid(INK, 3.0));
        scene.text(Text::new((tip.0 + 40.0, tip.1 - 22.0), "rod", SMALL_PX, MUTED));
    }

    pub(super) fn fish(&self, scene: &mut Scene, input: &Column) {
        let Some(f) = input.fish.filter(|f| f.depth.is_finite()) else { return };
        let eye = self.eye(&f);
        fish(scene, eye, 84.0, Colour(0x3c, 0x4f, 0x45));
    }

    /// What the band is, at its left end, over whatever else lies there.
    pub(super) fn fish_label(&self, scene: &mut Scene, input: &Column) {
        let Some(f) = input.fish.filter(|f| f.depth.is_finite()) else { return };
        let mut said = vec![format!("fish at {} {}", two_digits(f.depth), input.unit)];
        if f.spread > 0.0 {
            said.push(format!("give or take {}", two_digits(f.spread)));
        }
        let ground = self.shade(input, f.depth).towards(PAPER, BAND_OPACITY);
        let step = 1.2 * SMALL_PX;
        let first = self.depth.held(f.depth) - 0.5 * step * said.len().saturating_sub(1) as f64;
        for (k, line) in said.iter().enumerate() {
            let at = (self.main.left + 12.0, first + step * k as f64);
            let text = label(at, line, SMALL_PX, Weight::Bold, 200.0).halo(ground).centred_on_line();
            scene.text(Text { colour: ink_on(ground), ..text });
        }
    }

    /// What line and shape mean, once, above the water.
    pub(super) fn key(&self, scene: &mut Scene, input: &Column) {
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
    pub(super) fn bait_labels(&self, scene: &mut Scene, input: &Column) {
        let right = self.main.right;
        let mut ties = Vec::new();
        for (i, b) in input.baits.iter().enumerate() {
            let (colour, dash) = series(i);
            let line = b.path.iter().map(|p| (self.along.at(p.0), self.depth.held(p.1)));
            let from = line.filter(|p| p.0.is_finite()).max_by(|p, q| p.1.total_cmp(&q.1));
            let from = from.unwrap_or((right, self.main.top));
            ties.push(EndLabel {
                from,
                text: b.name.clone(),
                stroke: Stroke::solid(colour, 3.6).dashed(dash),
            });
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
            scene.polyline(elbow, Stroke::solid(tie.stroke.colour.towards(PAPER, 0.3), 1.2));
            scene.line((right + 16.0, first), (right + 42.0, first), tie.stroke);
            for (k, (text, bold)) in block.iter().enumerate() {
                let at = (right + 48.0, first + line_px * k as f64);
                let said = Text::new(at, text, SMALL_PX, if *bold { INK } else { MUTED });
                scene.text(said.bold_if(*bold).centred_on_line());
            }
        }
    }
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
