//! Reads the tables of a file against their keys, and collects everything that is wrong with them.
//!
//! Scenarios, rules and trials are read by this one reader; a log of casts puts its faults into it.

use super::catalogue::{Catalogue, same_name};
use super::diagnostic::{Diagnostic, Severity, near, one_of, printable, visible};
use super::document::{Document, Entry, Node, Origin, Source, SyntaxError, Value, entry};
use super::schema::{self, Key, Kind, Limits, Said};
use super::syntax;
use crate::units;

/// A text for people is a sentence, not an essay.
const LONGEST: usize = 300;

/// A value together with the place it was written at, for checks of several values against each other.
#[derive(Debug, Clone)]
pub(crate) struct Placed<T> {
    pub value: T,
    pub at: Origin,
}

/// A table of a file, and what could be read of it.
pub(crate) struct Table<'a> {
    keys: &'static [Key],
    /// Its name among the keys.
    pub section: &'static str,
    pub entries: &'a [Entry],
    /// The place of its header.
    pub at: &'a Origin,
    /// The keys that were read, with their values.
    pub given: Vec<(&'static Key, Placed<Said>)>,
}

impl<'a> Table<'a> {
    fn said(&self, name: &str) -> Option<&Placed<Said>> {
        self.given.iter().find(|(key, _)| key.split().1 == name).map(|(_, said)| said)
    }

    /// The number under a key, if it could be read.
    pub fn number(&self, name: &str) -> Option<Placed<f64>> {
        match self.said(name)? {
            Placed { value: Said::Number(value), at } => Some(Placed { value: *value, at: at.clone() }),
            _ => None,
        }
    }

    /// The text under a key, if it could be read.
    pub fn text(&self, name: &str) -> Option<Placed<&str>> {
        match self.said(name)? {
            Placed { value: Said::Word(value), at } => Some(Placed { value, at: at.clone() }),
            _ => None,
        }
    }

    /// The same, with nothing for what could not be read.
    pub fn owned(&self, name: &str) -> String {
        self.text(name).map(|text| text.value.to_string()).unwrap_or_default()
    }

    /// What was written under a key, right or wrong.
    pub fn entry(&self, name: &str) -> Option<&'a Entry> {
        entry(self.entries, name)
    }

    /// Whether the table has a key that is no key but looks like this one: then it is not missing as well.
    fn misspelt(&self, name: &str) -> bool {
        misspelt(self.entries, &schema::names(self.keys, self.section), name)
    }
}

/// A file under reading and the faults found so far.
pub(crate) struct Reader<'a> {
    /// Its name.
    pub file: &'a str,
    /// The texts of values given beside the file.
    pub sets: &'a [String],
    /// Off where syntax errors may have swallowed keys.
    pub ask_for_missing: bool,
    /// What is wrong.
    pub faults: Vec<Diagnostic>,
}

impl<'a> Reader<'a> {
    /// A reader of the file of this name.
    pub fn new(file: &'a str) -> Reader<'a> {
        Reader { file, sets: &[], ask_for_missing: true, faults: Vec::new() }
    }

    fn push(&mut self, severity: Severity, at: Option<Origin>, title: String, label: String, help: String) {
        let set = at.as_ref().and_then(|at| match at.source {
            Source::File => None,
            Source::Set(index) => self.sets.get(index).cloned(),
        });
        self.faults.push(Diagnostic {
            severity,
            title,
            label,
            span: at.map(|at| at.range),
            file: if set.is_some() { "--set".to_string() } else { self.file.to_string() },
            set,
            help,
        });
    }

    /// Notes a fault at a place.
    pub fn fault(
        &mut self,
        at: impl Into<Origin>,
        title: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.push(Severity::Error, Some(at.into()), title.into(), label.into(), help.into());
    }

    /// Notes a doubt at a place.
    pub fn warn(
        &mut self,
        at: impl Into<Origin>,
        title: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.push(Severity::Warning, Some(at.into()), title.into(), label.into(), help.into());
    }

    /// The faults with those of form, in the order of the file and then of the values given beside it.
    pub fn finish(self, errors: &[SyntaxError], source: &str) -> Vec<Diagnostic> {
        let mut faults = self.faults;
        syntax::drop_consequences(&mut faults, errors, source);
        faults.extend(errors.iter().map(|error| syntax::diagnostic(error, source, self.file)));
        let index = |fault: &Diagnostic| match &fault.set {
            None => Source::File,
            Some(text) => Source::Set(self.sets.iter().position(|set| set == text).unwrap_or(usize::MAX)),
        };
        faults.sort_by_key(|fault| (index(fault), fault.span.as_ref().map_or(usize::MAX, |span| span.start)));
        faults
    }

    /// The table `[name]` of a scenario; its absence is a fault that names every key it needs.
    pub fn section<'d>(
        &mut self,
        document: &'d Document,
        name: &'static str,
        catalogue: &Catalogue,
    ) -> Option<Table<'d>> {
        let Some(found) = entry(&document.root, name) else {
            if self.ask_for_missing && !misspelt(&document.root, &schema::names(schema::KEYS, ""), name) {
                let title = format!("there is no [{name}] table");
                self.push(Severity::Error, None, title, String::new(), table_help(name));
            }
            return None;
        };
        match &found.value.value {
            Value::Table(entries) => {
                Some(self.table(schema::KEYS, name, entries, &found.value.at, catalogue))
            }
            other => {
                let label = format!("{} stands where a table is wanted", other.kind());
                self.fault(&found.value.at, format!("`{name}` is not a table"), label, table_help(name));
                None
            }
        }
    }

    /// Reads a table against the keys of `section` among `keys`.
    pub fn table<'d>(
        &mut self,
        keys: &'static [Key],
        section: &'static str,
        entries: &'d [Entry],
        at: &'d Origin,
        catalogue: &Catalogue,
    ) -> Table<'d> {
        let mut table = Table { keys, section, entries, at, given: Vec::new() };
        self.unknown_keys(&table);
        for key in keys.iter().filter(|key| key.split().0 == section) {
            match table.entry(key.split().1) {
                Some(found) => {
                    let said = self.value(key, &found.value, catalogue);
                    let at = found.value.at.clone();
                    table.given.extend(said.map(|value| (key, Placed { value, at })));
                }
                None if key.needed => self.missing(&table, key),
                None => {}
            }
        }
        self.pairs(&table);
        table
    }

    fn missing(&mut self, table: &Table, key: &Key) {
        let name = key.split().1;
        if self.ask_for_missing && !table.misspelt(name) {
            let title = format!("{} has no `{name}`", schema::written(table.section));
            self.fault(table.at, title, format!("needs its {}", key.about), format!("add {}", line(key)));
        }
    }

    /// Of two keys that say the same a table has one.
    fn pairs(&mut self, table: &Table) {
        let written = schema::written(table.section);
        for pair in schema::PAIRS.iter().filter(|pair| table.keys.iter().any(|key| key.path == pair.keys[0]))
        {
            let [Some((section, first)), Some((_, second))] = pair.keys.map(|key| key.split_once('.')) else {
                continue;
            };
            if section != table.section {
                continue;
            }
            match (table.entry(first), table.entry(second), pair.neither) {
                (Some(a), Some(b), _) => {
                    let later = if a.key_at.range.start < b.key_at.range.start { b } else { a };
                    let title = format!("{written} has both `{first}` and `{second}`");
                    self.fault(&later.key_at, title, pair.both[0], pair.both[1]);
                }
                (None, None, Some([title, label, help]))
                    if self.ask_for_missing && !table.misspelt(first) && !table.misspelt(second) =>
                {
                    self.fault(table.at, format!("{written} {title}"), label, help);
                }
                _ => {}
            }
        }
    }

    /// The value of a node as its key wants it.
    pub fn value(&mut self, key: &'static Key, node: &Node, catalogue: &Catalogue) -> Option<Said> {
        match &key.kind {
            Kind::Quantity { dimension, limits } => self.quantity(key, *dimension, limits, node),
            Kind::Number { limits } => self.number(key, limits, node),
            Kind::Whole { limits } => self.whole(key, limits, node),
            Kind::Text => self.text(key, node).map(|text| Said::Word(text.to_string())),
            Kind::Sentence => self.sentence(key, node),
            Kind::Id => self.id(key, node),
            Kind::Box | Kind::Other => None,
            Kind::Choice(_) | Kind::Finish | Kind::Forage | Kind::Look | Kind::Line | Kind::Body => {
                self.word(key, &key.words(catalogue)?, node)
            }
        }
    }

    fn number(&mut self, key: &Key, limits: &Limits, node: &Node) -> Option<Said> {
        let Value::Number(value) = node.value else {
            let help = match &node.value {
                Value::Text(text) if text.trim().parse::<f64>().is_ok_and(f64::is_finite) => {
                    format!("take the quotes away: {} = {}", key.split().1, text.trim())
                }
                _ => format!("write a bare number, for example {}", line(key)),
            };
            let label = format!("{} where a number is wanted", node.value.kind());
            self.fault(&node.at, format!("`{}` is not a number", key.shown()), label, help);
            return None;
        };
        self.within(key, limits, value, &node.at, |value| value.to_string())
    }

    fn whole(&mut self, key: &Key, limits: &Limits, node: &Node) -> Option<Said> {
        let said = self.number(key, limits, node)?;
        if matches!(said, Said::Number(value) if value.fract() == 0.0) {
            return Some(said);
        }
        let title = format!("`{}` is counted in whole numbers", key.shown());
        self.fault(&node.at, title, "not a whole number", format!("write {}", line(key)));
        None
    }

    fn quantity(
        &mut self,
        key: &Key,
        dimension: units::Dimension,
        limits: &Limits,
        node: &Node,
    ) -> Option<Said> {
        let refused = match &node.value {
            Value::Text(text) => match units::parse(text, dimension) {
                Ok(value) => {
                    return self.within(key, limits, value, &node.at, |value| plain(dimension, value));
                }
                Err(error) => error,
            },
            // Pretend the number had been written as text: the message then offers it with units.
            Value::Number(value) => units::parse(&value.to_string(), dimension).err()?,
            other => {
                let label = format!("{} where {} is wanted", other.kind(), dimension.name());
                let title = format!("`{}` is not {}", key.shown(), dimension.name());
                self.fault(&node.at, title, label, format!("write {}", line(key)));
                return None;
            }
        };
        let title = format!("`{}` is not {} with its unit", key.shown(), dimension.name());
        // A help text may be longer than a label, but is cleaned the same way.
        let help = printable(&refused.help_like(key.example)).replace('\n', " ");
        self.fault(&node.at, title, visible(&refused.what()), help);
        None
    }

    fn within(
        &mut self,
        key: &Key,
        limits: &Limits,
        value: f64,
        at: &Origin,
        show: impl Fn(f64) -> String,
    ) -> Option<Said> {
        if (limits.low..=limits.high).contains(&value) {
            return Some(Said::Number(value));
        }
        let label =
            if value.is_finite() { format!("this is {}", show(value)) } else { "not finite".to_string() };
        let help = format!("write a value from {} to {}", show(limits.low), show(limits.high));
        self.fault(at, format!("`{}` is out of range", key.shown()), label, help);
        None
    }

    fn text<'d>(&mut self, key: &Key, node: &'d Node) -> Option<&'d str> {
        let Value::Text(text) = &node.value else {
            let label = format!("{} where a text is wanted", node.value.kind());
            let title = format!("`{}` is not a text", key.shown());
            self.fault(&node.at, title, label, format!("write {}", line(key)));
            return None;
        };
        Some(text)
    }

    fn sentence(&mut self, key: &Key, node: &Node) -> Option<Said> {
        let text = self.text(key, node)?;
        if text.trim().is_empty() || text.chars().count() > LONGEST {
            let help = format!("write 1 to {LONGEST} characters");
            self.fault(&node.at, format!("`{}` is empty or too long", key.shown()), "", help);
            return None;
        }
        Some(Said::Word(text.split_whitespace().collect::<Vec<_>>().join(" ")))
    }

    fn id(&mut self, key: &Key, node: &Node) -> Option<Said> {
        let id = self.text(key, node)?;
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !id.is_empty() && id.len() <= 60 && id.chars().all(plain) {
            return Some(Said::Word(id.to_string()));
        }
        let help = "write small letters, digits and hyphens, as in two-words";
        self.fault(&node.at, "this is not a short name", "used on the command line and in file names", help);
        None
    }

    /// One of the words, as the table or the catalogue spells it.
    fn word(&mut self, key: &Key, words: &[&str], node: &Node) -> Option<Said> {
        let written = self.text(key, node)?;
        if let Some(word) = words.iter().find(|word| same_name(word, written)) {
            return Some(Said::Word(word.to_string()));
        }
        let alike = near(written, words.iter().copied());
        let all = format!("`{}` may be {}", key.shown(), one_of(words));
        let help = if alike.is_empty() { all } else { format!("did you mean {}? {all}", one_of(&alike)) };
        let title = match key.shown().split_once('.') {
            Some((table, name)) => format!("`{}` is not a known {table} {name}", visible(written)),
            None => format!("`{}` cannot be `{}`", key.shown(), visible(written)),
        };
        self.fault(&node.at, title, "not one of the known words", help);
        None
    }

    /// Notes a value of another kind than wanted.
    pub fn kind(&mut self, at: impl Into<Origin>, what: &str, wanted: &str, found: &Value) {
        let (title, label) = (format!("{what} is not {}", found.kind()), format!("this is {}", found.kind()));
        self.fault(at, title, label, format!("write {wanted}"));
    }

    /// The tables of a list `[[name]]` with their places; anything else under that name is a fault.
    pub fn list<'d>(&mut self, entries: &'d [Entry], name: &str) -> Vec<(&'d [Entry], &'d Origin)> {
        let Some(all) = entry(entries, name) else { return Vec::new() };
        let Value::List(items) = &all.value.value else {
            let help = format!("write [[{name}]], in two pairs of brackets, above each {name}");
            let label = format!("{} where a list of tables is wanted", all.value.value.kind());
            self.fault(&all.key_at, format!("`{name}` is a list"), label, help);
            return Vec::new();
        };
        let mut tables = Vec::new();
        for item in items {
            match &item.value {
                Value::Table(table) => tables.push((table.as_slice(), &item.at)),
                other => {
                    self.kind(&item.at, &format!("a {name}"), &format!("a table, as in [[{name}]]"), other)
                }
            }
        }
        tables
    }

    fn unknown_keys(&mut self, table: &Table) {
        let names = schema::names(table.keys, table.section);
        for entry in table.entries.iter().filter(|entry| !names.contains(&entry.key.as_str())) {
            let alike = near(&entry.key, names.iter().copied());
            let elsewhere = table
                .keys
                .iter()
                .find(|key| key.split().1 == entry.key && !matches!(key.split().0, "bait" | "hour" | ""));
            let help = match (alike.as_slice(), elsewhere) {
                ([], Some(key)) => {
                    format!("`{}` belongs in {}", entry.key, schema::written(key.split().0))
                }
                ([], None) => format!("the keys here are {}", one_of(&names)),
                (alike, _) => format!("did you mean {}?", one_of(alike)),
            };
            let place = match schema::written(table.section) {
                file if file == "the file" => "at the top of the file".to_string(),
                written => format!("in {written}"),
            };
            let title = format!("there is no key `{}` {place}", visible(&entry.key));
            self.fault(&entry.key_at, title, "unknown key", help);
        }
    }
}

fn misspelt(entries: &[Entry], names: &[&'static str], name: &str) -> bool {
    let unknown = |entry: &&Entry| !names.contains(&entry.key.as_str());
    entries.iter().filter(unknown).any(|entry| near(&entry.key, names.iter().copied()).first() == Some(&name))
}

/// A key as it stands in a file, with its example.
pub(crate) fn line(key: &Key) -> String {
    format!("{} = {}", key.split().1, key.example)
}

/// What a missing table needs.
fn table_help(name: &str) -> String {
    if name == "box" {
        return "add [box] with use = [\"90 mm, standard lip, silent\"] or use = \"all\"".to_string();
    }
    // Of two that say the same the first is enough.
    let first = |key: &Key| schema::PAIRS.iter().any(|pair| pair.keys[0] == key.path);
    let wanted = schema::KEYS.iter().filter(|key| key.split().0 == name && (key.needed || first(key)));
    format!("add [{name}] with {}", wanted.map(line).collect::<Vec<_>>().join(", "))
}

/// A kept number with its unit, in the fewest digits that say what it is.
fn plain(dimension: units::Dimension, kept: f64) -> String {
    let small = kept != 0.0 && kept.abs() < 0.01;
    let text = match dimension {
        units::Dimension::Length if small => format!("{} mm", round(kept * 1000.0)),
        units::Dimension::Mass => format!("{} g", round(kept * 1000.0)),
        units::Dimension::Area => format!("{} cm2", round(kept * 1e4)),
        _ => dimension.write(round(kept)),
    };
    text.replace("-0 ", "0 ")
}

/// Rounded to four decimals, for messages only.
fn round(value: f64) -> f64 {
    let scaled = (value * 1e4).round() / 1e4;
    if scaled.is_finite() { scaled } else { value }
}
