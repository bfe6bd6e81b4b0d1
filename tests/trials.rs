//! Measurements by others: files and their faults, the words, the outputs against closed forms, the program.

mod files;
mod outputs;
mod program;
mod words;

use callup::models::Models;
use callup::scenario::Diagnostic;
use callup::study::trials::plan::Planned;
use callup::study::trials::{EMBEDDED, Trial, file};

fn models() -> Models {
    Models::embedded().expect("the embedded models are whole")
}

fn read(text: &str) -> Result<Trial, Vec<Diagnostic>> {
    file::read(text, "mine.toml", &models())
}

fn planned(text: &str) -> Result<Planned, Vec<Diagnostic>> {
    let models = models();
    file::read(text, "mine.toml", &models).and_then(|trial| Planned::new(trial, "mine.toml", &models))
}

fn embedded(id: &str) -> &'static str {
    let known = |(file, _): &&(&str, &str)| file.ends_with(&format!("/{id}.toml"));
    EMBEDDED.iter().find(known).expect("embedded").1
}

/// A trial without fault, to be spoilt.
const GOOD: &str = r#"id = "my-pond"
title = "How far I saw them turn"
by = "my own notebook, 2026"
known = "data"
measured = "Distance at which bass turned to a dead minnow on a thread."
output = "sight range"
unit = "m"
axis = "turbidity (NTU)"
used = "nothing"
miss = "How far a bait is seen."

[world]
water.tint = "algae-green"

[setup]
light_lux = 1000
target = "minnow"
target_length = "60 mm"

[[row]]
at = "4 NTU"
measured = 0.7
x = 4
world = { water.turbidity = "4 NTU" }

[[row]]
at = "12 NTU"
measured = 0.3
x = 12
world = { water.turbidity = "12 NTU" }

[[pattern]]
says = "murk shortens it"
rows = ["4 NTU", "12 NTU"]
claim = "falls"
factor = 1.2
"#;
