//! One horizontal row per named thing: bars, ranges, dots and signs over a common axis, numbers behind them.
mod marks;

pub use marks::{Mark, Shape};

use super::chart::{Axis, BOTTOM_AXIS_PX, Piece, chart};
use super::{MARGIN_PX, WIDTH_PX, Words, frame, in_lines, label, nothing_to_show, widest};
use crate::present::axes::{BODY_PX, Panel, SMALL_PX, Scale};
use crate::present::escape::terminal_text;
use crate::present::palette::{ACCENT, FAINT, HAIRLINE, INK, MUTED, PAPER, UNTOLD, ink_on};
use crate::present::scene::{Anchor, Colour, Dash, Scene, Stroke, Text, Weight};
use crate::present::text_width::{text_width, wrap};
use marks::{dot_radius, draw_mark};

/// Words behind a row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Said {
    /// What they say.
    pub text: String,
    /// Written in bold.
    pub bold: bool,
    /// Written pale.
    pub muted: bool,
}

impl Said {
    /// A line of words.
    pub fn new(text: String, bold: bool, muted: bool) -> Self {
        Self { text, bold, muted }
    }
}

/// What one row shows on one side.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cell {
    /// The marks, the first one lowest.
    pub marks: Vec<Mark>,
    /// What is written behind them, line by line.
    pub said: Vec<Said>,
}

impl Cell {
    /// A bar from zero with its range; pale where nothing is said of it because nothing is told.
    pub fn bar(value: f64, (low, high): (f64, f64), said: Option<String>, colour: Colour) -> Self {
        let told = said.is_some();
        let bar = Shape::Bar { from: 0.0, to: value, px: 22.0, said: String::new() };
        let mut marks = vec![Mark::new(bar, if told { colour } else { FAINT })];
        if told {
            marks.push(Mark::new(Shape::Whisker { low, high }, INK));
        }
        let text = said.unwrap_or_else(|| "not told".into());
        Self { marks, said: vec![Said::new(text, false, !told)] }
    }
}

/// One row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// What it stands for.
    pub name: String,
    /// Written in bold.
    pub bold: bool,
    /// Small words below the name.
    pub below: String,
    /// Its marks, side by side.
    pub cells: Vec<Cell>,
    /// What the row shows in words, where that is more than what stands behind it.
    pub tells: String,
}

/// Rows under a heading.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Group {
    /// The heading; empty for none.
    pub heading: String,
    /// Held together by a bracket.
    pub bracket: bool,
    /// The rows.
    pub rows: Vec<Row>,
}

impl Group {
    /// Rows without a heading.
    pub fn plain(rows: impl IntoIterator<Item = Row>) -> Self {
        Self { heading: String::new(), bracket: false, rows: rows.into_iter().collect() }
    }
}

/// One axis with what belongs to all rows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Side {
    /// What stands above it.
    pub heading: String,
    /// What it measures, with its unit.
    pub title: String,
    /// Its ends; none: from zero as far as the marks reach.
    pub ends: Option<(f64, f64)>,
    /// Written at the axis in place of round numbers.
    pub ticks: Vec<(f64, String)>,
    /// A stretch shaded grey.
    pub band: Option<(f64, f64)>,
    /// A level to compare with and what it is.
    pub level: Option<(f64, String)>,
    /// A line at zero with words over the left and the right half.
    pub halves: Option<[String; 2]>,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rows {
    /// The words around it.
    pub words: Words,
    /// What signs and colours mean: a mark between 0 and 1 and its words.
    pub key: Vec<(Vec<Mark>, String)>,
    /// The axes side by side.
    pub sides: Vec<Side>,
    /// Axes that measure the same are equally long.
    pub one_scale: bool,
    /// The rows, group by group.
    pub groups: Vec<Group>,
    /// Least height of a row, px.
    pub row_px: f64,
}

const NAMES_PX: f64 = 262.0;
const SAID_PX: f64 = 250.0;
/// Room for a bracket at the left.
const INDENT_PX: f64 = 10.0;
const GAP_PX: f64 = 12.0;
const STEP_PX: f64 = 1.16 * BODY_PX;
const HEADING_PX: f64 = 40.0;
const KEY_PX: f64 = 30.0;
const SWATCH_PX: f64 = 26.0;
/// Distance of a heap's line from the lower edge of its row.
const HEAP_LIFT_PX: f64 = 8.0;

/// Draws the picture.
pub fn rows(input: &Rows) -> Scene {
    let layout = Layout::new(input);
    let (mut scene, panel) = frame(&input.words, layout.height);
    if input.groups.iter().all(|g| g.rows.is_empty()) || input.sides.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    scene.description = description(input);
    layout.draw(&mut scene, &panel, input);
    scene
}

pub(super) fn description(input: &Rows) -> String {
    let said = |r: &Row| {
        let cells = r.cells.iter().zip(&input.sides).map(|(c, s)| {
            let words = c.said.iter().map(|s| s.text.as_str()).collect::<Vec<_>>().join(", ");
            if s.heading.is_empty() { words } else { format!("{} {words}", s.heading) }
        });
        if r.tells.is_empty() { cells.collect::<Vec<_>>().join(", ") } else { r.tells.clone() }
    };
    let rows = input.groups.iter().flat_map(|g| &g.rows).map(|r| format!("{}: {}", r.name, said(r)));
    let titles: Vec<&str> = input.sides.iter().map(|s| s.title.as_str()).collect();
    format!("{}. {}", titles.join("; "), rows.collect::<Vec<_>>().join("; "))
}

/// A name set in lines, and the height of its row.
struct Name {
    lines: Vec<String>,
    height: f64,
}

/// Where things lie, from the top of the picture's panel.
pub(super) struct Layout {
    names: Vec<Vec<Name>>,
    key: Vec<Vec<(usize, String, f64)>>,
    headings: Vec<Vec<String>>,
    names_px: f64,
    said_px: Vec<f64>,
    /// Height of what stands right above the rows, and of all above them.
    over: f64,
    head: f64,
    pub(super) height: f64,
}

impl Layout {
    pub(super) fn new(input: &Rows) -> Self {
        let rows = || input.groups.iter().flat_map(|g| &g.rows);
        let weight = |r: &Row| if r.bold { Weight::Bold } else { Weight::Regular };
        let wide = rows().map(|r| text_width(&terminal_text(&r.name), BODY_PX, weight(r)));
        let below = widest(rows().map(|r| r.below.as_str()), SMALL_PX, Weight::Regular, NAMES_PX);
        let names_px = wide.fold(below, f64::max).min(NAMES_PX);
        let name = |r: &Row| {
            let lines = wrap(&terminal_text(&r.name), BODY_PX, weight(r), names_px, 3);
            let below = if r.below.is_empty() { 0.0 } else { SMALL_PX + 6.0 };
            let height = (STEP_PX * lines.len() as f64 + below + 12.0).max(input.row_px);
            Name { lines, height }
        };
        let names: Vec<Vec<Name>> = input.groups.iter().map(|g| g.rows.iter().map(name).collect()).collect();
        let sides = input.sides.len();
        let said_px = (0..sides).map(|k| {
            let said = rows().filter_map(|r| r.cells.get(k)).flat_map(|c| &c.said);
            widest(said.map(|s| s.text.as_str()), BODY_PX, Weight::Bold, SAID_PX / sides as f64)
        });
        let said_px: Vec<f64> = said_px.collect();
        let texts = input.key.iter().map(|k| k.1.as_str());
        let key = in_lines(texts, WIDTH_PX - 2.0 * MARGIN_PX, SWATCH_PX + 8.0);
        let mut layout =
            Self { names, key, headings: vec![], names_px, said_px, over: 0.0, head: 0.0, height: 0.0 };
        let room = layout.side_px();
        let heading = |s: &Side| wrap(&terminal_text(&s.heading), BODY_PX, Weight::Bold, room, 3);
        layout.headings = input.sides.iter().map(heading).collect();
        let over = input.sides.iter().any(|s| s.level.is_some() || s.halves.is_some());
        let lines = layout.headings.iter().map(Vec::len).max().unwrap_or(0) as f64;
        layout.over = if over { 28.0 } else { 4.0 };
        layout.head = KEY_PX * layout.key.len() as f64 + STEP_PX * lines + layout.over;
        let body: f64 = layout.names.iter().flatten().map(|n| n.height).sum();
        let headings = input.groups.iter().filter(|g| headed(g)).count() as f64;
        layout.height = layout.head + body.max(88.0) + HEADING_PX * headings + BOTTOM_AXIS_PX;
        layout
    }

    /// Width of one side with its words.
    fn side_px(&self) -> f64 {
        let n = self.said_px.len().max(1) as f64;
        (WIDTH_PX - 2.0 * MARGIN_PX - INDENT_PX - self.names_px - 18.0 - GAP_PX * (n - 1.0)) / n
    }

    pub(super) fn draw(&self, scene: &mut Scene, panel: &Panel, input: &Rows) {
        self.draw_key(scene, panel, input);
        let left = panel.left + INDENT_PX + self.names_px;
        let spans: Vec<(f64, f64)> = (0..input.sides.len()).map(|k| span(input, k)).collect();
        let union = spans.iter().fold((0.0_f64, 0.0_f64), |a, b| (a.0.min(b.0), a.1.max(b.1)));
        for (k, (side, &own)) in input.sides.iter().zip(&spans).enumerate() {
            let from = left + 18.0 + (self.side_px() + GAP_PX) * k as f64;
            let said = if self.said_px[k] > 0.0 { self.said_px[k] + 16.0 } else { 16.0 };
            let plot = Panel {
                left: from,
                top: panel.top + self.head,
                right: from + self.side_px() - said,
                bottom: panel.bottom - BOTTOM_AXIS_PX,
            };
            let (low, high) = if input.one_scale { union } else { own };
            let x = Scale::linear(low, high, (plot.left, plot.right)).marked(side.ticks.clone());
            for (i, line) in self.headings[k].iter().enumerate() {
                let y = plot.top - self.over - 14.0 - STEP_PX * (self.headings[k].len() - 1 - i) as f64;
                scene.text(Text::new((plot.left, y), line, BODY_PX, ACCENT).bold());
            }
            self.draw_side(scene, &plot, &x, input, k);
        }
        self.draw_names(scene, panel, left, input);
    }

    /// The middle of every row, with its height, its group and its number there.
    fn places(&self, top: f64, input: &Rows) -> Vec<(f64, f64, usize, usize)> {
        let mut y = top;
        let mut all = Vec::new();
        for (g, group) in input.groups.iter().enumerate() {
            if headed(group) {
                y += HEADING_PX;
            }
            for (i, name) in self.names[g].iter().enumerate() {
                all.push((y + 0.5 * name.height, name.height, g, i));
                y += name.height;
            }
        }
        all
    }

    fn draw_side(&self, scene: &mut Scene, plot: &Panel, x: &Scale, input: &Rows, k: usize) {
        let side = &input.sides[k];
        let y = Scale::linear(plot.top, plot.bottom, (plot.top, plot.bottom));
        let band = side.band.map(|(a, b)| Piece::bar((a, plot.top), (b, plot.bottom), UNTOLD, None));
        // Under the grid.
        chart(scene, plot, Axis::hidden(x), Axis::hidden(&y), &band);
        let mut pieces = Vec::new();
        let mut words = Vec::new();
        if side.halves.is_some() {
            pieces.push(Piece::line(vec![(0.0, plot.top), (0.0, plot.bottom)], Stroke::solid(INK, 1.4)));
        }
        let cells = |&(middle, height, g, i): &(f64, f64, usize, usize)| {
            Some((middle, height, input.groups[g].rows[i].cells.get(k)?))
        };
        let places = self.places(plot.top, input);
        let marks = || input.groups.iter().flat_map(|g| &g.rows).filter_map(|r| r.cells.get(k));
        let radius = dot_radius(marks().flat_map(|c| &c.marks), x, input.row_px);
        for (middle, height, cell) in places.iter().filter_map(cells) {
            for mark in &cell.marks {
                let base = (middle + 0.5 * height - HEAP_LIFT_PX, radius, input.row_px);
                pieces.extend(draw_mark(mark, x, middle, base, PAPER));
                if let Shape::Bar { from, to, said, .. } = &mark.shape {
                    let (a, b) = (x.held(*from), x.held(*to));
                    if text_width(said, BODY_PX, Weight::Regular) + 10.0 < b - a {
                        let at = (0.5 * (a + b), middle + mark.dy);
                        let text = Text::new(at, said, BODY_PX, ink_on(mark.colour));
                        words.push(text.anchored(Anchor::Middle).centred_on_line());
                    }
                }
            }
            let first = middle - 0.5 * 22.0 * cell.said.len().saturating_sub(1) as f64;
            for (i, said) in cell.said.iter().enumerate() {
                let weight = if said.bold { Weight::Bold } else { Weight::Regular };
                let at = (plot.right + 12.0, first + 22.0 * i as f64);
                let text = label(at, &said.text, BODY_PX, weight, self.said_px[k]);
                let colour = if said.muted { MUTED } else { INK };
                words.push(Text { colour, ..text }.centred_on_line());
            }
        }
        chart(scene, plot, Axis::new(x, &side.title), Axis::hidden(&y), &pieces);
        words.into_iter().for_each(|t| scene.text(t));
        over(scene, plot, x, side, plot.right + self.said_px[k]);
    }

    fn draw_names(&self, scene: &mut Scene, panel: &Panel, right: f64, input: &Rows) {
        let top = panel.top + self.head;
        let places = self.places(top, input);
        for (n, &(middle, height, g, i)) in places.iter().enumerate() {
            let (group, row, name) = (&input.groups[g], &input.groups[g].rows[i], &self.names[g][i]);
            let upper = middle - 0.5 * height;
            if i == 0 && headed(group) {
                let colour = if group.bracket { ACCENT } else { MUTED };
                let at = (panel.left, upper - 0.34 * HEADING_PX);
                scene.text(Text { colour, ..label(at, &group.heading, BODY_PX, Weight::Bold, right) });
            } else if n > 0 {
                scene.line(
                    (panel.left + INDENT_PX, upper),
                    (panel.right, upper),
                    Stroke::solid(HAIRLINE, 1.0),
                );
            }
            if i == 0 && group.bracket {
                let lower = upper + self.names[g].iter().map(|n| n.height).sum::<f64>();
                let (x, upper, lower) = (panel.left, upper + 4.0, lower - 4.0);
                let corners = vec![(x + 7.0, upper), (x, upper), (x, lower), (x + 7.0, lower)];
                scene.polyline(corners, Stroke::solid(ACCENT, 3.0));
            }
            let below = if row.below.is_empty() { 0.0 } else { SMALL_PX + 3.0 };
            let first = middle - 0.5 * (STEP_PX * (name.lines.len() as f64 - 1.0) + below);
            for (l, line) in name.lines.iter().enumerate() {
                let text = Text::new((right, first + STEP_PX * l as f64), line, BODY_PX, INK);
                scene.text(text.bold_if(row.bold).anchored(Anchor::End).centred_on_line());
            }
            let at = (right, first + STEP_PX * (name.lines.len() as f64 - 1.0) + below);
            let text = label(at, &row.below, SMALL_PX, Weight::Regular, self.names_px);
            scene.text(Text { colour: MUTED, ..text }.anchored(Anchor::End).centred_on_line());
        }
    }

    fn draw_key(&self, scene: &mut Scene, panel: &Panel, input: &Rows) {
        for (r, line) in self.key.iter().enumerate() {
            let y = panel.top + KEY_PX * r as f64 + 8.0;
            for (k, text, left) in line {
                let left = panel.left + left;
                let at = Panel { left, top: y - 12.0, right: left + SWATCH_PX, bottom: y + 12.0 };
                let x = Scale::linear(0.0, 1.0, (at.left, at.right));
                let upright = Scale::linear(at.top, at.bottom, (at.top, at.bottom));
                let marks = input.key[*k].0.iter();
                let pieces: Vec<Piece> =
                    marks.flat_map(|m| draw_mark(m, &x, y, (y, 5.0, 24.0), FAINT)).collect();
                chart(scene, &at, Axis::hidden(&x), Axis::hidden(&upright), &pieces);
                scene.text(Text::new((at.right + 8.0, y), text, SMALL_PX, INK).centred_on_line());
            }
        }
    }
}

fn headed(group: &Group) -> bool {
    !group.heading.is_empty() && !group.rows.is_empty()
}

/// The ends of an axis: as given, or from zero as far as marks and levels reach.
fn span(input: &Rows, k: usize) -> (f64, f64) {
    let side = &input.sides[k];
    if let Some(ends) = side.ends {
        return ends;
    }
    let cells = input.groups.iter().flat_map(|g| &g.rows).filter_map(|r| r.cells.get(k));
    let extra = side.band.map(|b| [1.5 * b.0, 1.5 * b.1]).into_iter().flatten();
    let values = cells.flat_map(|c| &c.marks).flat_map(Mark::values).chain(side.level.iter().map(|l| l.0));
    let values = values.chain(extra).filter(|v| v.is_finite());
    let (low, high) = values.fold((0.0_f64, 0.0_f64), |(l, h), v| (l.min(v), h.max(v)));
    let room = 0.03 * (high - low);
    (if low < 0.0 { low - room } else { 0.0 }, if high > 0.0 { high + room } else { 1.0 })
}

/// What stands above the rows: the level with its name, the names of the halves.
fn over(scene: &mut Scene, plot: &Panel, x: &Scale, side: &Side, right: f64) {
    let y = plot.top - 12.0;
    if let Some((level, text)) = &side.level {
        let at = x.held(*level);
        let stroke = Stroke::solid(INK, 1.6).dashed(Dash::Dashed);
        scene.line((at, plot.top - 6.0), (at, plot.bottom), stroke);
        scene.text(label((at, y), text, SMALL_PX, Weight::Regular, right - at));
    }
    if let Some([against, with]) = &side.halves {
        let zero = x.held(0.0);
        scene.line((zero, plot.top - 4.0), (zero, plot.top), Stroke::solid(INK, 1.4));
        for (text, at, anchor, room) in [
            (against, zero - 8.0, Anchor::End, zero - MARGIN_PX - 10.0),
            (with, zero + 8.0, Anchor::Start, WIDTH_PX - MARGIN_PX - zero - 10.0),
        ] {
            let said = label((at, y), text, SMALL_PX, Weight::Regular, room);
            scene.text(Text { colour: MUTED, ..said }.anchored(anchor));
        }
    }
}
