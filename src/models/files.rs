//! Reading the assumption files, embedded or replaced by a user's.

pub use super::entries::{
    Calendar, CatalogueModel, FinishRange, ForageModel, LineModel, PhaseBands, Product, Shape, TintModel,
};
use super::parameter::{Grade, Group, Parameter, Spread};
use serde::Deserialize;
use std::collections::BTreeSet;

/// The files as shipped: name and text.
pub const EMBEDDED: [(&str, &str); 10] = [
    ("models/fish.toml", include_str!("../../models/fish.toml")),
    ("models/largemouth.toml", include_str!("../../models/largemouth.toml")),
    ("models/smallmouth.toml", include_str!("../../models/smallmouth.toml")),
    ("models/season.toml", include_str!("../../models/season.toml")),
    ("models/water.toml", include_str!("../../models/water.toml")),
    ("models/baits.toml", include_str!("../../models/baits.toml")),
    ("models/lines.toml", include_str!("../../models/lines.toml")),
    ("models/finishes.toml", include_str!("../../models/finishes.toml")),
    ("models/forage.toml", include_str!("../../models/forage.toml")),
    ("models/practice.toml", include_str!("../../models/practice.toml")),
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

/// All assumption files, read and checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Models {
    /// Every uncertain number, in file order; its draws depend on its name alone.
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
