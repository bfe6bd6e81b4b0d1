//! `callup trials`.

use super::ask::ask;
use crate::cli::args::{Shared, Trials as Args};
use crate::cli::session::{self, Session, models, read};
use crate::cli::{Stop, color, faults, output};
use crate::models::Models;
use crate::present::wording::trials::list;
use crate::scenario::diagnostic::{near, one_of, visible};
use crate::study::trials::answer::TrialsOf;
use crate::study::trials::plan::Planned;
use crate::study::trials::{EMBEDDED, Trial, file};
use std::path::Path;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    if let Some(set) = shared.set.first() {
        return Err(Stop::Input(format!(
            "error: `--set {}` has no place here: a trial is run as it was run in the world\n  help: write a trial of your \
             own, from `callup trials --template`, and give its file\n",
            visible(set)
        )));
    }
    if args.template {
        return output::print(EMBEDDED[TEMPLATE].1);
    }
    let models = models(shared)?;
    let plans = plans(shared, &args.trials, &models)?;
    if args.list {
        let trials: Vec<Trial> = plans.into_iter().map(|p| p.trial).collect();
        let list = list(&trials, session::units(shared));
        return output::print(&list.terminal(output::width()));
    }
    let session = Session::for_study(shared, None, &TrialsOf(&plans))?;
    ask(shared, &session, &TrialsOf(&plans), args.plot.as_deref()).map(drop)
}

/// The embedded trial that shows most of what a file can say.
const TEMPLATE: usize = 5;

/// The trials asked for, set up; all embedded ones for none. What is a file on disk, or looks like one, is read.
pub(in crate::cli) fn plans(
    shared: &Shared,
    asked: &[String],
    models: &Models,
) -> Result<Vec<Planned>, Stop> {
    let mut sources: Vec<(String, String)> = Vec::new();
    let mut wrong = String::new();
    let ids: Vec<&str> = EMBEDDED.iter().map(|(file, _)| id_of(file)).collect();
    for wish in asked {
        if let Some(i) = ids.iter().position(|id| id == wish) {
            sources.push((EMBEDDED[i].0.to_owned(), EMBEDDED[i].1.to_owned()));
        } else if wish.ends_with(".toml") || Path::new(wish).exists() {
            sources.push((wish.clone(), read(Path::new(wish))?));
        } else {
            let alike = near(wish, ids.iter().copied());
            let help = match alike.is_empty() {
                true => "callup trials --list shows all; a file of your own ends in .toml".to_owned(),
                false => format!("did you mean {}?", one_of(&alike)),
            };
            wrong.push_str(&format!("error: there is no trial `{}`\n  help: {help}\n", visible(wish)));
        }
    }
    if !wrong.is_empty() {
        return Err(Stop::Input(wrong));
    }
    if asked.is_empty() {
        sources = EMBEDDED.iter().map(|(file, text)| ((*file).to_owned(), (*text).to_owned())).collect();
    }
    let (mut planned, mut drawn) = (Vec::new(), String::new());
    for (name, source) in &sources {
        match file::read(source, name, models).and_then(|trial| Planned::new(trial, name, models)) {
            Ok(plan) => planned.push(plan),
            Err(found) => drawn.push_str(&faults::render(&found, source, color::stderr(shared.no_color))),
        }
    }
    if drawn.is_empty() { Ok(planned) } else { Err(Stop::Faults(drawn)) }
}

/// The short name of an embedded file.
fn id_of(file: &'static str) -> &'static str {
    file.rsplit('/').next().unwrap_or(file).trim_end_matches(".toml")
}
