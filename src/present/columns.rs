//! Columns described once: what stands above, what kind of thing stands in it, where it comes from. Terminal, page and
//! spreadsheet are made of the same description.

use super::table::{Column as Shown, Table};
use super::words;
use crate::statistics::estimate::Estimate;
use crate::study::axis::Step;
use crate::units::UnitSystem;

/// What a cell holds, before it is said in anybody's units.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Nothing.
    Nothing,
    /// Words.
    Text(String),
    /// A number.
    Number(f64),
    /// A middle value with its range.
    Estimate(Estimate),
    /// From one number to another.
    Range(f64, f64),
    /// Whether something is so.
    Flag(bool),
}

impl From<f64> for Cell {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}

impl From<Step> for Cell {
    fn from(step: Step) -> Self {
        match step {
            Step::Number(value) => Self::Number(value),
            Step::Word(word) => Self::Text(word),
        }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<Estimate> for Cell {
    fn from(value: Estimate) -> Self {
        Self::Estimate(value)
    }
}

impl From<bool> for Cell {
    fn from(value: bool) -> Self {
        Self::Flag(value)
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Nothing, Into::into)
    }
}

/// How the cells of a column are said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// As they are.
    Text,
    /// A dot where it is so.
    Mark,
    /// Strikes in 100: "about 7 (3 to 14)".
    Odds,
    /// The same as short as it can be said: "7 (3 to 14)".
    ShortOdds,
    /// Words that stand flush right, as numbers do.
    Right,
    /// To a tenth.
    Tenth,
    /// A difference in 100 too small for halves.
    Small,
    /// Strikes in an hour: "1.4 (0.3 to 4)".
    PerHour,
    /// So many of 100 passes, "<1" below a half.
    OfHundred,
    /// A depth or distance, its unit in the heading; with its range where it has one.
    Length,
    /// A share in per cent.
    Percent,
    /// A range of ranks: "1 to 3".
    Ranks,
    /// At most two significant digits.
    Number,
    /// No decimals.
    Whole,
    /// Illuminance: two digits, nothing below what any eye sees.
    Lux,
    /// The same, nothing finer than a bright night.
    Daylight,
}

/// A column of rows of type `R`.
pub struct Column<'a, R> {
    /// Its name for programs, with the unit; a spreadsheet does without a column that has none.
    name: String,
    heading: String,
    kind: Kind,
    get: Box<dyn Fn(&R) -> Cell + 'a>,
    read: bool,
}

impl<'a, R> Column<'a, R> {
    /// Nothing but a spreadsheet has it.
    pub fn spreadsheet_only(self) -> Self {
        Self { read: false, ..self }
    }
}

/// A column: its name for programs (none where a spreadsheet does without it), its heading for people, its kind, where a
/// row has it.
pub fn column<'a, R, C: Into<Cell>>(
    name: impl Into<String>,
    heading: impl Into<String>,
    kind: Kind,
    get: impl Fn(&R) -> C + 'a,
) -> Column<'a, R> {
    Column {
        name: name.into(),
        heading: heading.into(),
        kind,
        get: Box::new(move |row| get(row).into()),
        read: true,
    }
}

/// A column of a spreadsheet alone.
pub fn raw<'a, R, C: Into<Cell>>(name: impl Into<String>, get: impl Fn(&R) -> C + 'a) -> Column<'a, R> {
    column(name, "", Kind::Text, get).spreadsheet_only()
}

/// The rows as people read them.
pub fn read<R>(columns: &[Column<R>], rows: &[R], units: UnitSystem) -> Table {
    let columns: Vec<&Column<R>> = columns.iter().filter(|c| c.read).collect();
    let heading = |c: &&Column<R>| {
        let shown = match c.kind {
            Kind::Right => Shown::number(&c.heading),
            Kind::Text | Kind::Mark | Kind::Odds | Kind::PerHour | Kind::Ranks => Shown::text(&c.heading),
            _ if rows.iter().any(|r| !matches!((c.get)(r), Cell::Number(_) | Cell::Nothing)) => {
                Shown::text(&c.heading)
            }
            _ => Shown::number(&c.heading),
        };
        if c.kind == Kind::Length { shown.unit(units.length_value(1.0).1) } else { shown }
    };
    let mut table = Table::new(columns.iter().map(heading).collect());
    for row in rows {
        table.push(columns.iter().map(|c| c.kind.said(&(c.get)(row), units)));
    }
    table
}

/// The rows for a spreadsheet: plain numbers, one to a cell, under names for programs.
pub fn spreadsheet<R>(columns: &[Column<R>], rows: &[R]) -> Table {
    let columns: Vec<&Column<R>> = columns.iter().filter(|c| !c.name.is_empty()).collect();
    let parts = |c: &&Column<R>| {
        let filled = rows.iter().map(|r| (c.get)(r)).find(|cell| *cell != Cell::Nothing);
        let endings: &[&str] = match filled {
            Some(Cell::Estimate(_)) => &["_median", "_low", "_high"],
            Some(Cell::Range(..)) if c.kind == Kind::Ranks => &["_best", "_worst"],
            Some(Cell::Range(..)) => &["_low", "_high"],
            _ => &[""],
        };
        endings.iter().map(|e| format!("{}{e}", c.name)).collect::<Vec<_>>()
    };
    let names: Vec<Vec<String>> = columns.iter().map(parts).collect();
    let mut table = Table::new(names.iter().flatten().map(|n| Shown::text(n)).collect());
    for row in rows {
        let cells = columns.iter().zip(&names).flat_map(|(c, names)| {
            let mut cells = match (c.get)(row) {
                Cell::Nothing => Vec::new(),
                Cell::Text(text) => vec![text],
                Cell::Number(n) => vec![n.to_string()],
                Cell::Flag(b) => vec![b.to_string()],
                Cell::Estimate(e) => [e.point, e.low, e.high].map(|v| v.to_string()).to_vec(),
                Cell::Range(a, b) => vec![a.to_string(), b.to_string()],
            };
            cells.resize(names.len(), String::new());
            cells
        });
        table.push(cells);
    }
    table
}

impl Kind {
    fn said(self, cell: &Cell, units: UnitSystem) -> String {
        let range = |low: String, high: String| if low == high { low } else { format!("{low} to {high}") };
        match (cell, self) {
            (Cell::Nothing, _) => String::new(),
            (Cell::Text(text), _) => text.clone(),
            (Cell::Flag(so), Kind::Mark) => if *so { "●" } else { "" }.to_owned(),
            (Cell::Flag(so), _) => if *so { "yes" } else { "no" }.to_owned(),
            (Cell::Estimate(e), Kind::Odds) => words::short_range(e.point, e.low, e.high),
            (Cell::Estimate(e), Kind::ShortOdds) => words::shortest_range(e.point, e.low, e.high),
            (Cell::Estimate(e), Kind::PerHour) => words::per_hour(e),
            (Cell::Estimate(e), _) => {
                let [middle, low, high] = [e.point, e.low, e.high].map(|v| self.number(v, units));
                format!("{middle} ({low} to {high})")
            }
            (Cell::Range(low, high), Kind::Ranks) => range(low.to_string(), high.to_string()),
            (Cell::Range(low, high), _) => {
                format!("{} to {}", self.number(*low, units), self.number(*high, units))
            }
            (Cell::Number(n), _) => self.number(*n, units),
        }
    }

    /// A number of this kind.
    pub fn number(self, value: f64, units: UnitSystem) -> String {
        match self {
            Kind::Whole => format!("{:.0}", value.round() + 0.0).replace('-', "−"),
            Kind::Small => words::small(value),
            Kind::Tenth => words::two_digits((10.0 * value).round() / 10.0),
            Kind::Lux if value < 1e-6 => "0".into(),
            Kind::Daylight if value < 0.001 => "<0.001".into(),
            Kind::OfHundred if value < 0.5 => "<1".into(),
            Kind::OfHundred => format!("{value:.0}"),
            Kind::Length => format!("{:.1}", units.length_value(value).0),
            Kind::Percent => format!("{:.0} %", 100.0 * value),
            Kind::Odds => words::per_100(value),
            _ => words::two_digits(value),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One description, two forms: rounded and in the reader's unit for people, plain numbers for programs.
    #[test]
    fn a_column_is_described_once() {
        let e = Estimate { point: 7.2, simulation_se: 0.1, low: 2.8, high: 14.1 };
        let columns = [
            column("best", " ", Kind::Mark, |r: &(bool, f64)| r.0),
            column("strikes_per_100", "strikes in 100", Kind::Odds, |_: &(bool, f64)| e),
            column("depth_m", "runs to", Kind::Length, |r: &(bool, f64)| r.1),
            column("rank", "rank", Kind::Ranks, |_: &(bool, f64)| Cell::Range(1.0, 3.0)),
            column("", "of 100", Kind::OfHundred, |r: &(bool, f64)| r.1 / 10.0),
            raw("simulation_se", |_: &(bool, f64)| e.simulation_se),
        ];
        let rows = [(true, 3.048), (false, 6.096)];
        let shown = read(&columns, &rows, UnitSystem::Us);
        let headings: Vec<String> = shown.columns.iter().map(Shown::title).collect();
        assert_eq!(headings, [" ", "strikes in 100", "runs to (ft)", "rank", "of 100"]);
        assert_eq!(shown.rows[0], ["●", "about 7 (3 to 14)", "10.0", "1 to 3", "<1"]);
        let sheet = spreadsheet(&columns, &rows);
        let names: Vec<&str> = sheet.columns.iter().map(|c| c.heading.as_str()).collect();
        let wanted = "best strikes_per_100_median strikes_per_100_low strikes_per_100_high depth_m rank_best rank_worst simulation_se";
        assert_eq!(names.join(" "), wanted);
        assert_eq!(sheet.rows[1], ["false", "7.2", "2.8", "14.1", "6.096", "1", "3", "0.1"]);
    }

    /// A column of which a row has nothing keeps its cells empty, as many as its other rows have.
    #[test]
    fn nothing_is_an_empty_cell() {
        let e = Estimate { point: 1.0, simulation_se: 0.0, low: 0.5, high: 2.0 };
        let columns = [column("per_hour", "an hour", Kind::PerHour, |r: &Option<Estimate>| *r)];
        let sheet = spreadsheet(&columns, &[None, Some(e)]);
        assert_eq!(sheet.rows, [vec![""; 3], vec!["1", "0.5", "2"]]);
        assert_eq!(read(&columns, &[None, Some(e)], UnitSystem::Metric).rows[0], [""]);
    }
}
