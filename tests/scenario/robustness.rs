//! No input makes the reader panic, and every fault has a place inside its text and a remedy.

use callup::scenario::{Cast, Diagnostic, library, load};
use proptest::prelude::*;

use super::catalogue::{GOOD, catalogue, set};

/// What must hold of every diagnostic, whatever the input.
fn sound(faults: &[Diagnostic], source: &str) {
    for fault in faults {
        let shown = fault.render_plain(source);
        assert!(!fault.title.is_empty() && !fault.help.is_empty(), "{shown}");
        if let Some(span) = &fault.span {
            assert!(span.start <= span.end && span.end <= fault.source(source).len(), "{shown}");
            let (line, column) = fault.line_column(source).expect("a span has a place");
            assert!(line >= 1 && column >= 1);
        }
        assert!(shown.chars().all(|character| character == '\n' || !character.is_control()), "{shown:?}");
    }
}

fn try_load(source: &str, overrides: &[(String, String)]) {
    match load(source, "any.toml", overrides, &catalogue()) {
        Ok(checked) => {
            sound(&checked.warnings, source);
            let scenario = checked.scenario;
            assert!(!scenario.baits.is_empty());
            assert!(scenario.fish.depth_m <= scenario.water.bottom_m);
            if let Cast::LineOut(line_out_m) = scenario.tackle.cast {
                assert!(line_out_m > scenario.tackle.rod_tip_m);
            }
            assert!(
                scenario
                    .baits
                    .iter()
                    .all(|bait| bait.length_m <= scenario.fish.length_m && bait.mass_kg > 0.0)
            );
        }
        Err(faults) => {
            assert!(!faults.is_empty());
            sound(&faults, source);
        }
    }
}

/// Values of every kind, good and bad, to put in the place of good ones.
fn value() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<f64>().prop_map(|number| number.to_string()),
        any::<i64>().prop_map(|number| number.to_string()),
        (any::<f64>(), "[a-zA-Z/ ]{0,4}").prop_map(|(number, unit)| format!("\"{number} {unit}\"")),
        (-1e3..1e3f64, prop::sample::select(vec!["m", "ft", "C", "F", "lb", "m/s", "NTU", "mm"]))
            .prop_map(|(number, unit)| format!("\"{number} {unit}\"")),
        "\\PC{0,12}",
        "\"\\PC{0,12}\"",
        Just("[]".to_string()),
        Just("{ a = 1 }".to_string()),
        Just("[[[[1]]]]".to_string()),
        Just("true".to_string()),
        Just("2026-13-45".to_string()),
        Just("inf".to_string()),
        Just("0xFFFFFFFFFFFFFFFF".to_string()),
    ]
}

/// A source with its `index`-th `key = value` line given another value.
fn mutate(source: &str, index: usize, value: &str) -> String {
    let lines: Vec<&str> = source.lines().collect();
    let keyed: Vec<usize> = (0..lines.len()).filter(|at| lines[*at].contains(" = ")).collect();
    let at = keyed[index % keyed.len()];
    let key = lines[at].split(" = ").next().unwrap_or_default();
    let changed = format!("{key} = {value}");
    let mut new = lines.clone();
    new[at] = &changed;
    new.join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_survived(source in "\\PC*", noise in any::<Vec<u8>>()) {
        try_load(&source, &[]);
        try_load(&String::from_utf8_lossy(&noise), &[]);
    }

    #[test]
    fn any_few_lines_of_toml_are_survived(
        lines in prop::collection::vec(("(\\[{0,2}[a-z.]{0,8}\\]{0,2}|[a-z_.\"]{0,9} ?=)", value()), 0..12)
    ) {
        let source: String = lines.iter().map(|(head, value)| format!("{head} {value}\n")).collect();
        try_load(&source, &[]);
    }

    #[test]
    fn any_value_in_a_good_file_is_survived(
        changes in prop::collection::vec((any::<usize>(), value()), 1..5),
        which in any::<usize>(),
    ) {
        let names = library::list();
        let mut source = library::get(names[which % names.len()].0).unwrap_or(GOOD).to_string();
        for (index, value) in changes {
            source = mutate(&source, index, &value);
        }
        try_load(&source, &[]);
    }

    #[test]
    fn any_cut_or_doubled_piece_of_a_good_file_is_survived(
        from in 0usize..900, length in 0usize..120, to in 0usize..900, insert in any::<bool>()
    ) {
        // The good file is plain ASCII, so every byte is a boundary.
        let bound = |at: usize| at.min(GOOD.len());
        let piece = &GOOD[bound(from)..bound(from + length)];
        let source = if insert {
            format!("{}{piece}{}", &GOOD[..bound(to)], &GOOD[bound(to)..])
        } else {
            format!("{}{}", &GOOD[..bound(from)], &GOOD[bound(from + length)..])
        };
        try_load(&source, &[]);
    }

    #[test]
    fn any_override_is_survived(path in "\\PC{0,12}", value in "\\PC{0,20}", index in any::<usize>(), good in value()) {
        let known = callup::scenario::paths(&catalogue());
        let known = known[index % known.len()].path;
        try_load(GOOD, &set(&[(&path, &value), (known, &value)]));
        try_load(GOOD, &set(&[(known, &good)]));
        try_load("", &set(&[(known, &value)]));
    }
}

#[test]
fn deep_nesting_and_great_length_are_survived() {
    try_load(&format!("a = {}", "[".repeat(100_000)), &[]);
    try_load(&format!("a = {}", "{b=".repeat(10_000)), &[]);
    try_load(&"[x]\n".repeat(2_000), &[]);
    let list = vec!["\"90 mm, standard lip, silent\""; 5_000].join(",");
    try_load(&GOOD.replace("use = [", &format!("use = [{list},")), &[]);
    let keys: String = (0..1_000).map(|index| format!("key{index} = 1\n")).collect();
    try_load(&format!("{keys}{GOOD}"), &[]);
}
