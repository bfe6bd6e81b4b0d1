//! Line, cast and retrieve.

use super::reader::{Placed, Reader, Section, misspelt};
use crate::scenario::schema::{self, Kind};
use crate::scenario::types::{Cast, Tackle};
use crate::units::UnitSystem;

pub(super) fn tackle(reader: &mut Reader<'_>) -> Option<Tackle> {
    let section = reader.section("tackle")?;
    let line = reader.word(&section, "line").map(|word| word.value.to_string());
    let diameter = diameter(reader, &section, line.as_deref());
    let cast = cast(reader, &section);
    let speed = reader.quantity(&section, "speed");
    let pause = reader.number(&section, "pause");
    let rod_tip = reader.quantity(&section, "rod_tip");
    if let (Some(Placed { value: Cast::LineOut(line_out_m), at }), Some(rod_tip)) = (&cast, &rod_tip)
        && *line_out_m <= rod_tip.value
    {
        let label = format!("the rod tip is {} above the water", UnitSystem::Metric.length(rod_tip.value));
        let help = "make the cast longer or lower the rod tip";
        reader.fault(at, "the cast does not reach the water", label, help);
    }
    Some(Tackle {
        line: line?,
        diameter_m: diameter?,
        cast: cast?.value,
        speed_m_s: speed?.value,
        pause: pause?.value,
        rod_tip_m: rod_tip?.value,
    })
}

/// The cast, given or left to the flight of the bait: exactly one of the two.
fn cast<'a>(reader: &mut Reader<'a>, section: &Section<'a>) -> Option<Placed<Cast>> {
    let there = |key: &str| section.entries.iter().find(|entry| entry.key == key);
    let mut read = |key: &str, of: fn(f64) -> Cast| {
        reader.quantity(section, key).map(|placed| Placed { value: of(placed.value), at: placed.at })
    };
    match (there("cast"), there("launch")) {
        (Some(line_out), Some(launch)) => {
            read("cast", Cast::LineOut);
            read("launch", Cast::Launch);
            let second =
                if line_out.key_at.range.start < launch.key_at.range.start { launch } else { line_out };
            let help = "keep the cast where you know it; launch works it out from the weight of each bait";
            let title = "[tackle] has both `cast` and `launch`";
            reader.fault(&second.key_at, title, "a second measure of the same cast", help);
            None
        }
        (Some(_), None) => read("cast", Cast::LineOut),
        (None, Some(_)) => read("launch", Cast::Launch),
        (None, None) => {
            let misspelt = ["cast", "launch"].iter().any(|key| misspelt(section.entries, "tackle", key));
            if reader.ask_for_missing && !misspelt {
                let help = "add cast = \"27 m\" (line out when the bait lands) or launch = \"25 m/s\"";
                reader.fault(section.at, "[tackle] does not say how far the cast goes", "needs a cast", help);
            }
            None
        }
    }
}

/// The diameter, given or found from the strength: exactly one of the two.
fn diameter<'a>(reader: &mut Reader<'a>, section: &Section<'a>, line: Option<&str>) -> Option<f64> {
    let there = |key: &str| section.entries.iter().find(|entry| entry.key == key);
    match (there("diameter"), there("strength")) {
        (Some(diameter), Some(strength)) => {
            let second =
                if diameter.key_at.range.start < strength.key_at.range.start { strength } else { diameter };
            let help = "keep the diameter, which is what the water feels; strength is turned into it";
            let title = "[tackle] has both `diameter` and `strength`";
            reader.fault(&second.key_at, title, "a second measure of the same line", help);
            reader.quantity(section, "diameter");
            reader.quantity(section, "strength");
            None
        }
        (Some(_), None) => reader.quantity(section, "diameter").map(|diameter| diameter.value),
        (None, Some(_)) => {
            let strength = reader.quantity(section, "strength")?;
            from_strength(reader, &strength, line?)
        }
        (None, None) => {
            let misspelt =
                ["diameter", "strength"].iter().any(|key| misspelt(section.entries, "tackle", key));
            if reader.ask_for_missing && !misspelt {
                let help = "add diameter = \"0.28 mm\" or strength = \"10 lb\"";
                reader.fault(
                    section.at,
                    "[tackle] does not say how thick the line is",
                    "needs its line",
                    help,
                );
            }
            None
        }
    }
}

fn from_strength(reader: &mut Reader<'_>, strength: &Placed<f64>, line: &str) -> Option<f64> {
    let diameter_m = reader.catalogue.line(line)?.diameter_m(strength.value);
    let Some(Kind::Quantity { limits, .. }) = schema::find("tackle.diameter").map(|key| &key.kind) else {
        return None;
    };
    if (limits.low..=limits.high).contains(&diameter_m) {
        return Some(diameter_m);
    }
    let label = format!("{line} this strong would be {} thick", UnitSystem::Metric.short_length(diameter_m));
    let help = "write the strength printed on the spool, or the diameter instead";
    reader.fault(&strength.at, "the line's strength gives no usable diameter", label, help);
    None
}
