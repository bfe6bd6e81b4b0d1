//! `callup casts` as it is typed.

use assert_cmd::Command;
use serde_json::Value;

fn run(arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("callup").expect("built");
    let output = command.arg("casts").args(arguments).env("COLUMNS", "100").output().expect("runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code().unwrap_or(-1), text(&output.stdout), text(&output.stderr))
}

/// A text without its line breaks.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

const QUICK: [&str; 4] = ["--draws", "16", "--points", "64"];

fn quick(arguments: &[&str]) -> (i32, String, String) {
    run(&[arguments, &QUICK[..]].concat())
}

#[track_caller]
fn document(ended: (i32, String, String)) -> Value {
    assert_eq!(ended.0, 0, "{}", ended.2);
    serde_json::from_str(&ended.1).expect("JSON")
}

#[test]
fn bad_input_ends_with_two_and_a_remedy() {
    for (arguments, must) in [
        (&["7", "10%"][..], "7 of how many? write 7%"),
        (&["0%", "10%"], "write one like"),
        (&["7%", "120%"], "write one like"),
        (&["nan", "7%"], "write one like"),
        (&["7%", "150 mm"], "two baits of the box, or two rates"),
        (&["7%", "10%", "first-light"], "need no scenario"),
        (&["spoon", "150 mm"], "the baits are:"),
        (&["90 mm", "150 mm"], "several baits answer to"),
        (&["150 mm", "150 mm, deep lip"], "two different baits"),
        (&["7%", "10%", "--power", "1.5"], "--power 0.8"),
        (&["7%", "10%", "--alpha", "0"], "--alpha 0.05"),
        (&["7%", "10%", "--pace", "-3"], "unexpected argument"),
        (&["7%", "10%", "--pace", "0"], "--pace 40"),
        (&["7%", "10%", "--hours", "nan"], "--hours 100"),
        (&["7%", "10%", "--casts", "0"], "1..=1000000"),
        (&["150 mm", "70 mm", "nowhere.toml"], "callup odds --list"),
        (&["150 mm"], "<B>"),
    ] {
        let (code, out, err) = quick(arguments);
        assert_eq!((code, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains(must), "{arguments:?}: {err}");
    }
    // All that is wrong is told at once.
    for arguments in [&["7", "130%"][..], &["7%", "10%", "--power", "2", "--hours", "0"], &["spoon", "frog"]]
    {
        let (_, _, err) = quick(arguments);
        assert_eq!(err.matches("error:").count(), 2, "{err}");
    }
}

#[test]
fn given_rates_need_no_simulation() {
    let d = document(run(&["7%", "10 in 100", "--casts", "60", "--json"]));
    assert_eq!((&d["command"], &d["unit"]), (&"casts".into(), &"casts".into()));
    assert!(
        d["seed"].is_null() && d["draws"].is_null() && d["scenario"].is_null() && d["over_worlds"].is_null()
    );
    assert!((d["fixed"]["by_formula"]["pooled"].as_f64().expect("number") - 1355.37).abs() < 0.005);
    assert_eq!(d["showing"]["of_each"], 60);
    // The formula is an approximation: 138 where 126 are enough (scipy, tests/reference/stable_size.csv).
    let near = document(run(&["2%", "10%", "--json"]));
    let fixed = &near["fixed"];
    assert_eq!(
        (fixed["of_each"].as_f64(), fixed["by_formula"]["of_each"].as_f64()),
        (Some(126.0), Some(138.0))
    );
    assert_eq!(fixed["is_exact"], true);
    let (_, text, _) = run(&["2%", "10%"]);
    assert!(
        flat(&text).starts_with("To tell 2 in 100 from 10 in 100 takes about 130 casts of each"),
        "{text}"
    );
    assert!(flat(&text).contains("it says 140 where 126 are enough"), "{text}");
    let (code, text, err) = run(&["7%", "10%"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(
        flat(&text).starts_with("To tell 7 in 100 from 10 in 100 takes about 1300 casts of each"),
        "{text}"
    );
    let (_, text, _) = run(&["0.07", "6 in 100", "--hours", "10"]);
    assert!(flat(&text).contains("not in a lifetime (40 seasons of 10 hours)"), "{text}");
    let (code, text, _) = run(&["7%", "0.07"]);
    assert_eq!(code, 0);
    assert!(flat(&text).contains("strike alike at 7 in 100: no number of casts tells them apart"), "{text}");
}

#[test]
fn baits_are_told_over_worlds_in_passes_or_casts() {
    let d = document(quick(&["150 mm", "70 mm", "--json"]));
    assert_eq!((&d["unit"], &d["draws"], &d["points"]), (&"passes".into(), &16.into(), &64.into()));
    assert_eq!(d["names"][0], "150 mm, deep lip, silent, pearl");
    assert_eq!(d["over_worlds"]["worlds"], 16);
    assert!(d["passes_per_cast"].is_null());
    let dense = document(quick(&[
        "150 mm",
        "70 mm",
        "--set",
        "fish.density=30 per ha",
        "--set",
        "fish.reachable=1",
        "--json",
    ]));
    assert_eq!(dense["unit"], "casts");
    // 30 fish on 10 000 square metres, 27 m of retrieve, 5 m wide.
    assert!((dense["passes_per_cast"].as_f64().expect("number") - 0.405).abs() < 1e-12);
    let fixed = document(quick(&["150 mm", "70 mm", "--fixed", "--json"]));
    assert_eq!(fixed["over_worlds"]["worlds"], 1);
    let (code, text, err) = quick(&["150 mm", "70 mm", "--units", "us"]);
    assert_eq!((code, err.as_str()), (0, ""));
    for must in
        ["A pass is not a cast", "half of the plausible worlds need fewer than", "16 plausible worlds of 64"]
    {
        assert!(flat(&text).contains(must), "{must}: {text}");
    }
    assert!(text.lines().all(|l| l.chars().count() <= 100), "{text}");
}

#[test]
fn the_curve_rises_and_the_pictures_are_written() {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().to_str().expect("path");
    let (code, out, err) = quick(&["150 mm", "110 mm, standard lip, silent", "--csv", "--plot", path]);
    assert_eq!(code, 0, "{err}");
    for name in ["casts-power.png", "casts-power.svg", "casts-lead.png", "casts-lead.svg"] {
        assert!(folder.path().join(name).exists(), "{name}");
    }
    let mut reader = csv::Reader::from_reader(out.as_bytes());
    let rows: Vec<Vec<f64>> = reader
        .records()
        .map(|r| r.expect("row").iter().map(|c| c.parse().expect("number")).collect())
        .collect();
    assert!(rows.len() > 20);
    for row in &rows {
        assert!(row[3] <= row[4] && row[1..].iter().all(|p| (0.0..=1.0).contains(p)), "{row:?}");
    }
    let (first, last) = (&rows[0], &rows[rows.len() - 1]);
    assert!(first[0] == 10.0 && last[0] > first[0] && last[1] > 0.8 && first[1] < 0.8);
}
