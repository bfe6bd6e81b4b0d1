//! Files of rules and of trials: TOML as people write it, values with their places, every fault found in one go.

use crate::scenario::Setting;
use crate::scenario::diagnostic::{Diagnostic, Severity, near, one_of, visible};
use crate::scenario::document::{Entry, Value, entry};
use std::ops::Range;

/// Texts are sentences, not essays.
const LONGEST: usize = 300;

/// A value put in place of the scenario's, and where the file says so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Put {
    /// Path of the value.
    pub path: String,
    /// Its text.
    pub value: String,
    /// Place in the file.
    pub at: Range<usize>,
}

/// A file under reading and the faults found so far.
pub(crate) struct Reader<'a> {
    /// Its name.
    pub file: &'a str,
    /// What it holds, as in "a rule".
    pub what: &'static str,
    /// Everything that a scenario can say.
    pub settings: Vec<Setting>,
    /// What is wrong.
    pub faults: Vec<Diagnostic>,
}

impl Reader<'_> {
    /// Notes a fault at a place.
    pub(crate) fn fault(
        &mut self,
        at: &Range<usize>,
        title: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.faults.push(Diagnostic {
            severity: Severity::Error,
            title: title.into(),
            label: label.into(),
            span: Some(at.clone()),
            file: self.file.to_owned(),
            set: None,
            help: help.into(),
        });
    }

    /// Notes a value of another kind than wanted.
    pub(crate) fn kind(&mut self, at: &Range<usize>, what: &str, wanted: &str, found: &Value) {
        let (title, label) = (format!("{what} is not {}", found.kind()), format!("this is {}", found.kind()));
        self.fault(at, title, label, format!("write {wanted}"));
    }

    /// Notes every key that is not among those known.
    pub(crate) fn unknown(&mut self, table: &[Entry], keys: &[&str]) {
        let what = self.what;
        for one in table.iter().filter(|e| !keys.contains(&&*e.key)) {
            let alike = near(&one.key, keys.iter().copied());
            let help = match alike.is_empty() {
                true => format!("a {what} has {}", keys.join(", ")),
                false => format!("did you mean {}?", one_of(&alike)),
            };
            let title = format!("a {what} has no `{}`", visible(&one.key));
            self.fault(&one.key_at.range, title, "not known here", help);
        }
    }

    /// The short name that the table goes by.
    pub(crate) fn id(&mut self, table: &[Entry], at: &Range<usize>) -> Option<String> {
        let id = self.needed(table, "id", at, "id = \"short-name\"")?;
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !id.is_empty() && id.len() <= 60 && id.chars().all(plain) {
            return Some(id);
        }
        let at = entry(table, "id").map_or(at.clone(), |e| e.value.at.range.clone());
        let help = "write small letters, digits and hyphens, as in two-words";
        self.fault(&at, "this is not a short name", "used on the command line and in file names", help);
        None
    }

    /// One of a few words.
    pub(crate) fn word(&mut self, table: &[Entry], key: &str, words: &[&str]) -> Option<String> {
        let node = &entry(table, key)?.value;
        match &node.value {
            Value::Text(word) if words.contains(&word.to_lowercase().as_str()) => Some(word.to_lowercase()),
            _ => {
                let help = format!("write {key} = one of {}", one_of(words));
                self.fault(&node.at.range, format!("this is no {key}"), "not one of the words", help);
                None
            }
        }
    }

    /// A text on one line.
    pub(crate) fn text(&mut self, table: &[Entry], key: &str) -> Option<String> {
        let node = &entry(table, key)?.value;
        match &node.value {
            Value::Text(text) if text.trim().is_empty() || text.chars().count() > LONGEST => {
                let help = format!("write 1 to {LONGEST} characters");
                self.fault(&node.at.range, format!("{key} is empty or too long"), "", help);
                None
            }
            Value::Text(text) => Some(text.split_whitespace().collect::<Vec<_>>().join(" ")),
            other => {
                self.kind(&node.at.range, key, "a text in double quotes", other);
                None
            }
        }
    }

    /// A text that must be there.
    pub(crate) fn needed(
        &mut self,
        table: &[Entry],
        key: &str,
        at: &Range<usize>,
        example: &str,
    ) -> Option<String> {
        if entry(table, key).is_none() {
            self.fault(at, format!("this {} lacks {key}", self.what), "", format!("add {example}"));
        }
        self.text(table, key)
    }

    /// A number within limits.
    pub(crate) fn number(&mut self, table: &[Entry], key: &str, limits: (f64, f64)) -> Option<f64> {
        let node = &entry(table, key)?.value;
        match node.value {
            Value::Number(n) if n >= limits.0 && n <= limits.1 => Some(n),
            _ => {
                let help = format!("write {key} = a number from {} to {}", limits.0, limits.1);
                self.fault(&node.at.range, format!("{key} cannot be this"), "", help);
                None
            }
        }
    }

    /// The values of a table, nested tables as paths.
    pub(crate) fn table(&mut self, table: &[Entry], key: &str) -> Option<Vec<Put>> {
        let node = &entry(table, key)?.value;
        let Value::Table(entries) = &node.value else {
            self.kind(&node.at.range, key, "a table, as in { bait.finish = \"mirror\" }", &node.value);
            return None;
        };
        let mut puts = Vec::new();
        self.flatten("", entries, &mut puts);
        Some(puts)
    }

    /// The values of nested tables, each under its path.
    pub(crate) fn flatten(&mut self, prefix: &str, entries: &[Entry], puts: &mut Vec<Put>) {
        for one in entries {
            let path = if prefix.is_empty() { one.key.clone() } else { format!("{prefix}.{}", one.key) };
            let at = one.value.at.range.clone();
            match &one.value.value {
                Value::Table(inner) => self.flatten(&path, inner, puts),
                Value::Text(value) => puts.push(Put { path, value: value.clone(), at }),
                Value::Number(value) => puts.push(Put { path, value: value.to_string(), at }),
                other => self.kind(&at, &path, "a text or a number", other),
            }
        }
    }
}
