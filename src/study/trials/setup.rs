//! What a measurement needs beside a scenario: the target, the light at the eye, the arena, the stock, the towed line.

use crate::scenario::reader::{Table, line};
use crate::scenario::schema::{Key, Kind, Said, between, from_to, key, keys};
use crate::units::Dimension::{Length, Speed};
use std::collections::{BTreeMap, BTreeSet};

/// Every key of `[setup]`.
pub(super) static KEYS: &[Key] = keys! {
    "setup.light_lux": between(0.0, 2e5), "100", "light at the fish in lux", optional;
    "setup.target": Kind::Look, "\"minnow\"", "finish or prey shown", optional;
    "setup.target_length": from_to(Length, 1e-4, 1.0), "\"50 mm\"", "its length", optional;
    "setup.target_height": from_to(Length, 1e-4, 1.0), "\"10 mm\"", "its height", optional;
    "setup.target_width": from_to(Length, 1e-4, 1.0), "\"6 mm\"", "its width", optional;
    "setup.arena": from_to(Length, 0.05, 100.0), "\"1.5 m\"", "side of a square tank", optional;
    "setup.stock_mean": from_to(Length, 0.05, 1.0), "\"30 cm\"", "mean length of the stock", optional;
    "setup.stock_spread": from_to(Length, 0.001, 0.5), "\"6 cm\"", "standard deviation of it", optional;
    "setup.large_from": from_to(Length, 0.05, 1.0), "\"305 mm\"", "length that counts as large", optional;
    "setup.captures": between(0.01, 1000.0), "4", "captures of a mean fish in all", optional;
    "setup.line_out": from_to(Length, 0.1, 1000.0), "\"30 ft\"", "line behind the boat", optional;
    "setup.line_diameter": from_to(Length, 1e-5, 0.05), "\"0.8 mm\"", "its diameter", optional;
    "setup.line_density": between(1000.0, 20_000.0), "3700", "its density in kg/m3", optional;
    "setup.tow_speed": from_to(Speed, 0.05, 10.0), "\"2 mph\"", "speed of the boat", optional;
};

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

    /// With what a table says laid over it.
    pub(super) fn with(mut self, table: &Table) -> Self {
        for key in KEYS.iter().filter(|key| table.entry(key.split().1).is_some()) {
            self.written.insert(key.split().1);
        }
        for (key, said) in &table.given {
            match &said.value {
                Said::Number(number) => {
                    self.numbers.insert(key.split().1, *number);
                }
                Said::Word(look) => self.target = Some(look.clone()),
            }
        }
        self
    }
}

/// A line that gives a key.
pub(super) fn example(name: &str) -> String {
    KEYS.iter().find(|key| key.split().1 == name).map(line).unwrap_or_default()
}
