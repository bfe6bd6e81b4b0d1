//! A checked scenario as the text of a file that [`super::load`] reads back to the same.

use super::Catalogue;
use super::types::{Bait, Cast, Clarity, PhaseChoice, Scenario, Sky};
use crate::units::Dimension;
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
    let s = scenario;
    let mut out = format!("title = {}\n", text(&s.title));
    section(&mut out, "place");
    number(&mut out, "latitude", s.place.latitude_deg);
    number(&mut out, "longitude", s.place.longitude_deg);
    let offset = s.place.zone.starts_with(['+', '-']);
    words(&mut out, if offset { "utc_offset" } else { "zone" }, &s.place.zone);
    section(&mut out, "when");
    words(&mut out, "date", &s.when.date.to_string());
    words(&mut out, "time", &s.when.time.to_string());
    // With an hourly table the day begins with its first row; what is in force at the time asked for follows.
    let (at_first, clarity) = s.hours.first().map_or((&s.sky, s.water.clarity), |h| (&h.sky, h.clarity));
    section(&mut out, "sky");
    sky(&mut out, at_first);
    if at_first.moon > 0.0 {
        number(&mut out, "moon", at_first.moon);
    }
    section(&mut out, "water");
    clear(&mut out, clarity);
    words(&mut out, "tint", s.water.tint.label());
    words(&mut out, "temperature", &Dimension::Temperature.write(s.water.temperature_c));
    words(&mut out, "bottom", &Dimension::Length.write(s.water.bottom_m));
    fish(&mut out, s);
    tackle(&mut out, s);
    section(&mut out, "box");
    the_box(&mut out, &s.baits, catalogue);
    for hour in s.hours.iter().skip(1) {
        out.push_str("\n[[hour]]\n");
        words(&mut out, "at", &hour.at.to_string());
        sky(&mut out, &hour.sky);
        clear(&mut out, hour.clarity);
    }
    out
}

fn sky(out: &mut String, sky: &Sky) {
    number(out, "cloud", sky.cloud);
    words(out, "wind", &Dimension::Speed.write(sky.wind_m_s));
    words(out, "rain", sky.rain.label());
}

fn clear(out: &mut String, clarity: Clarity) {
    match clarity {
        Clarity::Secchi(depth_m) => words(out, "secchi", &Dimension::Length.write(depth_m)),
        Clarity::Turbidity(ntu) => words(out, "turbidity", &Dimension::Turbidity.write(ntu)),
    }
}

fn fish(out: &mut String, s: &Scenario) {
    section(out, "fish");
    words(out, "species", s.fish.species.label());
    words(out, "length", &Dimension::Length.write(s.fish.length_m));
    words(out, "depth", &Dimension::Length.write(s.fish.depth_m));
    words(out, "depth_spread", &Dimension::Length.write(s.fish.depth_spread_m));
    let phase = match s.fish.phase {
        PhaseChoice::FromTemperature => "from temperature",
        PhaseChoice::Named(phase) => phase.label(),
    };
    words(out, "phase", phase);
    words(out, "pressure", s.fish.pressure.label());
    if let Some(per_ha) = s.fish.density_per_ha {
        words(out, "density", &Dimension::FishDensity.write(per_ha));
    }
    if let Some(share) = s.fish.reachable {
        number(out, "reachable", share);
    }
    section(out, "forage");
    words(out, "kind", &s.forage.kind);
    words(out, "length", &Dimension::Length.write(s.forage.length_m));
}

fn tackle(out: &mut String, s: &Scenario) {
    section(out, "tackle");
    words(out, "line", &s.tackle.line);
    words(out, "diameter", &Dimension::Length.write(s.tackle.diameter_m));
    match s.tackle.cast {
        Cast::LineOut(line_m) => words(out, "cast", &Dimension::Length.write(line_m)),
        Cast::Launch(speed_m_s) => words(out, "launch", &Dimension::Speed.write(speed_m_s)),
    }
    words(out, "speed", &Dimension::Speed.write(s.tackle.speed_m_s));
    number(out, "pause", s.tackle.pause);
    words(out, "rod_tip", &Dimension::Length.write(s.tackle.rod_tip_m));
}

fn the_box(out: &mut String, baits: &[Bait], catalogue: &Catalogue) {
    if baits.iter().all(|b| of_catalogue(b, catalogue)) {
        let names: Vec<String> = baits.iter().map(|b| format!("    {},\n", text(&b.name))).collect();
        let _ = writeln!(out, "use = [\n{}]", names.concat());
        return;
    }
    for b in baits {
        out.push_str("\n[[box.bait]]\n");
        words(out, "name", &b.name);
        words(out, "length", &Dimension::Length.write(b.length_m));
        words(out, "lip", b.lip.label());
        words(out, "sound", b.sound.label());
        words(out, "finish", &b.finish);
        words(out, "mass", &Dimension::Mass.write(b.mass_kg));
        words(out, "height", &Dimension::Length.write(b.height_m));
        words(out, "width", &Dimension::Length.write(b.width_m));
        words(out, "lip_area", &Dimension::Area.write(b.lip_area_m2));
        words(out, "lip_angle", &Dimension::Angle.write(b.lip_incidence_deg));
        let _ = writeln!(out, "trebles = {}", b.trebles);
        words(out, "buoyancy", &Dimension::Force.write(b.buoyancy_n));
        if let Some(runs_m) = b.runs_m {
            words(out, "runs", &Dimension::Length.write(runs_m));
        }
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

// Writing to a String cannot fail, hence the results that are let go.

fn section(out: &mut String, name: &str) {
    let _ = write!(out, "\n[{name}]\n");
}

fn words(out: &mut String, key: &str, value: &str) {
    let _ = writeln!(out, "{key} = {}", text(value));
}

fn number(out: &mut String, key: &str, value: f64) {
    // `{:?}` is the shortest text that reads back to the same bits, with the point that TOML wants.
    let _ = writeln!(out, "{key} = {value:?}");
}

/// A basic string of TOML.
fn text(value: &str) -> String {
    let mut out = String::with_capacity(value.len() + 2);
    out.push('"');
    for c in value.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04x}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
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
