//! The hourly table: what it says when, and what is wrong with one.

use crate::common::{models, scenario_of};
use callup::scenario::{self, Catalogue, Clarity, Diagnostic, Rain, Scenario, Severity, day, library};

const ROWS: &str = "\n[[hour]]\nat = \"09:00\"\ncloud = 0.2\nwind = \"4 m/s\"\n\n[[hour]]\nat = \"1:30 pm\"\n\
    rain = \"drizzle\"\nturbidity = \"8 NTU\"\n";

fn load(rows: &str, overrides: &[(&str, &str)]) -> Result<scenario::Checked, Vec<Diagnostic>> {
    let text = format!("{}{rows}", library::get("main-lake-point").expect("embedded"));
    let set: Vec<(String, String)> =
        overrides.iter().map(|(p, v)| ((*p).to_owned(), (*v).to_owned())).collect();
    scenario::load(&text, "lake.toml", &set, &Catalogue::of(&models()))
}

fn with(rows: &str, overrides: &[(&str, &str)]) -> Scenario {
    load(rows, overrides).unwrap_or_else(|faults| panic!("{faults:#?}")).scenario
}

/// Cloud, wind, rain and clarity at a clock time.
fn at(scenario: &Scenario, hour: f64) -> (f64, f64, Rain, Clarity) {
    let (midnight, _) = day::bounds_s(scenario).expect("a day");
    let (sky, clarity) = scenario.conditions_at(midnight + 3600.0 * hour);
    (sky.cloud, sky.wind_m_s, sky.rain, clarity)
}

#[test]
fn a_row_holds_from_its_time_on() {
    let lake = with(ROWS, &[]);
    let secchi = Clarity::Secchi(3.4);
    assert_eq!(at(&lake, 0.0), (0.9, 3.0, Rain::None, secchi));
    assert_eq!(at(&lake, 8.999), (0.9, 3.0, Rain::None, secchi));
    assert_eq!(at(&lake, 9.0), (0.2, 4.0, Rain::None, secchi));
    assert_eq!(at(&lake, 13.5), (0.2, 4.0, Rain::Drizzle, Clarity::Turbidity(8.0)));
    assert_eq!(at(&lake, 30.0), (0.2, 4.0, Rain::Drizzle, Clarity::Turbidity(8.0)));
    // Without a table the same all day, and nothing kept.
    let plain = scenario_of("main-lake-point", &[]);
    assert!(plain.hours.is_empty());
    assert_eq!(at(&plain, 20.0), (0.9, 3.0, Rain::None, secchi));
}

#[test]
fn the_scenarios_own_time_sees_the_row_in_force() {
    assert_eq!(with(ROWS, &[]).sky.cloud, 0.9);
    let noon = with(ROWS, &[("when.time", "12:00")]);
    assert_eq!((noon.sky.cloud, noon.water.clarity), (0.2, Clarity::Secchi(3.4)));
    assert_eq!(with(ROWS, &[("when.time", "14:00")]).water.clarity, Clarity::Turbidity(8.0));
}

#[test]
fn a_column_can_be_replaced_and_taken_away() {
    let clouds = with(ROWS, &[("hour.cloud", "10:00 0.5; 3:00 pm 0.1")]);
    assert_eq!(at(&clouds, 9.5).0, 0.9);
    assert_eq!(at(&clouds, 9.5).1, 4.0);
    assert_eq!((at(&clouds, 10.0).0, at(&clouds, 15.0).0), (0.5, 0.1));
    // A value for all day takes the file's column away, not the one given beside it.
    assert_eq!(at(&with(ROWS, &[("sky.cloud", "0.7")]), 10.0).0, 0.7);
    let both = with(ROWS, &[("sky.cloud", "0.7"), ("hour.cloud", "12:00 0.3")]);
    assert_eq!((at(&both, 10.0).0, at(&both, 12.0).0), (0.7, 0.3));
    // Clarity is one thing measured two ways.
    assert_eq!(at(&with(ROWS, &[("water.secchi", "2 m")]), 20.0).3, Clarity::Secchi(2.0));
    let secchi = with(ROWS, &[("hour.secchi", "12:00 1 m")]);
    assert_eq!(at(&secchi, 20.0).3, Clarity::Secchi(1.0));
    // A table made by overrides alone.
    let own = with("", &[("hour.wind", "12:00 8 m/s"), ("hour.rain", "12:00 rain; 13:00 none")]);
    assert_eq!((at(&own, 11.9).1, at(&own, 12.0).1), (3.0, 8.0));
    assert_eq!((at(&own, 12.5).2, at(&own, 13.0).2), (Rain::Rain, Rain::None));
    assert_eq!(own.hours.len(), 3, "midnight and two rows: those of one time are one");
}

/// The one fault of a text, and the text it marks.
#[track_caller]
fn fault(rows: &str, overrides: &[(&str, &str)], marked: &str, title: &str, help: &str) {
    let found = load(rows, overrides).expect_err("a fault");
    assert_eq!(found.len(), 1, "{found:#?}");
    let source = format!("{}{rows}", library::get("main-lake-point").expect("embedded"));
    let (one, span) = (&found[0], found[0].span.clone().expect("a place"));
    assert_eq!(one.source(&source).get(span), Some(marked), "{one:#?}");
    assert!(one.title.contains(title), "{}", one.title);
    assert!(one.help.contains(help), "{}", one.help);
}

#[test]
fn every_fault_has_its_place_and_remedy() {
    let row = |at: &str, rest: &str| format!("[[hour]]\nat = \"{at}\"\n{rest}\n");
    fault(
        &format!("{}{}", row("09:00", "cloud = 1"), row("08:00", "cloud = 0")),
        &[],
        "\"08:00\"",
        "out of order",
        "order of the day",
    );
    fault(
        &format!("{}{}", row("09:00", "cloud = 1"), row("09:00", "cloud = 0")),
        &[],
        "\"09:00\"",
        "out of order",
        "each time once",
    );
    fault(&row("09:00", "cloud = 1\ntemperature = \"13 C\""), &[], "temperature", "in [[hour]]", "[water]");
    fault(&row("09:00", "clouds = 1\ncloud = 1"), &[], "clouds", "no key `clouds`", "`cloud`");
    fault(&row("24:00", "cloud = 1"), &[], "\"24:00\"", "not a time of day", "at = \"07:30\"");
    fault(&row("09:00", "cloud = 2"), &[], "2", "out of range", "from 0 to 1");
    fault(&row("09:00", "wind = 4"), &[], "4", "hour.wind", "m/s");
    fault(&row("09:00", "rain = \"hail\""), &[], "\"hail\"", "hour rain", "`drizzle`");
    fault(&row("09:00", "secchi = \"2 m\"\nturbidity = \"4 NTU\""), &[], "turbidity", "both", "keep one");
    fault("[[hour]]\nat = \"09:00\"\n", &[], "[[hour]]", "changes nothing", "cloud, wind");
    fault("[[hour]]\ncloud = 0.3\n", &[], "[[hour]]", "no `at`", "at = \"09:00\"");
    fault("[hour]\nat = \"09:00\"\n", &[], "[hour]", "not a list of rows", "[[hour]]");
    fault("", &[("hour.cloud", "09:00 0.2; 08:00 0.3")], "08:00", "out of order", "order of the day");
    fault("", &[("hour.cloud", "09:00 much")], "much", "not a number", "0.2");
    fault("", &[("hour.cloud", "noon 0.3")], "noon", "not a time of day", "7:30 am");
    fault("", &[("hour.cloud", "09:00")], "09:00", "changes nothing", "cloud");
    fault("", &[("hour.at", "09:00")], "hour.at", "no value called", "");
}

#[test]
fn all_faults_of_a_table_are_told_at_once() {
    let rows = "[[hour]]\nat = \"25:00\"\nwind = \"3 kg\"\nwid = 3\n[[hour]]\nat = \"10:00\"\ncloud = 7\n";
    assert_eq!(load(rows, &[]).expect_err("faults").len(), 4);
}

#[test]
fn hours_that_the_clock_skips_or_repeats() {
    // The clocks of Chicago go from 02:00 to 03:00 on 8 March 2026 and from 02:00 back to 01:00 on 1 November.
    let row = "[[hour]]\nat = \"02:30\"\ncloud = 0.1\n";
    fault(row, &[("when.date", "2026-03-08")], "\"02:30\"", "does not exist", "03:30");
    let fold =
        load("[[hour]]\nat = \"01:30\"\ncloud = 0.1\n", &[("when.date", "2026-11-01")]).expect("usable");
    assert!(fold.warnings.iter().any(|w| w.severity == Severity::Warning && w.title.contains("comes twice")));
    // Noon is 13 hours after midnight on the long day and 11 on the short one.
    for (date, hours) in [("2026-11-01", 13.0), ("2026-03-08", 11.0), ("2026-04-14", 12.0)] {
        let lake = with("[[hour]]\nat = \"12:00\"\ncloud = 0.1\n", &[("when.date", date)]);
        assert_eq!((lake.hours[1].unix_s - lake.hours[0].unix_s) / 3600.0, hours, "{date}");
    }
}

#[test]
fn sweeps_do_not_know_the_table_and_their_words_stay_plain() {
    let settings = scenario::paths(&Catalogue::of(&models()));
    assert!(settings.iter().all(|s| !s.path.starts_with("hour.")));
}
