//! Machine output, a contract: required keys, units in them, spreadsheets that agree, seeds that repeat.

use super::{csv, good, json, quick, refused};
use serde_json::Value;

#[track_caller]
fn has(value: &Value, keys: &[&str]) {
    for key in keys {
        let found = key.split('.').try_fold(value, |v, k| v.get(k));
        assert!(found.is_some_and(|f| !f.is_null()), "no {key} in {value}");
    }
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

#[test]
fn every_document_begins_alike() {
    for command in ["odds", "depth", "light"] {
        let document = json(&quick(&[command]));
        has(&document, &["schema", "version", "command", "seed", "draws", "points", "scenario.title"]);
        assert_eq!(document["command"], command);
        assert_eq!(document["version"], env!("CARGO_PKG_VERSION"));
        assert_eq!(document["scenario"]["fish"]["depth_m"], 15.0 * 0.3048);
        assert_eq!((&document["draws"], &document["points"]), (&8.into(), &64.into()));
    }
    for args in [&["assumptions"][..], &["selfcheck"], &["odds", "--list"]] {
        has(&json(args), &["schema", "version", "command"]);
    }
    // `callup` alone is a program too.
    assert_eq!(json(&quick(&[])), json(&quick(&["odds"])));
}

#[test]
fn odds_hold_what_is_promised() {
    let document = json(&quick(&["odds"]));
    let baits = document["baits"].as_array().expect("baits");
    assert_eq!(baits.len(), 12);
    for bait in baits {
        has(bait, &["name", "running_depth_m", "could_be_best", "rank", "seen_from_m.up"]);
        has(bait, &["strikes_per_100.median", "strikes_per_100.low", "strikes_per_100.high"]);
        has(bait, &["strikes_per_100.simulation_se", "seen_from_m.level", "seen_from_m.down"]);
        let stages = ["never_noticed", "stayed_put", "turned_away", "struck"];
        let losses: f64 = stages.iter().map(|s| number(&bait["losses"][s])).sum();
        assert!((losses - 100.0).abs() < 1e-9, "where 100 passes go: {losses}");
        let s = &bait["strikes_per_100"];
        assert!(number(&s["low"]) <= number(&s["median"]) && number(&s["median"]) <= number(&s["high"]));
        assert!(number(&s["simulation_se"]) > 0.0);
        let [best, worst] = [0, 1].map(|i| bait["rank"][i].as_u64().expect("rank"));
        assert!(1 <= best && best <= worst && worst <= 12);
    }
    assert!(baits.iter().any(|b| b["could_be_best"] == true));
    assert!(document.get("passes_per_cast").is_none());
    let dense = json(&quick(&["odds", "--set", "fish.density=30 per ha"]));
    assert!(number(&dense["passes_per_cast"]) > 0.0);
}

#[test]
fn light_holds_what_is_promised() {
    let document = json(&["light"]);
    has(&document, &["sun.elevation_deg", "sun.azimuth_deg", "surface_lux", "below_surface_lux"]);
    has(&document, &["k_per_m", "c_per_m", "depths_m", "lux", "hours", "finishes"]);
    assert!(number(&document["below_surface_lux"]) < number(&document["surface_lux"]));
    assert!(number(&document["c_per_m"]) > number(&document["k_per_m"]));
    let depths = document["depths_m"].as_array().expect("depths").len();
    for hour in document["hours"].as_array().expect("hours") {
        let lux: Vec<f64> = hour["lux"].as_array().expect("lux").iter().map(number).collect();
        assert!(lux.len() == depths && lux.windows(2).all(|w| w[1] <= w[0]), "{lux:?}");
    }
}

/// The greatest depth may lie between two points of the path, which is flat there.
const BETWEEN_POINTS_M: f64 = 1e-3;

#[test]
fn depth_holds_what_is_promised() {
    for bait in json(&["depth"])["baits"].as_array().expect("baits") {
        has(bait, &["name", "max_depth_m", "reeled_to_max_m", "path"]);
        let path: Vec<(f64, f64)> =
            bait["path"].as_array().expect("path").iter().map(|p| (number(&p[0]), number(&p[1]))).collect();
        let deepest = path.iter().copied().fold((0.0, 0.0), |m, p| if p.1 > m.1 { p } else { m });
        let step = path[1].0 - path[0].0;
        assert!((deepest.1 - number(&bait["max_depth_m"])).abs() < BETWEEN_POINTS_M);
        assert!((deepest.0 - number(&bait["reeled_to_max_m"])).abs() <= step);
        assert!(path.windows(2).all(|w| w[1].0 > w[0].0));
    }
}

/// The reader of JSON used here may miss the last bit of a number; both outputs are written exactly.
const READING: f64 = 2.0 * f64::EPSILON;

#[test]
fn spreadsheets_hold_the_same_numbers_to_the_last_digit() {
    let document = json(&quick(&["odds"]));
    let rows = csv(&quick(&["odds"]));
    let baits = document["baits"].as_array().expect("baits");
    assert_eq!(rows.len(), baits.len());
    for (row, bait) in rows.iter().zip(baits) {
        assert_eq!(row["bait"], bait["name"].as_str().expect("name"));
        for (column, value) in [
            ("strikes_per_100_median", &bait["strikes_per_100"]["median"]),
            ("strikes_per_100_low", &bait["strikes_per_100"]["low"]),
            ("simulation_se", &bait["strikes_per_100"]["simulation_se"]),
            ("struck", &bait["losses"]["struck"]),
            ("running_depth_m", &bait["running_depth_m"]),
            ("seen_from_down_m", &bait["seen_from_m"]["down"]),
            ("rank_worst", &bait["rank"][1]),
        ] {
            let (cell, value) = (row[column].parse::<f64>().expect("number"), number(value));
            assert!((cell - value).abs() <= READING * value.abs(), "{column}: {cell} {value}");
        }
    }
    let document = json(&["depth"]);
    let points: usize = document["baits"]
        .as_array()
        .expect("baits")
        .iter()
        .map(|b| b["path"].as_array().expect("path").len())
        .sum();
    assert_eq!(csv(&["depth"]).len(), points);
    let document = json(&["light"]);
    let hours = document["hours"].as_array().expect("hours").len();
    let depths = document["depths_m"].as_array().expect("depths").len();
    assert_eq!(csv(&["light"]).len(), hours * depths);
}

#[test]
fn the_same_seed_gives_the_same_bytes_and_seed_zero_counts() {
    let with = |seed: &str| good(&quick(&["odds", "--json", "--seed", seed]));
    assert_eq!(with("0"), with("0"));
    assert_eq!(with("1"), good(&quick(&["odds", "--json"])));
    let zero: Value = serde_json::from_str(&with("0")).expect("JSON");
    let one: Value = serde_json::from_str(&with("1")).expect("JSON");
    assert_eq!(zero["seed"], 0);
    assert_ne!(zero["baits"], one["baits"]);
    let greatest: Value = serde_json::from_str(&with("18446744073709551615")).expect("JSON");
    assert_eq!(greatest["seed"].as_u64(), Some(u64::MAX));
}

#[test]
fn the_fixed_world_is_one_and_says_so() {
    let document = json(&["odds", "--fixed", "--points", "64"]);
    assert_eq!((&document["fixed"], &document["draws"]), (&true.into(), &1.into()));
    let mut drawn = 0;
    for bait in document["baits"].as_array().expect("baits") {
        let s = &bait["strikes_per_100"];
        assert!(s["low"] == s["median"] && s["high"] == s["median"], "{s}");
        drawn += usize::from(number(&s["median"]) > 0.0);
        let none = number(&s["median"]) == 0.0;
        assert!(none || number(&s["simulation_se"]) > 0.0, "its passes are still a simulation: {s}");
    }
    assert!(drawn > 6, "most baits of the box draw something: {drawn}");
    // Draws do not matter to it, and the words say that there is one world.
    assert_eq!(document, json(&["odds", "--fixed", "--points", "64", "--draws", "512"]));
    assert!(
        good(&["odds", "--fixed", "--points", "64"]).contains("One world, every assumption at its default")
    );
    for command in ["depth", "light"] {
        assert_eq!(json(&[command, "--fixed"])["fixed"], true);
    }
}

/// What is said to have been computed is what was computed.
#[test]
fn draws_and_points_are_said_as_they_were_run() {
    let document = json(&["odds", "--draws", "20", "--points", "100"]);
    assert_eq!((&document["draws"], &document["points"]), (&32.into(), &128.into()));
    assert_eq!(document["draws_done"], document["draws"]);
    let text = good(&["odds", "--draws", "20", "--points", "100"]);
    assert!(text.contains("32 plausible worlds of 128 passes each"), "{text}");
    assert_eq!(document, json(&["odds", "--draws", "32", "--points", "128"]));
}

#[test]
fn what_cannot_be_asked_is_refused() {
    for args in [
        &["odds", "--json", "--csv"][..],
        &["odds", "--draws", "4"],
        &["odds", "--draws", "1000000000"],
        &["odds", "--points", "63"],
        &["odds", "--seed", "-1"],
        &["odds", "--seed", "1.5"],
        &["odds", "--units", "furlongs"],
        &["fish"],
        &["odds", "--no-such-option"],
        &["odds", "a", "b"],
        &["depth", "--to", "3"],
        &["depth", "--to", "3 kg"],
        &["depth", "--to", "300 m"],
        &["depth", "--to", "-1 m"],
        &["depth", "--to", "nan m"],
        &["assumptions", "--grade", "rumour"],
        &["completions", "tcsh"],
        &["new"],
    ] {
        refused(args);
    }
}
