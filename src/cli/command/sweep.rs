//! `callup sweep`.

use super::ask::{answered, show_all};
use crate::cli::args::{Shared, Sweep as Args};
use crate::cli::session::{Session, budget};
use crate::cli::{Stop, draw, output};
use crate::study::Study;
use crate::study::axis::Wish;
use crate::study::sweep::{Cube, LINE_BUDGET, MAP_BUDGET, Varied};
use std::path::Path;

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
    session.budget = budget(shared, if alone { LINE_BUDGET } else { MAP_BUDGET });
    let wish = Wish { steps: if alone { LINE_STEPS } else { MAP_STEPS }, logarithmic: args.log };
    let study = Varied {
        axes: session.axes(&args.over, wish)?,
        baits: args.baits.clone(),
        against: args.against.clone(),
        resume: args.resume.as_deref().map(kept).transpose()?,
    };
    let (answer, _) = answered(shared, &session, &study)?;
    if let Some((cells, first)) = &answer.doubts {
        let (title, help) = (&first.title, &first.help);
        output::complain(&format!("warning: of {cells} cells it is doubtful whether {title}: {help}\n"));
    }
    let cube = &answer.cube;
    let unchanged = study.resume.as_ref().is_some_and(|(_, before)| *before == answer.kept);
    if let Some(path) = args.save.as_ref().or(args.resume.as_ref().filter(|_| !unchanged)) {
        draw::write_whole(path, &answer.kept).map_err(|e| Stop::Failure(e.to_string()))?;
        let (done, of) = (cube.done(), cube.cells.len());
        output::complain(&format!("kept {done} of {of} cells in {}\n", path.display()));
    }
    if cube.done() == 0 {
        return Err(Stop::Failure("stopped before the first cells were finished".into()));
    }
    if !cube.is_complete() {
        output::complain(&stopped(cube, args));
    }
    show_all(shared, &session, Varied::NAME, &answer, args.plot.as_deref())
}

/// A kept sweep: its name and its bytes.
fn kept(path: &Path) -> Result<(String, Vec<u8>), Stop> {
    let shown = path.display();
    let bytes = std::fs::read(path).map_err(|e| {
        Stop::Input(format!("error: cannot read {shown}: {e}\n  help: give a file written with --save\n"))
    })?;
    Ok((shown.to_string(), bytes))
}

fn stopped(cube: &Cube, args: &Args) -> String {
    let kept = args.save.as_ref().or(args.resume.as_ref());
    let next = match kept {
        Some(path) => format!("go on with --resume {}", path.display()),
        None => "with --save FILE a stopped sweep can be gone on with".into(),
    };
    format!("stopped: {} of {} cells are worked out, spread evenly; {next}\n", cube.done(), cube.cells.len())
}
