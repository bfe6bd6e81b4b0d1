//! What a scenario may refer to by name: bodies of baits, finishes, forage, line materials.
//!
//! Plain data; the numbers come from the model files.

use crate::bait::GRAVITY_M_S2;
use crate::bait::line::diameter_from_strength_m;
use crate::maths::pow;

use super::types::{Bait, Lip};

/// Everything that scenario files may name.
#[derive(Debug, Clone, PartialEq)]
pub struct Catalogue {
    /// Bait bodies, each in its default finish; the names are "110 mm, deep lip, rattling".
    pub baits: Vec<Bait>,
    /// Names of finishes.
    pub finishes: Vec<String>,
    /// Kinds of forage with the length in metres to assume when a scenario gives none.
    pub forages: Vec<(String, f64)>,
    /// Line materials.
    pub lines: Vec<LineMaterial>,
    /// How the proportions of a bait follow from its length and lip.
    pub shape: Shape,
    /// Temperature from which largemouth and smallmouth feed no more.
    pub too_warm_c: [f64; 2],
}

/// What a line is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct LineMaterial {
    /// Its name in scenario files.
    pub name: String,
    /// Breaking force per gross cross-section.
    pub strength_pa: f64,
    /// Density of the line.
    pub density_kg_m3: f64,
}

impl LineMaterial {
    /// The diameter of a round line that breaks at a given force: d = sqrt(4 F / (pi sigma)).
    ///
    /// F in newtons and positive, sigma the strength on the gross section in pascals; metres. Says
    /// nothing of knots, wear or optimistic labels.
    ///
    /// ```
    /// use callup::scenario::catalogue::LineMaterial;
    /// let nylon = LineMaterial { name: "nylon".into(), strength_pa: 7.2e8, density_kg_m3: 1140.0 };
    /// // 8 lbf = 35.5858 N at 720 MPa: 0.250857 mm.
    /// assert!((nylon.diameter_m(35.5858) - 0.250857e-3).abs() < 1e-9);
    /// ```
    pub fn diameter_m(&self, break_n: f64) -> f64 {
        diameter_from_strength_m(break_n, self.strength_pa)
    }
}

/// The proportions of a slender suspending bait as functions of its length L and its lip.
///
/// Height and width follow (L / 0.1 m)^exponent, the lip's area L^2; the body is a spheroid with its
/// volume pi/6 L h b, and weighs what it displaces less its buoyancy.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Height of a body 100 mm long.
    pub height_at_100mm_m: f64,
    /// Width of a body 100 mm long.
    pub width_at_100mm_m: f64,
    /// How height and width grow with length; 1 keeps the proportions.
    pub girth_exponent: f64,
    /// Lip area over length squared: standard lip, deep lip.
    pub lip_area_share: [f64; 2],
    /// Angle of the lip to the direction of travel in degrees: standard lip, deep lip.
    pub lip_incidence_deg: [f64; 2],
    /// The length in metres from which a bait carries three trebles; two below it.
    pub three_trebles_from_m: f64,
    /// Density of the water that the bait hangs still in.
    pub water_density_kg_m3: f64,
}

/// What follows from the length and the lip of a bait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Form {
    /// Greatest height of the body.
    pub height_m: f64,
    /// Greatest width of the body.
    pub width_m: f64,
    /// Area of the lip's face.
    pub lip_area_m2: f64,
    /// Angle of the lip to the direction of travel.
    pub lip_incidence_deg: f64,
    /// Number of treble hooks.
    pub trebles: u32,
}

impl Shape {
    /// The form of a bait of this length and lip.
    pub fn form(&self, length_m: f64, lip: Lip) -> Form {
        let girth = pow(length_m / 0.1, self.girth_exponent);
        let [standard, deep] = self.lip_area_share;
        let [standard_deg, deep_deg] = self.lip_incidence_deg;
        let (share, incidence) = match lip {
            Lip::Standard => (standard, standard_deg),
            Lip::Deep => (deep, deep_deg),
        };
        Form {
            height_m: self.height_at_100mm_m * girth,
            width_m: self.width_at_100mm_m * girth,
            lip_area_m2: share * length_m * length_m,
            lip_incidence_deg: incidence,
            trebles: if length_m >= self.three_trebles_from_m { 3 } else { 2 },
        }
    }

    /// The mass of a spheroid body that has this net buoyancy: m = rho pi/6 L h b - B/g.
    ///
    /// Lengths in metres, B in newtons (positive rises); kilograms.
    pub fn mass_kg(&self, length_m: f64, height_m: f64, width_m: f64, buoyancy_n: f64) -> f64 {
        let volume_m3 = std::f64::consts::PI / 6.0 * length_m * height_m * width_m;
        self.water_density_kg_m3 * volume_m3 - buoyancy_n / GRAVITY_M_S2
    }
}

impl Catalogue {
    /// The body of this name, without regard to case and spacing.
    pub fn bait(&self, name: &str) -> Option<&Bait> {
        self.baits.iter().find(|bait| same_name(&bait.name, name))
    }

    /// The line material of this name.
    pub fn line(&self, name: &str) -> Option<&LineMaterial> {
        self.lines.iter().find(|line| same_name(&line.name, name))
    }

    /// The kind of forage of this name and its usual length in metres.
    pub fn forage(&self, name: &str) -> Option<&(String, f64)> {
        self.forages.iter().find(|(kind, _)| same_name(kind, name))
    }

    /// The finish of this name.
    pub fn finish(&self, name: &str) -> Option<&str> {
        self.finishes.iter().find(|finish| same_name(finish, name)).map(String::as_str)
    }
}

/// Whether two names are the same but for case, spacing, and spaces around commas.
pub(crate) fn same_name(a: &str, b: &str) -> bool {
    let (mut left, mut right) = (a.split(','), b.split(','));
    loop {
        match (left.next(), right.next()) {
            (None, None) => return true,
            (Some(a), Some(b)) if same_words(a, b) => {}
            _ => return false,
        }
    }
}

fn same_words(a: &str, b: &str) -> bool {
    let (mut left, mut right) = (a.split_whitespace(), b.split_whitespace());
    loop {
        match (left.next(), right.next()) {
            (None, None) => return true,
            (Some(a), Some(b)) if a.eq_ignore_ascii_case(b) => {}
            _ => return false,
        }
    }
}
