//! What a measurement needs beside a scenario: the target, the light at the eye, the arena, the stock, the towed line.

use crate::scenario::diagnostic::one_of;
use crate::scenario::document::{Entry, Node, Value};
use crate::study::reader::Reader;
use crate::units::{Dimension, parse};
use std::collections::{BTreeMap, BTreeSet};

/// What a key of `[setup]` holds.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    /// A quantity with its unit, within limits of the unit it is kept in.
    Quantity(Dimension, f64, f64),
    /// A bare number within limits.
    Number(f64, f64),
    /// The name of a finish or a prey of the models.
    Look,
}

/// Every key of `[setup]` with what it holds and a value that will do.
const KEYS: &[(&str, Kind, &str)] = &[
    ("light_lux", Kind::Number(0.0, 2e5), "100"),
    ("target", Kind::Look, "\"minnow\""),
    ("target_length", Kind::Quantity(Dimension::Length, 1e-4, 1.0), "\"50 mm\""),
    ("target_height", Kind::Quantity(Dimension::Length, 1e-4, 1.0), "\"10 mm\""),
    ("target_width", Kind::Quantity(Dimension::Length, 1e-4, 1.0), "\"6 mm\""),
    ("arena", Kind::Quantity(Dimension::Length, 0.05, 100.0), "\"1.5 m\""),
    ("stock_mean", Kind::Quantity(Dimension::Length, 0.05, 1.0), "\"30 cm\""),
    ("stock_spread", Kind::Quantity(Dimension::Length, 0.001, 0.5), "\"6 cm\""),
    ("large_from", Kind::Quantity(Dimension::Length, 0.05, 1.0), "\"305 mm\""),
    ("captures", Kind::Number(0.01, 1000.0), "4"),
    ("line_out", Kind::Quantity(Dimension::Length, 0.1, 1000.0), "\"30 ft\""),
    ("line_diameter", Kind::Quantity(Dimension::Length, 1e-5, 0.05), "\"0.8 mm\""),
    ("line_density", Kind::Number(1000.0, 20_000.0), "3700"),
    ("tow_speed", Kind::Quantity(Dimension::Speed, 0.05, 10.0), "\"2 mph\""),
];

/// The values of `[setup]` by their keys, SI.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Setup {
    numbers: BTreeMap<&'static str, f64>,
    /// Keys that were written, soundly or not: what is wrong is not missing as well.
    written: BTreeSet<&'static str>,
    /// Name of the target's finish or prey.
    pub target: Option<String>,
}

impl Setup {
    /// The number under a key; NaN where there is none, which the reader does not let pass.
    pub fn number(&self, key: &str) -> f64 {
        self.numbers.get(key).copied().unwrap_or(f64::NAN)
    }

    /// The number under a key that may be left out.
    pub fn given(&self, key: &str) -> Option<f64> {
        self.numbers.get(key).copied()
    }

    /// Whether a key was written.
    pub fn has(&self, key: &str) -> bool {
        self.written.contains(key)
    }

    /// Reads the entries of a table over the values of `self`; `looks` are the finishes and prey of the models.
    pub(super) fn read(mut self, reader: &mut Reader, entries: &[Entry], looks: &[&str]) -> Self {
        let known: Vec<&str> = KEYS.iter().map(|k| k.0).collect();
        reader.unknown(entries, &known);
        for one in entries {
            let Some((key, kind, example)) = KEYS.iter().find(|k| k.0 == one.key) else { continue };
            self.written.insert(key);
            match kind {
                Kind::Look => self.target = look(reader, &one.value, looks).or(self.target),
                Kind::Number(low, high) => {
                    if let Some(number) = reader.number(entries, key, (*low, *high)) {
                        self.numbers.insert(key, number);
                    }
                }
                Kind::Quantity(dimension, low, high) => {
                    if let Some(kept) = quantity(reader, key, &one.value, *dimension, (*low, *high), example)
                    {
                        self.numbers.insert(key, kept);
                    }
                }
            }
        }
        self
    }
}

/// A line that gives a key.
pub(super) fn example(key: &str) -> String {
    KEYS.iter().find(|k| k.0 == key).map_or_else(String::new, |(key, _, value)| format!("{key} = {value}"))
}

fn look(reader: &mut Reader, node: &Node, looks: &[&str]) -> Option<String> {
    match &node.value {
        Value::Text(name) if looks.contains(&name.as_str()) => Some(name.clone()),
        Value::Text(_) => {
            let help = format!("write target = one of {}", one_of(looks));
            reader.fault(&node.at.range, "the models hold no such finish or prey", "not known", help);
            None
        }
        other => {
            reader.kind(&node.at.range, "target", "the name of a finish or a prey", other);
            None
        }
    }
}

fn quantity(
    reader: &mut Reader,
    key: &str,
    node: &Node,
    dimension: Dimension,
    (low, high): (f64, f64),
    example: &str,
) -> Option<f64> {
    let Value::Text(text) = &node.value else {
        let wanted = format!("a quantity with its unit in double quotes, as in {key} = {example}");
        reader.kind(&node.at.range, key, &wanted, &node.value);
        return None;
    };
    match parse(text, dimension) {
        Ok(kept) if (low..=high).contains(&kept) => Some(kept),
        Ok(_) => {
            let help = format!("write a value from {} to {}", dimension.write(low), dimension.write(high));
            reader.fault(&node.at.range, format!("{key} cannot be this"), "out of range", help);
            None
        }
        Err(e) => {
            let title = crate::scenario::diagnostic::visible(&format!("{key}: {}", e.what()));
            reader.fault(&node.at.range, title, "", e.help_like(example));
            None
        }
    }
}
