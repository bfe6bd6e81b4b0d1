//! Reading a log of casts: tolerant of form, strict about meaning.
//!
//! The first line names the columns, in any order: `date`, `bait`, `casts` and `strikes` must be there; `time` and any
//! other value of a scenario that varied may, by its path (`water.secchi`) or its plain word (`clarity`). A unit
//! stands in the heading, `secchi (m)` or `depth [ft]`, or behind each value. Cells are parted by commas, semicolons
//! or tabs; a name with commas stands in quotes. Blank lines and lines that begin with `#` are passed over. Columns
//! that mean nothing here are ignored by name. Whatever cannot be understood is a fault with its place; a log with
//! faults teaches nothing.

use super::table::{Cell, delimiter, lines};
use crate::scenario::diagnostic::{near, visible};
use crate::scenario::document::{Node, Origin, Value};
use crate::scenario::reader::Reader;
use crate::scenario::schema::{self, Kind, Said};
use crate::scenario::{Catalogue, Diagnostic, Setting, SettingKind, day, paths};
use crate::study::axis::{AxisError, names};
use crate::units::{UnitError, UnitFault, parse};
use jiff::civil::Date;
use std::ops::Range;

/// More rows than this are no angler's log.
pub const MOST_ROWS: usize = 10_000;
/// More casts than this in one row are a slip.
pub const MOST_CASTS: u32 = 10_000;

/// One row: some casts with one bait.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Place of the whole row in the text.
    pub at: Range<usize>,
    /// The date.
    pub date: Date,
    /// The bait as written, and its place.
    pub bait: (String, Range<usize>),
    /// Casts.
    pub casts: u32,
    /// Strikes among them.
    pub strikes: u32,
    /// Values put in place of the scenario's: path and text.
    pub overrides: Vec<(String, String)>,
    /// Places of these values.
    pub places: Vec<Range<usize>>,
}

/// A log that can be understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Log {
    /// The rows, in the order of the file.
    pub rows: Vec<Row>,
    /// Columns passed over, each with the name it may have been meant to be.
    pub ignored: Vec<(String, Option<String>)>,
    /// Values of the scenario that the log gives.
    pub varied: Vec<&'static str>,
    /// Values that some rows leave to the scenario, and how many rows do.
    pub left_open: Vec<(&'static str, usize)>,
}

/// What a column holds.
enum Column<'a> {
    Date,
    Bait,
    Casts,
    Strikes,
    Value(&'a Setting, Option<String>),
    Nothing,
}

/// Reads a log from the text of a file called `file`.
///
/// # Errors
/// Every fault found, in the order of the file.
pub fn read(source: &str, file: &str, catalogue: &Catalogue) -> Result<Log, Vec<Diagnostic>> {
    let settings = paths(catalogue);
    let mut reader = Reader::new(file);
    let mut lines = lines(source).filter(|at| {
        let line = source[at.clone()].trim();
        !line.is_empty() && !line.starts_with('#')
    });
    let Some(first) = lines.next() else {
        let help = "begin with a line that names the columns: date,time,bait,casts,strikes";
        reader.fault(0..0, "the log is empty", "", help);
        return Err(reader.faults);
    };
    let parted = delimiter(&source[first.clone()]);
    let heading = reader.cells(source, first.clone(), parted);
    let mut log = Log { rows: Vec::new(), ignored: Vec::new(), varied: Vec::new(), left_open: Vec::new() };
    let columns: Vec<Column> = heading.iter().map(|c| reader.column(c, &settings, &mut log)).collect();
    reader.against_each_other(&columns, &heading, first);
    if !reader.faults.is_empty() {
        return Err(reader.faults);
    }
    for at in lines {
        let cells = reader.cells(source, at.clone(), parted);
        if cells.iter().all(|c| c.text.is_empty()) {
            continue;
        }
        if log.rows.len() == MOST_ROWS {
            let help = "split the log, or sum casts of the same bait and hour into one row";
            reader.fault(at, format!("the log has more than {MOST_ROWS} rows"), "", help);
            break;
        }
        if let Some(row) = reader.row(at, &cells, &columns, &mut log.left_open, catalogue) {
            log.rows.push(row);
        }
    }
    if log.rows.is_empty() && reader.faults.is_empty() {
        reader.fault(
            source.len()..source.len(),
            "the log has no rows",
            "",
            "write one row for each bait and hour",
        );
    }
    if reader.faults.is_empty() { Ok(log) } else { Err(reader.faults) }
}

/// "secchi (m)" as "secchi" and "m".
fn name_and_unit(heading: &str) -> (String, Option<String>) {
    for (open, close) in [('(', ')'), ('[', ']')] {
        if let Some((name, rest)) = heading.split_once(open)
            && let Some(unit) = rest.trim().strip_suffix(close)
        {
            return (name.trim().to_owned(), Some(unit.trim().to_owned()));
        }
    }
    (heading.trim().to_owned(), None)
}

impl Reader<'_> {
    fn column<'s>(&mut self, cell: &Cell, settings: &'s [Setting], log: &mut Log) -> Column<'s> {
        let (name, unit) = name_and_unit(&cell.text);
        match name.to_lowercase().as_str() {
            "date" | "when.date" => return Column::Date,
            "bait" => return Column::Bait,
            "casts" => return Column::Casts,
            "strikes" => return Column::Strikes,
            _ => {}
        }
        // "water temperature" for water.temperature.
        let dotted = name.split_whitespace().collect::<Vec<_>>().join(".");
        match names::find(&name, settings).or_else(|why| names::find(&dotted, settings).map_err(|_| why)) {
            Ok(setting) if setting.path.starts_with("bait.") || setting.path.starts_with("box.") => {
                let help = "write it into the name of the bait, as in \"90 mm, standard lip, silent, mirror\", and \
                            take the column away or give it another heading";
                let title = format!("the column `{}` would change every bait", visible(&name));
                self.fault(cell.at.clone(), title, setting.about, help);
                Column::Nothing
            }
            Ok(setting) => {
                let unit = self.heading_unit(cell, setting, unit);
                log.varied.push(setting.path);
                Column::Value(setting, unit)
            }
            Err(why) => {
                let meant = match why {
                    AxisError::Ambiguous { paths, .. } => Some(paths.join(" or ")),
                    AxisError::Unknown { near, .. } => near.into_iter().find(|n| close(n, &name)),
                    _ => None,
                };
                let shown = if name.is_empty() { "without a name".to_owned() } else { visible(&cell.text) };
                log.ignored.push((shown, meant));
                Column::Nothing
            }
        }
    }

    /// The unit of a heading, which must be one of the quantity.
    fn heading_unit(&mut self, cell: &Cell, setting: &Setting, unit: Option<String>) -> Option<String> {
        let unit = unit?;
        match setting.kind {
            SettingKind::Number { dimension: Some(dimension), .. } => {
                if let Err(e) = parse(&format!("1 {unit}"), dimension) {
                    let names = dimension.unit_names().join(", ");
                    let help = format!("write one of {names} in the brackets");
                    let title = format!("the unit of the column {}: {}", setting.path, e.what());
                    self.fault(cell.at.clone(), title, "not its unit", help);
                }
                Some(unit)
            }
            SettingKind::Number { dimension: None, limits, .. } => {
                let title = format!("{} has no unit", setting.path);
                let help =
                    format!("write numbers from {} to {}, and no unit in the heading", limits.0, limits.1);
                self.fault(cell.at.clone(), title, "a unit where there is none", help);
                None
            }
            _ => None,
        }
    }

    /// What must be there is there, and nothing twice.
    fn against_each_other(&mut self, columns: &[Column], heading: &[Cell], line: Range<usize>) {
        let key = |c: &Column| match c {
            Column::Date => "date",
            Column::Bait => "bait",
            Column::Casts => "casts",
            Column::Strikes => "strikes",
            Column::Value(setting, _) => setting.path,
            Column::Nothing => "",
        };
        for (i, column) in columns.iter().enumerate() {
            let name = key(column);
            if !name.is_empty() && columns[..i].iter().any(|c| key(c) == name) {
                let title = format!("the log has two columns for {name}");
                self.fault(heading[i].at.clone(), title, "the second", "take one of them away");
            }
        }
        for needed in ["date", "bait", "casts", "strikes"] {
            if columns.iter().all(|c| key(c) != needed) {
                let written: Vec<&str> = heading.iter().map(|c| c.text.as_str()).collect();
                let alike = near(needed, written.iter().copied());
                let help = match alike.first() {
                    Some(alike) => format!("is it `{}`? name it `{needed}`", visible(alike)),
                    None => "the columns are date, time, bait, casts, strikes, and what else of the scenario varied"
                        .to_owned(),
                };
                let title = format!("the log has no column `{needed}`");
                self.fault(line.clone(), title, "the line that names the columns", help);
            }
        }
    }

    fn row(
        &mut self,
        at: Range<usize>,
        cells: &[Cell],
        columns: &[Column],
        left_open: &mut Vec<(&'static str, usize)>,
        catalogue: &Catalogue,
    ) -> Option<Row> {
        let before = self.faults.len();
        if let Some(extra) = cells.iter().skip(columns.len()).find(|c| !c.text.is_empty()) {
            let title = format!("the row has {} cells, the heading {}", cells.len(), columns.len());
            let help =
                "put a name that has commas in it into quotes: \"90 mm, standard lip, silent, mirror\"";
            self.fault(extra.at.clone(), title, "one too many", help);
            return None;
        }
        let empty = Cell { text: String::new(), at: at.end..at.end };
        let cell = |i: usize| cells.get(i).unwrap_or(&empty);
        let mut row = Row {
            at: at.clone(),
            date: Date::MIN,
            bait: (String::new(), at.clone()),
            casts: 0,
            strikes: 0,
            overrides: Vec::new(),
            places: Vec::new(),
        };
        let mut strikes_at = at.clone();
        for (i, column) in columns.iter().enumerate() {
            let cell = cell(i);
            match column {
                Column::Date => row.date = self.date(cell).unwrap_or(Date::MIN),
                Column::Bait if cell.text.is_empty() => {
                    self.fault(cell.at.clone(), "the row names no bait", "empty", "write the bait's name");
                }
                Column::Bait => row.bait = (cell.text.clone(), cell.at.clone()),
                Column::Casts => row.casts = self.count(cell, "casts").unwrap_or(0),
                Column::Strikes => {
                    row.strikes = self.count(cell, "strikes").unwrap_or(0);
                    strikes_at = cell.at.clone();
                }
                Column::Value(setting, _) if cell.text.is_empty() => {
                    match left_open.iter_mut().find(|l| l.0 == setting.path) {
                        Some(open) => open.1 += 1,
                        None => left_open.push((setting.path, 1)),
                    }
                }
                Column::Value(setting, unit) => {
                    if let Some(text) = self.cell_value(cell, setting, unit.as_deref(), catalogue) {
                        row.overrides.push((setting.path.to_owned(), text));
                        row.places.push(cell.at.clone());
                    }
                }
                Column::Nothing => {}
            }
        }
        if self.faults.len() == before && row.strikes > row.casts {
            let title = format!("{} strikes in {} casts", row.strikes, row.casts);
            let help = "count a cast once, however often it was struck; or correct one of the two";
            self.fault(strikes_at, title, "more strikes than casts", help);
        }
        (self.faults.len() == before).then_some(row)
    }

    fn date(&mut self, cell: &Cell) -> Option<Date> {
        let date = day::date(&cell.text).ok();
        if date.is_none() {
            let title = if cell.text.is_empty() {
                "the row has no date".to_owned()
            } else {
                format!("`{}` is not a date", visible(&cell.text))
            };
            self.fault(
                cell.at.clone(),
                title,
                "not year-month-day",
                "write year-month-day, as in 2026-04-14",
            );
        }
        date
    }

    fn count(&mut self, cell: &Cell, what: &str) -> Option<u32> {
        match cell.text.parse::<u32>() {
            Ok(count) if count <= MOST_CASTS => return Some(count),
            Ok(_) => {
                let help =
                    format!("write one row for each bait and hour; {MOST_CASTS} is the most in one row");
                let title = format!("{} {what} in one row", visible(&cell.text));
                self.fault(cell.at.clone(), title, "more than anyone casts", help);
            }
            Err(_) if cell.text.is_empty() => {
                let help = format!("write the number of {what}; 0 where there were none");
                self.fault(cell.at.clone(), format!("the row gives no {what}"), "empty", help);
            }
            Err(_) => {
                let title = format!("`{}` is not a number of {what}", visible(&cell.text));
                self.fault(cell.at.clone(), title, "not a whole number of 0 or more", "write 0, 1, 2 ...");
            }
        }
        None
    }

    /// A value of the scenario as its override wants it.
    fn cell_value(
        &mut self,
        cell: &Cell,
        setting: &Setting,
        unit: Option<&str>,
        catalogue: &Catalogue,
    ) -> Option<String> {
        let key = schema::find(setting.path)?;
        let value = match &key.kind {
            // A clock time, read with the scenario.
            Kind::Text => return Some(cell.text.clone()),
            Kind::Number { .. } | Kind::Whole { .. } => {
                cell.text.parse().map_or_else(|_| Value::Text(cell.text.clone()), Value::Number)
            }
            // A unit behind the value counts; only a bare number takes that of the heading.
            Kind::Quantity { dimension, .. } => match (parse(&cell.text, *dimension), unit) {
                (Err(UnitError { fault: UnitFault::NoUnit(_), .. }), Some(unit)) => {
                    Value::Text(format!("{} {unit}", cell.text))
                }
                (Err(e @ UnitError { fault: UnitFault::NoUnit(_), .. }), None) => {
                    let help = format!(
                        "write the unit into the heading, as in \"{} ({})\", or behind the value",
                        setting.path,
                        dimension.unit_names().first().copied().unwrap_or_default()
                    );
                    let title = format!("{}: {}", setting.path, e.what());
                    self.fault(&cell.at, title, setting.about, help);
                    return None;
                }
                _ => Value::Text(cell.text.clone()),
            },
            _ => Value::Text(cell.text.clone()),
        };
        let node = Node { at: Origin::from(&cell.at), value };
        Some(match (self.value(key, &node, catalogue)?, &key.kind) {
            (Said::Number(kept), Kind::Quantity { dimension, .. }) => dimension.write(kept),
            (Said::Number(_), _) => cell.text.clone(),
            (Said::Word(word), _) => word,
        })
    }
}

/// Whether two words differ by a slip of the finger only; a heading of another meaning is not asked about.
fn close(a: &str, b: &str) -> bool {
    /// Jaro-Winkler similarity from which two headings are taken for one misspelt.
    const SLIP: f64 = 0.92;
    strsim::jaro_winkler(&a.to_lowercase(), &b.to_lowercase()) >= SLIP
}
