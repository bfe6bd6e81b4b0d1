//! Words, texts, numbers and tables of a rule.

use super::{LONGEST, Reader};
use crate::scenario::diagnostic::one_of;
use crate::scenario::document::{Entry, Value, entry};
use crate::study::rules::Put;
use std::ops::Range;

impl Reader<'_> {
    pub(super) fn word(&mut self, table: &[Entry], key: &str, words: &[&str]) -> Option<String> {
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

    pub(super) fn text(&mut self, table: &[Entry], key: &str) -> Option<String> {
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

    pub(super) fn needed(
        &mut self,
        table: &[Entry],
        key: &str,
        at: &Range<usize>,
        example: &str,
    ) -> Option<String> {
        if entry(table, key).is_none() {
            self.fault(at, format!("this rule lacks {key}"), "", format!("add {example}"));
        }
        self.text(table, key)
    }

    pub(super) fn number(&mut self, table: &[Entry], key: &str, limits: (f64, f64)) -> Option<f64> {
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
    pub(super) fn table(&mut self, table: &[Entry], key: &str) -> Option<Vec<Put>> {
        let node = &entry(table, key)?.value;
        let Value::Table(entries) = &node.value else {
            self.kind(&node.at.range, key, "a table, as in { bait.finish = \"mirror\" }", &node.value);
            return None;
        };
        let mut puts = Vec::new();
        self.flatten("", entries, &mut puts);
        Some(puts)
    }

    pub(super) fn flatten(&mut self, prefix: &str, entries: &[Entry], puts: &mut Vec<Put>) {
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
