//! The season of a bass's life, read from the water temperature and the date.
//!
//! Temperature alone does not tell spring from fall, nor the last of the spawn from what follows it, so
//! the date decides where temperature bands overlap. Bands and dates come from the model files.

use crate::models::{Calendar, Models};
use jiff::civil::Date;

use super::types::{Phase, PhaseChoice, Scenario, Species};

/// Whether the water must be warming or cooling for a band to apply.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trend {
    /// Only in the warming half of the year.
    Warming,
    /// Only in the cooling half of the year.
    Cooling,
    /// In either.
    Any,
}

/// The temperatures at which a phase may be met.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseBand {
    /// Which bass.
    pub species: Species,
    /// Which phase.
    pub phase: Phase,
    /// From this temperature.
    pub low_c: f64,
    /// Up to, but not including, this one.
    pub high_c: f64,
    /// In which half of the year.
    pub trend: Trend,
}

/// The temperature bands of both species.
pub fn phase_bands(models: &Models) -> Vec<PhaseBand> {
    let phases = [
        (Phase::Winter, Trend::Any),
        (Phase::PreSpawn, Trend::Warming),
        (Phase::Spawn, Trend::Warming),
        (Phase::PostSpawn, Trend::Warming),
        (Phase::Summer, Trend::Any),
        (Phase::Fall, Trend::Cooling),
    ];
    let of = |(species, bands): (Species, [[f64; 2]; 6])| {
        bands.into_iter().zip(phases).map(move |([low_c, high_c], (phase, trend))| PhaseBand {
            species,
            phase,
            low_c,
            high_c,
            trend,
        })
    };
    [Species::Largemouth, Species::Smallmouth].into_iter().zip(models.bands).flat_map(of).collect()
}

/// What the date says about the season.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Season {
    /// Whether the water is in the warming half of its year.
    pub warming: bool,
    /// Days since the spawn's peak, -182.5 to 182.5; negative before it.
    pub days_after_spawn_peak: f64,
}

/// Mean length of a year in days.
const YEAR_DAYS: f64 = 365.25;

/// The day of the year as a northern calendar has it: half a year is added south of the equator.
fn northern_day(date: Date, latitude_deg: f64) -> f64 {
    let day = f64::from(date.day_of_year());
    if latitude_deg < 0.0 { (day + YEAR_DAYS / 2.0) % YEAR_DAYS } else { day }
}

/// Whether the water warms at this date: between the coldest and the warmest day of its year.
///
/// The surface lags the sun by one to two months, so the days are data, not solstices.
pub fn warming(date: Date, latitude_deg: f64, calendar: &Calendar) -> bool {
    let day = northern_day(date, latitude_deg);
    let since_coldest = (day - calendar.coldest_day).rem_euclid(YEAR_DAYS);
    since_coldest < (calendar.warmest_day - calendar.coldest_day).rem_euclid(YEAR_DAYS)
}

/// What a date says about the season at a latitude.
///
/// The peak of the spawn is a line in latitude; the line was drawn for largemouth bass through three
/// places and is good to some three weeks. It is used for both species, and only where temperature bands
/// overlap.
pub fn season(date: Date, latitude_deg: f64, calendar: &Calendar) -> Season {
    let [south, north] = calendar.spawn_peak_latitudes;
    let latitude = latitude_deg.abs().max(south).min(north);
    let peak = calendar.spawn_peak_days_per_degree * latitude + calendar.spawn_peak_at_equator;
    let half = YEAR_DAYS / 2.0;
    let after = (northern_day(date, latitude_deg) - peak + half).rem_euclid(YEAR_DAYS) - half;
    Season { warming: warming(date, latitude_deg, calendar), days_after_spawn_peak: after }
}

/// The phase of a species at a water temperature and season.
///
/// Bands of the species whose trend fits and that hold the temperature are candidates. One candidate is
/// the answer. Among several, the date decides: before the spawn's peak the earliest phase of the year,
/// in the weeks after it post-spawn if that is a candidate, else the latest phase. With no candidate,
/// the band of fitting trend whose edge is nearest in temperature is taken. None only without bands for
/// the species or for a temperature that is not a number.
pub fn phase_at(
    species: Species,
    temperature_c: f64,
    season: Season,
    bands: &[PhaseBand],
    calendar: &Calendar,
) -> Option<Phase> {
    if temperature_c.is_nan() {
        return None;
    }
    let fitting = || {
        bands.iter().filter(|band| {
            band.species == species
                && match band.trend {
                    Trend::Any => true,
                    Trend::Warming => season.warming,
                    Trend::Cooling => !season.warming,
                }
        })
    };
    let mut candidates: Vec<Phase> = fitting()
        .filter(|band| (band.low_c..band.high_c).contains(&temperature_c))
        .map(|band| band.phase)
        .collect();
    candidates.sort_unstable();
    match candidates.as_slice() {
        [] => fitting()
            .min_by(|a, b| outside(a, temperature_c).total_cmp(&outside(b, temperature_c)))
            .map(|band| band.phase),
        [only] => Some(*only),
        [earliest, .., latest] => {
            let after = season.days_after_spawn_peak;
            let weeks_after = (0.0..calendar.post_spawn_days).contains(&after);
            Some(if after < 0.0 {
                *earliest
            } else if weeks_after && candidates.contains(&Phase::PostSpawn) {
                Phase::PostSpawn
            } else {
                *latest
            })
        }
    }
}

/// How far a temperature lies outside a band, in degrees.
fn outside(band: &PhaseBand, temperature_c: f64) -> f64 {
    (band.low_c - temperature_c).max(temperature_c - band.high_c).max(0.0)
}

impl Scenario {
    /// The phase of this scenario's fish: the one given, or that of temperature, date and latitude.
    pub fn phase(&self, bands: &[PhaseBand], calendar: &Calendar) -> Option<Phase> {
        match self.fish.phase {
            PhaseChoice::Named(phase) => Some(phase),
            PhaseChoice::FromTemperature => {
                let season = season(self.when.date, self.place.latitude_deg, calendar);
                phase_at(self.fish.species, self.water.temperature_c, season, bands, calendar)
            }
        }
    }
}
