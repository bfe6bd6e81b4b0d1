//! Names and texts that try to command the terminal or to reorder what is on it never reach it raw.

use super::{callup_in, quick, with, write};
use std::path::Path;

/// Clears the screen, colours, reverses the line, hides characters, rings.
const EVIL: &str = "\u{1b}[2J\u{1b}[31mred\u{202e}esrever\u{2066}\u{200b}\u{7}\u{9b}31m\u{8}";

/// Everything that the program wrote, on both streams.
fn written(folder: &Path, args: &[&str]) -> (i32, String) {
    let output = callup_in(folder).args(args).output().expect("runs");
    let both = [output.stdout, output.stderr].concat();
    (output.status.code().expect("ends"), String::from_utf8(both).expect("UTF-8"))
}

#[track_caller]
fn harmless(text: &str) {
    let bad = |c: &char| {
        (c.is_control() && !matches!(c, '\n' | '\t'))
            || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    let found: Vec<char> = text.chars().filter(bad).collect();
    assert!(found.is_empty(), "{found:?} in {text:?}");
    assert!(!text.is_empty());
}

/// The text as a TOML string.
fn toml(text: &str) -> String {
    let escaped: String = text.chars().map(|c| format!("\\U{:08x}", c as u32)).collect();
    format!("\"{escaped}\"")
}

#[test]
fn a_hostile_scenario_that_is_right() {
    let folder = tempfile::tempdir().expect("folder");
    let own = format!("\n[[box.bait]]\nname = {}\nlike = \"90 mm, standard lip, silent\"\n", toml(EVIL));
    let title = "\"Alder Fork Reservoir, main-lake point (invented)\"";
    write(folder.path(), "mine.toml", format!("{}{own}", with(title, &toml(EVIL))));
    for command in ["odds", "depth", "light"] {
        for args in [vec![command, "mine.toml"], vec![command, "mine.toml", "--plot", "p"]] {
            let (code, text) = written(folder.path(), &quick(&args));
            assert_eq!(code, 0, "{text}");
            harmless(&text);
        }
    }
    let (_, text) = written(folder.path(), &["depth", "mine.toml", "--to", "3 m"]);
    harmless(&text);
    // JSON escapes what it must; nothing that commands a terminal is left.
    let (_, text) = written(folder.path(), &quick(&["odds", "mine.toml", "--json"]));
    assert!(!text.contains('\u{1b}') && !text.contains('\u{7}'));
    // Pictures are text too.
    for name in ["odds.svg", "losses.svg", "column.svg", "depth.svg"] {
        harmless(&std::fs::read_to_string(folder.path().join("p").join(name)).expect("picture"));
    }
}

#[test]
fn a_hostile_scenario_that_is_wrong() {
    let folder = tempfile::tempdir().expect("folder");
    let key = EVIL.replace(['\u{7}', '\u{8}'], "");
    for text in [
        with("depth = \"15 ft\"", &format!("depth = {}", toml(EVIL))),
        with("\"clear\"", &toml(EVIL)),
        with("\"America/Chicago\"", &toml(EVIL)),
        with("\"2026-04-14\"", &toml(EVIL)),
        with("\"70 mm, standard lip, silent, see-through\"", &toml(EVIL)),
        with("secchi =", &format!("{} =", toml(&key))),
        with("[sky]", &format!("[{}]", toml(&key))),
        // Raw in the file, in a comment beside a fault and in a text.
        with("depth = \"15 ft\"", "depth = \"15 lb\" # \u{202e}\u{200b}"),
        with("depth = \"15 ft\"", "depth = \"\u{202e}15 ft\""),
        with("[sky]", "[sky \u{1b}[31m"),
    ] {
        write(folder.path(), "mine.toml", &text);
        let (code, said) = written(folder.path(), &["odds", "mine.toml"]);
        assert_eq!(code, 2, "{said}");
        harmless(&said);
    }
}

#[test]
fn hostile_words_on_the_line() {
    let folder = tempfile::tempdir().expect("folder");
    let set = format!("water.secchi={EVIL}");
    let path = format!("{EVIL}=2 m");
    let without = EVIL.to_owned();
    for args in [
        vec!["odds", EVIL],
        vec!["odds", "--set", &set],
        vec!["odds", "--set", &path],
        vec!["odds", "--set", &without],
        vec!["odds", "--model", EVIL],
        vec!["depth", "--to", EVIL],
        vec!["assumptions", EVIL],
    ] {
        let (code, said) = written(folder.path(), &args);
        assert_eq!(code, 2, "{said}");
        harmless(&said);
    }
}

#[cfg(unix)]
#[test]
fn hostile_names_of_files() {
    let folder = tempfile::tempdir().expect("folder");
    let name = format!("{EVIL}.toml");
    // A fault with a place, a fault without, no UTF-8, a broken assumption file.
    for content in
        [with("depth = \"15 ft\"", "depth = \"15 lb\"").into_bytes(), b"title = 3\n".to_vec(), vec![0xff]]
    {
        write(folder.path(), &name, content);
        let (code, said) = written(folder.path(), &["odds", &name]);
        assert_eq!(code, 2, "{said}");
        harmless(&said);
    }
    write(folder.path(), &name, format!("[[parameter]]\nname = 3 # {EVIL}\n"));
    let (code, said) = written(folder.path(), &["odds", "--model", &name]);
    assert_eq!(code, 2, "{said}");
    harmless(&said);
    let (code, said) = written(folder.path(), &["new", &name]);
    assert_eq!(code, 2, "it is there: {said}");
    harmless(&said);
    let (code, said) = written(folder.path(), &["new", &format!("new{name}")]);
    assert_eq!(code, 0, "{said}");
    harmless(&said);
    let (code, said) = written(folder.path(), &["depth", "--plot", EVIL]);
    assert_eq!(code, 0, "{said}");
    harmless(&said);
    let (code, said) = written(folder.path(), &["depth", "--plot", &name]);
    assert_eq!(code, 1, "{said}");
    harmless(&said);
}
