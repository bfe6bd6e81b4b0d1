//! `callup rules`.

use super::{plot, show};
use crate::cli::args::{Rules as Args, Shared};
use crate::cli::session::{Session, budget, read};
use crate::cli::{Stop, color, faults, output, progress};
use crate::engine::Budget;
use crate::engine::Control;
use crate::present::answers::rules as answer;
use crate::scenario::Catalogue;
use crate::scenario::diagnostic::{near, one_of, visible};
use crate::study::rules::answer::{answers, steps};
use crate::study::rules::map::{BUDGET as MAP_BUDGET, flip_map};
use crate::study::rules::plan::{Ground, Plan};
use crate::study::rules::{BUDGET, EMBEDDED, EMBEDDED_FILE, Rule, file};
use std::sync::Arc;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    if args.template {
        return output::print(EMBEDDED);
    }
    let mut session = Session::open(shared, args.scenario.as_deref())?;
    session.budget = budget(shared, BUDGET);
    let (source, name) = match &args.file {
        Some(path) => (read(path)?, path.display().to_string()),
        None => (EMBEDDED.to_owned(), EMBEDDED_FILE.to_owned()),
    };
    let color = color::stderr(shared.no_color);
    let bad = |all: &[crate::scenario::Diagnostic]| Stop::Faults(faults::render(all, &source, color));
    let rules = file::read(&source, &name, &Catalogue::of(&session.models)).map_err(|all| bad(&all))?;
    let rules = chosen(rules, &args.rule)?;
    if args.list {
        return output::print(&answer::list(&rules, output::width()));
    }
    let ground = Ground {
        source: &session.source,
        file: &session.file,
        overrides: &session.overrides,
        rule_file: &name,
    };
    let plan = Plan::new(rules, &ground, &session.models).map_err(|all| bad(&all))?;
    let control = Arc::new(Control::default());
    let budget = session.budget.as_run();
    // Whoever says how much to compute gets that.
    let longer = shared.draws.is_none() && shared.points.is_none();
    let steps = steps(&plan, budget, longer);
    let answered = progress::watched(steps, &control, |control| {
        answers(&plan, &session.models, budget, longer, control)
    })
    .map_err(|e| Stop::Input(format!("error: {e}\n  help: check the files given with --model\n")))?;
    let asked_for = plan.rules.len();
    if answered.is_empty() {
        return Err(Stop::Failure("stopped before the first rule was answered".into()));
    }
    if answered.len() < asked_for {
        output::complain(&format!("stopped: {} of {asked_for} rules are answered\n", answered.len()));
    }
    let asked = session.asked();
    show(
        shared,
        || answer::machine::json(&asked, &name, &answered, asked_for),
        || answer::machine::csv(&answered),
        || answer::text(&asked, &answered, asked_for),
    )?;
    let Some(folder) = &args.plot else { return Ok(()) };
    let worth = answer::pictures::worth_a_map(&answered);
    let budget =
        Budget { draws: budget.draws.min(MAP_BUDGET.0), points: budget.points.min(MAP_BUDGET.1), ..budget };
    let steps = control.done() + worth.len() * budget.as_run().draws;
    let maps = progress::watched(steps, &control, |control| {
        let map = |i: &usize| {
            let map = flip_map(&answered[*i], &ground, &session.models, budget, control);
            map.map(|m| Some((*i, m?))).transpose()
        };
        worth.iter().filter_map(map).collect::<Result<Vec<_>, _>>()
    });
    let maps = maps.map_err(|e| Stop::Failure(e.to_string()))?;
    plot(folder, &answer::pictures::pictures(&asked, &answered, &maps))
}

/// The rules asked for, in the order of the file; all for none.
fn chosen(rules: Vec<Rule>, wished: &[String]) -> Result<Vec<Rule>, Stop> {
    let ids: Vec<&str> = rules.iter().map(|r| r.id.as_str()).collect();
    let mut wrong = String::new();
    for id in wished.iter().filter(|w| !ids.contains(&w.as_str())) {
        let alike = near(id, ids.iter().copied());
        let help = match alike.is_empty() {
            true => "callup rules --list shows all".to_owned(),
            false => format!("did you mean {}?", one_of(&alike)),
        };
        wrong.push_str(&format!("error: there is no rule `{}`\n  help: {help}\n", visible(id)));
    }
    if !wrong.is_empty() {
        return Err(Stop::Input(wrong));
    }
    Ok(rules.into_iter().filter(|r| wished.is_empty() || wished.contains(&r.id)).collect())
}
