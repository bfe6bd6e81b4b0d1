//! `callup report`.

use crate::cli::args::{Report as Args, Shared, Units};
use crate::cli::session::{Session, budget};
use crate::cli::{Stop, color, draw, faults, output, progress};
use crate::engine::Control;
use crate::engine::{Budget, Strikes};
use crate::models::Assumed;
use crate::present::report::{self, Recipe, Report, Section};
use crate::present::view::View;
use crate::present::wording::Readable;
use crate::scenario::diagnostic::printable;
use crate::scenario::{Catalogue, Diagnostic, library};
use crate::study::day::{self, Day, DayError, DayOf};
use crate::study::odds::Odds;
use crate::study::rules::answer::{Answer, RulesError, Tried, answers, steps as rule_steps};
use crate::study::rules::here::{Here, here};
use crate::study::rules::plan::{Ground, Plan};
use crate::study::rules::{EMBEDDED, EMBEDDED_FILE, file};
use crate::study::why::{self, Study, Why, WhyError};
use crate::study::{Study as _, Unanswered};
use crate::study::{depth, light, odds, trials};
use crate::world::World;
use std::sync::Arc;

/// Worlds and passes of a rule at one place, where nothing else is said: few passes in many worlds, since a verdict
/// counts worlds.
const RULES_BUDGET: (usize, usize) = (1024, 128);

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    output::may_replace(&args.output, report::MARK, "a report of callup")?;
    let session = Session::open(shared, args.scenario.as_deref())?;
    let html = compose(shared, args, &session)?.html();
    draw::write_whole(&args.output, html.as_bytes()).map_err(|e| Stop::Failure(e.to_string()))?;
    let kilobytes = html.len().div_ceil(1000);
    output::complain(&printable(&format!("wrote {} ({kilobytes} kB)\n", args.output.display())));
    Ok(())
}

/// What takes time, worked out under one control so that Ctrl-C ends all of it.
struct Worked {
    odds: Odds,
    rules: Result<Vec<Answer>, RulesError>,
    day: Result<Day, DayError>,
    why: Result<Why, WhyError>,
    trials: trials::answer::Answer,
    budgets: Budgets,
}

/// Each study's own worlds and passes, unless others are asked for.
#[derive(Clone, Copy)]
struct Budgets {
    rules: Budget,
    day: Budget,
    why: Budget,
}

impl Budgets {
    fn of(shared: &Shared) -> Self {
        let of = |usual| budget(shared, usual);
        Self { rules: of(RULES_BUDGET), day: of(DayOf::USUAL), why: of((why::DRAWS, why::POINTS)) }
    }
}

/// The rules claimed for such conditions, set up at these; and how many are claimed for others.
fn plan_rules(session: &Session, defaults: &World) -> Result<(Plan, usize), Vec<Diagnostic>> {
    let models = &session.models;
    let rules = file::read(EMBEDDED, EMBEDDED_FILE, &Catalogue::of(models))?;
    let ground = Ground {
        source: &session.source,
        file: &session.file,
        overrides: &session.overrides,
        rule_file: EMBEDDED_FILE,
    };
    let held = Here { scenario: &session.scenario, setting: &session.setting, secchi_m: defaults.secchi_m };
    let (own, others) = here(&rules, &held, &ground, models);
    Ok((Plan::new(own, &ground, models)?, others))
}

fn work(shared: &Shared, session: &Session, plan: &Plan) -> Result<Worked, Stop> {
    let (models, setting, budget) = (&session.models, &session.setting, session.budget);
    let budgets = Budgets::of(shared);
    let measured = super::trials::plans(shared, &[], models)?;
    // A rule that these worlds leave open takes more of them, unless somebody said how many.
    let longer = shared.draws.is_none() && shared.points.is_none();
    let study = match shared.fixed {
        true => Err(WhyError::Fixed),
        false => Study::prepare(models, setting, budgets.why),
    };
    let steps = budget.as_run().draws
        + rule_steps(plan, budgets.rules.as_run(), longer)
        + budgets.day.as_run().draws
        + study.as_ref().map_or(0, Study::steps)
        + trials::answer::steps(&measured, budget);
    let control = Arc::new(Control::default());
    let worked = progress::watched(steps, &control, |control| {
        let table = Strikes::of(models, std::slice::from_ref(setting), budget, control)?;
        Ok(Worked {
            odds: odds::odds(models, setting, &table, 0, budget.seed),
            rules: answers(plan, models, budgets.rules.as_run(), longer, control),
            day: day::day(&session.scenario, models, DayOf::default(), budgets.day, control),
            why: study.and_then(|study| study.run(None, control)),
            trials: trials::answer::answer(&measured, models, budget, control)?,
            budgets,
        })
    })
    .map_err(|e: crate::models::ModelsError| unusable(&e))?;
    if control.stopped() {
        return Err(Stop::Failure("stopped: no report was written".into()));
    }
    Ok(worked)
}

fn unusable(error: &dyn std::fmt::Display) -> Stop {
    Stop::Input(format!("error: {error}\n"))
}

fn compose(shared: &Shared, args: &Args, session: &Session) -> Result<Report, Stop> {
    let (models, scenario) = (&session.models, &session.scenario);
    let fixed = Assumed::defaults(models).map_err(|e| unusable(&e))?;
    let defaults = World::new(&session.setting, &fixed);
    let (plan, others) = plan_rules(session, &defaults)
        .map_err(|all| Stop::Faults(faults::render(&all, EMBEDDED, color::stderr(shared.no_color))))?;
    let worked = work(shared, session, &plan)?;
    let odds = &worked.odds;
    let refused = |why: Unanswered| match why {
        Unanswered::Input(what, _) => unusable(&what),
        _ => Stop::Failure("a part of the report could not be worked out".into()),
    };
    let (on, done) = (session.context(), Control::default());
    let depths = depth::Depth::default().run(&on, &done).map_err(refused)?;
    let light = light::LightOf.run(&on, &done).map_err(refused)?;
    let view = session.view();
    let guesses = worked.why.as_ref().map_or_else(|_| Vec::new(), |why| report::driving_guesses(models, why));
    // The finding and where fish are lost lead the whole report.
    let mut answer = odds.document(&view);
    let finding = std::mem::take(&mut answer.finding);
    let mut sections =
        vec![report::section("answer", "Which bait, and how sure", &answer, &odds.pictures(&view))];
    sections.extend(studies(&view, &worked, others));
    sections.extend([
        report::study("depths", "How deep they run", &view, &depths),
        report::study("light", "The light, and how far each finish is seen", &view, &light),
        report::assumptions(models, &guesses),
        report::sources(models),
        report::repeat(&view, &recipe(shared, args, session)),
        report::cautions(),
    ]);
    Ok(Report {
        title: scenario.title.clone(),
        finding,
        invented: library::list().iter().any(|(name, _)| library::get(name) == Some(session.source.as_str())),
        conditions: view.condition_lines().to_vec(),
        sections,
        run: format!("callup {}. {} A model, not a promise.", env!("CARGO_PKG_VERSION"), view.run_line()),
    })
}

/// The studies that were worked out; a failed one is named with its reason, `--fixed` has nothing to say on why.
fn studies(view: &View, worked: &Worked, others: usize) -> Vec<Section> {
    let with = |budget: Budget| View { budget: budget.as_run(), ..*view };
    let mut sections = vec![match &worked.rules {
        Ok(answers) => {
            let tried = Tried {
                file: EMBEDDED_FILE.to_owned(),
                asked_for: answers.len(),
                answers: answers.clone(),
                maps: Vec::new(),
                others: Some(others),
            };
            report::study("rules", "Rules of thumb, tried here", &with(worked.budgets.rules), &tried)
        }
        Err(e) => report::left_out("rules", "Rules of thumb, tried here", &e.to_string()),
    }];
    sections.push(match &worked.day {
        Ok(day) => report::study("day", "The day, from first light to dark", &with(worked.budgets.day), day),
        Err(e) => report::left_out("day", "The day, from first light to dark", &e.to_string()),
    });
    sections.extend(match &worked.why {
        Ok(why) => Some(report::study("why", "What drives the answer", &with(worked.budgets.why), why)),
        Err(WhyError::Fixed) => None,
        Err(e) => Some(report::left_out("why", "What drives the answer", &e.to_string())),
    });
    sections.push(report::study("trials", "Held against measurements by others", view, &worked.trials));
    sections
}

fn recipe(shared: &Shared, args: &Args, session: &Session) -> Recipe {
    let of = |name: &str, more: Option<String>| command(shared, args, name, more);
    let mut parts = vec![of("odds", None), of("day", None)];
    parts.extend((!shared.fixed).then(|| of("why", None)));
    parts.extend([of("depth", None), of("light", None)]);
    Recipe {
        command: of("report", Some(format!("-o {}", quoted(&args.output.display().to_string())))),
        parts,
        file: session.file.clone(),
        source: session.source.clone(),
        overrides: session.overrides.clone(),
        overlays: shared.model.iter().map(|path| path.display().to_string()).collect(),
    }
}

/// A command with the options of this run.
fn command(shared: &Shared, args: &Args, name: &str, more: Option<String>) -> String {
    let mut words = vec![format!("callup {name}")];
    words.extend(args.scenario.as_deref().map(quoted));
    words.extend(more);
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
