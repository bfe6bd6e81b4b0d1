//! The two baits compared, in the scenario that they are compared in.

use super::Refused;
use super::request::{Chosen, Request};
use crate::scenario::diagnostic::visible;
use crate::scenario::{self, Bait, Catalogue, Checked};

/// The scenario of a request with just the two baits in its box; the whole box where the request names none.
///
/// # Errors
/// [`Refused::Faults`] for a scenario with faults, [`Refused::Request`] for a bait that is not in the box.
pub fn scenario(request: &Request, catalogue: &Catalogue) -> Result<Checked, Refused> {
    let load = |set: &[(String, String)]| {
        scenario::load(&request.source, &request.file, set, catalogue)
            .map_err(|all| Refused::Faults(all, request.source.clone()))
    };
    let mut checked = load(&request.set)?;
    let chosen = request
        .baits
        .iter()
        .map(|wanted| {
            if wanted.own {
                return own(&checked.scenario.baits, wanted);
            }
            let mut set = request.set.clone();
            set.push(("box.use".into(), wanted.name.clone()));
            let box_of_one = load(&set)?.scenario.baits;
            box_of_one.into_iter().next().ok_or_else(|| missing(wanted))
        })
        .collect::<Result<Vec<_>, _>>()?;
    if !chosen.is_empty() {
        checked.scenario.baits = chosen;
        // Doubts about baits that are not shown would only puzzle.
        checked.warnings.retain(|w| !about_other_baits(&w.title, &checked.scenario.baits, request));
    }
    Ok(checked)
}

fn own(all: &[Bait], wanted: &Chosen) -> Result<Bait, Refused> {
    all.iter().find(|b| b.name == wanted.name).cloned().ok_or_else(|| missing(wanted))
}

fn missing(wanted: &Chosen) -> Refused {
    Refused::Request(format!("there is no bait `{}` in this box", visible(&wanted.name)))
}

/// Whether a doubt is about the box where nothing of the box is shown.
fn about_other_baits(title: &str, shown: &[Bait], request: &Request) -> bool {
    let own = request.baits.iter().any(|b| b.own);
    title.contains("bait") && !own && !shown.iter().any(|b| title.contains(b.name.as_str()))
}
