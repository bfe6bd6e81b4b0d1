//! `callup report`.

use crate::cli::args::{Report as Args, Shared, Units};
use crate::cli::session::{Session, budget};
use crate::cli::{Stop, color, draw, faults, output, progress};
use crate::engine::{Budget, Control};
use crate::models::Assumed;
use crate::present::report::{self, Recipe, Report, Section};
use crate::present::view::View;
use crate::present::wording::Readable;
use crate::scenario::diagnostic::printable;
use crate::scenario::{Catalogue, Diagnostic, library};
use crate::study::day::DayOf;
use crate::study::depth::Depth;
use crate::study::light::LightOf;
use crate::study::odds::OddsOf;
use crate::study::rules::answer::RulesOf;
use crate::study::rules::here::{Here, here};
use crate::study::rules::plan::{Ground, Plan};
use crate::study::rules::{EMBEDDED, EMBEDDED_FILE, file};
use crate::study::trials::answer::TrialsOf;
use crate::study::why::WhyOf;
use crate::study::{Context, Study, Unanswered};
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

/// The rules claimed for such conditions, set up at these; and how many are claimed for others.
fn plan_rules(
    session: &Session,
    ground: &Ground,
    defaults: &World,
) -> Result<(Plan, usize), Vec<Diagnostic>> {
    let models = &session.models;
    let rules = file::read(EMBEDDED, EMBEDDED_FILE, &Catalogue::of(models))?;
    let held = Here { scenario: &session.scenario, prepared: &session.prepared, secchi_m: defaults.secchi_m };
    let (own, others) = here(&rules, &held, ground, models);
    Ok((Plan::new(own, ground, models)?, others))
}

/// What the parts of a report are worked out with.
struct Parts<'a> {
    shared: &'a Shared,
    on: Context<'a>,
    view: View<'a>,
    control: &'a Control,
}

impl Parts<'_> {
    /// The context of a study with its own worlds and passes, unless others are asked for.
    fn with(&self, usual: (usize, usize)) -> Context<'_> {
        Context { budget: budget(self.shared, usual), ..self.on }
    }

    /// A study as a section; one that fails is named with its reason.
    fn part<S: Study>(&self, id: &'static str, title: &str, study: &S, usual: (usize, usize)) -> Section
    where
        S::Answer: Readable,
    {
        let on = self.with(usual);
        let view = View { budget: on.budget.as_run(), ..self.view };
        match study.run(&on, self.control) {
            Ok(answer) => report::study(id, title, &view, &answer),
            Err(Unanswered::Input(why, _) | Unanswered::Failed(why)) => report::left_out(id, title, &why),
            Err(_) => report::left_out(id, title, "it could not be worked out"),
        }
    }
}

fn compose(shared: &Shared, args: &Args, session: &Session) -> Result<Report, Stop> {
    let unusable = |error: &dyn std::fmt::Display| Stop::Input(format!("error: {error}\n"));
    let models = &session.models;
    let fixed = Assumed::defaults(models).map_err(|e| unusable(&e))?;
    let defaults = World::new(&session.prepared, &fixed);
    let ground = Ground {
        source: &session.source,
        file: &session.file,
        overrides: &session.overrides,
        rule_file: EMBEDDED_FILE,
    };
    let (plan, others) = plan_rules(session, &ground, &defaults)
        .map_err(|all| Stop::Faults(faults::render(&all, EMBEDDED, color::stderr(shared.no_color))))?;
    let measured = super::trials::plans(shared, &[], models)?;
    // A rule that these worlds leave open takes more of them, unless somebody said how many.
    let longer = shared.worlds.is_none() && shared.passes.is_none();
    let rules = RulesOf { plan: &plan, ground: &ground, longer, maps: false, others: Some(others) };
    let (day, why, trials) = (DayOf::default(), WhyOf::default(), TrialsOf(&measured));
    let control = Arc::new(Control::default());
    let all = Parts { shared, on: session.context(), view: session.view(), control: &control };
    let own = (Budget::default().worlds, Budget::default().passes);
    let steps = OddsOf.steps(&all.on)
        + rules.steps(&all.with(RULES_BUDGET))
        + day.steps(&all.with(DayOf::USUAL))
        + if shared.fixed { 0 } else { why.steps(&all.with(WhyOf::USUAL)) }
        + trials.steps(&all.on);
    let worked =
        progress::watched(steps, &control, |control| {
            let odds = OddsOf.run(&all.on, control)?;
            let mut studies = vec![
                all.part("rules", "Rules of thumb, tried here", &rules, RULES_BUDGET),
                all.part("day", "The day, from first light to dark", &day, DayOf::USUAL),
            ];
            // One world has no spread to explain.
            let explained = if shared.fixed { None } else { why.run(&all.with(WhyOf::USUAL), control).ok() };
            let guesses = explained.as_ref().map_or_else(Vec::new, report::driving_guesses);
            let budget = all.with(WhyOf::USUAL).budget.as_run();
            studies.extend(explained.map(|why| {
                report::study("why", "What drives the answer", &View { budget, ..all.view }, &why)
            }));
            studies.extend([
                all.part("trials", "Held against measurements by others", &trials, own),
                all.part("depths", "How deep they run", &Depth::default(), own),
                all.part("light", "The light, and how far each finish is seen", &LightOf, own),
            ]);
            Ok::<_, Unanswered>((odds, studies, guesses))
        });
    if control.stopped() {
        return Err(Stop::Failure("stopped: no report was written".into()));
    }
    let (odds, studies, guesses) =
        worked.map_err(|_| Stop::Failure("the odds could not be worked out".into()))?;
    let view = session.view();
    // The finding leads the whole report.
    let mut answer = odds.document(&view);
    let finding = std::mem::take(&mut answer.finding);
    let mut sections =
        vec![report::section("answer", "Which bait, and how sure", &answer, &odds.pictures(&view))];
    sections.extend(studies);
    sections.extend([
        report::assumptions(models, &guesses, view.units),
        report::sources(models),
        report::repeat(&view, &recipe(shared, args, session)),
        report::cautions(),
    ]);
    Ok(Report {
        title: session.scenario.title.clone(),
        finding,
        invented: library::list().iter().any(|(name, _)| library::get(name) == Some(session.source.as_str())),
        conditions: view.condition_lines().to_vec(),
        sections,
        run: format!("callup {}. {} A model, not a promise.", env!("CARGO_PKG_VERSION"), view.run_line()),
    })
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
    words.extend(shared.worlds.map(|n| format!("--worlds {n}")));
    words.extend(shared.passes.map(|n| format!("--passes {n}")));
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
