//! From what was typed to what can be used: models, scenario, budget.

use super::args::{Shared, Units};
use super::{Stop, color, faults, output};
use crate::engine::Budget;
use crate::models::files::EMBEDDED;
use crate::models::{Models, ModelsError};
use crate::present::view::View;
use crate::scenario::{self, Catalogue, Scenario, library, paths};
use crate::study::axis::{Axis, Wish};
use crate::study::{Context, Study};
use crate::units::UnitSystem;
use crate::world::Prepared;
use std::fs;
use std::path::Path;

/// Everything a command starts from.
pub(super) struct Session {
    /// Assumptions.
    pub models: Models,
    /// The scenario.
    pub scenario: Scenario,
    /// The scenario, set up.
    pub prepared: Prepared,
    /// How much to compute.
    pub budget: Budget,
    /// Units to write in.
    pub units: UnitSystem,
    /// Text of the scenario's file.
    pub source: String,
    /// Its name.
    pub file: String,
    /// Values put in place of the file's.
    pub overrides: Vec<(String, String)>,
}

impl Session {
    /// Reads models and scenario; warnings go to standard error.
    pub fn open(shared: &Shared, scenario: Option<&str>) -> Result<Self, Stop> {
        Self::of(shared, text_of(scenario)?)
    }

    /// The same with the scenario's text and name.
    pub fn of(shared: &Shared, (source, file): (String, String)) -> Result<Self, Stop> {
        let models = models(shared)?;
        let overrides = overrides(&shared.set)?;
        let catalogue = Catalogue::of(&models);
        let color = color::stderr(shared.no_color);
        let checked = scenario::load(&source, &file, &overrides, &catalogue)
            .map_err(|all| Stop::Faults(faults::render(&all, &source, color)))?;
        if !checked.warnings.is_empty() {
            output::complain(&faults::render(&checked.warnings, &source, color));
        }
        let scenario = checked.scenario;
        let prepared =
            Prepared::new(&scenario, &models).map_err(|e| Stop::Input(format!("error: {file}: {e}\n")))?;
        let usual = Budget::default();
        let budget = budget(shared, (usual.worlds, usual.passes));
        Ok(Self { models, scenario, prepared, budget, units: units(shared), source, file, overrides })
    }

    /// What a question is asked about.
    pub fn context(&self) -> Context<'_> {
        Context {
            models: &self.models,
            scenario: &self.scenario,
            prepared: &self.prepared,
            budget: self.budget,
            source: &self.source,
            file: &self.file,
            overrides: &self.overrides,
        }
    }

    /// Opens a scenario for a study, with its usual worlds and passes where nothing else is said.
    pub fn for_study<S: Study>(shared: &Shared, scenario: Option<&str>, _: &S) -> Result<Self, Stop> {
        let session = Self::open(shared, scenario)?;
        Ok(Self { budget: budget(shared, S::USUAL), ..session })
    }

    /// The axes written after `--over`, all that is wrong with them at once.
    pub fn axes(&self, over: &[String], wish: Wish) -> Result<Vec<Axis>, Stop> {
        let settings = paths(&Catalogue::of(&self.models));
        let (mut axes, mut wrong) = (Vec::new(), String::new());
        for text in over {
            match Axis::parse(text, wish, &settings) {
                Ok(axis) => axes.push(axis),
                Err(e) => wrong.push_str(&format!("error: --over: {e}\n  help: {}\n", e.help())),
            }
        }
        if wrong.is_empty() { Ok(axes) } else { Err(Stop::Input(wrong)) }
    }

    /// What the answers are asked about.
    pub fn view(&self) -> View<'_> {
        View::of(&self.context(), self.units, output::width())
    }
}

/// Seed, worlds and passes as asked for; where nothing is said as many worlds and passes as usual.
pub(in crate::cli) fn budget(shared: &Shared, usual: (usize, usize)) -> Budget {
    Budget {
        seed: shared.seed,
        worlds: shared.worlds.map_or(usual.0, |n| n as usize),
        passes: shared.passes.map_or(usual.1, |n| n as usize),
        fixed: shared.fixed,
    }
}

/// Units to write in.
pub(in crate::cli) fn units(shared: &Shared) -> UnitSystem {
    match shared.units {
        Units::Metric => UnitSystem::Metric,
        Units::Us => UnitSystem::Us,
    }
}

/// The embedded models with the user's overlays.
pub(super) fn models(shared: &Shared) -> Result<Models, Stop> {
    let mut files: Vec<(String, String)> =
        EMBEDDED.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    for path in &shared.model {
        files.push((path.display().to_string(), read(path)?));
    }
    Models::read(&files).map_err(|e: ModelsError| Stop::Input(format!("error: {e}\n")))
}

/// The text of a file.
pub(super) fn read(path: &Path) -> Result<String, Stop> {
    let bytes = fs::read(path).map_err(|e| {
        Stop::Input(format!(
            "error: cannot read {}: {e}\n  help: check the path and the right to read it\n",
            path.display()
        ))
    })?;
    String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        Stop::Input(format!(
            "error: {} is not UTF-8 text (byte {at})\n  help: save it as UTF-8; a scenario is a plain TOML file\n",
            path.display()
        ))
    })
}

/// The text of a scenario and the name to call it by: a path on disk wins over an embedded name.
pub(super) fn text_of(scenario: Option<&str>) -> Result<(String, String), Stop> {
    let name = scenario.unwrap_or(library::DEFAULT);
    if scenario.is_some() && Path::new(name).exists() {
        return Ok((read(Path::new(name))?, name.to_owned()));
    }
    if let Some(text) = library::get(name) {
        let file = format!("scenarios/{}.toml", name.trim_end_matches(".toml"));
        return Ok((text.to_owned(), file));
    }
    let near = library::near(name);
    let hint = if near.is_empty() {
        "give a file that exists, or a name from `callup odds --list`".to_owned()
    } else {
        format!("did you mean {}? `callup odds --list` shows all", near.join(" or "))
    };
    let shown = scenario::diagnostic::visible(name);
    Err(Stop::Input(format!(
        "error: there is no scenario file or embedded scenario `{shown}`\n  help: {hint}\n"
    )))
}

/// `--set` values split at their first equals sign.
fn overrides(set: &[String]) -> Result<Vec<(String, String)>, Stop> {
    set.iter()
        .map(|s| match s.split_once('=') {
            Some((path, value)) => Ok((path.trim().to_owned(), value.trim().to_owned())),
            None => Err(Stop::Input(format!(
                "error: `--set {}` has no value\n  help: write --set PATH=VALUE, as in --set water.secchi=\"2 m\"\n",
                scenario::diagnostic::visible(s)
            ))),
        })
        .collect()
}
