//! The fish, what they eat, and whether both fit into the water.

use super::quiet_quantity;
use super::reader::Reader;
use crate::scenario::document::Document;
use crate::scenario::types::{Fish, Forage, Phase, PhaseChoice, Pressure, Species};
use crate::units::UnitSystem;

/// How many standard deviations of depth count as "where the fish are" in warnings: 95 in 100 of them.
const SPREADS: f64 = 2.0;

pub(super) fn fish(reader: &mut Reader<'_>) -> Option<Fish> {
    let section = reader.section("fish")?;
    let species = reader.word(&section, "species").and_then(|word| Species::from_label(word.value));
    let length = reader.quantity(&section, "length");
    let depth = reader.quantity(&section, "depth");
    let spread = reader.quantity(&section, "depth_spread");
    let pressure = reader.word(&section, "pressure").and_then(|word| Pressure::from_label(word.value));
    let phase = match reader.document.find("fish", "phase") {
        None => Some(PhaseChoice::FromTemperature),
        Some(_) => reader.word(&section, "phase").map(|word| {
            Phase::from_label(word.value).map_or(PhaseChoice::FromTemperature, PhaseChoice::Named)
        }),
    };
    let density = match reader.document.find("fish", "density") {
        None => Some(None),
        Some(_) => reader.quantity(&section, "density").map(|density| Some(density.value)),
    };
    let reachable = match reader.document.find("fish", "reachable") {
        None => Some(None),
        Some(_) => reader.number(&section, "reachable").map(|share| Some(share.value)),
    };
    Some(Fish {
        species: species?,
        length_m: length?.value,
        depth_m: depth?.value,
        depth_spread_m: spread?.value,
        phase: phase?,
        pressure: pressure?,
        density_per_ha: density?,
        reachable: reachable?,
    })
}

pub(super) fn forage(reader: &mut Reader<'_>) -> Option<Forage> {
    let section = reader.section("forage")?;
    let kind = reader.word(&section, "kind");
    let given = reader.document.find("forage", "length").is_some();
    let length = reader.quantity(&section, "length").map(|length| length.value);
    let kind = kind?.value;
    let usual = reader.catalogue.forage(kind).map(|(_, usual)| *usual);
    Some(Forage { kind: kind.to_string(), length_m: if given { length? } else { usual? } })
}

/// Fish below the bottom are a fault; fish whose spread reaches bottom or surface are a doubt.
pub(super) fn against_water(reader: &mut Reader<'_>, document: &Document) {
    let Some(depth) = quiet_quantity(reader, document, "fish", "depth") else { return };
    let spread = quiet_quantity(reader, document, "fish", "depth_spread");
    let bottom = quiet_quantity(reader, document, "water", "bottom");
    let said = |metres: f64| UnitSystem::Metric.length(metres);
    if let Some(bottom) = &bottom
        && depth.value > bottom.value
    {
        let label = format!("{} down, in water {} deep", said(depth.value), said(bottom.value));
        let help = "raise the fish, or make [water] bottom deeper";
        reader.fault(&depth.at, "the fish are below the bottom", label, help);
        return;
    }
    let Some(spread) = spread else { return };
    let reach = SPREADS * spread.value;
    if let Some(bottom) = &bottom
        && depth.value + reach > bottom.value
    {
        let label = format!("one fish in forty deeper than {}", said(depth.value + reach));
        let help = format!(
            "fish are kept above the bottom at {}; a smaller spread says so plainly",
            said(bottom.value)
        );
        reader.warn(&spread.at, "the spread of depths reaches the bottom", label, help);
    }
    if reach > depth.value {
        let label = format!("twice this is more than their depth of {}", said(depth.value));
        let help = "fish are kept below the surface; a smaller spread says so plainly";
        reader.warn(&spread.at, "the spread of depths reaches the surface", label, help);
    }
}

/// Water in which the fish no longer feed is a doubt.
pub(super) fn against_heat(reader: &mut Reader<'_>, document: &Document, species: Species) {
    let Some(water) = quiet_quantity(reader, document, "water", "temperature") else { return };
    let limit_c = reader.catalogue.too_warm_c[usize::from(species == Species::Smallmouth)];
    if water.value >= limit_c {
        let said = |celsius: f64| UnitSystem::Metric.temperature(celsius);
        let label = format!("{} feed no more from about {}", species.label(), said(limit_c));
        let help =
            "every bait will draw nothing in most worlds; write the temperature at the depth of the fish";
        reader.warn(&water.at, "the water is too warm for these fish", label, help);
    }
}

/// A forage as long as the fish is no forage.
pub(super) fn forage_against_fish(reader: &mut Reader<'_>, document: &Document) {
    let fish = quiet_quantity(reader, document, "fish", "length");
    let forage = quiet_quantity(reader, document, "forage", "length");
    let (Some(fish), Some(forage)) = (fish, forage) else { return };
    if forage.value >= fish.value {
        let said = |metres: f64| UnitSystem::Metric.short_length(metres);
        let label = format!("{}, and the fish are {}", said(forage.value), said(fish.value));
        reader.fault(
            &forage.at,
            "the forage is as long as the fish",
            label,
            "write the length of what they eat",
        );
    }
}
