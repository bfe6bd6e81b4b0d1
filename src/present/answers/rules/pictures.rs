//! The pictures of rules: all of them beside each other.

use super::{briefly, headline};
use crate::present::answers::Asked;
use crate::present::figures::{Words, effects};
use crate::present::scene::Scene;
use crate::statistics::verdict::Verdict;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::rules::Claim;
use crate::study::rules::answer::Answer;

/// The pictures: name and scene.
pub fn pictures(asked: &Asked, answers: &[Answer]) -> Vec<(String, Scene)> {
    vec![("rules".to_owned(), effects::effects(&overview(asked, answers)))]
}

fn overview(asked: &Asked, answers: &[Answer]) -> effects::Effects {
    let mut order: Vec<&Answer> = answers.iter().filter(|a| a.rule.claim == Claim::More).collect();
    order.sort_by(|a, b| b.reading.effect.point.total_cmp(&a.reading.effect.point));
    let rows = order.into_iter().map(|a| {
        let e = &a.reading.effect;
        effects::Row {
            name: a.rule.id.replace('-', " "),
            middle: e.point,
            low: e.low,
            high: e.high,
            label: briefly(a.reading.verdict).to_owned(),
            muted: matches!(a.reading.verdict, Verdict::CannotTell(_) | Verdict::NoDifferenceThatMatters),
        }
    });
    let same = answers.iter().filter(|a| a.rule.claim == Claim::Same).count();
    let left_out = match same {
        0 => "",
        _ => " Rules that claim no difference are left out.",
    };
    let note = format!(
        "Dots: middle of the plausible worlds; lines: nine in ten of them. Grey band: less than 1 in 100 either way.\
         {left_out} {}",
        asked.note()
    );
    effects::Effects {
        words: Words { caption: headline(answers), note },
        axis: "more strikes in 100 passes with what the rule recommends".into(),
        rows: rows.collect(),
        matters: SMALLEST_DIFFERENCE,
        halves: ["against the rule".into(), "for the rule".into()],
    }
}
