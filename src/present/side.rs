//! What is varied, in the reader's words and units.

use super::view::View;
use crate::study::axis::{Axis, Values, names::value_in};
use crate::units::{Dimension, UnitSystem, significant};

/// An axis as it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// What is varied: "depth of the fish".
    pub name: String,
    /// Its unit, or nothing.
    pub unit: &'static str,
    /// Its values in that unit (hours for the time of day; places for words).
    pub values: Vec<f64>,
    /// Words, where it has words.
    pub words: Option<Vec<String>>,
    /// Equal ratios between steps.
    pub logarithmic: bool,
    /// Counted downwards, as depths of water are.
    pub downward: bool,
    /// Where the scenario itself stands, if on the axis.
    pub here: Option<f64>,
    hours: bool,
}

/// What the values are called in an answer.
const NAMES: &[(&str, &str)] = &[
    ("place.latitude", "latitude"),
    ("place.longitude", "longitude"),
    ("when.time", "local time"),
    ("sky.cloud", "share of the sky clouded"),
    ("sky.wind", "wind speed"),
    ("sky.rain", "rain"),
    ("water.secchi", "Secchi depth"),
    ("water.turbidity", "turbidity"),
    ("water.tint", "tint"),
    ("water.temperature", "water temperature"),
    ("water.bottom", "bottom depth"),
    ("fish.species", "species"),
    ("fish.length", "length of the fish"),
    ("fish.depth", "fish depth"),
    ("fish.depth_spread", "spread of the fish's depth"),
    ("fish.phase", "phase"),
    ("fish.pressure", "fishing pressure"),
    ("fish.density", "density of fish"),
    ("forage.kind", "prey"),
    ("forage.length", "length of the prey"),
    ("tackle.line", "line material"),
    ("tackle.diameter", "line diameter"),
    ("tackle.strength", "line strength"),
    ("tackle.cast", "cast"),
    ("tackle.speed", "speed of the retrieve"),
    ("tackle.pause", "share of the time paused"),
    ("tackle.rod_tip", "height of the rod tip"),
    ("bait.length", "length of the bait"),
    ("bait.lip", "lip"),
    ("bait.sound", "sound of the bait"),
    ("bait.finish", "finish"),
    ("bait.mass", "mass of the bait"),
    ("bait.lip_area", "area of the lip"),
    ("bait.lip_angle", "angle of the lip"),
    ("bait.height", "height of the bait"),
    ("bait.width", "width of the bait"),
    ("bait.trebles", "number of treble hooks"),
    ("bait.buoyancy", "buoyancy of the bait"),
    ("bait.runs", "running depth"),
];

/// Lengths of things held in the hand, said in millimetres or inches.
const SHORT: &[&str] = &["bait.length", "bait.height", "bait.width", "tackle.diameter"];
/// Lengths of animals, said in centimetres or inches.
const BODIES: &[&str] = &["fish.length", "forage.length"];

/// A number of the unit kept in the reader's unit.
fn shown(units: UnitSystem, path: &str, dimension: Option<Dimension>, kept: f64) -> (f64, &'static str) {
    let us = units == UnitSystem::Us;
    match dimension {
        None => match path {
            "place.latitude" => (kept, "° north"),
            "place.longitude" => (kept, "° east"),
            _ => (kept, ""),
        },
        Some(Dimension::Length) if SHORT.contains(&path) => units.short_length_value(kept),
        Some(Dimension::Length) if BODIES.contains(&path) => {
            if us {
                units.short_length_value(kept)
            } else {
                (100.0 * kept, "cm")
            }
        }
        Some(Dimension::Length) => units.length_value(kept),
        Some(Dimension::Temperature) => {
            let (value, unit) = units.temperature_value(kept);
            (value, if unit == "F" { "°F" } else { "°C" })
        }
        Some(Dimension::Speed) => units.speed_value(kept),
        Some(Dimension::Force) => units.force_value(kept),
        Some(Dimension::Mass) => {
            if us {
                (kept / 0.028_349_523_125, "oz")
            } else {
                (1e3 * kept, "g")
            }
        }
        Some(Dimension::Area) => {
            if us {
                (kept / 6.4516e-4, "sq in")
            } else {
                (1e4 * kept, "cm²")
            }
        }
        Some(Dimension::Angle) => (kept, "°"),
        Some(Dimension::Turbidity) => (kept, "NTU"),
        Some(Dimension::FishDensity) => (kept, "per ha"),
    }
}

impl Side {
    /// An axis in the reader's units.
    pub fn of(view: &View, axis: &Axis) -> Self {
        let dimension = match axis.values {
            Values::Numbers { dimension, .. } => dimension,
            _ => None,
        };
        let convert = |v: f64| shown(view.units, axis.path, dimension, v);
        let words = match &axis.values {
            Values::Words(words) => Some(words.clone()),
            _ => None,
        };
        let name = NAMES.iter().find(|n| n.0 == axis.path).map_or(axis.about, |n| n.1);
        let hours = matches!(axis.values, Values::Hours(_));
        let values: Vec<f64> = axis.numbers().into_iter().map(|v| convert(v).0).collect();
        let (first, last) = (values.first().copied(), values.last().copied());
        let here = value_in(view.scenario, axis.path).map(|v| convert(v).0);
        Self {
            here: here.filter(|h| {
                words.is_none() && first.is_some_and(|f| f <= *h) && last.is_some_and(|l| *h <= l)
            }),
            name: name.to_owned(),
            unit: if hours { "h" } else { convert(1.0).1 },
            values,
            words,
            logarithmic: axis.is_logarithmic(),
            downward: matches!(axis.path, "fish.depth" | "water.bottom"),
            hours,
        }
    }

    /// Number of steps.
    pub fn len(&self) -> usize {
        self.values.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.values.is_empty()
    }

    /// The title of an axis of a picture: "depth of the fish (m)".
    pub fn title(&self) -> String {
        match (self.hours, self.unit) {
            (true, _) => format!("{} (hours)", self.name),
            (_, "") => self.name.clone(),
            (_, unit) => format!("{} ({})", self.name, unit.trim_start_matches("° ")),
        }
    }

    /// A number of the reader's unit with as many digits as steps need: "3.44 m", "07:30", "20 °C".
    pub fn value(&self, value: f64) -> String {
        self.with_digits(value, 3)
    }

    /// The same with no more digits than a sentence needs: "3.4 m".
    pub fn said(&self, value: f64) -> String {
        self.with_digits(value, 2)
    }

    fn with_digits(&self, value: f64, digits: usize) -> String {
        if self.hours {
            let minutes = (60.0 * value).round() as u32;
            return format!("{:02}:{:02}", minutes / 60, minutes % 60);
        }
        let text = significant(value, digits);
        let text = if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            text
        };
        match self.unit {
            "" => text,
            unit if unit.starts_with('°') && !unit.ends_with(['C', 'F']) => format!("{text}{unit}"),
            unit => format!("{text} {unit}"),
        }
    }

    /// Step number `i` in words.
    pub fn step(&self, i: usize) -> String {
        match &self.words {
            Some(words) => words.get(i).cloned().unwrap_or_default(),
            None => self.values.get(i).map_or(String::new(), |v| self.value(*v)),
        }
    }

    /// Step number `i` in a sentence.
    pub fn said_step(&self, i: usize) -> String {
        match &self.words {
            Some(_) => self.step(i),
            None => self.values.get(i).map_or(String::new(), |v| self.said(*v)),
        }
    }

    /// "Secchi depth from 0.5 m to 6 m in 12 equal ratios".
    pub fn described(&self) -> String {
        match &self.words {
            Some(words) => format!("{}: {}", self.name, words.join(", ")),
            None => {
                let last = self.len().saturating_sub(1);
                let how = if self.logarithmic { "equal ratios" } else { "equal steps" };
                format!(
                    "{} from {} to {}, {} values in {how}",
                    self.name,
                    self.step(0),
                    self.step(last),
                    self.len()
                )
            }
        }
    }
}
