//! What an assumption file holds beside parameters: tints, finishes, prey, lines, proportions, dates.

use super::parameter::Grade;
use serde::{Deserialize, Serialize};

/// Temperature bands of the phases of one species, in degrees Celsius.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhaseBands {
    /// Winter.
    pub winter: [f64; 2],
    /// Warming water before the spawn.
    pub prespawn: [f64; 2],
    /// Spawn.
    pub spawn: [f64; 2],
    /// After the spawn.
    pub postspawn: [f64; 2],
    /// Summer.
    pub summer: [f64; 2],
    /// Cooling water.
    pub fall: [f64; 2],
    /// How well the bands are known.
    pub grade: Grade,
    /// Where they come from.
    pub source: String,
}

/// A colour of water: how Secchi depth and K belong together, and the recipe of its colour.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TintModel {
    /// Name.
    pub name: String,
    /// In words.
    pub about: String,
    /// K times Secchi depth: low, default, high.
    pub gamma_k: [f64; 3],
    /// ln of the Secchi depth in m at 1 NTU, and its slope by ln NTU.
    pub turbidity_law: [f64; 2],
    /// How well that law is known.
    pub turbidity_grade: Grade,
    /// Where it comes from.
    pub turbidity_source: String,
    /// Absorption of dissolved matter at 440 nm, per metre.
    pub dissolved_440: f64,
    /// Slope of that absorption, per nm.
    pub slope_per_nm: f64,
    /// Chlorophyll, mg per cubic metre.
    pub chlorophyll: f64,
    /// Absorption of other particles at 440 nm, per metre.
    pub particles_440: f64,
    /// Slope of that absorption, per nm.
    pub particles_slope_per_nm: f64,
    /// Scattering at 550 nm, per metre.
    pub scattering_550: f64,
    /// Power with which scattering falls with wavelength.
    pub scattering_power: f64,
    /// How well `gamma_k` is known.
    pub grade: Grade,
    /// Where `gamma_k` comes from.
    pub source: String,
    /// How well the recipe of the colour is known.
    pub recipe_grade: Grade,
    /// Where the recipe comes from.
    pub recipe_source: String,
}

/// A finish with the ranges of its shares of light.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FinishRange {
    /// Name.
    pub name: String,
    /// In words.
    pub about: String,
    /// Scattered share in the green cone band: low, default, high.
    pub diffuse_green: [f64; 3],
    /// Scattered share in the red cone band.
    pub diffuse_red: [f64; 3],
    /// Mirrored share.
    pub specular: [f64; 3],
    /// Share let through.
    pub transmittance: [f64; 3],
    /// How well it is known.
    pub grade: Grade,
    /// Where it comes from.
    pub source: String,
}

/// A kind of live prey.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ForageModel {
    /// Name.
    pub name: String,
    /// In words.
    pub about: String,
    /// Usual length, as written.
    pub usual_length: String,
    /// Body height over length.
    pub height_share: f64,
    /// Body width over length.
    pub width_share: f64,
    /// Scattered share in the green cone band: low, default, high.
    pub diffuse_green: [f64; 3],
    /// Scattered share in the red cone band.
    pub diffuse_red: [f64; 3],
    /// Mirrored share.
    pub specular: [f64; 3],
    /// Share let through.
    pub transmittance: [f64; 3],
    /// How well it is known.
    pub grade: Grade,
    /// Where it comes from.
    pub source: String,
}

/// Proportions of a bait's body and lip by its length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shape {
    /// Height of a body 100 mm long, m.
    pub height_at_100mm_m: f64,
    /// Width of a body 100 mm long, m.
    pub width_at_100mm_m: f64,
    /// Power of length with which both grow.
    pub girth_power: f64,
    /// Length from which a bait has three treble hooks instead of two, m.
    pub three_trebles_from_m: f64,
    /// Area of a standard lip over length squared.
    pub standard_lip_area_share: f64,
    /// Angle of a standard lip to the flow, degrees.
    pub standard_lip_incidence_deg: f64,
    /// Area of a deep lip over length squared.
    pub deep_lip_area_share: f64,
    /// Angle of a deep lip to the flow, degrees.
    pub deep_lip_incidence_deg: f64,
    /// Density of the water in which it hangs still, kg per cubic metre.
    pub neutral_in_kg_m3: f64,
    /// How well the proportions are known.
    pub grade: Grade,
    /// Where they come from.
    pub source: String,
}

/// The dates that settle what water temperature leaves open.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Calendar {
    /// Day of the year on which water is coldest, northern hemisphere.
    pub coldest_day: f64,
    /// Day of the year on which water is warmest, northern hemisphere.
    pub warmest_day: f64,
    /// How much later the spawn peaks per degree of latitude, days.
    pub spawn_peak_days_per_degree: f64,
    /// Day of the peak that the line gives at the equator.
    pub spawn_peak_at_equator: f64,
    /// Latitudes between which the line is used.
    pub spawn_peak_latitudes: [f64; 2],
    /// How long the weeks after the spawn last, days.
    pub post_spawn_days: f64,
    /// How well it is known.
    pub grade: Grade,
    /// Where it comes from.
    pub source: String,
}

/// A line material.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LineModel {
    /// Name.
    pub name: String,
    /// Breaking stress on the gross section, Pa: low, default, high.
    pub strength_pa: [f64; 3],
    /// Density, kg per cubic metre: low, default, high.
    pub density_kg_m3: [f64; 3],
    /// How well it is known.
    pub grade: Grade,
    /// Where it comes from.
    pub source: String,
}

/// Which baits the catalogue holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CatalogueModel {
    /// Lengths in millimetres.
    pub lengths_mm: Vec<u32>,
    /// Lip names.
    pub lips: Vec<String>,
    /// Sounds.
    pub sounds: Vec<String>,
    /// Finish of a bait when none is named.
    pub finish: String,
}

/// A set of parameters that are drawn against each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Product {
    /// Name.
    pub name: String,
    /// Correlation of the normal scores of its members.
    pub correlation: f64,
}
