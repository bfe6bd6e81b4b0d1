//! The program as people and other programs meet it: answers, machine output, faults, files, quiet ends.

mod answers;
mod documents;
mod faults;
mod files;
mod hostile;
mod machine;

use assert_cmd::Command;
use serde_json::Value;
use std::path::Path;

/// Few draws and points: these tests are of words and files, not of odds.
const QUICK: [&str; 4] = ["--draws", "8", "--points", "64"];

/// The program in an empty environment of its own, in a folder of its own.
fn callup_in(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_callup"));
    command.current_dir(folder).env_remove("NO_COLOR").env("COLUMNS", "130");
    command
}

/// How a run ended.
struct Ended {
    code: i32,
    out: String,
    err: String,
}

fn run_in(folder: &Path, args: &[&str]) -> Ended {
    let output = callup_in(folder).args(args).output().expect("the program runs");
    Ended {
        code: output.status.code().expect("it ends by itself"),
        out: String::from_utf8(output.stdout).expect("UTF-8"),
        err: String::from_utf8(output.stderr).expect("UTF-8"),
    }
}

fn run(args: &[&str]) -> Ended {
    let folder = tempfile::tempdir().expect("folder");
    run_in(folder.path(), args)
}

/// A run that must end well and have nothing to complain of.
#[track_caller]
fn good(args: &[&str]) -> String {
    let ended = run(args);
    assert_eq!((ended.code, ended.err.as_str()), (0, ""), "{args:?}: {}", ended.out);
    ended.out
}

/// A run refused for its input: nothing on standard output, all the words on standard error.
#[track_caller]
fn refused(args: &[&str]) -> String {
    refused_in(tempfile::tempdir().expect("folder").path(), args)
}

#[track_caller]
fn refused_in(folder: &Path, args: &[&str]) -> String {
    let ended = run_in(folder, args);
    assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{args:?}: {}", ended.err);
    assert!(ended.err.contains("error"), "{}", ended.err);
    ended.err
}

#[track_caller]
fn json(args: &[&str]) -> Value {
    let mut all = args.to_vec();
    all.push("--json");
    serde_json::from_str(&good(&all)).expect("one JSON document")
}

/// Rows of the CSV output by column name.
#[track_caller]
fn csv(args: &[&str]) -> Vec<std::collections::HashMap<String, String>> {
    let mut all = args.to_vec();
    all.push("--csv");
    let text = good(&all);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().map(|row| row.expect("row")).collect()
}

fn quick<'a>(args: &[&'a str]) -> Vec<&'a str> {
    args.iter().copied().chain(QUICK).collect()
}

/// A scenario without fault, to be spoilt.
const GOOD: &str = include_str!("../scenarios/main-lake-point.toml");

/// The text with one piece put in the place of another that it holds.
#[track_caller]
fn with(old: &str, new: &str) -> String {
    assert!(GOOD.contains(old), "{old}");
    GOOD.replacen(old, new, 1)
}

fn write(folder: &Path, name: &str, content: impl AsRef<[u8]>) {
    std::fs::write(folder.join(name), content).expect("file");
}
