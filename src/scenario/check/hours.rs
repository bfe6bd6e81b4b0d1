//! The hourly table: rows of sky and clarity, each holding from its time on.

use jiff::civil::Time;

use super::place::{PlaceInZone, instant, time};
use super::reader::{Placed, Reader, Section};
use crate::scenario::document::{Node, Origin, Value, entry};
use crate::scenario::types::{Clarity, Hour, Rain, Sky, When};

/// More rows than this are a slip: one for every five minutes of a day.
const MOST_ROWS: usize = 288;

/// What one row changes.
#[derive(Debug, Clone)]
struct Row {
    at: Time,
    unix_s: f64,
    cloud: Option<f64>,
    wind_m_s: Option<f64>,
    rain: Option<Rain>,
    clarity: Option<Clarity>,
}

/// Sky and clarity over the day, from midnight on; empty without a table. `None` where it has a fault.
pub(super) fn hours(
    reader: &mut Reader<'_>,
    place: Option<&PlaceInZone>,
    when: Option<&When>,
    base: Option<(&Sky, Clarity)>,
) -> Option<Vec<Hour>> {
    let document = reader.document;
    let before = reader.faults.len();
    let mut rows = Vec::new();
    if let Some(entry) = entry(&document.root, "hour") {
        match &entry.value.value {
            Value::List(items) => rows.extend(in_order(reader, items, place, when)),
            other => not_rows(reader, &entry.value.at, other.kind()),
        }
    }
    for (_, items) in &document.hour_columns {
        rows.extend(in_order(reader, items, place, when));
    }
    let unread = reader.faults[before..].iter().any(|f| f.severity == super::Severity::Error);
    let (place, when, (sky, clarity)) = (place?, when?, base?);
    if unread {
        return None;
    }
    if rows.is_empty() {
        return Some(Vec::new());
    }
    let midnight_s = place.midnight_s(when.date)?;
    let mut hours = vec![Hour { at: Time::midnight(), unix_s: midnight_s, sky: sky.clone(), clarity }];
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
    next.sky.cloud = row.cloud.unwrap_or(next.sky.cloud);
    next.sky.wind_m_s = row.wind_m_s.unwrap_or(next.sky.wind_m_s);
    next.sky.rain = row.rain.unwrap_or(next.sky.rain);
    next.clarity = row.clarity.unwrap_or(next.clarity);
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
    reader: &mut Reader<'a>,
    items: &'a [Node],
    place: Option<&PlaceInZone>,
    when: Option<&When>,
) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut latest: Option<Time> = None;
    if let Some(first) = items.get(MOST_ROWS) {
        reader.fault(
            &first.at,
            "the hourly table is too long",
            format!("{} rows", items.len()),
            format!("keep to {MOST_ROWS} rows"),
        );
        return rows;
    }
    for item in items {
        let Value::Table(entries) = &item.value else {
            not_rows(reader, &item.at, item.value.kind());
            continue;
        };
        reader.unknown_keys(entries, "hour");
        let section = Section { name: "hour", entries, at: &item.at };
        let at = time(reader, &section, "at");
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
        rows.extend(row(reader, &section, at, place, when));
    }
    rows
}

fn row<'a>(
    reader: &mut Reader<'a>,
    section: &Section<'a>,
    at: Option<Placed<Time>>,
    place: Option<&PlaceInZone>,
    when: Option<&When>,
) -> Option<Row> {
    let there = |name: &str| section.entries.iter().find(|e| e.key == name);
    let cloud = reader.number(section, "cloud").map(|v| v.value);
    let wind_m_s = reader.quantity(section, "wind").map(|v| v.value);
    let rain = match there("rain") {
        Some(_) => reader.word(section, "rain").and_then(|word| Rain::from_label(word.value)),
        None => None,
    };
    let secchi = reader.quantity(section, "secchi").map(|v| Clarity::Secchi(v.value));
    let turbidity = reader.quantity(section, "turbidity").map(|v| Clarity::Turbidity(v.value));
    if let (Some(first), Some(second)) = (there("secchi"), there("turbidity")) {
        let later = if first.key_at.range.start < second.key_at.range.start { second } else { first };
        let help = "keep one; Secchi depth is the better measure of how far a fish sees";
        reader.fault(
            &later.key_at,
            "[[hour]] has both `secchi` and `turbidity`",
            "a second measure of the same clarity",
            help,
        );
    }
    let says = |name: &&str| there(name).is_some();
    if !["cloud", "wind", "rain", "secchi", "turbidity"].iter().any(says)
        && section.entries.iter().all(|e| e.key == "at")
    {
        let help = "add what holds from then on: cloud, wind, rain, secchi or turbidity";
        reader.fault(section.at, "this hour changes nothing", "a time and no value", help);
    }
    let (at, place, when) = (at?, place?, when?);
    let (unix_s, _) = instant(reader, place, when.date, &at)?;
    Some(Row { at: at.value, unix_s, cloud, wind_m_s, rain, clarity: secchi.or(turbidity) })
}

fn clock(time: Time) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}
