//! Trial files: TOML as people write it, to trials, with every fault found in one go.

use super::setup::{KEYS as SETUP_KEYS, Setup, example};
use super::{Claim, Known, Measured, Output, Pattern, Row, Trial, Used};
use crate::models::Models;
use crate::scenario::Catalogue;
use crate::scenario::diagnostic::{Diagnostic, one_of, visible};
use crate::scenario::document::{Document, Entry, Origin, TOP, Value, entry};
use crate::scenario::reader::{Reader, Table};
use crate::scenario::schema::{Key, Kind, between, key, keys};

/// Numbers outside are slips of the finger.
const MEASURED: Kind = between(1e-9, 1e9);

/// The keys of a trial, of its rows and of its patterns.
static KEYS: &[Key] = keys! {
    "trial.id": Kind::Id, "\"short-name\"", "short name";
    "trial.title": Kind::Sentence, "\"what it is, in a few words\"", "title";
    "trial.by": Kind::Sentence, "\"authors and year, journal volume:pages\"", "authors";
    "trial.known": Kind::Choice(Known::LABELS), "\"abstract\"", "word on how it is known";
    "trial.measured": Kind::Sentence, "\"what was measured, and how it is run here\"", "account of what was measured";
    "trial.output": Kind::Choice(Output::LABELS), "\"strikes\"", "output that the model is asked for";
    "trial.unit": Kind::Other, "\"m\"", "unit of the numbers", optional;
    "trial.used": Kind::Choice(Used::LABELS), "\"nothing\"", "word on what of the model was set by it";
    "trial.used_for": Kind::Sentence, "\"what of the model was set by it\"", "use", optional;
    "trial.scored": Kind::Other, "true", "whether its rows count in the score", optional;
    "trial.miss": Kind::Sentence, "\"what a miss means for an angler's answer\"", "account of what a miss means";
    "trial.notes": Kind::Other, "[\"a note\"]", "notes", optional;
    "trial.axis": Kind::Sentence, "\"light (lux)\"", "what x is", optional;
    "trial.world": Kind::Other, "{ water.secchi = \"2 m\" }", "paths of a scenario", optional;
    "trial.setup": Kind::Other, "{ light_lux = 10 }", "what a scenario does not say", optional;
    "trial.row": Kind::Other, "", "a row", optional;
    "trial.pattern": Kind::Other, "", "a pattern", optional;
    "row.at": Kind::Sentence, "\"the condition in words\"", "condition in words";
    "row.measured": MEASURED, "1.2", "number measured", optional;
    "row.low": MEASURED, "1", "low end of its range", optional;
    "row.high": MEASURED, "1.4", "high end of its range", optional;
    "row.x": between(-1e9, 1e9), "10", "place on the axis", optional;
    "row.line": Kind::Sentence, "\"clear water\"", "line of the figure that it belongs to", optional;
    "row.output": Kind::Choice(Output::LABELS), "\"strikes\"", "output that the model is asked for", optional;
    "row.unit": Kind::Other, "\"m\"", "unit of the numbers", optional;
    "row.scored": Kind::Other, "true", "whether it counts in the score", optional;
    "row.world": Kind::Other, "{ water.secchi = \"2 m\" }", "paths of a scenario", optional;
    "row.setup": Kind::Other, "{ light_lux = 10 }", "what a scenario does not say", optional;
    "pattern.says": Kind::Sentence, "\"what was found\"", "finding in words";
    "pattern.rows": Kind::Other, "[\"clear\", \"muddy\"]", "rows in order", optional;
    "pattern.claim": Kind::Choice(Claim::LABELS), "\"falls\"", "claim";
    "pattern.factor": between(1.001, 1000.0), "1.2", "ratio from which on it is a difference";
};
/// More rows would say no more, and take long.
const MOST_ROWS: usize = 100;

/// Reads the trial of a file.
///
/// # Errors
/// Every fault found, in the order of the file.
pub fn read(source: &str, file: &str, models: &Models) -> Result<Trial, Vec<Diagnostic>> {
    let (document, errors) = Document::parse(source);
    let catalogue = Catalogue::of(models);
    let mut reader = Reader::new(file);
    let table = reader.table(KEYS, "trial", &document.root, &TOP, &catalogue);
    let trial = reader.trial(&table, &catalogue);
    let faults = reader.finish(&errors, source);
    match trial {
        Some(trial) if faults.is_empty() => Ok(trial),
        _ => Err(faults),
    }
}

impl Reader<'_> {
    fn trial(&mut self, table: &Table, catalogue: &Catalogue) -> Option<Trial> {
        let root = table.entries;
        let used = table.text("used").and_then(|word| Used::from_label(word.value));
        let output = table.text("output").and_then(|word| Output::from_label(word.value));
        self.unit(table, output, output.is_some());
        if used.is_some_and(|used| used != Used::Nothing) && table.entry("used_for").is_none() {
            let help = "add used_for = \"what of the model was set by it\"";
            self.fault(&TOP, "the file has no `used_for`", "needs it, since something was set", help);
        }
        let scored = self.flag(root, "scored").unwrap_or(true);
        let world = self.puts(root, "world");
        let setup = self.setup(root, Setup::default(), catalogue);
        let mut trial = Trial {
            id: table.text("id")?.value.to_string(),
            title: table.owned("title"),
            by: table.owned("by"),
            known: table
                .text("known")
                .and_then(|word| Known::from_label(word.value))
                .unwrap_or(Known::Memory),
            measured: table.owned("measured"),
            output: output?,
            used: used.unwrap_or(Used::Nothing),
            used_for: table.owned("used_for"),
            miss: table.owned("miss"),
            notes: self.texts(root, "notes"),
            axis: table.owned("axis"),
            rows: Vec::new(),
            patterns: Vec::new(),
            world: world.unwrap_or_default(),
        };
        trial.rows = self.rows(root, &trial, scored, &setup, catalogue);
        trial.patterns = self.patterns(root, &trial.rows, catalogue);
        let nothing = trial.rows.iter().all(|r| r.measured.is_none()) && trial.patterns.is_empty();
        if nothing && self.faults.is_empty() {
            let help = "give rows a number, as in measured = 1.2, or add a [[pattern]]";
            self.fault(&TOP, "this trial measures nothing", "no row has a number", help);
        }
        Some(trial)
    }

    fn rows(
        &mut self,
        root: &[Entry],
        trial: &Trial,
        scored: bool,
        setup: &Setup,
        catalogue: &Catalogue,
    ) -> Vec<Row> {
        let mut rows: Vec<Row> = Vec::new();
        for (entries, at) in self.list(root, "row") {
            let table = self.table(KEYS, "row", entries, at, catalogue);
            let name = table.owned("at");
            if rows.iter().any(|r| r.at == name) && !name.is_empty() {
                let title = format!("two rows are called `{}`", visible(&name));
                self.fault(at, title, "the second", "name it apart");
            }
            let own = table.text("output").and_then(|word| Output::from_label(word.value));
            let output = own.unwrap_or(trial.output);
            self.unit(&table, Some(output), own.is_some());
            let setup = self.setup(entries, setup.clone(), catalogue);
            for key in output.needs().iter().filter(|key| !setup.has(key)) {
                let help = format!("add {} to [setup], or to setup = {{ ... }} of the row", example(key));
                let title = format!("`{}` needs {key}", output.label());
                self.fault(at, title, "this row lacks it", help);
            }
            rows.push(Row {
                at: name,
                output,
                measured: self.measured(&table),
                scored: self.flag(entries, "scored").unwrap_or(scored),
                x: table.number("x").map(|x| x.value),
                line: table.owned("line"),
                world: self.puts(entries, "world").unwrap_or_default(),
                setup,
                place: at.range.clone(),
            });
        }
        if rows.is_empty() && self.faults.is_empty() {
            let help = "write [[row]] with at = \"the condition\" and measured = the number";
            self.fault(&TOP, "this trial has no rows", "", help);
        }
        if rows.len() > MOST_ROWS {
            let at = &rows[MOST_ROWS].place;
            let help = format!("keep it to {MOST_ROWS}, as medians of bins");
            self.fault(at, format!("{} rows are too many", rows.len()), "from here on", help);
        }
        rows
    }

    fn measured(&mut self, table: &Table) -> Option<Measured> {
        let [value, low, high] = ["measured", "low", "high"].map(|key| table.number(key));
        let (at, value) = value.map(|v| (v.at, v.value))?;
        let (low, high) = (low.map(|low| low.value), high.map(|high| high.value));
        if low.is_some_and(|low| low > value) || high.is_some_and(|high| high < value) {
            let help = "write low below measured and high above it";
            self.fault(&at, "the number lies outside its own range", "not between low and high", help);
        }
        Some(Measured { value, low, high })
    }

    fn patterns(&mut self, root: &[Entry], rows: &[Row], catalogue: &Catalogue) -> Vec<Pattern> {
        let mut patterns = Vec::new();
        for (entries, at) in self.list(root, "pattern") {
            let table = self.table(KEYS, "pattern", entries, at, catalogue);
            let claim = table.text("claim").and_then(|word| Claim::from_label(word.value));
            let places = self.places(entries, at, rows);
            if let (Some(claim), Some(factor), Some(rows)) = (claim, table.number("factor"), places) {
                patterns.push(Pattern { says: table.owned("says"), rows, claim, factor: factor.value });
            }
        }
        patterns
    }

    /// The rows that a pattern names.
    fn places(&mut self, table: &[Entry], at: &Origin, rows: &[Row]) -> Option<Vec<usize>> {
        let names: Vec<&str> = rows.iter().map(|r| r.at.as_str()).collect();
        let Some(Value::List(items)) = entry(table, "rows").map(|e| &e.value.value) else {
            let help = "add rows = [ ... ] with what stands at at = of two rows or more, in order";
            self.fault(at, "this pattern names no rows", "lacks rows, a list of texts", help);
            return None;
        };
        let mut places = Vec::new();
        for item in items {
            match &item.value {
                Value::Text(name) if names.contains(&name.as_str()) => {
                    places.extend(names.iter().position(|n| n == name));
                }
                _ => {
                    let help = format!("write one of {}", one_of(&names));
                    self.fault(&item.at, "there is no such row", "no row is called so", help);
                }
            }
        }
        let outputs_differ = places.iter().any(|&i| rows[i].output != rows[places[0]].output);
        if outputs_differ {
            self.fault(
                at,
                "these rows are of different outputs",
                "cannot be compared",
                "make a pattern for each",
            );
        } else if places.len() < 2 && items.len() < 2 {
            self.fault(
                at,
                "a pattern needs two rows or more",
                "too few",
                "name at least two in rows = [ ... ]",
            );
        }
        (places.len() == items.len() && places.len() > 1 && !outputs_differ).then_some(places)
    }

    fn setup(&mut self, table: &[Entry], over: Setup, catalogue: &Catalogue) -> Setup {
        match entry(table, "setup").map(|e| (&e.value.at, &e.value.value)) {
            None => over,
            Some((at, Value::Table(entries))) => {
                over.with(&self.table(SETUP_KEYS, "setup", entries, at, catalogue))
            }
            Some((at, other)) => {
                self.kind(at, "setup", "a table, as in setup = { light_lux = 10 }", other);
                over
            }
        }
    }

    /// The unit is written out so that nobody takes centimetres for metres; it must be the output's own.
    fn unit(&mut self, table: &Table, output: Option<Output>, needed: bool) {
        let Some(output) = output else { return };
        let (right, given) = (output.unit(), table.entry("unit"));
        let wrong = match given {
            None => needed,
            Some(unit) => !matches!(&unit.value.value, Value::Text(text) if text == right),
        };
        if wrong {
            let at = given.map_or(table.at, |e| &e.value.at);
            let help = format!("write unit = \"{right}\", and the numbers in it");
            self.fault(
                at,
                format!("`{}` is measured in {right}", output.label()),
                "the unit of the numbers",
                help,
            );
        }
    }

    fn flag(&mut self, table: &[Entry], key: &str) -> Option<bool> {
        let node = &entry(table, key)?.value;
        match &node.value {
            Value::Flag(value) => Some(*value),
            other => {
                self.kind(&node.at, key, "true or false, without quotes", other);
                None
            }
        }
    }

    fn texts(&mut self, table: &[Entry], key: &str) -> Vec<String> {
        let Some(node) = entry(table, key).map(|e| &e.value) else { return Vec::new() };
        let Value::List(items) = &node.value else {
            self.kind(&node.at, key, "a list of texts in [ ]", &node.value);
            return Vec::new();
        };
        let mut texts = Vec::new();
        for item in items {
            match &item.value {
                Value::Text(text) => texts.push(text.split_whitespace().collect::<Vec<_>>().join(" ")),
                other => self.kind(&item.at, key, "texts in double quotes", other),
            }
        }
        texts
    }
}
