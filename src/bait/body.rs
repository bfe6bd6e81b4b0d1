//! The body of a bait: sizes, and the few areas through which water and eyes know it.

use super::drag::plate_normal_force;
use super::refusal::{Refusal, within};
use crate::labels::labelled;
use crate::maths::{cos, pow, sin};
use serde::Serialize;
use std::f64::consts::PI;

/// Whether the bait has loose balls inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sound {
    /// Nothing loose inside.
    Silent,
    /// Balls that knock on the hull.
    Rattling,
}

labelled!(Sound { Silent => "silent", Rattling => "rattling" });

/// How large a lip the bait carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lip {
    /// A small, steep lip: runs within a few metres of the surface.
    Standard,
    /// A long lip at a flatter angle: runs deeper at the same length.
    Deep,
}

labelled!(Lip { Standard => "standard", Deep => "deep" });

/// Sizes of one bait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Length without lip and hooks, m.
    pub length_m: f64,
    /// Greatest height of the body, m.
    pub height_m: f64,
    /// Greatest width of the body, m.
    pub width_m: f64,
    /// Mass with hooks, kg.
    pub mass_kg: f64,
    /// Number of treble hooks.
    pub trebles: u32,
    /// Area of the lip, m2.
    pub lip_area_m2: f64,
    /// Angle between lip and flow when running, degrees.
    pub lip_incidence_deg: f64,
    /// Buoyancy less weight, N: 0 for a suspending bait, positive for one that floats.
    pub buoyancy_n: f64,
}

/// What the body's shape contributes, the same for all baits of the kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BodyCoefficients {
    /// Drag coefficient of the body on its frontal area.
    pub body_drag: f64,
    /// Drag area of one treble hook, m2.
    pub treble_drag_area_m2: f64,
}

/// What the line feels of a bait: all that the running depth depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pull {
    /// Drag divided by dynamic pressure, m2.
    pub drag_area_m2: f64,
    /// Downward lift divided by dynamic pressure, m2.
    pub downlift_area_m2: f64,
    /// Buoyancy less weight, N.
    pub buoyancy_n: f64,
}

impl Body {
    /// Drag area `CD (pi/4) h b + n_treble A_treble + CN sin(a) A_lip`, m2.
    pub fn drag_area_m2(&self, c: &BodyCoefficients) -> f64 {
        let lip = plate_normal_force(self.lip_incidence_deg) * sin(self.lip_incidence_deg.to_radians());
        c.body_drag * 0.25 * PI * self.height_m * self.width_m
            + f64::from(self.trebles) * c.treble_drag_area_m2
            + lip * self.lip_area_m2
    }

    /// Down-lift area `CN cos(a) A_lip`, m2: the lip pushes the bait down, nothing else does.
    pub fn downlift_area_m2(&self, _c: &BodyCoefficients) -> f64 {
        let a = self.lip_incidence_deg;
        plate_normal_force(a) * cos(a.to_radians()) * self.lip_area_m2
    }

    /// Drag area, down-lift area and buoyancy together.
    pub fn pull(&self, c: &BodyCoefficients) -> Pull {
        Pull {
            drag_area_m2: self.drag_area_m2(c),
            downlift_area_m2: self.downlift_area_m2(c),
            buoyancy_n: self.buoyancy_n,
        }
    }

    /// Volume, m3: that of the water whose weight is the bait's own weight plus its buoyancy.
    ///
    /// ```
    /// # use callup::bait::Body;
    /// let bait = Body { length_m: 0.09, height_m: 0.017, width_m: 0.012, mass_kg: 0.010, trebles: 2,
    ///     lip_area_m2: 1.9e-4, lip_incidence_deg: 56.0, buoyancy_n: 0.0 };
    /// // A suspending bait of 10 g displaces 10 g of water.
    /// assert!((bait.volume_m3(1000.0) - 1e-5).abs() < 1e-12);
    /// ```
    pub fn volume_m3(&self, water_density_kg_m3: f64) -> f64 {
        (self.mass_kg + self.buoyancy_n / super::GRAVITY_M_S2) / water_density_kg_m3
    }

    /// Product of the two radii of curvature, averaged over the directions a glint can be sent to, m2.
    ///
    /// A convex mirror sends sunlight out with intensity `reflectance x irradiance x R1 R2 / 4`. Over all
    /// directions of the surface normal the mean of R1 R2 is exactly surface / (4 pi), since a patch of
    /// area R1 R2 dOmega has its normal in dOmega. Surface of the ellipsoid by Thomsen's approximation,
    /// `4 pi (((ab)^p + (ac)^p + (bc)^p) / 3)^(1/p)`, p = 1.6075, within 1.1 % (from memory).
    ///
    /// ```
    /// # use callup::bait::Body;
    /// // A ball of radius 1 cm has R1 R2 = 1 cm2 everywhere.
    /// let ball = Body { length_m: 0.02, height_m: 0.02, width_m: 0.02, mass_kg: 0.004, trebles: 0,
    ///     lip_area_m2: 0.0, lip_incidence_deg: 0.0, buoyancy_n: 0.0 };
    /// assert!((ball.mean_curvature_product_m2() - 1e-4).abs() < 1e-15);
    /// ```
    pub fn mean_curvature_product_m2(&self) -> f64 {
        const P: f64 = 1.6075;
        let [a, b, c] = self.half_axes_m();
        pow((pow(a * b, P) + pow(a * c, P) + pow(b * c, P)) / 3.0, 1.0 / P)
    }

    /// Refuses a body whose sizes no bait has; the message says what to give instead.
    pub fn check(&self) -> Result<(), Refusal> {
        let size = "give the bait's real size";
        within("bait length (m)", self.length_m, 0.01, 1.0, size)?;
        within("bait height (m)", self.height_m, 0.001, 0.5, size)?;
        within("bait width (m)", self.width_m, 0.001, 0.5, size)?;
        within("bait mass (kg)", self.mass_kg, 1e-4, 2.0, "give the bait's real mass")?;
        within("lip area (m2)", self.lip_area_m2, 0.0, 0.02, "measure the lip: length times width")?;
        within(
            "lip incidence (deg)",
            self.lip_incidence_deg,
            0.0,
            90.0,
            "0 lies along the flow, 90 square to it",
        )?;
        within("buoyancy (N)", self.buoyancy_n, -1.0, 1.0, "0 for a suspending bait")
    }

    fn half_axes_m(&self) -> [f64; 3] {
        [0.5 * self.length_m, 0.5 * self.height_m, 0.5 * self.width_m]
    }
}
