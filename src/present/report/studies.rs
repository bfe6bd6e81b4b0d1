//! Sections of the studies that look further than the one moment: the day, and what drives the answer.

use super::{Section, html};
use crate::models::{Grade, Models};
use crate::study::why::{Kind, Why};

/// The guesses that drive the odds or the choice, in words, the strongest first.
pub fn driving_guesses(models: &Models, why: &Why) -> Vec<String> {
    let of = |kind: &Kind| match *kind {
        Kind::Parameter(d) => models.parameters.get(d).filter(|p| p.grade == Grade::Guess),
        _ => None,
    };
    let mut driving: Vec<(f64, &str)> = why
        .parameters
        .iter()
        .flatten()
        .filter(|i| i.drives())
        .filter_map(|i| {
            let choice = i.difference.map_or(0.0, |d| d.index.total.mean);
            of(&i.kind).map(|p| (i.odds.index.total.mean.max(choice), p.means.as_str()))
        })
        .collect();
    driving.sort_by(|a, b| b.0.total_cmp(&a.0));
    driving.into_iter().map(|(_, means)| means.to_owned()).collect()
}

/// A part that could not be worked out, and why not.
pub fn left_out(id: &'static str, title: &str, reason: &str) -> Section {
    let body = html::paragraph(&format!("Left out: {reason}."));
    Section { id, title: title.into(), body }
}
