//! What stands in a row: bars, lines, ranges, dots, ticks, triangles, heaps of dots.
use crate::present::axes::Scale;
use crate::present::figures::chart::Piece;
use crate::present::figures::shapes;
use crate::present::palette::{FAINT, HAIRLINE, INK, PAPER};
use crate::present::scene::{Colour, Dash, Stroke};

/// What is drawn in a row, in values of the axis.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A bar.
    Bar {
        /// Where it begins.
        from: f64,
        /// Where it ends.
        to: f64,
        /// Its thickness, px.
        px: f64,
        /// Words inside, where they fit.
        said: String,
    },
    /// A line.
    Line {
        /// Its lower end.
        low: f64,
        /// Its upper end.
        high: f64,
        /// Its thickness, px.
        px: f64,
        /// How it is broken up.
        dash: Dash,
    },
    /// A range with caps, dark on a pale rim so that it shows on a bar and beside it.
    Whisker {
        /// Its lower end.
        low: f64,
        /// Its upper end.
        high: f64,
    },
    /// A disk.
    Dot {
        /// Where its middle is.
        at: f64,
        /// Its radius, px.
        radius: f64,
    },
    /// An upright tick on a pale rim.
    Tick {
        /// Where its middle is.
        at: f64,
        /// Half its size, px.
        half: f64,
    },
    /// A triangle.
    Triangle {
        /// Where its middle is.
        at: f64,
        /// Half its size, px.
        half: f64,
        /// Points up, not down.
        up: bool,
    },
    /// Dots heaped upwards from a line through the row, a triangle at their middle.
    Heap {
        /// The values.
        dots: Vec<f64>,
        /// Their middle.
        median: f64,
    },
}

/// A shape in its colour, so many px below the middle of the row.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The shape.
    pub shape: Shape,
    /// Its colour.
    pub colour: Colour,
    /// px below the middle of the row.
    pub dy: f64,
}

impl Mark {
    /// A shape in the middle of the row.
    pub fn new(shape: Shape, colour: Colour) -> Self {
        Self { shape, colour, dy: 0.0 }
    }

    /// The same mark lower.
    pub fn lower(self, dy: f64) -> Self {
        Self { dy, ..self }
    }

    /// The values it spans; those that are none do not count.
    pub(super) fn values(&self) -> Vec<f64> {
        match &self.shape {
            Shape::Bar { from, to, .. } => vec![*from, *to],
            Shape::Line { low, high, .. } | Shape::Whisker { low, high } => vec![*low, *high],
            Shape::Dot { at, .. } | Shape::Tick { at, .. } | Shape::Triangle { at, .. } => vec![*at],
            Shape::Heap { dots, median } => dots.iter().chain([median]).copied().collect(),
        }
    }
}

/// The pieces of a mark in a row about `middle`; heaps stand on `base` with dots of a radius in so much room.
pub(super) fn draw_mark(
    mark: &Mark,
    x: &Scale,
    middle: f64,
    (base, radius, room): (f64, f64, f64),
    rim: Colour,
) -> Vec<Piece> {
    let (y, colour) = (middle + mark.dy, mark.colour);
    let rim = Stroke::solid(rim, 1.5);
    match &mark.shape {
        Shape::Bar { from, to, px, .. } => {
            let wide = (x.held(*to) - x.held(*from)).abs();
            let rim = (wide > 3.0).then_some(rim);
            let bar = || Piece::bar((*from, y - 0.5 * px), (*to, y + 0.5 * px), colour, rim);
            (from != to).then(bar).into_iter().collect()
        }
        Shape::Line { low, high, px, dash } => {
            vec![Piece::line(vec![(*low, y), (*high, y)], Stroke::solid(colour, *px).dashed(*dash))]
        }
        Shape::Whisker { low, high } => [Stroke::solid(PAPER, 5.0), Stroke::solid(INK, 2.0)]
            .into_iter()
            .flat_map(|stroke| {
                let caps = [*low, *high].map(|v| Piece::line(vec![(v, y - 6.0), (v, y + 6.0)], stroke));
                std::iter::once(Piece::line(vec![(*low, y), (*high, y)], stroke)).chain(caps)
            })
            .collect(),
        Shape::Dot { at, radius } => vec![Piece::dot((*at, y), *radius, colour, Some(rim))],
        Shape::Tick { at, half } => [Stroke::solid(PAPER, 5.0), Stroke::solid(colour, 2.4)]
            .map(|stroke| Piece::line(vec![(*at, y - half), (*at, y + half)], stroke))
            .into(),
        Shape::Triangle { at, half, up } => {
            vec![Piece::sign((*at, y), shapes::triangle((0.0, 0.0), *half, *up), colour, Some(rim))]
        }
        Shape::Heap { dots, median } => {
            let (from, to) = x.limits();
            let line = Stroke::solid(HAIRLINE.towards(FAINT, 0.6), 1.2);
            let mut pieces = vec![Piece::line(vec![(from, base), (to, base)], line)];
            for (at, count) in heaps(dots, x, radius) {
                let most = (room - 14.0 - 2.0 * radius) / (count.max(2) - 1) as f64;
                let step = (2.0 * radius).min(most);
                let place = |k: usize| (at, base - 1.0 - radius - step * k as f64);
                pieces.extend((0..count).map(|k| Piece::dot(place(k), radius - 0.6, colour, None)));
            }
            let sign = shapes::triangle((0.0, 4.5), 5.0, true);
            pieces.push(Piece::sign((*median, base), sign, colour.towards(INK, 0.6), None));
            pieces
        }
    }
}

/// Where the dots of a row are heaped: the value of each heap and how many lie on it (Wilkinson 1999,
/// Am. Stat. 53:276, from memory): dots closer than one diameter to the first of a heap join it.
fn heaps(dots: &[f64], x: &Scale, radius: f64) -> Vec<(f64, usize)> {
    let mut sorted: Vec<f64> = dots.iter().copied().filter(|d| d.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let mut heaps = Vec::new();
    let mut rest = &sorted[..];
    while let Some(&first) = rest.first() {
        let n = rest.partition_point(|&d| x.held(d) < x.held(first) + 2.0 * radius).max(1);
        heaps.push((0.5 * (first + rest[n - 1]), n));
        rest = &rest[n..];
    }
    heaps
}

/// The largest dots of which no heap outgrows its row; the smallest size overlaps instead.
pub(super) fn dot_radius<'a>(marks: impl Iterator<Item = &'a Mark> + Clone, x: &Scale, room: f64) -> f64 {
    let fits = |radius: &f64| {
        let rows = marks
            .clone()
            .filter_map(|m| if let Shape::Heap { dots, .. } = &m.shape { Some(dots) } else { None });
        let tallest = rows.flat_map(|dots| heaps(dots, x, *radius)).map(|h| h.1).max().unwrap_or(0);
        2.0 * radius * tallest as f64 <= room - 14.0
    };
    [6.0, 5.5, 5.0].into_iter().find(fits).unwrap_or(4.6)
}
