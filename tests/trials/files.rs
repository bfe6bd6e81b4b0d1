//! Trial files: what is embedded is sound, what is wrong gets its place and its cure, all at once.

use super::*;
use callup::study::trials::{Known, Used};

#[test]
fn the_embedded_trials_are_sound_and_say_where_they_come_from() {
    let models = models();
    let mut ids = Vec::new();
    for (name, text) in EMBEDDED {
        let trial = file::read(text, name, &models).unwrap_or_else(|f| panic!("{name}: {f:#?}"));
        assert_eq!(name, format!("models/trials/{}.toml", trial.id));
        let plan = Planned::new(trial.clone(), name, &models).unwrap_or_else(|f| panic!("{name}: {f:#?}"));
        assert_eq!(plan.settings.len(), trial.rows.len());
        assert!(trial.by.len() > 10 && trial.miss.len() > 10, "{name}");
        assert_eq!(trial.used == Used::Nothing, trial.used_for.is_empty(), "{name}");
        ids.push(trial.id);
    }
    ids.dedup();
    assert_eq!(ids.len(), EMBEDDED.len());
    assert_eq!(read(embedded("lakes-turbidity")).expect("sound").known, Known::Data);
}

/// The clear-water distance of a tank is printed and counts for nothing.
#[test]
fn the_clear_water_distance_in_a_tank_is_not_scored() {
    let trial = read(embedded("smallmouth-turbidity")).expect("sound");
    let clear = trial.rows.iter().find(|r| r.at == "clear water").expect("there");
    assert!(clear.measured.is_some() && !clear.scored && trial.is_scored());
}

#[test]
fn a_trial_of_ones_own_is_read() {
    let plan = planned(GOOD).expect("sound");
    assert_eq!((plan.trial.id.as_str(), plan.settings.len(), plan.trial.patterns.len()), ("my-pond", 2, 1));
    assert!(plan.trial.is_scored());
    let unscored = GOOD
        .replace("[[pattern]]", "[[pattern]]\n")
        .replace("used = \"nothing\"", "used = \"nothing\"\nscored = false");
    let without = unscored.split("[[pattern]]").next().expect("rows");
    assert!(!read(without).expect("sound").is_scored());
}

/// One thing spoilt: the fault names its line and says what to write.
#[track_caller]
fn spoilt(old: &str, new: &str, line_with: &str, title: &str, help: &str) {
    assert!(GOOD.contains(old), "{old}");
    let text = GOOD.replacen(old, new, 1);
    let faults = planned(&text).expect_err("spoilt");
    let found = faults
        .iter()
        .find(|f| f.title.contains(title))
        .unwrap_or_else(|| panic!("no fault on {title} in {faults:#?}"));
    assert!(found.help.contains(help), "{}", found.help);
    assert_eq!((found.file.as_str(), &found.set), ("mine.toml", &None));
    let (line, _) = found.line_column(&text).expect("a place");
    let said = text.lines().nth(line - 1).expect("the line");
    assert!(said.contains(line_with), "{said}");
}

#[test]
fn every_fault_has_its_place_and_its_cure() {
    spoilt(
        "known = \"data\"",
        "known = \"hearsay\"",
        "hearsay",
        "`known` cannot be `hearsay`",
        "`second-hand`",
    );
    spoilt(
        "output = \"sight range\"",
        "output = \"sigth\"",
        "sigth",
        "`output` cannot be `sigth`",
        "`sight range`",
    );
    spoilt("unit = \"m\"", "unit = \"cm\"", "cm", "measured in m", "unit = \"m\"");
    spoilt("miss =", "mis =", "mis =", "no key `mis`", "`miss`");
    spoilt(
        "light_lux = 1000",
        "light_lux = \"1000\"",
        "light_lux",
        "light_lux` is not a number",
        "light_lux = 1000",
    );
    spoilt("light_lux = 1000", "light = 1000", "light = 1000", "no key `light`", "`light_lux`");
    spoilt("light_lux = 1000\n", "", "[[row]]", "needs light_lux", "light_lux = 100");
    spoilt("\"60 mm\"", "\"60\"", "target_length", "not a length with its unit", "\"60 mm\"");
    spoilt("\"60 mm\"", "\"60 kg\"", "target_length", "not a length with its unit", "units");
    spoilt("\"60 mm\"", "\"60 m\"", "target_length", "out of range", "1 m");
    spoilt("target = \"minnow\"", "target = \"gold\"", "gold", "not a known setup target", "`shad`");
    spoilt("measured = 0.7", "measured = -0.7", "-0.7", "`measured` is out of range", "a value from");
    spoilt(
        "measured = 0.7",
        "measured = 0.7\nlow = 0.8",
        "measured = 0.7",
        "outside its own range",
        "low below",
    );
}

#[test]
fn faults_of_conditions_and_patterns_have_their_places_too() {
    // What a scenario would refuse is refused at the place in the trial.
    spoilt("\"algae-green\"", "\"mauve\"", "mauve", "mauve", "`clay`");
    spoilt("\"12 NTU\" }", "\"12 m\" }", "12 m", "", "NTU");
    spoilt(
        "{ water.turbidity = \"12 NTU\" }",
        "{ water.turbidty = \"12 NTU\" }",
        "turbidty",
        "turbidty",
        "turbidity",
    );
    spoilt("at = \"12 NTU\"", "at = \"4 NTU\"", "[[row]]", "two rows", "name it apart");
    spoilt(
        "rows = [\"4 NTU\", \"12 NTU\"]",
        "rows = [\"4 NTU\", \"13 NTU\"]",
        "13 NTU",
        "no such row",
        "`12 NTU`",
    );
    spoilt("rows = [\"4 NTU\", \"12 NTU\"]", "rows = [\"4 NTU\"]", "[[pattern]]", "two rows or more", "rows");
    spoilt("claim = \"falls\"", "claim = \"sinks\"", "sinks", "`claim` cannot be `sinks`", "`falls`");
    spoilt("factor = 1.2", "factor = 0.5", "0.5", "`factor` is out of range", "from 1.001");
    spoilt("used = \"nothing\"", "used = \"form\"", "id", "no `used_for`", "used_for =");
}

#[test]
fn all_faults_are_told_at_once_and_broken_form_does_not_panic() {
    let text =
        GOOD.replace("known = \"data\"", "known = \"x\"").replace("minnow\"", "x\"").replace("0.3\n", "0\n");
    let faults = read(&text).expect_err("three faults");
    assert_eq!(faults.len(), 3, "{faults:#?}");
    for text in [
        "",
        "id = ",
        "[[row]]",
        "row = 3",
        "[world]\n[[pattern]]\nrows = []",
        "id = \"a\"\noutput = \"share hooked\"",
        "\u{202e}",
    ] {
        let faults = planned(text).expect_err("not a trial");
        assert!(!faults.is_empty() && faults.iter().all(|f| !f.help.is_empty()), "{text}: {faults:#?}");
    }
    // A trial that measures nothing is none.
    let nothing = GOOD
        .split("[[pattern]]")
        .next()
        .expect("rows")
        .replace("measured = 0.7\n", "")
        .replace("measured = 0.3\n", "");
    assert!(read(&nothing).expect_err("nothing").iter().any(|f| f.title.contains("measures nothing")));
}
