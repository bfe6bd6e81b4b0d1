//! The assumptions: every number about nature with its range, grade and source.

use super::{About, Readable};
use crate::models::{Grade, Models, Parameter, Spread};
use crate::present::columns::{Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::units::UnitSystem;
use serde::Serialize;

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

/// Some of the assumptions.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Listed {
    /// The assumptions.
    pub assumptions: Vec<Parameter>,
}

/// So many are told in full.
const IN_FULL: usize = 3;

impl Readable for Listed {
    fn document(&self, view: &View) -> Document {
        let all: Vec<&Parameter> = self.assumptions.iter().collect();
        let mut out = Document::new([], count(&all)).without_cautions();
        if all.len() <= IN_FULL {
            for p in all {
                let unit = if p.unit == "1" { String::new() } else { format!(" {}", p.unit) };
                let spread = format!("{:?}", p.spread).to_lowercase();
                let mut one = Document::default();
                one.texts([
                    p.means.clone(),
                    format!(
                        "value {}{unit}, plausible {}, spread {spread}, group {}",
                        number(p.default),
                        range(p),
                        p.group.name()
                    ),
                    format!("grade: {}", p.grade.name()),
                    format!("source: {}", p.source),
                    format!("file: {}", p.file),
                ]);
                out.folded(p.name.as_str(), one);
            }
        } else {
            out.plain_table("Assumptions", table(&all, view.units));
        }
        out.paragraphs([
            "A narrower word shows the sources too; --csv and --json hold everything. low and high are the 5 % and 95 \
             % points."
                .to_owned(),
        ]);
        out
    }

    fn spreadsheet(&self, _view: &View) -> Table {
        let columns = [
            raw("name", |p: &Parameter| p.name.clone()),
            raw("means", |p: &Parameter| p.means.clone()),
            raw("low", |p: &Parameter| p.low),
            raw("default", |p: &Parameter| p.default),
            raw("high", |p: &Parameter| p.high),
            raw("spread", |p: &Parameter| format!("{:?}", p.spread).to_lowercase()),
            raw("unit", |p: &Parameter| p.unit.clone()),
            raw("grade", |p: &Parameter| p.grade.name()),
            raw("group", |p: &Parameter| p.group.name()),
            raw("source", |p: &Parameter| p.source.clone()),
            raw("file", |p: &Parameter| p.file.clone()),
        ];
        spreadsheet(&columns, &self.assumptions)
    }

    fn about(&self) -> About {
        About::Nothing
    }
}

/// A table of the parameters.
pub fn table(parameters: &[&Parameter], units: UnitSystem) -> Table {
    let columns = [
        column("", "name", Kind::Text, |p: &&Parameter| p.name.clone()),
        column("", "value", Kind::Right, |p: &&Parameter| number(p.default)),
        column("", "range", Kind::Text, |p: &&Parameter| range(p)),
        column("", "unit", Kind::Text, |p: &&Parameter| p.unit.clone()),
        column("", "grade", Kind::Text, |p: &&Parameter| p.grade.name()),
        column("", "what it is", Kind::Text, |p: &&Parameter| p.means.clone()),
    ];
    read(&columns, parameters, units)
}

/// How many there are of each grade.
pub fn count(parameters: &[&Parameter]) -> String {
    let counts: Vec<String> = Grade::ALL
        .iter()
        .map(|g| format!("{} {}", parameters.iter().filter(|p| p.grade == *g).count(), g.name()))
        .collect();
    format!("{} assumptions: {}.", parameters.len(), counts.join(", "))
}
