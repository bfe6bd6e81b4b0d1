//! `callup sweep` as it is typed.

use assert_cmd::Command;
use serde_json::Value;

fn run(arguments: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("callup").expect("built");
    let output = command.arg("sweep").args(arguments).env("COLUMNS", "120").output().expect("runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code().unwrap_or(-1), text(&output.stdout), text(&output.stderr))
}

/// Little to compute.
const QUICK: [&str; 4] = ["--draws", "8", "--points", "64"];

fn quick(arguments: &[&str]) -> (i32, String, String) {
    run(&[arguments, &QUICK[..]].concat())
}

#[test]
fn bad_input_ends_with_two_and_a_remedy() {
    for (arguments, must) in [
        (&["--over", "clarrity=1..2m"][..], "did you mean clarity"),
        (&["--over", "clarity=1..2"], "write \"1 m\""),
        (&["--over", "clarity=1..2m:201"], ":200 or fewer"),
        (&["--over", "clarity=1..2m:150", "--over", "depth=1..9m:150"], "fewer steps"),
        (&["--over", "clarity", "--over", "water.secchi"], "another name"),
        (&["--over", "depth", "--over", "hour", "--over", "tint"], "once or twice"),
        (&["--over", "depth=1..30m"], "narrow the range"),
        (&["--over", "depth", "--baits", "spoon"], "the baits are:"),
        (&["--over", "depth", "--against", "spoon"], "the baits are:"),
        (&["--over", "depth", "--resume", "/nowhere/kept"], "--save"),
        (&["nowhere.toml", "--over", "depth"], "callup odds --list"),
        (&[], "--over"),
    ] {
        let (code, out, err) = quick(arguments);
        assert_eq!((code, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains(must), "{arguments:?}: {err}");
    }
}

#[test]
fn every_fault_of_the_axes_is_told_at_once() {
    let (code, _, err) = quick(&["--over", "clarity=1..2", "--over", "moon=1..2"]);
    assert_eq!(code, 2);
    assert_eq!(err.matches("error:").count(), 2, "{err}");
}

#[test]
fn the_document_holds_the_whole_cube() {
    let (code, out, err) = quick(&["--over", "clarity=0.5..6m:3", "--over", "tint=clear,clay", "--json"]);
    assert_eq!(code, 0, "{err}");
    let document: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(document["command"], "sweep");
    assert_eq!((&document["draws"], &document["points"]), (&8.into(), &64.into()));
    assert_eq!(document["axes"][0]["path"], "water.secchi");
    assert_eq!(document["axes"][0]["unit"], "m");
    assert_eq!(document["axes"][1]["values"][1], "clay");
    assert_eq!((&document["cells_done"], &document["cells_asked"]), (&6.into(), &6.into()));
    let cells = document["cells"].as_array().expect("cells");
    assert_eq!(cells.len(), 6);
    assert_eq!(cells[5]["at"], serde_json::json!([6.0, "clay"]));
    for cell in cells {
        let baits = cell["strikes_per_100"].as_array().expect("baits");
        assert_eq!(baits.len(), 12);
        let leads: f64 = baits.iter().map(|b| b["leads_share"].as_f64().expect("number")).sum();
        assert!((leads - 1.0).abs() < 1e-12, "{leads}");
        for bait in baits {
            let at = |key: &str| bait[key].as_f64().expect("number");
            assert!(at("low") <= at("median") && at("median") <= at("high") && at("simulation_se") >= 0.0);
        }
    }
}

#[test]
fn the_table_has_a_row_for_each_cell_and_bait() {
    let (code, out, err) = quick(&["--over", "hour=6..18:3", "--baits", "70 mm", "150 mm", "--csv"]);
    assert_eq!(code, 0, "{err}");
    let mut reader = csv::Reader::from_reader(out.as_bytes());
    assert_eq!(&reader.headers().expect("heading")[0], "when.time_h");
    let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.expect("row")).collect();
    assert_eq!(rows.len(), 6);
    assert_eq!((&rows[2][0], &rows[3][1]), ("12", "150 mm, deep lip, silent, pearl"));
}

#[test]
fn a_sweep_kept_and_gone_on_with_answers_the_same() {
    let folder = tempfile::tempdir().expect("folder");
    let file = folder.path().join("kept");
    let path = file.to_str().expect("path");
    let over = ["--over", "clarity=0.5..6m:3", "--over", "depth=1..9m:3lin", "--json"];
    let (code, first, err) = quick(&[&over[..], &["--save", path]].concat());
    assert_eq!(code, 0, "{err}");
    assert!(err.contains("kept 9 of 9 cells"), "{err}");
    let (code, second, _) = quick(&[&over[..], &["--resume", path]].concat());
    assert_eq!((code, second), (0, first));
    let (code, _, err) = quick(&[&over[..], &["--resume", path, "--seed", "2"]].concat());
    assert_eq!(code, 2);
    assert!(err.contains("seed 1 then, 2 now"), "{err}");
    std::fs::write(&file, "something else").expect("written");
    let (code, _, err) = quick(&[&over[..], &["--resume", path]].concat());
    assert_eq!(code, 2);
    assert!(err.contains("not a sweep kept by this program"), "{err}");
}

#[test]
fn the_answer_says_what_was_varied_and_what_was_found() {
    let (code, out, err) = quick(&["--over", "depth=1..9m:3lin", "--units", "us"]);
    assert_eq!(code, 0, "{err}");
    for must in ["Varied: fish depth from 3.28 ft to 29.5 ft", "8 plausible worlds", "A model, not a promise"]
    {
        assert!(out.contains(must), "{must}: {out}");
    }
    let against = ["--over", "clarity=1..6m:4", "--over", "depth=2..6m:3", "--against", "70 mm"];
    let (code, out, err) = quick(&against);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("against 70 mm, standard lip, silent, see-through"), "{out}");
    let map: Vec<&str> = out.lines().filter(|l| l.trim_start().starts_with(['2', '4', '6'])).collect();
    assert!(map.len() >= 3, "{out}");
}

#[test]
fn pictures_are_drawn_for_every_kind_of_axis() {
    for (over, names) in [
        (&["--over", "depth=1..9m:4"][..], &["sweep"][..]),
        (&["--over", "tint"], &["sweep"]),
        (
            &["--over", "finish", "--over", "hour=6..18:3", "--baits", "70 mm", "150 mm"],
            &["sweep", "sweep-difference"],
        ),
        (
            &["--over", "clarity=0.5..6m:4", "--over", "depth=1..6m:4", "--against", "70 mm"],
            &["sweep", "sweep-difference"],
        ),
    ] {
        let folder = tempfile::tempdir().expect("folder");
        let path = folder.path().to_str().expect("path").to_owned();
        let (code, _, err) = quick(&[over, &["--plot", &path]].concat());
        assert_eq!(code, 0, "{over:?}: {err}");
        for name in names {
            let svg = std::fs::read_to_string(folder.path().join(format!("{name}.svg"))).expect("drawn");
            assert!(svg.contains("</svg>") && !svg.contains("NaN"), "{over:?}");
            assert!(folder.path().join(format!("{name}.png")).exists());
        }
    }
}
