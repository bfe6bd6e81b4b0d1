//! The day cut into steps, from first light to dark.

use crate::scenario::{Scenario, day};
use crate::water::sun::{Place, Span, SunError, SunTimes};

/// How first light and dark lie in the local day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Daylight {
    /// Dawn and dusk on the day itself.
    Ordinary,
    /// Dusk comes after midnight.
    PastMidnight,
    /// It dawns, and does not get dark again before midnight.
    NoDusk,
    /// It is light when the day begins, and gets dark once.
    NoDawn,
    /// The sun does not sink far enough all day.
    NeverDark,
    /// The sun does not come near enough to the horizon all day.
    NeverLight,
}

/// What part of the day is planned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planned {
    /// How light and dark lie in it.
    pub daylight: Daylight,
    /// From first light to dark; the whole local day where one of them is missing all day.
    pub span: Span,
    /// Dawn, sunrise, sunset and dusk within the local day.
    pub times: SunTimes,
}

/// The part of a scenario's day that is planned.
///
/// # Errors
/// [`SunError`] as for any scenario.
pub fn planned(scenario: &Scenario) -> Result<Planned, SunError> {
    let place = Place::new(scenario.place.latitude_deg, scenario.place.longitude_deg)?;
    let now = scenario.when.unix_s;
    let (from_s, to_s) = day::bounds_s(scenario).unwrap_or((now - 43_200.0, now + 43_200.0));
    let whole = Span { from_s, to_s };
    let times = place.times(whole)?;
    let (daylight, span) = match place.daylight(whole)? {
        None => (Daylight::NeverLight, whole),
        Some(span) if span == whole => (Daylight::NeverDark, whole),
        Some(span) if span.from_s == from_s => (Daylight::NoDawn, span),
        Some(span) if span.to_s > to_s => (Daylight::PastMidnight, span),
        Some(span) if span.to_s == to_s => (Daylight::NoDusk, span),
        Some(span) => (Daylight::Ordinary, span),
    };
    // A dusk or sunset before dawn ends the light of the day before.
    let civil_dusk_s = match daylight {
        Daylight::PastMidnight => Some(span.to_s),
        Daylight::Ordinary | Daylight::NoDawn => times.civil_dusk_s,
        Daylight::NoDusk | Daylight::NeverDark | Daylight::NeverLight => None,
    };
    let sunset_s = match (times.sunrise_s, times.sunset_s) {
        (Some(up), down) if down.is_none_or(|down| down < up) => {
            place.times(Span { from_s: up + NEAR_END_S, to_s: up + DAY_S })?.sunset_s
        }
        (_, down) => down,
    };
    Ok(Planned { daylight, span, times: SunTimes { civil_dusk_s, sunset_s, ..times } })
}

const DAY_S: f64 = 86_400.0;
/// Share of a step below which a piece left at either end, or beside a row of the table, joins its neighbour.
const PIECE: f64 = 0.34;
/// Rows nearer than this to the ends of the day, s, act on the whole first or last step.
const NEAR_END_S: f64 = 60.0;

/// Where one step ends and the next begins, from the first end of the span to the last: on the marks of the clock
/// (as it stands at the beginning), and wherever the hourly table changes something.
pub fn borders(scenario: &Scenario, span: Span, step_s: f64) -> Vec<f64> {
    let clock_s = 3600.0 * day::clock_h(scenario, span.from_s);
    // The clock is told to the whole second.
    let midnight_s = span.from_s.round() - clock_s;
    let inside = |t: f64, room_s: f64| t > span.from_s + room_s && t < span.to_s - room_s;
    let rows: Vec<f64> = scenario.hours.iter().map(|h| h.unix_s).filter(|&t| inside(t, NEAR_END_S)).collect();
    let first = (clock_s / step_s).ceil() as i64;
    let last = ((span.to_s - midnight_s) / step_s).floor() as i64;
    let near_row = |t: f64| rows.iter().any(|r| (r - t).abs() < PIECE * step_s);
    let marks = (first..=last).map(|k| midnight_s + k as f64 * step_s);
    let mut all: Vec<f64> =
        marks.filter(|&t| inside(t, PIECE * step_s) && !near_row(t)).chain(rows.iter().copied()).collect();
    all.extend([span.from_s, span.to_s]);
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}
