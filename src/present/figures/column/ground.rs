//! The water column's stage: water, light, sun and bottom.
use super::{Column, LIGHT_STRIP_PX, Layout, SHADES};
use crate::maths::interpolate::linear;
use crate::present::axes::{SMALL_PX, spread};
use crate::present::figures::label;
use crate::present::figures::shapes::secchi_disk;
use crate::present::palette::{INK, MUTED, PAPER, SUN, ink_on};
use crate::present::scene::{Anchor, Colour, Fill, Scene, Stroke, Text, Weight};
use crate::present::words::two_digits;

impl Layout {
    pub(super) fn shade_water(&self, scene: &mut Scene, input: &Column) {
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

    pub(super) fn bottom_of_lake(&self, scene: &mut Scene, input: &Column) {
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
        let room = self.main.width() - 20.0;
        // At the left: the fish and what it sees lie to the right and would cover it.
        let said = label((self.main.left + 10.0, at), &text, SMALL_PX, Weight::Regular, room);
        scene.text(Text { colour: ink_on(ground), ..said }.centred_on_line());
    }

    /// Ticks where 50, 10, 1 and 0.1 % of the light are left, and the Secchi disk on its rope.
    pub(super) fn light_strip(&self, scene: &mut Scene, input: &Column) {
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
    pub(super) fn sunbeam(&self, scene: &mut Scene, input: &Column) {
        let Some(sun) = input.sun.filter(|s| {
            s.elevation_deg > 0.0
                && s.elevation_deg <= 90.0
                && s.refracted_deg > 0.0
                && s.refracted_deg <= 90.0
        }) else {
            return;
        };
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
        // Three beams of one direction and different lengths fade out instead of ending.
        for reach in [1.0, 0.8, 0.6] {
            let end = (surface.0 + reach * (end.0 - surface.0), surface.1 + reach * (end.1 - surface.1));
            let (half, far) = (12.0, 12.0 + 10.0 * reach);
            let points = vec![
                (surface.0 - half, surface.1),
                (surface.0 + half, surface.1),
                (end.0 + far, end.1),
                (end.0 - far, end.1),
            ];
            scene.polygon(points, Some(Fill { colour: Colour(0xff, 0xf3, 0xcf), opacity: 0.14 }), None);
        }
        scene.circle(disk, 13.0, Some(SUN.into()), Some(Stroke::solid(PAPER, 2.0)));
        let (high, under) = (sun.elevation_deg.round(), sun.refracted_deg.round());
        let text = format!("sun {high}° high, {under}° under water");
        scene.text(Text::new((disk.0 + 22.0, disk.1 - 4.0), &text, SMALL_PX, INK).centred_on_line());
    }
}
