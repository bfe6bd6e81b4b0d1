//! How a bait, or live prey, looks against the water behind it: contrast by direction, over the roll of a twitch.

use crate::bait::finish::Finish;
use crate::maths::{asin, cos, fast, ln, sin, sqrt};
use crate::water::radiance::Field;
use std::f64::consts::PI;

/// Light that a target stands in, at a depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glare {
    /// Direct sun on a surface that faces it, over the downward illuminance.
    pub beam_over_down: f64,
    /// Share of the time that a facet throws it at the fish, root mean square over the time, ripple included.
    pub strength: f64,
}

/// Body seen from the side: what the optics needs of a bait or of prey.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    /// Length, m.
    pub length_m: f64,
    /// Height, m.
    pub height_m: f64,
    /// Width, m.
    pub width_m: f64,
    /// Product of the two radii of curvature of the flank, square metres.
    pub curvature_m2: f64,
}

impl Outline {
    /// Visible area from a direction of the given elevation: `0.75 L sqrt((H cos)^2 + (W sin)^2)`.
    pub fn silhouette_m2(&self, sin_elevation: f64) -> f64 {
        let side = self.height_m * self.height_m * (1.0 - sin_elevation * sin_elevation).max(0.0);
        let below = self.width_m * sin_elevation;
        0.75 * self.length_m * sqrt(side + below * below)
    }

    /// Share of the visible area that is flank; the rest is belly, or back from above.
    pub fn flank_share(&self, sin_elevation: f64) -> f64 {
        let flank = self.height_m * sqrt((1.0 - sin_elevation * sin_elevation).max(0.0));
        flank / (flank + self.width_m * sin_elevation.abs()).max(1e-12)
    }
}

/// What the eye gets from one direction, root mean squares over the roll, without sun glint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Weber contrast, green and red band.
    pub contrast: [f64; 2],
    /// Radiance over that of the background, green and red band.
    pub relative: [f64; 2],
}

/// Irradiance over pi of a surface whose normal has the elevation of sine `s`, relative to the horizontal
/// radiance: the wall's value turning smoothly to that of a level surface, `side cos^2 + level sin^2`.
fn irradiance(field: &Field, s: f64) -> f64 {
    let level = if s > 0.0 { field.down } else { field.up };
    field.side * (1.0 - s * s) + level * s * s
}

/// Radiance from a direction of any elevation, beyond the zenith or nadir too.
fn radiance(field: &Field, elevation_rad: f64) -> f64 {
    let folded = if elevation_rad > PI / 2.0 {
        PI - elevation_rad
    } else if elevation_rad < -PI / 2.0 {
        -PI - elevation_rad
    } else {
        elevation_rad
    };
    field.radiance(folded)
}

/// Contrast of a finish seen along a line of sight of elevation asin(`sin_elevation`), up positive.
///
/// The body is a flank (a vertical wall that rolls) and a belly or back (level, rolling too), weighted by the
/// areas seen. Each scatters the light that falls on it, mirrors the direction that its tilt turns to (a wall
/// at elevation `phi + 2 roll`, a level face at `-phi + 2 roll`) and lets the background through. `rolls` are
/// Gauss-Hermite nodes scaled to the roll's standard deviation, with weights that sum to 1.
pub fn seen(
    finish: &Finish,
    outline: &Outline,
    field: &Field,
    rolls: &[(f64, f64)],
    sin_elevation: f64,
) -> Seen {
    let elevation = asin(sin_elevation.clamp(-1.0, 1.0));
    let background = radiance(field, elevation);
    let flank = outline.flank_share(sin_elevation);
    let facing = if sin_elevation > 0.0 { -1.0 } else { 1.0 };
    let mut seen = Seen { contrast: [0.0; 2], relative: [0.0; 2] };
    for &(roll, weight) in rolls {
        let (s, c) = (sin(roll), cos(roll));
        let lit = flank * irradiance(field, s) + (1.0 - flank) * irradiance(field, facing * c);
        let mirrored = flank * radiance(field, elevation + 2.0 * roll)
            + (1.0 - flank) * radiance(field, -elevation + 2.0 * roll);
        for band in 0..2 {
            let relative =
                (finish.diffuse[band] * lit + finish.specular * mirrored) / background + finish.transmittance;
            let contrast = relative - 1.0;
            seen.contrast[band] += weight * contrast * contrast;
            seen.relative[band] += weight * relative * relative;
        }
    }
    Seen { contrast: seen.contrast.map(sqrt), relative: seen.relative.map(sqrt) }
}

/// Sun glint off a convex mirror seen against the background, root mean square over time, as contrast times area
/// over `rho R1 R2` (reflectance, radii of curvature): `strength E_beam / (4 L)`.
///
/// A convex mirror throws the same intensity whatever its attitude (geometrical optics).
pub fn glint_of_mirror(field: &Field, glare: Glare, sin_elevation: f64) -> f64 {
    let background = radiance(field, asin(sin_elevation.clamp(-1.0, 1.0)));
    // E_beam / L = (E_beam/E_down) pi down / relative radiance.
    let beam_over_radiance = glare.beam_over_down * PI * field.down / background;
    glare.strength * beam_over_radiance / 4.0
}

/// What a body of that finish makes of [`glint_of_mirror`]: `rho R1 R2`, square metres.
fn mirror_m2(finish: &Finish, outline: &Outline) -> f64 {
    finish.specular * outline.curvature_m2
}

/// Directions in the table, equal steps in the sine of the elevation.
pub const DIRECTIONS: usize = 33;
/// Depths in the table.
pub const DEPTHS: usize = 3;
/// Values per node, padded to a whole vector.
pub const VALUES: usize = 8;

/// The look of one bait in one world, by direction of sight and depth of the bait.
///
/// A node holds, for the green and the red band, `ln(k/2) + ln(|C| A E')/2` (the small-target law without the
/// light at the eye) and `ln|C|` without glint, then the difference in look from the prey.
#[derive(Debug, Clone, PartialEq)]
pub struct LookTable {
    per_depth: f64,
    nodes: Vec<[f64; VALUES]>,
}

/// What it takes to make a look table.
#[derive(Debug)]
pub struct Viewing<'a> {
    /// Radiance field.
    pub field: &'a Field,
    /// Attenuation of the beam, green and red band, per metre.
    pub c_per_m: [f64; 2],
    /// Attenuation of daylight, green and red band, per metre.
    pub k_per_m: [f64; 2],
    /// Direct sun at the three depths, which are of this bait alone: what else is in the box must not matter.
    pub glare: [Glare; DEPTHS],
    /// Deepest depth of the table, m.
    pub deepest_m: f64,
    /// Sensitivity of the eye, E'.
    pub sensitivity: f64,
    /// Veil below which brightness no longer differs.
    pub veil: f64,
    /// The prey, by direction.
    pub prey: &'a PreyLook,
}

/// The look of live prey by direction: relative radiance, and what it makes of sun glint.
#[derive(Debug, Clone, PartialEq)]
pub struct PreyLook {
    relative: Vec<[f64; 2]>,
    mirror_over_area: Vec<f64>,
}

/// Sine of the elevation at a node of the table.
pub fn sine_at(direction: usize) -> f64 {
    -1.0 + 2.0 * direction as f64 / (DIRECTIONS - 1) as f64
}

fn with_glint(relative: f64, glint_over_area: f64) -> f64 {
    sqrt(relative * relative + glint_over_area * glint_over_area)
}

impl PreyLook {
    /// Works out how the prey looks from every direction.
    pub fn new(finish: &Finish, outline: &Outline, field: &Field, rolls: &[(f64, f64)]) -> Self {
        let sines: Vec<f64> = (0..DIRECTIONS).map(sine_at).collect();
        let mirror = mirror_m2(finish, outline);
        Self {
            relative: sines.iter().map(|&s| seen(finish, outline, field, rolls, s).relative).collect(),
            mirror_over_area: sines.iter().map(|&s| mirror / outline.silhouette_m2(s)).collect(),
        }
    }
}

impl LookTable {
    /// Works out how a bait looks from every direction at every depth.
    pub fn new(finish: &Finish, outline: &Outline, rolls: &[(f64, f64)], viewing: &Viewing) -> Self {
        let mut nodes = Vec::with_capacity(DIRECTIONS * DEPTHS);
        let ln_sensitivity = ln(viewing.sensitivity);
        let mirror = mirror_m2(finish, outline);
        for direction in 0..DIRECTIONS {
            let s = sine_at(direction);
            let bait = seen(finish, outline, viewing.field, rolls, s);
            let area = outline.silhouette_m2(s);
            let k = [0, 1].map(|b| (viewing.c_per_m[b] - viewing.k_per_m[b] * s).max(LEAST_K));
            for &glare in &viewing.glare {
                let of_mirror = glint_of_mirror(viewing.field, glare, s);
                let glint = of_mirror * mirror;
                let prey_glint = of_mirror * viewing.prey.mirror_over_area[direction];
                let prey = viewing.prey.relative[direction].map(|r| with_glint(r, prey_glint));
                let mut node = [0.0; VALUES];
                for band in 0..2 {
                    let plain = bait.contrast[band] * area;
                    let strength = sqrt(plain * plain + glint * glint);
                    node[band] = fast::ln(0.5 * k[band]) + 0.5 * (fast::ln(strength) + ln_sensitivity);
                    node[2 + band] = fast::ln(bait.contrast[band]);
                    let brightness = with_glint(bait.relative[band], glint / area);
                    let ratio = (brightness + viewing.veil) / (prey[band] + viewing.veil);
                    node[4] += 0.5 * fast::ln(ratio).abs();
                }
                nodes.push(node);
            }
        }
        Self { per_depth: (DEPTHS - 1) as f64 / viewing.deepest_m.max(1e-3), nodes }
    }

    /// The node values at a sine of elevation (-1..1) and a depth of the bait (m), bilinear.
    #[inline(always)]
    pub fn at(&self, sin_elevation: f64, depth_m: f64) -> [f64; VALUES] {
        let x = ((sin_elevation + 1.0) * (0.5 * (DIRECTIONS - 1) as f64)).clamp(0.0, (DIRECTIONS - 1) as f64);
        let y = (depth_m * self.per_depth).clamp(0.0, (DEPTHS - 1) as f64);
        let (i, j) = ((x as usize).min(DIRECTIONS - 2), (y as usize).min(DEPTHS - 2));
        let (fx, fy) = (x - i as f64, y - j as f64);
        let first = i * DEPTHS + j;
        let (a, b) = (&self.nodes[first], &self.nodes[first + 1]);
        let (c, d) = (&self.nodes[first + DEPTHS], &self.nodes[first + DEPTHS + 1]);
        let (wa, wb) = ((1.0 - fx) * (1.0 - fy), (1.0 - fx) * fy);
        let (wc, wd) = (fx * (1.0 - fy), fx * fy);
        let mut out = [0.0; VALUES];
        for v in 0..VALUES {
            out[v] = wa * a[v] + wb * b[v] + wc * c[v] + wd * d[v];
        }
        out
    }
}

/// Least attenuation of contrast along a line of sight, per metre: c exceeds K, but rounding must not divide by 0.
pub const LEAST_K: f64 = 1e-4;
