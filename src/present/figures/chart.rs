//! Charts by `plotters`, written down as marks of a scene.
//!
//! Coordinates, grids, ticks, labels of axes and the elements on them go through `plotters`, which counts in whole
//! numbers: here in sixteenths of a px. Its lines have no dashes and its shapes no outlines beside a fill, hence one
//! element of our own; its ticks may never end on spans near the limits of numbers, hence ticks from [`Scale`].
use crate::present::axes::{BODY_PX, Panel, SMALL_PX, Scale};
use crate::present::escape::terminal_text;
use crate::present::palette::{HAIRLINE, INK, MUTED};
use crate::present::scene::{Anchor, Colour, Fill, Point, Scene, Stroke, Text, Weight};
use crate::present::text_width::{fit, text_width};
use plotters::chart::{ChartBuilder, LabelAreaPosition};
use plotters::coord::ranged1d::{KeyPointHint, NoDefaultFormatting, Ranged, ValueFormatter};
use plotters::drawing::{DrawingAreaErrorKind, IntoDrawingArea};
use plotters::element::{BackendCoordOnly, Drawable, PointCollection};
use plotters::style::text_anchor::{HPos, VPos};
use plotters::style::{Color, FontFamily, FontStyle, FontTransform, RGBColor, ShapeStyle, TextStyle};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
};
use std::convert::Infallible;
use std::ops::Range;

/// Steps of `plotters` to a px.
const SUB: f64 = 16.0;
/// Where numbers that are none are put: farther out than a scene takes.
const NOWHERE: i32 = 1 << 28;
/// Length of ticks; labels stand twice as far from the axis.
const TICK_PX: f64 = 4.0;
/// Height that a level axis needs below its panel.
pub const BOTTOM_AXIS_PX: f64 = 56.0;
/// Height of its labels and title.
const BOTTOM_LABELS_PX: f64 = 50.0;

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

fn px((x, y): BackendCoord) -> Point {
    (f64::from(x) / SUB, f64::from(y) / SUB)
}

fn sub(px: f64) -> i32 {
    (px * SUB).round().clamp(f64::from(-NOWHERE), f64::from(NOWHERE)) as i32
}

/// Writes what `plotters` draws into a scene.
pub struct Pen<'a>(&'a mut Scene);

fn fill_of(style: &impl BackendStyle) -> Option<Fill> {
    let BackendColor { alpha, rgb: (r, g, b) } = style.color();
    (alpha > 0.0).then_some(Fill { colour: Colour(r, g, b), opacity: alpha })
}

fn stroke_of(style: &impl BackendStyle) -> Option<Stroke> {
    fill_of(style).map(|f| Stroke::solid(f.colour, f64::from(style.stroke_width()) / SUB))
}

/// A shape is filled or outlined.
fn either(style: &impl BackendStyle, fill: bool) -> (Option<Fill>, Option<Stroke>) {
    if fill { (fill_of(style), None) } else { (None, stroke_of(style)) }
}

impl DrawingBackend for Pen<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        (sub(self.0.width).unsigned_abs(), sub(self.0.height).unsigned_abs())
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, at: BackendCoord, colour: BackendColor) -> Drawn {
        self.draw_rect(at, (at.0 + 1, at.1 + 1), &colour, true)
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        self.draw_path([from, to], style)
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        if let Some(stroke) = stroke_of(style) {
            self.0.polyline(path.into_iter().map(px).collect(), stroke);
        }
        Ok(())
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let ((left, top), (right, bottom)) = (px(from), px(to));
        let (fill, stroke) = either(style, fill);
        self.0.outlined_rect((left, top), (right - left, bottom - top), fill, stroke);
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        at: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let (fill, stroke) = either(style, fill);
        self.0.circle(px(at), f64::from(radius) / SUB, fill, stroke);
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        corners: I,
        style: &S,
    ) -> Drawn {
        self.0.polygon(corners.into_iter().map(px).collect(), fill_of(style), None);
        Ok(())
    }

    /// Sizes of type are px; a text may have several lines.
    fn draw_text<S: BackendTextStyle>(&mut self, text: &str, style: &S, at: BackendCoord) -> Drawn {
        let Some(Fill { colour, .. }) = fill_of(&style.color()) else { return Ok(()) };
        let (size, pos, at) = (style.size(), style.anchor(), px(at));
        let turned = matches!(style.transform(), FontTransform::Rotate270);
        let anchor = match pos.h_pos {
            HPos::Left => Anchor::Start,
            HPos::Center => Anchor::Middle,
            HPos::Right => Anchor::End,
        };
        for (i, line) in text.lines().enumerate() {
            let down = size * i as f64
                + match pos.v_pos {
                    VPos::Top => size,
                    VPos::Center => 0.0,
                    VPos::Bottom => -0.24 * size,
                };
            let at = if turned { (at.0 + down, at.1) } else { (at.0, at.1 + down) };
            let text = Text { turned, ..Text::new(at, line, size, colour).anchored(anchor) };
            self.0.text(if matches!(pos.v_pos, VPos::Center) { text.centred_on_line() } else { text });
        }
        Ok(())
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<Infallible>> {
        let width = text.lines().map(|l| text_width(l, style.size(), Weight::Regular)).fold(0.0, f64::max);
        let height = style.size() * text.lines().count() as f64;
        Ok((sub(width).unsigned_abs(), sub(height).unsigned_abs()))
    }
}

impl Ranged for Scale {
    type FormatOption = NoDefaultFormatting;
    type ValueType = f64;

    /// A scale knows its px; limits that are a step of rounding off do not matter.
    fn map(&self, value: &f64, _: (i32, i32)) -> i32 {
        let at = self.at(*value);
        if at.is_nan() { NOWHERE } else { sub(at) }
    }

    fn key_points<Hint: KeyPointHint>(&self, hint: Hint) -> Vec<f64> {
        let unlabelled = hint.weight().allow_light_points();
        self.marks.iter().filter(|m| m.1.is_empty() == unlabelled).map(|m| m.0).collect()
    }

    fn range(&self) -> Range<f64> {
        let (low, high) = self.limits();
        low..high
    }
}

impl ValueFormatter<f64> for Scale {
    fn format_ext(&self, value: &f64) -> String {
        self.marks.iter().find(|m| m.0 == *value).map_or_else(String::new, |m| m.1.clone())
    }
}

/// How something on a chart is painted.
#[derive(Debug, Clone, PartialEq)]
enum Paint {
    Line(Stroke),
    Shape(Option<Fill>, Option<Stroke>),
    Dot(f64, Option<Fill>, Option<Stroke>),
    /// Corners about the point, px.
    Sign(Vec<Point>, Fill, Option<Stroke>),
}

/// Something on a chart, in the values of its axes; what lies outside is moved to the edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    points: Vec<Point>,
    paint: Paint,
}

impl Piece {
    /// A line through points.
    pub fn line(points: Vec<Point>, stroke: Stroke) -> Self {
        Self { points, paint: Paint::Line(stroke) }
    }

    /// A closed shape.
    pub fn shape(points: Vec<Point>, fill: impl Into<Fill>, stroke: Option<Stroke>) -> Self {
        Self { points, paint: Paint::Shape(Some(fill.into()), stroke) }
    }

    /// A rectangle between two corners.
    pub fn bar(a: Point, b: Point, fill: impl Into<Fill>, stroke: Option<Stroke>) -> Self {
        Self::shape(vec![a, (b.0, a.1), b, (a.0, b.1)], fill, stroke)
    }

    /// A disk, its radius in px.
    pub fn dot(at: Point, radius: f64, fill: impl Into<Fill>, stroke: Option<Stroke>) -> Self {
        Self { points: vec![at], paint: Paint::Dot(radius, Some(fill.into()), stroke) }
    }

    /// A sign about a point, its corners in px from it.
    pub fn sign(at: Point, corners: Vec<Point>, fill: Colour, stroke: Option<Stroke>) -> Self {
        Self { points: vec![at], paint: Paint::Sign(corners, fill.into(), stroke) }
    }
}

impl<'a> PointCollection<'a, Point> for &'a Piece {
    type Point = &'a Point;
    type IntoIter = std::slice::Iter<'a, Point>;

    fn point_iter(self) -> Self::IntoIter {
        self.points.iter()
    }
}

impl Drawable<Pen<'_>> for Piece {
    fn draw<I: Iterator<Item = BackendCoord>>(&self, at: I, pen: &mut Pen<'_>, _: (u32, u32)) -> Drawn {
        // Where a value is no number the place, already moved to the edge, means nothing.
        let known = |(p, v): (BackendCoord, &Point)| {
            if v.0.is_nan() || v.1.is_nan() { (f64::NAN, f64::NAN) } else { px(p) }
        };
        let points: Vec<Point> = at.zip(&self.points).map(known).collect();
        let first = points.first().copied().unwrap_or((f64::NAN, f64::NAN));
        match &self.paint {
            Paint::Line(stroke) => pen.0.polyline(points, *stroke),
            Paint::Shape(fill, stroke) => pen.0.polygon(points, *fill, *stroke),
            Paint::Dot(radius, fill, stroke) => pen.0.circle(first, *radius, *fill, *stroke),
            Paint::Sign(corners, fill, stroke) => {
                let corners = corners.iter().map(|c| (first.0 + c.0, first.1 + c.1)).collect();
                pen.0.polygon(corners, Some(*fill), *stroke);
            }
        }
        Ok(())
    }
}

/// One axis of a chart.
#[derive(Debug, Clone, Copy)]
pub struct Axis<'a> {
    /// Its scale.
    pub scale: &'a Scale,
    /// Its title; none for an axis that is not drawn.
    pub title: Option<&'a str>,
    /// Faint lines across the panel at its ticks.
    pub grid: bool,
}

impl<'a> Axis<'a> {
    /// An axis that is drawn.
    pub fn new(scale: &'a Scale, title: &'a str) -> Self {
        Self { scale, title: Some(title), grid: true }
    }

    /// The same axis without lines across the panel.
    pub fn bare(self) -> Self {
        Self { grid: false, ..self }
    }

    /// One that is not drawn.
    pub fn hidden(scale: &'a Scale) -> Self {
        Self { scale, title: None, grid: false }
    }
}

/// Draws axes about a panel and pieces on them.
pub fn chart<'p>(
    scene: &mut Scene,
    panel: &Panel,
    x: Axis,
    y: Axis,
    pieces: impl IntoIterator<Item = &'p Piece>,
) {
    // The pen never fails and nothing else holds it.
    let _ = draw(scene, panel, x, y, pieces);
}

fn draw<'p>(
    scene: &mut Scene,
    panel: &Panel,
    x: Axis,
    y: Axis,
    pieces: impl IntoIterator<Item = &'p Piece>,
) -> Result<(), DrawingAreaErrorKind<Infallible>> {
    let (across, upright) = (x.scale.marked_along(panel.width()), y.scale.marked_up(panel.height()));
    let left_px = if y.title.is_some() { left_axis_px(panel, y.scale) } else { 0.0 };
    let broken = across.marks.iter().any(|m| m.1.lines().count() > 1);
    let below_px = if x.title.is_some() { BOTTOM_LABELS_PX + if broken { 9.0 } else { 0.0 } } else { 0.0 };
    let room = |middle: f64, whole: f64| 2.0 * middle.min(whole - middle) - 16.0;
    let x_room = room(0.5 * (panel.left + panel.right), scene.width);
    let y_room = room(0.5 * (panel.top + panel.bottom), scene.height).min(1.3 * panel.height());
    let title = |text: &str, room: f64| fit(&terminal_text(text), BODY_PX, Weight::Regular, room);

    let area = Pen(scene).into_drawing_area().shrink(
        (sub(panel.left - left_px), sub(panel.top)),
        // A range without its last step is drawn on: one more.
        (sub(panel.width() + left_px) + 1, sub(panel.height() + below_px) + 1),
    );
    let mut chart = ChartBuilder::on(&area)
        .set_label_area_size(LabelAreaPosition::Left, sub(left_px))
        .set_label_area_size(LabelAreaPosition::Bottom, sub(below_px))
        .build_cartesian_2d(across, upright)?;
    if let Some(text) = y.title {
        let mut mesh = chart.configure_mesh();
        if !y.grid {
            mesh.disable_y_mesh();
        }
        mesh.disable_x_mesh()
            .disable_x_axis()
            .set_all_tick_mark_size(sub(TICK_PX))
            .bold_line_style(line(HAIRLINE, 1.0))
            .axis_style(if y.grid { line(HAIRLINE, 1.0) } else { line(MUTED, 1.2) })
            .y_label_style(type_of(SMALL_PX, INK))
            .axis_desc_style(type_of(BODY_PX, MUTED))
            .y_desc(title(text, y_room))
            .draw()?;
    }
    if let Some(text) = x.title {
        let mut mesh = chart.configure_mesh();
        if !x.grid {
            mesh.disable_x_mesh();
        }
        mesh.disable_y_mesh()
            .disable_y_axis()
            .set_all_tick_mark_size(sub(TICK_PX))
            .bold_line_style(line(HAIRLINE, 1.0))
            .light_line_style(line(HAIRLINE, 1.0))
            .axis_style(line(MUTED, 1.2))
            .x_label_style(type_of(SMALL_PX, INK))
            .axis_desc_style(type_of(BODY_PX, MUTED))
            .x_desc(title(text, x_room))
            .draw()?;
    }
    chart.draw_series::<BackendCoordOnly, Piece, _, _>(pieces)?;
    Ok(())
}

/// Width that an upright axis needs left of its panel.
pub fn left_axis_px(panel: &Panel, scale: &Scale) -> f64 {
    let scale = scale.marked_up(panel.height());
    let widths = scale.marks.iter().map(|m| text_width(&m.1, SMALL_PX, Weight::Regular));
    2.0 * TICK_PX + widths.fold(0.0, f64::max) + 10.0 + BODY_PX
}

fn line(colour: Colour, width: f64) -> ShapeStyle {
    let color = RGBColor(colour.0, colour.1, colour.2).to_rgba();
    ShapeStyle { color, filled: false, stroke_width: sub(width).unsigned_abs() }
}

fn type_of(size: f64, colour: Colour) -> TextStyle<'static> {
    let font = plotters::style::FontDesc::new(FontFamily::SansSerif, size, FontStyle::Normal);
    font.color(&RGBColor(colour.0, colour.1, colour.2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::scene::Mark;
    use plotters::element::{Circle, PathElement, Polygon, Rectangle};
    use plotters::style::RED;

    /// What the library's own elements draw arrives in px.
    #[test]
    fn a_pen_writes_down_what_is_drawn() -> Result<(), DrawingAreaErrorKind<Infallible>> {
        let mut scene = Scene::new(100.0, 50.0);
        let area = Pen(&mut scene).into_drawing_area();
        let red = ShapeStyle::from(&RED).stroke_width(32);
        area.draw(&PathElement::new(vec![(0, 0), (160, 80)], red))?;
        area.draw(&Rectangle::new([(16, 16), (48, 32)], RED.filled()))?;
        area.draw(&Circle::new((160, 160), 24, RED.filled()))?;
        area.draw(&Polygon::new(vec![(0, 0), (16, 0), (16, 16)], RED.mix(0.5)))?;
        drop(area);
        let red = Colour(255, 0, 0);
        let fill = |opacity| Some(Fill { colour: red, opacity });
        let wanted = [
            Mark::Polyline { points: vec![(0.0, 0.0), (10.0, 5.0)], stroke: Stroke::solid(red, 2.0) },
            Mark::Rect { at: (1.0, 1.0), size: (2.0, 1.0), fill: fill(1.0), stroke: None },
            Mark::Circle { at: (10.0, 10.0), radius: 1.5, fill: fill(1.0), stroke: None },
            Mark::Polygon { points: vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)], fill: fill(0.5), stroke: None },
        ];
        assert_eq!(scene.marks(), wanted);
        Ok(())
    }

    #[test]
    fn pieces_lie_where_their_scales_say() {
        let mut scene = Scene::new(400.0, 300.0);
        let panel = Panel { left: 100.0, top: 20.0, right: 300.0, bottom: 220.0 };
        let x = Scale::logarithmic(1.0, 100.0, (panel.left, panel.right));
        let y = Scale::linear(0.0, 10.0, (panel.bottom, panel.top));
        let stroke = Stroke::solid(INK, 1.0);
        let points = vec![(10.0, 5.0), (100.0, 99.0), (f64::NAN, 1.0), (1.0, 0.0), (1.0, 10.0)];
        chart(&mut scene, &panel, Axis::hidden(&x), Axis::hidden(&y), &[Piece::line(points, stroke)]);
        let lines: Vec<&Mark> = scene.marks().iter().collect();
        // What lies above the panel is moved to its edge; what is no number breaks the line.
        let wanted = [vec![(200.0, 120.0), (300.0, 20.0)], vec![(100.0, 220.0), (100.0, 20.0)]];
        for (mark, points) in lines.iter().zip(wanted) {
            assert_eq!(**mark, Mark::Polyline { points, stroke });
        }
        assert_eq!(lines.len(), 2);
    }
}
