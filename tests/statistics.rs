//! The statistics against reference libraries, brute force, exact enumeration and seeded simulation.
//!
//! Simulated checks have fixed seeds; each states the chance with which a correct program would fail at
//! another seed.

mod intervals;
mod power;
mod ranking;
mod sensitivity;
mod sets;

use std::collections::HashMap;

/// Closed forms in double precision, against reference values printed to 12 digits.
const CLOSED_FORM: f64 = 1e-9;
/// Iterated quantiles and score limits, against reference values printed to 10 digits.
const ITERATED: f64 = 1e-6;
/// Critical values simulated with 200 000 draws: four standard errors are 0.02.
const SIMULATED_CRITICAL: f64 = 0.02;

/// A row of a reference table by column name.
struct Row(HashMap<String, String>);

impl Row {
    fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    fn number(&self, column: &str) -> f64 {
        self.given(column).unwrap_or_else(|| panic!("{column} is empty"))
    }

    /// `None` where the table leaves the cell empty (undefined).
    fn given(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{column}: {text}")))
    }

    fn count(&self, column: &str) -> u64 {
        self.number(column) as u64
    }
}

fn table(name: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(&path).expect("reference table");
    let rows: Vec<Row> = reader.deserialize().map(|r| Row(r.expect("row of the table"))).collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

#[track_caller]
fn close(got: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((got - expected).abs() <= tolerance, "{what}: {got}, expected {expected} within {tolerance}");
}

/// The reference tables of relative precision print eight significant digits.
const EIGHT_DIGITS: f64 = 6e-8;

#[track_caller]
fn close_relative(got: f64, expected: f64, tolerance: f64, what: &str) {
    close(got, expected, tolerance * expected.abs(), what);
}

/// A repeatable generator for the simulated checks.
fn generator(index: u64) -> rand::rngs::Xoshiro256PlusPlus {
    callup::random::stream(2_026, callup::random::Purpose::Resample, index)
}

fn uniform(rng: &mut impl rand::Rng) -> f64 {
    // Never 0, so that its logarithm is finite.
    1.0 - rand::RngExt::random::<f64>(rng)
}

fn normal(rng: &mut impl rand::Rng) -> f64 {
    callup::maths::special::normal_quantile(uniform(rng).min(1.0 - 1e-16))
}
