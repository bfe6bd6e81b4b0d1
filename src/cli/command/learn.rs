//! `callup learn`.

use super::ask::{answered, show_all};
use crate::cli::args::{Learn, Shared};
use crate::cli::session::{Session, budget};
use crate::cli::{Stop, color, draw, faults, output};
use crate::scenario::diagnostic::{printable, visible};
use crate::scenario::{Catalogue, Severity};
use crate::study::Study;
use crate::study::learn::cells::{Base, Plan, plan};
use crate::study::learn::log::{Log, read};
use crate::study::learn::overlay::{self, Origin};
use crate::study::learn::{LearnOf, Stated, Told, USUAL_POINTS, usual_draws};
use std::path::Path;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Learn) -> Result<(), Stop> {
    if let Some(path) = &args.save {
        output::may_replace(path, overlay::MARK, "a file of callup learn")?;
    }
    let stated = args.passes_per_cast.as_deref().map(stated).transpose()?;
    let text = text_of(&args.log)?;
    let mut session = Session::open(shared, args.scenario.as_deref())?;
    let (log, plan) = ready(shared, &session, &args.log, &text)?;
    session.budget = budget(shared, (usual_draws(plan.cells.len()), USUAL_POINTS));
    let origin = Origin {
        log: args.log.display().to_string(),
        rows: log.rows.len(),
        scenario: session.file.clone(),
        models: shared.model.iter().map(|m| m.display().to_string()).collect(),
        seed: session.budget.seed,
    };
    let kept = args.save.is_some();
    let study = LearnOf { log: &log, plan: &plan, origin: &origin, stated, kept };
    let (told, _) = answered(shared, &session, &study)?;
    if let Some(path) = &args.save {
        save(path, &told)?;
    }
    show_all(shared, &session, LearnOf::NAME, &told, args.plot.as_deref())
}

/// Writes what was learnt; a log that taught nothing leaves no file.
fn save(path: &Path, told: &Told) -> Result<(), Stop> {
    if told.learnt.changed.is_empty() {
        output::complain("nothing was learnt that an assumption file could hold: none is written\n");
        return Ok(());
    }
    let text = overlay::text(&told.learnt, &told.origin);
    draw::write_whole(path, text.as_bytes()).map_err(|e| Stop::Failure(e.to_string()))?;
    let shown = path.display();
    output::complain(&printable(&format!("wrote {shown}; use it as in: callup odds --model {shown}\n")));
    Ok(())
}

fn text_of(path: &Path) -> Result<String, Stop> {
    let shown = path.display();
    let bytes = std::fs::read(path).map_err(|e| {
        Stop::Input(format!(
            "error: cannot read {shown}: {e}\n  help: check the path and the right to read it\n"
        ))
    })?;
    String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        Stop::Input(format!(
            "error: {shown} is not UTF-8 text (byte {at})\n  help: save the table as CSV in UTF-8\n"
        ))
    })
}

/// The log, read and set up; doubts go to standard error.
fn ready(shared: &Shared, session: &Session, path: &Path, text: &str) -> Result<(Log, Plan), Stop> {
    let file = path.display().to_string();
    let color = color::stderr(shared.no_color);
    let bad = |all: Vec<crate::scenario::Diagnostic>| {
        let count = all.iter().filter(|d| d.severity == Severity::Error).count();
        let said = format!(
            "{}nothing is learnt from a log with faults ({count})\n",
            faults::render(&all, text, color)
        );
        Stop::Faults(said)
    };
    let log = read(text, &file, &Catalogue::of(&session.models)).map_err(bad)?;
    let base = Base {
        source: &session.source,
        file: &session.file,
        overrides: &session.overrides,
        scenario: &session.scenario,
        models: &session.models,
    };
    let plan = plan(&log, &file, base).map_err(bad)?;
    if let Some((rows, first)) = &plan.doubts {
        output::complain(&printable(&format!("warning: {rows} rows are doubtful, the first because:\n")));
        output::complain(&faults::render(std::slice::from_ref(first), text, color));
    }
    for (name, meant) in &log.ignored {
        if let Some(meant) = meant {
            let said = format!("warning: the column `{name}` is ignored; if it is {meant}, name it so\n");
            output::complain(&printable(&said));
        }
    }
    Ok((log, plan))
}

/// "0.8" or "0.5..1.5".
fn stated(text: &str) -> Result<Stated, Stop> {
    let number = |t: &str| t.trim().parse::<f64>().ok().filter(|v| *v >= 1e-4 && *v <= 1e3);
    let read = match text.split_once("..") {
        None => number(text).map(Stated::Exactly),
        Some((from, to)) => match (number(from), number(to)) {
            (Some(from), Some(to)) if from < to => Some(Stated::Between(from, to)),
            (Some(from), Some(to)) if from == to => Some(Stated::Exactly(from)),
            _ => None,
        },
    };
    read.ok_or_else(|| {
        Stop::Input(format!(
            "error: `--passes-per-cast {}` is neither a number nor a range\n  help: write a number from 0.0001 to 1000, \
             as in 0.8, or two of them, the smaller first, as in 0.5..1.5\n",
            visible(text)
        ))
    })
}
