//! The season of a bass's life. Bands: spawning temperatures as reviewed for both species (Shuter et al.
//! 1980; Turner and MacCrimmon 1970), the others common practice, no source. The line of the spawn's peak
//! is an own fit through three places.

use callup::models::Calendar;
use callup::scenario::phase::{PhaseBand, Season, Trend, phase_at, season, warming};
use callup::scenario::{Phase, Species};
use jiff::civil::{Date, date};

use super::catalogue::{GOOD, checked, good_with};

fn bands() -> Vec<PhaseBand> {
    use Phase::{Fall, PostSpawn, PreSpawn, Spawn, Summer, Winter};
    use Species::{Largemouth, Smallmouth};
    use Trend::{Any, Cooling, Warming};
    [
        (Largemouth, Winter, 0.0, 7.0, Any),
        (Largemouth, PreSpawn, 7.0, 15.0, Warming),
        (Largemouth, Spawn, 15.0, 22.0, Warming),
        (Largemouth, PostSpawn, 20.0, 25.0, Warming),
        (Largemouth, Summer, 22.0, 37.0, Any),
        (Largemouth, Fall, 10.0, 22.0, Cooling),
        (Smallmouth, Winter, 0.0, 5.0, Any),
        (Smallmouth, PreSpawn, 4.4, 13.0, Warming),
        (Smallmouth, Spawn, 12.8, 21.0, Warming),
        (Smallmouth, PostSpawn, 18.0, 22.0, Warming),
        (Smallmouth, Summer, 20.0, 36.0, Any),
        (Smallmouth, Fall, 8.0, 20.0, Cooling),
    ]
    .map(|(species, phase, low_c, high_c, trend)| PhaseBand { species, phase, low_c, high_c, trend })
    .to_vec()
}

fn calendar() -> Calendar {
    Calendar {
        coldest_day: 32.0,
        warmest_day: 212.0,
        spawn_peak_days_per_degree: 5.51,
        spawn_peak_at_equator: -91.2,
        spawn_peak_latitudes: [28.0, 46.0],
        post_spawn_days: 21.0,
    }
}

fn at(species: Species, temperature_c: f64, warming: bool, days_after_spawn_peak: f64) -> Option<Phase> {
    phase_at(species, temperature_c, Season { warming, days_after_spawn_peak }, &bands(), &calendar())
}

#[test]
fn temperature_and_trend_give_the_phase_where_bands_do_not_overlap() {
    use Species::{Largemouth, Smallmouth};
    for (species, temperature_c, warming, phase) in [
        (Largemouth, 4.0, true, Phase::Winter),
        (Largemouth, 13.0, true, Phase::PreSpawn),
        (Largemouth, 17.0, true, Phase::Spawn),
        (Largemouth, 28.0, true, Phase::Summer),
        (Largemouth, 28.0, false, Phase::Summer),
        (Largemouth, 15.0, false, Phase::Fall),
        (Smallmouth, 10.0, true, Phase::PreSpawn),
        (Smallmouth, 16.0, true, Phase::Spawn),
        (Smallmouth, 12.0, false, Phase::Fall),
    ] {
        assert_eq!(at(species, temperature_c, warming, 60.0), Some(phase), "{species:?} {temperature_c}");
    }
}

#[test]
fn between_bands_the_nearest_edge_decides() {
    // Cooling water of 8 C: a degree from winter, two from fall; of 9.5 C the other way round.
    assert_eq!(at(Species::Largemouth, 8.0, false, 200.0), Some(Phase::Winter));
    assert_eq!(at(Species::Largemouth, 9.5, false, 200.0), Some(Phase::Fall));
    assert_eq!(at(Species::Largemouth, 39.0, false, 100.0), Some(Phase::Summer));
    assert_eq!(at(Species::Largemouth, f64::NAN, false, 100.0), None);
    assert_eq!(
        phase_at(
            Species::Largemouth,
            10.0,
            Season { warming: true, days_after_spawn_peak: 0.0 },
            &[],
            &calendar()
        ),
        None
    );
}

#[test]
fn where_bands_overlap_the_date_decides() {
    for (days, phase) in [(-5.0, Phase::Spawn), (5.0, Phase::PostSpawn), (40.0, Phase::PostSpawn)] {
        assert_eq!(at(Species::Largemouth, 21.0, true, days), Some(phase), "{days}");
    }
    for (days, phase) in [(5.0, Phase::PostSpawn), (40.0, Phase::Summer)] {
        assert_eq!(at(Species::Largemouth, 23.0, true, days), Some(phase), "{days}");
        assert_eq!(at(Species::Smallmouth, 20.5, true, days), Some(phase), "{days}");
    }
    assert_eq!(at(Species::Smallmouth, 12.9, true, 5.0), Some(Phase::Spawn));
}

#[test]
fn the_spawn_peaks_on_the_days_the_line_was_computed_for() {
    // 5.51 * latitude - 91.2: day 63 at 28 N, 107 at 36 N, 162 at 46 N, to the whole day.
    const HALF_A_DAY: f64 = 0.5;
    for (latitude, day) in [(28.0, 63.0), (36.0, 107.0), (46.0, 162.0), (60.0, 162.0), (10.0, 63.0)] {
        let new_year = season(date(2026, 1, 1), latitude, &calendar()).days_after_spawn_peak;
        assert!((1.0 - new_year - day).abs() <= HALF_A_DAY, "{latitude}: {new_year}");
    }
}

#[test]
fn half_a_year_lies_between_the_hemispheres() {
    let warm = |day: Date, latitude| warming(day, latitude, &calendar());
    assert!(warm(date(2026, 4, 14), 36.4) && !warm(date(2026, 4, 14), -36.4));
    assert!(!warm(date(2026, 10, 14), 36.4) && warm(date(2026, 10, 14), -36.4));
    assert!(!warm(date(2026, 1, 15), 36.4) && !warm(date(2026, 12, 31), 36.4));
    let north = season(date(2026, 4, 14), 36.4, &calendar()).days_after_spawn_peak;
    let south = season(date(2026, 10, 14), -36.4, &calendar()).days_after_spawn_peak;
    // The two dates are 183 days apart, half a mean year is 182.625.
    assert!((north - south).abs() < 1.0, "{north} {south}");
}

#[test]
fn a_named_phase_wins_over_the_temperature() {
    assert_eq!(checked(GOOD).scenario.phase(&bands(), &calendar()), Some(Phase::PreSpawn));
    let named = good_with("\"from temperature\"", "\"summer\"");
    assert_eq!(checked(&named).scenario.phase(&bands(), &calendar()), Some(Phase::Summer));
}
