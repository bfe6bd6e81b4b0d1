//! Maps over two conditions: which bait leads where, and by how much one thing beats another.
mod layout;

use super::chart::{Axis, BOTTOM_AXIS_PX, chart, left_axis_px};
use super::{MARGIN_PX, WIDTH_PX, Words, frame, in_lines, nothing_to_show};
use crate::present::axes::{Panel, SMALL_PX, Scale};
use crate::present::escape::terminal_text;
use crate::present::palette::{FAINT, INK, PAPER, SERIES, UNTOLD, diverging};
use crate::present::scene::{Colour, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{fit, text_width};
use layout::{Label, Layout, hatch};

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

/// What is written at the cells of the level and of the upright side in place of numbers.
pub type Names<'a> = [Option<&'a [String]>; 2];

/// Draws who leads where.
pub fn leader_map(input: &LeaderMap) -> Scene {
    leader_map_named(input, [None, None])
}

/// Draws who leads where, over sides that have names in place of numbers.
pub fn leader_map_named(input: &LeaderMap, names: Names) -> Scene {
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
        side_names: names,
        outline: None,
    })
}

/// Colours of areas: those of the series, paler on their second and third round.
fn leader_colour(i: usize) -> Colour {
    let paler = [0.2, 0.55, 0.78][(i / SERIES.len()).min(2)];
    SERIES[i % SERIES.len()].towards(PAPER, paler)
}

/// Draws the difference with its zero line.
pub fn difference_map(input: &DifferenceMap) -> Scene {
    difference_map_named(input, [None, None])
}

/// Draws the difference over sides that have names in place of numbers, across which there is no zero line.
pub fn difference_map_named(input: &DifferenceMap, side_names: Names) -> Scene {
    difference_map_boxed(input, side_names, None)
}

/// The same with a box drawn into it: its ends on both sides, infinite where it is open.
pub fn difference_map_boxed(
    input: &DifferenceMap,
    side_names: Names,
    outline: Option<[(f64, f64); 2]>,
) -> Scene {
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
        zero_line: side_names.iter().all(Option::is_none).then_some(&input.values),
        here: input.here.as_ref(),
        side_names,
        outline,
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
    side_names: Names<'a>,
    outline: Option<[(f64, f64); 2]>,
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
    plot.left += left_axis_px(&plot, &side_scale(d, 1, &plot));
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
    let (x, y) = (Axis::new(&layout.x, &d.x.title).bare(), Axis::new(&layout.y, &d.y.title).bare());
    chart(&mut scene, &plot, x, y, &[]);
    layout.cells(&mut scene, d);
    layout.borders(&mut scene, d);
    let labels: Vec<Label> = placed.into_iter().flatten().map(|l| l.moved_down(top)).collect();
    layout.contours(&mut scene, d, &labels);
    layout.outline(&mut scene, d.outline);
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

/// Room that the names at the upright side may take.
const NAMES_PX: f64 = 170.0;

/// Maps the middles of the first and last cells half a cell inside the panel's edges; at a side of names these are
/// written in place of numbers.
fn side_scale(d: &Drawing, upright: usize, plot: &Panel) -> Scale {
    let (side, (from, to)) = [(d.x, (plot.left, plot.right)), (d.y, (plot.bottom, plot.top))][upright];
    let n = side.values.len().max(1) as f64;
    let half = 0.5 * (to - from) / n;
    let px = if side.downward { (to - half, from + half) } else { (from + half, to - half) };
    let (first, last) = (side.values.first().copied(), side.values.last().copied());
    let (a, b) = (first.unwrap_or(0.0), last.unwrap_or(1.0));
    let scale = if side.logarithmic { Scale::logarithmic(a, b, px) } else { Scale::linear(a, b, px) };
    let names: Vec<String> =
        d.side_names[upright].unwrap_or_default().iter().map(|n| terminal_text(n)).collect();
    let names = match upright {
        0 => broken(&names, plot.width() / names.len().max(1) as f64 - 8.0),
        _ => names.iter().map(|n| fit(n, SMALL_PX, Weight::Regular, NAMES_PX)).collect(),
    };
    scale.marked(names.into_iter().enumerate().map(|(i, n)| (i as f64, n)).collect())
}

/// Names that are too long for their room broken after a hyphen or a space, and shortened if that does not do.
fn broken(names: &[String], room: f64) -> Vec<String> {
    let width = |n: &str| text_width(n, SMALL_PX, Weight::Regular);
    // A word may reach into the room of its neighbours as far as they leave it.
    let left_by = |k: usize| names.get(k).map_or(0.0, |n| (room - width(n)).max(0.0));
    let breaking = |(i, name): (usize, &String)| {
        if width(name) <= room {
            return name.clone();
        }
        let reach = room + left_by(i.wrapping_sub(1)).min(left_by(i + 1));
        let (first, second) = name.split_at(name.find(['-', ' ']).map_or(name.len(), |at| at + 1));
        [first, second]
            .map(|l| fit(l.trim_end(), SMALL_PX, Weight::Regular, reach))
            .join("\n")
            .trim_end()
            .into()
    };
    names.iter().enumerate().map(breaking).collect()
}

/// Names that found no place in the map, set in lines: (which of them, text, x from the left).
fn key_rows(d: &Drawing, unplaced: &[usize]) -> Vec<Vec<(usize, String, f64)>> {
    let texts = unplaced.iter().map(|&c| d.names.get(c).map_or(CANNOT_TELL, String::as_str));
    in_lines(texts, WIDTH_PX - 3.0 * MARGIN_PX - 60.0, 24.0)
}

fn draw_key(scene: &mut Scene, d: &Drawing, unplaced: &[usize], (left, top): Point) {
    for (r, row) in key_rows(d, unplaced).into_iter().enumerate() {
        let y = top + KEY_LINE_PX * r as f64;
        for (k, text, x) in row {
            let c = unplaced[k];
            let colour = d.colours.get(c).copied().unwrap_or(UNTOLD);
            let outline = Some(Stroke::solid(FAINT, 1.0));
            scene.outlined_rect((left + x, y - 8.0), (16.0, 16.0), Some(colour.into()), outline);
            if c >= d.names.len() {
                hatch(scene, left + x, y - 8.0, left + x + 16.0, y + 8.0);
            }
            scene.text(Text::new((left + x + 24.0, y), &text, SMALL_PX, INK).centred_on_line());
        }
    }
}
