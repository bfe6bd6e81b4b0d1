//! The sections of a report: studies, and what all of them rest on.

use super::Section;
use super::html;
use crate::models::{Grade, Models, Parameter};
use crate::present::columns::{Kind, column, read};
use crate::present::document::{Document, Picture};
use crate::present::view::{CAUTION, View};
use crate::present::wording::{Readable, assumptions as listed};
use crate::study::why::Why;
use crate::units::UnitSystem;

/// A document as a section.
pub fn section(id: &'static str, title: &str, document: &Document, pictures: &[Picture]) -> Section {
    Section { id, title: title.into(), body: document.html(pictures) }
}

/// A study as a section: its finding, pictures and tables.
pub fn study(id: &'static str, title: &str, view: &View, answer: &impl Readable) -> Section {
    section(id, title, &answer.document(view), &answer.pictures(view))
}

/// A part that could not be worked out, and why not.
pub fn left_out(id: &'static str, title: &str, reason: &str) -> Section {
    section(id, title, &Document::new([], format!("Left out: {}.", reason.trim_end_matches('.'))), &[])
}

/// The guesses that drive the odds or the choice, in words, the strongest first.
pub fn driving_guesses(why: &Why) -> Vec<String> {
    let guess = |i: &&crate::study::why::Input| i.grade == Some(Grade::Guess) && i.drives();
    let mut driving: Vec<_> = why.parameters.iter().flatten().filter(guess).collect();
    let share = |i: &crate::study::why::Input| {
        i.odds.index.total.mean.max(i.difference.map_or(0.0, |d| d.index.total.mean))
    };
    driving.sort_by(|a, b| share(b).total_cmp(&share(a)));
    driving.into_iter().map(|i| i.means.clone()).collect()
}

/// Most guesses that are named in the text.
const NAMED: usize = 5;

/// Every assumption, guesses first, folded away by grade; `guesses` are those that drive the answer.
pub fn assumptions(models: &Models, guesses: &[String], units: UnitSystem) -> Section {
    let all: Vec<&Parameter> = models.parameters.iter().collect();
    let mut out = Document::new(
        [],
        format!(
            "{} Guesses come first: they are what to doubt first. A range is what is plausible: nine in ten worlds lie \
             within. Nothing here was fitted to a rule of thumb.",
            listed::count(&all)
        ),
    );
    if !guesses.is_empty() {
        out.text("The guesses that move this answer most:");
        out.list(guesses.iter().take(NAMED).cloned().collect());
    }
    let columns = [
        column("", "name", Kind::Text, |p: &&Parameter| p.name.clone()),
        column("", "what it is", Kind::Text, |p: &&Parameter| p.means.clone()),
        column("", "value", Kind::Right, |p: &&Parameter| listed::number(p.default)),
        column("", "range", Kind::Text, |p: &&Parameter| listed::range(p)),
        column("", "unit", Kind::Text, |p: &&Parameter| p.unit.clone()),
        column("", "source", Kind::Text, |p: &&Parameter| p.source.clone()),
    ];
    for grade in Grade::ALL.into_iter().rev() {
        let chosen: Vec<&Parameter> = all.iter().copied().filter(|p| p.grade == grade).collect();
        if !chosen.is_empty() {
            let summary = format!("{} {}", chosen.len(), graded(grade));
            let mut inner = Document::default();
            inner.plain_table(summary.as_str(), read(&columns, &chosen, units));
            out.folded(summary, inner);
        }
    }
    section("assumptions", "What all this assumes", &out, &[])
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
    let known = |p: &&Parameter| matches!(p.grade, Grade::Measured | Grade::Inferred);
    let mut sources: Vec<String> = models.parameters.iter().filter(known).map(|p| p.source.clone()).collect();
    sources.sort_unstable();
    sources.dedup();
    let mut out = Document::new(
        [],
        "What stands behind the measured and inferred numbers. \"From memory\", \"abstract seen\" and the like say how \
         surely a source was read.",
    );
    let summary = format!("{} sources", sources.len());
    let mut inner = Document::default();
    inner.list(sources);
    out.folded(summary, inner);
    section("sources", "Sources", &out, &[])
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
    let mut out = Document::new(
        [],
        format!(
            "Version {} of callup. The odds: {} Rules, day and what drives the answer have worlds and passes of their \
             own, named there. The same version, scenario and seed give the same numbers on every machine.",
            env!("CARGO_PKG_VERSION"),
            view.run_line()
        ),
    );
    out.drawn("Command", recipe.command.clone());
    out.text("Its parts alone, each with tables for other programs (--json, --csv):");
    out.drawn("Commands of the parts", recipe.parts.join("\n"));
    if !recipe.overrides.is_empty() {
        let puts: Vec<String> =
            recipe.overrides.iter().map(|(path, value)| format!("{path} = {value}")).collect();
        out.text("Values put in place of the scenario's:");
        out.drawn("Values put in place of the scenario's", puts.join("\n"));
    }
    if !recipe.overlays.is_empty() {
        out.text(format!(
            "Assumption files laid over the program's own: {}. The assumptions listed above are those in force.",
            recipe.overlays.join(", ")
        ));
    }
    let mut inner = Document::default();
    inner.drawn("Scenario file", recipe.source.clone());
    out.folded(format!("The scenario, {}", recipe.file), inner);
    section("repeat", "To repeat this", &out, &[])
}

/// What a careful person says.
pub fn cautions() -> Section {
    let body = format!("<div class=\"caution\">\n{}</div>\n", html::paragraph(CAUTION));
    Section { id: "cautions", title: "Before you go".into(), body }
}
