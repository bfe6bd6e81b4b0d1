//! `callup pack` as it is typed.

use super::program::{QUICK, run};
use serde_json::Value;

fn quick(arguments: &[&str]) -> (i32, String, String) {
    run(&[&["pack"], arguments, &QUICK[..]].concat())
}

#[test]
fn bad_input_ends_with_two_and_a_remedy() {
    for (arguments, must) in [
        (&["--carry", "0"][..], "--carry from 1 to 12"),
        (&["--carry", "13"], "--carry from 1 to 12"),
        (&["--over", "clarrity=1..2m"], "did you mean clarity"),
        (&["--over", "clarity=1..2"], "write \"1 m\""),
        (&["--over", "finish=pearl,dark"], "vary a condition instead"),
        (&["--over", "depth=1m..30m"], "narrow the spread"),
        (&["--over", "depth=1m..3m", "--over", "fish.depth=2m..3m"], "varied twice"),
        (&["main-lake-point=0"], "above 0"),
        (&["main-lake-point=much"], "main-lake-point=2"),
        (&["main-lake-point", "winter-bluff", "--weights", "1"], "write 2 numbers"),
        (&["main-lake-point", "winter-bluff", "--weights", "1,-1"], "write 2 numbers"),
        (&["main-lake-point=2", "--weights", "1"], "keep --weights, or NAME=WEIGHT"),
        (&["main-lake-point", "nowhere"], "callup odds --list"),
        (&["--conditions", "5000"], "1024"),
    ] {
        let (code, out, err) = quick(arguments);
        assert_eq!((code, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains(must), "{arguments:?}: {err}");
    }
}

#[test]
fn a_faulty_second_file_is_shown_with_its_place() {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().join("mine.toml");
    std::fs::write(&path, "[sky]\ncloud = 7\n").expect("written");
    let (code, _, err) = quick(&["main-lake-point", path.to_str().expect("UTF-8")]);
    assert_eq!(code, 2);
    assert!(err.contains("mine.toml:2:9") && err.contains("from 0 to 1"), "{err}");
}

#[test]
fn text_document_rows_and_pictures() {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().to_str().expect("UTF-8");
    let (code, out, err) = quick(&["--plot", path]);
    assert_eq!(code, 0, "{err}");
    for must in
        ["spread, for none was asked for", "Carry ", "What each further bait adds", "A model, not a promise"]
    {
        assert!(out.contains(must), "{must}: {out}");
    }
    for ending in ["png", "svg"] {
        assert!(folder.path().join(format!("pack.{ending}")).exists());
    }
    let names = ["main-lake-point=3", "clay-after-rain", "--carry", "2"];
    let (_, out, _) = quick(&names);
    assert!(out.contains("75 %") && out.contains("What is thrown where"), "{out}");
    let (code, out, err) =
        quick(&[&names[..], &["--over", "cloud=0..1", "--conditions", "32", "--json"]].concat());
    assert_eq!(code, 0, "{err}");
    let document: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((&document["command"], &document["schema"]), (&"pack".into(), &1.into()));
    let conditions = document["conditions"].as_array().expect("conditions").len();
    let baits = document["baits"].as_array().expect("baits").len();
    assert_eq!((conditions, &document["carry"], &document["chosen"]["carried"]), (32, &2.into(), &2.into()));
    assert_eq!(document["scenarios"][0]["share"], 0.75);
    let (_, csv, _) = quick(&[&names[..], &["--over", "cloud=0..1", "--conditions", "32", "--csv"]].concat());
    assert_eq!(csv.lines().count(), 1 + conditions * baits);
    assert!(csv.starts_with("condition,scenario,weight,sky.cloud,bait,"), "{}", &csv[..80]);
    // The whole box, and one world.
    let (code, out, err) = quick(&["--fixed", "--carry", "12"]);
    assert_eq!(code, 0, "{err}");
    assert!(!out.contains("plausible worlds:"), "{out}");
}
