//! The rules of the house, held over every file of `src`: who may use whom, who may print, whose mathematics,
//! no way to panic. Each rule is also shown to catch a breach.

mod rules;
mod source;

use rules::{Finding, layers, panics, side_effects, transcendentals};
use source::Source;
use std::path::{Path, PathBuf};

fn rust_files(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("folder") {
        let path = entry.expect("entry").path();
        if path.is_dir() {
            rust_files(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

/// Every file of `src`, without comments, texts and tests.
fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    rust_files(&root, &mut files);
    files.sort();
    assert!(files.len() > 50, "the walk found {} files only", files.len());
    files
        .iter()
        .map(|path| {
            let name = path.strip_prefix(&root).expect("under src").to_string_lossy().replace('\\', "/");
            Source::new(&name, &std::fs::read_to_string(path).expect("UTF-8 text"))
        })
        .collect()
}

#[track_caller]
fn none(findings: Vec<Finding>) {
    assert!(findings.is_empty(), "{}", findings.iter().map(|f| format!("{f}\n")).collect::<String>());
}

#[track_caller]
fn caught(rule: fn(&Source) -> Vec<Finding>, file: &str, text: &str, times: usize) {
    let findings = rule(&Source::new(file, text));
    assert_eq!(findings.len(), times, "{file}: {text}: {findings:?}");
}

fn over_all(rule: fn(&Source) -> Vec<Finding>) -> Vec<Finding> {
    sources().iter().flat_map(rule).collect()
}

#[test]
fn every_layer_uses_only_those_before_it() {
    none(over_all(layers));
    // Every folder and file at the top of src has its place.
    let tops: std::collections::BTreeSet<String> = sources().iter().map(|s| s.top().to_owned()).collect();
    assert_eq!(tops.len(), rules::LAYERS.len() + 3, "all layers, cli, lib and main: {tops:?}");
}

#[test]
fn a_layer_that_reaches_up_or_aside_is_caught() {
    caught(layers, "water/sky.rs", "use crate::world::World;", 1);
    caught(layers, "water/sky.rs", "use crate::maths::exp;", 0);
    caught(layers, "water/sky.rs", "use crate::{maths::exp, fish::sight};", 1);
    caught(layers, "water/sky.rs", "fn f() -> crate::bait::Finish { crate::bait::Finish::new() }", 2);
    caught(layers, "maths/mod.rs", "use crate::statistics::mean;", 1);
    caught(layers, "maths/mod.rs", "use super::statistics::mean;", 1);
    caught(layers, "engine/table.rs", "use super::super::study::odds;", 1);
    caught(layers, "engine/table.rs", "use super::points::Passes;", 0);
    caught(layers, "study/odds.rs", "use crate::present::words;", 1);
    caught(layers, "present/answers/odds.rs", "use crate::cli::Stop;", 1);
    caught(layers, "cli/session.rs", "use crate::engine::Budget;", 0);
    caught(layers, "web/odds.rs", "use crate::present::words; use crate::cli::Stop;", 1);
    caught(layers, "world/mod.rs", "// use crate::engine::Budget;\nconst A: &str = \"crate::engine\";", 0);
    caught(layers, "world/mod.rs", "#[cfg(test)]\nmod tests { use crate::engine::Budget; }", 0);
    caught(layers, "world/mod.rs", "use crate::nowhere::Thing;", 1);
    caught(layers, "elsewhere.rs", "use crate::maths::exp;", 1);
    caught(layers, "main.rs", "use callup::cli;", 0);
    caught(layers, "main.rs", "use callup::engine::Budget;", 1);
}

#[test]
fn nothing_below_the_command_line_prints_or_reads_what_is_around_it() {
    none(over_all(side_effects));
}

#[test]
fn a_print_or_a_clock_below_the_command_line_is_caught() {
    caught(side_effects, "engine/table.rs", "fn f() { println!(\"x\"); eprint!(\"y\"); dbg!(1); }", 3);
    caught(side_effects, "study/day.rs", "use std::time::Instant; use std::time::SystemTime;", 2);
    caught(side_effects, "present/words.rs", "let a = std::env::var(\"A\");", 1);
    caught(side_effects, "present/words.rs", "const V: &str = env!(\"CARGO_PKG_VERSION\");", 0);
    caught(side_effects, "models/files.rs", "std::fs::read(path); std::process::exit(1);", 2);
    caught(side_effects, "models/files.rs", "use std::{fs, env};", 2);
    caught(side_effects, "models/files.rs", "std::io::stdout().lock();", 1);
    caught(side_effects, "cli/output.rs", "println!(\"x\"); std::env::var(\"A\");", 0);
    caught(side_effects, "engine/table.rs", "/// println!(\"{}\")\nfn f() {}", 0);
}

#[test]
fn the_same_mathematics_on_every_platform() {
    none(over_all(transcendentals));
}

#[test]
fn the_mathematics_of_the_platform_is_caught() {
    caught(transcendentals, "water/sky.rs", "let a = x.exp() + y.ln() * z.powf(2.0) - w.tanh();", 4);
    caught(transcendentals, "water/sky.rs", "let a = x.powi(2); let (s, c) = x.sin_cos();", 2);
    caught(transcendentals, "water/sky.rs", "let a = (x\n    .exp());", 1);
    caught(transcendentals, "water/sky.rs", "let a = xs.iter().map(|x| f64::log10(*x)).map(f64::cos);", 2);
    caught(transcendentals, "water/sky.rs", "let a = x.sqrt() + x.abs() + maths::exp(x) + exp(x);", 0);
    caught(transcendentals, "water/sky.rs", "/// `x.exp()`\nlet a = \"x.exp()\";", 0);
    caught(
        transcendentals,
        "water/sky.rs",
        "#[cfg(test)]\nmod tests { fn f() { x.exp(); } }\nlet b = x.ln();",
        1,
    );
    caught(transcendentals, "statistics/power.rs", "let a = x.exp();", 0);
    caught(transcendentals, "present/words.rs", "let a = x.log10();", 0);
}

#[test]
fn nothing_gives_up_in_the_face_of_the_user() {
    none(over_all(panics));
}

#[test]
fn a_way_to_panic_is_caught() {
    caught(panics, "cli/mod.rs", "a.unwrap(); b.expect(\"c\"); panic!(\"d\"); todo!(); unreachable!();", 5);
    caught(panics, "cli/mod.rs", "unimplemented!(); let x = y\n    .unwrap();", 2);
    caught(panics, "cli/mod.rs", "a.unwrap_or(0); b.unwrap_or_else(f); c.unwrap_or_default();", 0);
    caught(panics, "cli/mod.rs", "#[cfg(test)]\nmod tests { fn f() { a.unwrap(); } }", 0);
    caught(panics, "cli/mod.rs", "#[cfg(test)]\nuse a::b;\nfn f() { a.unwrap(); }", 1);
    caught(
        panics,
        "cli/mod.rs",
        "fn f<'a>(c: char) -> bool { c == '\"' || c == '{' || c == '\\'' }\n#[cfg(test)]\nmod t { fn g() { a.unwrap(); } }",
        0,
    );
    caught(
        panics,
        "cli/mod.rs",
        "let s = r#\"panic!(\"x\")\"#; /* a /* .unwrap() */ b */ let t = \"\\\"panic!()\";",
        0,
    );
    caught(panics, "engine/block.rs", "unsafe { f() }", 1);
    caught(panics, "engine/block.rs", "#[unsafe(no_mangle)] fn f() {}", 1);
    caught(panics, "web/abi.rs", "#[unsafe(no_mangle)] fn f() {} fn g() { unsafe { f() } }", 1);
}
