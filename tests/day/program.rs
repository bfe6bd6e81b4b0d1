//! `callup day` as it is typed.

use assert_cmd::Command;
use serde_json::Value;

pub fn run(arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("callup").expect("built");
    let output = command.args(arguments).env("COLUMNS", "120").output().expect("runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code().unwrap_or(-1), text(&output.stdout), text(&output.stderr))
}

/// Little to compute.
pub const QUICK: [&str; 4] = ["--draws", "8", "--points", "64"];

fn quick(arguments: &[&str]) -> (i32, String, String) {
    run(&[&["day"], arguments, &QUICK[..]].concat())
}

#[test]
fn bad_input_ends_with_two_and_a_remedy() {
    for (arguments, must) in [
        (&["--step", "30"][..], "30min"),
        (&["--step", "1min"], "5min to 4h"),
        (&["--step", "5h"], "5min to 4h"),
        (&["--change", "-5min"], "30min"),
        (&["--change", "2000min"], "longer than a day"),
        (&["--casts", "0"], "from 1 to 1000"),
        (&["nowhere.toml"], "callup odds --list"),
        (&["--set", "hour.cloud=12:00 5"], "from 0 to 1"),
        (&["--set", "hour.clouds=12:00 5"], "hour.cloud"),
        (&["--step", "5min", "--set", "box.use=all", "--draws=4096"], "longer steps"),
    ] {
        let most = if arguments.contains(&"--draws=4096") {
            run(&[&["day"], arguments].concat())
        } else {
            quick(arguments)
        };
        let (code, out, err) = most;
        assert_eq!((code, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains(must), "{arguments:?}: {err}");
    }
    let (code, _, err) = quick(&["--step", "1min", "--casts", "0"]);
    assert_eq!((code, err.matches("error:").count()), (2, 2), "{err}");
}

#[test]
fn the_text_says_what_holds_and_what_not() {
    let (code, out, err) = quick(&[]);
    assert_eq!(code, 0, "{err}");
    for must in [
        "With one rod: ",
        "all day",
        "first light 06:17",
        "dark 20:15",
        "Only the sun and its light change",
        "A model, not",
    ] {
        assert!(out.contains(must), "{must}: {out}");
    }
    let (_, out, _) = quick(&["clearing-inlet"]);
    assert!(
        out.contains("By the hour: from 09:00 cloud 7/10") && out.contains("clarity by the hour"),
        "{out}"
    );
    let (_, out, _) = quick(&["--set", "hour.cloud=23:00 0.2"]);
    assert!(out.contains("rows of 23:00 lie outside"), "{out}");
    let polar = [
        "--set",
        "place.latitude=78",
        "--set",
        "place.longitude=15",
        "--set",
        "place.zone=Arctic/Longyearbyen",
    ];
    let (_, out, _) = quick(&[&polar[..], &["--set", "when.date=2026-12-21"]].concat());
    assert!(out.contains("first light does not come"), "{out}");
    let (_, out, _) = quick(&[&polar[..], &["--set", "when.date=2026-06-21"]].concat());
    assert!(out.contains("it does not get dark"), "{out}");
}

#[test]
fn the_document_holds_the_steps_and_the_plans() {
    let (code, out, err) = quick(&["clearing-inlet", "--json", "--step", "1h"]);
    assert_eq!(code, 0, "{err}");
    let document: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((&document["command"], &document["schema"]), (&"day".into(), &1.into()));
    assert_eq!(document["scenario"]["hours"].as_array().expect("hours").len(), 4);
    let steps = document["steps"].as_array().expect("steps");
    assert_eq!(document["one_rod"]["choices"].as_array().expect("plan").len(), steps.len());
    assert_eq!(steps[0]["baits"].as_array().expect("baits").len(), 7);
    assert_eq!((&steps[0]["secchi_m"], &steps[0]["cloud"]), (&0.4.into(), &1.0.into()));
    assert!(document["tied_on"][0]["strikes_per_100"]["median"].is_number());
    let (_, csv, _) = quick(&["clearing-inlet", "--csv", "--step", "1h"]);
    assert_eq!(csv.lines().count(), 1 + 7 * steps.len());
    // Without a table the key is not there.
    let (_, out, _) = quick(&["--json", "--step", "4h"]);
    let document: Value = serde_json::from_str(&out).expect("JSON");
    assert!(document["scenario"]["hours"].is_null());
}

#[test]
fn one_world_one_bait_and_pictures() {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().to_str().expect("UTF-8");
    let (code, out, err) =
        quick(&["--fixed", "--set", "box.use=90 mm, deep lip, silent, pearl", "--plot", path]);
    assert_eq!(code, 0, "{err}");
    assert!(
        out.contains("90 mm, deep lip, silent, pearl all day") && !out.contains("plausible worlds make"),
        "{out}"
    );
    for ending in ["png", "svg"] {
        assert!(folder.path().join(format!("day.{ending}")).exists());
    }
}
