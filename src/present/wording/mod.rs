//! What is said of each answer: one file a command. Terminal, page and files are made of it.

pub mod assumptions;
pub mod attribution;
pub mod by_worth;
pub mod casts;
pub mod day;
pub mod depth;
pub mod learn;
pub mod light;
pub mod odds;
pub mod pack;
pub mod rules;
pub mod selfcheck;
pub mod sweep;
pub mod trials;
pub mod why;

use super::document::Document;
use super::table::Table;
use super::view::{View, head};
use serde::Serialize;
use serde_json::Value;

/// An answer that can be read.
pub trait Readable: Serialize {
    /// As it is read.
    fn document(&self, view: &View) -> Document;
    /// Its rows for a spreadsheet.
    fn spreadsheet(&self, view: &View) -> Table;
    /// Its pictures.
    #[cfg(feature = "cli")]
    fn pictures(&self, _view: &View) -> Vec<super::document::Picture> {
        Vec::new()
    }
    /// What it is about.
    fn about(&self) -> About {
        About::Scenario
    }
    /// On how much a stopped answer rests, as in "16 worlds".
    fn rests_on(&self) -> String {
        String::new()
    }
}

/// What an answer is about: so much of the run is told at the head of its machine output.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// A scenario.
    Scenario,
    /// Simulated, but of no one scenario.
    Run,
    /// Nothing was simulated.
    Nothing,
}

/// The machine output of an answer: what it was asked about, then the answer as it is serialised.
pub fn machine(command: &str, view: &View, answer: &impl Readable) -> Value {
    let mut document = match answer.about() {
        About::Scenario => view.document(command),
        About::Run => head(command, Some(view.budget), Value::Null),
        About::Nothing => head(command, None, Value::Null),
    };
    if let Ok(Value::Object(own)) = serde_json::to_value(answer) {
        document.extend(own);
    }
    document.into()
}

/// The text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// Names that may hold commas, one after the other: "A; B; or C".
pub fn either(names: &[&str]) -> String {
    match names {
        [most @ .., last] if !most.is_empty() => format!("{}; or {last}", most.join("; ")),
        _ => names.concat(),
    }
}
