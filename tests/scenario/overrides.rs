//! Values given beside the file.

use callup::scenario::{Cast, Clarity, SettingKind, load, paths};
use callup::units::{Dimension, parse};

use super::catalogue::{GOOD, catalogue, good_with, render, set};

fn with(pairs: &[(&str, &str)]) -> callup::scenario::Scenario {
    let loaded = load(GOOD, "lake.toml", &set(pairs), &catalogue());
    loaded.unwrap_or_else(|faults| panic!("{pairs:?}\n{}", render(&faults, GOOD))).scenario
}

fn refused(pairs: &[(&str, &str)]) -> Vec<callup::scenario::Diagnostic> {
    load(GOOD, "lake.toml", &set(pairs), &catalogue()).expect_err("should be refused")
}

#[test]
fn overrides_replace_values_of_every_kind() {
    assert_eq!(with(&[("water.secchi", "2 m")]).water.clarity, Clarity::Secchi(2.0));
    assert_eq!(with(&[("fish.depth", "10ft")]).fish.depth_m, 3.048);
    assert_eq!(with(&[("sky.cloud", "0.3")]).sky.cloud, 0.3);
    assert_eq!(with(&[("sky.cloud", " 0.3 ")]).sky.cloud, 0.3);
    assert_eq!(with(&[("fish.species", "Smallmouth")]).fish.species.label(), "smallmouth");
    assert_eq!(with(&[("when.date", "2026-06-01")]).when.date.day_of_year(), 152);
    assert_eq!(with(&[("title", "\"Another\"")]).title, "Another");
    assert_eq!(with(&[("fish.density", "10 per acre")]).fish.density_per_ha.map(f64::round), Some(25.0));
    // The last of several counts.
    assert_eq!(with(&[("sky.cloud", "0.3"), ("sky.cloud", "0.7")]).sky.cloud, 0.7);
}

#[test]
fn one_of_two_rivals_takes_the_files_other_away() {
    assert_eq!(with(&[("water.turbidity", "4 NTU")]).water.clarity, Clarity::Turbidity(4.0));
    let strong = with(&[("tackle.strength", "10 lb"), ("tackle.line", "nylon")]).tackle;
    assert!((strong.diameter_m - 0.280_467e-3).abs() < 1e-9, "{}", strong.diameter_m);
    assert_eq!(with(&[("tackle.launch", "25 m/s")]).tackle.cast, Cast::Launch(25.0));
    assert_eq!(with(&[("place.utc_offset", "-04:00")]).place.zone, "-04:00");
    let both = refused(&[("water.turbidity", "4 NTU"), ("water.secchi", "2 m")]);
    assert_eq!(both.len(), 1);
    assert!(both[0].title.contains("both"));
}

#[test]
fn the_box_can_be_replaced_whole() {
    let own = format!("{GOOD}[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\nname = \"old\"\n");
    for (value, names) in [
        ("all", 20),
        ("150 mm, deep lip, silent, dark", 1),
        ("70 mm, standard lip, silent; 150 mm, deep lip, silent, dark", 2),
        ("[\"70 mm, standard lip, silent\", \"150 mm, deep lip, silent, dark\"]", 2),
    ] {
        let loaded = load(&own, "lake.toml", &set(&[("box.use", value)]), &catalogue()).expect("good");
        assert_eq!(loaded.scenario.baits.len(), names, "{value}");
        assert!(loaded.scenario.baits.iter().all(|bait| bait.name != "old"));
    }
}

#[test]
fn a_property_can_be_given_to_every_bait() {
    let dark = with(&[("bait.finish", "dark")]);
    let names: Vec<&str> = dark.baits.iter().map(|bait| bait.name.as_str()).collect();
    assert_eq!(names, ["90 mm, standard lip, silent, dark", "110 mm, deep lip, rattling, dark"]);
    let long = with(&[("bait.length", "100 mm"), ("box.use", "all")]);
    // Five lengths become one: what is left differs in lip and sound.
    assert_eq!(long.baits.len(), 4);
    assert!(long.baits.iter().all(|bait| bait.length_m == 0.1 && bait.name.starts_with("100 mm, ")));
    // A name of one's own stays.
    let own = format!("{GOOD}[[box.bait]]\nlike = \"70 mm, standard lip, silent\"\nname = \"old\"\n");
    let loaded = load(&own, "lake.toml", &set(&[("bait.finish", "dark")]), &catalogue()).expect("good");
    assert_eq!(loaded.scenario.baits[2].name, "old");
    assert_eq!(loaded.scenario.baits[2].finish, "dark");
}

#[test]
fn a_bad_value_points_into_the_override() {
    let found = refused(&[("sky.cloud", "0.3"), ("water.secchi", "2 lb")]);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].file, "--set");
    assert_eq!(found[0].source(GOOD), "water.secchi=2 lb");
    assert_eq!(found[0].span.clone().and_then(|span| found[0].source(GOOD).get(span)), Some("2 lb"));
    let shown = found[0].render_plain(GOOD);
    assert!(shown.contains("--set | water.secchi=2 lb\n"), "{shown}");
    let below = refused(&[("fish.depth", "20 m")]);
    assert_eq!(below[0].source(GOOD), "fish.depth=20 m");
    assert!(below[0].title.contains("below the bottom"));
    let cloud = refused(&[("sky.cloud", "much")]);
    assert!(cloud[0].help.contains("cloud = 0.9"));
}

#[test]
fn an_unknown_path_lists_near_names_or_all() {
    let near = refused(&[("water.sechi", "2 m")]);
    assert!(near[0].help.contains("`water.secchi`"), "{}", near[0].help);
    let ending = refused(&[("length", "2 m")]);
    for path in ["fish.length", "forage.length", "bait.length"] {
        assert!(ending[0].help.contains(path), "{}", ending[0].help);
    }
    let strange = refused(&[("qqq", "2")]);
    for setting in paths(&catalogue()) {
        assert!(strange[0].help.contains(setting.path), "{} is not listed", setting.path);
    }
}

#[test]
fn overrides_can_complete_a_file() {
    let short = good_with("secchi = \"3.4 m\"\n", "");
    assert!(load(&short, "lake.toml", &[], &catalogue()).is_err());
    let loaded =
        load(&short, "lake.toml", &set(&[("water.secchi", "3.4 m")]), &catalogue()).expect("complete");
    let whole = load(GOOD, "lake.toml", &[], &catalogue()).expect("good");
    assert_eq!(loaded, whole);
}

#[test]
fn every_path_takes_its_own_example_and_its_sweep_range() {
    for setting in paths(&catalogue()) {
        if setting.path == "when.date" {
            assert_eq!(setting.kind, SettingKind::Text);
        }
        with(&[(setting.path, setting.example.as_str())]);
        if let SettingKind::Number { dimension, limits, sweep } = setting.kind.clone() {
            assert!(limits.0 <= sweep.0 && sweep.0 < sweep.1 && sweep.1 <= limits.1, "{}", setting.path);
            for value in [limits.0, sweep.0, sweep.1, limits.1] {
                let written = crate::common::written(&setting, value);
                let read = match dimension {
                    Some(dimension) => parse(&written, dimension).expect("own writing"),
                    None => written.parse().expect("a number"),
                };
                assert_eq!(read, value, "{}: {written}", setting.path);
            }
        }
        if let SettingKind::Choice(words) = &setting.kind {
            assert!(!words.is_empty());
            for word in words {
                with(&[(setting.path, word)]);
            }
        }
    }
    assert_eq!(parse("10 lb", Dimension::Force), Ok(44.482216152605));
}
