//! Reading the assumption files, embedded or replaced by a user's.

use super::assumed::{PHASES, SPECIES, each};
use super::entries::{Calendar, CatalogueModel, ForageModel, LineMaterial, Product, Shape, TintModel};
use super::parameter::{Grade, Group, Parameter, Spread};
use crate::units::{Dimension, parse};
use crate::water::spectrum;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use toml::Spanned;

/// A file as `build.rs` leaves it: whole, or for the page without comments and sources, which it does not show.
macro_rules! embedded {
    ($name:literal) => {
        ($name, include_str!(concat!(env!("OUT_DIR"), "/", $name)))
    };
}

/// The files as shipped: name and text.
pub const EMBEDDED: [(&str, &str); 10] = [
    embedded!("models/fish.toml"),
    embedded!("models/largemouth.toml"),
    embedded!("models/smallmouth.toml"),
    embedded!("models/season.toml"),
    embedded!("models/water.toml"),
    embedded!("models/baits.toml"),
    embedded!("models/lines.toml"),
    embedded!("models/finishes.toml"),
    embedded!("models/forage.toml"),
    embedded!("models/practice.toml"),
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
    /// Every number, what is drawn and what is defined; the draws depend on the name alone.
    pub parameters: Vec<Parameter>,
    /// Sets drawn against each other.
    pub products: Vec<Product>,
    /// Tints.
    pub tints: Vec<TintModel>,
    /// Names of finishes.
    pub finishes: Vec<String>,
    /// Prey.
    pub forages: Vec<ForageModel>,
    /// Line materials.
    pub lines: Vec<LineMaterial>,
    /// From which to which temperature a phase is met, C: by [`SPECIES`], by [`PHASES`].
    pub bands: [[[f64; 2]; 6]; 2],
    /// Bait proportions.
    pub shape: Shape,
    /// Dates of the season.
    pub calendar: Calendar,
    /// Catalogue of baits.
    pub catalogue: CatalogueModel,
}

/// `[[parameter]]`: one number, or in `each` several that share what the entry says.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    name: Spanned<String>,
    means: Option<String>,
    low: Option<f64>,
    default: Option<f64>,
    high: Option<f64>,
    spread: Spread,
    least: Option<f64>,
    most: Option<f64>,
    unit: Option<String>,
    grade: Grade,
    group: Group,
    product: Option<String>,
    #[serde(default)]
    alternative: bool,
    #[serde(default)]
    lowers: bool,
    source: String,
    #[serde(default)]
    each: Vec<Number>,
}

/// One of several numbers of an entry; its name follows the entry's after a dot.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Number {
    name: String,
    means: String,
    low: Option<f64>,
    default: f64,
    high: Option<f64>,
    unit: Option<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default)]
    parameter: Vec<Entry>,
    #[serde(default)]
    product: Vec<Product>,
    catalogue: Option<CatalogueModel>,
    #[serde(default)]
    usual_length: BTreeMap<String, String>,
    spawn_peak_latitudes: Option<[f64; 2]>,
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
        let mut all = File::default();
        let mut parameters: Vec<Parameter> = Vec::new();
        for (file, text) in files {
            let read: File = toml::from_str(text).map_err(|e| ModelsError::Form {
                file: file.clone(),
                message: e.to_string().trim_end().to_owned(),
            })?;
            let faults = collect(&mut parameters, read.parameter, file, text);
            if !faults.is_empty() {
                return Err(ModelsError::Values { file: file.clone(), faults });
            }
            all.product.extend(read.product);
            all.catalogue = read.catalogue.or(all.catalogue);
            all.usual_length.extend(read.usual_length);
            all.spawn_peak_latitudes = read.spawn_peak_latitudes.or(all.spawn_peak_latitudes);
        }
        for p in pure_water() {
            if parameters.iter().all(|q| q.name != p.name) {
                parameters.push(p);
            }
        }
        parameters.sort_by_key(place);
        let mut seen = BTreeSet::new();
        if let Some(twice) = parameters.iter().find(|p| !seen.insert(p.name.as_str())) {
            let faults = vec![format!("{} is given twice", twice.name)];
            return Err(ModelsError::Values { file: twice.file.clone(), faults });
        }
        Self::of(parameters, all)
    }

    /// Finds the definitions among the parameters.
    fn of(parameters: Vec<Parameter>, all: File) -> Result<Self, ModelsError> {
        let get = |name: &str| {
            let known = parameters.iter().find(|p| p.name == name);
            known.map(|p| p.default).ok_or_else(|| ModelsError::Missing(name.to_owned()))
        };
        let tint = |name: &String| TintModel::named(&|part| get(&format!("tint.{name}.{part}")), name);
        let line = |name: &String| LineMaterial::named(&|part| get(&format!("line.{name}.{part}")), name);
        let forage = |name: &String| {
            let usual = usual_length(&all.usual_length, name)?;
            ForageModel::named(&|part| get(&format!("forage.{name}.{part}")), name, usual)
        };
        let lacks = |key: &str| ModelsError::Missing(key.to_owned());
        let latitudes = all.spawn_peak_latitudes.ok_or_else(|| lacks("spawn_peak_latitudes"))?;
        Ok(Self {
            tints: members(&parameters, "tint").iter().map(tint).collect::<Result<_, _>>()?,
            finishes: members(&parameters, "finish"),
            forages: members(&parameters, "forage").iter().map(forage).collect::<Result<_, _>>()?,
            lines: members(&parameters, "line").iter().map(line).collect::<Result<_, _>>()?,
            bands: each(SPECIES, |s| {
                each(PHASES, |p| each(["from", "to"], |end| get(&format!("{s}.band.{p}.{end}"))))
            })?,
            shape: Shape::named(&get)?,
            calendar: Calendar::named(&get, latitudes)?,
            catalogue: all.catalogue.ok_or_else(|| lacks("[catalogue]"))?,
            products: all.product,
            parameters,
        })
    }

    /// Position of the parameter `name`.
    pub fn index(&self, name: &str) -> Option<usize> {
        self.index_from(0, name)
    }

    /// The same, looked for from position `start` on and round to it: quick where it stands close after.
    pub fn index_from(&self, start: usize, name: &str) -> Option<usize> {
        let count = self.parameters.len();
        (start..count).chain(0..start.min(count)).find(|&i| self.parameters[i].name == name)
    }
}

/// Where a parameter is listed: what stands for itself in the order of the files, then the looks, then definitions.
fn place(p: &Parameter) -> usize {
    let parts: Vec<&str> = p.name.split('.').collect();
    match (parts.as_slice(), p.spread == Spread::Fixed) {
        (["tint", ..], false) => 1,
        (["finish", ..], _) => 2,
        (["forage", ..], false) => 3,
        (["line", _, _], _) => 4,
        (["shape", ..], _) => 5,
        (["tint", ..], true) => 6,
        (["forage", ..], true) => 7,
        (["pure_water", ..], _) => 8,
        (["season", ..], _) => 9,
        ([_, "band", ..], _) => 10,
        _ => 0,
    }
}

/// The members of a family by the names of their parameters: `finish.MEMBER.specular`.
fn members(parameters: &[Parameter], family: &str) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for p in parameters {
        if let [kind, name, _] = p.name.split('.').collect::<Vec<_>>()[..]
            && kind == family
            && names.iter().all(|n| n != name)
        {
            names.push(name.to_owned());
        }
    }
    names
}

fn usual_length(all: &BTreeMap<String, String>, prey: &str) -> Result<f64, ModelsError> {
    let text = all.get(prey).ok_or_else(|| ModelsError::Missing(format!("[usual_length] {prey}")))?;
    parse(text, Dimension::Length).map_err(|e| ModelsError::Values {
        file: "[usual_length]".into(),
        faults: vec![format!("{prey}: {e}")],
    })
}

/// The absorption of pure water, which the optics hold as a table, listed with the rest.
fn pure_water() -> impl Iterator<Item = Parameter> {
    spectrum::PURE_WATER_PER_M.into_iter().enumerate().map(|(i, absorption)| Parameter {
        name: format!("pure_water.{:.0}nm", spectrum::wavelength_nm(i)),
        means: "absorption of pure water".into(),
        low: absorption,
        default: absorption,
        high: absorption,
        spread: Spread::Fixed,
        least: f64::NEG_INFINITY,
        most: f64::INFINITY,
        unit: "1/m".into(),
        grade: Grade::Measured,
        group: Group::Optics,
        product: None,
        alternative: false,
        lowers: false,
        source: "Pope & Fry 1997, Appl. Opt. 36:8710-8723, doi:10.1364/AO.36.008710".into(),
        file: "models/pure_water.in".into(),
    })
}

impl Entry {
    /// The parameters of this entry, or what each lacks.
    fn parameters(mut self, file: &str) -> Vec<Result<Parameter, String>> {
        let entry = self.name.get_ref().clone();
        let mut numbers = std::mem::take(&mut self.each);
        match (self.means.take(), self.default) {
            (None, None) if !numbers.is_empty() && self.low.or(self.high).is_none() => {
                numbers.iter_mut().for_each(|n| n.name = format!("{entry}.{}", n.name));
            }
            (Some(means), Some(default)) if numbers.is_empty() => numbers.push(Number {
                name: entry,
                means,
                low: self.low,
                default,
                high: self.high,
                unit: None,
            }),
            _ => {
                return vec![Err(format!(
                    "{entry}: write means and default, or several numbers in each = [{{ name, means, default }}, ...]"
                ))];
            }
        }
        numbers.into_iter().map(|n| self.parameter(n, file)).collect()
    }

    fn parameter(&self, n: Number, file: &str) -> Result<Parameter, String> {
        let drawn = !matches!(self.spread, Spread::Fixed | Spread::Choice);
        let (low, high) = match (n.low, n.high) {
            (Some(low), Some(high)) => (low, high),
            (None, None) if !drawn => (n.default, n.default),
            _ => return Err(format!("{}: write low and high beside default", n.name)),
        };
        let unit = n.unit.or_else(|| self.unit.clone());
        let p = Parameter {
            unit: unit.ok_or_else(|| format!("{}: write its unit, \"1\" for a pure number", n.name))?,
            name: n.name,
            means: n.means,
            low,
            default: n.default,
            high,
            spread: self.spread,
            least: self.least.unwrap_or(f64::NEG_INFINITY),
            most: self.most.unwrap_or(f64::INFINITY),
            grade: self.grade,
            group: self.group,
            product: self.product.clone(),
            alternative: self.alternative,
            lowers: self.lowers,
            source: self.source.clone(),
            file: file.to_owned(),
        };
        p.fault().map_or(Ok(p), Err)
    }
}

fn collect(into: &mut Vec<Parameter>, entries: Vec<Entry>, file: &str, text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for entry in entries {
        let line = text[..entry.name.span().start.min(text.len())].matches('\n').count() + 1;
        for read in entry.parameters(file) {
            match read {
                Err(fault) => faults.push(format!("line {line}: {fault}")),
                Ok(p) => match into.iter_mut().find(|q| q.name == p.name && q.file != p.file) {
                    Some(earlier) => *earlier = p,
                    None => into.push(p),
                },
            }
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
    fn an_overlay_reaches_looks_and_definitions() {
        let mut files: Vec<(String, String)> = EMBEDDED.map(|(n, t)| (n.into(), t.into())).into();
        let overlay = "[[parameter]]\nname = \"forage.shad\"\nspread = \"fixed\"\nunit = \"1\"\ngrade = \"guess\"\n\
                       group = \"optics\"\nsource = \"an overlay\"\neach = [{ name = \"height_share\", means = \"tall\", \
                       default = 0.5 }]\n";
        files.push(("mine.toml".into(), overlay.into()));
        let mine = Models::read(&files).expect("overlay");
        assert_eq!(mine.forages[0].height_share, 0.5);
        let new = overlay.replace("forage.shad", "finish.mine").replace("height_share", "specular");
        files.push(("new.toml".into(), new));
        let half = Models::read(&files).expect("a finish with one share");
        assert_eq!(half.finishes.last().map(String::as_str), Some("mine"));
        let lacks = super::super::Assumed::defaults(&half);
        assert_eq!(lacks, Err(ModelsError::Missing("finish.mine.diffuse_green".into())));
    }

    #[test]
    fn every_incomplete_entry_is_told_with_its_line() {
        let entry = |what: &str| {
            format!(
                "[[parameter]]\nname = \"a\"\n{what}\nspread = \"normal\"\ngrade = \"guess\"\ngroup = \"optics\"\nsource = \"s\"\n"
            )
        };
        let text = [
            "unit = \"1\"",
            "means = \"m\"\ndefault = 1\nunit = \"1\"",
            "means = \"m\"\nlow = 0\ndefault = 1\nhigh = 2",
            "means = \"m\"\nlow = 3\ndefault = 1\nhigh = 2\nunit = \"1\"",
            "low = 0\nunit = \"1\"\neach = [{ name = \"b\", means = \"m\", low = 0, default = 1, high = 2 }]",
        ]
        .map(entry)
        .concat();
        let Err(ModelsError::Values { faults, .. }) = Models::read(&[("x.toml".into(), text)]) else {
            panic!("accepted")
        };
        let begins = ["line 2: a: write means", "line 9: a: write low", "line 18: a: write its unit"];
        assert_eq!(faults.len(), 5, "{faults:?}");
        assert!(begins.iter().zip(&faults).all(|(b, f)| f.starts_with(b)), "{faults:?}");
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
