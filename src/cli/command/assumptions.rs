//! `callup assumptions`.

use super::ask::{ask, show_all};
use crate::cli::Stop;
use crate::cli::args::{Assumptions, GradeArg, Shared};
use crate::cli::session::{Session, budget};
use crate::models::Grade;
use crate::present::wording::assumptions::{Listed, select};
use crate::scenario::diagnostic::visible;
use crate::scenario::library;
use crate::study::Study;
use crate::study::why::by_worth::ByWorthOf;

/// Runs it. A word that is a grade's name selects that grade.
pub(in crate::cli) fn run(shared: &Shared, args: &Assumptions) -> Result<(), Stop> {
    let mut session = Session::open(shared, None)?;
    if args.by_worth {
        session.budget = budget(shared, ByWorthOf::USUAL);
        let study = ByWorthOf { waters: waters(shared)?, all: args.all };
        return ask(shared, &session, &study, args.plot.as_deref()).map(drop);
    }
    let named = args.name.as_deref().and_then(|n| Grade::ALL.into_iter().find(|g| g.name() == n.trim()));
    let word = args.name.as_deref().filter(|_| named.is_none());
    let chosen = select(&session.models, word, args.grade.map(grade).or(named));
    if chosen.is_empty() {
        return Err(Stop::Input(format!(
            "error: no assumption has `{}` in its name or meaning\n  help: `callup assumptions` lists all\n",
            visible(args.name.as_deref().unwrap_or(""))
        )));
    }
    let listed = Listed { assumptions: chosen.into_iter().cloned().collect() };
    show_all(shared, &session, ByWorthOf::NAME, &listed, None)
}

/// Every embedded water, set up.
fn waters(shared: &Shared) -> Result<Vec<(String, crate::world::Prepared)>, Stop> {
    let one = |(name, _): &(&str, _)| {
        let text = library::get(name).unwrap_or_default().to_owned();
        Ok(((*name).to_owned(), Session::of(shared, (text, format!("scenarios/{name}.toml")))?.prepared))
    };
    library::list().iter().map(one).collect()
}

fn grade(arg: GradeArg) -> Grade {
    match arg {
        GradeArg::Measured => Grade::Measured,
        GradeArg::Inferred => Grade::Inferred,
        GradeArg::CommonPractice => Grade::CommonPractice,
        GradeArg::Guess => Grade::Guess,
    }
}
