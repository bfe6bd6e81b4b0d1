//! `callup assumptions`.

use super::show;
use crate::cli::args::{Assumptions, GradeArg, Shared};
use crate::cli::{Stop, output, session};
use crate::models::Grade;
use crate::present::answers::assumptions as answer;

/// Runs it. A word that is a grade's name selects that grade.
pub(in crate::cli) fn run(shared: &Shared, args: &Assumptions) -> Result<(), Stop> {
    if args.by_worth {
        return super::by_worth::run(shared, args);
    }
    let models = session::models(shared)?;
    let named = args.name.as_deref().and_then(|n| Grade::ALL.into_iter().find(|g| g.name() == n.trim()));
    let grade = args.grade.map(grade).or(named);
    let word = args.name.as_deref().filter(|_| named.is_none());
    let chosen = answer::select(&models, word, grade);
    if chosen.is_empty() {
        let shown = crate::scenario::diagnostic::visible(args.name.as_deref().unwrap_or(""));
        return Err(Stop::Input(format!(
            "error: no assumption has `{shown}` in its name or meaning\n  help: `callup assumptions` lists all\n"
        )));
    }
    show(
        shared,
        || answer::json(&chosen),
        || answer::csv(&chosen),
        || {
            let list = if chosen.len() <= 3 {
                chosen.iter().map(|p| answer::detail(p)).collect::<Vec<_>>().join("\n")
            } else {
                answer::table(&chosen).terminal(output::width())
            };
            format!(
                "{}\n\n{list}\nA narrower word shows the sources too; --csv and --json hold everything. low and high \
                 are the 5 % and 95 % points.\n",
                answer::count(&chosen)
            )
        },
    )
}

fn grade(arg: GradeArg) -> Grade {
    match arg {
        GradeArg::Measured => Grade::Measured,
        GradeArg::Inferred => Grade::Inferred,
        GradeArg::CommonPractice => Grade::CommonPractice,
        GradeArg::Guess => Grade::Guess,
    }
}
