//! The program as it is called: exit codes, machine output, the file it writes.

use assert_cmd::Command;
use serde_json::Value;
use std::path::{Path, PathBuf};

fn callup(args: &[&str]) -> std::process::Output {
    let mut command = Command::cargo_bin("callup").expect("built");
    command.args(args).env("NO_COLOR", "1").env("COLUMNS", "100").output().expect("ran")
}

fn shipped(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/logs").join(name)
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

fn json(args: &[&str]) -> Value {
    let out = callup(args);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    serde_json::from_slice(&out.stdout).expect("JSON")
}

#[test]
fn the_log_that_teaches_is_learnt_from_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("learnt.toml");
    let (log, file) = (shipped("spring-weekends.csv"), file.to_str().unwrap().to_owned());
    let log = log.to_str().unwrap();
    let answer = json(&["learn", log, "--draws", "1024", "--points", "64", "--json", "--save", &file]);
    assert_eq!((&answer["command"], &answer["log"]["rows"]), (&"learn".into(), &48.into()));
    assert_eq!(answer["log"]["columns_ignored"], serde_json::json!(["notes"]));
    assert!(answer["fit"]["k_hat"].as_f64().unwrap() < answer["fit"]["k_limit"].as_f64().unwrap());
    let level = &answer["strikes_per_100_casts"];
    let wide = |of: &str| level[of]["high"].as_f64().unwrap() / level[of]["low"].as_f64().unwrap();
    // 76 strikes in 1850 casts are 4.1 in 100; days that differ leave about a factor of two either way.
    let after = level["after"]["median"].as_f64().unwrap();
    assert!((2.7..6.0).contains(&after), "{level}");
    assert!(wide("after") < 4.0 && wide("before") > 10.0, "{level}");
    let changed = answer["changed"].as_array().unwrap();
    assert!(changed.iter().any(|c| c["name"] == "pass.per_cast"), "{changed:?}");
    // Every other command takes the file, and holds what was learnt.
    let kept = json(&["assumptions", "pass.per_cast", "--json", "--model", &file]);
    let shown = kept.to_string();
    assert!(shown.contains("learnt from"), "{shown}");
    let odds = json(&["odds", "--json", "--draws", "64", "--points", "64", "--model", &file]);
    assert_eq!(odds["baits"].as_array().unwrap().len(), 12);
    let written = std::fs::read_to_string(&file).unwrap();
    assert!(written.starts_with("# What a log of casts says") && written.contains("1850 casts, 71 strikes"));
    assert!(written.contains("k-hat") && written.contains("seed 1"));
    assert!(answer["by_assumption_file"]["strikes_per_100_casts"]["median"].as_f64().unwrap() > 0.0);
}

#[test]
fn the_small_log_says_that_it_is_small() {
    let log = shipped("one-morning.csv");
    let out = callup(&["learn", log.to_str().unwrap(), "--draws", "512", "--points", "64"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let said = text(&out.stdout);
    assert!(said.contains("65 casts, 2 strikes"), "{said}");
    assert!(said.contains("the log is silent"), "{said}");
}

#[test]
fn a_log_without_casts_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (log, save) = (folder.path().join("none.csv"), folder.path().join("none.toml"));
    std::fs::write(
        &log,
        "date,bait,casts,strikes\n2026-04-14,\"90 mm, standard lip, silent, half-flash\",0,0\n",
    )
    .unwrap();
    let (log, save) = (log.to_str().unwrap(), save.to_str().unwrap());
    let answer = json(&["learn", log, "--draws", "64", "--points", "64", "--json", "--save", save]);
    for bait in answer["baits"].as_array().unwrap() {
        assert_eq!(bait["strikes_per_100"]["before"], bait["strikes_per_100"]["after"]);
    }
    assert_eq!(answer["changed"], serde_json::json!([]));
    assert!(!Path::new(save).exists());
}

#[test]
fn bad_input_is_exit_two_and_a_fit_not_to_be_trusted_exit_one() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let row = |y: u32| {
        format!("date,bait,casts,strikes\n2026-04-14,\"90 mm, standard lip, silent, half-flash\",10,{y}\n")
    };
    let faulty = at("faulty.csv", &row(11));
    let out = callup(&["learn", &faulty]);
    assert_eq!(out.status.code(), Some(2));
    assert!(
        text(&out.stderr).contains("faulty.csv:2:") && text(&out.stdout).is_empty(),
        "{}",
        text(&out.stderr)
    );
    let good = at("good.csv", &row(1));
    for args in [
        vec!["learn", &good, "--fixed"],
        vec!["learn", &good, "--passes-per-cast", "3..1"],
        vec!["learn", "no-such-log.csv"],
    ] {
        assert_eq!(callup(&args).status.code(), Some(2), "{args:?}");
    }
    // Strikes in the dark of the night with a silent bait far above the fish: no world has them.
    let night = at(
        "night.csv",
        "date,time,bait,casts,strikes\n2026-04-14,00:30,\"70 mm, standard lip, silent, see-through\",500,400\n",
    );
    let out = callup(&[
        "learn",
        &night,
        "--draws",
        "64",
        "--points",
        "64",
        "--set",
        "fish.depth=11 m",
        "--set",
        "water.tint=clay",
        "--set",
        "water.secchi=0.3 m",
    ]);
    assert_eq!((out.status.code(), text(&out.stdout).is_empty()), (Some(1), true), "{}", text(&out.stderr));
}

/// A name in a log must not act on the terminal.
#[test]
fn text_of_a_log_is_shown_and_does_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.csv");
    std::fs::write(
        &path,
        "date,bait,casts,strikes,\u{1b}[31mred\n2026-04-14,\u{1b}]0;t\u{7}\u{202e}x,3,1,2\n",
    )
    .unwrap();
    let out = callup(&["learn", path.to_str().unwrap()]);
    assert_eq!(out.status.code(), Some(2));
    assert!(!text(&out.stderr).contains(['\u{1b}', '\u{7}', '\u{202e}']), "{:?}", text(&out.stderr));
}
