//! Values that rules and trials put in place of the scenario's.

use crate::scenario::document::{Entry, Value, entry};
use crate::scenario::reader::Reader;
use std::ops::Range;

/// A value put in place of the scenario's, and where the file says so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Override {
    /// Path of the value.
    pub path: String,
    /// Its text.
    pub value: String,
    /// Place in the file.
    pub at: Range<usize>,
}

impl Reader<'_> {
    /// The values of a table, nested tables as paths.
    pub(crate) fn puts(&mut self, table: &[Entry], key: &str) -> Option<Vec<Override>> {
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
    fn flatten(&mut self, prefix: &str, entries: &[Entry], puts: &mut Vec<Override>) {
        for one in entries {
            let path = if prefix.is_empty() { one.key.clone() } else { format!("{prefix}.{}", one.key) };
            let at = one.value.at.range.clone();
            match &one.value.value {
                Value::Table(inner) => self.flatten(&path, inner, puts),
                Value::Text(value) => puts.push(Override { path, value: value.clone(), at }),
                Value::Number(value) => puts.push(Override { path, value: value.to_string(), at }),
                other => self.kind(&at, &path, "a text or a number", other),
            }
        }
    }
}
