//! Where and when: zone, date and time, and the instant they name.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{AmbiguousOffset, Offset, TimeZone};

use super::Tables;
use crate::scenario::day;
use crate::scenario::diagnostic::{near, one_of, visible};
use crate::scenario::reader::{Placed, Reader};
use crate::scenario::types::When;

/// A time zone under the name that the scenario keeps.
pub(super) struct Zone {
    pub name: String,
    rules: TimeZone,
}

impl Zone {
    /// The first instant of a date on this clock, in seconds since 1970.
    pub(super) fn midnight_s(&self, date: Date) -> Option<f64> {
        let start = self.rules.to_ambiguous_zoned_datetime(date.at(0, 0, 0, 0)).compatible().ok()?;
        Some(start.timestamp().as_second() as f64)
    }
}

/// Clocks differ from the sun by at most about three hours anywhere; more means a wrong longitude.
const CLOCK_FROM_SUN_HOURS: f64 = 4.0;

/// The zone by name or by offset.
pub(super) fn zone(reader: &mut Reader<'_>, tables: &Tables) -> Option<Zone> {
    match (tables.text("place.zone"), tables.text("place.utc_offset")) {
        (Some(named), None) => by_name(reader, &named),
        (None, Some(offset)) => by_offset(reader, &offset),
        // Both or none, which has been complained of.
        _ => None,
    }
}

fn by_name(reader: &mut Reader<'_>, named: &Placed<&str>) -> Option<Zone> {
    let name = named.value.trim();
    if let Ok(rules) = TimeZone::get(name) {
        return Some(Zone { name: rules.iana_name().unwrap_or(name).to_string(), rules });
    }
    let known: Vec<String> = jiff::tz::db().available().map(|name| name.as_str().to_string()).collect();
    let alike = near(name, known.iter().map(String::as_str));
    let help = if alike.is_empty() {
        "write a name of the IANA list such as \"America/Chicago\" or \"Europe/Warsaw\", \
         or use utc_offset = \"-05:00\" instead"
            .to_string()
    } else {
        format!("did you mean {}?", one_of(&alike))
    };
    reader.fault(&named.at, format!("there is no time zone `{}`", visible(name)), "unknown zone", help);
    None
}

fn by_offset(reader: &mut Reader<'_>, offset: &Placed<&str>) -> Option<Zone> {
    let Some(seconds) = offset_seconds(offset.value.trim()) else {
        let help = "write it as \"-05:00\", from \"-12:00\" to \"+14:00\"";
        let title = format!("`{}` is not an offset from UTC", visible(offset.value));
        reader.fault(&offset.at, title, "not an offset", help);
        return None;
    };
    let rules = TimeZone::fixed(Offset::from_seconds(seconds).ok()?);
    let minutes = seconds.abs() / 60;
    let sign = if seconds < 0 { '-' } else { '+' };
    Some(Zone { name: format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60), rules })
}

/// "-05:00", "+0530", "-5" or "Z" in seconds.
fn offset_seconds(text: &str) -> Option<i32> {
    if text.eq_ignore_ascii_case("z") || text.eq_ignore_ascii_case("utc") {
        return Some(0);
    }
    let text = text.replace('\u{2212}', "-");
    let (sign, digits) = match text.strip_prefix('-') {
        Some(digits) => (-1, digits),
        None => (1, text.strip_prefix('+')?),
    };
    let (hours, minutes) = match digits.split_once(':') {
        Some(parts) => parts,
        None if digits.len() == 4 && digits.is_ascii() => digits.split_at(2),
        None => (digits, "0"),
    };
    let (hours, minutes) = (i32::from(day::digits(hours)?), i32::from(day::digits(minutes)?));
    let seconds = sign * (hours * 3600 + minutes * 60);
    (minutes < 60 && (-12 * 3600..=14 * 3600).contains(&seconds)).then_some(seconds)
}

pub(super) fn when(reader: &mut Reader<'_>, tables: &Tables, zone: Option<&Zone>) -> Option<When> {
    let date = tables.text("when.date").and_then(|written| date(reader, &written));
    let time = tables.text("when.time").and_then(|written| time(reader, &written, "time"));
    let (date, time, zone) = (date?, time?, zone?);
    let (unix_s, offset) = instant(reader, zone, date, &time)?;
    longitude_fits(reader, tables, offset);
    Some(When { date, time: time.value, unix_s, utc_offset_s: offset.seconds() })
}

/// The instant that a date and a time on the wall clock name, in seconds since 1970, and the offset then.
pub(super) fn instant(
    reader: &mut Reader<'_>,
    zone: &Zone,
    date: Date,
    time: &Placed<Time>,
) -> Option<(f64, Offset)> {
    let local = DateTime::from_parts(date, time.value);
    let ambiguous = zone.rules.to_ambiguous_timestamp(local);
    let offset = match ambiguous.offset() {
        AmbiguousOffset::Unambiguous { offset } => offset,
        AmbiguousOffset::Gap { before, after } => {
            let skipped = after.seconds().saturating_sub(before.seconds()) / 60;
            let later = local.checked_add(jiff::SignedDuration::from_mins(i64::from(skipped))).ok()?;
            let help = format!(
                "write \"{:02}:{:02}\", or give utc_offset instead of zone",
                later.hour(),
                later.minute()
            );
            let title = format!("this time does not exist on {date} in {}", zone.name);
            reader.fault(&time.at, title, format!("the clocks go forward by {skipped} min here"), help);
            return None;
        }
        AmbiguousOffset::Fold { before, .. } => {
            let help = "to mean the other one, give its utc_offset instead of zone";
            let title = format!("this time comes twice on {date} in {}", zone.name);
            reader.warn(&time.at, title, "the first of the two is taken: the clocks go back here", help);
            before
        }
    };
    // Whole seconds of these years are exact in a double.
    Some((offset.to_timestamp(local).ok()?.as_second() as f64, offset))
}

/// Doubts a longitude that puts the sun many hours off the clock: most often a lost minus sign.
fn longitude_fits(reader: &mut Reader<'_>, tables: &Tables, offset: Offset) {
    let Some(longitude) = tables.number("place.longitude") else { return };
    let clock_h = f64::from(offset.seconds()) / 3600.0;
    let apart = (clock_h - longitude.value / 15.0 + 12.0).rem_euclid(24.0) - 12.0;
    if apart.abs() > CLOCK_FROM_SUN_HOURS {
        let title = "longitude and clock do not fit together";
        let label = format!("the sun here is {:.0} h off this clock", apart.abs());
        let help = "west is negative: Arkansas is near -93.9; or check the zone";
        reader.warn(&longitude.at, title, label, help);
    }
}

fn date(reader: &mut Reader<'_>, written: &Placed<&str>) -> Option<Date> {
    let date = day::date(written.value);
    date.map_err(|label| {
        let title = format!("`{}` is not a date", visible(written.value));
        reader.fault(&written.at, title, label, "write year-month-day, as in date = \"2026-04-14\"");
    })
    .ok()
}

/// A time of day under the key of that name.
pub(super) fn time(reader: &mut Reader<'_>, written: &Placed<&str>, name: &str) -> Option<Placed<Time>> {
    let value = day::time(written.value.trim());
    if value.is_none() {
        let title = format!("`{}` is not a time of day", visible(written.value));
        let help = format!("write hours and minutes, as in {name} = \"07:30\" or \"7:30 am\"");
        reader.fault(&written.at, title, "not a time between 00:00 and 23:59", help);
    }
    Some(Placed { value: value?, at: written.at.clone() })
}
