//! Reading the assumption files, embedded or replaced by a user's.

use super::parameter::{Grade, Group, Parameter, Spread};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// The files as shipped: name and text.
pub const EMBEDDED: [(&str, &str); 9] = [
    ("models/fish.toml", include_str!("../../models/fish.toml")),
    ("models/largemouth.toml", include_str!("../../models/largemouth.toml")),
    ("models/smallmouth.toml", include_str!("../../models/smallmouth.toml")),
    ("models/season.toml", include_str!("../../models/season.toml")),
    ("models/water.toml", include_str!("../../models/water.toml")),
    ("models/baits.toml", include_str!("../../models/baits.toml")),
    ("models/lines.toml", include_str!("../../models/lines.toml")),
    ("models/finishes.toml", include_str!("../../models/finishes.toml")),
    ("models/forage.toml", include_str!("../../models/forage.toml")),
];

/// What is wrong with an assumption file.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ModelsError {
    /// Not TOML, or not of the expected form.
    #[error("{file}: {message}")]
    Form {
        /// File.
        file: String,
        /// What the reader says, with line and column.
        message: String,
    },
    /// Read, but impossible.
    #[error("{file}: {}", faults.join("; "))]
    Values {
        /// File.
        file: String,
        /// All that is wrong.
        faults: Vec<String>,
    },
    /// A parameter that the model needs is in no file.
    #[error("the assumption `{0}` is in no file; restore it from the embedded models")]
    Missing(String),
}

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
    /// Cooling water counts as fall from this temperature down.
    pub fall_from: f64,
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
    /// How well it is known.
    pub grade: Grade,
    /// Where it comes from.
    pub source: String,
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
    /// Breaking stress on the gross section, Pa.
    pub strength_pa: f64,
    /// Density, kg per cubic metre.
    pub density_kg_m3: f64,
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

/// All assumption files, read and checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Models {
    /// Every uncertain number, in file order (the order fixes its Sobol dimension).
    pub parameters: Vec<Parameter>,
    /// Sets drawn against each other.
    pub products: Vec<Product>,
    /// Tints.
    pub tints: Vec<TintModel>,
    /// Finishes.
    pub finishes: Vec<FinishRange>,
    /// Prey.
    pub forages: Vec<ForageModel>,
    /// Line materials.
    pub lines: Vec<LineModel>,
    /// Phase bands of largemouth and smallmouth.
    pub bands: [PhaseBands; 2],
    /// Bait proportions.
    pub shape: Shape,
    /// Dates of the season.
    pub calendar: Calendar,
    /// Catalogue of baits.
    pub catalogue: CatalogueModel,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct RawParameter {
    name: String,
    means: String,
    low: f64,
    default: f64,
    high: f64,
    spread: Spread,
    least: Option<f64>,
    most: Option<f64>,
    unit: String,
    grade: Grade,
    group: Group,
    product: Option<String>,
    #[serde(default)]
    alternative: bool,
    #[serde(default)]
    lowers: bool,
    source: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFile {
    #[serde(default)]
    parameter: Vec<RawParameter>,
    #[serde(default)]
    product: Vec<Product>,
    #[serde(default)]
    tint: Vec<TintModel>,
    #[serde(default)]
    finish: Vec<FinishRange>,
    #[serde(default)]
    forage: Vec<ForageModel>,
    #[serde(default)]
    line: Vec<LineModel>,
    bands: Option<PhaseBands>,
    shape: Option<Shape>,
    calendar: Option<Calendar>,
    catalogue: Option<CatalogueModel>,
}

impl Models {
    /// The models as shipped.
    ///
    /// # Errors
    /// Only if the files of this build are damaged; a test holds them sound.
    pub fn embedded() -> Result<Self, ModelsError> {
        Self::read(&EMBEDDED.map(|(name, text)| (name.to_owned(), text.to_owned())))
    }

    /// The models of the given files (name, text); a parameter named again replaces the earlier one, so a
    /// user's overlay goes last.
    ///
    /// # Errors
    /// Names the file, the line and every impossible value.
    pub fn read(files: &[(String, String)]) -> Result<Self, ModelsError> {
        let mut all = RawFile::default();
        let mut parameters: Vec<Parameter> = Vec::new();
        let mut bands = Vec::new();
        for (file, text) in files {
            let raw: RawFile = toml::from_str(text).map_err(|e| ModelsError::Form {
                file: file.clone(),
                message: e.to_string().trim_end().to_owned(),
            })?;
            let faults = collect(&mut parameters, raw.parameter, file);
            if !faults.is_empty() {
                return Err(ModelsError::Values { file: file.clone(), faults });
            }
            all.product.extend(raw.product);
            all.tint.extend(raw.tint);
            all.finish.extend(raw.finish);
            all.forage.extend(raw.forage);
            all.line.extend(raw.line);
            bands.extend(raw.bands);
            all.shape = raw.shape.or(all.shape);
            all.calendar = raw.calendar.or(all.calendar);
            all.catalogue = raw.catalogue.or(all.catalogue);
        }
        let [largemouth, smallmouth] = <[PhaseBands; 2]>::try_from(bands)
            .map_err(|_| ModelsError::Missing("[bands] of largemouth and smallmouth".into()))?;
        let models = Self {
            products: all.product,
            bands: [largemouth, smallmouth],
            calendar: all.calendar.ok_or_else(|| ModelsError::Missing("[calendar]".into()))?,
            shape: all.shape.ok_or_else(|| ModelsError::Missing("[shape]".into()))?,
            catalogue: all.catalogue.ok_or_else(|| ModelsError::Missing("[catalogue]".into()))?,
            parameters,
            tints: all.tint,
            finishes: all.finish,
            forages: all.forage,
            lines: all.line,
        };
        models.with_catalogue_parameters().checked()
    }

    /// Gives each tint's, finish's and prey's ranges a parameter of its own, so that they are drawn too.
    fn with_catalogue_parameters(mut self) -> Self {
        let mut extra = Vec::new();
        for t in &self.tints {
            let entry = (&t.name, &t.grade, &t.source, "models/water.toml");
            let means = format!("K times Secchi depth in {} water", t.name);
            extra.push(range(
                format!("tint.{}.gamma_k", t.name),
                means,
                t.gamma_k,
                10.0,
                Group::Optics,
                entry,
            ));
        }
        let looks = self.finishes.iter().map(|f| {
            (
                "finish",
                &f.name,
                [f.diffuse_green, f.diffuse_red, f.specular, f.transmittance],
                f.grade,
                &f.source,
                "models/finishes.toml",
            )
        });
        let prey = self.forages.iter().map(|f| {
            (
                "forage",
                &f.name,
                [f.diffuse_green, f.diffuse_red, f.specular, f.transmittance],
                f.grade,
                &f.source,
                "models/forage.toml",
            )
        });
        for (kind, name, shares, grade, source, file) in looks.chain(prey) {
            for (share, values) in SHARES.iter().zip(shares) {
                let means = format!("{} of {} {kind}", share.1, name);
                let entry = (name, &grade, source, file);
                extra.push(range(
                    format!("{kind}.{name}.{}", share.0),
                    means,
                    values,
                    1.0,
                    Group::Optics,
                    entry,
                ));
            }
        }
        for p in extra {
            if !self.parameters.iter().any(|q| q.name == p.name) {
                self.parameters.push(p);
            }
        }
        self
    }

    fn checked(self) -> Result<Self, ModelsError> {
        let faults: Vec<String> = self.parameters.iter().filter_map(Parameter::fault).collect();
        if !faults.is_empty() {
            return Err(ModelsError::Values { file: "models".into(), faults });
        }
        let mut seen = BTreeSet::new();
        if let Some(twice) = self.parameters.iter().find(|p| !seen.insert(p.name.as_str())) {
            return Err(ModelsError::Values {
                file: twice.file.clone(),
                faults: vec![format!("{} is given twice", twice.name)],
            });
        }
        Ok(self)
    }

    /// Position of the parameter `name`.
    pub fn index(&self, name: &str) -> Option<usize> {
        self.parameters.iter().position(|p| p.name == name)
    }
}

/// Names and meanings of the shares of light that make a look.
pub(crate) const SHARES: [(&str, &str); 4] = [
    ("diffuse_green", "scattered share of green light"),
    ("diffuse_red", "scattered share of red light"),
    ("specular", "mirrored share of light"),
    ("transmittance", "share of light let through"),
];

fn range(
    name: String,
    means: String,
    [low, default, high]: [f64; 3],
    most: f64,
    group: Group,
    (_, grade, source, file): (&String, &Grade, &String, &str),
) -> Parameter {
    Parameter {
        name,
        means,
        low,
        default,
        high,
        spread: Spread::Normal,
        least: 0.0,
        most,
        unit: "1".into(),
        grade: *grade,
        group,
        product: None,
        alternative: false,
        lowers: false,
        source: source.clone(),
        file: file.into(),
    }
}

fn collect(into: &mut Vec<Parameter>, raw: Vec<RawParameter>, file: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for r in raw {
        let p = Parameter {
            least: r.least.unwrap_or(f64::NEG_INFINITY),
            most: r.most.unwrap_or(f64::INFINITY),
            name: r.name,
            means: r.means,
            low: r.low,
            default: r.default,
            high: r.high,
            spread: r.spread,
            unit: r.unit,
            grade: r.grade,
            group: r.group,
            product: r.product,
            alternative: r.alternative,
            lowers: r.lowers,
            source: r.source,
            file: file.to_owned(),
        };
        faults.extend(p.fault());
        match into.iter_mut().find(|q| q.name == p.name && q.file != p.file) {
            Some(earlier) => *earlier = p,
            None => into.push(p),
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_embedded_models_are_sound_and_every_number_has_a_source() {
        let models = Models::embedded().expect("embedded models");
        assert!(models.parameters.len() > 100);
        for p in &models.parameters {
            assert!(p.source.len() > 5 && p.means.len() > 5 && !p.unit.is_empty(), "{}", p.name);
        }
        assert!(models.finishes.len() >= 10 && models.forages.len() >= 5);
    }

    #[test]
    fn an_overlay_replaces_one_parameter_in_place() {
        let mut files: Vec<(String, String)> = EMBEDDED.map(|(n, t)| (n.into(), t.into())).into();
        let overlay = "[[parameter]]\nname = \"sight.half_light\"\nmeans = \"as measured\"\nlow = 0.9\ndefault = 1.0\n\
                       high = 1.1\nspread = \"lognormal\"\nunit = \"lux\"\ngrade = \"measured\"\ngroup = \"optics\"\n\
                       source = \"an overlay\"\n";
        files.push(("mine.toml".into(), overlay.into()));
        let (plain, mine) = (Models::embedded().expect("embedded"), Models::read(&files).expect("overlay"));
        assert_eq!(plain.parameters.len(), mine.parameters.len());
        assert_eq!(plain.index("sight.half_light"), mine.index("sight.half_light"));
        let i = mine.index("sight.half_light").expect("present");
        assert_eq!(mine.parameters[i].high, 1.1);
    }

    #[test]
    fn bad_files_say_where_and_what() {
        let broken = Models::read(&[("x.toml".into(), "[[parameter]]\nname = 3\n".into())]);
        assert!(
            matches!(broken, Err(ModelsError::Form { ref message, .. }) if message.contains("line 2")),
            "{broken:?}"
        );
    }
}
