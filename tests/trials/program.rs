//! `callup trials` as people and other programs meet it.

use super::*;
use assert_cmd::Command;
use serde_json::Value;
use std::path::Path;

fn run_in(folder: &Path, args: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_callup"));
    let output = command.current_dir(folder).env("COLUMNS", "130").args(args).output().expect("runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().expect("ends"), text(output.stdout), text(output.stderr))
}

fn run(args: &[&str]) -> (i32, String, String) {
    run_in(tempfile::tempdir().expect("folder").path(), args)
}

const FEW: [&str; 4] = ["--draws", "16", "--points", "64"];

fn quick<'a>(args: &[&'a str]) -> Vec<&'a str> {
    [&["trials"], args, &FEW].concat()
}

#[test]
fn the_answer_says_the_score_the_source_and_what_was_not_found() {
    let (code, out, err) = run(&quick(&[]));
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.starts_with("13 trials: "), "{out}");
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "only the abstract was read",
        "second-hand, as quoted or digitised by others",
        "raw numbers in hand",
        "Not to be tested against print today",
        "an audiogram of largemouth bass",
        "how loud a rattling bait is",
        "(misses, not scored)",
        "The form of the model was chosen after this trial, so it is not independent",
        "What rests on it:",
        "A model, not a promise.",
    ] {
        assert!(flat.contains(said), "{said}");
    }
}

#[test]
fn json_and_csv_hold_the_same_numbers_as_the_words() {
    let args = quick(&["chinook-turbidity", "size-by-clarity"]);
    let (_, out, _) = run(&[args.as_slice(), &["--json"]].concat());
    let document: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(
        (&document["schema"], &document["command"], &document["draws"]),
        (&1.into(), &"trials".into(), &16.into())
    );
    assert!(document["scenario"].is_null());
    let trials = document["trials"].as_array().expect("trials");
    assert_eq!((trials.len(), &document["score"]["trials"]), (2, &2.into()));
    assert_eq!(trials[0]["trial"]["known"], "second-hand");
    let rows = trials[0]["reading"]["rows"].as_array().expect("rows");
    let measured = &trials[0]["trial"]["rows"][0]["measured"]["value"];
    let (median, ratio) = (&rows[0]["model"]["median"], &rows[0]["ratio"]);
    let [m, v, r] = [median, measured, ratio].map(|v| v.as_f64().expect("a number"));
    assert!((m / v - r).abs() < 1e-12);
    let (_, out, _) = run(&[args.as_slice(), &["--csv"]].concat());
    let mut reader = csv::Reader::from_reader(out.as_bytes());
    let lines: Vec<std::collections::HashMap<String, String>> =
        reader.deserialize().map(|row| row.expect("row")).collect();
    assert_eq!(lines.len(), 6 + 6 + 2);
    assert!((lines[0]["model_median"].parse::<f64>().expect("number") - m).abs() <= 1e-15 * m.abs());
    assert_eq!(lines[13]["word"], "pattern holds");
    assert!(!lines[13]["holds_share"].is_empty());
}

#[test]
fn a_trial_of_ones_own_runs_and_its_faults_are_shown() {
    let folder = tempfile::tempdir().expect("folder");
    std::fs::write(folder.path().join("mine.toml"), GOOD).expect("written");
    let (code, out, _) = run_in(folder.path(), &quick(&["mine.toml", "lead-line"]));
    assert_eq!(code, 0);
    assert!(out.contains("my own notebook, 2026") && out.contains("[lead-line]"), "{out}");
    std::fs::write(folder.path().join("mine.toml"), GOOD.replace("\"4 NTU\" }", "\"4 lb\" }"))
        .expect("written");
    let (code, out, err) = run_in(folder.path(), &quick(&["mine.toml"]));
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("mine.toml:24") && err.contains("NTU"), "{err}");
    let (code, _, err) = run(&["trials", "lead-lime"]);
    assert!(code == 2 && err.contains("did you mean `lead-line`"), "{err}");
    let (code, _, err) = run(&["trials", "--set", "water.secchi=2 m"]);
    assert!(code == 2 && err.contains("as it was run in the world"), "{err}");
    let (code, out, _) = run(&["trials", "--template"]);
    assert!(code == 0 && read(&out).is_ok(), "the template is a sound trial");
    let (code, out, _) = run(&["trials", "--list"]);
    assert!(code == 0 && out.contains("never-caught"));
}

/// Clears the screen, colours, reverses the line, hides characters, marks up.
const EVIL: &str = "\\u001b[2J\\u202eesrever\\u0007<script>alert(1)</script>";

#[test]
fn a_hostile_trial_is_only_read() {
    let folder = tempfile::tempdir().expect("folder");
    let mut text = GOOD.to_owned();
    for plain in [
        "How far I saw them turn",
        "my own notebook, 2026",
        "How far a bait is seen.",
        "murk shortens it",
        "turbidity (NTU)",
    ] {
        assert!(text.contains(plain));
        text = text.replace(plain, EVIL);
    }
    let text = text
        .replace("\"12 NTU\"]", &format!("\"{EVIL}\"]"))
        .replace("at = \"12 NTU\"", &format!("at = \"{EVIL}\""));
    let harmless = |text: &str| {
        let bad =
            |c: char| (c.is_control() && !matches!(c, '\n' | '\t')) || matches!(c, '\u{202a}'..='\u{202e}');
        assert!(!text.chars().any(bad) && !text.is_empty(), "{text:?}");
    };
    std::fs::write(folder.path().join("mine.toml"), &text).expect("written");
    let (code, out, err) = run_in(folder.path(), &quick(&["mine.toml", "--plot", "p"]));
    assert_eq!(code, 0, "{err}");
    harmless(&out);
    harmless(&err);
    for name in ["trials.svg", "trial-my-pond.svg"] {
        let svg = std::fs::read_to_string(folder.path().join("p").join(name)).expect("a picture");
        harmless(&svg);
        assert!(!svg.contains("<script"), "{name}");
    }
    let (_, out, _) = run_in(folder.path(), &quick(&["mine.toml", "--list"]));
    harmless(&out);
    // Wrong, and hostile where it is wrong.
    std::fs::write(folder.path().join("mine.toml"), text.replace("\"data\"", &format!("\"{EVIL}\"")))
        .expect("written");
    let (code, _, err) = run_in(folder.path(), &quick(&["mine.toml"]));
    assert_eq!(code, 2);
    harmless(&err);
    let (code, _, err) = run(&["trials", "\u{1b}[2J\u{202e}"]);
    assert_eq!(code, 2);
    harmless(&err);
}

/// The score that README prints is what the program prints.
#[test]
fn the_score_in_the_readme_is_the_programs() {
    let (_, out, _) = run(&["trials"]);
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let score = out.split("\n\n").next().map(flat).expect("a headline");
    let readme =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).expect("README");
    assert!(flat(&readme).contains(&score), "README.md does not say: {score}");
    for line in out.split("\n\n").nth(1).expect("the table").lines().skip(2) {
        assert!(readme.contains(line.trim_end()), "README.md does not hold: {line}");
    }
}
