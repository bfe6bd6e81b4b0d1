//! A picture as data: marks in the order in which they are painted, in px of a canvas at single size.
use super::escape::terminal_text;

/// A place on the canvas, x to the right and y down, in px.
pub type Point = (f64, f64);

/// A colour of the sRGB space, 8 bits a channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// This colour moved the `share` (0 to 1) of the way to another, channel by channel.
    pub fn towards(self, other: Colour, share: f64) -> Colour {
        let t = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
        // Between two bytes for t in 0..1, so the conversion cannot overflow.
        let mix = |a: u8, b: u8| (f64::from(a) + (f64::from(b) - f64::from(a)) * t).round() as u8;
        Colour(mix(self.0, other.0), mix(self.1, other.1), mix(self.2, other.2))
    }

    /// The colour as `#rrggbb`.
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }
}

/// How a line is broken up; the lengths grow with its width.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Dash {
    /// Unbroken.
    #[default]
    Solid,
    /// Dashes three times as long as the gaps between them are wide.
    Dashed,
    /// Dots.
    Dotted,
    /// A dash, a dot, a dash.
    DashDot,
}

impl Dash {
    /// Lengths in px of dash, gap, dash, gap ... for a line of `width` px; empty for a solid line.
    pub fn pattern(self, width: f64) -> Vec<f64> {
        let unit = width.max(1.0);
        match self {
            Dash::Solid => vec![],
            Dash::Dashed => vec![4.0 * unit, 2.4 * unit],
            Dash::Dotted => vec![1.2 * unit, 2.0 * unit],
            Dash::DashDot => vec![5.0 * unit, 2.0 * unit, 1.2 * unit, 2.0 * unit],
        }
    }
}

/// How a line or an outline is drawn. Lines are opaque; mix the colour instead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Its colour.
    pub colour: Colour,
    /// Its width in px.
    pub width: f64,
    /// How it is broken up.
    pub dash: Dash,
}

impl Stroke {
    /// An unbroken line.
    pub fn solid(colour: Colour, width: f64) -> Self {
        Self { colour, width, dash: Dash::Solid }
    }

    /// The same line, broken up.
    pub fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
}

/// How the inside of a shape is filled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fill {
    /// Its colour.
    pub colour: Colour,
    /// 0 (invisible) to 1.
    pub opacity: f64,
}

impl From<Colour> for Fill {
    fn from(colour: Colour) -> Self {
        Self { colour, opacity: 1.0 }
    }
}

/// Regular or bold type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weight {
    /// Regular.
    #[default]
    Regular,
    /// Bold.
    Bold,
}

/// Which point of the text its position names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Anchor {
    /// Its start.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A line of text on its baseline.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Where the anchor lies on the baseline.
    pub at: Point,
    /// What it says.
    pub text: String,
    /// Type size in px.
    pub size: f64,
    /// Regular or bold.
    pub weight: Weight,
    /// Which point `at` names.
    pub anchor: Anchor,
    /// Its colour.
    pub colour: Colour,
    /// Reads upwards, turned by 90 degrees against the clock.
    pub turned: bool,
    /// A rim in this colour behind the letters, where they lie on other marks.
    pub halo: Option<Colour>,
}

/// Height of capitals over type size in DejaVu Sans: half of it centres text on a line.
const CAPITAL_EM: f64 = 0.729;

impl Text {
    /// Regular text that starts at `at`. Control characters and the like are dropped.
    pub fn new(at: Point, text: &str, size: f64, colour: Colour) -> Self {
        let text = terminal_text(text);
        Self {
            at,
            text,
            size,
            weight: Weight::Regular,
            anchor: Anchor::Start,
            colour,
            turned: false,
            halo: None,
        }
    }

    /// The same text, bold.
    pub fn bold(mut self) -> Self {
        self.weight = Weight::Bold;
        self
    }

    /// The same text, bold where `yes`.
    pub fn bold_if(self, yes: bool) -> Self {
        if yes { self.bold() } else { self }
    }

    /// The same text with another anchor.
    pub fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// The same text with its capitals centred on the height given, instead of standing on it.
    pub fn centred_on_line(mut self) -> Self {
        let shift = 0.5 * CAPITAL_EM * self.size;
        if self.turned {
            self.at.0 += shift;
        } else {
            self.at.1 += shift;
        }
        self
    }

    /// The same text reading upwards.
    pub fn turned(mut self) -> Self {
        self.turned = true;
        self
    }

    /// The same text with a rim.
    pub fn halo(mut self, colour: Colour) -> Self {
        self.halo = Some(colour);
        self
    }
}

/// One thing painted.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A line through points.
    Polyline {
        /// Its points, at least two.
        points: Vec<Point>,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// A closed shape.
    Polygon {
        /// Its corners, at least three.
        points: Vec<Point>,
        /// Its inside.
        fill: Option<Fill>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// An upright rectangle.
    Rect {
        /// Upper left corner.
        at: Point,
        /// Width and height, not negative.
        size: (f64, f64),
        /// Its inside.
        fill: Option<Fill>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// A circle.
    Circle {
        /// Its centre.
        at: Point,
        /// Its radius in px.
        radius: f64,
        /// Its inside.
        fill: Option<Fill>,
        /// Its outline.
        stroke: Option<Stroke>,
    },
    /// A line of text.
    Text(Text),
}

/// A picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Width of the canvas in px.
    pub width: f64,
    /// Height of the canvas in px.
    pub height: f64,
    /// What lies behind everything.
    pub background: Colour,
    /// The picture's one-line meaning, for those who cannot see it.
    pub title: String,
    /// The same numbers in words.
    pub description: String,
    marks: Vec<Mark>,
}

/// Farther out than any canvas; what lies beyond is a number gone wrong, not a place.
const FARTHEST_PX: f64 = 1e6;

fn finite(p: &Point) -> bool {
    p.0.abs() <= FARTHEST_PX && p.1.abs() <= FARTHEST_PX
}

impl Scene {
    /// An empty white canvas; sizes are held to 16..20000 px.
    pub fn new(width: f64, height: f64) -> Self {
        let hold = |x: f64| if x.is_finite() { x.clamp(16.0, 20_000.0) } else { 600.0 };
        Self {
            width: hold(width),
            height: hold(height),
            background: Colour(255, 255, 255),
            title: String::new(),
            description: String::new(),
            marks: Vec::new(),
        }
    }

    /// The marks, the first one lowest. All their coordinates are finite.
    pub fn marks(&self) -> &[Mark] {
        &self.marks
    }

    /// Adds a straight line.
    pub fn line(&mut self, from: Point, to: Point, stroke: Stroke) {
        self.polyline(vec![from, to], stroke);
    }

    /// Adds a line through points; it is interrupted where a point is not finite.
    pub fn polyline(&mut self, points: Vec<Point>, stroke: Stroke) {
        for run in points.split(|p| !finite(p)).filter(|run| run.len() > 1) {
            self.marks.push(Mark::Polyline { points: run.to_vec(), stroke });
        }
    }

    /// Adds a closed shape; points that are not finite are left out.
    pub fn polygon(&mut self, points: Vec<Point>, fill: Option<Fill>, stroke: Option<Stroke>) {
        let points: Vec<Point> = points.into_iter().filter(finite).collect();
        if points.len() > 2 {
            self.marks.push(Mark::Polygon { points, fill, stroke });
        }
    }

    /// Adds a rectangle; a negative size counts as none.
    pub fn rect(&mut self, at: Point, size: (f64, f64), fill: impl Into<Fill>) {
        self.outlined_rect(at, size, Some(fill.into()), None);
    }

    /// Adds a rectangle with or without inside and outline.
    pub fn outlined_rect(&mut self, at: Point, size: Point, fill: Option<Fill>, stroke: Option<Stroke>) {
        if finite(&at) && finite(&size) {
            let size = (size.0.max(0.0), size.1.max(0.0));
            self.marks.push(Mark::Rect { at, size, fill, stroke });
        }
    }

    /// Adds a circle.
    pub fn circle(&mut self, at: Point, radius: f64, fill: Option<Fill>, stroke: Option<Stroke>) {
        if finite(&at) && radius > 0.0 && radius <= FARTHEST_PX {
            self.marks.push(Mark::Circle { at, radius, fill, stroke });
        }
    }

    /// Adds a text; an empty one is left out.
    pub fn text(&mut self, text: Text) {
        if finite(&text.at) && text.size > 0.0 && !text.text.is_empty() {
            self.marks.push(Mark::Text(text));
        }
    }
}
