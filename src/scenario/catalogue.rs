//! What a scenario may refer to by name: bodies of baits, finishes, forage, line materials.
//!
//! Plain data; the numbers come from the model files.

use crate::bait::GRAVITY_M_S2;
use crate::bait::line::diameter_from_strength_m;
use crate::maths::pow;

use super::types::{Bait, Lip, Sound};
use crate::models::Models;
pub use crate::models::{LineMaterial, Shape};

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
        let girth = pow(length_m / 0.1, self.girth_power);
        let (share, incidence) = match lip {
            Lip::Standard => (self.standard_lip_area_share, self.standard_lip_incidence_deg),
            Lip::Deep => (self.deep_lip_area_share, self.deep_lip_incidence_deg),
        };
        Form {
            height_m: self.height_at_100mm_m * girth,
            width_m: self.width_at_100mm_m * girth,
            lip_area_m2: share * length_m * length_m,
            lip_incidence_deg: incidence,
            trebles: if length_m >= self.three_trebles_from_m { 3 } else { 2 },
        }
    }

    /// A bait of this length and lip that hangs still; without a name.
    pub fn bait(&self, length_m: f64, lip: Lip, sound: Sound, finish: &str) -> Bait {
        let form = self.form(length_m, lip);
        Bait {
            name: String::new(),
            length_m,
            lip,
            sound,
            finish: finish.to_owned(),
            trebles: form.trebles,
            height_m: form.height_m,
            width_m: form.width_m,
            mass_kg: self.mass_kg(length_m, form.height_m, form.width_m, 0.0),
            lip_area_m2: form.lip_area_m2,
            lip_incidence_deg: form.lip_incidence_deg,
            buoyancy_n: 0.0,
            runs_m: None,
        }
    }

    /// The mass of a spheroid body that has this net buoyancy: m = rho pi/6 L h b - B/g.
    ///
    /// Lengths in metres, B in newtons (positive rises); kilograms.
    pub fn mass_kg(&self, length_m: f64, height_m: f64, width_m: f64, buoyancy_n: f64) -> f64 {
        let volume_m3 = std::f64::consts::PI / 6.0 * length_m * height_m * width_m;
        self.neutral_in_kg_m3 * volume_m3 - buoyancy_n / GRAVITY_M_S2
    }
}

impl Catalogue {
    /// Everything that scenario files may name, from the models.
    pub fn of(models: &Models) -> Self {
        let shape = models.shape.clone();
        let c = &models.catalogue;
        let mut baits = Vec::new();
        for &millimetres in &c.lengths_mm {
            for lip in c.lips.iter().filter_map(|l| Lip::from_label(l)) {
                for sound in c.sounds.iter().filter_map(|s| Sound::from_label(s)) {
                    baits.push(Bait {
                        name: format!("{millimetres} mm, {} lip, {}", lip.label(), sound.label()),
                        ..shape.bait(f64::from(millimetres) / 1000.0, lip, sound, &c.finish)
                    });
                }
            }
        }
        Self {
            baits,
            finishes: models.finishes.clone(),
            forages: models.forages.iter().map(|f| (f.name.clone(), f.usual_length_m)).collect(),
            lines: models.lines.clone(),
            shape,
            too_warm_c: too_warm_c(models),
        }
    }

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

/// Where the feeding curves end by default; smallmouth have two, of which the later counts.
fn too_warm_c(models: &Models) -> [f64; 2] {
    let ends = |names: &[&str]| {
        let defaults = names.iter().filter_map(|n| models.index(n)).map(|i| models.parameters[i].default);
        defaults.reduce(f64::max).unwrap_or(f64::INFINITY)
    };
    [ends(&["largemouth.feeding.end"]), ends(&["smallmouth.feeding.warm_end", "smallmouth.feeding.cool_end"])]
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
