//! Maps over two conditions: which bait leads where, and by how much one thing beats another.
use super::contours::Grid;
use super::{MARGIN_PX, WIDTH_PX, Words, frame, label, nothing_to_show};
use crate::present::axes::{
    BODY_PX, BOTTOM_AXIS_PX, Panel, SMALL_PX, Scale, bottom_axis, left_axis, left_axis_px,
};
use crate::present::escape::terminal_text;
use crate::present::palette::{FAINT, INK, PAPER, SERIES, UNTOLD, diverging, ink_on};
use crate::present::scene::{Anchor, Colour, Dash, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{fit, text_width, wrap};

/// One side of a map.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Side {
    /// What is varied, with its unit.
    pub title: String,
    /// The values at the middles of the cells, rising.
    pub values: Vec<f64>,
    /// Equal ratios are equally long.
    pub logarithmic: bool,
    /// Counted downwards, as depth is (only for the upright side).
    pub downward: bool,
}

/// Lines of equal value over a map.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Contours {
    /// The value in each cell, row by row (a row has one value of the upright side).
    pub values: Vec<f64>,
    /// The levels drawn and what is written on them.
    pub levels: Vec<(f64, String)>,
}

/// Which bait leads where.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LeaderMap {
    /// The words around it.
    pub words: Words,
    /// The level side.
    pub x: Side,
    /// The upright side.
    pub y: Side,
    /// Names of what can lead.
    pub names: Vec<String>,
    /// Who leads in each cell, row by row; none where it cannot be told.
    pub cells: Vec<Option<usize>>,
    /// Lines of equal value on top.
    pub contours: Option<Contours>,
    /// A place to mark and what it is.
    pub here: Option<(Point, String)>,
}

/// How much the first thing beats the second (above zero) or the second the first (below).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DifferenceMap {
    /// The words around it.
    pub words: Words,
    /// The level side.
    pub x: Side,
    /// The upright side.
    pub y: Side,
    /// The difference in each cell, row by row.
    pub values: Vec<f64>,
    /// Cells in which the sign cannot be told, row by row.
    pub untold: Vec<bool>,
    /// What is said where the difference is above zero.
    pub above: String,
    /// What is said where it is below zero.
    pub below: String,
    /// Levels drawn besides the zero line and what is written on them.
    pub levels: Vec<(f64, String)>,
    /// A place to mark and what it is.
    pub here: Option<(Point, String)>,
}

const PLOT_PX: f64 = 440.0;
const KEY_LINE_PX: f64 = 28.0;
const CANNOT_TELL: &str = "cannot be told";

/// Draws who leads where.
pub fn leader_map(input: &LeaderMap) -> Scene {
    let class = |c: &Option<usize>| c.filter(|&i| i < input.names.len());
    let classes: Vec<Option<usize>> = input.cells.iter().map(class).collect();
    let colours: Vec<Colour> = (0..input.names.len()).map(leader_colour).collect();
    draw(&Drawing {
        words: &input.words,
        x: &input.x,
        y: &input.y,
        classes: &classes,
        names: &input.names,
        colour_of_cell: &|k| classes.get(k).copied().flatten().map(|c| colours[c]),
        colours: &colours,
        contours: input.contours.as_ref(),
        zero_line: None,
        here: input.here.as_ref(),
    })
}

/// Colours of areas: those of the series, paler on their second and third round.
fn leader_colour(i: usize) -> Colour {
    let paler = [0.2, 0.55, 0.78][(i / SERIES.len()).min(2)];
    SERIES[i % SERIES.len()].towards(PAPER, paler)
}

/// Draws the difference with its zero line.
pub fn difference_map(input: &DifferenceMap) -> Scene {
    let told = |k: usize| !input.untold.get(k).copied().unwrap_or(false);
    let class =
        |(k, v): (usize, &f64)| (told(k) && v.is_finite() && *v != 0.0).then_some(usize::from(*v < 0.0));
    let classes: Vec<Option<usize>> = input.values.iter().enumerate().map(class).collect();
    // One flat shade between two levels: flat areas can be matched by eye, a continuous wash cannot.
    let mut heights: Vec<f64> = input.levels.iter().map(|l| l.0.abs()).filter(|l| *l > 0.0).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup();
    let step = |v: f64| {
        let passed = heights.partition_point(|h| *h <= v.abs());
        v.signum() * (passed as f64 + 0.7) / (heights.len() as f64 + 1.0)
    };
    let shade = |k: usize| classes.get(k).copied().flatten().map(|_| diverging(0.85 * step(input.values[k])));
    let names = [input.above.clone(), input.below.clone()];
    let contours = Contours { values: input.values.clone(), levels: input.levels.clone() };
    draw(&Drawing {
        words: &input.words,
        x: &input.x,
        y: &input.y,
        classes: &classes,
        names: &names,
        colour_of_cell: &shade,
        colours: &[diverging(0.6), diverging(-0.6)],
        contours: Some(&contours),
        zero_line: Some(&input.values),
        here: input.here.as_ref(),
    })
}

/// What both maps have in common.
struct Drawing<'a> {
    words: &'a Words,
    x: &'a Side,
    y: &'a Side,
    classes: &'a [Option<usize>],
    names: &'a [String],
    colour_of_cell: &'a dyn Fn(usize) -> Option<Colour>,
    colours: &'a [Colour],
    contours: Option<&'a Contours>,
    zero_line: Option<&'a [f64]>,
    here: Option<&'a (Point, String)>,
}

fn draw(d: &Drawing) -> Scene {
    let (nx, ny) = (d.x.values.len(), d.y.values.len());
    if nx == 0 || ny == 0 || d.classes.len() < nx * ny {
        let (mut scene, panel) = frame(d.words, PLOT_PX);
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    // Where labels go does not depend on how high the caption is: lay out first, move down after.
    let mut plot = Panel { left: MARGIN_PX, top: 0.0, right: WIDTH_PX - MARGIN_PX - 10.0, bottom: PLOT_PX };
    plot.left += left_axis_px(&plot, &side_scale(d.y, (plot.bottom, plot.top)));
    let layout = Layout::new(d, plot);
    let placed: Vec<Option<Label>> = (0..=d.names.len()).map(|c| layout.place(d, c)).collect();
    let used = |c: &usize| d.classes[..nx * ny].contains(&(*c < d.names.len()).then_some(*c));
    let unplaced: Vec<usize> = (0..=d.names.len()).filter(|c| used(c) && placed[*c].is_none()).collect();
    let key_lines = key_rows(d, &unplaced).len() as f64;
    let (mut scene, panel) = frame(d.words, 12.0 + PLOT_PX + BOTTOM_AXIS_PX + KEY_LINE_PX * key_lines);
    let top = panel.top + 12.0;
    let plot = Panel { top, bottom: top + PLOT_PX, ..plot };
    let layout = Layout::new(d, plot);
    scene.description = description(d, nx * ny);
    left_axis(&mut scene, &plot, &layout.y, &d.y.title, false);
    bottom_axis(&mut scene, &plot, &layout.x, &d.x.title);
    layout.cells(&mut scene, d);
    layout.borders(&mut scene, d);
    let labels: Vec<Label> =
        placed.into_iter().flatten().map(|l| Label { middle: (l.middle.0, l.middle.1 + top), ..l }).collect();
    layout.contours(&mut scene, d, &labels);
    labels.iter().for_each(|l| l.draw(&mut scene));
    layout.here(&mut scene, d.here);
    let key_top = plot.bottom + BOTTOM_AXIS_PX + 0.5 * KEY_LINE_PX;
    draw_key(&mut scene, d, &unplaced, (plot.left, key_top));
    scene
}

fn description(d: &Drawing, cells: usize) -> String {
    let share = |c: Option<usize>| {
        let n = d.classes[..cells].iter().filter(|k| **k == c).count();
        (n > 0).then(|| (100.0 * n as f64 / cells as f64).round())
    };
    let name = |c: Option<usize>| c.map_or(CANNOT_TELL, |c| d.names[c].as_str());
    let classes = (0..d.names.len()).map(Some).chain([None]);
    let parts: Vec<String> =
        classes.filter_map(|c| Some(format!("{}: {} % of the map", name(c), share(c)?))).collect();
    format!("{} against {}. {}", d.y.title, d.x.title, parts.join("; "))
}

/// Maps the middles of the first and last cells half a cell inside the panel's edges.
fn side_scale(side: &Side, (from, to): (f64, f64)) -> Scale {
    let n = side.values.len().max(1) as f64;
    let half = 0.5 * (to - from) / n;
    let px = if side.downward { (to - half, from + half) } else { (from + half, to - half) };
    let (first, last) = (side.values.first().copied(), side.values.last().copied());
    let (a, b) = (first.unwrap_or(0.0), last.unwrap_or(1.0));
    if side.logarithmic { Scale::logarithmic(a, b, px) } else { Scale::linear(a, b, px) }
}

/// Where things lie on the canvas.
struct Layout {
    plot: Panel,
    x: Scale,
    y: Scale,
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
    fn new(d: &Drawing, plot: Panel) -> Self {
        let x = side_scale(d.x, (plot.left, plot.right));
        let y = side_scale(d.y, (plot.bottom, plot.top));
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
    fn cells(&self, scene: &mut Scene, d: &Drawing) {
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

    /// Lines between cells of different classes; pieces in line are joined.
    fn borders(&self, scene: &mut Scene, d: &Drawing) {
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

    fn contours(&self, scene: &mut Scene, d: &Drawing, labels: &[Label]) {
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
            let half = 0.5 * text_width(text, SMALL_PX, Weight::Bold) + 8.0;
            let free = |p: &&Point| {
                p.0 - half > self.plot.left
                    && p.0 + half < self.plot.right
                    && p.1 - 14.0 > self.plot.top
                    && p.1 + 14.0 < self.plot.bottom
                    && labels.iter().all(|l| !l.touches(**p, half))
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

    fn here(&self, scene: &mut Scene, here: Option<&(Point, String)>) {
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
    fn place(&self, d: &Drawing, c: usize) -> Option<Label> {
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
            let fits = |&(i, j): &(usize, usize)| self.box_is_inside(&area, (i, j), width, height);
            let far = |&(i, j): &(usize, usize)| {
                let (dx, dy) = (i as f64 - centre.0, j as f64 - centre.1);
                dx * dx / (nx * nx) as f64 + dy * dy / (ny * ny) as f64
            };
            let cells = (0..ny).flat_map(|j| (0..nx).map(move |i| (i, j)));
            if let Some((i, j)) = cells.filter(fits).min_by(|a, b| far(a).total_cmp(&far(b))) {
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

    fn middle(&self, i: usize, j: usize) -> Point {
        (0.5 * (self.edges_x[i] + self.edges_x[i + 1]), 0.5 * (self.edges_y[j] + self.edges_y[j + 1]))
    }

    /// Whether a box around the middle of a cell lies wholly on cells of the area.
    fn box_is_inside(&self, area: &Area, (i, j): (usize, usize), width: f64, height: f64) -> bool {
        let (x, y) = self.middle(i, j);
        let span = |edges: &[f64], low: f64, high: f64| {
            let n = edges.len() - 1;
            let covers = |k: &usize| {
                let (a, b) = (edges[*k].min(edges[*k + 1]), edges[*k].max(edges[*k + 1]));
                b > low && a < high
            };
            let first = (0..n).find(covers)?;
            Some((first, (0..n).rev().find(covers)? + 1))
        };
        let inside = x - 0.5 * width >= self.plot.left
            && x + 0.5 * width <= self.plot.right
            && y - 0.5 * height >= self.plot.top
            && y + 0.5 * height <= self.plot.bottom;
        let columns = span(&self.edges_x, x - 0.5 * width, x + 0.5 * width);
        let rows = span(&self.edges_y, y - 0.5 * height, y + 0.5 * height);
        match (inside, columns, rows) {
            (true, Some((i0, i1)), Some((j0, j1))) => area.count(i0, i1, j0, j1) == (i1 - i0) * (j1 - j0),
            _ => false,
        }
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
struct Label {
    middle: Point,
    lines: Vec<String>,
    ground: Colour,
    half: Point,
}

impl Label {
    fn touches(&self, at: Point, half: f64) -> bool {
        (at.0 - self.middle.0).abs() < self.half.0 + half && (at.1 - self.middle.1).abs() < self.half.1 + 12.0
    }

    fn draw(&self, scene: &mut Scene) {
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
fn hatch(scene: &mut Scene, left: f64, top: f64, right: f64, bottom: f64) {
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

/// Names that found no place in the map, set in lines: (class, text, x from the left).
fn key_rows(d: &Drawing, unplaced: &[usize]) -> Vec<Vec<(usize, String, f64)>> {
    let room = WIDTH_PX - 3.0 * MARGIN_PX - 60.0;
    let mut rows: Vec<Vec<(usize, String, f64)>> = Vec::new();
    let mut x = f64::INFINITY;
    for &c in unplaced {
        let name = d.names.get(c).map_or(CANNOT_TELL, String::as_str);
        let text = fit(&terminal_text(name), SMALL_PX, Weight::Regular, 0.5 * room - 60.0);
        let width = 24.0 + text_width(&text, SMALL_PX, Weight::Regular) + 26.0;
        if x + width > room {
            rows.push(Vec::new());
            x = 0.0;
        }
        if let Some(row) = rows.last_mut() {
            row.push((c, text, x));
        }
        x += width;
    }
    rows
}

fn draw_key(scene: &mut Scene, d: &Drawing, unplaced: &[usize], (left, top): Point) {
    for (r, row) in key_rows(d, unplaced).into_iter().enumerate() {
        let y = top + KEY_LINE_PX * r as f64;
        for (c, text, x) in row {
            let colour = d.colours.get(c).copied().unwrap_or(UNTOLD);
            let outline = Some(Stroke::solid(FAINT, 1.0));
            scene.outlined_rect((left + x, y - 8.0), (16.0, 16.0), Some(colour.into()), outline);
            scene.text(Text::new((left + x + 24.0, y), &text, SMALL_PX, INK).centred_on_line());
        }
    }
}
