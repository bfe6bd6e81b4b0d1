//! A question from the words typed to the answer shown: the same for every study.

use super::plot;
use crate::cli::args::Shared;
use crate::cli::session::Session;
use crate::cli::{Stop, color, faults, output, progress};
use crate::engine::Control;
use crate::present::wording::{Readable, machine};
use crate::scenario::diagnostic::printable;
use crate::study::{Study, Unanswered};
use std::path::Path;
use std::sync::Arc;

/// Answers a question; Ctrl-C ends the work.
pub(in crate::cli) fn answered<S: Study>(
    shared: &Shared,
    session: &Session,
    study: &S,
) -> Result<(S::Answer, Arc<Control>), Stop> {
    let control = Arc::new(Control::default());
    let on = session.context();
    let answer =
        progress::watched(study.steps(&on), &control, |control| study.run(&on, control)).map_err(|why| {
            match why {
                Unanswered::Input(what, help) if help.is_empty() => Stop::Input(format!("error: {what}\n")),
                Unanswered::Several(all) => Stop::Input(
                    all.iter().map(|(what, help)| format!("error: {what}\n  help: {help}\n")).collect(),
                ),
                Unanswered::Input(what, help) => Stop::Input(format!("error: {what}\n  help: {help}\n")),
                Unanswered::Faults { over, faults: all, source } => {
                    let source = source.as_ref().unwrap_or(&session.source);
                    let over = over.map(|(what, help)| format!("error: {what}\n  help: {help}\n\n"));
                    let drawn = faults::render(&all, source, color::stderr(shared.no_color));
                    Stop::Faults((printable(&over.unwrap_or_default()) + &drawn).trim_end().to_owned() + "\n")
                }
                Unanswered::Failed(what) => Stop::Failure(what),
            }
        })?;
    Ok((answer, control))
}

/// Answers a question about a scenario and shows it in the form asked for, and its pictures where a folder is given.
pub(in crate::cli) fn ask<S>(
    shared: &Shared,
    session: &Session,
    study: &S,
    folder: Option<&Path>,
) -> Result<S::Answer, Stop>
where
    S: Study,
    S::Answer: Readable,
{
    let (answer, control) = answered(shared, session, study)?;
    if control.stopped() && !answer.rests_on().is_empty() {
        output::complain(&printable(&format!("stopped: the answer rests on {} only\n", answer.rests_on())));
    }
    show_all(shared, session, S::NAME, &answer, folder)?;
    Ok(answer)
}

/// Shows an answer in the form asked for, and its pictures where a folder is given.
pub(in crate::cli) fn show_all(
    shared: &Shared,
    session: &Session,
    name: &str,
    answer: &impl Readable,
    folder: Option<&Path>,
) -> Result<(), Stop> {
    let view = session.view();
    super::show(
        shared,
        || machine(name, &view, answer),
        || answer.spreadsheet(&view),
        || answer.document(&view).terminal(view.width),
    )?;
    folder.map_or(Ok(()), |folder| plot(folder, &answer.pictures(&view)))
}
