//! Filling shapes in a pixel buffer with soft edges.
//!
//! The general-purpose drawing library rounds corners to whole pixels before it fills, which makes
//! thick curves ragged; here each pixel gets the share of it that the shape covers. Horizontally the
//! share is exact, vertically it is the mean of [`SLICES`] slices.
use crate::present::scene::{Colour, Point, Stroke};

/// Slices of a pixel row: five levels between empty and full are finer than the eye at double size.
const SLICES: usize = 5;
/// Corners of the polygons that stand for round joints and circles: off by less than 0.1 px at 40 px.
const ROUND: usize = 40;

/// An image, three bytes a pixel.
pub struct Image {
    /// Width in pixels.
    pub width: usize,
    /// Height in pixels.
    pub height: usize,
    /// Red, green, blue, row by row.
    pub bytes: Vec<u8>,
}

impl Image {
    /// An image of one colour.
    pub fn new(width: usize, height: usize, ground: Colour) -> Self {
        let bytes = [ground.0, ground.1, ground.2].repeat(width * height);
        Self { width, height, bytes }
    }

    /// Fills the union of closed shapes (non-zero winding) with a colour.
    pub fn fill(&mut self, shapes: &[Vec<Point>], colour: Colour, opacity: f64) {
        let ys = || shapes.iter().flatten().map(|p| p.1);
        let (low, high) = (ys().fold(f64::INFINITY, f64::min), ys().fold(f64::NEG_INFINITY, f64::max));
        if low > high || opacity.is_nan() || opacity <= 0.0 {
            return;
        }
        let first = (low.floor().max(0.0) as usize).min(self.height);
        let last = (high.ceil().max(0.0) as usize).min(self.height);
        let mut crossings: Vec<Vec<(f64, i32)>> = vec![Vec::new(); (last - first) * SLICES];
        for shape in shapes {
            for (a, b) in shape.iter().zip(shape.iter().cycle().skip(1)) {
                cross(*a, *b, first, &mut crossings);
            }
        }
        let mut cover = vec![0.0; self.width];
        for (row, slices) in (first..last).zip(crossings.chunks_mut(SLICES)) {
            let (mut from, mut to) = (self.width, 0);
            for slice in slices {
                slice.sort_by(|p, q| p.0.total_cmp(&q.0));
                let mut winding = 0;
                for pair in slice.windows(2) {
                    winding += pair[0].1;
                    if winding != 0 {
                        let (a, b) = add_span(&mut cover, pair[0].0, pair[1].0);
                        (from, to) = (from.min(a), to.max(b));
                    }
                }
            }
            for (x, c) in cover.iter_mut().enumerate().take(to).skip(from) {
                self.blend(x, row, colour, c.min(1.0) * opacity.min(1.0));
                *c = 0.0;
            }
        }
    }

    /// Paints a colour through a mask.
    pub fn stamp(&mut self, mask: &Mask, colour: Colour) {
        for (row, y) in mask.cover.chunks(mask.width.max(1)).zip(mask.top..) {
            for (&cover, x) in row.iter().zip(mask.left..) {
                let inside = (0..self.width as i64).contains(&x) && (0..self.height as i64).contains(&y);
                if inside && cover > 0.0 {
                    self.blend(x as usize, y as usize, colour, cover.min(1.0));
                }
            }
        }
    }

    fn blend(&mut self, x: usize, y: usize, colour: Colour, share: f64) {
        let at = 3 * (y * self.width + x);
        if let Some(pixel) = self.bytes.get_mut(at..at + 3) {
            for (old, new) in pixel.iter_mut().zip([colour.0, colour.1, colour.2]) {
                // Between two bytes, so the conversion cannot overflow.
                *old = (f64::from(*old) + (f64::from(new) - f64::from(*old)) * share).round() as u8;
            }
        }
    }
}

/// How far each pixel of a small rectangle is covered.
pub struct Mask {
    left: i64,
    top: i64,
    width: usize,
    cover: Vec<f64>,
}

impl Mask {
    /// The rectangle around samples (x, y, cover); samples of one pixel add up.
    pub fn new(samples: &[(i64, i64, f64)]) -> Self {
        let low = samples.iter().fold((i64::MAX, i64::MAX), |m, s| (m.0.min(s.0), m.1.min(s.1)));
        let high = samples.iter().fold((i64::MIN, i64::MIN), |m, s| (m.0.max(s.0), m.1.max(s.1)));
        if samples.is_empty() {
            return Self { left: 0, top: 0, width: 0, cover: Vec::new() };
        }
        let (width, height) = ((high.0 - low.0 + 1) as usize, (high.1 - low.1 + 1) as usize);
        let mut cover = vec![0.0; width * height];
        for &(x, y, c) in samples {
            cover[(y - low.1) as usize * width + (x - low.0) as usize] += c;
        }
        Self { left: low.0, top: low.1, width, cover }
    }

    /// The mask with a rim of `by` pixels all around.
    pub fn grown(&self, by: f64) -> Self {
        let reach = by.ceil() as i64;
        let offsets: Vec<(i64, i64, f64)> = (-reach..=reach)
            .flat_map(|dy| (-reach..=reach).map(move |dx| (dx, dy)))
            .map(|(dx, dy)| (dx, dy, (by + 0.5 - (dx as f64).hypot(dy as f64)).clamp(0.0, 1.0)))
            .filter(|o| o.2 > 0.0)
            .collect();
        let pad = reach as usize;
        let height = self.cover.len() / self.width.max(1);
        let width = self.width + 2 * pad;
        let mut cover: Vec<f64> = vec![0.0; width * (height + 2 * pad)];
        for (k, &c) in self.cover.iter().enumerate().filter(|(_, c)| **c > 0.0) {
            let (x, y) = ((k % self.width + pad) as i64, (k / self.width + pad) as i64);
            for &(dx, dy, share) in &offsets {
                if let Some(old) = cover.get_mut((y + dy) as usize * width + (x + dx) as usize) {
                    *old = old.max((c * share).min(1.0));
                }
            }
        }
        Self { left: self.left - reach, top: self.top - reach, width, cover }
    }
}

/// Notes where an edge crosses the middles of the slices, and in which direction.
fn cross(a: Point, b: Point, first_row: usize, crossings: &mut [Vec<(f64, i32)>]) {
    let (top, bottom, direction) = if a.1 < b.1 { (a, b, 1) } else { (b, a, -1) };
    let slice_of = |y: f64| ((y - first_row as f64) * SLICES as f64 - 0.5).ceil().max(0.0) as usize;
    let (from, to) = (slice_of(top.1), slice_of(bottom.1).min(crossings.len()));
    for (k, slice) in crossings.iter_mut().enumerate().take(to).skip(from) {
        let y = first_row as f64 + (k as f64 + 0.5) / SLICES as f64;
        slice.push((top.0 + (bottom.0 - top.0) * (y - top.1) / (bottom.1 - top.1), direction));
    }
}

/// Adds one slice's span to the cover of a row; returns the range of pixels touched.
fn add_span(cover: &mut [f64], from: f64, to: f64) -> (usize, usize) {
    let width = cover.len() as f64;
    let (from, to) = (from.clamp(0.0, width), to.clamp(0.0, width));
    let (first, last) = (from.floor() as usize, (to.ceil() as usize).min(cover.len()));
    for (x, c) in cover.iter_mut().enumerate().take(last).skip(first) {
        let share = (to.min(x as f64 + 1.0) - from.max(x as f64)).max(0.0);
        *c += share / SLICES as f64;
    }
    (first, last)
}

/// A circle as a polygon.
pub fn circle(at: Point, radius: f64) -> Vec<Point> {
    let corner = |i: usize| {
        let a = std::f64::consts::TAU * i as f64 / ROUND as f64;
        (at.0 + radius * a.cos(), at.1 + radius * a.sin())
    };
    (0..ROUND).map(corner).collect()
}

/// The shapes whose union is a line through `points`: a box for every piece, a disk on every joint.
pub fn stroke_shapes(points: &[Point], closed: bool, stroke: &Stroke, scale: f64) -> Vec<Vec<Point>> {
    let mut line: Vec<Point> = points.iter().map(|p| (p.0 * scale, p.1 * scale)).collect();
    if closed {
        line.extend(line.first().copied());
    }
    line.dedup();
    let pattern: Vec<f64> = stroke.dash.pattern(stroke.width).iter().map(|l| l * scale).collect();
    let pieces = if pattern.is_empty() { vec![line] } else { dashes(&line, &pattern) };
    let half = 0.5 * stroke.width * scale;
    let mut shapes = Vec::new();
    for piece in pieces {
        for ends in piece.windows(2) {
            let (a, b) = (ends[0], ends[1]);
            let length = (b.0 - a.0).hypot(b.1 - a.1);
            if length > 0.0 {
                let (nx, ny) = (half * (b.1 - a.1) / length, half * (a.0 - b.0) / length);
                let corners = [(a, 1.0), (b, 1.0), (b, -1.0), (a, -1.0)];
                // The same sense of turning as the disks, so that the union stays filled.
                shapes.push(corners.iter().map(|(p, s)| (p.0 + s * nx, p.1 + s * ny)).collect());
            }
        }
        let joints =
            if closed && pattern.is_empty() { 0..piece.len() } else { 1..piece.len().saturating_sub(1) };
        shapes.extend(piece.get(joints).unwrap_or_default().iter().map(|&p| circle(p, half)));
    }
    shapes
}

/// A line cut into its dashes.
fn dashes(line: &[Point], pattern: &[f64]) -> Vec<Vec<Point>> {
    let mut out = Vec::new();
    let mut current: Vec<Point> = line.first().copied().into_iter().collect();
    let (mut k, mut left) = (0, pattern[0]);
    for ends in line.windows(2) {
        let (mut a, b) = (ends[0], ends[1]);
        loop {
            let length = (b.0 - a.0).hypot(b.1 - a.1);
            if length < left {
                left -= length;
                current.push(b);
                break;
            }
            let t = if length > 0.0 { left / length } else { 1.0 };
            a = (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1));
            current.push(a);
            if k % 2 == 0 {
                out.push(std::mem::take(&mut current));
            }
            current = vec![a];
            k = (k + 1) % pattern.len();
            left = pattern[k].max(0.1);
        }
    }
    if k % 2 == 0 && current.len() > 1 {
        out.push(current);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::scene::Dash;

    const BLACK: Colour = Colour(0, 0, 0);
    const WHITE: Colour = Colour(255, 255, 255);

    fn darkness(image: &Image) -> f64 {
        image.bytes.iter().map(|b| f64::from(255 - b)).sum::<f64>() / (3.0 * 255.0)
    }

    #[test]
    fn filled_areas_have_the_right_size() {
        let mut image = Image::new(100, 100, WHITE);
        image.fill(&[circle((50.0, 50.0), 30.0)], BLACK, 1.0);
        let area = std::f64::consts::PI * 900.0;
        // The polygon of 40 corners covers 0.4 % less than the circle.
        assert!((darkness(&image) / area - 1.0).abs() < 0.006, "{} of {area}", darkness(&image));
    }

    #[test]
    fn overlapping_pieces_of_a_line_are_not_painted_twice() {
        let stroke = Stroke::solid(BLACK, 4.0);
        let bent = [(10.0, 10.0), (60.0, 10.0), (60.0, 60.0)];
        let mut image = Image::new(80, 80, WHITE);
        image.fill(&stroke_shapes(&bent, false, &stroke, 1.0), BLACK, 0.5);
        assert!(image.bytes.iter().all(|&b| b >= 127));
        // Two boxes of 200, the joint's quarters: 400 in all but for the rounding of the corner.
        assert!((darkness(&image) * 2.0 - 400.0).abs() < 8.0, "{}", darkness(&image));
    }

    #[test]
    fn a_grown_mask_is_a_disk_around_a_point() {
        let mut image = Image::new(40, 40, WHITE);
        image.stamp(&Mask::new(&[(20, 20, 1.0)]).grown(10.0), BLACK);
        let area = std::f64::consts::PI * 100.0;
        assert!((darkness(&image) / area - 1.0).abs() < 0.02, "{}", darkness(&image));
        // Partly and wholly outside, and nothing at all.
        image.stamp(&Mask::new(&[(-3, 39, 1.0), (50, 90, 1.0)]).grown(2.0), BLACK);
        image.stamp(&Mask::new(&[]).grown(2.0), BLACK);
    }

    #[test]
    fn dashes_cover_their_share() {
        let stroke = Stroke { colour: BLACK, width: 2.0, dash: Dash::Dashed };
        let mut image = Image::new(420, 20, WHITE);
        let line = [(10.0, 10.0), (330.0, 10.0)];
        image.fill(&stroke_shapes(&line, false, &stroke, 1.0), BLACK, 1.0);
        let pattern = Dash::Dashed.pattern(2.0);
        let share = pattern[0] / (pattern[0] + pattern[1]);
        assert!((darkness(&image) / (640.0 * share) - 1.0).abs() < 0.02, "{}", darkness(&image));
    }

    #[test]
    fn what_lies_outside_is_cut_off() {
        let mut image = Image::new(10, 10, WHITE);
        image.fill(&[vec![(-1e9, -1e9), (1e9, -1e9), (1e9, 1e9), (-1e9, 1e9)]], BLACK, 1.0);
        assert!(image.bytes.iter().all(|&b| b == 0));
        image.fill(&[vec![(20.0, 20.0), (30.0, 20.0), (30.0, 30.0)]], WHITE, 1.0);
        image.fill(&[], WHITE, 1.0);
        assert!(image.bytes.iter().all(|&b| b == 0));
    }
}
