//! Where the sun stands, and when it rises and sets.
//!
//! The only module that knows the `solar-positioning` crate, whose interface still moves between releases.

use crate::maths::roots::bracketed;
use solar_positioning::{Location, SolarPositions, delta_t, time::JulianDate};

/// True elevation of the sun's centre at sunrise and sunset: 34' of refraction and 16' of radius below the
/// horizon (the almanacs' convention).
pub const RISE_ELEVATION_DEG: f64 = -0.8333;
/// True elevation of the sun's centre at civil dawn and dusk (by definition).
pub const CIVIL_ELEVATION_DEG: f64 = -6.0;

/// Julian date of 1970-01-01T00:00:00Z.
const UNIX_EPOCH_JD: f64 = 2_440_587.5;
const DAY_S: f64 = 86_400.0;
/// Mean Gregorian year.
const YEAR_S: f64 = 31_556_952.0;
/// Step of the search for crossings. The sun moves at most 2.5 degrees in it; a dip beyond the threshold
/// that begins and ends within one step (only near the polar circles) is shallower than 0.006 degrees.
const SCAN_S: f64 = 600.0;
/// Crossings are found to this; the model of the sun is good to about a tenth of a second of time.
const CROSSING_TOLERANCE_S: f64 = 0.01;

/// Why a position of the sun cannot be had.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SunError {
    /// Latitude outside -90 to 90, or not a number.
    #[error("the latitude is {0}: give degrees from -90 (south pole) to 90 (north pole)")]
    Latitude(f64),
    /// Longitude outside -180 to 180, or not a number.
    #[error("the longitude is {0}: give degrees from -180 to 180, west of Greenwich negative")]
    Longitude(f64),
    /// An instant the solar model does not cover.
    #[error("the sun's position is not known {0} s from 1970: give a date in the years 0 to 2999")]
    Time(f64),
}

/// Direction of the sun.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Sun {
    /// True elevation of the sun's centre above the horizon, without refraction.
    pub elevation_deg: f64,
    /// Azimuth from north, clockwise.
    pub azimuth_deg: f64,
}

/// A span of time, in seconds since 1970-01-01T00:00:00Z.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// First instant.
    pub from_s: f64,
    /// First instant after it.
    pub to_s: f64,
}

/// Times at which the sun crosses the horizons within a day, in seconds since 1970-01-01T00:00:00Z; `None`
/// where it does not cross that day.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct SunTimes {
    /// Civil dawn: first light.
    #[serde(rename = "first_light")]
    pub civil_dawn_s: Option<f64>,
    /// The upper limb appears.
    #[serde(rename = "sunrise")]
    pub sunrise_s: Option<f64>,
    /// The upper limb disappears.
    #[serde(rename = "sunset")]
    pub sunset_s: Option<f64>,
    /// Civil dusk: dark.
    #[serde(rename = "dark")]
    pub civil_dusk_s: Option<f64>,
}

/// A checked place on the earth at sea level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    latitude_deg: f64,
    longitude_deg: f64,
}

impl Place {
    /// A place by latitude (-90 to 90, north positive) and longitude (-180 to 180, east positive) in degrees.
    pub fn new(latitude_deg: f64, longitude_deg: f64) -> Result<Self, SunError> {
        if !(-90.0..=90.0).contains(&latitude_deg) {
            return Err(SunError::Latitude(latitude_deg));
        }
        if !(-180.0..=180.0).contains(&longitude_deg) {
            return Err(SunError::Longitude(longitude_deg));
        }
        Ok(Self { latitude_deg, longitude_deg })
    }

    /// The sun at a UTC instant given in seconds since 1970.
    ///
    /// Algorithm SPA, stated accuracy 0.0003 degrees: Reda & Andreas (2004), Solar Energy 76:577-589,
    /// doi:10.1016/j.solener.2003.12.003; earth's rotation by the crate's estimate of delta T (an error of
    /// a second in it moves the sun by 0.00001 degrees). Valid in the years 0 to 2999.
    ///
    /// ```
    /// // The paper's worked example: 2003-10-17 12:30:30 at UTC-7, 39.742476 N 105.1786 W:
    /// // topocentric zenith angle without refraction 50.12795, azimuth 194.34024 degrees.
    /// let place = callup::water::sun::Place::new(39.742476, -105.1786)?;
    /// let sun = place.sun(1_066_419_030.0)?;
    /// assert!((90.0 - sun.elevation_deg - 50.12795).abs() < 1e-4);
    /// assert!((sun.azimuth_deg - 194.34024).abs() < 1e-4);
    /// # Ok::<(), callup::water::sun::SunError>(())
    /// ```
    pub fn sun(&self, unix_s: f64) -> Result<Sun, SunError> {
        let at = || -> solar_positioning::Result<Sun> {
            let delta_t_s = delta_t::estimate(1970.0 + unix_s / YEAR_S)?;
            let time = JulianDate::new(unix_s / DAY_S + UNIX_EPOCH_JD, delta_t_s)?;
            let location = Location { latitude: self.latitude_deg, longitude: self.longitude_deg };
            let position = SolarPositions::new().at_from_julian(time, location, 0.0, None)?;
            Ok(Sun { elevation_deg: position.elevation_angle(), azimuth_deg: position.azimuth() })
        };
        at().map_err(|_| SunError::Time(unix_s))
    }

    /// Instants within `span` at which the sun rises (true) or sinks (false) through `elevation_deg`.
    ///
    /// Empty where it does not cross. Instants to about a second; errors as [`Place::sun`].
    pub fn crossings(&self, span: Span, elevation_deg: f64) -> Result<Vec<(f64, bool)>, SunError> {
        // The whole span is valid where both ends are, so the search below cannot meet an error.
        self.sun(span.from_s)?;
        self.sun(span.to_s)?;
        let above = |t: f64| self.sun(t).map_or(f64::NAN, |sun| sun.elevation_deg - elevation_deg);
        let steps = ((span.to_s - span.from_s) / SCAN_S).ceil().max(0.0) as usize;
        let mut found = Vec::new();
        let mut left = (span.from_s, above(span.from_s));
        for i in 1..=steps {
            let t = (span.from_s + i as f64 * SCAN_S).min(span.to_s);
            let right = (t, above(t));
            if (left.1 < 0.0) != (right.1 < 0.0)
                && let Some(t) = bracketed(left.0, right.0, CROSSING_TOLERANCE_S, above)
            {
                found.push((t, right.1 >= 0.0));
            }
            left = right;
        }
        Ok(found)
    }

    /// Dawn, sunrise, sunset and dusk within a local day (midnight to midnight of the place's clock).
    ///
    /// Each is looked for by itself: first rise and last fall through its elevation within the span.
    pub fn times(&self, day: Span) -> Result<SunTimes, SunError> {
        let rise = self.crossings(day, RISE_ELEVATION_DEG)?;
        let civil = self.crossings(day, CIVIL_ELEVATION_DEG)?;
        let first_up = |c: &[(f64, bool)]| c.iter().find(|c| c.1).map(|c| c.0);
        let last_down = |c: &[(f64, bool)]| c.iter().rev().find(|c| !c.1).map(|c| c.0);
        Ok(SunTimes {
            civil_dawn_s: first_up(&civil),
            sunrise_s: first_up(&rise),
            sunset_s: last_down(&rise),
            civil_dusk_s: last_down(&civil),
        })
    }

    /// From first light (civil dawn) to dark (civil dusk) of a local day; `None` where it stays dark all day.
    ///
    /// Dusk may fall after midnight: it is the first one after dawn, at most a day later. Where the sun never
    /// sinks to civil dusk the answer is the whole day; where it is light already at the start of the day
    /// and no dawn comes, light lasts from that start to dusk.
    pub fn daylight(&self, day: Span) -> Result<Option<Span>, SunError> {
        let civil = self.crossings(day, CIVIL_ELEVATION_DEG)?;
        if let Some(dawn) = civil.iter().find(|c| c.1) {
            let next = Span { from_s: dawn.0 + SCAN_S, to_s: dawn.0 + DAY_S };
            let dusk = self.crossings(next, CIVIL_ELEVATION_DEG)?.into_iter().find(|c| !c.1);
            return Ok(Some(Span { from_s: dawn.0, to_s: dusk.map_or(day.to_s, |c| c.0) }));
        }
        if let Some(dusk) = civil.iter().find(|c| !c.1) {
            return Ok(Some(Span { from_s: day.from_s, to_s: dusk.0 }));
        }
        let light = self.sun(day.from_s)?.elevation_deg >= CIVIL_ELEVATION_DEG;
        Ok(light.then_some(day))
    }
}
