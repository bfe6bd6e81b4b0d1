//! `callup sweep`.

use super::{plot, show};
use crate::cli::args::{Shared, Sweep as Args};
use crate::cli::session::{Session, budget};
use crate::cli::{Stop, color, draw, faults, output, progress};
use crate::engine::table::Control;
use crate::present::answers::sweep as answer;
use crate::scenario::diagnostic::printable;
use crate::scenario::{Catalogue, paths};
use crate::study::axis::{Axis, Wish};
use crate::study::sweep::reading::Answer;
use crate::study::sweep::{Cube, LINE_BUDGET, MAP_BUDGET, Request, Sweep, SweepError};
use std::path::Path;
use std::sync::Arc;

/// Steps of one axis, and of each of two, where none are given.
const LINE_STEPS: usize = 25;
const MAP_STEPS: usize = 24;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let mut session = Session::open(shared, args.scenario.as_deref())?;
    let alone = args.over.len() < 2;
    if let Some(path) = &args.save {
        output::may_replace(path, crate::study::sweep::file::MARK, "a kept sweep of callup")?;
    }
    let (draws, points) = if alone { LINE_BUDGET } else { MAP_BUDGET };
    session.budget = budget(shared, (draws, points));
    let wish = Wish { steps: if alone { LINE_STEPS } else { MAP_STEPS }, logarithmic: args.log };
    let request = Request {
        source: &session.source,
        file: &session.file,
        overrides: &session.overrides,
        models: &session.models,
        axes: axes(&session, &args.over, wish)?,
        baits: &args.baits,
        budget: session.budget,
    };
    let bad = |e: SweepError| refused(&e, &session.source, color::stderr(shared.no_color));
    let sweep = Sweep::prepare(request).map_err(bad)?;
    doubts(&sweep);
    let mut cube = match &args.resume {
        Some(path) => resumed(&sweep, path)?,
        None => sweep.cube(),
    };
    let against = args.against.as_deref().map(|a| sweep_bait(&cube, a)).transpose().map_err(bad)?;
    let control = Arc::new(Control::default());
    let before = cube.done();
    progress::watched(sweep.steps(&cube), &control, |control| sweep.run(&mut cube, control)).map_err(bad)?;
    if let Some(path) = args.save.as_ref().or(args.resume.as_ref().filter(|_| cube.done() > before)) {
        draw::write_whole(path, &sweep.to_bytes(&cube)).map_err(|e| Stop::Failure(e.to_string()))?;
        output::complain(&format!(
            "kept {} of {} cells in {}\n",
            cube.done(),
            cube.cells.len(),
            path.display()
        ));
    }
    if cube.done() == 0 {
        return Err(Stop::Failure("stopped before the first cells were finished".into()));
    }
    if !cube.is_complete() {
        output::complain(&stopped(&cube, args));
    }
    let hours = sweep.hours(&session.scenario).map_err(bad)?;
    let answered = Answer::of(cube, against).with_hours(hours.as_ref());
    let asked = session.asked();
    show(
        shared,
        || answer::machine::json(&asked, &answered),
        || answer::machine::csv(&answered),
        || answer::text(&asked, &answered),
    )?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures::pictures(&asked, &answered)),
        None => Ok(()),
    }
}

fn axes(session: &Session, over: &[String], wish: Wish) -> Result<Vec<Axis>, Stop> {
    let settings = paths(&Catalogue::of(&session.models));
    let mut axes = Vec::new();
    let mut wrong = String::new();
    for text in over {
        match Axis::parse(text, wish, &settings) {
            Ok(axis) => axes.push(axis),
            Err(e) => wrong.push_str(&format!("error: --over: {e}\n  help: {}\n", e.help())),
        }
    }
    if wrong.is_empty() { Ok(axes) } else { Err(Stop::Input(wrong)) }
}

fn sweep_bait(cube: &Cube, name: &str) -> Result<usize, SweepError> {
    crate::study::sweep::bait_of(&cube.baits, name)
}

/// What is wrong, with what is wrong with the scenario of an impossible cell.
fn refused(error: &SweepError, source: &str, color: bool) -> Stop {
    let inner = match error {
        SweepError::Impossible { faults: all, .. } => faults::render(all, source, color),
        _ => String::new(),
    };
    let said = printable(&format!("error: {error}\n  help: {}\n\n", error.help()));
    Stop::Faults(format!("{said}{inner}").trim_end().to_owned() + "\n")
}

fn doubts(sweep: &Sweep) {
    if let Some((cells, first)) = &sweep.doubts {
        let help = &first.help;
        output::complain(&format!(
            "warning: of {cells} cells it is doubtful whether {}: {help}\n",
            first.title
        ));
    }
}

fn resumed(sweep: &Sweep, path: &Path) -> Result<Cube, Stop> {
    let shown = path.display();
    let bytes = std::fs::read(path).map_err(|e| {
        Stop::Input(format!("error: cannot read {shown}: {e}\n  help: give a file written with --save\n"))
    })?;
    sweep.read_bytes(&bytes).map_err(|e| Stop::Input(format!("error: {shown}: {e}\n")))
}

fn stopped(cube: &Cube, args: &Args) -> String {
    let kept = args.save.as_ref().or(args.resume.as_ref());
    let next = match kept {
        Some(path) => format!("go on with --resume {}", path.display()),
        None => "with --save FILE a stopped sweep can be gone on with".into(),
    };
    format!("stopped: {} of {} cells are worked out, spread evenly; {next}\n", cube.done(), cube.cells.len())
}
