//! The assumptions: every number about nature with its range, grade and source.

use crate::models::{Grade, Models, Parameter, Spread};
use crate::present::table::{Column, Table};
use serde_json::Value;

/// The parameters whose name or meaning holds `word` (any case) and whose grade is `grade`, if one is given.
pub fn select<'a>(models: &'a Models, word: Option<&str>, grade: Option<Grade>) -> Vec<&'a Parameter> {
    let word = word.map(str::to_lowercase);
    models
        .parameters
        .iter()
        .filter(|p| grade.is_none_or(|g| p.grade == g))
        .filter(|p| {
            word.as_ref().is_none_or(|w| {
                p.name.to_lowercase().contains(w)
                    || p.means.to_lowercase().contains(w)
                    || p.group.name().contains(w.as_str())
            })
        })
        .collect()
}

/// A number with up to four significant digits.
pub fn number(value: f64) -> String {
    if value != 0.0 && (value.abs() < 1e-3 || value.abs() >= 1e6) {
        format!("{value:.1e}")
    } else {
        format!("{}", (value * 1e4).round() / 1e4)
    }
}

/// The range of a parameter in words.
pub fn range(p: &Parameter) -> String {
    match p.spread {
        Spread::Choice => "one or the other".into(),
        _ if p.low == p.high => "fixed".into(),
        _ => format!("{} to {}", number(p.low), number(p.high)),
    }
}

/// A table of the parameters.
pub fn table(parameters: &[&Parameter]) -> Table {
    let mut table = Table::new(vec![
        Column::text("name"),
        Column::number("value"),
        Column::text("range"),
        Column::text("unit"),
        Column::text("grade"),
        Column::text("what it is"),
    ]);
    for p in parameters {
        table.push([
            p.name.clone(),
            number(p.default),
            range(p),
            p.unit.clone(),
            p.grade.name().into(),
            p.means.clone(),
        ]);
    }
    table
}

/// One parameter, in full.
pub fn detail(p: &Parameter) -> String {
    format!(
        "{}\n  {}\n  value {}{}, plausible {}, spread {}, group {}\n  grade: {}\n  source: {}\n  file: {}\n",
        p.name,
        p.means,
        number(p.default),
        if p.unit == "1" { String::new() } else { format!(" {}", p.unit) },
        range(p),
        format!("{:?}", p.spread).to_lowercase(),
        p.group.name(),
        p.grade.name(),
        p.source,
        p.file
    )
}

/// How many there are of each grade.
pub fn count(parameters: &[&Parameter]) -> String {
    let counts: Vec<String> = Grade::ALL
        .iter()
        .map(|g| format!("{} {}", parameters.iter().filter(|p| p.grade == *g).count(), g.name()))
        .collect();
    format!("{} assumptions: {}.", parameters.len(), counts.join(", "))
}

/// Machine output.
pub fn json(parameters: &[&Parameter]) -> Value {
    let all: Vec<Value> = parameters.iter().map(|p| serde_json::to_value(p).unwrap_or(Value::Null)).collect();
    super::plain_document("assumptions", "assumptions", all)
}

/// For a spreadsheet.
pub fn csv(parameters: &[&Parameter]) -> Table {
    let names =
        ["name", "means", "low", "default", "high", "spread", "unit", "grade", "group", "source", "file"];
    let mut table = Table::new(names.iter().map(|n| Column::text(n)).collect());
    for p in parameters {
        table.push([
            p.name.clone(),
            p.means.clone(),
            p.low.to_string(),
            p.default.to_string(),
            p.high.to_string(),
            format!("{:?}", p.spread).to_lowercase(),
            p.unit.clone(),
            p.grade.name().into(),
            p.group.name().into(),
            p.source.clone(),
            p.file.clone(),
        ]);
    }
    table
}
