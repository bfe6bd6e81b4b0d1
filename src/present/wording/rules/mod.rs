//! Rules of thumb: how many hold, and of each what the model says, in a sentence that can be quoted.

#[cfg(feature = "cli")]
mod pictures;
mod sentences;

use super::{Readable, attribution};
use crate::present::columns::{Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::statistics::verdict::{Unclear, Verdict};
use crate::study::rules::answer::{Answer, Tried};
use crate::study::rules::{Rule, Test};
use crate::units::UnitSystem;

/// The verdicts in the order of the page: what is said of one rule and of several.
const ORDER: &[(Verdict, &str, &str)] = &[
    (Verdict::Holds, "holds", "hold"),
    (Verdict::HoldsWeakly, "holds weakly", "hold weakly"),
    (Verdict::Reversed, "is reversed", "are reversed"),
    (Verdict::DependsOnConditions, "depends on conditions", "depend on conditions"),
    (Verdict::NoDifferenceThatMatters, "makes no difference that matters", "make no difference that matters"),
    (
        Verdict::CannotTell(Unclear::AssumptionsDisagree),
        "cannot be told because the assumptions disagree",
        "cannot be told because the assumptions disagree",
    ),
    (
        Verdict::CannotTell(Unclear::SimulationNoise),
        "cannot be told without more simulation",
        "cannot be told without more simulation",
    ),
];

/// How many rules hold, and how many do not: one sentence.
fn headline(answers: &[Answer]) -> String {
    let parts: Vec<String> = ORDER
        .iter()
        .filter_map(|(verdict, one, several)| {
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
fn contrary(answers: &[Answer]) -> Option<String> {
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
        other => other.words(),
    }
}

/// What the columns of the table of rules say.
const COLUMNS: &str = "More in 100: strikes in 100 passes of the first side less the other (of a rule that claims no \
    difference, the size of the difference): middle of the plausible worlds, and where nine in ten of them lie. Ahead: \
    share of plausible worlds in which the rule points the right way.";

impl Readable for Tried {
    fn document(&self, view: &View) -> Document {
        match (self.others, self.answers.as_slice()) {
            (Some(others), _) => return here(self, others, view),
            (None, [one]) => return alone(self, one, view),
            _ => {}
        }
        let mut out = Document::new([], headline(&self.answers));
        out.texts(stopped(self)).texts(contrary(&self.answers)).figure("rules");
        out.plain_table("Each rule, by its short name", overview(&self.answers, view));
        out.text(COLUMNS);
        for (verdict, ..) in ORDER {
            let group: Vec<&Answer> = self.answers.iter().filter(|a| a.reading.verdict == *verdict).collect();
            if !group.is_empty() {
                out.paragraphs([verdict.words().to_uppercase()]);
            }
            for answer in group {
                let mut inner = Document::default();
                inner.texts(paragraphs(view, answer, false));
                out.folded(format!("{} [{}]", answer.rule.says, answer.rule.id), inner);
            }
        }
        let mut notes = notes(view, &self.answers).into_iter();
        out.paragraphs(notes.next()).texts(notes);
        out
    }

    /// One row for each rule.
    fn spreadsheet(&self, _view: &View) -> Table {
        let hour = |k: usize| move |a: &Answer| a.reading.per_hour.map(|h| h[k]);
        let columns = [
            raw("id", |a: &Answer| a.rule.id.clone()),
            raw("says", |a: &Answer| a.rule.says.clone()),
            raw("verdict", |a: &Answer| a.reading.verdict.words()),
            raw("holds_share", |a: &Answer| a.reading.holds_share),
            raw("matters_share", |a: &Answer| a.reading.matters_share),
            raw("against_share", |a: &Answer| a.reading.against_share),
            raw("median", |a: &Answer| a.reading.effect.point),
            raw("low", |a: &Answer| a.reading.effect.low),
            raw("high", |a: &Answer| a.reading.effect.high),
            raw("simulation_se", |a: &Answer| a.reading.effect.simulation_se),
            raw("rests_on", |a: &Answer| a.rests_on.flag().name()),
            raw("assumption", |a: &Answer| a.rests_on.restated().map(|c| c.name.clone())),
            raw("literature", |a: &Answer| a.rule.literature.label()),
            raw("flip_share", |a: &Answer| a.flip.share),
            raw("judged", |a: &Answer| if a.reading.per_hour.is_some() { "per hour" } else { "per pass" }),
            raw("per_hour_a", hour(0)),
            raw("per_hour_b", hour(1)),
        ];
        spreadsheet(&columns, &self.answers)
    }

    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }
}

fn stopped(tried: &Tried) -> Option<String> {
    let (done, asked_for) = (tried.answers.len(), tried.asked_for);
    (done < asked_for).then(|| format!("Stopped: {done} of {asked_for} rules are answered, each in full."))
}

/// One rule, in full.
fn alone(tried: &Tried, answer: &Answer, view: &View) -> Document {
    let mut out = Document::new([], answer.rule.says.as_str());
    out.texts(stopped(tried)).figure(format!("rule-{}", answer.rule.id));
    let mut inner = Document::default();
    inner.texts(paragraphs(view, answer, true));
    out.folded(answer.reading.verdict.words().to_uppercase(), inner);
    let mut notes = notes(view, &tried.answers).into_iter();
    out.paragraphs(notes.next()).texts(notes);
    out
}

/// The rules that are claimed for such conditions, tried at one place; `others` are claimed for other conditions.
fn here(tried: &Tried, others: usize, view: &View) -> Document {
    let answers = &tried.answers;
    let mut out = Document::default();
    if answers.is_empty() {
        out.text("No rule of thumb in the list is claimed for such conditions.");
    } else {
        out.texts((answers.len() == 1).then(|| headline(answers))).texts(contrary(answers)).figure("rules");
        out.plain_table("Each rule at these conditions, by its short name", overview(answers, view));
        for answer in answers {
            // Where it turns is asked over all the conditions it is claimed for, and not answered by one of them.
            let turns = sentences::turns(view, answer);
            let lines = paragraphs(view, answer, false).into_iter();
            let mut one = Document::default();
            one.texts(lines.filter(|line| Some(line) != turns.as_ref()));
            out.folded(answer.rule.says.as_str(), one);
        }
    }
    out.text(format!(
        "{COLUMNS} Rests on: whether a finding follows from optics, mechanics and measurement, or only gives back what \
         was assumed."
    ));
    let left_out = match others {
        0 => String::new(),
        n => {
            let rules = words::count(n, "rule is claimed", "rules are claimed");
            format!("{rules} for other conditions than these and left out.")
        }
    };
    out.text(format!(
        "Each is tried at this hour, in this water, for these fish, and nowhere else: it may turn elsewhere. {left_out} \
         `callup rules` tries each over all the conditions it is claimed for and says where it turns."
    ));
    let longer = match answers.iter().map(|a| a.draws).max() {
        Some(most) if most > view.budget.worlds => format!(" Rules that these left open took {most} worlds."),
        _ => String::new(),
    };
    out.text(format!("{}{longer}", view.run_line()));
    out
}

/// What is said of one rule.
fn paragraphs(view: &View, answer: &Answer, alone: bool) -> Vec<String> {
    let mut all = vec![sentences::finding(view, answer)];
    all.extend(sentences::remedy(answer));
    all.extend(sentences::turns(view, answer));
    let source = match answer.rule.source.as_str() {
        "" => String::new(),
        source => format!(" ({})", source.trim_end_matches('.')),
    };
    let rests = match alone {
        true => attribution::sentence(&answer.rests_on),
        false => format!("Rests on: {}.", attribution::line(&answer.rests_on)),
    };
    all.push(rests);
    all.push(format!("Literature: {}{source}.", answer.rule.literature.label()));
    if alone {
        all.push(sentences::claimed(view, answer));
    }
    all
}

fn overview(answers: &[Answer], view: &View) -> Table {
    let effect = |a: &Answer| {
        let e = &a.reading.effect;
        format!("{} ({} to {})", signed(e.point), signed(e.low), signed(e.high))
    };
    let columns = [
        column("", "rule", Kind::Text, |a: &Answer| a.rule.id.clone()),
        column("", "verdict", Kind::Text, |a: &Answer| briefly(a.reading.verdict)),
        column("", "more in 100", Kind::Right, effect),
        column("", "ahead", Kind::Percent, |a: &Answer| a.reading.holds_share),
        column("", "rests on", Kind::Text, |a: &Answer| sentences::rests_briefly(&a.rests_on)),
        column("", "literature", Kind::Text, |a: &Answer| a.rule.literature.label()),
    ];
    read(&columns, answers, view.units)
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

fn notes(view: &View, answers: &[Answer]) -> Vec<String> {
    let luck = answers.iter().map(|a| a.reading.effect.simulation_se).fold(0.0, f64::max);
    let base = format!(
        "What a rule does not name is as in the scenario: {}.",
        view.scenario.title.trim_end_matches('.')
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
        Some(a) if a.draws > view.budget.worlds && !view.budget.fixed => {
            format!(" Rules that these left open took {} worlds of {}.", a.draws, a.points)
        }
        _ => String::new(),
    };
    let mut notes = vec![format!("{}{longer}{points}{timed}", view.run_line()), base];
    if !view.budget.fixed {
        notes.push(format!(
            "The luck of the simulation moves these middles by {} in 100 or less (one standard error); it shrinks with \
             --worlds and --passes. What nobody knows about fish makes the ranges; that does not shrink.",
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
pub fn list(rules: &[Rule], units: UnitSystem) -> Table {
    let says = |rule: &Rule| match &rule.test {
        Test::Sides { .. } => rule.says.clone(),
        Test::Direction { axis, .. } => format!("{} (over {})", rule.says, axis.path),
    };
    let columns = [
        column("", "rule", Kind::Text, |r: &Rule| r.id.clone()),
        column("", "says", Kind::Text, says),
        column("", "literature", Kind::Text, |r: &Rule| r.literature.label()),
    ];
    read(&columns, rules, units)
}
