//! Scales with their ticks, and labels that keep out of each other's way.
use super::scene::{Point, Weight};
use super::text_width::text_width;

/// Type size of labels, px on a canvas 960 px wide.
pub const BODY_PX: f64 = 17.0;
/// Type size of tick labels and notes, the smallest used.
pub const SMALL_PX: f64 = 15.0;

/// A rectangle of the canvas, in px.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panel {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Panel {
    /// Its width.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Its height.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// The same panel with its edges moved inwards.
    pub fn inset(&self, left: f64, top: f64, right: f64, bottom: f64) -> Panel {
        Panel {
            left: self.left + left,
            top: self.top + top,
            right: self.right - right,
            bottom: self.bottom - bottom,
        }
    }

    /// The point moved into the panel.
    pub fn clamp(&self, p: Point) -> Point {
        (p.0.max(self.left).min(self.right), p.1.max(self.top).min(self.bottom))
    }
}

/// How values become px, and what is written at them.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    from: f64,
    to: f64,
    px: (f64, f64),
    logarithmic: bool,
    /// Values with their labels; an empty label is a grid line only.
    pub(super) marks: Vec<(f64, String)>,
}

impl Scale {
    /// Equal steps are equally long. Limits that are equal or not finite are replaced by usable ones.
    pub fn linear(from: f64, to: f64, px: (f64, f64)) -> Self {
        let (from, to) = match (from.is_finite(), to.is_finite()) {
            (true, true) if from != to => (from, to),
            (true, _) => (from, from + from.abs().max(1.0)),
            (false, true) => (to - to.abs().max(1.0), to),
            (false, false) => (0.0, 1.0),
        };
        Self { from, to, px, logarithmic: false, marks: Vec::new() }
    }

    /// Equal ratios are equally long. Limits that are not positive and rising are replaced by usable ones.
    pub fn logarithmic(from: f64, to: f64, px: (f64, f64)) -> Self {
        let positive = |x: f64| x.is_finite() && x > 0.0;
        let to = if positive(to) { to } else { 1.0 };
        let from = if positive(from) && from < to { from } else { to / 10.0 };
        Self { from, to, px, logarithmic: true, marks: Vec::new() }
    }

    /// The same scale with something else than round numbers written at it.
    pub fn marked(self, marks: Vec<(f64, String)>) -> Self {
        Self { marks, ..self }
    }

    /// Hours of the day at even steps.
    pub fn hours(from: f64, to: f64, px: (f64, f64)) -> Self {
        let step = [1.0, 2.0, 3.0, 4.0, 6.0].into_iter().find(|s| (to - from) / s <= 10.0).unwrap_or(12.0);
        // More than a week of hours is no day: no marks rather than a crowd of them.
        let count = if to - from <= 168.0 { ((to - from) / step) as usize + 1 } else { 0 };
        let first = (from / step).ceil() * step;
        let hours = (0..count).map(|k| first + step * k as f64).filter(|h| *h <= to + 1e-9);
        let marks = hours.map(|h| (h, format!("{:02.0}:00", h.rem_euclid(24.0)))).collect();
        Self::linear(from, to, px).marked(marks)
    }

    /// The scale with its marks along a level axis, of labels that would touch all but the first taken away.
    pub(super) fn marked_along(&self, px: f64) -> Self {
        let mut scale = self.with_ticks((px / 90.0).clamp(2.0, 10.0) as usize);
        let mut free_from = f64::NEG_INFINITY;
        for k in 0..scale.marks.len() {
            let (value, label) = &scale.marks[k];
            let widest = label.lines().map(|l| text_width(l, SMALL_PX, Weight::Regular)).fold(0.0, f64::max);
            let (x, half) = (scale.at(*value), 0.5 * widest);
            if x - half > free_from {
                free_from = x + half + 6.0;
            } else {
                scale.marks[k].1.clear();
            }
        }
        scale
    }

    /// The scale with its marks along an upright axis.
    pub(super) fn marked_up(&self, px: f64) -> Self {
        self.with_ticks((px / 60.0).clamp(2.0, 9.0) as usize)
    }

    /// With the decimals that the step needs (a logarithmic scale: each its own).
    fn with_ticks(&self, target: usize) -> Self {
        if !self.marks.is_empty() {
            return self.clone();
        }
        let values = self.ticks(target);
        let step = values.windows(2).map(|p| p[1] - p[0]).next().unwrap_or(1.0);
        let label = |v: f64| (v, tick_label(v, if self.logarithmic { v } else { step }));
        self.clone().marked(values.into_iter().map(label).collect())
    }

    /// The px of a value; NaN in, NaN out (which a scene leaves out).
    pub fn at(&self, value: f64) -> f64 {
        let share = if self.logarithmic {
            if value > 0.0 { (value / self.from).log10() / (self.to / self.from).log10() } else { f64::NAN }
        } else {
            (value - self.from) / (self.to - self.from)
        };
        self.px.0 + share * (self.px.1 - self.px.0)
    }

    /// As [`Scale::at`], held within the scale's ends.
    pub fn held(&self, value: f64) -> f64 {
        let (a, b) = (self.px.0.min(self.px.1), self.px.0.max(self.px.1));
        self.at(value).max(a).min(b)
    }

    /// The smaller and the larger limit.
    pub fn limits(&self) -> (f64, f64) {
        (self.from.min(self.to), self.from.max(self.to))
    }

    /// Round values within the limits, about `target` of them.
    pub fn ticks(&self, target: usize) -> Vec<f64> {
        let (lo, hi) = self.limits();
        if self.logarithmic { log_ticks(lo, hi, target) } else { ticks(lo, hi, target) }
    }
}

/// The round step (1, 2 or 5 times a power of ten) that divides a span into about `target` parts.
pub fn nice_step(span: f64, target: usize) -> f64 {
    let span = if span.is_finite() && span > 0.0 { span } else { 1.0 };
    let raw = span / target.max(1) as f64;
    let power = 10f64.powf(raw.log10().floor());
    let lead = raw / power;
    // Geometric midpoints, so that the number of parts is off by at most a factor of 1.6.
    power
        * if lead < 2f64.sqrt() {
            1.0
        } else if lead < 10f64.sqrt() {
            2.0
        } else if lead < 50f64.sqrt() {
            5.0
        } else {
            10.0
        }
}

/// Round values from `lo` to `hi`, rising, about `target` of them, zero exact.
pub fn ticks(lo: f64, hi: f64, target: usize) -> Vec<f64> {
    if !lo.is_finite() || !hi.is_finite() || hi <= lo {
        return if lo.is_finite() { vec![lo] } else { vec![] };
    }
    // A short span may hold no multiple of the step wished for: then finer steps.
    for finer in 0..4 {
        let step = nice_step(hi - lo, target << finer);
        // A hair of room so that rounding does not lose a tick at the very end.
        let slack = 1e-9;
        let (first, last) = ((lo / step - slack).ceil(), (hi / step + slack).floor());
        if last >= first {
            let n = (last - first) as usize;
            // Adding zero turns -0 into 0.
            return (0..=n.min(1_000)).map(|i| (first + i as f64) * step + 0.0).collect();
        }
    }
    vec![]
}

/// Powers of ten from `lo` to `hi`; with 2 and 5 between them where there would be fewer than three.
pub fn log_ticks(lo: f64, hi: f64, target: usize) -> Vec<f64> {
    if !(lo > 0.0 && hi > lo && hi.is_finite()) {
        return vec![];
    }
    let (first, last) = (lo.log10().floor() as i32, hi.log10().ceil() as i32);
    let within = |v: &f64| *v >= lo * (1.0 - 1e-9) && *v <= hi * (1.0 + 1e-9);
    let decade = |leads: &'static [f64]| {
        (first..=last).flat_map(move |e| leads.iter().map(move |m| m * 10f64.powi(e))).filter(within)
    };
    let powers: Vec<f64> = decade(&[1.0]).collect();
    if powers.len() < 3 {
        return decade(&[1.0, 2.0, 5.0]).collect();
    }
    let every = powers.len().div_ceil(target.max(2));
    powers.into_iter().step_by(every).collect()
}

/// From here on a number is written with a power of ten.
const LARGEST_PLAIN: f64 = 1e9;

/// A value with as many decimals as the step between ticks needs; thousands set apart.
///
/// ```
/// use callup::present::axes::tick_label;
/// assert_eq!(tick_label(0.5, 0.25), "0.50");
/// assert_eq!(tick_label(30000.0, 10000.0), "30\u{a0}000");
/// assert_eq!(tick_label(-2.0, 1.0), "−2");
/// ```
pub fn tick_label(value: f64, step: f64) -> String {
    if !value.is_finite() {
        return String::new();
    }
    if value.abs() >= LARGEST_PLAIN {
        return format!("{value:.1e}");
    }
    let decimals = (0..=6).find(|&d| {
        let scaled = step.abs() * 10f64.powi(d);
        (scaled - scaled.round()).abs() < 1e-6 * scaled.max(1e-9)
    });
    let plain = format!("{:.*}", decimals.unwrap_or(6) as usize, value.abs());
    let (whole, rest) = plain.split_at(plain.find('.').unwrap_or(plain.len()));
    let mut out = if value < 0.0 && plain.bytes().any(|b| matches!(b, b'1'..=b'9')) {
        String::from("−")
    } else {
        String::new()
    };
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && whole.len() > 4 && (whole.len() - i) % 3 == 0 {
            out.push('\u{a0}');
        }
        out.push(digit);
    }
    out + rest
}

/// Moves labels apart: the places nearest to those wanted (least squares) that keep the order given,
/// are at least `gap` apart and, as far as they fit, lie within `lo..hi`. Wanted places must rise;
/// the answer has one place for each. (Isotonic regression by pooling neighbours.)
pub fn spread(wanted: &[f64], gap: f64, lo: f64, hi: f64) -> Vec<f64> {
    struct Pool {
        mean: f64,
        count: usize,
    }
    let mut pools: Vec<Pool> = Vec::new();
    for (i, &w) in wanted.iter().enumerate() {
        // With the gaps taken out, "at least `gap` apart" becomes "not falling".
        let w = if w.is_finite() { w } else { lo };
        let mut pool = Pool { mean: w - gap * i as f64, count: 1 };
        while let Some(last) = pools.pop_if(|p| p.mean > pool.mean) {
            let n = (last.count + pool.count) as f64;
            pool.mean = (last.mean * last.count as f64 + pool.mean * pool.count as f64) / n;
            pool.count += last.count;
        }
        pools.push(pool);
    }
    let room = (hi - lo - gap * wanted.len().saturating_sub(1) as f64).max(0.0);
    let flat = pools.iter().flat_map(|p| std::iter::repeat_n(p.mean, p.count));
    flat.enumerate().map(|(i, m)| m.max(lo).min(lo + room) + gap * i as f64).collect()
}

/// [`spread`] for places in any order: equal places keep the order given.
pub fn spread_unordered(wanted: &[f64], gap: f64, lo: f64, hi: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]));
    let sorted: Vec<f64> = order.iter().map(|&i| wanted[i]).collect();
    let mut places = vec![0.0; wanted.len()];
    for (place, i) in spread(&sorted, gap, lo, hi).into_iter().zip(order) {
        places[i] = place;
    }
    places
}
