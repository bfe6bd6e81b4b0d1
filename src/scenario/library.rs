//! The scenarios that come with the program, all of them of invented waters.

/// A table of scenarios, each with one line about it and the text of its file.
macro_rules! scenarios {
    ($($name:literal: $about:literal;)*) => {
        &[$(($name, $about, include_str!(concat!("../../scenarios/", $name, ".toml")))),*]
    };
}

/// Name, one line about it, and the text of its file.
const SCENARIOS: &[(&str, &str, &str)] = scenarios! {
    "main-lake-point": "clear highland reservoir before the spawn, gray morning, twelve baits (the default)";
    "stained-lowland": "tea-stained lowland lake after the spawn, bass that see little";
    "northern-smallmouth": "clear northern lake, smallmouth bass on yellow perch";
    "summer-algae": "green summer water, clarity given as turbidity";
    "clay-after-rain": "river arm muddied by a storm: what is left when hardly anything can be seen";
    "winter-bluff": "cold clear water, deep slow fish, long pauses";
    "first-light": "the half hour before sunrise, when light decides";
    "windy-overcast": "low cloud, waves and drizzle over a fall lake";
    "bright-midday": "high sun, no cloud, no wind, fish that have seen it all";
    "clearing-inlet": "creek mouth clearing after a storm, sky and clarity by the hour: for `callup day`";
    "southern-spring": "south of the equator: spring in October, a clock without summer time";
};

/// The name of the scenario that is used when none is given.
pub const DEFAULT: &str = "main-lake-point";

/// The commented file that a new scenario starts from.
pub const TEMPLATE: &str = include_str!("../../scenarios/template.toml");

/// Every scenario of the library with one line about it; the default comes first.
pub fn list() -> Vec<(&'static str, &'static str)> {
    SCENARIOS.iter().map(|(name, about, _)| (*name, *about)).collect()
}

/// The text of a scenario of the library, by its name with or without `.toml`.
pub fn get(name: &str) -> Option<&'static str> {
    let name = name.trim().strip_suffix(".toml").unwrap_or(name.trim());
    SCENARIOS.iter().find(|(known, _, _)| known.eq_ignore_ascii_case(name)).map(|(_, _, text)| *text)
}

/// Names of the library that look like this one, for a suggestion; at most three.
pub fn near(name: &str) -> Vec<&'static str> {
    let name = name.strip_suffix(".toml").unwrap_or(name);
    super::diagnostic::near(name, SCENARIOS.iter().map(|(known, _, _)| *known))
}
