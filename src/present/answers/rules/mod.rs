//! Rules of thumb: how many hold, and of each what the model says, in a sentence that can be quoted.

pub mod machine;
pub mod pictures;
pub mod sentences;

use super::{Asked, CAUTION, circularity};
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::statistics::verdict::{Unclear, Verdict};
use crate::study::rules::answer::Answer;
use crate::study::rules::{Rule, Test};

/// The verdicts in the order of the page: what is said of one rule, of one and of several.
const ORDER: &[(Verdict, &str, &str, &str)] = &[
    (Verdict::Holds, "holds", "holds", "hold"),
    (Verdict::HoldsWeakly, "holds weakly", "holds weakly", "hold weakly"),
    (Verdict::Reversed, "reversed", "is reversed", "are reversed"),
    (Verdict::DependsOnConditions, "depends on conditions", "depends on conditions", "depend on conditions"),
    (
        Verdict::NoDifferenceThatMatters,
        "no difference that matters",
        "makes no difference that matters",
        "make no difference that matters",
    ),
    (
        Verdict::CannotTell(Unclear::AssumptionsDisagree),
        "cannot tell: assumptions disagree",
        "cannot be told because the assumptions disagree",
        "cannot be told because the assumptions disagree",
    ),
    (
        Verdict::CannotTell(Unclear::SimulationNoise),
        "cannot tell: simulation noise",
        "cannot be told without more simulation",
        "cannot be told without more simulation",
    ),
];

/// A verdict in two or three words; the same in machine output.
pub fn verdict_words(verdict: Verdict) -> &'static str {
    ORDER.iter().find(|o| o.0 == verdict).map_or("cannot tell", |o| o.1)
}

/// How many rules hold, and how many do not: one sentence.
pub fn headline(answers: &[Answer]) -> String {
    let parts: Vec<String> = ORDER
        .iter()
        .filter_map(|(verdict, _, one, several)| {
            match answers.iter().filter(|a| a.reading.verdict == *verdict).count() {
                0 => None,
                1 => Some(format!("1 {one}")),
                n => Some(format!("{n} {several}")),
            }
        })
        .collect();
    format!("Of {} rules of thumb {}.", answers.len(), words::list(&parts))
}

/// What the model contradicts, rule by rule; nothing where it contradicts none.
pub(in crate::present) fn contrary(answers: &[Answer]) -> Option<String> {
    let reversed: Vec<String> = answers
        .iter()
        .filter(|a| a.reading.verdict == Verdict::Reversed)
        .map(|a| format!("\"{}\"", a.rule.says))
        .collect();
    match reversed.as_slice() {
        [] => None,
        all => Some(format!(
            "Contrary to what anglers are told, the model says the opposite of {}.",
            words::list(all)
        )),
    }
}

/// A verdict in the narrow column of a table.
fn briefly(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::NoDifferenceThatMatters => "no difference",
        Verdict::DependsOnConditions => "depends",
        Verdict::CannotTell(_) => "cannot tell",
        other => verdict_words(other),
    }
}

/// The whole answer as text; `asked_for` is how many rules were asked for.
pub fn text(asked: &Asked, answers: &[Answer], asked_for: usize) -> String {
    let mut out = match answers {
        [one] => asked.wrapped(&one.rule.says),
        _ => asked.wrapped(&headline(answers)),
    };
    if answers.len() < asked_for {
        let told = format!("Stopped: {} of {asked_for} rules are answered, each in full.", answers.len());
        out.push_str(&asked.wrapped(&told));
    }
    if answers.len() > 1 {
        if let Some(contrary) = contrary(answers) {
            out.push_str(&asked.wrapped(&contrary));
        }
        out.push('\n');
        out.push_str(&overview(answers).terminal(asked.width));
        out.push_str(&asked.wrapped(
            "More in 100: strikes in 100 passes of the first side less the other (of a rule that claims no difference, \
             the size of the difference): middle of the plausible worlds, and where nine in ten of them lie. Ahead: \
             share of plausible worlds in which the rule points the right way.",
        ));
    }
    for (verdict, title, _, _) in ORDER {
        let group: Vec<&Answer> = answers.iter().filter(|a| a.reading.verdict == *verdict).collect();
        if group.is_empty() {
            continue;
        }
        out.push_str(&format!("\n{}\n", title.to_uppercase()));
        for answer in group {
            if answers.len() > 1 {
                out.push('\n');
                out.push_str(&asked.wrapped(&format!("{} [{}]", answer.rule.says, answer.rule.id)));
            }
            for line in paragraphs(asked, answer, answers.len() == 1) {
                indented(&mut out, asked, &line);
            }
        }
    }
    out.push('\n');
    for note in notes(asked, answers) {
        out.push_str(&asked.wrapped(&note));
    }
    out.push('\n');
    out.push_str(&asked.wrapped(CAUTION));
    out
}

fn indented(out: &mut String, asked: &Asked, text: &str) {
    let narrower = Asked { width: asked.width.saturating_sub(2), ..*asked };
    for line in narrower.wrapped(text).lines() {
        out.push_str(&format!("  {line}\n"));
    }
}

/// What is said of one rule.
pub(in crate::present) fn paragraphs(asked: &Asked, answer: &Answer, alone: bool) -> Vec<String> {
    let mut all = vec![sentences::finding(asked, answer)];
    all.extend(sentences::remedy(answer));
    all.extend(sentences::turns(asked, answer));
    let source = match answer.rule.source.as_str() {
        "" => String::new(),
        source => format!(" ({})", source.trim_end_matches('.')),
    };
    let rests = match alone {
        true => circularity::sentence(&answer.rests_on),
        false => format!("Rests on: {}.", circularity::line(&answer.rests_on)),
    };
    all.push(rests);
    all.push(format!("Literature: {}{source}.", answer.rule.literature.label()));
    if alone {
        all.push(sentences::claimed(asked, answer));
    }
    all
}

pub(in crate::present) fn overview(answers: &[Answer]) -> Table {
    let mut table = Table::new(vec![
        Column::text("rule"),
        Column::text("verdict"),
        Column::number("more in 100"),
        Column::number("ahead"),
        Column::text("rests on"),
        Column::text("literature"),
    ]);
    for answer in answers {
        let r = &answer.reading;
        let e = &r.effect;
        let effect = format!("{} ({} to {})", signed(e.point), signed(e.low), signed(e.high));
        table.push([
            answer.rule.id.clone(),
            briefly(r.verdict).to_owned(),
            effect,
            format!("{:.0} %", 100.0 * r.holds_share),
            sentences::rests_briefly(&answer.rests_on),
            answer.rule.literature.label().to_owned(),
        ]);
    }
    table
}

/// "+0.8", "−1.2", "0": a tenth is all that is known.
fn signed(x: f64) -> String {
    let tenths = (10.0 * x).round() / 10.0;
    let size = if tenths.abs() < 9.95 { format!("{:.1}", tenths.abs()) } else { format!("{:.0}", x.abs()) };
    match tenths {
        t if t > 0.0 => format!("+{size}"),
        t if t < 0.0 => format!("−{size}"),
        _ => "0".into(),
    }
}

fn notes(asked: &Asked, answers: &[Answer]) -> Vec<String> {
    let luck = answers.iter().map(|a| a.reading.effect.simulation_se).fold(0.0, f64::max);
    let base = format!(
        "What a rule does not name is as in the scenario: {}.",
        asked.scenario.title.trim_end_matches('.')
    );
    let points = match answers.iter().map(|a| a.differences.by_condition.len()).max() {
        Some(n) if n > 1 => {
            format!(" Each rule is tried in up to {n} conditions spread over those it is claimed for.")
        }
        _ => String::new(),
    };
    let timed = match answers.iter().filter(|a| a.reading.per_hour.is_some()).count() {
        0 => "",
        _ => {
            " Sides that differ in pause, speed or cast are compared at equal time, in 100 passes at the pace of the scenario."
        }
    };
    let longer = match answers.iter().max_by_key(|a| a.draws) {
        Some(a) if a.draws > asked.budget.draws && !asked.budget.fixed => {
            format!(" Rules that these left open took {} worlds of {}.", a.draws, a.points)
        }
        _ => String::new(),
    };
    let mut notes = vec![format!("{}{longer}{points}{timed}", asked.run_line()), base];
    if !asked.budget.fixed {
        notes.push(format!(
            "The luck of the simulation moves these middles by {} in 100 or less (one standard error); it shrinks with \
             --draws and --points. What nobody knows about fish makes the ranges; that does not shrink.",
            words::two_digits((10.0 * luck).ceil().max(1.0) / 10.0)
        ));
    }
    if answers.len() > 1 {
        notes.push(
            "callup rules --rule NAME tells more of one rule; callup rules FILE tries your own.".into(),
        );
    }
    notes
}

/// The rules without an answer.
pub fn list(rules: &[Rule], width: usize) -> String {
    let mut table = Table::new(vec![Column::text("rule"), Column::text("says"), Column::text("literature")]);
    for rule in rules {
        let says = match &rule.test {
            Test::Sides { .. } => rule.says.clone(),
            Test::Direction { axis, .. } => format!("{} (over {})", rule.says, axis.path),
        };
        table.push([rule.id.clone(), says, rule.literature.label().to_owned()]);
    }
    table.terminal(width)
}
