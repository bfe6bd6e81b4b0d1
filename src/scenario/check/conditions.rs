//! Sky and water.

use super::reader::{Reader, Section, misspelt};
use crate::scenario::types::{Clarity, Rain, Sky, Tint, Water};

pub(super) fn sky(reader: &mut Reader<'_>) -> Option<Sky> {
    let section = reader.section("sky")?;
    let cloud = reader.number(&section, "cloud");
    let wind = reader.quantity(&section, "wind");
    let dry = reader.document.find("sky", "rain").is_none();
    let rain = if dry {
        Some(Rain::None)
    } else {
        reader.word(&section, "rain").and_then(|w| Rain::from_label(w.value))
    };
    let moon = match reader.document.find("sky", "moon") {
        None => Some(0.0),
        Some(_) => reader.number(&section, "moon").map(|lit| lit.value),
    };
    Some(Sky { cloud: cloud?.value, wind_m_s: wind?.value, rain: rain?, moon: moon? })
}

pub(super) fn water(reader: &mut Reader<'_>) -> Option<Water> {
    let section = reader.section("water")?;
    let clarity = clarity(reader, &section);
    let tint = reader.word(&section, "tint").and_then(|word| Tint::from_label(word.value));
    let temperature = reader.quantity(&section, "temperature");
    let bottom = reader.quantity(&section, "bottom");
    Some(Water { clarity: clarity?, tint: tint?, temperature_c: temperature?.value, bottom_m: bottom?.value })
}

/// Clarity by Secchi depth or by turbidity: exactly one of the two.
fn clarity<'a>(reader: &mut Reader<'a>, section: &Section<'a>) -> Option<Clarity> {
    let there = |key: &str| section.entries.iter().find(|entry| entry.key == key);
    match (there("secchi"), there("turbidity")) {
        (Some(secchi), Some(turbidity)) => {
            let second =
                if secchi.key_at.range.start < turbidity.key_at.range.start { turbidity } else { secchi };
            let title = "[water] has both `secchi` and `turbidity`";
            let help = "keep one; Secchi depth is the better measure of how far a fish sees";
            reader.fault(&second.key_at, title, "a second measure of the same clarity", help);
            // Both values are still looked at, so that their own faults come out in one go.
            reader.quantity(section, "secchi");
            reader.quantity(section, "turbidity");
            None
        }
        (Some(_), None) => reader.quantity(section, "secchi").map(|secchi| Clarity::Secchi(secchi.value)),
        (None, Some(_)) => reader.quantity(section, "turbidity").map(|ntu| Clarity::Turbidity(ntu.value)),
        (None, None) => {
            let misspelt = ["secchi", "turbidity"].iter().any(|key| misspelt(section.entries, "water", key));
            if reader.ask_for_missing && !misspelt {
                let help = "add secchi = \"3.4 m\" (where a white disc disappears) or turbidity = \"4 NTU\"";
                reader.fault(section.at, "[water] does not say how clear it is", "needs its clarity", help);
            }
            None
        }
    }
}
