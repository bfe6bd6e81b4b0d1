//! `callup why` as it is typed.

use assert_cmd::Command;
use serde_json::Value;

fn run(arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("callup").expect("built");
    let quick = ["--draws", "32", "--points", "64"];
    let output = command.arg("why").args(arguments).args(quick).env("COLUMNS", "100").output().expect("runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code().unwrap_or(-1), text(&output.stdout), text(&output.stderr))
}

#[test]
fn bad_input_ends_with_two_and_a_remedy() {
    for (arguments, must) in [
        (&["--fixed"][..], "leave --fixed out"),
        (&["--baits", "spoon", "150 mm"], "the baits are:"),
        (&["--baits", "150 mm", "150 mm, deep lip"], "two different baits"),
        (&["--baits", "150 mm"], "2 values required"),
        (&["nowhere.toml"], "callup odds --list"),
        (&["--set", "water.secchi=2"], "error"),
    ] {
        let (code, out, err) = run(arguments);
        assert_eq!((code, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains(must), "{arguments:?}: {err}");
    }
    // Both names wrong: both are told.
    let (_, _, err) = run(&["--baits", "spoon", "frog"]);
    assert_eq!(err.matches("error:").count(), 2, "{err}");
}

#[test]
fn the_document_holds_what_is_promised() {
    let (code, out, err) = run(&["--json"]);
    assert_eq!(code, 0, "{err}");
    let document: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(document["command"], "why");
    assert_eq!(
        (&document["draws"], &document["points"], &document["worlds"]),
        (&32.into(), &64.into(), &64.into())
    );
    let number = |v: &Value| v.as_f64().expect("number");
    for list in ["groups", "parameters"] {
        for input in document[list].as_array().expect(list) {
            for of in ["odds", "difference"] {
                assert!(number(&input[of]["total_share"]) >= 0.0 && number(&input[of]["total_se"]) >= 0.0);
                assert!(input[of]["stands_out"].is_boolean());
            }
        }
    }
    let all = number(&document["perfect_information_per_100"]["mean"]);
    for p in document["parameters"].as_array().expect("parameters") {
        let worth = number(&p["worth_per_100"]["corrected"]);
        assert!((0.0..=all).contains(&worth), "{p}");
    }
    assert_eq!(document["complete"], true);
    assert!(number(&document["floor"]["odds"]["total_share"]) > 0.0);
}

#[test]
fn text_table_and_picture_come_out() {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().to_str().expect("path");
    let (code, out, err) = run(&["--baits", "150 mm", "70 mm", "--plot", path, "--units", "us"]);
    assert_eq!(code, 0, "{err}");
    for must in ["150 mm, deep lip, silent, pearl", "Beside 70 mm", "throw ", "seed 1", "not a promise"] {
        let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(must), "{must}: {out}");
    }
    assert!(folder.path().join("why.png").exists() && folder.path().join("why.svg").exists());
    assert!(out.lines().all(|l| l.chars().count() <= 100), "{out}");
    let (code, out, err) = run(&["--csv"]);
    assert_eq!(code, 0, "{err}");
    let mut reader = csv::Reader::from_reader(out.as_bytes());
    let levels: Vec<String> = reader.records().map(|r| r.expect("row")[0].to_owned()).collect();
    assert!(levels.iter().any(|l| l == "group") && levels.iter().any(|l| l == "parameter"));
}
