//! The part of the day that is planned: the sun's times, missing dawns, clocks that jump.

use crate::common::scenario_of;
use crate::reference::{number, table};
use callup::scenario::{Scenario, day};
use callup::study::day::steps::{Daylight, borders, planned};

/// The reference rounds to whole seconds and interpolates a 10 s scan.
const SUN_TIME_TOLERANCE_S: f64 = 2.0;

fn unix_s(instant: &str) -> f64 {
    instant.parse::<jiff::Timestamp>().unwrap().as_second() as f64
}

fn place(latitude: f64, longitude: f64, zone: &str, date: &str) -> Scenario {
    let (lat, lon) = (latitude.to_string(), longitude.to_string());
    let key = if zone.contains('/') { "place.zone" } else { "place.utc_offset" };
    let set = [("place.latitude", &*lat), ("place.longitude", &*lon), (key, zone), ("when.date", date)];
    scenario_of("main-lake-point", &set)
}

#[test]
fn first_light_and_dark_are_those_of_pvlib() {
    for row in table("sun_times_pvlib") {
        let longitude = number(&row, "lon_deg");
        let hours = (longitude / 15.0).round() as i64;
        let offset = format!("{}{:02}:00", if hours < 0 { '-' } else { '+' }, hours.abs());
        let day = planned(&place(number(&row, "lat_deg"), longitude, &offset, &row["local_date"])).unwrap();
        for (got, column) in [
            (Some(day.span.from_s), "civil_dawn_utc"),
            (Some(day.span.to_s), "civil_dusk_utc"),
            (day.times.civil_dawn_s, "civil_dawn_utc"),
            (day.times.sunrise_s, "sunrise_utc"),
            (day.times.sunset_s, "sunset_utc"),
            (day.times.civil_dusk_s, "civil_dusk_utc"),
        ] {
            let wanted = unix_s(&row[column]);
            let got = got.unwrap();
            assert!((got - wanted).abs() <= SUN_TIME_TOLERANCE_S, "{} {column}: {got}", row["local_date"]);
        }
        assert_eq!(day.daylight, Daylight::Ordinary);
    }
}

#[test]
fn missing_dawns_and_dusks_each_have_their_word() {
    let of = |latitude: f64, zone: &str, date: &str| planned(&place(latitude, 15.0, zone, date)).unwrap();
    let longyear = "Arctic/Longyearbyen";
    let summer = of(78.0, longyear, "2026-06-21");
    assert_eq!(
        (summer.daylight, summer.times.civil_dusk_s, summer.times.sunrise_s),
        (Daylight::NeverDark, None, None)
    );
    assert_eq!(summer.span.to_s - summer.span.from_s, 86_400.0);
    let winter = of(78.0, longyear, "2026-12-21");
    assert_eq!((winter.daylight, winter.times.civil_dawn_s), (Daylight::NeverLight, None));
    // Bright nights begin and end near 60 degrees north: dusk after midnight before and after midsummer.
    let late = of(59.3, "Europe/Stockholm", "2026-06-01");
    assert!(matches!(late.daylight, Daylight::PastMidnight | Daylight::Ordinary), "{late:?}");
    let mut seen = std::collections::HashSet::new();
    for latitude in [60.0, 61.0, 65.0, 70.0] {
        for month in 3..=9 {
            for day in 1..=28 {
                let date = format!("2026-{month:02}-{day:02}");
                let p = of(latitude, "Europe/Stockholm", &date);
                seen.insert(format!("{:?}", p.daylight));
                let span = p.span.to_s - p.span.from_s;
                // The longest: from just after midnight to the midnight of the next day.
                assert!(span > 0.0 && span <= 86_400.0 + 3600.0, "{latitude} {date}: {p:?}");
                let dusk = p.times.civil_dusk_s;
                assert!(dusk.is_none_or(|t| t > p.span.from_s), "{latitude} {date}: {p:?}");
                assert!(
                    p.times.sunset_s.is_none_or(|t| p.times.sunrise_s.is_none_or(|up| t > up)),
                    "{date} {p:?}"
                );
            }
        }
    }
    for word in ["Ordinary", "PastMidnight", "NeverDark"] {
        assert!(seen.contains(word), "{seen:?}");
    }
    assert!(seen.contains("NoDusk") || seen.contains("NoDawn"), "{seen:?}");
}

#[test]
fn days_of_23_and_25_hours() {
    // At 82 degrees north it does not get dark on 29 March 2026, when the clocks go from 02:00 to 03:00.
    let short = place(82.0, 15.0, "Arctic/Longyearbyen", "2026-03-29");
    let p = planned(&short).unwrap();
    assert_eq!((p.daylight, p.span.to_s - p.span.from_s), (Daylight::NeverDark, 23.0 * 3600.0));
    let marks = borders(&short, p.span, 1800.0);
    assert_eq!(marks.len(), 47);
    let clocks: Vec<String> = marks.iter().map(|&t| day::clock(&short, t)).collect();
    assert_eq!(&clocks[2..6], ["01:00", "01:30", "03:00", "03:30"]);
    // Both clocks of a day tell the right hour before and after they jump: dawn of 8 March in Chicago by summer time.
    let march = place(41.9, -87.6, "America/Chicago", "2026-03-08");
    let dawn = planned(&march).unwrap().times.civil_dawn_s.unwrap();
    let offset_h = (unix_s("2026-03-08T12:00:00Z") / 3600.0 - 12.0) % 24.0;
    assert_eq!(offset_h, 0.0);
    let utc_h = (dawn / 3600.0) % 24.0;
    assert!(
        (day::clock_h(&march, dawn) - (utc_h - 5.0)).abs() < 1e-3,
        "five hours behind UTC after the jump"
    );
    // 25 hours where the clocks go back.
    let long = place(41.9, -87.6, "America/Chicago", "2026-11-01");
    let (from, to) = day::bounds_s(&long).unwrap();
    assert_eq!(to - from, 25.0 * 3600.0);
    assert_eq!(planned(&long).unwrap().daylight, Daylight::Ordinary);
}

#[test]
fn steps_cover_the_day_without_gaps_on_the_marks_of_the_clock() {
    let rows = [("hour.cloud", "09:10 0.2; 12:00 0.9"), ("hour.wind", "23:00 9 m/s")];
    let lake = scenario_of("main-lake-point", &rows);
    let span = planned(&lake).unwrap().span;
    for step_s in [300.0, 900.0, 1800.0, 3600.0, 14_400.0] {
        let all = borders(&lake, span, step_s);
        assert_eq!((all[0], all[all.len() - 1]), (span.from_s, span.to_s));
        assert!(all.windows(2).all(|w| w[1] > w[0] && w[1] - w[0] <= 1.7 * step_s), "{step_s}: {all:?}");
        let clocks: Vec<String> = all.iter().map(|&t| day::clock(&lake, t)).collect();
        // The table's own hours are borders; the row after dark is not.
        assert!(clocks.contains(&"09:10".to_owned()) && clocks.contains(&"12:00".to_owned()), "{clocks:?}");
        assert!(!clocks.contains(&"23:00".to_owned()));
        let inner = &all[1..all.len() - 1];
        let marks = |t: &f64| day::clock_h(&lake, *t) * 3600.0 / step_s;
        let off_grid = inner.iter().filter(|t| (marks(t) - marks(t).round()).abs() > 1e-6).count();
        assert!(off_grid <= 2, "{step_s}: {clocks:?}");
    }
}
