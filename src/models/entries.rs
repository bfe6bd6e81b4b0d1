//! What the files define and no world draws, by its kind: tints, prey, lines, proportions, dates. And what is no number.

use super::assumed::named;
use super::files::ModelsError;
use serde::{Deserialize, Serialize};

named! {
    /// A colour of water: how Secchi depth and turbidity belong together, and the recipe of its colour.
    TintModel(get, tint: &str) {
        dissolved_440: "dissolved_440",
        slope_per_nm: "slope",
        chlorophyll: "chlorophyll",
        particles_440: "particles_440",
        particles_slope_per_nm: "particles_slope",
        scattering_550: "scattering_550",
        scattering_power: "scattering_power",
        ..
        /// Name.
        name: String = tint.to_owned(),
        /// ln of the Secchi depth in m at 1 NTU, and its slope by ln NTU.
        turbidity_law: [f64; 2] = [get("secchi_at_1_ntu")?, get("secchi_by_ntu")?],
    }
}

named! {
    /// A kind of live prey.
    ForageModel(get, prey: &str, usual: f64) {
        height_share: "height_share",
        width_share: "width_share",
        ..
        /// Name.
        name: String = prey.to_owned(),
        /// Length to assume where a scenario gives none.
        usual_length_m: f64 = usual,
    }
}

named! {
    /// A line material.
    LineMaterial(get, line: &str) {
        strength_pa: "strength",
        density_kg_m3: "density",
        ..
        /// Name.
        name: String = line.to_owned(),
    }
}

named! {
    /// The proportions of a slender suspending bait as functions of its length L and its lip.
    ///
    /// Height and width follow (L / 0.1 m)^power, the lip's area L^2; the body is a spheroid with its volume
    /// pi/6 L h b, and weighs what it displaces less its buoyancy.
    Shape(get) {
        height_at_100mm_m: "shape.height_at_100mm",
        width_at_100mm_m: "shape.width_at_100mm",
        girth_power: "shape.girth_power",
        three_trebles_from_m: "shape.three_trebles_from",
        standard_lip_area_share: "shape.standard_lip_area_share",
        standard_lip_incidence_deg: "shape.standard_lip_incidence",
        deep_lip_area_share: "shape.deep_lip_area_share",
        deep_lip_incidence_deg: "shape.deep_lip_incidence",
        neutral_in_kg_m3: "shape.neutral_in",
        ..
    }
}

named! {
    /// The dates that settle what water temperature leaves open.
    Calendar(get, latitudes: [f64; 2]) {
        coldest_day: "season.coldest_day",
        warmest_day: "season.warmest_day",
        spawn_peak_days_per_degree: "season.spawn_peak_days_per_degree",
        spawn_peak_at_equator: "season.spawn_peak_at_equator",
        post_spawn_days: "season.post_spawn_days",
        ..
        /// Latitudes between which the line of the spawn peak is used.
        spawn_peak_latitudes: [f64; 2] = latitudes,
    }
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
