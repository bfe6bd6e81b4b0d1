//! How a bait, or live prey, looks against the water behind it: contrast by direction, over the roll of a twitch.

use crate::bait::finish::Finish;
use crate::maths::{asin, cos, fast, ln, sin, sqrt};
use crate::water::radiance::Field;
use std::f64::consts::PI;
use std::sync::LazyLock;

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
    /// Side view as a share of length times height.
    pub silhouette_share: f64,
}

impl Outline {
    /// Visible area from a direction of the given elevation: `share L sqrt((H cos)^2 + (W sin)^2)`, an
    /// elliptical girth seen from that side.
    pub fn silhouette_m2(&self, sin_elevation: f64) -> f64 {
        let side = self.height_m * self.height_m * (1.0 - sin_elevation * sin_elevation).max(0.0);
        let below = self.width_m * sin_elevation;
        self.silhouette_share * self.length_m * sqrt(side + below * below)
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

/// A tilt of the body, with its weight in the mean over the roll.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Tilt {
    weight: f64,
    /// What a wall tilted so is lit by and mirrors, over the background's radiance.
    wall: [f64; 2],
    /// The same of a level face.
    level: [f64; 2],
}

/// What a body at a given roll stands in, for every direction of the table: the same for all baits of a world.
#[derive(Debug, Clone, PartialEq)]
pub struct Surround {
    /// Radiance behind the target, over the horizontal, by direction.
    background: Vec<f64>,
    tilts: Vec<Vec<Tilt>>,
    /// Downward irradiance over pi times the horizontal radiance.
    down: f64,
}

impl Surround {
    /// Works it out. `rolls` are angles in radians (Gauss-Hermite nodes scaled to the roll's standard deviation)
    /// with weights that sum to 1.
    ///
    /// A wall (the flank) at elevation `phi` mirrors the direction `phi + 2 roll`, a level face (belly or back)
    /// `-phi + 2 roll`; each scatters the light that falls on it at its tilt.
    pub fn new(field: &Field, rolls: &[(f64, f64)]) -> Self {
        let turned: Vec<(f64, f64, f64, f64)> = rolls.iter().map(|&(a, w)| (a, w, sin(a), cos(a))).collect();
        let background: Vec<f64> = DIRECTION.iter().map(|d| radiance(field, d.elevation)).collect();
        let tilts = DIRECTION
            .iter()
            .zip(&background)
            .map(|(d, behind)| {
                // From below a fish sees the belly, from above the back.
                let facing = if d.sine > 0.0 { -1.0 } else { 1.0 };
                let tilt = |&(roll, weight, s, c): &(f64, f64, f64, f64)| Tilt {
                    weight,
                    wall: [irradiance(field, s), radiance(field, d.elevation + 2.0 * roll)]
                        .map(|v| v / behind),
                    level: [irradiance(field, facing * c), radiance(field, -d.elevation + 2.0 * roll)]
                        .map(|v| v / behind),
                };
                turned.iter().map(tilt).collect()
            })
            .collect();
        Self { background, tilts, down: field.down }
    }

    /// How a finish looks from direction number `direction`, root mean squares over the roll, without sun glint.
    ///
    /// Flank and belly (or back) are weighted by the areas seen; what the finish lets through is the background.
    pub fn seen(&self, finish: &Finish, outline: &Outline, direction: usize) -> Seen {
        let flank = outline.flank_share(DIRECTION[direction].sine);
        let mut seen = Seen { contrast: [0.0; 2], relative: [0.0; 2] };
        for tilt in &self.tilts[direction] {
            let [lit, mirrored] = [0, 1].map(|v| flank * tilt.wall[v] + (1.0 - flank) * tilt.level[v]);
            for band in 0..2 {
                let relative = finish.diffuse[band] * lit + finish.specular * mirrored + finish.transmittance;
                let contrast = relative - 1.0;
                seen.contrast[band] += tilt.weight * contrast * contrast;
                seen.relative[band] += tilt.weight * relative * relative;
            }
        }
        Seen { contrast: seen.contrast.map(sqrt), relative: seen.relative.map(sqrt) }
    }

    /// Sun glint off a convex mirror against the background, root mean square over time, as contrast times area
    /// over `rho R1 R2` (reflectance, radii of curvature): `strength E_beam / (4 L)`. A convex mirror throws the
    /// same intensity whatever its attitude (geometrical optics).
    pub fn glint_of_mirror(&self, glare: Glare, direction: usize) -> f64 {
        // E_beam / L = (E_beam/E_down) pi down / relative radiance.
        let beam_over_radiance = glare.beam_over_down * PI * self.down / self.background[direction];
        glare.strength * beam_over_radiance / 4.0
    }
}

/// What a body of that finish makes of [`Surround::glint_of_mirror`]: `rho R1 R2`, square metres.
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
/// A node holds, for the green and the red band, `ln(k/2) + ln(|C| A E')/2` with the sun's glint (the small-target
/// law without the light at the eye) and `ln|C|` of the body without it; then the difference in look from the prey,
/// glint included; then, for both bands, `ln(k/2) + ln(G E')/2` of the glint alone: a target so small and bright
/// that its contrast never sets the limit.
#[derive(Debug, Clone, PartialEq)]
pub struct LookTable {
    per_depth: f64,
    nodes: Vec<[f64; VALUES]>,
}

/// A direction of the table.
#[derive(Debug, Clone, Copy)]
struct Direction {
    sine: f64,
    elevation: f64,
}

/// Directions at equal steps of the sine.
static DIRECTION: LazyLock<Vec<Direction>> = LazyLock::new(|| {
    (0..DIRECTIONS)
        .map(|i| {
            let sine = -1.0 + 2.0 * i as f64 / (DIRECTIONS - 1) as f64;
            Direction { sine, elevation: asin(sine) }
        })
        .collect()
});

/// What it takes to make a look table.
#[derive(Debug)]
pub struct Viewing<'a> {
    /// What the bait stands in.
    pub surround: &'a Surround,
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

fn with_glint(relative: f64, glint_over_area: f64) -> f64 {
    sqrt(relative * relative + glint_over_area * glint_over_area)
}

impl PreyLook {
    /// Works out how the prey looks from every direction.
    pub fn new(finish: &Finish, outline: &Outline, surround: &Surround) -> Self {
        let mirror = mirror_m2(finish, outline);
        Self {
            relative: (0..DIRECTIONS).map(|i| surround.seen(finish, outline, i).relative).collect(),
            mirror_over_area: DIRECTION.iter().map(|d| mirror / outline.silhouette_m2(d.sine)).collect(),
        }
    }
}

impl LookTable {
    /// Works out how a bait looks from every direction at every depth.
    pub fn new(finish: &Finish, outline: &Outline, viewing: &Viewing) -> Self {
        let mut nodes = Vec::with_capacity(DIRECTIONS * DEPTHS);
        let ln_sensitivity = ln(viewing.sensitivity);
        let mirror = mirror_m2(finish, outline);
        for (i, direction) in DIRECTION.iter().enumerate() {
            let bait = viewing.surround.seen(finish, outline, i);
            let area = outline.silhouette_m2(direction.sine);
            let ln_k = [0, 1].map(|b| {
                let k = (viewing.c_per_m[b] - viewing.k_per_m[b] * direction.sine).max(LEAST_K);
                fast::ln(0.5 * k) + 0.5 * ln_sensitivity
            });
            let ln_contrast = bait.contrast.map(fast::ln);
            for &glare in &viewing.glare {
                let of_mirror = viewing.surround.glint_of_mirror(glare, i);
                let glint = of_mirror * mirror;
                let ln_glint = fast::ln(glint);
                let prey_glint = of_mirror * viewing.prey.mirror_over_area[i];
                let prey = viewing.prey.relative[i].map(|r| with_glint(r, prey_glint));
                let mut node = [0.0; VALUES];
                for band in 0..2 {
                    let plain = bait.contrast[band] * area;
                    // ln of the square root of the root mean square strength.
                    node[band] = ln_k[band] + 0.25 * fast::ln(plain * plain + glint * glint);
                    node[2 + band] = ln_contrast[band];
                    node[5 + band] = ln_k[band] + 0.5 * ln_glint;
                    let brightness = with_glint(bait.relative[band], glint / area);
                    let ratio = (brightness + viewing.veil) / (prey[band] + viewing.veil);
                    node[4] += 0.5 * fast::ln(ratio).abs();
                }
                nodes.push(node);
            }
        }
        Self { per_depth: (DEPTHS - 1) as f64 / viewing.deepest_m.max(1e-3), nodes }
    }

    /// A look that is the same from everywhere.
    pub fn even(node: [f64; VALUES]) -> Self {
        Self { per_depth: 0.0, nodes: vec![node; DIRECTIONS * DEPTHS] }
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
