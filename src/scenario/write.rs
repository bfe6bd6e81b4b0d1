//! A checked scenario as the text of a file that [`super::load`] reads back to the same.

use super::Catalogue;
use super::schema::{KEYS, Key, Keyed, Kind, SECTIONS, Said};
use super::types::{Bait, Scenario};
use std::fmt::Write;

/// The text of a scenario file, quantities in the units they are kept in, to the last bit.
///
/// Baits of the catalogue are named where the whole box is of the catalogue; else each is written out, so that the
/// order of the box stays.
///
/// ```
/// use callup::{models::Models, scenario::{Catalogue, library, load, write::to_toml}};
/// let catalogue = Catalogue::of(&Models::embedded().unwrap());
/// let first = load(library::get("first-light").unwrap(), "a", &[], &catalogue).unwrap().scenario;
/// let again = load(&to_toml(&first, &catalogue), "b", &[], &catalogue).unwrap().scenario;
/// assert_eq!(first, again);
/// ```
pub fn to_toml(scenario: &Scenario, catalogue: &Catalogue) -> String {
    let mut all = scenario.clone();
    // With an hourly table the day begins with its first row; what is in force at the time asked for follows.
    if let Some(first) = scenario.hours.first() {
        (all.sky, all.water.clarity) = (first.sky.clone(), first.clarity);
    }
    let mut out = String::new();
    for section in [""].iter().chain(SECTIONS) {
        if !section.is_empty() {
            let _ = write!(out, "\n[{section}]\n");
        }
        table(&mut out, section, &all);
    }
    the_box(&mut out, &scenario.baits, catalogue);
    for hour in scenario.hours.iter().skip(1) {
        out.push_str("\n[[hour]]\n");
        table(&mut out, "hour", hour);
    }
    out
}

fn the_box(out: &mut String, baits: &[Bait], catalogue: &Catalogue) {
    if baits.iter().all(|b| of_catalogue(b, catalogue)) {
        let names: Vec<String> = baits.iter().map(|b| format!("    {},\n", text(&b.name))).collect();
        let _ = writeln!(out, "use = [\n{}]", names.concat());
        return;
    }
    for bait in baits {
        out.push_str("\n[[box.bait]]\n");
        table(out, "bait", bait);
    }
}

/// The lines of a table. Writing to a String cannot fail, hence the results that are let go.
fn table<T: Keyed>(out: &mut String, section: &str, all: &T) {
    for key in KEYS.iter().filter(|key| key.split().0 == section) {
        if let Some(said) = T::access(&key.field).and_then(|access| (access.get)(all)) {
            let _ = writeln!(out, "{} = {}", key.split().1, value(key, &said));
        }
    }
}

fn value(key: &Key, said: &Said) -> String {
    match (said, &key.kind) {
        (Said::Number(kept), Kind::Quantity { dimension, .. }) => text(&dimension.write(*kept)),
        (Said::Number(number), Kind::Whole { .. }) => number.to_string(),
        // `{:?}` is the shortest text that reads back to the same bits, with the point that TOML wants.
        (Said::Number(number), _) => format!("{number:?}"),
        (Said::Word(word), _) => text(word),
    }
}

/// Whether naming it in `box.use` would give the same bait.
pub fn of_catalogue(bait: &Bait, catalogue: &Catalogue) -> bool {
    let body = bait.name.strip_suffix(&format!(", {}", bait.finish)).unwrap_or(&bait.name);
    catalogue.bait(body).is_some_and(|known| {
        let named = Bait { name: bait.name.clone(), finish: bait.finish.clone(), ..known.clone() };
        named == *bait && (body != bait.name || known.finish == bait.finish)
    })
}

/// A string of TOML.
fn text(value: &str) -> String {
    toml::Value::String(value.to_owned()).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::models::Models;
    use crate::scenario::{library, load};

    fn catalogue() -> Catalogue {
        Catalogue::of(&Models::embedded().expect("embedded"))
    }

    #[track_caller]
    fn comes_back(source: &str, catalogue: &Catalogue) {
        let first = load(source, "first", &[], catalogue).expect("possible").scenario;
        let written = to_toml(&first, catalogue);
        let again = load(&written, "again", &[], catalogue).expect(&written).scenario;
        assert_eq!(first, again, "{written}");
    }

    #[test]
    fn every_scenario_of_the_library_comes_back_to_the_last_bit() {
        let catalogue = catalogue();
        for (name, _) in library::list() {
            comes_back(library::get(name).expect(name), &catalogue);
        }
        comes_back(library::TEMPLATE, &catalogue);
    }

    #[test]
    fn strange_names_and_given_depths_come_back() {
        let source = library::TEMPLATE
            .replace("\"My water\"", r#""a \"b\" \\ </script> \u0001 ü""#)
            .replace("\"the old one\"", r#""x \" = [y] # z""#)
            .replace("# runs = \"7 ft\"", "runs = \"7 ft\"")
            .replace("cast = \"27 m\"", "launch = \"25 m/s\"");
        assert!(source.contains("\nruns") && source.contains("\nlaunch"));
        comes_back(&source, &catalogue());
    }
}
