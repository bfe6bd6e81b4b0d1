//! From answers to sections of a report.

use super::Section;
use super::html;
use crate::models::{Grade, Models, Parameter};
use crate::present::document::{Document, Picture};
use crate::present::table::{Column, Table};
use crate::present::view::{CAUTION, View};
use crate::present::wording::{Readable, assumptions as listed};

/// A document as a section.
pub fn section(id: &'static str, title: &str, document: &Document, pictures: &[Picture]) -> Section {
    Section { id, title: title.into(), body: document.html(pictures) }
}

/// A study as a section: its finding, pictures and tables.
pub fn study(id: &'static str, title: &str, view: &View, answer: &impl Readable) -> Section {
    section(id, title, &answer.document(view), &answer.pictures(view))
}

/// Most guesses that are named in the text.
const NAMED: usize = 5;

/// Every assumption, guesses first, folded away by grade; `guesses` are those that drive the answer.
pub fn assumptions(models: &Models, guesses: &[String]) -> Section {
    let all: Vec<&Parameter> = models.parameters.iter().collect();
    let mut body = html::paragraph(&format!(
        "{} Guesses come first: they are what to doubt first. A range is what is plausible: nine in ten worlds lie within. \
         Nothing here was fitted to a rule of thumb.",
        listed::count(&all)
    ));
    if !guesses.is_empty() {
        body.push_str(&html::paragraph("The guesses that move this answer most:"));
        body.push_str(&html::list(guesses.iter().take(NAMED)));
    }
    for grade in Grade::ALL.iter().rev() {
        let chosen: Vec<&Parameter> = all.iter().copied().filter(|p| p.grade == *grade).collect();
        if chosen.is_empty() {
            continue;
        }
        let mut table = Table::new(vec![
            Column::text("name"),
            Column::text("what it is"),
            Column::number("value"),
            Column::text("range"),
            Column::text("unit"),
            Column::text("source"),
        ]);
        for p in &chosen {
            table.push([
                p.name.clone(),
                p.means.clone(),
                listed::number(p.default),
                listed::range(p),
                p.unit.clone(),
                p.source.clone(),
            ]);
        }
        let summary = format!("{} {}", chosen.len(), graded(*grade));
        body.push_str(&html::folded(&summary, &html::table(&table, &summary)));
    }
    Section { id: "assumptions", title: "What all this assumes".into(), body }
}

/// What a number of one grade is called.
fn graded(grade: Grade) -> &'static str {
    match grade {
        Grade::Guess => "guesses: no value was found, so these are ours",
        Grade::CommonPractice => "from common practice, without a source",
        Grade::Inferred => "inferred from measurements of something near",
        Grade::Measured => "measured on black bass, or properties of water or light",
    }
}

/// The sources of the numbers that are not ours, each once.
pub fn sources(models: &Models) -> Section {
    let mut sources: Vec<&str> = models
        .parameters
        .iter()
        .filter(|p| matches!(p.grade, Grade::Measured | Grade::Inferred))
        .map(|p| p.source.as_str())
        .collect();
    sources.sort_unstable();
    sources.dedup();
    let body = format!(
        "{}{}",
        html::paragraph(
            "What stands behind the measured and inferred numbers. \"From memory\", \"abstract seen\" and the like say how \
             surely a source was read."
        ),
        html::folded(&format!("{} sources", sources.len()), &html::list(&sources)),
    );
    Section { id: "sources", title: "Sources".into(), body }
}

/// What is needed to get the same numbers again.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// The command that writes the report.
    pub command: String,
    /// Commands that answer its parts alone.
    pub parts: Vec<String>,
    /// Name of the scenario's file.
    pub file: String,
    /// Its text.
    pub source: String,
    /// Values put in place of the file's.
    pub overrides: Vec<(String, String)>,
    /// Assumption files laid over the program's own, in order.
    pub overlays: Vec<String>,
}

/// How to get the same numbers again: command, version, seed, budget, the scenario's own text.
pub fn repeat(view: &View, recipe: &Recipe) -> Section {
    let mut body = html::paragraph(&format!(
        "Version {} of callup. The odds: {} Rules, day and what drives the answer have worlds and passes of their own, named \
         there. The same version, scenario and seed give the same numbers on every machine.",
        env!("CARGO_PKG_VERSION"),
        view.run_line()
    ));
    body.push_str(&html::verbatim(&recipe.command, "Command"));
    body.push_str(&html::paragraph("Its parts alone, each with tables for other programs (--json, --csv):"));
    body.push_str(&html::verbatim(&recipe.parts.join("\n"), "Commands of the parts"));
    if !recipe.overrides.is_empty() {
        let puts: Vec<String> =
            recipe.overrides.iter().map(|(path, value)| format!("{path} = {value}")).collect();
        body.push_str(&html::paragraph("Values put in place of the scenario's:"));
        body.push_str(&html::verbatim(&puts.join("\n"), "Values put in place of the scenario's"));
    }
    if !recipe.overlays.is_empty() {
        body.push_str(&html::paragraph(&format!(
            "Assumption files laid over the program's own: {}. The assumptions listed above are those in force.",
            recipe.overlays.join(", ")
        )));
    }
    let scenario = html::verbatim(&recipe.source, "Scenario file");
    body.push_str(&html::folded(&format!("The scenario, {}", recipe.file), &scenario));
    Section { id: "repeat", title: "To repeat this".into(), body }
}

/// What a careful person says.
pub fn cautions() -> Section {
    let body = format!("<div class=\"caution\">\n{}</div>\n", html::paragraph(CAUTION));
    Section { id: "cautions", title: "Before you go".into(), body }
}
