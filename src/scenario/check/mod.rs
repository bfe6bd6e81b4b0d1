//! From a document to a checked scenario: all faults are found in one go, none stops the search.

mod baits;
mod conditions;
mod fish;
mod hours;
mod place;
mod reader;
pub(crate) mod syntax;
mod tackle;

use super::catalogue::Catalogue;
use super::diagnostic::{Diagnostic, Severity, visible};
use super::document::{Document, Origin, Source, Value};
use super::types::Scenario;
use super::{Checked, overrides, schema};
use reader::{Placed, Reader, Section};

/// The longest title, in characters.
const LONGEST_TITLE: usize = 120;

/// The beginning of the file.
static TOP: Origin = Origin { source: Source::File, range: 0..0 };

/// Reads, overrides and checks; see [`super::load`].
pub(super) fn load(
    source: &str,
    file: &str,
    set: &[(String, String)],
    catalogue: &Catalogue,
) -> Result<Checked, Vec<Diagnostic>> {
    let (mut document, syntax) = Document::parse(source);
    let mut faults = Vec::new();
    overrides::apply(&mut document, set, &mut faults);

    let mut reader = Reader::new(&document, catalogue, file);
    // Where a table or key may have been lost to a syntax error, do not ask for it as well.
    reader.ask_for_missing = syntax.iter().all(syntax::loses_nothing);
    let scenario = scenario(&mut reader);
    let mut found = reader.faults;
    syntax::drop_consequences(&mut found, &syntax, source);
    faults.append(&mut found);
    faults.extend(syntax.iter().map(|error| syntax::diagnostic(error, source, file)));
    in_reading_order(&mut faults, &document);

    let broken = faults.iter().any(|fault| fault.severity == Severity::Error);
    match scenario {
        Some(scenario) if !broken => Ok(Checked { scenario, warnings: faults }),
        _ => Err(faults),
    }
}

/// Faults of the file first, from top to bottom, then those of overrides in their order.
fn in_reading_order(faults: &mut [Diagnostic], document: &Document) {
    let index = |fault: &Diagnostic| match &fault.set {
        None => Source::File,
        Some(text) => Source::Set(document.sets.iter().position(|set| set == text).unwrap_or(usize::MAX)),
    };
    faults.sort_by_key(|fault| {
        let start = fault.span.as_ref().map_or(usize::MAX, |span| span.start);
        (index(fault), start)
    });
}

fn scenario(reader: &mut Reader<'_>) -> Option<Scenario> {
    let document = reader.document;
    unknown_keys(reader);
    let title = title(reader);
    let place = place::place(reader);
    let when = place::when(reader, place.as_ref());
    let sky = conditions::sky(reader);
    let water = conditions::water(reader);
    let base = sky.as_ref().zip(water.as_ref().map(|w| w.clarity));
    let hours = hours::hours(reader, place.as_ref(), when.as_ref(), base);
    let fish = fish::fish(reader);
    let forage = fish::forage(reader);
    let tackle = tackle::tackle(reader);
    let baits = baits::baits(reader);

    // Checks of one table against another come last, and only for what could be read.
    fish::against_water(reader, document);
    fish::forage_against_fish(reader, document);
    if let Some(fish) = &fish {
        fish::against_heat(reader, document, fish.species);
    }
    baits::against_fish(reader, &baits, document);

    let baits = baits?;
    let mut scenario = Scenario {
        title,
        place: place?.value,
        when: when?,
        sky: sky?,
        water: water?,
        hours: hours?,
        fish: fish?,
        forage: forage?,
        tackle: tackle?,
        baits: baits.into_iter().map(|bait| bait.value).collect(),
    };
    let (sky, clarity) = scenario.conditions_at(scenario.when.unix_s);
    (scenario.sky, scenario.water.clarity) = (sky.clone(), clarity);
    Some(scenario)
}

/// The table of a name without complaint when it is not there: for checks across tables.
fn quiet_section<'a>(document: &'a Document, name: &'static str) -> Option<Section<'a>> {
    let entry = super::document::entry(&document.root, name)?;
    match &entry.value.value {
        Value::Table(entries) => Some(Section { name, entries, at: &entry.value.at }),
        _ => None,
    }
}

/// A quantity without complaint: for checks across tables, whose parts have been complained of already.
fn quiet_quantity(
    reader: &Reader<'_>,
    document: &Document,
    section: &'static str,
    name: &str,
) -> Option<Placed<f64>> {
    let mut silent = Reader::new(document, reader.catalogue, "");
    silent.ask_for_missing = false;
    let section = quiet_section(document, section)?;
    silent.quantity(&section, name)
}

fn unknown_keys(reader: &mut Reader<'_>) {
    let document = reader.document;
    reader.unknown_keys(&document.root, "");
    for section in schema::SECTIONS {
        if let Some(section) = quiet_section(document, section) {
            reader.unknown_keys(section.entries, section.name);
        }
    }
}

fn title(reader: &mut Reader<'_>) -> String {
    let document = reader.document;
    let top = Section { name: "", entries: &document.root, at: &TOP };
    let Some(title) = reader.text(&top, "title") else { return "untitled".to_string() };
    if title.value.chars().count() > LONGEST_TITLE {
        let label = format!("{} characters", title.value.chars().count());
        let help = format!("keep it to {LONGEST_TITLE} characters; put the rest into a comment after #");
        reader.fault(&title.at, "the title is too long", label, help);
    }
    super::diagnostic::printable(title.value).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A name a file gives to something of its own, fit to be shown, or a fault.
fn own_name(reader: &mut Reader<'_>, name: &Placed<&str>) -> Option<String> {
    let tidy = name.value.split_whitespace().collect::<Vec<_>>().join(" ");
    if tidy.is_empty() {
        reader.fault(&name.at, "the name is empty", "", "write a name, or take the key away");
        return None;
    }
    Some(visible(&tidy))
}
