//! No assumption moves unseen: what differs from version 0.1.0 stands in CHANGELOG.md, and nothing else does.
//!
//! The tables under "Values changed" have a row for each assumption that moved, came or went: name, low, default and
//! high as they were, as they are, and why. An assumption that moves again gets another row in a later version's
//! table, further up, which begins where the earlier row ended.

use crate::reference;
use callup::models::Models;
use std::collections::BTreeMap;
use std::fs::read_to_string;

/// Low, default, high; none where there is no such assumption.
type Three = Option<[f64; 3]>;
type Values = BTreeMap<String, [f64; 3]>;

/// Head of a table of moves.
const HEAD: [&str; 5] = ["name", "was (low, default, high)", "now", "why", ""];
/// What stands for no values: the assumption is new, or gone.
const NONE: &str = "-";

/// A row of a table of moves.
#[derive(Debug, Clone, PartialEq)]
struct Move {
    name: String,
    was: Three,
    now: Three,
}

fn cells(line: &str) -> Option<Vec<&str>> {
    line.trim().strip_prefix('|').map(|rest| rest.split('|').map(str::trim).collect())
}

fn three(text: &str) -> Result<Three, String> {
    if text == NONE {
        return Ok(None);
    }
    let numbers: Vec<f64> = text
        .split(',')
        .map(|n| n.trim().parse().map_err(|_| format!("`{text}` is not low, default, high, nor `{NONE}`")))
        .collect::<Result<_, String>>()?;
    <[f64; 3]>::try_from(numbers).map(Some).map_err(|_| format!("`{text}` is not three numbers"))
}

/// The moves that a changelog lists, newest first, and what is wrong with the rows.
fn listed(changelog: &str) -> (Vec<Move>, Vec<String>) {
    let (mut moves, mut wrong) = (Vec::new(), Vec::new());
    let (mut under, mut inside) = (false, false);
    for line in changelog.lines() {
        if line.starts_with('#') {
            under = line.trim() == "### Values changed";
        }
        let Some(row) = cells(line).filter(|_| under) else {
            inside = false;
            continue;
        };
        if !inside {
            inside = row == HEAD;
            continue;
        }
        if row[0].starts_with("--") {
            continue;
        }
        match row.as_slice() {
            [name, was, now, why, ""] if !why.is_empty() => match (three(was), three(now)) {
                (Ok(was), Ok(now)) => moves.push(Move { name: name.trim_matches('`').into(), was, now }),
                (was, now) => {
                    wrong.extend([was.err(), now.err()].into_iter().flatten().map(|e| format!("{name}: {e}")))
                }
            },
            _ => wrong.push(format!("not a row of name, was, now and why: {line}")),
        }
    }
    (moves, wrong)
}

/// What a changelog has wrong about the way from `first` to `last`.
fn faults(first: &Values, last: &Values, changelog: &str) -> Vec<String> {
    let (moves, mut wrong) = listed(changelog);
    let mut rows: BTreeMap<&str, Vec<&Move>> = BTreeMap::new();
    for m in &moves {
        if m.was == m.now {
            wrong.push(format!("{}: listed, but it did not move", m.name));
        }
        rows.entry(&m.name).or_default().push(m);
    }
    let names = first.keys().chain(last.keys()).map(String::as_str).chain(rows.keys().copied());
    for name in names.collect::<std::collections::BTreeSet<_>>() {
        let (was, now) = (first.get(name).copied(), last.get(name).copied());
        let Some(all) = rows.get(name) else {
            if was != now {
                wrong.push(format!("{name}: moved from {was:?} to {now:?}, and is not listed"));
            }
            continue;
        };
        let ends = [(all[all.len() - 1].was, was, "was"), (all[0].now, now, "is now")];
        for (said, is, word) in ends.into_iter().filter(|(said, is, _)| said != is) {
            wrong.push(format!("{name}: it {word} {is:?}, not {said:?}"));
        }
        for pair in all.windows(2).filter(|p| p[0].was != p[1].now) {
            wrong.push(format!(
                "{name}: one row ends at {:?}, the next begins at {:?}",
                pair[1].now, pair[0].was
            ));
        }
    }
    wrong
}

#[test]
fn every_value_that_moved_since_0_1_0_stands_in_the_changelog() {
    let of = |row: &reference::Row| ["low", "default", "high"].map(|c| reference::number(row, c));
    let first: Values = reference::table("models_0_1_0").iter().map(|r| (r["name"].clone(), of(r))).collect();
    let models = Models::embedded().expect("embedded models");
    let last = models.parameters.iter().map(|p| (p.name.clone(), [p.low, p.default, p.high])).collect();
    let text = read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/CHANGELOG.md")).expect("changelog");
    let wrong = faults(&first, &last, &text);
    assert!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
}

const TABLE: &str =
    "### Values changed\n\n| name | was (low, default, high) | now | why |\n|---|---|---|---|\n";

fn values(all: &[(&str, [f64; 3])]) -> Values {
    all.iter().map(|(n, v)| ((*n).to_owned(), *v)).collect()
}

#[test]
fn a_true_table_has_no_faults_and_each_lie_is_found() {
    let first = values(&[("kept", [1.0, 2.0, 3.0]), ("moved", [0.1, 0.2, 0.4]), ("gone", [1.0; 3])]);
    let last = values(&[("kept", [1.0, 2.0, 3.0]), ("moved", [0.1, 0.25, 0.4]), ("new", [5.0, 6.0, 7.0])]);
    let (moved, gone, new) = (
        "| `moved` | 0.1, 0.2, 0.4 | 0.1, 0.25, 0.4 | why |\n",
        "| gone | 1, 1, 1 | - | why |\n",
        "| new | - | 5, 6, 7 | why |\n",
    );
    let count = |rows: &[&str]| faults(&first, &last, &format!("{TABLE}{}", rows.concat())).len();
    assert_eq!(count(&[moved, gone, new]), 0);
    for missing in [[moved, gone], [moved, new], [gone, new]] {
        assert_eq!(count(&missing), 1);
    }
    for lie in [
        "| kept | 1, 2, 3 | 1, 2, 3 | why |\n",
        "| kept | 1, 2, 3 | 1, 2, 4 | why |\n",
        "| kept | 1, 2, 4 | 1, 2, 3 | why |\n",
        "| never there | - | 1, 2, 3 | why |\n",
        "| kept | 1, 2 | 1, 2, 3 | why |\n",
        "| kept | 1, 2, 3 |\n",
        "| new | - | 5, 6, 7 | |\n",
    ] {
        assert!(count(&[moved, gone, new, lie]) > 0, "{lie}");
    }
    let elsewhere = format!("{}{}", TABLE.replace("Values changed", "Changed"), [moved, gone, new].concat());
    assert_eq!(faults(&first, &last, &elsewhere).len(), 3, "only tables under the heading count");
}

#[test]
fn rows_of_later_versions_go_on_where_earlier_ones_ended() {
    let (first, last) = (values(&[("twice", [1.0; 3])]), values(&[("twice", [3.0; 3])]));
    let later = |was: &str| format!("{TABLE}| twice | {was} | 3, 3, 3 | why |\n\n## [0.2.0]\n\n");
    let earlier = format!("{TABLE}| twice | 1, 1, 1 | 2, 2, 2 | why |\n");
    assert_eq!(faults(&first, &last, &(later("2, 2, 2") + &earlier)), Vec::<String>::new());
    assert_eq!(faults(&first, &last, &(later("1, 1, 1") + &earlier)).len(), 1);
}
