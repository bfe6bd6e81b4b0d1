//! Every key of a scenario file: its kind, its limits, an example, what it is, and which field it fills.
//!
//! One row serves the reading, the check of unknown keys, the limits, the overrides (`--set water.secchi=2 m`), the
//! sweeps, and the writing of a scenario back. Limits are what a scenario may say at all; the narrower sweep range is
//! what is worth looking at. Both bound the input, they are not statements about nature.

use crate::units::Dimension;

use super::catalogue::Catalogue;
use super::types::{
    Bait, Cast, Clarity, Hour, Lip, PhaseChoice, Pressure, Rain, Scenario, Sound, Species, Tint,
};

/// A key, written `section.name` (no section at the top of a file).
#[derive(Debug)]
pub(crate) struct Key {
    pub path: &'static str,
    pub kind: Kind,
    /// Whether a table must have it; of a [`Pair`] it must have one.
    pub needed: bool,
    /// A value as it stands in a file.
    pub example: &'static str,
    pub about: &'static str,
    /// The field that it fills.
    pub field: Field,
}

/// What a key holds.
#[derive(Debug)]
pub(crate) enum Kind {
    /// A text with number and unit, within limits.
    Quantity { dimension: Dimension, limits: Limits },
    /// A number without unit, within limits.
    Number { limits: Limits },
    /// A whole number within limits.
    Whole { limits: Limits },
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A name from the catalogue.
    Finish,
    /// A name from the catalogue.
    Forage,
    /// A name from the catalogue: a prey, or a finish.
    Look,
    /// A name from the catalogue.
    Line,
    /// A name from the catalogue to start from.
    Body,
    /// Free text, a date, a time, a zone.
    Text,
    /// A text for people, on one line.
    Sentence,
    /// A short name of small letters, digits and hyphens.
    Id,
    /// A list of bait names, or `all`.
    Box,
    /// Read by hand.
    Other,
}

/// What a file says under a key.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Said {
    /// A number, in the unit it is kept in.
    Number(f64),
    /// A text; a word as the table or the catalogue spells it.
    Word(String),
}

impl Said {
    /// The number; none was said under a key of another kind.
    fn number(&self) -> f64 {
        match self {
            Said::Number(value) => *value,
            Said::Word(_) => f64::NAN,
        }
    }

    /// The text; empty under a key of another kind.
    fn word(&self) -> &str {
        match self {
            Said::Number(_) => "",
            Said::Word(word) => word,
        }
    }
}

/// How to take a value out of a `T` and put one in.
#[derive(Debug)]
pub(crate) struct Access<T> {
    /// The value as a file would say it; none where the file would not.
    pub get: fn(&T) -> Option<Said>,
    /// Puts in what was said.
    pub set: fn(&mut T, &Said),
}

/// Which field a key fills.
#[derive(Debug)]
pub(crate) enum Field {
    /// One of the scenario.
    Scenario(Access<Scenario>),
    /// One of a bait.
    Bait(Access<Bait>),
    /// One of a row of the hourly table.
    Hour(Access<Hour>),
    /// None that is filled as it stands.
    None,
}

/// Something whose fields are filled by keys.
pub(crate) trait Keyed: Sized + 'static {
    /// The access to a field of this.
    fn access(field: &Field) -> Option<&Access<Self>>;
}

macro_rules! keyed {
    ($($kind:ident)*) => {
        $(impl Keyed for $kind {
            fn access(field: &Field) -> Option<&Access<Self>> {
                match field {
                    Field::$kind(access) => Some(access),
                    _ => None,
                }
            }
        })*
    };
}

keyed! { Scenario Bait Hour }

/// A field of this number.
macro_rules! number {
    ($of:ident: $($field:ident).+) => {
        Field::$of(Access {
            get: |all| Some(Said::Number(all.$($field).+)),
            set: |all, said| all.$($field).+ = said.number(),
        })
    };
}

/// A field of this number that may be empty.
macro_rules! maybe {
    ($of:ident: $($field:ident).+) => {
        Field::$of(Access {
            get: |all| all.$($field).+.map(Said::Number),
            set: |all, said| all.$($field).+ = Some(said.number()),
        })
    };
}

/// A field that holds one of several measures: this variant of it.
macro_rules! measure {
    ($of:ident: $($field:ident).+ as $kind:ident::$variant:ident) => {
        Field::$of(Access {
            get: |all| match all.$($field).+ {
                $kind::$variant(value) => Some(Said::Number(value)),
                _ => None,
            },
            set: |all, said| all.$($field).+ = $kind::$variant(said.number()),
        })
    };
}

/// A field of this word.
macro_rules! word {
    ($of:ident: $($field:ident).+ as $kind:ident) => {
        Field::$of(Access {
            get: |all| Some(Said::Word(all.$($field).+.label().to_string())),
            set: |all, said| {
                if let Some(value) = $kind::from_label(said.word()) {
                    all.$($field).+ = value;
                }
            },
        })
    };
    ($of:ident: $($field:ident).+) => {
        Field::$of(Access {
            get: |all| Some(Said::Word(all.$($field).+.clone())),
            set: |all, said| all.$($field).+ = said.word().to_string(),
        })
    };
}

/// A field that is read by hand, and written as this text.
macro_rules! written {
    ($of:ident: $get:expr) => {
        Field::$of(Access { get: $get, set: |_, _| () })
    };
}

/// A table of keys, a row each: path, kind, example, meaning, `optional`, the field.
macro_rules! keys {
    ($($path:literal: $kind:expr, $example:literal, $about:literal $(, $mark:ident)? $(=> $field:expr)?;)*) => {
        &[$(key($path, $kind, $example, $about)$(.$mark())?$(.to($field))?),*]
    };
}
pub(crate) use keys;

/// What may be written, and what is worth sweeping over; in the unit the quantity is kept in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Limits {
    pub low: f64,
    pub high: f64,
    pub sweep: (f64, f64),
}

/// A key that a table must have and that fills no field.
pub(crate) const fn key(path: &'static str, kind: Kind, example: &'static str, about: &'static str) -> Key {
    Key { path, kind, needed: true, example, about, field: Field::None }
}

const fn quantity(dimension: Dimension, low: f64, high: f64, sweep: (f64, f64)) -> Kind {
    Kind::Quantity { dimension, limits: Limits { low, high, sweep } }
}

const fn number(low: f64, high: f64, sweep: (f64, f64)) -> Kind {
    Kind::Number { limits: Limits { low, high, sweep } }
}

/// A number that nothing is swept over.
pub(crate) const fn between(low: f64, high: f64) -> Kind {
    number(low, high, (low, high))
}

/// A quantity that nothing is swept over.
pub(crate) const fn from_to(dimension: Dimension, low: f64, high: f64) -> Kind {
    quantity(dimension, low, high, (low, high))
}

const fn whole(low: f64, high: f64, sweep: (f64, f64)) -> Kind {
    Kind::Whole { limits: Limits { low, high, sweep } }
}

impl Key {
    /// The same for a key that may be left out.
    pub(crate) const fn optional(mut self) -> Key {
        self.needed = false;
        self
    }

    /// Fills this field.
    const fn to(self, field: Field) -> Key {
        Key { field, ..self }
    }

    /// The key's section and name.
    pub fn split(&self) -> (&'static str, &'static str) {
        self.path.split_once('.').unwrap_or(("", self.path))
    }

    /// The key in messages: where it is set beside the file too, by its path.
    pub fn shown(&self) -> &'static str {
        match self.split() {
            ("rule" | "trial" | "row" | "pattern", name) => name,
            _ => self.path,
        }
    }

    /// The words that may be written, if there is a list of them.
    pub fn words<'a>(&'a self, catalogue: &'a Catalogue) -> Option<Vec<&'a str>> {
        match &self.kind {
            Kind::Choice(words) => Some(words.to_vec()),
            Kind::Finish => Some(catalogue.finishes.iter().map(String::as_str).collect()),
            Kind::Forage => Some(catalogue.forages.iter().map(|(kind, _)| kind.as_str()).collect()),
            Kind::Look => {
                let prey: Vec<&str> = catalogue.forages.iter().map(|(kind, _)| kind.as_str()).collect();
                let finishes = catalogue.finishes.iter().map(String::as_str);
                // A prey and a finish of one name are taken for the prey.
                let finishes: Vec<&str> = finishes.filter(|finish| !prey.contains(finish)).collect();
                Some([prey, finishes].concat())
            }
            Kind::Line => Some(catalogue.lines.iter().map(|line| line.name.as_str()).collect()),
            Kind::Body => Some(catalogue.baits.iter().map(|bait| bait.name.as_str()).collect()),
            _ => None,
        }
    }
}

use Dimension::{Angle, Area, FishDensity, Force, Length, Mass, Speed, Temperature, Turbidity};

/// Every key. Keys of `bait` are those of one `[[box.bait]]`; as overrides they apply to every bait. Keys of `hour`
/// are those of one `[[hour]]`; as overrides they are a whole column, `hour.cloud=09:00 0.2; 13:00 0.8`.
pub(crate) static KEYS: &[Key] = keys! {
    "title": Kind::Text, "\"Home lake, north bay\"", "what the scenario is called", optional
        => written!(Scenario: |all| Some(Said::Word(all.title.clone())));
    "place.latitude": number(-90.0, 90.0, (25.0, 50.0)), "36.4", "degrees north"
        => number!(Scenario: place.latitude_deg);
    "place.longitude": number(-180.0, 180.0, (-125.0, -65.0)), "-93.9", "degrees east; west is negative"
        => number!(Scenario: place.longitude_deg);
    "place.zone": Kind::Text, "\"America/Chicago\"", "the time zone by its IANA name", optional
        => written!(Scenario: |all| zone(all, false));
    "place.utc_offset": Kind::Text, "\"-05:00\"", "local time less UTC", optional
        => written!(Scenario: |all| zone(all, true));
    "when.date": Kind::Text, "\"2026-04-14\"", "year-month-day"
        => written!(Scenario: |all| Some(Said::Word(all.when.date.to_string())));
    "when.time": Kind::Text, "\"07:30\"", "the local clock time"
        => written!(Scenario: |all| Some(Said::Word(all.when.time.to_string())));
    "sky.cloud": number(0.0, 1.0, (0.0, 1.0)), "0.9", "share of the sky that is clouded, 0 to 1"
        => number!(Scenario: sky.cloud);
    "sky.wind": quantity(Speed, 0.0, 40.0, (0.0, 12.0)), "\"3 m/s\"", "wind speed" => number!(Scenario: sky.wind_m_s);
    "sky.rain": Kind::Choice(Rain::LABELS), "\"none\"", "rain on the water", optional
        => word!(Scenario: sky.rain as Rain);
    "sky.moon": number(0.0, 1.0, (0.0, 1.0)), "0.5", "lit share of a moon that is up, 0 to 1; 0 if it is down", optional
        => MOON;
    "water.secchi": quantity(Length, 0.05, 40.0, (0.3, 10.0)), "\"3.4 m\"", "Secchi depth", optional
        => measure!(Scenario: water.clarity as Clarity::Secchi);
    "water.turbidity": quantity(Turbidity, 0.05, 1000.0, (0.5, 100.0)), "\"4 NTU\"", "turbidity", optional
        => measure!(Scenario: water.clarity as Clarity::Turbidity);
    "water.tint": Kind::Choice(Tint::LABELS), "\"clear\"", "what colours the water"
        => word!(Scenario: water.tint as Tint);
    "water.temperature": quantity(Temperature, 0.0, 40.0, (4.0, 32.0)), "\"13 C\"", "water temperature"
        => number!(Scenario: water.temperature_c);
    "water.bottom": quantity(Length, 0.3, 300.0, (2.0, 20.0)), "\"12 m\"", "depth of the bottom"
        => number!(Scenario: water.bottom_m);
    "fish.species": Kind::Choice(Species::LABELS), "\"largemouth\"", "which bass"
        => word!(Scenario: fish.species as Species);
    "fish.length": quantity(Length, 0.15, 0.70, (0.25, 0.55)), "\"40 cm\"", "total length of the fish"
        => number!(Scenario: fish.length_m);
    "fish.depth": quantity(Length, 0.1, 100.0, (1.0, 12.0)), "\"15 ft\"", "mean depth of the fish"
        => number!(Scenario: fish.depth_m);
    "fish.depth_spread": quantity(Length, 0.0, 20.0, (0.1, 2.0)), "\"0.5 m\"", "standard deviation of it"
        => number!(Scenario: fish.depth_spread_m);
    "fish.phase": Kind::Choice(PhaseChoice::LABELS), "\"from temperature\"", "season of their lives", optional
        => word!(Scenario: fish.phase as PhaseChoice);
    "fish.pressure": Kind::Choice(Pressure::LABELS), "\"light\"", "how much they are fished for"
        => word!(Scenario: fish.pressure as Pressure);
    "fish.density": quantity(FishDensity, 0.1, 5000.0, (5.0, 200.0)), "\"30 per ha\"", "fish per area", optional
        => maybe!(Scenario: fish.density_per_ha);
    "fish.reachable": number(0.001, 1.0, (0.05, 0.6)), "0.2", "share of them that hang where a bait passes", optional
        => maybe!(Scenario: fish.reachable);
    "forage.kind": Kind::Forage, "\"shad\"", "what they eat" => word!(Scenario: forage.kind);
    "forage.length": quantity(Length, 0.01, 0.40, (0.04, 0.18)), "\"9 cm\"", "its total length", optional
        => number!(Scenario: forage.length_m);
    "tackle.line": Kind::Line, "\"fluorocarbon\"", "what the line is made of" => word!(Scenario: tackle.line);
    "tackle.diameter": quantity(Length, 5e-5, 1.5e-3, (1.5e-4, 4e-4)), "\"0.28 mm\"", "line diameter", optional
        => number!(Scenario: tackle.diameter_m);
    "tackle.strength": quantity(Force, 1.0, 500.0, (17.8, 89.0)), "\"10 lb\"", "breaking strength of the line", optional;
    "tackle.cast": quantity(Length, 2.0, 120.0, (15.0, 45.0)), "\"27 m\"", "line out when the bait lands", optional
        => measure!(Scenario: tackle.cast as Cast::LineOut);
    "tackle.launch": quantity(Speed, 5.0, 60.0, (15.0, 40.0)), "\"25 m/s\"", "speed at which the bait leaves the rod; the cast then follows from its weight",
        optional
        => measure!(Scenario: tackle.cast as Cast::Launch);
    "tackle.speed": quantity(Speed, 0.02, 5.0, (0.2, 2.0)), "\"0.8 m/s\"", "speed while reeled or twitched"
        => number!(Scenario: tackle.speed_m_s);
    "tackle.pause": number(0.0, 0.95, (0.0, 0.9)), "0.5", "share of the time left alone"
        => number!(Scenario: tackle.pause);
    "tackle.rod_tip": quantity(Length, 0.0, 5.0, (0.05, 1.5)), "\"0.3 m\"", "rod tip above the water"
        => number!(Scenario: tackle.rod_tip_m);
    "box.use": Kind::Box, "[\"90 mm, standard lip, silent\"]", "baits by name, or \"all\"", optional;
    "bait.name": Kind::Text, "\"my own\"", "a name of your own", optional => word!(Bait: name);
    "bait.like": Kind::Body, "\"90 mm, standard lip, silent\"", "the bait to start from", optional;
    "bait.length": quantity(Length, 0.02, 0.40, (0.06, 0.16)), "\"100 mm\"", "body length", optional
        => number!(Bait: length_m);
    "bait.lip": Kind::Choice(Lip::LABELS), "\"standard\"", "how deep the lip takes it", optional
        => word!(Bait: lip as Lip);
    "bait.sound": Kind::Choice(Sound::LABELS), "\"silent\"", "whether it rattles", optional
        => word!(Bait: sound as Sound);
    "bait.finish": Kind::Finish, "\"half-flash\"", "its finish", optional => word!(Bait: finish);
    "bait.mass": quantity(Mass, 1e-4, 0.5, (0.004, 0.04)), "\"12 g\"", "mass with hooks", optional
        => number!(Bait: mass_kg);
    "bait.lip_area": quantity(Area, 0.0, 0.01, (5e-5, 1e-3)), "\"1.9 cm2\"", "area of the lip", optional
        => number!(Bait: lip_area_m2);
    "bait.lip_angle": quantity(Angle, 5.0, 90.0, (35.0, 70.0)), "\"56 deg\"", "lip to direction of travel", optional
        => number!(Bait: lip_incidence_deg);
    "bait.height": quantity(Length, 0.002, 0.2, (0.008, 0.03)), "\"16 mm\"", "greatest body height", optional
        => number!(Bait: height_m);
    "bait.width": quantity(Length, 0.002, 0.2, (0.006, 0.02)), "\"12 mm\"", "greatest body width", optional
        => number!(Bait: width_m);
    "bait.trebles": whole(0.0, 4.0, (0.0, 3.0)), "2", "number of treble hooks", optional => TREBLES;
    "bait.buoyancy": quantity(Force, -0.5, 0.5, (-0.02, 0.02)), "\"0 N\"", "0 hangs still, above 0 rises", optional
        => number!(Bait: buoyancy_n);
    "bait.runs": quantity(Length, 0.05, 30.0, (0.5, 4.0)), "\"7 ft\"", "greatest running depth, given instead of worked out", optional
        => maybe!(Bait: runs_m);
    "hour.at": Kind::Text, "\"09:00\"", "the local clock time from which a row holds"
        => written!(Hour: |all| Some(Said::Word(all.at.to_string())));
    "hour.cloud": number(0.0, 1.0, (0.0, 1.0)), "0.2", "share of the sky that is clouded, 0 to 1", optional
        => number!(Hour: sky.cloud);
    "hour.wind": quantity(Speed, 0.0, 40.0, (0.0, 12.0)), "\"4 m/s\"", "wind speed", optional
        => number!(Hour: sky.wind_m_s);
    "hour.rain": Kind::Choice(Rain::LABELS), "\"drizzle\"", "rain on the water", optional
        => word!(Hour: sky.rain as Rain);
    "hour.secchi": quantity(Length, 0.05, 40.0, (0.3, 10.0)), "\"2.5 m\"", "Secchi depth", optional
        => measure!(Hour: clarity as Clarity::Secchi);
    "hour.turbidity": quantity(Turbidity, 0.05, 1000.0, (0.5, 100.0)), "\"8 NTU\"", "turbidity", optional
        => measure!(Hour: clarity as Clarity::Turbidity);
};

/// A moon that is down is left out.
const MOON: Field = Field::Scenario(Access {
    get: |all| (all.sky.moon > 0.0).then_some(Said::Number(all.sky.moon)),
    set: |all, said| all.sky.moon = said.number(),
});

const TREBLES: Field = Field::Bait(Access {
    get: |all| Some(Said::Number(f64::from(all.trebles))),
    // Checked to be whole and small.
    set: |all, said| all.trebles = said.number() as u32,
});

/// The zone of a scenario, if it is an offset or if it is none.
fn zone(scenario: &Scenario, offset: bool) -> Option<Said> {
    let zone = &scenario.place.zone;
    (zone.starts_with(['+', '-']) == offset).then(|| Said::Word(zone.clone()))
}

/// Two keys that say the same, of which a table has one.
#[derive(Debug)]
pub(crate) struct Pair {
    /// Paths.
    pub keys: [&'static str; 2],
    /// Label and help where both are there.
    pub both: [&'static str; 2],
    /// Title behind the table's name, label and help where neither is; none where neither need be.
    pub neither: Option<[&'static str; 3]>,
}

/// Every such pair.
pub(crate) const PAIRS: &[Pair] = &[
    Pair {
        keys: ["place.zone", "place.utc_offset"],
        both: ["a second clock", "keep the zone, which knows summer time, or the offset, which does not"],
        neither: Some([
            "has no time zone",
            "whose clock?",
            "add zone = \"America/Chicago\" or utc_offset = \"-05:00\"",
        ]),
    },
    Pair {
        keys: ["water.secchi", "water.turbidity"],
        both: SECOND_CLARITY,
        neither: Some([
            "does not say how clear it is",
            "needs its clarity",
            "add secchi = \"3.4 m\" (where a white disc disappears) or turbidity = \"4 NTU\"",
        ]),
    },
    Pair {
        keys: ["tackle.diameter", "tackle.strength"],
        both: [
            "a second measure of the same line",
            "keep the diameter, which is what the water feels; strength is turned into it",
        ],
        neither: Some([
            "does not say how thick the line is",
            "needs its line",
            "add diameter = \"0.28 mm\" or strength = \"10 lb\"",
        ]),
    },
    Pair {
        keys: ["tackle.cast", "tackle.launch"],
        both: [
            "a second measure of the same cast",
            "keep the cast where you know it; launch works it out from the weight of each bait",
        ],
        neither: Some([
            "does not say how far the cast goes",
            "needs a cast",
            "add cast = \"27 m\" (line out when the bait lands) or launch = \"25 m/s\"",
        ]),
    },
    Pair { keys: ["hour.secchi", "hour.turbidity"], both: SECOND_CLARITY, neither: None },
];

const SECOND_CLARITY: [&str; 2] = [
    "a second measure of the same clarity",
    "keep one; Secchi depth is the better measure of how far a fish sees",
];

/// The other way to say the same as the key of this path: an override of one takes the file's other away.
pub(crate) fn rival(path: &str) -> Option<&'static str> {
    let pair = PAIRS.iter().find(|pair| pair.keys.contains(&path))?;
    pair.keys.into_iter().find(|key| *key != path)
}

/// The key of a path.
pub(crate) fn find(path: &str) -> Option<&'static Key> {
    KEYS.iter().find(|key| key.path == path)
}

/// The least and the greatest value that a quantity or number may have; none for what is neither.
pub(crate) fn limits(path: &str) -> Option<(f64, f64)> {
    match find(path)?.kind {
        Kind::Quantity { limits, .. } | Kind::Number { limits } | Kind::Whole { limits } => {
            Some((limits.low, limits.high))
        }
        _ => None,
    }
}

/// The names of the tables of a file, in order.
pub(crate) const SECTIONS: &[&str] = &["place", "when", "sky", "water", "fish", "forage", "tackle", "box"];

/// The names of the keys of one table; `""` gives those at the top of a file.
pub(crate) fn names(keys: &'static [Key], section: &str) -> Vec<&'static str> {
    let mut names: Vec<_> =
        keys.iter().filter(|key| key.split().0 == section).map(|key| key.split().1).collect();
    match section {
        "" => names.extend(SECTIONS.iter().chain(&["hour"])),
        "box" => names.push("bait"),
        _ => {}
    }
    names
}

/// A table as it is named in a file.
pub(crate) fn written(section: &str) -> String {
    match section {
        "" | "file" | "trial" => "the file".to_string(),
        "bait" => "[[box.bait]]".to_string(),
        "hour" | "rule" | "row" | "pattern" => format!("[[{section}]]"),
        _ => format!("[{section}]"),
    }
}

/// One value of a scenario that an override or a sweep can change.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// Its path: `water.secchi`, or `bait.length` for a property of every bait in the box.
    pub path: &'static str,
    /// What it is, in a few words.
    pub about: &'static str,
    /// A value as it may follow `path=`.
    pub example: String,
    /// What it holds.
    pub kind: SettingKind,
}

/// What a [`Setting`] holds.
#[derive(Debug, Clone, PartialEq)]
pub enum SettingKind {
    /// A number, with a unit unless the dimension is none.
    Number {
        /// The kind of quantity; none for a bare number.
        dimension: Option<Dimension>,
        /// The least and the greatest value a scenario may have, in the unit kept.
        limits: (f64, f64),
        /// A range worth looking at.
        sweep: (f64, f64),
    },
    /// One of these words.
    Choice(Vec<String>),
    /// Text with rules of its own: a date, a time, a zone, a title, a list of baits.
    Text,
}

/// Every value that overrides and sweeps can change, in the order of the file; not the columns of the hourly table,
/// which overrides alone can change.
pub fn paths(catalogue: &Catalogue) -> Vec<Setting> {
    let setting = |key: &'static Key| Setting {
        path: key.path,
        about: key.about,
        example: key.example.trim_matches('"').to_string(),
        kind: match (&key.kind, key.words(catalogue)) {
            (Kind::Quantity { dimension, limits }, _) => SettingKind::Number {
                dimension: Some(*dimension),
                limits: (limits.low, limits.high),
                sweep: limits.sweep,
            },
            (Kind::Number { limits } | Kind::Whole { limits }, _) => SettingKind::Number {
                dimension: None,
                limits: (limits.low, limits.high),
                sweep: limits.sweep,
            },
            (_, Some(words)) => SettingKind::Choice(words.iter().map(ToString::to_string).collect()),
            _ => SettingKind::Text,
        },
    };
    KEYS.iter().filter(|key| settable(key) && key.split().0 != "hour").map(setting).collect()
}

/// Whether an override may set the key: not the name and the origin of a bait, which tell one from another, nor the
/// time of a row.
pub(crate) fn settable(key: &Key) -> bool {
    !matches!(key.path, "bait.name" | "bait.like" | "hour.at")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::models::Models;
    use crate::scenario::document::Document;
    use crate::scenario::library::TEMPLATE;
    use crate::scenario::reader::Reader;

    /// Section and text of every line of the template that gives a key, those in comments too.
    fn lines() -> Vec<(String, &'static str)> {
        let mut section = String::new();
        let mut lines = Vec::new();
        for line in TEMPLATE.lines().map(|line| line.trim_start_matches("# ")) {
            match line.strip_prefix('[').map(|rest| rest.trim_matches(['[', ']'])) {
                Some(name) => section = name.trim_start_matches("box.").to_string(),
                None if line.split_once(" = ").is_some_and(|(name, _)| !name.contains(' ')) => {
                    lines.push((section.clone(), line));
                }
                None => {}
            }
        }
        lines
    }

    #[test]
    fn the_template_shows_every_key_in_its_table_and_no_other() {
        let name = |line: &str| line.split(' ').next().map(str::to_string).unwrap_or_default();
        let mut shown: Vec<String> = lines()
            .iter()
            .map(|(section, line)| match section.as_str() {
                "" => name(line),
                _ => format!("{section}.{}", name(line)),
            })
            .collect();
        shown.sort();
        shown.dedup();
        let mut known: Vec<&str> = KEYS.iter().map(|key| key.path).collect();
        known.sort_unstable();
        assert_eq!(shown, known);
    }

    #[test]
    fn every_example_is_what_its_key_wants() {
        let catalogue = Catalogue::of(&Models::embedded().expect("embedded"));
        let examples = KEYS.iter().map(|key| (key.path.to_string(), format!("a = {}", key.example)));
        let template = lines().into_iter().filter(|(section, _)| section != "box").map(|(section, line)| {
            let (name, value) = line.split_once(" = ").expect("a line of a key");
            (format!("{section}.{name}").trim_start_matches('.').to_string(), format!("a = {value}"))
        });
        for (path, text) in examples.chain(template) {
            let (document, errors) = Document::parse(&text);
            assert!(errors.is_empty(), "{path}: {text}");
            let key = find(&path).expect("a key");
            let mut reader = Reader::new("");
            let said = reader.value(key, &document.root[0].value, &catalogue);
            assert!(said.is_some() || path == "box.use", "{path}: {:?}", reader.faults);
        }
    }

    #[test]
    fn every_field_gives_back_what_was_put_in() {
        let mut all = Scenario::default();
        for key in KEYS {
            let (Field::Scenario(access), Kind::Quantity { limits, .. } | Kind::Number { limits }) =
                (&key.field, &key.kind)
            else {
                continue;
            };
            (access.set)(&mut all, &Said::Number(limits.high));
            assert_eq!((access.get)(&all), Some(Said::Number(limits.high)), "{}", key.path);
        }
        assert_eq!(all.fish.depth_m, 100.0);
    }
}
