//! The local day of a scenario: its bounds, and clock times in its zone.

use super::types::Scenario;
use jiff::Timestamp;
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
    let start = |date: jiff::civil::Date| -> Option<f64> {
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
