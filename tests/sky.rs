//! The sun, the sky and the water's surface against numbers from outside the project.

use crate::reference::{number, table};
use callup::water::sky::{Sky, clear_sky_lux, cloud_factor, diffuse_share};
use callup::water::sun::{Place, Span, SunError};
use callup::water::surface::{
    BelowSurface, REFRACTIVE_INDEX, RoughSurface, SKY_REFLECTANCE, critical_angle_rad, fresnel,
    mean_square_slope, refracted_rad, sky_reflectance,
};
use proptest::prelude::*;
use std::f64::consts::FRAC_PI_2;

/// The reference rounds to five decimals; the libraries differ by 0.00003 (elevation) and 0.00015 (azimuth).
const SUN_TOLERANCE_DEG: f64 = 1e-3;
/// The reference rounds to whole seconds and interpolates a 10 s scan.
const SUN_TIME_TOLERANCE_S: f64 = 2.0;
/// Half a unit of the last digit of a table in tenths of a percent, plus its unknown refractive index.
const JERLOV_TOLERANCE: f64 = 0.0015;

fn unix_s(instant: &str) -> f64 {
    instant.parse::<jiff::Timestamp>().unwrap().as_second() as f64
}

fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got} is not {wanted} within {tolerance}");
}

const ROUGH: RoughSurface = RoughSurface { most_reflected: 0.30, full_from_m_s: 3.0 };

fn sky(cloud: f64) -> Sky {
    Sky { cloud, cloud_spread: 1.0, floor_lux: 0.002, air_extinction: 0.3 }
}

#[test]
fn the_sun_stands_where_pvlib_puts_it() {
    for row in table("solar_pvlib") {
        let place = Place::new(number(&row, "lat_deg"), number(&row, "lon_deg")).unwrap();
        let sun = place.sun(unix_s(&row["utc"])).unwrap();
        near(sun.elevation_deg, number(&row, "elevation_deg"), SUN_TOLERANCE_DEG);
        near(sun.azimuth_deg, number(&row, "azimuth_deg"), SUN_TOLERANCE_DEG);
    }
}

#[test]
fn the_sun_rises_and_sets_when_pvlib_says() {
    for row in table("sun_times_pvlib") {
        let (latitude, longitude) = (number(&row, "lat_deg"), number(&row, "lon_deg"));
        let place = Place::new(latitude, longitude).unwrap();
        // Local mean solar midnight stands for the place's clock.
        let from_s = unix_s(&format!("{}T00:00:00Z", row["local_date"])) - longitude * 240.0;
        let day = Span { from_s, to_s: from_s + 86_400.0 };
        let times = place.times(day).unwrap();
        near(times.civil_dawn_s.unwrap(), unix_s(&row["civil_dawn_utc"]), SUN_TIME_TOLERANCE_S);
        near(times.sunrise_s.unwrap(), unix_s(&row["sunrise_utc"]), SUN_TIME_TOLERANCE_S);
        near(times.sunset_s.unwrap(), unix_s(&row["sunset_utc"]), SUN_TIME_TOLERANCE_S);
        near(times.civil_dusk_s.unwrap(), unix_s(&row["civil_dusk_utc"]), SUN_TIME_TOLERANCE_S);
        let light = place.daylight(day).unwrap().unwrap();
        near(light.from_s, unix_s(&row["civil_dawn_utc"]), SUN_TIME_TOLERANCE_S);
        near(light.to_s, unix_s(&row["civil_dusk_utc"]), SUN_TIME_TOLERANCE_S);
    }
}

#[test]
fn polar_day_and_night_have_no_rise_and_each_event_is_looked_for_by_itself() {
    let day = |date: &str| {
        let from_s = unix_s(&format!("{date}T00:00:00Z"));
        Span { from_s, to_s: from_s + 86_400.0 }
    };
    let far_north = Place::new(78.0, 15.0).unwrap();
    let summer = far_north.times(day("2026-06-21")).unwrap();
    assert_eq!((summer.sunrise_s, summer.sunset_s, summer.civil_dawn_s), (None, None, None));
    assert_eq!(far_north.daylight(day("2026-06-21")).unwrap(), Some(day("2026-06-21")));
    let winter = far_north.times(day("2026-12-21")).unwrap();
    assert_eq!((winter.sunrise_s, winter.civil_dawn_s), (None, None));
    assert_eq!(far_north.daylight(day("2026-12-21")).unwrap(), None);
    // At 69 N in midwinter the sun stays down but civil twilight comes; at 62 N in midsummer it sets
    // and civil twilight lasts all night.
    let twilight = Place::new(69.0, 0.0).unwrap().times(day("2026-12-21")).unwrap();
    assert!(
        twilight.sunrise_s.is_none() && twilight.civil_dawn_s.is_some() && twilight.civil_dusk_s.is_some()
    );
    let bright_night = Place::new(62.0, 0.0).unwrap();
    let times = bright_night.times(day("2026-06-21")).unwrap();
    assert!(times.sunset_s.is_some() && times.civil_dusk_s.is_none());
    assert_eq!(bright_night.daylight(day("2026-06-21")).unwrap(), Some(day("2026-06-21")));
    // At 59 N in late June dusk comes after midnight; light still ends after it began.
    let late = Place::new(59.0, 0.0).unwrap().daylight(day("2026-06-28")).unwrap().unwrap();
    assert!(late.to_s > late.from_s && late.to_s - late.from_s > 20.0 * 3600.0, "{late:?}");
}

#[test]
fn impossible_places_and_times_are_refused() {
    assert_eq!(Place::new(91.0, 0.0), Err(SunError::Latitude(91.0)));
    assert!(matches!(Place::new(f64::NAN, 0.0), Err(SunError::Latitude(_))));
    assert_eq!(Place::new(0.0, -200.0), Err(SunError::Longitude(-200.0)));
    let place = Place::new(36.4, -93.9).unwrap();
    assert!(place.sun(f64::INFINITY).is_err() && place.sun(1e15).is_err());
    assert!(place.times(Span { from_s: 0.0, to_s: f64::NAN }).is_err());
}

#[test]
fn clear_daylight_and_twilight() {
    // The polynomial worked out with numpy 2.4.6, four digits.
    let table = [
        (90.0, 128_800.0),
        (60.0, 103_100.0),
        (45.0, 77_850.0),
        (30.0, 46_300.0),
        (20.0, 27_380.0),
        (10.0, 11_120.0),
        (5.0, 4_538.0),
        (2.0, 1_921.0),
        (0.0, 758.6),
        (-0.8, 462.4),
        (-3.0, 79.07),
        (-5.0, 10.44),
        (-6.0, 3.412),
        (-9.0, 0.1164),
        (-12.0, 0.008_056),
        (-15.0, 0.002_023),
        (-18.0, 6.447e-4),
    ];
    for (h, lux) in table {
        near(clear_sky_lux(h, 0.0) / lux, 1.0, 1e-3);
    }
    // AMS Glossary of Meteorology: civil twilight runs from about 585-410 lux to 3.5-2 lux, astronomical
    // twilight from about 0.008 to 0.0006 lux.
    assert!((410.0..585.0).contains(&clear_sky_lux(-0.8333, 0.0)));
    assert!((2.0..3.5).contains(&clear_sky_lux(-6.0, 0.0)));
    near(clear_sky_lux(-12.0, 0.0), 0.008, 0.0005);
    near(clear_sky_lux(-18.0, 0.0), 6e-4, 0.5e-4);
    // Below, only the floor is left.
    assert_eq!(clear_sky_lux(-30.0, 0.002), 0.002);
    assert_eq!(clear_sky_lux(95.0, 0.0), clear_sky_lux(90.0, 0.0));
    // Another road to daylight: 910 sin h - 30 W/m2 (Kasten & Czeplak 1980, from memory) at 107 lm/W
    // (Littlefair 1988): hazier air at Hamburg's sea level, so only to a third.
    for h in [10.0_f64, 30.0, 60.0] {
        let other = 107.0 * (910.0 * h.to_radians().sin() - 30.0);
        near(clear_sky_lux(h, 0.0) / other, 1.0, 0.33);
    }
}

#[test]
fn clouds() {
    // 1 - 0.75 N^3.4 with numpy 2.4.6.
    for (n, share) in
        [(0.0, 1.0), (0.25, 0.9933), (0.5, 0.9290), (0.75, 0.7180), (0.875, 0.5237), (1.0, 0.25)]
    {
        near(cloud_factor(n), share, 1e-4);
    }
    near(diffuse_share(0.0, 60.0, 0.3), 0.3, 1e-12);
    near(diffuse_share(0.5, 60.0, 0.3), 0.475, 1e-12);
    near(diffuse_share(1.0, 60.0, 0.3), 1.0, 1e-12);
    assert_eq!(diffuse_share(0.0, -0.1, 0.3), 1.0);
    near(diffuse_share(0.0, 0.1, 0.3), 1.0, 1e-3);
    // What the thickness of the clouds does: nothing to a clear sky, all of it to an overcast one.
    let thick = |cloud, cloud_spread| Sky { cloud_spread, ..sky(cloud) }.above(40.0).lux;
    near(thick(0.0, 0.4), thick(0.0, 1.0), 1e-9);
    near(thick(1.0, 0.4) / thick(1.0, 1.0), 0.4, 1e-12);
    assert!(thick(1.0, 100.0) <= thick(0.0, 1.0) * (1.0 + 1e-12));
}

#[test]
fn the_surface_reflects_and_bends_as_tabulated() {
    // Jerlov, Optical Oceanography, Table XVI, in percent.
    let jerlov = [
        (0.0, 2.0),
        (10.0, 2.0),
        (20.0, 2.1),
        (30.0, 2.1),
        (40.0, 2.4),
        (45.0, 2.8),
        (50.0, 3.4),
        (55.0, 4.4),
        (60.0, 5.9),
        (65.0, 8.7),
        (70.0, 13.3),
        (75.0, 21.2),
        (80.0, 34.9),
        (85.0, 58.3_f64),
    ];
    for (angle, percent) in jerlov {
        near(fresnel(f64::to_radians(angle), REFRACTIVE_INDEX), percent / 100.0, JERLOV_TOLERANCE);
    }
    near(fresnel(FRAC_PI_2, REFRACTIVE_INDEX), 1.0, 1e-12);
    near(critical_angle_rad(REFRACTIVE_INDEX).to_degrees(), 48.607, 1e-3);
    near(critical_angle_rad(REFRACTIVE_INDEX).tan(), 1.1345, 1e-4);
    for (h, below) in [(80.0, 7.485), (60.0, 22.030), (45.0, 32.037), (30.0, 40.518), (10.0, 47.628_f64)] {
        near(refracted_rad(f64::to_radians(90.0 - h), REFRACTIVE_INDEX).to_degrees(), below, 1e-3);
    }
    // The classic 0.066 and 0.052 (handbooks) by integration over the sky.
    let uniform = sky_reflectance(REFRACTIVE_INDEX, 0.0);
    let overcast = sky_reflectance(REFRACTIVE_INDEX, 1.0);
    near(uniform, 0.0664, 1e-4);
    near(overcast, 0.0512, 1e-4);
    near(uniform, SKY_REFLECTANCE, 1e-3);
    near(overcast, 0.052, 1e-3);
    for (wind, mss) in [(3.0, 0.01836), (5.0, 0.0286), (10.0, 0.0542)] {
        near(mean_square_slope(wind), mss, 1e-9);
    }
    // A low sun: full Fresnel in a calm, no more than the cap in a breeze, untouched when high.
    near(ROUGH.beam_reflectance(5.0, 0.0), 0.584, JERLOV_TOLERANCE);
    near(ROUGH.beam_reflectance(5.0, 4.0), 0.30, 1e-12);
    near(ROUGH.beam_reflectance(30.0, 9.0), 0.0597, JERLOV_TOLERANCE);
}

#[test]
fn light_below_the_surface_never_grows_as_the_sun_sets() {
    // A grazing beam is all reflected, the sky's light is not: only a beam that dies away in the air before it
    // grazes makes this hold. 2 % for the joins of the clear-sky polynomial.
    for (cloud, wind) in [(0.0, 0.0), (0.0, 6.0), (0.4, 2.0), (1.0, 0.0)] {
        let mut brightest: f64 = 0.0;
        for tenth in -180..=900 {
            let h = f64::from(tenth) * 0.1;
            let lux = BelowSurface::of(sky(cloud).above(h), h, wind, ROUGH).total_lux();
            assert!(lux * 1.02 >= brightest, "{lux} lux at {h} degrees after {brightest}, cloud {cloud}");
            brightest = brightest.max(lux);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// A higher sun gives more light above and below the surface; the polynomial's joins allow 2 %.
    #[test]
    fn a_higher_sun_gives_more_light(
        h in -18.0..89.0_f64, up in 0.0..20.0_f64, cloud in 0.0..1.0_f64, wind in 0.0..12.0_f64, tau in 0.15..0.5_f64,
    ) {
        const JOINS: f64 = 1.02;
        let at = |h: f64| {
            let above = Sky { air_extinction: tau, ..sky(cloud) }.above(h);
            (above.lux, BelowSurface::of(above, h, wind, ROUGH).total_lux())
        };
        let (low, high) = (at(h), at((h + up).min(90.0)));
        prop_assert!(low.0 <= high.0 * JOINS, "above: {} then {}", low.0, high.0);
        prop_assert!(low.1 <= high.1 * JOINS, "below: {} then {}", low.1, high.1);
    }
}
