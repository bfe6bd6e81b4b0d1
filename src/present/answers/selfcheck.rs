//! The closed-form checks as a table.

use crate::present::table::{Column, Table};
use crate::study::selfcheck::Check;
use serde_json::{Value, json};

/// Case, expected, got, source.
pub fn table(checks: &[Check]) -> Table {
    let mut table = Table::new(vec![
        Column::text(" "),
        Column::text("case"),
        Column::number("expected"),
        Column::number("got"),
        Column::text("source"),
    ]);
    for c in checks {
        table.push([
            if c.holds() { "ok" } else { "FAILS" }.to_owned(),
            c.case.to_owned(),
            format!("{:.6}", c.expected),
            format!("{:.6}", c.got),
            c.source.to_owned(),
        ]);
    }
    table
}

/// How many hold.
pub fn summary(checks: &[Check]) -> String {
    let failed = checks.iter().filter(|c| !c.holds()).count();
    if failed == 0 {
        format!("All {} checks hold.", checks.len())
    } else {
        format!(
            "{failed} of {} checks FAIL: do not trust this build's numbers; please report it.",
            checks.len()
        )
    }
}

/// Machine output.
pub fn json(checks: &[Check]) -> Value {
    let all: Vec<Value> = checks
        .iter()
        .map(|c| {
            json!({
                "case": c.case, "expected": c.expected, "got": c.got, "tolerance": c.tolerance,
                "holds": c.holds(), "source": c.source,
            })
        })
        .collect();
    super::plain_document("selfcheck", "checks", all)
}
