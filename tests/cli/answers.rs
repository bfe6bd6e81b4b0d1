//! Every command in words: what it says, and that it says the same as the machine output.

use super::{callup_in, csv, good, json, quick, run, run_in, write};
use callup::present::words::{short_range, two_digits};
use serde_json::Value;

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

#[test]
fn alone_it_answers_the_example_says_what_next_and_writes_no_file() {
    let folder = tempfile::tempdir().expect("folder");
    let ended = run_in(folder.path(), &quick(&[]));
    assert_eq!((ended.code, ended.err.as_str()), (0, ""));
    assert!(ended.out.starts_with("Alder Fork Reservoir"), "{}", ended.out);
    assert!(ended.out.contains("Try next") && ended.out.contains("A model, not a promise"));
    assert_eq!(std::fs::read_dir(folder.path()).expect("folder").count(), 0);
    // It is the answer of `odds`, with more at the end.
    assert!(ended.out.starts_with(&good(&quick(&["odds"]))));
    // What it suggests works.
    let commands = ended.out.lines().filter_map(|l| l.trim_start().strip_prefix("callup "));
    let mut tried = 0;
    for line in commands {
        let words = split(line.split("   ").next().expect("command"));
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let words = if words[0] == "odds" { quick(&words) } else { words };
        assert_eq!(run_in(folder.path(), &words).code, 0, "{line}");
        tried += 1;
    }
    assert!(tried >= 5);
}

/// Splits as a shell does, quotes taken off.
fn split(line: &str) -> Vec<String> {
    let (mut words, mut quoted) = (vec![String::new()], false);
    for c in line.trim().chars() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            c => words.last_mut().expect("a word").push(c),
        }
    }
    words.retain(|w| !w.is_empty());
    words
}

#[test]
fn the_table_of_odds_says_what_the_machine_output_says() {
    for scenario in ["main-lake-point", "clay-after-rain", "bright-midday"] {
        let text = good(&quick(&["odds", scenario]));
        let document = json(&quick(&["odds", scenario]));
        let baits = document["baits"].as_array().expect("baits");
        let mut said = Vec::new();
        for bait in baits {
            let name = bait["name"].as_str().expect("name");
            let row = text.lines().find(|l| l.contains(&format!("{name}  "))).expect("row");
            said.push((row.to_owned(), number(&bait["strikes_per_100"]["median"])));
            let s = &bait["strikes_per_100"];
            let strikes = short_range(number(&s["median"]), number(&s["low"]), number(&s["high"]));
            assert!(row.contains(&strikes), "{row}: {strikes}");
            assert_eq!(row.starts_with('●'), bait["could_be_best"] == true, "{row}");
            let last: Vec<&str> = row.split_whitespace().rev().take(5).collect();
            let depth = format!("{:.1}", number(&bait["running_depth_m"]));
            let seen = format!("{:.1}", number(&bait["seen_from_m"]["up"]));
            let lost = |stage: &str| match number(&bait["losses"][stage]) {
                share if share < 0.5 => "<1".to_owned(),
                share => format!("{share:.0}"),
            };
            let expected = [seen, depth, lost("turned_away"), lost("stayed_put"), lost("never_noticed")];
            assert_eq!(last, expected, "{row}");
        }
        // Most strikes first.
        said.sort_by_key(|(row, _)| text.find(row.as_str()));
        assert!(said.windows(2).all(|w| w[0].1 >= w[1].1), "{said:?}");
    }
}

#[test]
fn the_table_of_depths_says_what_the_machine_output_says() {
    let (text, document) = (good(&["depth"]), json(&["depth"]));
    for bait in document["baits"].as_array().expect("baits") {
        let name = bait["name"].as_str().expect("name");
        let row = text.lines().find(|l| l.starts_with(name)).expect("row");
        for key in ["max_depth_m", "reeled_to_max_m"] {
            let shown = format!(" {:.1}", number(&bait[key]));
            assert!(row.contains(&shown), "{row}: {key} {shown}");
        }
    }
}

#[test]
fn a_wanted_depth_is_answered_bait_by_bait() {
    let text = good(&["depth", "--to", "3 m"]);
    let document = json(&["depth", "--to", "3 m"]);
    assert_eq!(number(&document["wanted_depth_m"]), 3.0);
    assert!(text.contains("3.0 m") && text.contains("line diameter") && text.contains("rod tip"), "{text}");
    let options = document["options"].as_array().expect("options");
    assert_eq!(options.len(), document["baits"].as_array().expect("baits").len());
    for option in options {
        let name = option["bait"].as_str().expect("name");
        // What is offered reaches the depth: try it.
        if let Some(cast_m) = option["cast"]["at_m"].as_f64() {
            let set = format!("tackle.cast={cast_m} m");
            let tried = json(&["depth", "--set", &set, "--set", &format!("box.use=[\"{name}\"]")]);
            let reached = number(&tried["baits"][0]["max_depth_m"]);
            assert!((reached - 3.0).abs() < 0.01, "{name}: {reached}");
        }
    }
    assert!(options.iter().any(|o| o["cast"]["at_m"].is_number()));
}

#[test]
fn the_light_in_words_is_that_of_the_machine_output() {
    let (text, document) = (good(&["light"]), json(&["light"]));
    for key in ["surface_lux", "below_surface_lux", "k_per_m", "c_per_m"] {
        let shown = two_digits(number(&document[key]));
        assert!(text.contains(&shown), "{key} {shown}");
    }
    for finish in document["finishes"].as_array().expect("finishes") {
        let name = finish["name"].as_str().expect("name");
        let row = text.lines().find(|l| l.starts_with(&format!("{name} "))).expect("row");
        let up = format!("{:.1} (", number(&finish["seen_from_m"]["up"]));
        assert!(row.contains(&up), "{row}: {up}");
    }
}

#[test]
fn assumptions_are_listed_searched_and_shown_in_full() {
    let all = json(&["assumptions"]);
    let all = all["assumptions"].as_array().expect("list");
    assert!(all.len() > 100);
    for p in all {
        for key in ["name", "means", "unit", "grade", "source", "file"] {
            assert!(!p[key].as_str().expect(key).is_empty(), "{p}: {key}");
        }
        let [low, default, high] = ["low", "default", "high"].map(|k| number(&p[k]));
        assert!(low <= default && default <= high, "{p}");
    }
    let rows = csv(&["assumptions"]);
    assert_eq!(rows.len(), all.len());
    assert!(good(&["assumptions"]).starts_with(&format!("{} assumptions", all.len())));
    let one = good(&["assumptions", "refuse.hazard"]);
    assert!(one.contains("source:") && one.contains("grade: guess"), "{one}");
    let guesses = json(&["assumptions", "--grade", "guess"]);
    let guesses = guesses["assumptions"].as_array().expect("list").len();
    assert_eq!(guesses, all.iter().filter(|p| p["grade"] == "guess").count());
    assert!(super::refused(&["assumptions", "no such thing"]).contains("lists all"));
}

#[test]
fn what_to_find_out_first_comes_with_grade_source_and_experiment() {
    let by_worth = ["assumptions", "--by-worth"];
    let document = json(&quick(&[by_worth[0], by_worth[1]]));
    let all = document["by_worth"].as_array().expect("list");
    let waters = document["waters"].as_array().expect("waters").len();
    assert_eq!(
        (document["complete"].clone(), waters),
        (true.into(), callup::scenario::library::list().len())
    );
    for (k, p) in all.iter().enumerate() {
        assert_eq!(p["rank"], k + 1);
        for key in ["name", "means", "grade", "source", "experiment"] {
            assert!(p[key].as_str().expect(key).len() > 3, "{p}: {key}");
        }
        assert!(number(&p["total_share"]["mean"]) >= 0.0 && number(&p["most_share"]) >= 0.0, "{p}");
    }
    let rows = csv(&quick(&by_worth));
    assert_eq!(rows.len(), all.len());
    let text = good(&quick(&by_worth));
    for p in &all[..15] {
        assert!(text.contains(&format!(". {}: ", p["name"].as_str().expect("name"))), "{p}");
    }
    assert_eq!(text.matches("Experiment: ").count(), 15);
    assert!(text.contains("more: --all"));
    for (args, must) in [
        (&["--by-worth", "--fixed"][..], "leave --fixed out"),
        (&["--all"], "--by-worth"),
        (&["--by-worth", "sight"], "cannot be used"),
        (&["--by-worth", "--set", "water.secchi=2"], "error"),
    ] {
        let args = [&["assumptions"], args].concat();
        assert!(super::refused(&args).contains(must), "{args:?}");
    }
}

#[test]
fn the_self_check_holds_here() {
    let text = good(&["selfcheck"]);
    assert!(text.starts_with("All ") && !text.contains("FAILS"), "{text}");
    let document = json(&["selfcheck"]);
    let checks = document["checks"].as_array().expect("checks");
    assert!(checks.len() >= 40 && checks.iter().all(|c| c["holds"] == true));
    assert!(checks.iter().all(|c| !c["source"].as_str().expect("source").is_empty()));
    assert_eq!(csv(&["selfcheck"]).len(), checks.len());
}

#[test]
fn help_version_completions_and_manual_know_every_command() {
    let help = good(&["--help"]);
    let commands = ["odds", "depth", "light", "assumptions", "selfcheck", "new", "completions", "man"];
    let manual = good(&["man"]);
    for command in commands {
        assert!(help.contains(command) && manual.contains(command), "{command}");
        assert!(good(&[command, "--help"]).contains("Usage"), "{command}");
        for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
            assert!(good(&["completions", shell]).contains(command), "{shell}: {command}");
        }
    }
    assert_eq!(good(&["--version"]).trim(), format!("callup {}", env!("CARGO_PKG_VERSION")));
}

#[test]
fn every_embedded_scenario_is_listed_and_answered() {
    let list = json(&["odds", "--list"]);
    let all = list["scenarios"].as_array().expect("scenarios");
    assert!(all.len() >= 8);
    let text = good(&["odds", "--list"]);
    for entry in all {
        let name = entry["name"].as_str().expect("name");
        assert!(text.contains(name));
        for command in ["odds", "depth", "light"] {
            let ended = run(&quick(&[command, name]));
            assert_eq!(ended.code, 0, "{command} {name}: {}", ended.err);
            assert!(ended.out.contains("(invented)"), "{command} {name}: {}", ended.out);
            assert!(!ended.out.contains("NaN") && !ended.out.contains("inf "), "{}", ended.out);
        }
    }
}

#[test]
fn units_of_the_angler_change_the_words_and_not_the_answer() {
    for command in ["odds", "depth", "light"] {
        let us = good(&quick(&[command, "--units", "us"]));
        assert!(us.contains(" ft") && us.contains(" F,") && us.contains(" mph"), "{us}");
        assert!(!us.contains(" cm"), "{us}");
        let metric = good(&quick(&[command, "--units", "metric"]));
        assert!(metric.contains(" cm") && !metric.contains(" ft"), "{metric}");
        let machine = |units| json(&quick(&[command, "--units", units]));
        assert_eq!(machine("us"), machine("metric"));
    }
}

#[test]
fn a_value_set_on_the_line_is_the_value_used() {
    let set = json(&quick(&["odds", "--set", "water.secchi=1.5 m", "--set", "fish.depth=10 ft"]));
    let usual = json(&quick(&["odds"]));
    assert_eq!(number(&set["scenario"]["fish"]["depth_m"]), 10.0 * 0.3048);
    assert_ne!(set["baits"], usual["baits"]);
    // The last one counts, quotes may stay, and the words follow.
    let twice = ["odds", "--set", "water.secchi=9 m", "--set", "water.secchi=\"1.5 m\""];
    let text = good(&quick(&twice));
    assert!(text.contains("Secchi depth 1.5 m"), "{text}");
    // The same as writing it into the file.
    let folder = tempfile::tempdir().expect("folder");
    write(folder.path(), "mine.toml", super::with("secchi = \"3.4 m\"", "secchi = \"1.5 m\""));
    assert_eq!(run_in(folder.path(), &quick(&["odds", "mine.toml"])).out, text);
}

#[test]
fn a_file_on_disk_wins_over_the_embedded_name() {
    let folder = tempfile::tempdir().expect("folder");
    let own = super::with("Alder Fork Reservoir, main-lake point (invented)", "The pond behind the barn");
    write(folder.path(), "stained-lowland", own);
    let ended = run_in(folder.path(), &quick(&["odds", "stained-lowland"]));
    assert!(ended.out.starts_with("The pond behind the barn"), "{}", ended.out);
    assert!(!good(&quick(&["odds", "stained-lowland"])).contains("barn"));
    // But without a name the example is meant, whatever lies about.
    write(folder.path(), "main-lake-point", "nonsense");
    assert_eq!(run_in(folder.path(), &quick(&["odds"])).code, 0);
}

#[test]
fn an_overlaid_assumption_is_used() {
    let folder = tempfile::tempdir().expect("folder");
    let dead = "[[parameter]]\nname = \"appetite.ready\"\nmeans = \"m\"\nlow = 0.0\ndefault = 0.0\nhigh = 0.0\n\
                spread = \"fixed\"\nunit = \"1\"\ngrade = \"guess\"\ngroup = \"appetite\"\nsource = \"none\"\n";
    write(folder.path(), "mine.toml", dead);
    let args = quick(&["odds", "--model", "mine.toml", "--json"]);
    let ended = run_in(folder.path(), &args);
    assert_eq!((ended.code, ended.err.as_str()), (0, ""));
    let document: Value = serde_json::from_str(&ended.out).expect("JSON");
    for bait in document["baits"].as_array().expect("baits") {
        assert_eq!(number(&bait["strikes_per_100"]["high"]), 0.0);
    }
    let text = run_in(folder.path(), &quick(&["odds", "--model", "mine.toml"])).out;
    assert!(text.contains("nder 1 in 100"), "zero is never said: {text}");
}

#[cfg(unix)]
#[test]
fn colour_is_for_terminals_and_can_be_refused() {
    // util-linux's `script` gives the program a terminal.
    if std::process::Command::new("script").arg("--version").output().is_err() {
        eprintln!("no `script` on this machine: colour not tested");
        return;
    }
    let folder = tempfile::tempdir().expect("folder");
    let on_terminal = |line: &str, no_color: Option<&str>| {
        let mut command = assert_cmd::Command::new("script");
        command.args(["-qec", line, "/dev/null"]).current_dir(folder.path()).env("TERM", "xterm");
        match no_color {
            Some(value) => command.env("NO_COLOR", value),
            None => command.env_remove("NO_COLOR"),
        };
        String::from_utf8_lossy(&command.output().expect("script").stdout).into_owned()
    };
    let exe = env!("CARGO_BIN_EXE_callup");
    for (line, what) in
        [(format!("{exe} depth"), "Alder"), (format!("{exe} depth --set water.secchi=x"), "error")]
    {
        let coloured = on_terminal(&line, None);
        assert!(coloured.contains(what) && coloured.contains("\x1b["), "{coloured}");
        assert!(on_terminal(&line, Some("")).contains("\x1b["), "an empty NO_COLOR does not count");
        for plain in [on_terminal(&line, Some("1")), on_terminal(&format!("{line} --no-color"), None)] {
            assert!(plain.contains(what) && !plain.contains("\x1b["), "{plain}");
        }
    }
    // And never into a pipe.
    assert!(!good(&["depth"]).contains('\x1b'));
}

#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_is_no_error() {
    use std::process::{Command, Stdio};
    for args in
        [vec!["light", "--json"], quick(&[]), vec!["assumptions"], vec!["man"], vec!["completions", "bash"]]
    {
        let mut child = Command::new(env!("CARGO_BIN_EXE_callup"))
            .args(&args)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program runs");
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("it ends");
        let err = String::from_utf8_lossy(&output.stderr);
        assert_eq!((output.status.code(), err.as_ref()), (Some(0), ""), "{args:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_a_failure() {
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").expect("/dev/full");
    let folder = tempfile::tempdir().expect("folder");
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_callup"));
    let output = command.arg("depth").current_dir(folder.path()).stdout(full).output().expect("runs");
    let err = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{err}");
    assert!(err.contains("cannot write the result"), "{err}");
    drop(callup_in(folder.path()));
}
