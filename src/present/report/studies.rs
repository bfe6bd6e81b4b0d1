//! Sections of the studies that look further than the one moment: the day, and what drives the answer.

use super::{Section, html};
use crate::models::{Grade, Models};
use crate::present::answers::{Asked, rules as rules_answer};
use crate::present::words;
use crate::study::rules::answer::Answer;
use crate::study::why::{Kind, Why};

/// The rules of thumb that are claimed for such conditions, tried at these; `others` are claimed for other conditions.
pub fn rules(asked: &Asked, answers: &[Answer], others: usize) -> Section {
    let mut body = String::new();
    if answers.is_empty() {
        body.push_str(&html::paragraph("No rule of thumb in the list is claimed for such conditions."));
    } else {
        if answers.len() == 1 {
            body.push_str(&html::paragraph(&rules_answer::headline(answers)));
        }
        body.push_str(&rules_answer::contrary(answers).map_or(String::new(), |c| html::paragraph(&c)));
        for (name, scene) in rules_answer::pictures::pictures(asked, answers, &[]) {
            body.push_str(&html::figure(&scene, &name));
        }
        body.push_str(&html::table(
            &rules_answer::overview(answers),
            "Each rule at these conditions, by its short name",
        ));
        let mut each = String::new();
        for answer in answers {
            each.push_str(&html::subheading(&answer.rule.says));
            // Where it turns is asked over all the conditions it is claimed for, and not answered by one of them.
            let turns = rules_answer::sentences::turns(asked, answer);
            let lines = rules_answer::paragraphs(asked, answer, false);
            for line in lines.iter().filter(|line| Some(*line) != turns.as_ref()) {
                each.push_str(&html::paragraph(line));
            }
        }
        body.push_str(&html::folded("Rule by rule: what it says, what was found, what it rests on", &each));
    }
    body.push_str(&html::paragraph(
        "More in 100: strikes in 100 passes of the first side less the other (of a rule that claims no difference, the \
         size of the difference): middle of the plausible worlds, and where nine in ten of them lie. Ahead: share of \
         plausible worlds in which the rule points the right way. Rests on: whether a finding follows from optics, \
         mechanics and measurement, or only gives back what was assumed.",
    ));
    body.push_str(&html::paragraph(&format!(
        "Each is tried at this hour, in this water, for these fish, and nowhere else: it may turn elsewhere. {} \
         `callup rules` tries each over all the conditions it is claimed for and says where it turns.",
        match others {
            0 => String::new(),
            n => format!("{} for other conditions than these and left out.", words::count(n, "rule is claimed", "rules are claimed")),
        }
    )));
    let longer = match answers.iter().map(|a| a.draws).max() {
        Some(most) if most > asked.budget.draws => format!(" Rules that these left open took {most} worlds."),
        _ => String::new(),
    };
    body.push_str(&html::paragraph(&format!("{}{longer}", asked.run_line())));
    Section { id: "rules", title: "Rules of thumb, tried here".into(), body }
}

/// The guesses that drive the odds or the choice, in words, the strongest first.
pub fn driving_guesses(models: &Models, why: &Why) -> Vec<String> {
    let of = |kind: &Kind| match *kind {
        Kind::Parameter(d) => models.parameters.get(d).filter(|p| p.grade == Grade::Guess),
        _ => None,
    };
    let mut driving: Vec<(f64, &str)> = why
        .parameters
        .iter()
        .flatten()
        .filter(|i| i.drives())
        .filter_map(|i| {
            let choice = i.difference.map_or(0.0, |d| d.index.total.mean);
            of(&i.kind).map(|p| (i.odds.index.total.mean.max(choice), p.means.as_str()))
        })
        .collect();
    driving.sort_by(|a, b| b.0.total_cmp(&a.0));
    driving.into_iter().map(|(_, means)| means.to_owned()).collect()
}

/// A part that could not be worked out, and why not.
pub fn left_out(id: &'static str, title: &str, reason: &str) -> Section {
    let body = html::paragraph(&format!("Left out: {reason}."));
    Section { id, title: title.into(), body }
}
