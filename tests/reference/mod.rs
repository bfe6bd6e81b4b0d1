//! The reference tables in this directory, each with its origin in its first line.

use std::collections::HashMap;

/// A row of a table by column name.
pub type Row = HashMap<String, String>;

/// Rows of a table in tests/reference, by column name.
pub fn table(name: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let rows: Vec<_> = reader.deserialize().map(Result::unwrap).collect();
    assert!(!rows.is_empty());
    rows
}

/// A number in a row.
pub fn number(row: &Row, column: &str) -> f64 {
    row[column].parse().unwrap()
}
