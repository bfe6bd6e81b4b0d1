//! Small drawings: curves through points, a fish, a Secchi disk, arrow heads.
use crate::present::palette::{INK, PAPER};
use crate::present::scene::{Colour, Fill, Point, Scene, Stroke};

/// Points on a smooth curve through the corners given (Catmull-Rom splines, uniform), closed or open.
pub fn smooth(corners: &[Point], closed: bool, per_piece: usize) -> Vec<Point> {
    let n = corners.len();
    if n < 3 || per_piece == 0 {
        return corners.to_vec();
    }
    let at = |i: isize| {
        let last = n as isize;
        corners[if closed { i.rem_euclid(last) } else { i.clamp(0, last - 1) } as usize]
    };
    let pieces = if closed { n } else { n - 1 };
    let mut out = Vec::with_capacity(pieces * per_piece + 1);
    for i in 0..pieces as isize {
        let (a, b, c, d) = (at(i - 1), at(i), at(i + 1), at(i + 2));
        for k in 0..per_piece {
            let t = k as f64 / per_piece as f64;
            let blend = |a: f64, b: f64, c: f64, d: f64| {
                b + 0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a)))
            };
            out.push((blend(a.0, b.0, c.0, d.0), blend(a.1, b.1, c.1, d.1)));
        }
    }
    if !closed {
        out.extend(corners.last());
    }
    out
}

/// Outline of a bass that faces left, in body lengths from its eye: x back to the tail, y down.
const BODY: [Point; 29] = [
    (-0.135, 0.030), // snout
    (-0.090, -0.020),
    (-0.020, -0.060),
    (0.080, -0.105),
    (0.160, -0.128),
    (0.185, -0.172), // spiny dorsal fin
    (0.250, -0.190),
    (0.320, -0.168),
    (0.375, -0.138),
    (0.400, -0.170), // soft dorsal fin
    (0.470, -0.185),
    (0.540, -0.125),
    (0.570, -0.072),
    (0.680, -0.040), // wrist of the tail
    (0.740, -0.062),
    (0.865, -0.135), // upper lobe
    (0.832, -0.010),
    (0.865, 0.125), // lower lobe
    (0.740, 0.072),
    (0.680, 0.052),
    (0.590, 0.090),
    (0.550, 0.160), // anal fin
    (0.480, 0.172),
    (0.450, 0.142),
    (0.330, 0.165),
    (0.200, 0.170),
    (0.060, 0.140),
    (-0.040, 0.100),
    (-0.110, 0.068), // lower jaw
];

/// Draws a bass facing left with its eye at `eye`, `length` px long, with a pale rim so that it stands
/// out on any shade of water.
pub fn fish(scene: &mut Scene, eye: Point, length: f64, colour: Colour) {
    let place = |p: &Point| (eye.0 + p.0 * length, eye.1 + p.1 * length);
    let body: Vec<Point> = smooth(&BODY, true, 6).iter().map(place).collect();
    let rim = Stroke::solid(PAPER, (0.05 * length).clamp(2.5, 5.0));
    scene.polygon(body.clone(), None, Some(rim));
    scene.polygon(body, Some(colour.into()), None);
    let line_px = (0.018 * length).max(1.0);
    let light = Stroke::solid(colour.towards(PAPER, 0.62), line_px);
    let stripe = [(0.10, 0.0), (0.25, -0.014), (0.45, -0.006), (0.66, 0.006)];
    scene.polyline(
        smooth(&stripe, false, 6).iter().map(place).collect(),
        Stroke { width: 2.0 * line_px, ..light },
    );
    let gill = [(0.075, -0.075), (0.105, -0.01), (0.098, 0.06), (0.06, 0.108)];
    scene.polyline(smooth(&gill, false, 6).iter().map(place).collect(), light);
    let mouth = [(-0.132, 0.036), (-0.07, 0.052), (-0.015, 0.066)];
    scene.polyline(smooth(&mouth, false, 6).iter().map(place).collect(), light);
    let fin = [(0.14, 0.055), (0.215, 0.05), (0.255, 0.085), (0.20, 0.115)];
    let fin_fill = Fill { colour: colour.towards(PAPER, 0.35), opacity: 1.0 };
    scene.polygon(smooth(&fin, true, 6).iter().map(place).collect(), Some(fin_fill), None);
    scene.circle(eye, 0.027 * length, Some(PAPER.into()), None);
    scene.circle(eye, 0.015 * length, Some(INK.into()), None);
}

/// Draws a Secchi disk seen a little from above, `half_px` from its middle to its edge.
pub fn secchi_disk(scene: &mut Scene, at: Point, half_px: f64) {
    let flat = 0.34;
    let rim = |from: f64, to: f64| -> Vec<Point> {
        (0..=12)
            .map(|i| {
                let a = (from + (to - from) * f64::from(i) / 12.0) * std::f64::consts::TAU;
                (at.0 + half_px * a.cos(), at.1 + flat * half_px * a.sin())
            })
            .collect()
    };
    let whole: Vec<Point> = [rim(0.0, 0.5), rim(0.5, 1.0)].concat();
    scene.polygon(whole.clone(), Some(PAPER.into()), None);
    for quarter in [0.0, 0.5] {
        let mut piece = rim(quarter, quarter + 0.25);
        piece.push(at);
        scene.polygon(piece, Some(INK.into()), None);
    }
    scene.polygon(whole, None, Some(Stroke::solid(INK, 1.2)));
}

/// A triangle pointing up (or down), centred on `at`.
pub fn triangle(at: Point, half: f64, up: bool) -> Vec<Point> {
    let tip = if up { -half } else { half };
    vec![
        (at.0, at.1 + 1.15 * tip),
        (at.0 + 1.1 * half, at.1 - 0.75 * tip),
        (at.0 - 1.1 * half, at.1 - 0.75 * tip),
    ]
}

/// Draws a small slender bait facing right, towards the rod, with a pale rim.
pub fn minnow(scene: &mut Scene, at: Point, length: f64, colour: Colour) {
    let outline = [(0.5, 0.0), (0.25, -0.14), (-0.1, -0.13), (-0.5, 0.0), (-0.1, 0.13), (0.25, 0.14)];
    let place = |p: &Point| (at.0 + p.0 * length, at.1 + p.1 * length);
    let body: Vec<Point> = smooth(&outline, true, 6).iter().map(place).collect();
    let lip: Vec<Point> = [(0.40, 0.04), (0.62, 0.24), (0.32, 0.12)].iter().map(place).collect();
    for shape in [&lip, &body] {
        scene.polygon(shape.clone(), None, Some(Stroke::solid(PAPER, 3.4)));
    }
    scene.polygon(lip, Some(colour.towards(PAPER, 0.4).into()), None);
    scene.polygon(body, Some(colour.into()), None);
    scene.circle(place(&(0.33, -0.02)), 0.05 * length, Some(PAPER.into()), None);
}
