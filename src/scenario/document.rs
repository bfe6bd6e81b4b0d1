//! A scenario as written, before it means anything: tables, keys and values, each with its place.
//!
//! The tree is built from the recovering parser of the `toml` crate, so that a file with a syntax error
//! still gives everything that could be read, and one look at the messages is enough to repair it.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Where a text was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Source {
    /// In the scenario file.
    File,
    /// In the override of this number.
    Set(usize),
}

/// A place in the file or in an override.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Origin {
    pub source: Source,
    pub range: Range<usize>,
}

impl From<&Origin> for Origin {
    fn from(at: &Origin) -> Origin {
        at.clone()
    }
}

impl From<Range<usize>> for Origin {
    /// A place in the file.
    fn from(range: Range<usize>) -> Origin {
        Origin { source: Source::File, range }
    }
}

impl From<&Range<usize>> for Origin {
    fn from(range: &Range<usize>) -> Origin {
        range.clone().into()
    }
}

/// The beginning of the file.
pub(crate) static TOP: Origin = Origin { source: Source::File, range: 0..0 };

/// A key and its value.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub key: String,
    pub key_at: Origin,
    pub value: Node,
}

/// A value and its place.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    pub at: Origin,
    pub value: Value,
}

/// A value as written. Dates and times are taken as text, quoted or not.
#[derive(Debug, Clone)]
pub(crate) enum Value {
    Text(String),
    Number(f64),
    Flag(bool),
    List(Vec<Node>),
    Table(Vec<Entry>),
}

impl Value {
    /// What kind of value this is, for messages.
    pub fn kind(&self) -> &'static str {
        match self {
            Value::Text(_) => "a text",
            Value::Number(_) => "a number",
            Value::Flag(_) => "true or false",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }
}

/// A syntax error: what the parser says and where.
#[derive(Debug, Clone)]
pub(crate) struct SyntaxError {
    pub message: String,
    pub range: Option<Range<usize>>,
}

/// A scenario file as a tree, with overrides laid over it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Document {
    /// Tables and keys of the file.
    pub root: Vec<Entry>,
    /// Properties given to every bait of the box by overrides (`bait.finish=pearl`).
    pub every_bait: Vec<Entry>,
    /// Columns of the hourly table given by overrides (`hour.cloud=09:00 0.2; 13:00 0.8`): name and rows.
    pub hour_columns: Vec<(&'static str, Vec<Node>)>,
    /// The texts of the overrides, `path=value`.
    pub sets: Vec<String>,
}

impl Document {
    /// Reads a file as far as it can be read.
    pub fn parse(source: &str) -> (Document, Vec<SyntaxError>) {
        let (root, errors) = DeTable::parse_recoverable(source);
        let errors = errors
            .iter()
            .map(|error| SyntaxError { message: error.message().to_string(), range: error.span() })
            .collect();
        let root = entries(root.get_ref(), source, Source::File, 0);
        (Document { root, ..Document::default() }, errors)
    }

    /// Puts a value at `section.key`, making the table if there is none.
    pub fn put(&mut self, section: &str, key: &str, at: Origin, value: Node) {
        let new = Entry { key: key.to_string(), key_at: at.clone(), value };
        if section.is_empty() {
            self.root.retain(|entry| entry.key != key);
            self.root.push(new);
            return;
        }
        for entry in &mut self.root {
            if let Value::Table(table) = &mut entry.value.value
                && entry.key == section
            {
                table.retain(|entry| entry.key != key);
                table.push(new);
                return;
            }
        }
        self.root.retain(|entry| entry.key != section);
        let table = Node { at: at.clone(), value: Value::Table(vec![new]) };
        self.root.push(Entry { key: section.to_string(), key_at: at, value: table });
    }

    /// Takes columns out of the hourly table of the file, and with them rows that say nothing else.
    pub fn take_from_hours(&mut self, columns: &[&str]) {
        for entry in self.root.iter_mut().filter(|entry| entry.key == "hour") {
            let Value::List(rows) = &mut entry.value.value else { continue };
            rows.retain_mut(|row| {
                let Value::Table(cells) = &mut row.value else { return true };
                let before = cells.len();
                cells.retain(|cell| !columns.contains(&cell.key.as_str()));
                cells.len() == before || cells.iter().any(|cell| cell.key != "at")
            });
        }
    }

    /// Takes `section.key` away if it was written in the file (not if an override put it there).
    pub fn take_from_file(&mut self, section: &str, key: &str) {
        for entry in self.root.iter_mut().filter(|entry| entry.key == section) {
            if let Value::Table(table) = &mut entry.value.value {
                table.retain(|entry| entry.key != key || entry.value.at.source != Source::File);
            }
        }
    }
}

/// The entry of a key.
pub(crate) fn entry<'a>(table: &'a [Entry], key: &str) -> Option<&'a Entry> {
    table.iter().find(|entry| entry.key == key)
}

fn entries(table: &DeTable<'_>, source: &str, from: Source, shift: usize) -> Vec<Entry> {
    let mut entries: Vec<Entry> = table
        .iter()
        .map(|(key, value)| Entry {
            key: key.get_ref().to_string(),
            key_at: Origin { source: from, range: key.span().start + shift..key.span().end + shift },
            value: node(value, source, from, shift),
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_at.range.start);
    entries
}

/// A parsed value as a node whose place is moved by `shift` bytes (for a value cut out of an override).
fn node(value: &Spanned<DeValue<'_>>, source: &str, from: Source, shift: usize) -> Node {
    let span = value.span();
    let read = match value.get_ref() {
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(integer) => Value::Number(whole(integer.as_str(), integer.radix())),
        DeValue::Float(float) => Value::Number(float.as_str().replace('_', "").parse().unwrap_or(f64::NAN)),
        DeValue::Boolean(value) => Value::Flag(*value),
        DeValue::Datetime(_) => Value::Text(source.get(span.clone()).unwrap_or_default().to_string()),
        DeValue::Array(items) => {
            Value::List(items.iter().map(|item| node(item, source, from, shift)).collect())
        }
        DeValue::Table(table) => Value::Table(entries(table, source, from, shift)),
    };
    Node { at: Origin { source: from, range: span.start + shift..span.end + shift }, value: read }
}

fn whole(digits: &str, radix: u32) -> f64 {
    let digits = digits.replace('_', "");
    if radix == 10 {
        return digits.parse().unwrap_or(f64::NAN);
    }
    // Hexadecimal and its like: nobody writes a depth so, but the format allows it.
    i64::from_str_radix(&digits, radix).map_or(f64::NAN, |number| number as f64)
}

/// Reads a list written in an override, where `shift` is the place of the list in the override's text.
pub(crate) fn list(text: &str, from: Source, shift: usize) -> Option<Node> {
    let (value, errors) = DeValue::parse_recoverable(text);
    let list = errors.is_empty() && value.get_ref().is_array();
    list.then(|| node(&value, text, from, shift))
}
