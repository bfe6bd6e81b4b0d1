//! Trial files: TOML as people write it, to trials, with every fault found in one go.

use super::setup::{Setup, example};
use super::{Claim, Known, Measured, Output, Pattern, Row, Trial, Used};
use crate::models::Models;
use crate::scenario::check::syntax;
use crate::scenario::diagnostic::{Diagnostic, one_of, visible};
use crate::scenario::document::{Document, Entry, Value, entry};
use crate::study::reader::Reader;
use std::ops::Range;

/// The keys of a trial.
const KEYS: &[&str] = &[
    "id", "title", "by", "known", "measured", "output", "unit", "used", "used_for", "scored", "miss",
    "notes", "axis", "world", "setup", "row", "pattern",
];
/// The keys of a row.
const ROW_KEYS: &[&str] =
    &["at", "measured", "low", "high", "x", "line", "output", "unit", "scored", "world", "setup"];
/// The keys of a pattern.
const PATTERN_KEYS: &[&str] = &["says", "rows", "claim", "factor"];
/// Numbers outside are slips of the finger.
const MEASURED: (f64, f64) = (1e-9, 1e9);
/// A ratio that counts as a difference.
const FACTORS: (f64, f64) = (1.001, 1000.0);
/// More rows would say no more, and take long.
const MOST_ROWS: usize = 100;

/// Reads the trial of a file.
///
/// # Errors
/// Every fault found, in the order of the file.
pub fn read(source: &str, file: &str, models: &Models) -> Result<Trial, Vec<Diagnostic>> {
    let (document, errors) = Document::parse(source);
    let mut reader = Reader { file, what: "trial", settings: Vec::new(), faults: Vec::new() };
    let mut looks: Vec<&str> = models.forages.iter().map(|f| f.name.as_str()).collect();
    // A prey and a finish of one name are taken for the prey.
    looks.extend(
        models.finishes.iter().map(String::as_str).filter(|f| models.forages.iter().all(|p| p.name != *f)),
    );
    let trial = reader.trial(&document.root, &looks);
    let mut faults = reader.faults;
    syntax::drop_consequences(&mut faults, &errors, source);
    faults.extend(errors.iter().map(|e| syntax::diagnostic(e, source, file)));
    faults.sort_by_key(|f| f.span.as_ref().map_or(0, |s| s.start));
    match trial {
        Some(trial) if faults.is_empty() => Ok(trial),
        _ => Err(faults),
    }
}

impl Reader<'_> {
    fn trial(&mut self, root: &[Entry], looks: &[&str]) -> Option<Trial> {
        let top = 0..0;
        self.unknown(root, KEYS);
        let id = self.id(root, &top);
        let title = self.needed(root, "title", &top, "title = \"what it is, in a few words\"");
        let by = self.needed(root, "by", &top, "by = \"authors and year, journal volume:pages\"");
        let measured =
            self.needed(root, "measured", &top, "measured = \"what was measured, and how it is run here\"");
        let miss = self.needed(root, "miss", &top, "miss = \"what a miss means for an angler's answer\"");
        let known = self.choice(root, "known", &top, Known::LABELS, Known::from_label);
        let used = self.choice(root, "used", &top, Used::LABELS, Used::from_label);
        let output = self.choice(root, "output", &top, Output::LABELS, Output::from_label);
        self.unit(root, output, output.is_some(), &top);
        let used_for = match used {
            Some(used) if used != Used::Nothing => {
                self.needed(root, "used_for", &top, "used_for = \"what of the model was set by it\"")
            }
            _ => self.text(root, "used_for"),
        };
        let scored = self.flag(root, "scored").unwrap_or(true);
        let world = self.table(root, "world");
        let setup = self.setup(root, Setup::default(), looks);
        let mut trial = Trial {
            id: id?,
            title: title.unwrap_or_default(),
            by: by.unwrap_or_default(),
            known: known.unwrap_or(Known::Memory),
            measured: measured.unwrap_or_default(),
            output: output?,
            used: used.unwrap_or(Used::Nothing),
            used_for: used_for.unwrap_or_default(),
            miss: miss.unwrap_or_default(),
            notes: self.texts(root, "notes"),
            axis: self.text(root, "axis").unwrap_or_default(),
            rows: Vec::new(),
            patterns: Vec::new(),
            world: world.unwrap_or_default(),
        };
        trial.rows = self.rows(root, &trial, scored, &setup, looks);
        trial.patterns = self.patterns(root, &trial.rows);
        let nothing = trial.rows.iter().all(|r| r.measured.is_none()) && trial.patterns.is_empty();
        if nothing && self.faults.is_empty() {
            let help = "give rows a number, as in measured = 1.2, or add a [[pattern]]";
            self.fault(&top, "this trial measures nothing", "no row has a number", help);
        }
        Some(trial)
    }

    fn rows(
        &mut self,
        root: &[Entry],
        trial: &Trial,
        scored: bool,
        setup: &Setup,
        looks: &[&str],
    ) -> Vec<Row> {
        let mut rows: Vec<Row> = Vec::new();
        for (table, at) in self.tables(root, "row") {
            self.unknown(table, ROW_KEYS);
            let name = self.needed(table, "at", &at, "at = \"the condition in words\"").unwrap_or_default();
            if rows.iter().any(|r| r.at == name) && !name.is_empty() {
                self.fault(
                    &at,
                    format!("two rows are called `{}`", visible(&name)),
                    "the second",
                    "name it apart",
                );
            }
            let own = self.choice_of(table, "output", Output::LABELS, Output::from_label);
            let output = own.unwrap_or(trial.output);
            self.unit(table, Some(output), own.is_some(), &at);
            let setup = self.setup(table, setup.clone(), looks);
            for key in output.needs().iter().filter(|key| !setup.has(key)) {
                let help = format!("add {} to [setup], or to setup = {{ ... }} of the row", example(key));
                let title = format!("`{}` needs {key}", output.label());
                self.fault(&at, title, "this row lacks it", help);
            }
            rows.push(Row {
                at: name,
                output,
                measured: self.measured(table),
                scored: self.flag(table, "scored").unwrap_or(scored),
                x: self.number(table, "x", (-1e9, 1e9)),
                line: self.text(table, "line").unwrap_or_default(),
                world: self.table(table, "world").unwrap_or_default(),
                setup,
                place: at,
            });
        }
        if rows.is_empty() && self.faults.is_empty() {
            let help = "write [[row]] with at = \"the condition\" and measured = the number";
            self.fault(&(0..0), "this trial has no rows", "", help);
        }
        if rows.len() > MOST_ROWS {
            let at = rows[MOST_ROWS].place.clone();
            let help = format!("keep it to {MOST_ROWS}, as medians of bins");
            self.fault(&at, format!("{} rows are too many", rows.len()), "from here on", help);
        }
        rows
    }

    fn measured(&mut self, table: &[Entry]) -> Option<Measured> {
        let value = self.number(table, "measured", MEASURED);
        let (low, high) = (self.number(table, "low", MEASURED), self.number(table, "high", MEASURED));
        let value = value?;
        if low.is_some_and(|low| low > value) || high.is_some_and(|high| high < value) {
            let at = entry(table, "measured").map_or(0..0, |e| e.value.at.range.clone());
            let help = "write low below measured and high above it";
            self.fault(&at, "the number lies outside its own range", "not between low and high", help);
        }
        Some(Measured { value, low, high })
    }

    fn patterns(&mut self, root: &[Entry], rows: &[Row]) -> Vec<Pattern> {
        let mut patterns = Vec::new();
        for (table, at) in self.tables(root, "pattern") {
            self.unknown(table, PATTERN_KEYS);
            let says = self.needed(table, "says", &at, "says = \"what was found\"");
            let claim = self.choice(table, "claim", &at, Claim::LABELS, Claim::from_label);
            let factor = self.number(table, "factor", FACTORS);
            if entry(table, "factor").is_none() {
                let help = "add factor = 1.2, the ratio from which on it is a difference";
                self.fault(&at, "this pattern lacks factor", "", help);
            }
            let places = self.places(table, &at, rows);
            let (Some(says), Some(claim), Some(factor), Some(rows)) = (says, claim, factor, places) else {
                continue;
            };
            patterns.push(Pattern { says, rows, claim, factor });
        }
        patterns
    }

    /// The rows that a pattern names.
    fn places(&mut self, table: &[Entry], at: &Range<usize>, rows: &[Row]) -> Option<Vec<usize>> {
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
                    self.fault(&item.at.range, "there is no such row", "no row is called so", help);
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

    fn setup(&mut self, table: &[Entry], over: Setup, looks: &[&str]) -> Setup {
        match entry(table, "setup").map(|e| (&e.value.at.range, &e.value.value)) {
            None => over,
            Some((_, Value::Table(entries))) => over.read(self, entries, looks),
            Some((at, other)) => {
                self.kind(at, "setup", "a table, as in setup = { light_lux = 10 }", other);
                over
            }
        }
    }

    /// The tables of a list, each with its place.
    fn tables<'t>(&mut self, root: &'t [Entry], key: &str) -> Vec<(&'t [Entry], Range<usize>)> {
        let Some(all) = entry(root, key) else { return Vec::new() };
        let Value::List(items) = &all.value.value else {
            let help = format!("write [[{key}]], in two pairs of brackets, above each");
            self.fault(&all.key_at.range, format!("{key} is a list"), "this is none", help);
            return Vec::new();
        };
        let mut tables = Vec::new();
        for item in items {
            match &item.value {
                Value::Table(table) => tables.push((table.as_slice(), item.at.range.clone())),
                other => self.kind(&item.at.range, key, &format!("a table, as in [[{key}]]"), other),
            }
        }
        tables
    }

    /// The unit is written out so that nobody takes centimetres for metres; it must be the output's own.
    fn unit(&mut self, table: &[Entry], output: Option<Output>, needed: bool, at: &Range<usize>) {
        let Some(output) = output else { return };
        let (right, given) = (output.unit(), entry(table, "unit"));
        let wrong = match given {
            None => needed,
            Some(unit) => !matches!(&unit.value.value, Value::Text(text) if text == right),
        };
        if wrong {
            let at = given.map_or(at, |e| &e.value.at.range);
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
                self.kind(&node.at.range, key, "true or false, without quotes", other);
                None
            }
        }
    }

    fn texts(&mut self, table: &[Entry], key: &str) -> Vec<String> {
        let Some(node) = entry(table, key).map(|e| &e.value) else { return Vec::new() };
        let Value::List(items) = &node.value else {
            self.kind(&node.at.range, key, "a list of texts in [ ]", &node.value);
            return Vec::new();
        };
        let mut texts = Vec::new();
        for item in items {
            match &item.value {
                Value::Text(text) => texts.push(text.split_whitespace().collect::<Vec<_>>().join(" ")),
                other => self.kind(&item.at.range, key, "texts in double quotes", other),
            }
        }
        texts
    }

    fn choice<T>(
        &mut self,
        table: &[Entry],
        key: &str,
        at: &Range<usize>,
        labels: &[&str],
        of: fn(&str) -> Option<T>,
    ) -> Option<T> {
        if entry(table, key).is_none() {
            let title = format!("this {} lacks {key}", self.what);
            self.fault(at, title, "", format!("add {key} = one of {}", one_of(labels)));
        }
        self.choice_of(table, key, labels, of)
    }

    fn choice_of<T>(
        &mut self,
        table: &[Entry],
        key: &str,
        labels: &[&str],
        of: fn(&str) -> Option<T>,
    ) -> Option<T> {
        let node = &entry(table, key)?.value;
        let found = match &node.value {
            Value::Text(word) => of(word),
            _ => None,
        };
        if found.is_none() {
            let help = format!("write {key} = one of {}", one_of(labels));
            self.fault(&node.at.range, format!("this is no {key}"), "not one of the words", help);
        }
        found
    }
}
