//! The box: catalogue baits by name, baits of one's own, or both.

use super::{Tables, fill, own_name};
use crate::scenario::catalogue::{Catalogue, same_name};
use crate::scenario::diagnostic::{near, one_of, visible};
use crate::scenario::document::{Document, Entry, Node, Origin, Value};
use crate::scenario::reader::{Placed, Reader, Table};
use crate::scenario::schema::KEYS;
use crate::scenario::types::{Bait, Lip, Sound};
use crate::units::UnitSystem;

/// More baits than this are a slip: no answer about them could be read.
const MOST_BAITS: usize = 200;
pub(super) fn baits(
    reader: &mut Reader<'_>,
    document: &Document,
    tables: &Tables,
    catalogue: &Catalogue,
) -> Option<Vec<Placed<Bait>>> {
    let table = tables.table("box")?;
    let before = errors(reader);
    let mut baits = Vec::new();
    if let Some(entry) = table.entry("use") {
        used(reader, catalogue, &entry.value, &mut baits);
    }
    if let Some(entry) = table.entry("bait") {
        own_baits(reader, catalogue, entry, &mut baits);
    }
    let unread = errors(reader) > before;
    changed_by_overrides(reader, document, catalogue, &mut baits);
    if baits.is_empty() {
        if !unread && reader.ask_for_missing {
            let help =
                "write use = [\"90 mm, standard lip, silent\"], use = \"all\", or a [[box.bait]] table";
            reader.fault(table.at, "the box is empty", "no bait to choose from", help);
        }
        return None;
    }
    if baits.len() > MOST_BAITS {
        let help = format!("keep to {MOST_BAITS} baits");
        reader.fault(table.at, "the box is too full", format!("{} baits", baits.len()), help);
        return None;
    }
    no_duplicates(reader, &baits);
    Some(baits)
}

fn errors(reader: &Reader<'_>) -> usize {
    reader.faults.len()
}

/// The baits of `use`: a list of names, one name, or "all".
fn used(reader: &mut Reader<'_>, catalogue: &Catalogue, node: &Node, baits: &mut Vec<Placed<Bait>>) {
    match &node.value {
        Value::Text(text) if text.trim().eq_ignore_ascii_case("all") => {
            let all = catalogue.baits.iter();
            baits.extend(all.map(|bait| Placed { value: bait.clone(), at: node.at.clone() }));
        }
        Value::Text(_) => baits.extend(by_name(reader, catalogue, node)),
        Value::List(items) => {
            for item in items {
                baits.extend(by_name(reader, catalogue, item));
            }
        }
        other => {
            let label = format!("{} where bait names are wanted", other.kind());
            let help = "write use = [\"90 mm, standard lip, silent\"] or use = \"all\"";
            reader.fault(&node.at, "`box.use` is not a list of baits", label, help);
        }
    }
}

/// One catalogue bait: "90 mm, standard lip, silent", perhaps followed by a finish.
fn by_name(reader: &mut Reader<'_>, catalogue: &Catalogue, node: &Node) -> Option<Placed<Bait>> {
    let Value::Text(name) = &node.value else {
        let label = format!("{} where a bait's name is wanted", node.value.kind());
        reader.fault(
            &node.at,
            "this is not the name of a bait",
            label,
            "write \"90 mm, standard lip, silent\"",
        );
        return None;
    };
    let placed = |value| Some(Placed { value, at: node.at.clone() });
    if let Some(bait) = catalogue.bait(name) {
        return placed(bait.clone());
    }
    let (body, finish) = name.rsplit_once(',').unwrap_or((name, ""));
    match (catalogue.bait(body), catalogue.finish(finish)) {
        (Some(bait), Some(finish)) => {
            let name = format!("{}, {finish}", bait.name);
            return placed(Bait { name, finish: finish.to_string(), ..bait.clone() });
        }
        (Some(bait), None) => {
            let finishes: Vec<&str> = catalogue.finishes.iter().map(String::as_str).collect();
            let help = format!("after `{}` may follow {}", bait.name, one_of(&finishes));
            let title = format!("there is no finish `{}`", visible(finish.trim()));
            reader.fault(&node.at, title, "unknown finish", suggestion(finish, &finishes, help));
        }
        _ => {
            let names: Vec<&str> = catalogue.baits.iter().map(|bait| bait.name.as_str()).collect();
            let alike = [near(name, names.iter().copied()), near(body, names.iter().copied())].concat();
            let help = match alike.first() {
                Some(best) => format!("did you mean `{best}`? A bait of your own goes into [[box.bait]]"),
                None => format!(
                    "names are like {}; a bait of your own goes into [[box.bait]]",
                    one_of(&names[..names.len().min(3)])
                ),
            };
            let title = format!("there is no bait `{}` in the catalogue", visible(name));
            reader.fault(&node.at, title, "unknown bait", help);
        }
    }
    None
}

fn suggestion(word: &str, words: &[&str], otherwise: String) -> String {
    match near(word.trim(), words.iter().copied()).as_slice() {
        [] => otherwise,
        alike => format!("did you mean {}?", one_of(alike)),
    }
}

fn own_baits(reader: &mut Reader<'_>, catalogue: &Catalogue, entry: &Entry, baits: &mut Vec<Placed<Bait>>) {
    let refuse = |reader: &mut Reader<'_>, at: &Origin, kind: &str| {
        let help = "begin each bait with a line [[box.bait]], and its keys below";
        let label = format!("{kind} where a table is wanted");
        reader.fault(at, "`box.bait` is not a list of tables", label, help);
    };
    let Value::List(items) = &entry.value.value else {
        return refuse(reader, &entry.value.at, entry.value.value.kind());
    };
    for item in items {
        match &item.value {
            Value::Table(entries) => {
                let bait = own_bait(reader, catalogue, entries, &item.at);
                baits.extend(bait.map(|value| Placed { value, at: item.at.clone() }));
            }
            other => refuse(reader, &item.at, other.kind()),
        }
    }
}

fn own_bait(reader: &mut Reader<'_>, catalogue: &Catalogue, entries: &[Entry], at: &Origin) -> Option<Bait> {
    let before = errors(reader);
    let table = reader.table(KEYS, "bait", entries, at, catalogue);
    let name = table.text("name").and_then(|name| own_name(reader, &name));
    if errors(reader) > before {
        return None;
    }
    let base = match table.text("like") {
        Some(like) => catalogue.bait(like.value)?.clone(),
        None => from_nothing(reader, catalogue, &table)?,
    };
    let mut bait = change(reader, catalogue, &base, &table)?;
    bait.name = name.unwrap_or_else(|| full_name(&bait));
    Some(bait)
}

/// A bait without a model must say its length, lip, sound and finish.
fn from_nothing(reader: &mut Reader<'_>, catalogue: &Catalogue, table: &Table) -> Option<Bait> {
    let missing: Vec<&str> =
        ["length", "lip", "sound", "finish"].into_iter().filter(|key| table.entry(key).is_none()).collect();
    if !missing.is_empty() && reader.ask_for_missing {
        let help = "add them, or begin from a catalogue bait: like = \"90 mm, standard lip, silent\"";
        let label = format!("lacks {}", missing.join(", "));
        reader.fault(table.at, "this bait is not fully described", label, help);
    }
    let (lip, sound) =
        (Lip::from_label(table.text("lip")?.value)?, Sound::from_label(table.text("sound")?.value)?);
    Some(catalogue.shape.bait(table.number("length")?.value, lip, sound, table.text("finish")?.value))
}

/// The bait with everything changed that the table gives; what depends on a changed thing follows it.
fn change(reader: &mut Reader<'_>, catalogue: &Catalogue, base: &Bait, table: &Table) -> Option<Bait> {
    let mut bait = base.clone();
    fill(&mut bait, std::slice::from_ref(table));
    bait.name = base.name.clone();
    let given = |name: &str| table.entry(name).is_some();
    let form = catalogue.shape.form(bait.length_m, bait.lip);
    let other_length = bait.length_m != base.length_m;
    let follow = |name: &str, when: bool, field: &mut f64, value: f64| {
        if when && !given(name) {
            *field = value;
        }
    };
    follow("height", other_length, &mut bait.height_m, form.height_m);
    follow("width", other_length, &mut bait.width_m, form.width_m);
    let other_lip = other_length || bait.lip != base.lip;
    follow("lip_area", other_lip, &mut bait.lip_area_m2, form.lip_area_m2);
    follow("lip_angle", other_lip, &mut bait.lip_incidence_deg, form.lip_incidence_deg);
    if other_length && !given("trebles") {
        bait.trebles = form.trebles;
    }
    let body = |bait: &Bait| (bait.length_m, bait.height_m, bait.width_m, bait.buoyancy_n);
    let (length_m, height_m, width_m, buoyancy_n) = body(&bait);
    let mass_kg = catalogue.shape.mass_kg(length_m, height_m, width_m, buoyancy_n);
    follow("mass", body(&bait) != body(base), &mut bait.mass_kg, mass_kg);
    if bait.height_m >= bait.length_m || bait.width_m >= bait.length_m {
        let help = "height and width are those of the body, and less than its length";
        reader.fault(table.at, "this bait is no minnow", "thicker than it is long", help);
        return None;
    }
    if bait.mass_kg <= 0.0 {
        let help = "give a smaller buoyancy, or a greater height and width";
        reader.fault(table.at, "this bait would weigh nothing", "too buoyant for its size", help);
        return None;
    }
    Some(bait)
}

/// The name that says what a bait is: "110 mm, deep lip, rattling, mirror"; a depth that was given follows.
fn full_name(bait: &Bait) -> String {
    let name = described(bait);
    match bait.runs_m {
        Some(depth_m) => format!("{name}, runs {}", UnitSystem::Metric.length(depth_m)),
        None => name,
    }
}

fn described(bait: &Bait) -> String {
    let millimetres = (bait.length_m * 1e4).round() / 10.0;
    format!("{millimetres} mm, {} lip, {}, {}", bait.lip.label(), bait.sound.label(), bait.finish)
}

/// Applies `bait.*` overrides to every bait; baits that become the same count once.
fn changed_by_overrides(
    reader: &mut Reader<'_>,
    document: &Document,
    catalogue: &Catalogue,
    baits: &mut Vec<Placed<Bait>>,
) {
    let Some(first) = document.every_bait.first() else { return };
    let before = errors(reader);
    let table = reader.table(KEYS, "bait", &document.every_bait, &first.value.at, catalogue);
    if errors(reader) > before {
        return;
    }
    let mut changed: Vec<Placed<Bait>> = Vec::new();
    for bait in baits.drain(..) {
        // A name that described the bait must go on doing so; a name of one's own stays.
        let described = catalogue.bait(&bait.value.name).is_some()
            || bait
                .value
                .name
                .starts_with(described(&Bait { finish: String::new(), ..bait.value.clone() }).trim_end());
        let Some(mut new) = change(reader, catalogue, &bait.value, &table) else { return };
        if described && new != bait.value {
            new.name = full_name(&new);
        }
        let same = |other: &Placed<Bait>| Bait { name: new.name.clone(), ..other.value.clone() } == new;
        if !changed.iter().any(same) {
            changed.push(Placed { value: new, at: bait.at });
        }
    }
    *baits = changed;
}

/// Two baits of one name are a fault; two names for one bait are a doubt.
fn no_duplicates(reader: &mut Reader<'_>, baits: &[Placed<Bait>]) {
    for (index, bait) in baits.iter().enumerate() {
        let earlier = &baits[..index];
        if earlier.iter().any(|other| same_name(&other.value.name, &bait.value.name)) {
            let title = format!("there are two baits called `{}`", visible(&bait.value.name));
            reader.fault(&bait.at, title, "the second", "take one away, or give one a name of its own");
        } else if let Some(other) = earlier
            .iter()
            .find(|other| Bait { name: bait.value.name.clone(), ..other.value.clone() } == bait.value)
        {
            let label = format!("nothing tells it from `{}`", visible(&other.value.name));
            let title = format!("`{}` is the same bait under another name", visible(&bait.value.name));
            reader.warn(&bait.at, title, label, "take one away, or change its finish");
        }
    }
}
