//! What a person is shown.

use callup::scenario::diagnostic::printable;
use insta::assert_snapshot;

use super::catalogue::{GOOD, catalogue, errors, faults, good_with, render, set};
use super::faults::TEN;

#[test]
fn ten_faults_read_well() {
    assert_snapshot!(render(&faults(TEN), TEN));
}

#[test]
fn a_fault_of_an_override_reads_well() {
    let found = callup::scenario::load(
        GOOD,
        "lake.toml",
        &set(&[("water.secchi", "2 lb"), ("watr.tint", "clay")]),
        &catalogue(),
    )
    .expect_err("should be refused");
    assert_snapshot!(render(&found, GOOD));
}

#[test]
fn a_missing_table_reads_well() {
    let start = GOOD.find("[tackle]").expect("there");
    let end = GOOD.find("[box]").expect("there");
    let source = format!("{}{}", &GOOD[..start], &GOOD[end..]);
    assert_snapshot!(render(&errors(&source), &source));
}

#[test]
fn broken_form_reads_well() {
    let source = good_with("tint = \"clear\"", "tint = \"clear").replace("[forage]", "[forage");
    assert_snapshot!(render(&errors(&source), &source));
}

#[test]
fn nothing_in_a_file_can_command_the_terminal_or_reorder_the_text() {
    let evil = "\\u001b]0;x\\u0007\\u202eabc\\u200b";
    let source = good_with("\"clear\"", &format!("\"{evil}\""))
        .replace("title = \"Test water\"", &format!("title = \"{evil}\""))
        .replace("# ", "")
        + "\"\u{202e}key\" = \"\u{2066}\" # \u{1b}[31m\n";
    let shown = render(&faults(&source), &source);
    assert!(shown.contains("tint"), "{shown}");
    for character in shown.chars().filter(|character| *character != '\n') {
        let bidi =
            matches!(character, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}');
        assert!(!character.is_control() && !bidi, "{character:?} in\n{shown}");
    }
    let titled = good_with("\"Test water\"", &format!("\"{evil}\""));
    let title = super::catalogue::checked(&titled).scenario.title;
    assert!(title.chars().all(|c| !c.is_control() && c != '\u{202e}' && c != '\u{200b}'), "{title:?}");
}

#[test]
fn cleaning_keeps_every_byte_offset() {
    let text = "a\u{1b}b\u{85}c\u{202e}d\u{e0001}e\r\nf\rg\th\u{61c}\u{feff}z\u{17c}";
    let clean = printable(text);
    assert_eq!(clean.len(), text.len());
    for plain in ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'z', '\u{17c}'] {
        assert_eq!(clean.find(plain), text.find(plain), "{plain}");
    }
    assert!(clean.contains("e\r\nf?g\th"), "{clean:?}");
}

#[test]
fn a_very_long_line_is_cut_around_the_mark() {
    let source =
        good_with("tint = \"clear\"", &format!("tint = \"{}\" # {}", "x".repeat(5000), "y".repeat(5000)));
    let found = errors(&source);
    let shown = render(&found, &source);
    // The list of the words allowed is the longest thing that may remain.
    assert!(shown.lines().all(|line| line.chars().count() < 200), "{shown}");
    let late = good_with("\"clear\"", &format!("{}\"cler\"", " ".repeat(5000)));
    let shown = render(&errors(&late), &late);
    assert!(shown.contains("\"cler\"") && shown.contains("^^^^^^"), "{shown}");
}
