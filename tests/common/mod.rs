//! Scenarios set up for tests that run the simulator.
#![allow(dead_code)] // each test program uses a part

use callup::models::{Assumed, Models, Worlds};
use callup::scenario::catalogue::Catalogue;
use callup::scenario::{self, Scenario, SettingKind};
use callup::world::Prepared;

pub fn models() -> Models {
    Models::embedded().expect("embedded models")
}

/// An embedded scenario with values laid over it, as `--set` does.
pub fn scenario_of(name: &str, overrides: &[(&str, &str)]) -> Scenario {
    let overrides: Vec<(String, String)> =
        overrides.iter().map(|(p, v)| ((*p).to_owned(), (*v).to_owned())).collect();
    let text = scenario::library::get(name).expect("embedded");
    match scenario::load(text, name, &overrides, &Catalogue::of(&models())) {
        Ok(checked) => checked.scenario,
        Err(faults) => panic!("{faults:#?}"),
    }
}

pub fn setting_of(name: &str, overrides: &[(&str, &str)]) -> Prepared {
    Prepared::new(&scenario_of(name, overrides), &models()).expect("setting")
}

/// The default scenario with values laid over it.
pub fn setting(overrides: &[(&str, &str)]) -> Prepared {
    setting_of("main-lake-point", overrides)
}

/// Every assumption at its default.
pub fn defaults() -> Assumed {
    let models = models();
    Assumed::defaults(&models).expect("complete")
}

/// Some plausible worlds.
pub fn drawn(seed: u64, count: usize) -> Vec<Assumed> {
    let models = models();
    let worlds = Worlds::drawn(&models, seed, count).expect("complete").draws;
    worlds.iter().map(|d| Assumed::of(&models, d).expect("complete")).collect()
}

/// A value of a numeric setting, written so that it can follow `path=`.
pub fn written(setting: &scenario::Setting, value: f64) -> String {
    match setting.kind {
        SettingKind::Number { dimension: Some(dimension), .. } => dimension.write(value),
        _ => value.to_string(),
    }
}
