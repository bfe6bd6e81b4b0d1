//! Trials for programs.

use super::View;
use crate::present::answers::head;
use crate::present::table::{Column, Table};
use crate::study::trials::NOT_FOUND;
use crate::study::trials::answer::Answer;
use crate::study::trials::reading::Word;
use serde_json::{Value, json};

/// The document.
pub fn json(answer: &Answer, view: &View) -> Value {
    let mut document = head("trials", Some(view.budget), Value::Null);
    document.insert("score".into(), json!(answer.score));
    document.insert("trials_asked".into(), answer.asked_for.into());
    document.insert("trials".into(), json!(answer.trials));
    document.insert("not_found_in_print".into(), json!(NOT_FOUND));
    document.into()
}

/// One line for each row and each pattern.
pub fn csv(answer: &Answer) -> Table {
    let names = [
        "id",
        "condition",
        "output",
        "unit",
        "measured",
        "measured_low",
        "measured_high",
        "model_median",
        "model_low",
        "model_high",
        "ratio",
        "holds_share",
        "word",
        "scored",
        "trial_word",
        "known",
        "used",
    ];
    let mut table = Table::new(names.iter().map(|n| Column::text(n)).collect());
    let cell = |v: Option<f64>| v.map_or(String::new(), |v| v.to_string());
    for t in &answer.trials {
        let of_trial =
            [t.reading.word.label(), t.trial.known.label(), t.trial.used.label()].map(str::to_owned);
        for (row, read) in t.trial.rows.iter().zip(&t.reading.rows) {
            let m = row.measured;
            let mut line =
                vec![t.trial.id.clone(), row.at.clone(), row.output.label().into(), row.output.unit().into()];
            line.extend([m.map(|m| m.value), m.and_then(|m| m.low), m.and_then(|m| m.high)].map(cell));
            line.extend([read.model.point, read.model.low, read.model.high].map(|v| v.to_string()));
            line.extend([cell(read.ratio), String::new()]);
            line.push(read.word.map_or("", Word::label).into());
            line.push((row.scored && m.is_some()).to_string());
            line.extend(of_trial.clone());
            table.push(line);
        }
        for (pattern, read) in t.trial.patterns.iter().zip(&t.reading.patterns) {
            let mut line = vec![t.trial.id.clone(), pattern.says.clone(), pattern.claim.label().into()];
            line.extend(["ratio".into(), pattern.factor.to_string(), String::new(), String::new()]);
            line.extend([read.ratio.point, read.ratio.low, read.ratio.high].map(|v| v.to_string()));
            let word = if read.holds { Word::PatternHolds } else { Word::PatternFails };
            line.extend([String::new(), read.holds_share.to_string(), word.label().into(), "true".into()]);
            line.extend(of_trial.clone());
            table.push(line);
        }
    }
    table
}
