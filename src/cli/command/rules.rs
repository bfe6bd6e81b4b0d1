//! `callup rules`.

use super::ask::{answered, show_all};
use crate::cli::args::{Rules as Args, Shared};
use crate::cli::session::{Session, budget, read};
use crate::cli::{Stop, color, faults, output};
use crate::present::wording::rules::list;
use crate::scenario::Catalogue;
use crate::scenario::diagnostic::{near, one_of, visible};
use crate::study::Study;
use crate::study::rules::answer::RulesOf;
use crate::study::rules::plan::{Ground, Plan};
use crate::study::rules::{BUDGET, EMBEDDED, EMBEDDED_FILE, Rule, file};

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
        return output::print(&list(&rules, session.units).terminal(output::width()));
    }
    let ground = Ground {
        source: &session.source,
        file: &session.file,
        overrides: &session.overrides,
        rule_file: &name,
    };
    let plan = Plan::new(rules, &ground, &session.models).map_err(|all| bad(&all))?;
    // Whoever says how much to compute gets that.
    let longer = shared.worlds.is_none() && shared.passes.is_none();
    let study = RulesOf { plan: &plan, ground: &ground, longer, maps: args.plot.is_some(), others: None };
    let (tried, _) = answered(shared, &session, &study)?;
    let (done, asked_for) = (tried.answers.len(), tried.asked_for);
    if done < asked_for {
        output::complain(&format!("stopped: {done} of {asked_for} rules are answered\n"));
    }
    show_all(shared, &session, RulesOf::NAME, &tried, args.plot.as_deref())
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
