//! Values given beside the file (`--set water.secchi=2 m`), laid over the document before it is checked.
//!
//! - The last override of a path counts.
//! - Setting Secchi depth takes the file's turbidity away, and the other way round; likewise line
//!   strength and diameter, zone and UTC offset.
//! - `box.use=...` is the whole box: the file's `[[box.bait]]` tables go. Several names are separated by
//!   semicolons, or written as a TOML list.
//! - `hour.cloud=09:00 0.2; 13:00 0.8` is that whole column of the hourly table. `sky.cloud=...` holds all day: it
//!   takes the column of the file's table away. Likewise wind, rain and clarity.
//! - `bait.PROPERTY=...` changes that property of every bait; baits that become the same count once.

use super::diagnostic::{Diagnostic, Severity, near, one_of, visible};
use super::document::{Document, Entry, Node, Origin, Source, Value, list};
use super::schema::{self, Key, Kind};

/// Lays overrides over a document; every unknown path is a fault.
pub(crate) fn apply(document: &mut Document, overrides: &[(String, String)]) -> Vec<Diagnostic> {
    let mut faults = Vec::new();
    for (index, (path, written)) in overrides.iter().enumerate() {
        document.sets.push(format!("{path}={written}"));
        let path = path.trim();
        match schema::find(path).filter(|key| schema::settable(key)) {
            Some(key) => set(document, key, index),
            None => faults.push(unknown(path, &document.sets[index])),
        }
    }
    faults
}

fn set(document: &mut Document, key: &'static Key, index: usize) {
    let text = &document.sets[index];
    let equals = text.find('=').map_or(text.len(), |at| at + 1);
    let written = &text[equals..];
    let start = equals + (written.len() - written.trim_start().len());
    let end = (equals + written.trim_end().len()).max(start);
    let source = Source::Set(index);
    let at = Origin { source, range: start..end };
    let value = value(key, &text[start..end], &at);
    let key_at = Origin { source, range: 0..equals.saturating_sub(1) };

    let (section, name) = key.split();
    if section == "bait" {
        document.every_bait.retain(|entry| entry.key != name);
        document.every_bait.push(Entry { key: name.to_string(), key_at, value });
        return;
    }
    if section == "hour" {
        document.take_from_hours(&same_in_hours(name));
        let rows = column(key, start, &document.sets[index][start..end], source);
        document.hour_columns.retain(|(column, _)| !same_in_hours(name).contains(column));
        document.hour_columns.push((name, rows));
        return;
    }
    if matches!(section, "sky" | "water") {
        document.take_from_hours(&same_in_hours(name));
    }
    if let Some((section, rival)) = schema::rival(key.path).and_then(|rival| rival.split_once('.')) {
        document.take_from_file(section, rival);
    }
    if key.path == "box.use" {
        document.take_from_file("box", "bait");
    }
    document.put(section, name, key_at, value);
}

/// The columns of the hourly table that say the same as the key of this name.
fn same_in_hours(name: &str) -> Vec<&'static str> {
    let key = schema::find(&format!("hour.{name}"));
    let rival = key.and_then(|key| schema::find(schema::rival(key.path)?));
    key.into_iter().chain(rival).map(|key| key.split().1).collect()
}

/// "09:00 0.2; 1 pm 0.8" as rows with a time and a value each; `shift` is the place of the text in the override's.
fn column(key: &'static Key, shift: usize, text: &str, source: Source) -> Vec<Node> {
    let mut rows = Vec::new();
    let mut from = 0;
    for part in text.split(';') {
        let start = from + part.len() - part.trim_start().len();
        from += part.len() + 1;
        let part = part.trim();
        if part.is_empty() {
            continue;
        }
        let place = |a: usize, b: usize| Origin { source, range: shift + start + a..shift + start + b };
        // The time is the first word, and the second where that is "am" or "pm".
        let word = |at: usize| part[at..].find(char::is_whitespace).map_or(part.len(), |n| at + n);
        let skip = |at: usize| part.len() - part[at..].trim_start().len();
        let mut time_end = word(0);
        let second = skip(time_end);
        if ["am", "pm"].iter().any(|half| part[second..word(second)].eq_ignore_ascii_case(half)) {
            time_end = word(second);
        }
        let begin = skip(time_end);
        let entry = |name: &str, at: Origin, value: Node| Entry { key: name.to_string(), key_at: at, value };
        let time = Node { at: place(0, time_end), value: Value::Text(part[..time_end].to_string()) };
        let mut cells = vec![entry("at", place(0, time_end), time)];
        if begin < part.len() {
            let at = place(begin, part.len());
            cells.push(entry(key.split().1, at.clone(), value(key, &part[begin..], &at)));
        }
        rows.push(Node { at: place(0, part.len()), value: Value::Table(cells) });
    }
    rows
}

/// The value as the key wants it: a number for a number, a list for the box, else text; quotes that
/// survived the shell are taken off.
fn value(key: &Key, written: &str, at: &Origin) -> Node {
    let bare = written
        .strip_prefix('"')
        .and_then(|text| text.strip_suffix('"'))
        .or_else(|| written.strip_prefix('\'').and_then(|text| text.strip_suffix('\'')))
        .unwrap_or(written);
    let text = |text: &str| Value::Text(text.trim().to_string());
    let value = match &key.kind {
        Kind::Number { .. } | Kind::Whole { .. } => {
            bare.trim().parse().map_or_else(|_| text(bare), Value::Number)
        }
        Kind::Box if written.starts_with('[') => {
            if let Some(node) = list(written, at.source, at.range.start) {
                return node;
            }
            text(bare)
        }
        Kind::Box if bare.contains(';') => Value::List(
            bare.split(';')
                .map(|name| Node { at: at.clone(), value: text(name) })
                .filter(|node| !matches!(&node.value, Value::Text(name) if name.is_empty()))
                .collect(),
        ),
        _ => text(bare),
    };
    Node { at: at.clone(), value }
}

fn unknown(path: &str, text: &str) -> Diagnostic {
    let every: Vec<&str> =
        schema::KEYS.iter().filter(|key| schema::settable(key)).map(|key| key.path).collect();
    let mut alike = near(path, every.iter().copied());
    // `secchi` alone, or the right name in the wrong table: every path that ends so.
    let name = path.rsplit('.').next().unwrap_or(path);
    let ending: Vec<&str> = every.iter().copied().filter(|p| p.rsplit('.').next() == Some(name)).collect();
    if !ending.is_empty() {
        alike = ending;
    }
    Diagnostic {
        severity: Severity::Error,
        title: format!("there is no value called `{}` to set", visible(path)),
        label: "not a name of a scenario's value".to_string(),
        span: Some(0..path.len().min(text.len())),
        file: "--set".to_string(),
        set: Some(text.to_string()),
        help: if alike.is_empty() {
            format!("the values are {}", every.join(", "))
        } else {
            format!("did you mean {}?", one_of(&alike))
        },
    }
}
