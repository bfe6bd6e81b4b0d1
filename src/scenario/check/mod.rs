//! From a document to a checked scenario: all faults are found in one go, none stops the search.
//!
//! What one key says is read by the table of keys; here stands what takes several, or a reading of its own.

mod baits;
mod fit;
mod hours;
mod place;

use super::catalogue::Catalogue;
use super::diagnostic::{Diagnostic, Severity, printable, visible};
use super::document::{Document, TOP};
use super::reader::{Placed, Reader, Table};
use super::schema::{self, KEYS, Keyed};
use super::types::Scenario;
use super::{Checked, overrides, syntax};
use crate::units::UnitSystem;

/// The longest title, in characters.
const LONGEST_TITLE: usize = 120;

/// Reads, overrides and checks; see [`super::load`].
pub(super) fn load(
    source: &str,
    file: &str,
    set: &[(String, String)],
    catalogue: &Catalogue,
) -> Result<Checked, Vec<Diagnostic>> {
    let (mut document, errors) = Document::parse(source);
    let unknown = overrides::apply(&mut document, set);
    let mut reader = Reader::new(file);
    reader.sets = &document.sets;
    // Where a table or key may have been lost to a syntax error, do not ask for it as well.
    reader.ask_for_missing = errors.iter().all(syntax::loses_nothing);
    let scenario = scenario(&mut reader, &document, catalogue);
    reader.faults.extend(unknown);
    let faults = reader.finish(&errors, source);
    let broken = faults.iter().any(|fault| fault.severity == Severity::Error);
    match scenario {
        Some(scenario) if !broken => Ok(Checked { scenario, warnings: faults }),
        _ => Err(faults),
    }
}

/// Every table of a scenario that is there.
struct Tables<'a>(Vec<Table<'a>>);

impl<'a> Tables<'a> {
    fn table(&self, section: &str) -> Option<&Table<'a>> {
        self.0.iter().find(|table| table.section == section)
    }

    /// The number at `section.name`, if it could be read.
    fn number(&self, path: &str) -> Option<Placed<f64>> {
        let (section, name) = path.split_once('.').unwrap_or(("", path));
        self.table(section)?.number(name)
    }

    /// The text at `section.name`, if it could be read.
    fn text(&self, path: &str) -> Option<Placed<&str>> {
        let (section, name) = path.split_once('.').unwrap_or(("", path));
        self.table(section)?.text(name)
    }
}

/// Puts everything that tables give into the fields of `all`.
fn fill<T: Keyed>(all: &mut T, tables: &[Table]) {
    for (key, said) in tables.iter().flat_map(|table| &table.given) {
        if let Some(access) = T::access(&key.field) {
            (access.set)(all, &said.value);
        }
    }
}

/// The scenario, as far as it could be read: fields without a fault of their own may be missing their value.
fn scenario(reader: &mut Reader<'_>, document: &Document, catalogue: &Catalogue) -> Option<Scenario> {
    let mut tables = Tables(vec![reader.table(KEYS, "", &document.root, &TOP, catalogue)]);
    tables.0.extend(schema::SECTIONS.iter().filter_map(|name| reader.section(document, name, catalogue)));
    let mut scenario = Scenario::default();
    fill(&mut scenario, &tables.0);
    scenario.title = title(reader, &tables);
    let zone = place::zone(reader, &tables);
    let when = place::when(reader, &tables, zone.as_ref());
    let hours = hours::hours(reader, document, catalogue, zone.as_ref(), when.as_ref(), &scenario);
    usual_forage(&mut scenario, &tables, catalogue);
    diameter(reader, &mut scenario, &tables, catalogue);
    let baits = baits::baits(reader, document, &tables, catalogue);

    // Checks of one table against another come last, and only for what could be read.
    fit::fish_in_water(reader, &tables);
    fit::forage_for_fish(reader, &tables);
    fit::fish_in_warm_water(reader, &tables, catalogue);
    fit::cast_over_water(reader, &tables);
    fit::baits_for_fish(reader, &tables, baits.as_deref());

    scenario.place.zone = zone?.name;
    scenario.when = when?;
    scenario.hours = hours?;
    scenario.baits = baits?.into_iter().map(|bait| bait.value).collect();
    let (sky, clarity) = scenario.conditions_at(scenario.when.unix_s);
    (scenario.sky, scenario.water.clarity) = (sky.clone(), clarity);
    Some(scenario)
}

fn title(reader: &mut Reader<'_>, tables: &Tables) -> String {
    let Some(title) = tables.text("title") else { return "untitled".to_string() };
    if title.value.chars().count() > LONGEST_TITLE {
        let label = format!("{} characters", title.value.chars().count());
        let help = format!("keep it to {LONGEST_TITLE} characters; put the rest into a comment after #");
        reader.fault(&title.at, "the title is too long", label, help);
    }
    printable(title.value).split_whitespace().collect::<Vec<_>>().join(" ")
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

/// Prey without a length has the usual one of its kind.
fn usual_forage(scenario: &mut Scenario, tables: &Tables, catalogue: &Catalogue) {
    if tables.table("forage").is_some_and(|table| table.entry("length").is_none())
        && let Some((_, usual)) = catalogue.forage(&scenario.forage.kind)
    {
        scenario.forage.length_m = *usual;
    }
}

/// The diameter of a line whose strength is given.
fn diameter(reader: &mut Reader<'_>, scenario: &mut Scenario, tables: &Tables, catalogue: &Catalogue) {
    let Some(strength) = tables.number("tackle.strength") else { return };
    let Some(line) = catalogue.line(&scenario.tackle.line) else { return };
    let Some((low, high)) = schema::limits("tackle.diameter") else { return };
    let diameter_m = line.diameter_m(strength.value);
    if (low..=high).contains(&diameter_m) {
        scenario.tackle.diameter_m = diameter_m;
        return;
    }
    let thick = UnitSystem::Metric.short_length(diameter_m);
    let label = format!("{} this strong would be {thick} thick", line.name);
    let help = "write the strength printed on the spool, or the diameter instead";
    reader.fault(&strength.at, "the line's strength gives no usable diameter", label, help);
}
