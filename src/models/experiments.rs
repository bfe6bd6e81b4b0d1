//! What would settle an assumption: experiments by the names of what they settle, from `models/experiments.toml`.

use super::files::ModelsError;
use serde::{Deserialize, Serialize};

const FILE: &str = "models/experiments.toml";
const TEXT: &str = include_str!("../../models/experiments.toml");

/// An experiment and the assumptions that it would settle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Experiment {
    /// Names of assumptions or products; one that ends in a dot stands for all that begin so.
    pub settles: Vec<String>,
    /// What to vary, what to record, how many fish.
    pub text: String,
}

/// All experiments.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Experiments {
    #[serde(rename = "experiment")]
    all: Vec<Experiment>,
}

impl Experiments {
    /// The experiments as shipped.
    ///
    /// # Errors
    /// Only if the file of this build is damaged; a test holds it sound.
    pub fn embedded() -> Result<Self, ModelsError> {
        toml::from_str(TEXT).map_err(|e| ModelsError::Form {
            file: FILE.into(),
            message: e.to_string().trim_end().to_owned(),
        })
    }

    /// The experiment for `name`: the one whose pattern fits and is longest.
    pub fn settling(&self, name: &str) -> Option<&Experiment> {
        let fit = |e: &Experiment| e.settles.iter().filter(|p| fits(p, name)).map(String::len).max();
        self.all
            .iter()
            .filter_map(|e| fit(e).map(|length| (length, e)))
            .max_by_key(|(l, _)| *l)
            .map(|(_, e)| e)
    }
}

fn fits(pattern: &str, name: &str) -> bool {
    pattern == name || (pattern.ends_with('.') && name.starts_with(pattern))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::models::{Models, Spread};
    use std::collections::BTreeSet;

    fn drawn() -> Vec<String> {
        let models = Models::embedded().expect("embedded");
        let drawn = models.parameters.iter().filter(|p| p.spread != Spread::Fixed).map(|p| p.name.clone());
        drawn.chain(models.products.iter().map(|p| p.name.clone())).collect()
    }

    #[test]
    fn every_drawn_assumption_has_an_experiment() {
        let experiments = Experiments::embedded().expect("embedded");
        let bare: Vec<String> = drawn().into_iter().filter(|n| experiments.settling(n).is_none()).collect();
        assert!(bare.is_empty(), "no experiment settles {bare:?}");
    }

    #[test]
    fn every_pattern_fits_something_and_stands_once() {
        let (experiments, drawn) = (Experiments::embedded().expect("embedded"), drawn());
        let mut seen = BTreeSet::new();
        for e in &experiments.all {
            assert!(e.text.len() > 40 && !e.settles.is_empty(), "{e:?}");
            for p in &e.settles {
                assert!(seen.insert(p), "{p} stands twice");
                let used = drawn.iter().any(|n| fits(p, n) && experiments.settling(n) == Some(e));
                assert!(used, "{p} fits no drawn assumption");
            }
        }
    }

    #[test]
    fn the_longest_pattern_counts() {
        let text = "[[experiment]]\nsettles = [\"a.\"]\ntext = \"wide\"\n[[experiment]]\nsettles = [\"a.b\"]\ntext = \"one\"\n";
        let experiments: Experiments = toml::from_str(text).expect("sound");
        let said = |name: &str| experiments.settling(name).map(|e| e.text.as_str());
        assert_eq!([said("a.b"), said("a.bc"), said("ab")], [Some("one"), Some("wide"), None]);
    }
}
