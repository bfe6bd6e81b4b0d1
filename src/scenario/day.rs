//! The local day of a scenario: its bounds, clock times in its zone, and how dates and times are written.

use super::types::Scenario;
use jiff::Timestamp;
use jiff::civil::{Date, Time};
use jiff::tz::{Offset, TimeZone};

/// The zone of a checked scenario. UTC should it not be found, which a checked scenario excludes.
fn zone(scenario: &Scenario) -> TimeZone {
    TimeZone::get(&scenario.place.zone).unwrap_or_else(|_| {
        Offset::from_seconds(scenario.when.utc_offset_s).map_or(TimeZone::UTC, TimeZone::fixed)
    })
}

/// First instant of the scenario's date and of the next, in its zone, seconds since 1970-01-01T00:00:00Z: 23 to 25
/// hours apart where the clocks change. `None` only for a date at the end of time.
pub fn bounds_s(scenario: &Scenario) -> Option<(f64, f64)> {
    let zone = zone(scenario);
    let start = |date: Date| -> Option<f64> {
        let instant = zone.to_ambiguous_zoned_datetime(date.at(0, 0, 0, 0)).compatible().ok()?;
        Some(instant.timestamp().as_second() as f64)
    };
    Some((start(scenario.when.date)?, start(scenario.when.date.tomorrow().ok()?)?))
}

/// The wall clock in the scenario's zone at an instant: hours since the local midnight of that instant's date.
pub fn clock_h(scenario: &Scenario, unix_s: f64) -> f64 {
    let Ok(instant) = Timestamp::from_second(unix_s.round() as i64) else { return f64::NAN };
    let time = instant.to_zoned_datetime(zone(scenario)).time();
    f64::from(time.hour()) + f64::from(time.minute()) / 60.0 + f64::from(time.second()) / 3600.0
}

/// The wall clock as "06:42".
pub fn clock(scenario: &Scenario, unix_s: f64) -> String {
    let hours = clock_h(scenario, unix_s);
    if !hours.is_finite() {
        return "--:--".into();
    }
    let minutes = (hours * 60.0).round() as u32 % (24 * 60);
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// The years for which zone rules and sun positions are worth something.
const YEARS: std::ops::RangeInclusive<i16> = 1970..=2100;
/// One or two digits as a number.
pub(crate) fn digits(text: &str) -> Option<i8> {
    let fits = (1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    if fits { text.parse().ok() } else { None }
}

/// "2026-04-14", or what is wrong with it.
pub(crate) fn date(text: &str) -> Result<Date, &'static str> {
    let parts: Vec<&str> = text.trim().split('-').collect();
    let [year, month, day] = parts.as_slice() else { return Err("not year-month-day") };
    if year.len() != 4 || !year.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err("the year comes first, with four digits");
    }
    let (Ok(year), Some(month), Some(day)) = (year.parse::<i16>(), digits(month), digits(day)) else {
        return Err("not year-month-day");
    };
    let date = Date::new(year, month, day).map_err(|_| "there is no such day in the calendar")?;
    if YEARS.contains(&year) { Ok(date) } else { Err("only the years 1970 to 2100 are covered") }
}

/// "07:30", "07:30:15" or "7:30 pm".
pub(crate) fn time(text: &str) -> Option<Time> {
    const FORMS: [&str; 6] = ["%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M%p", "%I:%M:%S %p", "%I:%M:%S%p"];
    FORMS.iter().find_map(|form| Time::strptime(form, text).ok())
}
