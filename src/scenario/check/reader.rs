//! Reads single values of a document against the schema and collects what is wrong with them.

use crate::scenario::catalogue::{Catalogue, same_name};
use crate::scenario::diagnostic::{Diagnostic, Severity, near, one_of, visible};
use crate::scenario::document::{Document, Entry, Node, Origin, Source, Value, entry};
use crate::scenario::schema::{self, Key, Kind, Limits};
use crate::units;

/// A value together with the place it was written at, for checks of several values against each other.
#[derive(Debug, Clone)]
pub(super) struct Placed<T> {
    pub value: T,
    pub at: Origin,
}

/// One table of the document.
#[derive(Clone, Copy)]
pub(super) struct Section<'a> {
    /// Its name in the schema.
    pub name: &'static str,
    pub entries: &'a [Entry],
    /// The place of its header.
    pub at: &'a Origin,
}

/// The document under check and the faults found so far.
pub(super) struct Reader<'a> {
    pub document: &'a Document,
    pub catalogue: &'a Catalogue,
    file: &'a str,
    /// Off where syntax errors may have swallowed keys.
    pub ask_for_missing: bool,
    pub faults: Vec<Diagnostic>,
}

impl<'a> Reader<'a> {
    pub fn new(document: &'a Document, catalogue: &'a Catalogue, file: &'a str) -> Reader<'a> {
        Reader { document, catalogue, file, ask_for_missing: true, faults: Vec::new() }
    }

    fn push(&mut self, severity: Severity, at: Option<&Origin>, title: String, label: String, help: String) {
        let set = at.and_then(|at| match at.source {
            Source::File => None,
            Source::Set(index) => self.document.sets.get(index).cloned(),
        });
        self.faults.push(Diagnostic {
            severity,
            title,
            label,
            span: at.map(|at| at.range.clone()),
            file: if set.is_some() { "--set".to_string() } else { self.file.to_string() },
            set,
            help,
        });
    }

    /// Notes a fault at a place.
    pub fn fault(
        &mut self,
        at: &Origin,
        title: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.push(Severity::Error, Some(at), title.into(), label.into(), help.into());
    }

    /// Notes a fault of the file as a whole.
    pub fn fault_nowhere(&mut self, title: impl Into<String>, help: impl Into<String>) {
        self.push(Severity::Error, None, title.into(), String::new(), help.into());
    }

    /// Notes a doubt at a place.
    pub fn warn(
        &mut self,
        at: &Origin,
        title: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.push(Severity::Warning, Some(at), title.into(), label.into(), help.into());
    }

    /// The table of this name; its absence is a fault that names every key it needs.
    pub fn section(&mut self, name: &'static str) -> Option<Section<'a>> {
        let document = self.document;
        let Some(found) = entry(&document.root, name) else {
            if self.ask_for_missing && !misspelt(&document.root, "", name) {
                self.fault_nowhere(format!("there is no [{name}] table"), table_help(name));
            }
            return None;
        };
        match &found.value.value {
            Value::Table(entries) => Some(Section { name, entries, at: &found.value.at }),
            other => {
                let label = format!("{} stands where a table is wanted", other.kind());
                self.fault(&found.value.at, format!("`{name}` is not a table"), label, table_help(name));
                None
            }
        }
    }

    /// The node and key of `section.name`; a needed key that is absent is a fault.
    pub fn node(&mut self, section: &Section<'a>, name: &str) -> Option<(&'a Node, &'static Key)> {
        let path =
            if section.name.is_empty() { name.to_string() } else { format!("{}.{name}", section.name) };
        let key = schema::find(&path)?;
        match entry(section.entries, name) {
            Some(entry) => Some((&entry.value, key)),
            None => {
                if key.needed {
                    self.missing(section, key);
                }
                None
            }
        }
    }

    fn missing(&mut self, section: &Section<'a>, key: &Key) {
        if self.ask_for_missing && !misspelt(section.entries, section.name, key.split().1) {
            let title = format!("[{}] has no `{}`", section.name, key.split().1);
            let help = format!("add {}", line(key));
            self.fault(section.at, title, format!("needs its {}", key.about), help);
        }
    }

    /// A bare number within the key's limits.
    pub fn number(&mut self, section: &Section<'a>, name: &str) -> Option<Placed<f64>> {
        let (node, key) = self.node(section, name)?;
        let Kind::Number { limits } = &key.kind else { return None };
        let Value::Number(value) = node.value else {
            let help = match &node.value {
                Value::Text(text) if text.trim().parse::<f64>().is_ok_and(f64::is_finite) => {
                    format!("take the quotes away: {name} = {}", text.trim())
                }
                _ => format!("write a bare number, for example {}", line(key)),
            };
            let label = format!("{} where a number is wanted", node.value.kind());
            self.fault(&node.at, format!("`{}` is not a number", key.path), label, help);
            return None;
        };
        let show = |value: f64| value.to_string();
        self.within(key, limits, value, &node.at, show).then(|| Placed { value, at: node.at.clone() })
    }

    /// A quantity with its unit within the key's limits, in the unit it is kept in.
    pub fn quantity(&mut self, section: &Section<'a>, name: &str) -> Option<Placed<f64>> {
        let (node, key) = self.node(section, name)?;
        let Kind::Quantity { dimension, limits } = &key.kind else { return None };
        let refused = match &node.value {
            Value::Text(text) => match units::parse(text, *dimension) {
                Ok(value) => {
                    let show = |value: f64| plain(*dimension, value);
                    return self
                        .within(key, limits, value, &node.at, show)
                        .then(|| Placed { value, at: node.at.clone() });
                }
                Err(error) => error,
            },
            // Pretend the number had been written as text: the message then offers it with units.
            Value::Number(value) => match units::parse(&value.to_string(), *dimension) {
                Err(error) => error,
                Ok(_) => return None,
            },
            other => {
                let label = format!("{} where {} is wanted", other.kind(), dimension.name());
                let title = format!("`{}` is not {}", key.path, dimension.name());
                self.fault(&node.at, title, label, format!("write {}", line(key)));
                return None;
            }
        };
        let label = visible(&refused.what());
        let title = format!("`{}` is not {} with its unit", key.path, dimension.name());
        self.fault(&node.at, title, label, visible_long(&refused.help_like(key.example)));
        None
    }

    fn within(
        &mut self,
        key: &Key,
        limits: &Limits,
        value: f64,
        at: &Origin,
        show: impl Fn(f64) -> String,
    ) -> bool {
        let inside = (limits.low..=limits.high).contains(&value);
        if !inside {
            let label =
                if value.is_finite() { format!("this is {}", show(value)) } else { "not finite".to_string() };
            let help = format!("write a value from {} to {}", show(limits.low), show(limits.high));
            self.fault(at, format!("`{}` is out of range", key.path), label, help);
        }
        inside
    }

    /// A text.
    pub fn text(&mut self, section: &Section<'a>, name: &str) -> Option<Placed<&'a str>> {
        let (node, key) = self.node(section, name)?;
        let Value::Text(text) = &node.value else {
            let label = format!("{} where a text is wanted", node.value.kind());
            self.fault(
                &node.at,
                format!("`{}` is not a text", key.path),
                label,
                format!("write {}", line(key)),
            );
            return None;
        };
        Some(Placed { value: text, at: node.at.clone() })
    }

    /// One of the words the key allows, as the schema or the catalogue spells it.
    pub fn word(&mut self, section: &Section<'a>, name: &str) -> Option<Placed<&'a str>> {
        let written = self.text(section, name)?;
        let (_, key) = self.node(section, name)?;
        let words = key.words(self.catalogue)?;
        if let Some(word) = words.iter().find(|word| same_name(word, written.value)) {
            return Some(Placed { value: word, at: written.at });
        }
        let alike = near(written.value, words.iter().copied());
        let all = format!("`{}` may be {}", key.path, one_of(&words));
        let help = if alike.is_empty() { all } else { format!("did you mean {}? {all}", one_of(&alike)) };
        let title = format!("`{}` is not a known {}", visible(written.value), key.path.replace('.', " "));
        self.fault(&written.at, title, "not one of the known words", help);
        None
    }

    /// Faults for keys of a table that the schema does not know.
    pub fn unknown_keys(&mut self, entries: &[Entry], section: &'static str) {
        let names = schema::names(section);
        for entry in entries.iter().filter(|entry| !names.contains(&entry.key.as_str())) {
            let alike = near(&entry.key, names.iter().copied());
            let elsewhere = schema::KEYS
                .iter()
                .find(|key| key.split().1 == entry.key && !matches!(key.split().0, "bait" | "hour" | ""));
            let help = match (alike.as_slice(), elsewhere) {
                ([], Some(key)) => format!("`{}` belongs in [{}]", entry.key, key.split().0),
                ([], None) => format!("the keys here are {}", one_of(&names)),
                (alike, _) => format!("did you mean {}?", one_of(alike)),
            };
            let place = match section {
                "" => "at the top of the file".to_string(),
                "bait" => "in [[box.bait]]".to_string(),
                "hour" => "in [[hour]]".to_string(),
                _ => format!("in [{section}]"),
            };
            let title = format!("there is no key `{}` {place}", visible(&entry.key));
            self.fault(&entry.key_at, title, "unknown key", help);
        }
    }
}

/// Whether a table has a key that is no key but looks like this one: then it is not missing as well.
pub(super) fn misspelt(entries: &[Entry], section: &str, name: &str) -> bool {
    let names = schema::names(section);
    let unknown = |entry: &&Entry| !names.contains(&entry.key.as_str());
    entries.iter().filter(unknown).any(|entry| near(&entry.key, names.iter().copied()).first() == Some(&name))
}

/// A key as it stands in a file, with its example.
fn line(key: &Key) -> String {
    format!("{} = {}", key.split().1, key.example)
}

/// What a missing table needs.
fn table_help(name: &str) -> String {
    if name == "box" {
        return "add [box] with use = [\"90 mm, standard lip, silent\"] or use = \"all\"".to_string();
    }
    let mut lines = Vec::new();
    let mut said: Vec<&str> = Vec::new();
    for key in schema::KEYS.iter().filter(|key| key.split().0 == name) {
        // Of two rivals the first is enough.
        if key.needed || key.rival.is_some_and(|rival| !said.contains(&rival)) {
            lines.push(line(key));
            said.push(key.path);
        }
    }
    format!("add [{name}] with {}", lines.join(", "))
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

/// A help text may be longer than a label, but is cleaned the same way.
fn visible_long(text: &str) -> String {
    crate::scenario::diagnostic::printable(text).replace('\n', " ")
}
