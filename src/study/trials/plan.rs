//! Every row of a trial set up as it was in the world, before anything is worked out.

use super::{GROUND, GROUND_FILE, Row, Trial};
use crate::models::Models;
use crate::scenario::{self, Catalogue, Diagnostic, Severity};
use crate::study::overrides::Override;
use crate::world::Prepared;

/// A trial with the prepared scenario of every row.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The trial.
    pub trial: Trial,
    /// One prepared scenario for each row.
    pub settings: Vec<Prepared>,
}

impl Planned {
    /// Sets a trial up; `file` is the name of its file, for faults.
    ///
    /// # Errors
    /// Every fault, each at the place in the trial's file that causes it.
    pub fn new(trial: Trial, file: &str, models: &Models) -> Result<Self, Vec<Diagnostic>> {
        let catalogue = Catalogue::of(models);
        let (mut settings, mut faults) = (Vec::new(), Vec::<Diagnostic>::new());
        for row in &trial.rows {
            match set_up(&trial, row, file, models, &catalogue) {
                Ok(prepared) => settings.push(prepared),
                // What is wrong in every row is told once.
                Err(own) => {
                    faults.extend(own.into_iter().filter(|f| !faults.contains(f)).collect::<Vec<_>>())
                }
            }
        }
        if faults.is_empty() { Ok(Self { trial, settings }) } else { Err(faults) }
    }
}

fn set_up(
    trial: &Trial,
    row: &Row,
    file: &str,
    models: &Models,
    catalogue: &Catalogue,
) -> Result<Prepared, Vec<Diagnostic>> {
    let puts: Vec<&Override> = trial.world.iter().chain(&row.world).collect();
    let overrides: Vec<(String, String)> = puts.iter().map(|p| (p.path.clone(), p.value.clone())).collect();
    let here =
        |title: String, help: &str| Diagnostic::error(file, row.place.clone(), title, "in this row", help);
    let scenario = scenario::load(GROUND, GROUND_FILE, &overrides, catalogue).map_err(|found| {
        let placed = |f: Diagnostic| {
            let put = puts.iter().find(|p| f.set.as_deref() == Some(&format!("{}={}", p.path, p.value)));
            Diagnostic {
                span: Some(put.map_or(row.place.clone(), |p| p.at.clone())),
                file: file.to_owned(),
                set: None,
                ..f
            }
        };
        found.into_iter().filter(|f| f.severity == Severity::Error).map(placed).collect::<Vec<_>>()
    })?;
    let scenario = scenario.scenario;
    if scenario.baits.len() != 1 {
        let title = format!("a trial is run with one bait, not with {}", scenario.baits.len());
        return Err(vec![here(
            title,
            "name one in world, as in box.use = [\"110 mm, standard lip, silent\"]",
        )]);
    }
    Prepared::new(&scenario, models)
        .map_err(|e| vec![here(e.to_string(), "change the conditions to what the model can run")])
}
