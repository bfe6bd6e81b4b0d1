//! The closed-form checks as a table.

use super::{About, Readable};
use crate::present::columns::{Kind, column, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::study::selfcheck::{Check, Checks};

impl Readable for Checks {
    fn document(&self, view: &View) -> Document {
        let mut out = Document::new([], summary(self)).without_cautions();
        out.plain_table("The checks", read(&columns(), &self.checks, view.units));
        out
    }

    fn spreadsheet(&self, _view: &View) -> Table {
        spreadsheet(&columns(), &self.checks)
    }

    fn about(&self) -> About {
        About::Nothing
    }
}

/// Case, expected, got, source.
fn columns<'a>() -> [crate::present::columns::Column<'a, Check>; 5] {
    [
        column(" ", " ", Kind::Text, |c: &Check| if c.holds() { "ok" } else { "FAILS" }),
        column("case", "case", Kind::Text, |c: &Check| c.case),
        column("expected", "expected", Kind::Right, |c: &Check| format!("{:.6}", c.expected)),
        column("got", "got", Kind::Right, |c: &Check| format!("{:.6}", c.got)),
        column("source", "source", Kind::Text, |c: &Check| c.source),
    ]
}

/// How many hold.
pub fn summary(all: &Checks) -> String {
    let (failed, of) = (all.checks.iter().filter(|c| !c.holds()).count(), all.checks.len());
    match failed {
        0 => format!("All {of} checks hold."),
        _ => format!("{failed} of {of} checks FAIL: do not trust this build's numbers; please report it."),
    }
}
