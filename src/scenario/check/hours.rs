//! The hourly table: rows of sky and clarity, each holding from its time on.

use jiff::civil::Time;

use super::fill;
use super::place::{Zone, instant, time};
use crate::scenario::catalogue::Catalogue;
use crate::scenario::diagnostic::Severity;
use crate::scenario::document::{Document, Node, Origin, Value, entry};
use crate::scenario::reader::{Reader, Table};
use crate::scenario::schema::KEYS;
use crate::scenario::types::{Hour, Scenario, When};

/// More rows than this are a slip: one for every five minutes of a day.
const MOST_ROWS: usize = 288;

/// What one row changes, and from when on.
struct Row<'a> {
    at: Time,
    unix_s: f64,
    table: Table<'a>,
}

/// Sky and clarity over the day, from midnight on; empty without a table. `None` where it has a fault.
pub(super) fn hours(
    reader: &mut Reader<'_>,
    document: &Document,
    catalogue: &Catalogue,
    zone: Option<&Zone>,
    when: Option<&When>,
    base: &Scenario,
) -> Option<Vec<Hour>> {
    let before = reader.faults.len();
    let mut rows = Vec::new();
    if let Some(entry) = entry(&document.root, "hour") {
        match &entry.value.value {
            Value::List(items) => rows.extend(in_order(reader, catalogue, items, zone, when)),
            other => not_rows(reader, &entry.value.at, other.kind()),
        }
    }
    for (_, items) in &document.hour_columns {
        rows.extend(in_order(reader, catalogue, items, zone, when));
    }
    let unread = reader.faults[before..].iter().any(|f| f.severity == Severity::Error);
    let (zone, when) = (zone?, when?);
    if unread {
        return None;
    }
    if rows.is_empty() {
        return Some(Vec::new());
    }
    let unix_s = zone.midnight_s(when.date)?;
    let (sky, clarity) = (base.sky.clone(), base.water.clarity);
    let mut hours = vec![Hour { at: Time::midnight(), unix_s, sky, clarity }];
    rows.sort_by(|a, b| a.unix_s.total_cmp(&b.unix_s));
    for row in rows {
        hours = with_row(hours, &row);
    }
    Some(hours)
}

/// The hours with what a later row changes; a row of the same instant joins the one before.
fn with_row(mut hours: Vec<Hour>, row: &Row) -> Vec<Hour> {
    let Some(last) = hours.last() else { return hours };
    let mut next = Hour { at: row.at, unix_s: row.unix_s, ..last.clone() };
    fill(&mut next, std::slice::from_ref(&row.table));
    if last.unix_s >= row.unix_s {
        hours.pop();
    }
    hours.push(next);
    hours
}

fn not_rows(reader: &mut Reader<'_>, at: &Origin, kind: &str) {
    let label = format!("{kind} where a list of rows is wanted");
    let help = "begin each row with a line [[hour]], and its keys below: at = \"09:00\", cloud = 0.2";
    reader.fault(at, "`hour` is not a list of rows", label, help);
}

/// Rows that follow each other in time.
fn in_order<'a>(
    reader: &mut Reader<'_>,
    catalogue: &Catalogue,
    items: &'a [Node],
    zone: Option<&Zone>,
    when: Option<&When>,
) -> Vec<Row<'a>> {
    let mut rows = Vec::new();
    let mut latest: Option<Time> = None;
    if let Some(first) = items.get(MOST_ROWS) {
        let (label, help) = (format!("{} rows", items.len()), format!("keep to {MOST_ROWS} rows"));
        reader.fault(&first.at, "the hourly table is too long", label, help);
        return rows;
    }
    for item in items {
        let Value::Table(entries) = &item.value else {
            not_rows(reader, &item.at, item.value.kind());
            continue;
        };
        let table = reader.table(KEYS, "hour", entries, &item.at, catalogue);
        let at = table.text("at").and_then(|text| time(reader, &text, "at"));
        if let Some(at) = &at {
            match latest {
                Some(earlier) if at.value <= earlier => {
                    let label = format!("not after {}", clock(earlier));
                    let help = "put the rows in the order of the day, each time once";
                    reader.fault(&at.at, "this hour is out of order", label, help);
                }
                _ => latest = Some(at.value),
            }
        }
        if entries.iter().all(|e| e.key == "at") {
            let help = "add what holds from then on: cloud, wind, rain, secchi or turbidity";
            reader.fault(table.at, "this hour changes nothing", "a time and no value", help);
        }
        let (Some(at), Some(zone), Some(when)) = (at, zone, when) else { continue };
        if let Some((unix_s, _)) = instant(reader, zone, when.date, &at) {
            rows.push(Row { at: at.value, unix_s, table });
        }
    }
    rows
}

fn clock(time: Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}
