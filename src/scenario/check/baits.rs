//! The box: catalogue baits by name, baits of one's own, or both.

use super::reader::{Placed, Reader, Section};
use super::{own_name, quiet_quantity};
use crate::scenario::catalogue::same_name;
use crate::scenario::diagnostic::{near, one_of, visible};
use crate::scenario::document::{Document, Entry, Node, Origin, Value, entry};
use crate::scenario::types::{Bait, Lip, Sound};
use crate::units::UnitSystem;

/// More baits than this are a slip: no answer about them could be read.
const MOST_BAITS: usize = 200;
/// A bait longer than this share of the fish is doubted: bass eat prey up to about half their length
/// (Hoyle and Keast 1987, from memory).
const DOUBTFUL_SHARE: f64 = 0.6;

/// What a `[[box.bait]]` table or `bait.*` overrides say of a bait; the rest follows from the catalogue.
#[derive(Debug, Clone, Default)]
struct Spec {
    length_m: Option<f64>,
    lip: Option<Lip>,
    sound: Option<Sound>,
    finish: Option<String>,
    mass_kg: Option<f64>,
    lip_area_m2: Option<f64>,
    lip_incidence_deg: Option<f64>,
    height_m: Option<f64>,
    width_m: Option<f64>,
    trebles: Option<u32>,
    buoyancy_n: Option<f64>,
    runs_m: Option<f64>,
}

pub(super) fn baits(reader: &mut Reader<'_>) -> Option<Vec<Placed<Bait>>> {
    let section = reader.section("box")?;
    let before = errors(reader);
    let mut baits = Vec::new();
    if let Some(entry) = entry(section.entries, "use") {
        used(reader, &entry.value, &mut baits);
    }
    if let Some(entry) = entry(section.entries, "bait") {
        own_baits(reader, entry, &mut baits);
    }
    let unread = errors(reader) > before;
    changed_by_overrides(reader, &mut baits);
    if baits.is_empty() {
        if !unread && reader.ask_for_missing {
            let help =
                "write use = [\"90 mm, standard lip, silent\"], use = \"all\", or a [[box.bait]] table";
            reader.fault(section.at, "the box is empty", "no bait to choose from", help);
        }
        return None;
    }
    if baits.len() > MOST_BAITS {
        let help = format!("keep to {MOST_BAITS} baits");
        reader.fault(section.at, "the box is too full", format!("{} baits", baits.len()), help);
        return None;
    }
    no_duplicates(reader, &baits);
    Some(baits)
}

fn errors(reader: &Reader<'_>) -> usize {
    reader.faults.len()
}

/// The baits of `use`: a list of names, one name, or "all".
fn used(reader: &mut Reader<'_>, node: &Node, baits: &mut Vec<Placed<Bait>>) {
    match &node.value {
        Value::Text(text) if text.trim().eq_ignore_ascii_case("all") => {
            let all = reader.catalogue.baits.iter();
            baits.extend(all.map(|bait| Placed { value: bait.clone(), at: node.at.clone() }));
        }
        Value::Text(_) => baits.extend(by_name(reader, node)),
        Value::List(items) => {
            for item in items {
                baits.extend(by_name(reader, item));
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
fn by_name(reader: &mut Reader<'_>, node: &Node) -> Option<Placed<Bait>> {
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
    let catalogue = reader.catalogue;
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

fn own_baits<'a>(reader: &mut Reader<'a>, entry: &'a Entry, baits: &mut Vec<Placed<Bait>>) {
    let refuse = |reader: &mut Reader<'_>, at: &Origin, kind: &str| {
        let help = "begin each bait with a line [[box.bait]], and its keys below";
        reader.fault(
            at,
            "`box.bait` is not a list of tables",
            format!("{kind} where a table is wanted"),
            help,
        );
    };
    let Value::List(items) = &entry.value.value else {
        return refuse(reader, &entry.value.at, entry.value.value.kind());
    };
    for item in items {
        match &item.value {
            Value::Table(entries) => baits.extend(own_bait(reader, entries, &item.at)),
            other => refuse(reader, &item.at, other.kind()),
        }
    }
}

fn own_bait<'a>(reader: &mut Reader<'a>, entries: &'a [Entry], at: &'a Origin) -> Option<Placed<Bait>> {
    reader.unknown_keys(entries, "bait");
    let bait = read_bait(reader, &Section { name: "bait", entries, at });
    bait.map(|value| Placed { value, at: at.clone() })
}

fn read_bait<'a>(reader: &mut Reader<'a>, section: &Section<'a>) -> Option<Bait> {
    let before = errors(reader);
    let name = match reader.text(section, "name") {
        Some(name) => own_name(reader, &name),
        None => None,
    };
    let like = reader.word(section, "like").map(|word| word.value.to_string());
    let spec = spec(reader, section);
    if errors(reader) > before {
        return None;
    }
    let base = like.and_then(|like| reader.catalogue.bait(&like).cloned());
    let base = match base {
        Some(base) => base,
        None => from_nothing(reader, section, &spec)?,
    };
    let bait = change(reader, &base, &spec, section.at)?;
    Some(match name {
        Some(name) => Bait { name, ..bait },
        None => Bait { name: full_name(&bait), ..bait },
    })
}

/// A bait without a model must say its length, lip, sound and finish.
fn from_nothing(reader: &mut Reader<'_>, section: &Section<'_>, spec: &Spec) -> Option<Bait> {
    let (Some(length_m), Some(lip), Some(sound), Some(finish)) =
        (spec.length_m, spec.lip, spec.sound, spec.finish.clone())
    else {
        if reader.ask_for_missing {
            let missing: Vec<&str> = [
                ("length", spec.length_m.is_none()),
                ("lip", spec.lip.is_none()),
                ("sound", spec.sound.is_none()),
                ("finish", spec.finish.is_none()),
            ]
            .iter()
            .filter(|(_, missing)| *missing)
            .map(|(key, _)| *key)
            .collect();
            let help = "add them, or begin from a catalogue bait: like = \"90 mm, standard lip, silent\"";
            reader.fault(
                section.at,
                "this bait is not fully described",
                format!("lacks {}", missing.join(", ")),
                help,
            );
        }
        return None;
    };
    let form = reader.catalogue.shape.form(length_m, lip);
    Some(Bait {
        name: String::new(),
        length_m,
        lip,
        sound,
        finish,
        trebles: form.trebles,
        height_m: form.height_m,
        width_m: form.width_m,
        mass_kg: reader.catalogue.shape.mass_kg(length_m, form.height_m, form.width_m, 0.0),
        lip_area_m2: form.lip_area_m2,
        lip_incidence_deg: form.lip_incidence_deg,
        buoyancy_n: 0.0,
        runs_m: spec.runs_m,
    })
}

fn spec<'a>(reader: &mut Reader<'a>, section: &Section<'a>) -> Spec {
    let trebles = reader.number(section, "trebles");
    let trebles = trebles.and_then(|placed| {
        let whole = [0u32, 1, 2, 3, 4].into_iter().find(|n| f64::from(*n) == placed.value);
        if whole.is_none() {
            reader.fault(
                &placed.at,
                "there are no parts of hooks",
                "not a whole number",
                "write trebles = 2",
            );
        }
        whole
    });
    let mut quantity = |name: &str| reader.quantity(section, name).map(|placed| placed.value);
    let (length_m, mass_kg, buoyancy_n) = (quantity("length"), quantity("mass"), quantity("buoyancy"));
    let (lip_area_m2, lip_incidence_deg) = (quantity("lip_area"), quantity("lip_angle"));
    let (height_m, width_m) = (quantity("height"), quantity("width"));
    let runs_m = quantity("runs");
    Spec {
        length_m,
        lip: reader.word(section, "lip").and_then(|word| Lip::from_label(word.value)),
        sound: reader.word(section, "sound").and_then(|word| Sound::from_label(word.value)),
        finish: reader.word(section, "finish").map(|word| word.value.to_string()),
        mass_kg,
        lip_area_m2,
        lip_incidence_deg,
        height_m,
        width_m,
        trebles,
        buoyancy_n,
        runs_m,
    }
}

/// The bait with everything changed that the spec gives; what depends on a changed thing follows it.
fn change(reader: &mut Reader<'_>, base: &Bait, spec: &Spec, at: &Origin) -> Option<Bait> {
    let shape = &reader.catalogue.shape;
    let mut bait = base.clone();
    bait.length_m = spec.length_m.unwrap_or(base.length_m);
    bait.lip = spec.lip.unwrap_or(base.lip);
    bait.sound = spec.sound.unwrap_or(base.sound);
    bait.finish = spec.finish.clone().unwrap_or_else(|| base.finish.clone());
    bait.buoyancy_n = spec.buoyancy_n.unwrap_or(base.buoyancy_n);
    bait.runs_m = spec.runs_m.or(base.runs_m);
    let form = shape.form(bait.length_m, bait.lip);
    if bait.length_m != base.length_m {
        (bait.height_m, bait.width_m, bait.trebles) = (form.height_m, form.width_m, form.trebles);
    }
    if bait.length_m != base.length_m || bait.lip != base.lip {
        (bait.lip_area_m2, bait.lip_incidence_deg) = (form.lip_area_m2, form.lip_incidence_deg);
    }
    bait.height_m = spec.height_m.unwrap_or(bait.height_m);
    bait.width_m = spec.width_m.unwrap_or(bait.width_m);
    bait.trebles = spec.trebles.unwrap_or(bait.trebles);
    bait.lip_area_m2 = spec.lip_area_m2.unwrap_or(bait.lip_area_m2);
    bait.lip_incidence_deg = spec.lip_incidence_deg.unwrap_or(bait.lip_incidence_deg);
    let body = |bait: &Bait| (bait.length_m, bait.height_m, bait.width_m, bait.buoyancy_n);
    if body(&bait) != body(base) {
        bait.mass_kg = shape.mass_kg(bait.length_m, bait.height_m, bait.width_m, bait.buoyancy_n);
    }
    bait.mass_kg = spec.mass_kg.unwrap_or(bait.mass_kg);
    if bait.height_m >= bait.length_m || bait.width_m >= bait.length_m {
        let help = "height and width are those of the body, and less than its length";
        reader.fault(at, "this bait is no minnow", "thicker than it is long", help);
        return None;
    }
    if bait.mass_kg <= 0.0 {
        let help = "give a smaller buoyancy, or a greater height and width";
        reader.fault(at, "this bait would weigh nothing", "too buoyant for its size", help);
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
fn changed_by_overrides(reader: &mut Reader<'_>, baits: &mut Vec<Placed<Bait>>) {
    let document = reader.document;
    let Some(first) = document.every_bait.first() else { return };
    let section = Section { name: "bait", entries: &document.every_bait, at: &first.value.at };
    let before = errors(reader);
    let spec = spec(reader, &section);
    if errors(reader) > before {
        return;
    }
    let mut changed: Vec<Placed<Bait>> = Vec::new();
    for bait in baits.drain(..) {
        // A name that described the bait must go on doing so; a name of one's own stays.
        let described = reader.catalogue.bait(&bait.value.name).is_some()
            || bait
                .value
                .name
                .starts_with(described(&Bait { finish: String::new(), ..bait.value.clone() }).trim_end());
        let Some(mut new) = change(reader, &bait.value, &spec, &first.value.at) else { return };
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

/// Baits longer than the fish are a fault, baits of more than 0.6 of its length a doubt; baits named in
/// one place are spoken of in one message.
pub(super) fn against_fish(reader: &mut Reader<'_>, baits: &Option<Vec<Placed<Bait>>>, document: &Document) {
    let fish = quiet_quantity(reader, document, "fish", "length");
    let (Some(baits), Some(fish)) = (baits, fish) else { return };
    let said = |metres: f64| UnitSystem::Metric.short_length(metres);
    let mut places: Vec<&Origin> = Vec::new();
    for bait in baits {
        if !places.contains(&&bait.at) {
            places.push(&bait.at);
        }
    }
    for at in places {
        let here = || baits.iter().filter(|bait| &bait.at == at);
        let longest = here().map(|bait| bait.value.length_m).fold(0.0, f64::max);
        let over = |share: f64| here().filter(|bait| bait.value.length_m > share * fish.value).count();
        let label = format!("{}, and the fish are {}", said(longest), said(fish.value));
        if over(1.0) > 0 {
            let title = plural(over(1.0), "a bait is longer than the fish", "baits are longer than the fish");
            reader.fault(at, title, label, "take it out of the box, or write the length of larger fish");
        } else if over(DOUBTFUL_SHARE) > 0 {
            let title = plural(
                over(DOUBTFUL_SHARE),
                "a bait is very long for these fish",
                "baits are very long for these fish",
            );
            reader.warn(at, title, label, "fish seldom take a meal of more than 0.6 of their own length");
        }
    }
}

fn plural(count: usize, one: &str, many: &str) -> String {
    if count == 1 { one.to_string() } else { format!("{count} {many}") }
}
