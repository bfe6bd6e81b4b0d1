//! Cells, borders, contours and the places of names in a map.
use super::{CANNOT_TELL, Drawing, Side, side_scale};
use crate::present::axes::{BODY_PX, Panel, SMALL_PX, Scale};
use crate::present::escape::terminal_text;
use crate::present::figures::contours::Grid;
use crate::present::figures::label;
use crate::present::palette::{FAINT, INK, PAPER, UNTOLD, ink_on};
use crate::present::scene::{Anchor, Colour, Dash, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{fit, text_width, wrap};

/// Where things lie on the canvas.
pub(super) struct Layout {
    plot: Panel,
    pub(super) x: Scale,
    pub(super) y: Scale,
    /// px of the cells' borders, one more than there are cells.
    edges_x: Vec<f64>,
    edges_y: Vec<f64>,
}

/// The borders of cells: half-way between the middles, the panel's edges at the ends.
fn edges(side: &Side, scale: &Scale, from: f64, to: f64) -> Vec<f64> {
    let middles: Vec<f64> = side.values.iter().map(|&v| scale.held(v)).collect();
    let between = middles.windows(2).map(|p| 0.5 * (p[0] + p[1]));
    std::iter::once(from).chain(between).chain([to]).collect()
}

impl Layout {
    pub(super) fn new(d: &Drawing, plot: Panel) -> Self {
        let (x, y) = (side_scale(d, 0, &plot), side_scale(d, 1, &plot));
        let (first, last) = if d.y.downward { (plot.top, plot.bottom) } else { (plot.bottom, plot.top) };
        let (edges_x, edges_y) = (edges(d.x, &x, plot.left, plot.right), edges(d.y, &y, first, last));
        Self { plot, x, y, edges_x, edges_y }
    }

    fn nx(&self) -> usize {
        self.edges_x.len() - 1
    }

    fn ny(&self) -> usize {
        self.edges_y.len() - 1
    }

    /// Upper and lower px of a row.
    fn row(&self, j: usize) -> (f64, f64) {
        let (a, b) = (self.edges_y[j], self.edges_y[j + 1]);
        (a.min(b), a.max(b))
    }

    /// Cells of one colour side by side become one rectangle.
    pub(super) fn cells(&self, scene: &mut Scene, d: &Drawing) {
        let nx = self.nx();
        for j in 0..self.ny() {
            let (top, bottom) = self.row(j);
            let colours: Vec<Option<Colour>> = (0..nx).map(|i| (d.colour_of_cell)(j * nx + i)).collect();
            let mut i = 0;
            while i < nx {
                let n = colours[i..].iter().take_while(|c| **c == colours[i]).count();
                let (left, right) = (self.edges_x[i], self.edges_x[i + n]);
                // Half a px over the edge closes the seams between neighbours.
                let size = (
                    (right - left + 0.5).min(self.plot.right - left),
                    (bottom - top + 0.5).min(self.plot.bottom - top),
                );
                scene.rect((left, top), size, colours[i].unwrap_or(UNTOLD));
                if colours[i].is_none() {
                    hatch(scene, left, top, right, bottom);
                }
                i += n;
            }
        }
    }

    /// A box over the map, dashed, dark on a pale rim.
    pub(super) fn outline(&self, scene: &mut Scene, outline: Option<[(f64, f64); 2]>) {
        let Some([(x0, x1), (y0, y1)]) = outline else { return };
        let place = |scale: &Scale, v: f64, (low, high): (f64, f64)| match v {
            v if v == f64::NEG_INFINITY => low,
            v if v == f64::INFINITY => high,
            v => scale.held(v),
        };
        let p = &self.plot;
        let sides = (p.left + 2.0, p.right - 2.0);
        // Which end of the upright side is its least value depends on the way it is counted.
        let down = self.edges_y.first() < self.edges_y.last();
        let upright = if down { (p.top + 2.0, p.bottom - 2.0) } else { (p.bottom - 2.0, p.top + 2.0) };
        let (left, right) = (place(&self.x, x0, sides), place(&self.x, x1, sides));
        let (a, b) = (place(&self.y, y0, upright), place(&self.y, y1, upright));
        let corners = vec![(left, a), (right, a), (right, b), (left, b), (left, a)];
        scene.polyline(corners.clone(), Stroke::solid(PAPER, 5.0));
        scene.polyline(corners, Stroke::solid(INK, 2.4).dashed(Dash::Dashed));
    }

    /// Lines between cells of different classes; pieces in line are joined.
    pub(super) fn borders(&self, scene: &mut Scene, d: &Drawing) {
        let (nx, ny) = (self.nx(), self.ny());
        let class = |i: usize, j: usize| d.classes[j * nx + i];
        let stroke = Stroke::solid(PAPER, 2.0);
        for i in 1..nx {
            for (from, to) in runs(ny, |j| class(i - 1, j) != class(i, j)) {
                let x = self.edges_x[i];
                scene.line((x, self.edges_y[from]), (x, self.edges_y[to]), stroke);
            }
        }
        for j in 1..ny {
            for (from, to) in runs(nx, |i| class(i, j - 1) != class(i, j)) {
                let y = self.edges_y[j];
                scene.line((self.edges_x[from], y), (self.edges_x[to], y), stroke);
            }
        }
    }

    pub(super) fn contours(&self, scene: &mut Scene, d: &Drawing, labels: &[Label]) {
        let xs: Vec<f64> = d.x.values.iter().map(|&v| self.x.at(v)).collect();
        let ys: Vec<f64> = d.y.values.iter().map(|&v| self.y.at(v)).collect();
        if let Some(values) = d.zero_line {
            for chain in (Grid { xs: &xs, ys: &ys, values }).contour(0.0) {
                scene.polyline(chain.clone(), Stroke::solid(PAPER, 6.0));
                scene.polyline(chain, Stroke::solid(INK, 3.0));
            }
        }
        let Some(contours) = d.contours else { return };
        let grid = Grid { xs: &xs, ys: &ys, values: &contours.values };
        let mut taken: Vec<(Point, f64)> = Vec::new();
        for (level, text) in &contours.levels {
            let dash = if *level < 0.0 { Dash::Dashed } else { Dash::Solid };
            let mut chains = grid.contour(*level);
            for chain in &chains {
                scene.polyline(chain.clone(), Stroke::solid(PAPER, 3.6));
                scene.polyline(chain.clone(), Stroke::solid(INK, 1.4).dashed(dash));
            }
            chains.sort_by_key(|c| std::cmp::Reverse(c.len()));
            let text = &fit(&terminal_text(text), SMALL_PX, Weight::Bold, 160.0);
            let half = 0.5 * text_width(text, SMALL_PX, Weight::Bold) + 8.0;
            let free = |p: &&Point| {
                p.0 - half > self.plot.left
                    && p.0 + half < self.plot.right
                    && p.1 - 14.0 > self.plot.top
                    && p.1 + 14.0 < self.plot.bottom
                    && labels.iter().all(|l| !l.touches(**p, half))
                    && self.is_clear_of_here(d, **p, (half, 8.0))
                    && taken.iter().all(|(q, h)| (p.0 - q.0).abs() > half + h || (p.1 - q.1).abs() > 22.0)
            };
            // The free place nearest to the middle of the longest chain.
            let spot = chains.iter().find_map(|chain| {
                let middle = chain.len() / 2;
                let order = (0..chain.len())
                    .map(|k| if k % 2 == 0 { middle + k / 2 } else { middle.wrapping_sub(k / 2 + 1) });
                order.filter_map(|k| chain.get(k)).find(free).copied()
            });
            if let Some(at) = spot {
                taken.push((at, half));
                let said = Text::new(at, text, SMALL_PX, INK).bold().anchored(Anchor::Middle).halo(PAPER);
                scene.text(said.centred_on_line());
            }
        }
    }

    pub(super) fn here(&self, scene: &mut Scene, here: Option<&(Point, String)>) {
        let Some(((x, y), text)) = here else { return };
        let at = (self.x.at(*x), self.y.at(*y));
        if !at.0.is_finite() || !at.1.is_finite() || self.plot.clamp(at) != at {
            return;
        }
        scene.circle(at, 7.5, Some(PAPER.into()), Some(Stroke::solid(INK, 3.0)));
        let leftwards = at.0 > 0.5 * (self.plot.left + self.plot.right);
        let room = if leftwards { at.0 - self.plot.left } else { self.plot.right - at.0 } - 20.0;
        let (x, anchor) = if leftwards { (at.0 - 14.0, Anchor::End) } else { (at.0 + 14.0, Anchor::Start) };
        let said = label((x, at.1), text, SMALL_PX, Weight::Bold, room).anchored(anchor).halo(PAPER);
        scene.text(said.centred_on_line());
    }

    /// A place for the name of class `c` (the one after the last: cannot be told) inside its area.
    pub(super) fn place(&self, d: &Drawing, c: usize) -> Option<Label> {
        let (nx, ny) = (self.nx(), self.ny());
        let wanted = (c < d.names.len()).then_some(c);
        let area = Area::new(nx, ny, |i, j| d.classes[j * nx + i] == wanted);
        let (sx, sy, n) = area.centroid()?;
        let name = d.names.get(c).map_or(CANNOT_TELL, String::as_str);
        let name = terminal_text(name);
        for (most, room) in [(1, 420.0), (2, 250.0), (3, 170.0), (4, 120.0)] {
            let lines = wrap(&name, BODY_PX, Weight::Bold, room, most);
            if lines.iter().any(|l| l.ends_with('…')) && most < 4 {
                continue;
            }
            let width = lines.iter().map(|l| text_width(l, BODY_PX, Weight::Bold)).fold(0.0, f64::max) + 16.0;
            let height = BODY_PX * 1.18 * lines.len() as f64 + 10.0;
            let centre = (sx / n, sy / n);
            let fits = |&(i, j): &(usize, usize)| {
                self.box_is_inside(&area, (i, j), width, height)
                    && self.is_clear_of_here(d, self.middle(i, j), (0.5 * width, 0.5 * height))
            };
            let far = |&(i, j): &(usize, usize)| {
                let (dx, dy) = (i as f64 - centre.0, j as f64 - centre.1);
                dx * dx / (nx * nx) as f64 + dy * dy / (ny * ny) as f64
            };
            let cells = || (0..ny).flat_map(|j| (0..nx).map(move |i| (i, j)));
            // Best on one shade only, where no contour runs through the name.
            let one_shade = |at: &(usize, usize)| fits(at) && self.is_one_shade(d, *at, width, height);
            let nearest = |a: &(usize, usize), b: &(usize, usize)| far(a).total_cmp(&far(b));
            let spot = cells().filter(one_shade).min_by(nearest);
            if let Some((i, j)) = spot.or_else(|| cells().filter(fits).min_by(nearest)) {
                let ground = (d.colour_of_cell)(j * nx + i).unwrap_or(UNTOLD);
                return Some(Label {
                    middle: self.middle(i, j),
                    lines,
                    ground,
                    half: (0.5 * width, 0.5 * height),
                });
            }
        }
        None
    }

    /// Whether a box keeps clear of the mark of a place and its words.
    fn is_clear_of_here(&self, d: &Drawing, middle: Point, half: Point) -> bool {
        let Some(((x, y), text)) = d.here else { return true };
        let at = (self.x.at(*x), self.y.at(*y));
        if !at.0.is_finite() || !at.1.is_finite() || self.plot.clamp(at) != at {
            return true;
        }
        let length = 22.0 + text_width(text, SMALL_PX, Weight::Bold);
        let leftwards = at.0 > 0.5 * (self.plot.left + self.plot.right);
        let (left, right) =
            if leftwards { (at.0 - length, at.0 + 10.0) } else { (at.0 - 10.0, at.0 + length) };
        middle.0 + half.0 < left || middle.0 - half.0 > right || (middle.1 - at.1).abs() > half.1 + 14.0
    }

    fn middle(&self, i: usize, j: usize) -> Point {
        (0.5 * (self.edges_x[i] + self.edges_x[i + 1]), 0.5 * (self.edges_y[j] + self.edges_y[j + 1]))
    }

    /// The half-open ranges of columns and rows that a box around the middle of a cell touches; none
    /// if it leaves the panel.
    fn block(&self, (i, j): (usize, usize), width: f64, height: f64) -> Option<[usize; 4]> {
        let (x, y) = self.middle(i, j);
        let (left, right) = (x - 0.5 * width, x + 0.5 * width);
        let (top, bottom) = (y - 0.5 * height, y + 0.5 * height);
        let p = &self.plot;
        if left < p.left || right > p.right || top < p.top || bottom > p.bottom {
            return None;
        }
        let span = |edges: &[f64], low: f64, high: f64| {
            let n = edges.len() - 1;
            let covers =
                |k: &usize| edges[*k].max(edges[*k + 1]) > low && edges[*k].min(edges[*k + 1]) < high;
            Some(((0..n).find(covers)?, (0..n).rev().find(covers)? + 1))
        };
        let (i0, i1) = span(&self.edges_x, left, right)?;
        let (j0, j1) = span(&self.edges_y, top, bottom)?;
        Some([i0, i1, j0, j1])
    }

    /// Whether a box around the middle of a cell lies wholly on cells of the area.
    fn box_is_inside(&self, area: &Area, at: (usize, usize), width: f64, height: f64) -> bool {
        self.block(at, width, height)
            .is_some_and(|[i0, i1, j0, j1]| area.count(i0, i1, j0, j1) == (i1 - i0) * (j1 - j0))
    }

    /// Whether it lies wholly on cells of one colour.
    fn is_one_shade(&self, d: &Drawing, at: (usize, usize), width: f64, height: f64) -> bool {
        let colour = |i: usize, j: usize| (d.colour_of_cell)(j * self.nx() + i);
        self.block(at, width, height).is_some_and(|[i0, i1, j0, j1]| {
            (j0..j1).all(|j| (i0..i1).all(|i| colour(i, j) == colour(at.0, at.1)))
        })
    }
}

/// Stretches of `0..n` in which `yes` holds, as half-open ranges.
fn runs(n: usize, yes: impl Fn(usize) -> bool) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut from = None;
    for k in 0..=n {
        match (k < n && yes(k), from) {
            (true, None) => from = Some(k),
            (false, Some(start)) => {
                out.push((start, k));
                from = None;
            }
            _ => {}
        }
    }
    out
}

/// The cells of one class, with sums that count any block of them at once.
struct Area {
    nx: usize,
    ny: usize,
    sums: Vec<usize>,
}

impl Area {
    fn new(nx: usize, ny: usize, has: impl Fn(usize, usize) -> bool) -> Self {
        let mut sums = vec![0; (nx + 1) * (ny + 1)];
        for j in 0..ny {
            for i in 0..nx {
                let above = sums[j * (nx + 1) + i + 1] + sums[(j + 1) * (nx + 1) + i];
                sums[(j + 1) * (nx + 1) + i + 1] = above - sums[j * (nx + 1) + i] + usize::from(has(i, j));
            }
        }
        Self { nx, ny, sums }
    }

    /// Cells of the class in columns i0..i1 and rows j0..j1.
    fn count(&self, i0: usize, i1: usize, j0: usize, j1: usize) -> usize {
        let s = |i: usize, j: usize| self.sums[j * (self.nx + 1) + i];
        s(i1, j1) + s(i0, j0) - s(i0, j1) - s(i1, j0)
    }

    /// Sums of i and j over the cells and their number; none without cells.
    fn centroid(&self) -> Option<(f64, f64, f64)> {
        let (mut sx, mut sy, mut n) = (0.0, 0.0, 0.0);
        for i in 0..self.nx {
            let k = self.count(i, i + 1, 0, self.ny) as f64;
            (sx, n) = (sx + k * i as f64, n + k);
        }
        for j in 0..self.ny {
            sy += self.count(0, self.nx, j, j + 1) as f64 * j as f64;
        }
        (n > 0.0).then_some((sx, sy, n))
    }
}

/// A name inside its area.
pub(super) struct Label {
    middle: Point,
    lines: Vec<String>,
    ground: Colour,
    half: Point,
}

impl Label {
    fn touches(&self, at: Point, half: f64) -> bool {
        (at.0 - self.middle.0).abs() < self.half.0 + half && (at.1 - self.middle.1).abs() < self.half.1 + 12.0
    }

    pub(super) fn moved_down(self, by: f64) -> Self {
        Self { middle: (self.middle.0, self.middle.1 + by), ..self }
    }

    pub(super) fn draw(&self, scene: &mut Scene) {
        let step = BODY_PX * 1.18;
        let first = self.middle.1 - 0.5 * step * self.lines.len().saturating_sub(1) as f64;
        for (k, line) in self.lines.iter().enumerate() {
            let at = (self.middle.0, first + step * k as f64);
            let said = Text::new(at, line, BODY_PX, ink_on(self.ground)).bold().anchored(Anchor::Middle);
            scene.text(said.halo(self.ground).centred_on_line());
        }
    }
}

/// Diagonal lines through a rectangle, in step with those of its neighbours.
pub(super) fn hatch(scene: &mut Scene, left: f64, top: f64, right: f64, bottom: f64) {
    const STEP: f64 = 9.0;
    let stroke = Stroke::solid(FAINT.towards(UNTOLD, 0.25), 1.0);
    // Lines x + y = k STEP.
    let first = ((left + top) / STEP).ceil() as i64;
    let last = ((right + bottom) / STEP).floor() as i64;
    for k in first..=last {
        let sum = STEP * k as f64;
        let (x0, x1) = ((sum - bottom).max(left), (sum - top).min(right));
        if x1 - x0 > 0.5 {
            scene.line((x0, sum - x0), (x1, sum - x1), stroke);
        }
    }
}
