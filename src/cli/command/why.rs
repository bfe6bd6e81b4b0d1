//! `callup why`.

use super::{plot, show};
use crate::cli::args::{Shared, Why as Args};
use crate::cli::session::{Session, budget};
use crate::cli::{Stop, output, progress};
use crate::engine::Control;
use crate::present::answers::why as answer;
use crate::study::sweep::bait_of;
use crate::study::why::given::given;
use crate::study::why::{DRAWS, POINTS, Study, WhyError};
use std::sync::Arc;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    if shared.fixed {
        let help = "leave --fixed out; `callup odds --fixed` shows that one world";
        return Err(Stop::Input(format!("error: {}\n  help: {help}\n", WhyError::Fixed)));
    }
    let mut session = Session::open(shared, args.scenario.as_deref())?;
    session.budget = budget(shared, (DRAWS, POINTS));
    let pair = pair(&session, &args.baits)?;
    let study = Study::prepare(&session.models, &session.setting, session.budget).map_err(failed)?;
    let control = Arc::new(Control::default());
    let why =
        progress::watched(study.steps(), &control, |control| study.run(pair, control)).map_err(failed)?;
    if !why.complete {
        let lost = if why.parameters.is_none() { ", and only whole groups are told apart" } else { "" };
        output::complain(&format!("stopped: the answer rests on fewer scrambles than asked for{lost}\n"));
    }
    let asked = session.asked();
    let models = &session.models;
    let given = given(models, &session.scenario, (why.leader, why.next), session.budget.seed, &control)
        .map_err(failed)?;
    show(
        shared,
        || answer::json(&asked, models, &why, &given),
        || answer::csv(models, &why),
        || answer::text(&asked, models, &why, &given),
    )?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures(&asked, models, &why)),
        None => Ok(()),
    }
}

fn failed(error: WhyError) -> Stop {
    match error {
        WhyError::Models(e) => Stop::Input(format!("error: {e}\n")),
        other => Stop::Failure(other.to_string()),
    }
}

/// The two baits asked for, all that is wrong with them at once.
fn pair(session: &Session, wished: &[String]) -> Result<Option<(usize, usize)>, Stop> {
    let names: Vec<String> = session.setting.baits.iter().map(|b| b.name.clone()).collect();
    let mut wrong = String::new();
    let mut places = Vec::new();
    for name in wished {
        match bait_of(&names, name) {
            Ok(b) => places.push(b),
            Err(e) => wrong.push_str(&format!("error: --baits: {e}\n  help: {}\n", e.help())),
        }
    }
    match places.as_slice() {
        _ if !wrong.is_empty() => Err(Stop::Input(wrong)),
        [a, b] if a == b => Err(Stop::Input(format!(
            "error: --baits: both are {}\n  help: name two different baits of the box\n",
            names[*a]
        ))),
        [a, b] => Ok(Some((*a, *b))),
        _ => Ok(None),
    }
}
