//! Whether the parts of a scenario fit each other: fish, water, prey, cast and baits.

use super::Tables;
use crate::scenario::catalogue::Catalogue;
use crate::scenario::document::Origin;
use crate::scenario::reader::{Placed, Reader};
use crate::scenario::types::{Bait, Species};
use crate::units::UnitSystem;

/// How many standard deviations of depth count as "where the fish are" in warnings: 95 in 100 of them.
const SPREADS: f64 = 2.0;
/// A bait longer than this share of the fish is doubted: bass eat prey up to about half their length
/// (Hoyle and Keast 1987, from memory).
const DOUBTFUL_SHARE: f64 = 0.6;

/// Fish below the bottom are a fault; fish whose spread reaches bottom or surface are a doubt.
pub(super) fn fish_in_water(reader: &mut Reader<'_>, tables: &Tables) {
    let Some(depth) = tables.number("fish.depth") else { return };
    let spread = tables.number("fish.depth_spread");
    let bottom = tables.number("water.bottom");
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
pub(super) fn fish_in_warm_water(reader: &mut Reader<'_>, tables: &Tables, catalogue: &Catalogue) {
    let species = tables.text("fish.species").and_then(|word| Species::from_label(word.value));
    let (Some(water), Some(species)) = (tables.number("water.temperature"), species) else { return };
    let limit_c = catalogue.too_warm_c[usize::from(species == Species::Smallmouth)];
    if water.value >= limit_c {
        let said = |celsius: f64| UnitSystem::Metric.temperature(celsius);
        let label = format!("{} feed no more from about {}", species.label(), said(limit_c));
        let help =
            "every bait will draw nothing in most worlds; write the temperature at the depth of the fish";
        reader.warn(&water.at, "the water is too warm for these fish", label, help);
    }
}

/// A forage as long as the fish is no forage.
pub(super) fn forage_for_fish(reader: &mut Reader<'_>, tables: &Tables) {
    let fish = tables.number("fish.length");
    let forage = tables.number("forage.length");
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

/// A cast no longer than the rod tip is high does not reach the water.
pub(super) fn cast_over_water(reader: &mut Reader<'_>, tables: &Tables) {
    let (Some(cast), Some(rod_tip)) = (tables.number("tackle.cast"), tables.number("tackle.rod_tip")) else {
        return;
    };
    if cast.value <= rod_tip.value {
        let label = format!("the rod tip is {} above the water", UnitSystem::Metric.length(rod_tip.value));
        let help = "make the cast longer or lower the rod tip";
        reader.fault(&cast.at, "the cast does not reach the water", label, help);
    }
}

/// Baits longer than the fish are a fault, baits of more than 0.6 of its length a doubt; baits named in
/// one place are spoken of in one message.
pub(super) fn baits_for_fish(reader: &mut Reader<'_>, tables: &Tables, baits: Option<&[Placed<Bait>]>) {
    let fish = tables.number("fish.length");
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
