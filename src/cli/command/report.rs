//! `callup report`.

use crate::cli::args::{Report as Args, Shared, Units};
use crate::cli::session::Session;
use crate::cli::{Stop, draw, output, progress};
use crate::engine::StrikeTable;
use crate::engine::table::Control;
use crate::models::{Assumed, Worlds};
use crate::present::answers::odds as odds_answer;
use crate::present::report::{self, Report};
use crate::scenario::diagnostic::printable;
use crate::study::{depth, light, odds};
use crate::world::World;
use std::path::Path;
use std::sync::Arc;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    may_write(&args.output)?;
    let session = Session::open(shared, args.scenario.as_deref())?;
    let html = compose(shared, args, &session)?.html();
    draw::write_whole(&args.output, html.as_bytes()).map_err(|e| Stop::Failure(e.to_string()))?;
    let kilobytes = html.len().div_ceil(1000);
    output::complain(&printable(&format!("wrote {} ({kilobytes} kB)\n", args.output.display())));
    Ok(())
}

/// A file that is there already must be an earlier report; anything else is somebody's work.
fn may_write(path: &Path) -> Result<(), Stop> {
    let Ok(there) = std::fs::read(path) else { return Ok(()) };
    if String::from_utf8_lossy(&there).contains(report::MARK) {
        return Ok(());
    }
    Err(Stop::Input(format!(
        "error: {} is already there and is not a report of callup\n  help: give another name with -o, or move it away first\n",
        path.display()
    )))
}

fn compose(shared: &Shared, args: &Args, session: &Session) -> Result<Report, Stop> {
    let unusable = |e: &dyn std::fmt::Display| Stop::Input(format!("error: {e}\n"));
    let (models, scenario, budget) = (&session.models, &session.scenario, session.budget);
    let control = Arc::new(Control::default());
    let table = progress::watched(budget.draws, &control, |control| {
        StrikeTable::fill(models, std::slice::from_ref(&session.setting), budget, control)
    })
    .map_err(|e| unusable(&e))?;
    if control.stopped() {
        return Err(Stop::Failure("stopped: no report was written".into()));
    }
    let odds = odds::odds(models, &session.setting, &table, 0, budget.seed);
    let depths = depth::depths(scenario, models).map_err(|e| unusable(&e))?;
    let light = light::light(scenario, models, budget.seed, budget.fixed).map_err(|e| unusable(&e))?;
    let fixed = Assumed::of(models, &Worlds::fixed(models).draws[0]).map_err(|e| unusable(&e))?;
    let defaults = World::new(&session.setting, &fixed);
    let asked = session.asked();
    let mut sections =
        vec![report::answer(&asked, &odds, &defaults), report::losses(&asked, &odds, &defaults)];
    sections.extend(report::drivers(&odds));
    sections.extend([
        report::depths(&asked, &depths),
        report::light(&asked, &light),
        report::assumptions(models),
        report::sources(models),
        report::repeat(&asked, &command(shared, args), &session.file, &session.source),
        report::cautions(),
    ]);
    Ok(Report {
        title: scenario.title.clone(),
        finding: odds_answer::headline(&odds),
        conditions: asked.condition_lines().to_vec(),
        sections,
        run: format!("callup {}. {} A model, not a promise.", env!("CARGO_PKG_VERSION"), asked.run_line()),
    })
}

/// The command that writes this report again.
fn command(shared: &Shared, args: &Args) -> String {
    let mut words = vec!["callup report".to_owned()];
    words.extend(args.scenario.as_deref().map(quoted));
    words.push(format!("-o {}", quoted(&args.output.display().to_string())));
    words.extend(shared.set.iter().map(|set| format!("--set {}", quoted(set))));
    words.extend(shared.model.iter().map(|path| format!("--model {}", quoted(&path.display().to_string()))));
    words.push(format!("--seed {}", shared.seed));
    words.extend(shared.draws.map(|n| format!("--draws {n}")));
    words.extend(shared.points.map(|n| format!("--points {n}")));
    if shared.fixed {
        words.push("--fixed".into());
    }
    if shared.units == Units::Us {
        words.push("--units us".into());
    }
    words.join(" ")
}

/// A word as a POSIX shell takes it.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./=:".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        word.to_owned()
    } else {
        format!("'{}'", word.replace('\'', "'\\''"))
    }
}
