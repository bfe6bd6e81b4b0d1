//! Where and when: coordinates, zone, date, and the instant they name.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{AmbiguousOffset, Offset, TimeZone};

use super::reader::{Placed, Reader, Section, misspelt};
use crate::scenario::diagnostic::{near, one_of, visible};
use crate::scenario::types::{Place, When};

/// A checked place with its time zone.
pub(super) struct PlaceInZone {
    pub value: Place,
    zone: TimeZone,
}

impl PlaceInZone {
    /// The first instant of a date on the place's clock, in seconds since 1970.
    pub(super) fn midnight_s(&self, date: Date) -> Option<f64> {
        let start = self.zone.to_ambiguous_zoned_datetime(date.at(0, 0, 0, 0)).compatible().ok()?;
        Some(start.timestamp().as_second() as f64)
    }
}

/// The years for which zone rules and sun positions are worth something.
const YEARS: std::ops::RangeInclusive<i16> = 1970..=2100;
/// Clocks differ from the sun by at most about three hours anywhere; more means a wrong longitude.
const CLOCK_FROM_SUN_HOURS: f64 = 4.0;

pub(super) fn place(reader: &mut Reader<'_>) -> Option<PlaceInZone> {
    let section = reader.section("place")?;
    let latitude = reader.number(&section, "latitude");
    let longitude = reader.number(&section, "longitude");
    let zone = zone(reader, &section);
    let (name, zone) = zone?;
    let value = Place { latitude_deg: latitude?.value, longitude_deg: longitude.as_ref()?.value, zone: name };
    Some(PlaceInZone { value, zone })
}

/// The zone by name or by offset: exactly one of the two.
fn zone<'a>(reader: &mut Reader<'a>, section: &Section<'a>) -> Option<(String, TimeZone)> {
    let named = reader.text(section, "zone");
    let offset = reader.text(section, "utc_offset");
    match (named, offset) {
        (Some(_), Some(offset)) => {
            let help = "keep the zone, which knows summer time, or the offset, which does not";
            reader.fault(&offset.at, "[place] has both `zone` and `utc_offset`", "a second clock", help);
            None
        }
        (Some(named), None) => by_name(reader, &named),
        (None, Some(offset)) => by_offset(reader, &offset),
        (None, None) => {
            let wrongly_written = ["zone", "utc_offset"]
                .iter()
                .any(|key| section.entries.iter().any(|entry| entry.key == *key));
            let misspelt = ["zone", "utc_offset"].iter().any(|key| misspelt(section.entries, "place", key));
            if reader.ask_for_missing && !wrongly_written && !misspelt {
                let help = "add zone = \"America/Chicago\" or utc_offset = \"-05:00\"";
                reader.fault(section.at, "[place] has no time zone", "whose clock?", help);
            }
            None
        }
    }
}

fn by_name(reader: &mut Reader<'_>, named: &Placed<&str>) -> Option<(String, TimeZone)> {
    let name = named.value.trim();
    if let Ok(zone) = TimeZone::get(name) {
        let name = zone.iana_name().unwrap_or(name).to_string();
        return Some((name, zone));
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

fn by_offset(reader: &mut Reader<'_>, offset: &Placed<&str>) -> Option<(String, TimeZone)> {
    let Some(seconds) = offset_seconds(offset.value.trim()) else {
        let help = "write it as \"-05:00\", from \"-12:00\" to \"+14:00\"";
        let title = format!("`{}` is not an offset from UTC", visible(offset.value));
        reader.fault(&offset.at, title, "not an offset", help);
        return None;
    };
    let zone = TimeZone::fixed(Offset::from_seconds(seconds).ok()?);
    let minutes = seconds.abs() / 60;
    let sign = if seconds < 0 { '-' } else { '+' };
    Some((format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60), zone))
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
    let (hours, minutes) = (small(hours)?, small(minutes)?);
    let seconds = sign * (hours * 3600 + minutes * 60);
    (minutes < 60 && (-12 * 3600..=14 * 3600).contains(&seconds)).then_some(seconds)
}

/// One or two digits as a number.
fn small(digits: &str) -> Option<i32> {
    let fits = (1..=2).contains(&digits.len()) && digits.bytes().all(|byte| byte.is_ascii_digit());
    if fits { digits.parse().ok() } else { None }
}

pub(super) fn when(reader: &mut Reader<'_>, place: Option<&PlaceInZone>) -> Option<When> {
    let section = reader.section("when")?;
    let date = date(reader, &section);
    let time = time(reader, &section, "time");
    let (date, time, place) = (date?, time?, place?);
    let (unix_s, offset) = instant(reader, place, date.value, &time)?;
    longitude_fits(reader, &place.value, offset);
    Some(When { date: date.value, time: time.value, unix_s, utc_offset_s: offset.seconds() })
}

/// The instant that a date and a time on the wall clock name, in seconds since 1970, and the offset then.
pub(super) fn instant(
    reader: &mut Reader<'_>,
    place: &PlaceInZone,
    date: Date,
    time: &Placed<Time>,
) -> Option<(f64, Offset)> {
    let local = DateTime::from_parts(date, time.value);
    let ambiguous = place.zone.to_ambiguous_timestamp(local);
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
            let title = format!("this time does not exist on {date} in {}", place.value.zone);
            reader.fault(&time.at, title, format!("the clocks go forward by {skipped} min here"), help);
            return None;
        }
        AmbiguousOffset::Fold { before, .. } => {
            let help = "to mean the other one, give its utc_offset instead of zone";
            let title = format!("this time comes twice on {date} in {}", place.value.zone);
            reader.warn(&time.at, title, "the first of the two is taken: the clocks go back here", help);
            before
        }
    };
    // Whole seconds of these years are exact in a double.
    Some((offset.to_timestamp(local).ok()?.as_second() as f64, offset))
}

/// Doubts a longitude that puts the sun many hours off the clock: most often a lost minus sign.
fn longitude_fits(reader: &mut Reader<'_>, place: &Place, offset: Offset) {
    let clock_h = f64::from(offset.seconds()) / 3600.0;
    let apart = (clock_h - place.longitude_deg / 15.0 + 12.0).rem_euclid(24.0) - 12.0;
    if apart.abs() <= CLOCK_FROM_SUN_HOURS {
        return;
    }
    let document = reader.document;
    if let Some(node) = document.find("place", "longitude") {
        let title = "longitude and clock do not fit together";
        let label = format!("the sun here is {:.0} h off this clock", apart.abs());
        let help = "west is negative: Arkansas is near -93.9; or check the zone";
        reader.warn(&node.at, title, label, help);
    }
}

fn date<'a>(reader: &mut Reader<'a>, section: &Section<'a>) -> Option<Placed<Date>> {
    let written = reader.text(section, "date")?;
    let refuse = |reader: &mut Reader<'_>, label: &str| {
        let title = format!("`{}` is not a date", visible(written.value));
        reader.fault(&written.at, title, label, "write year-month-day, as in date = \"2026-04-14\"");
        None
    };
    let parts: Vec<&str> = written.value.trim().split('-').collect();
    let [year, month, day] = parts.as_slice() else { return refuse(reader, "not year-month-day") };
    if year.len() != 4 || !year.bytes().all(|byte| byte.is_ascii_digit()) {
        return refuse(reader, "the year comes first, with four digits");
    }
    let (Ok(year), Some(month), Some(day)) = (year.parse::<i16>(), small(month), small(day)) else {
        return refuse(reader, "not year-month-day");
    };
    let (Ok(month), Ok(day)) = (i8::try_from(month), i8::try_from(day)) else {
        return refuse(reader, "not year-month-day");
    };
    let Ok(value) = Date::new(year, month, day) else {
        return refuse(reader, "there is no such day in the calendar");
    };
    if !YEARS.contains(&year) {
        return refuse(reader, "only the years 1970 to 2100 are covered");
    }
    Some(Placed { value, at: written.at })
}

/// A time of day under the key of that name.
pub(super) fn time<'a>(reader: &mut Reader<'a>, section: &Section<'a>, name: &str) -> Option<Placed<Time>> {
    let written = reader.text(section, name)?;
    match clock(written.value.trim()) {
        Some(value) => Some(Placed { value, at: written.at }),
        None => {
            let title = format!("`{}` is not a time of day", visible(written.value));
            let help = format!("write hours and minutes, as in {name} = \"07:30\" or \"7:30 am\"");
            reader.fault(&written.at, title, "not a time between 00:00 and 23:59", help);
            None
        }
    }
}

/// "07:30", "07:30:15" or "7:30 pm".
fn clock(text: &str) -> Option<Time> {
    let lower = text.to_ascii_lowercase();
    let (digits, half) = match (lower.strip_suffix("am"), lower.strip_suffix("pm")) {
        (Some(digits), _) => (digits.trim_end(), Some(0)),
        (_, Some(digits)) => (digits.trim_end(), Some(12)),
        _ => (lower.as_str(), None),
    };
    let mut parts = digits.split(':');
    let hour = small(parts.next()?)?;
    let minute = small(parts.next()?)?;
    let second = parts.next().map_or(Some(0), small)?;
    if parts.next().is_some() {
        return None;
    }
    let hour = match half {
        None => hour,
        Some(half) if (1..=12).contains(&hour) => hour % 12 + half,
        Some(_) => return None,
    };
    let (hour, minute, second) =
        (i8::try_from(hour).ok()?, i8::try_from(minute).ok()?, i8::try_from(second).ok()?);
    // Sixty seconds are a leap second, which no angler means.
    Time::new(hour, minute, second, 0).ok()
}
