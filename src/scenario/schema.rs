//! Every key of a scenario file: its kind, its limits, an example, and what it is.
//!
//! One table serves the check of unknown keys, the limits, the overrides (`--set water.secchi=2 m`) and
//! the sweeps. Limits are what a scenario may say at all; the narrower sweep range is what is worth
//! looking at. Both bound the input, they are not statements about nature.

use crate::units::Dimension;

use super::catalogue::Catalogue;
use super::types::{Lip, Pressure, Rain, Sound, Species, Tint};

/// A key, written `section.name` (no section for the title).
#[derive(Debug)]
pub(crate) struct Key {
    pub path: &'static str,
    pub kind: Kind,
    /// Whether a file must have it; keys with a rival are asked for by their own checks.
    pub needed: bool,
    /// A value as it stands in a file.
    pub example: &'static str,
    pub about: &'static str,
    /// The other way to say the same: an override of one takes the file's other away.
    pub rival: Option<&'static str>,
}

/// What a key holds.
#[derive(Debug)]
pub(crate) enum Kind {
    /// A text with number and unit, within limits.
    Quantity { dimension: Dimension, limits: Limits },
    /// A number without unit, within limits.
    Number { limits: Limits },
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A name from the catalogue.
    Finish,
    /// A name from the catalogue.
    Forage,
    /// A name from the catalogue.
    Line,
    /// A name from the catalogue to start from.
    Body,
    /// Free text, a date, a time, a zone.
    Text,
    /// A list of bait names, or `all`.
    Box,
}

/// What may be written, and what is worth sweeping over; in the unit the quantity is kept in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Limits {
    pub low: f64,
    pub high: f64,
    pub sweep: (f64, f64),
}

/// The words of `fish.phase`.
pub(crate) const PHASES: &[&str] =
    &["from temperature", "winter", "pre-spawn", "spawn", "post-spawn", "summer", "fall"];

const fn key(path: &'static str, kind: Kind, example: &'static str, about: &'static str) -> Key {
    Key { path, kind, needed: true, example, about, rival: None }
}

const fn quantity(dimension: Dimension, low: f64, high: f64, sweep: (f64, f64)) -> Kind {
    Kind::Quantity { dimension, limits: Limits { low, high, sweep } }
}

const fn number(low: f64, high: f64, sweep: (f64, f64)) -> Kind {
    Kind::Number { limits: Limits { low, high, sweep } }
}

impl Key {
    const fn optional(mut self) -> Key {
        self.needed = false;
        self
    }

    const fn or(mut self, rival: &'static str) -> Key {
        self.rival = Some(rival);
        self.needed = false;
        self
    }

    /// The key's section and name.
    pub fn split(&self) -> (&'static str, &'static str) {
        self.path.split_once('.').unwrap_or(("", self.path))
    }

    /// The words that may be written, if there is a list of them.
    pub fn words<'a>(&'a self, catalogue: &'a Catalogue) -> Option<Vec<&'a str>> {
        match &self.kind {
            Kind::Choice(words) => Some(words.to_vec()),
            Kind::Finish => Some(catalogue.finishes.iter().map(String::as_str).collect()),
            Kind::Forage => Some(catalogue.forages.iter().map(|(kind, _)| kind.as_str()).collect()),
            Kind::Line => Some(catalogue.lines.iter().map(|line| line.name.as_str()).collect()),
            Kind::Body => Some(catalogue.baits.iter().map(|bait| bait.name.as_str()).collect()),
            _ => None,
        }
    }
}

use Dimension::{Angle, Area, FishDensity, Force, Length, Mass, Speed, Temperature, Turbidity};

/// Every key. Keys of `bait` are those of one `[[box.bait]]`; as overrides they apply to every bait. Keys of `hour`
/// are those of one `[[hour]]`; as overrides they are a whole column, `hour.cloud=09:00 0.2; 13:00 0.8`.
pub(crate) const KEYS: &[Key] = &[
    key("title", Kind::Text, "\"Home lake, north bay\"", "what the scenario is called").optional(),
    key("place.latitude", number(-90.0, 90.0, (25.0, 50.0)), "36.4", "degrees north"),
    key("place.longitude", number(-180.0, 180.0, (-125.0, -65.0)), "-93.9", "degrees east; west is negative"),
    key("place.zone", Kind::Text, "\"America/Chicago\"", "the time zone by its IANA name")
        .or("place.utc_offset"),
    key("place.utc_offset", Kind::Text, "\"-05:00\"", "local time less UTC").or("place.zone"),
    key("when.date", Kind::Text, "\"2026-04-14\"", "year-month-day"),
    key("when.time", Kind::Text, "\"07:30\"", "the local clock time"),
    key("sky.cloud", number(0.0, 1.0, (0.0, 1.0)), "0.9", "share of the sky that is clouded, 0 to 1"),
    key("sky.wind", quantity(Speed, 0.0, 40.0, (0.0, 12.0)), "\"3 m/s\"", "wind speed"),
    key("sky.rain", Kind::Choice(Rain::LABELS), "\"none\"", "rain on the water").optional(),
    key(
        "sky.moon",
        number(0.0, 1.0, (0.0, 1.0)),
        "0.5",
        "lit share of a moon that is up, 0 to 1; 0 if it is down",
    )
    .optional(),
    key("water.secchi", quantity(Length, 0.05, 40.0, (0.3, 10.0)), "\"3.4 m\"", "Secchi depth")
        .or("water.turbidity"),
    key("water.turbidity", quantity(Turbidity, 0.05, 1000.0, (0.5, 100.0)), "\"4 NTU\"", "turbidity")
        .or("water.secchi"),
    key("water.tint", Kind::Choice(Tint::LABELS), "\"clear\"", "what colours the water"),
    key("water.temperature", quantity(Temperature, 0.0, 40.0, (4.0, 32.0)), "\"13 C\"", "water temperature"),
    key("water.bottom", quantity(Length, 0.3, 300.0, (2.0, 20.0)), "\"12 m\"", "depth of the bottom"),
    key("fish.species", Kind::Choice(Species::LABELS), "\"largemouth\"", "which bass"),
    key("fish.length", quantity(Length, 0.15, 0.70, (0.25, 0.55)), "\"40 cm\"", "total length of the fish"),
    key("fish.depth", quantity(Length, 0.1, 100.0, (1.0, 12.0)), "\"15 ft\"", "mean depth of the fish"),
    key(
        "fish.depth_spread",
        quantity(Length, 0.0, 20.0, (0.1, 2.0)),
        "\"0.5 m\"",
        "standard deviation of it",
    ),
    key("fish.phase", Kind::Choice(PHASES), "\"from temperature\"", "season of their lives").optional(),
    key("fish.pressure", Kind::Choice(Pressure::LABELS), "\"light\"", "how much they are fished for"),
    key("fish.density", quantity(FishDensity, 0.1, 5000.0, (5.0, 200.0)), "\"30 per ha\"", "fish per area")
        .optional(),
    key(
        "fish.reachable",
        number(0.001, 1.0, (0.05, 0.6)),
        "0.2",
        "share of them that hang where a bait passes",
    )
    .optional(),
    key("forage.kind", Kind::Forage, "\"shad\"", "what they eat"),
    key("forage.length", quantity(Length, 0.01, 0.40, (0.04, 0.18)), "\"9 cm\"", "its total length")
        .optional(),
    key("tackle.line", Kind::Line, "\"fluorocarbon\"", "what the line is made of"),
    key("tackle.diameter", quantity(Length, 5e-5, 1.5e-3, (1.5e-4, 4e-4)), "\"0.28 mm\"", "line diameter")
        .or("tackle.strength"),
    key(
        "tackle.strength",
        quantity(Force, 1.0, 500.0, (17.8, 89.0)),
        "\"10 lb\"",
        "breaking strength of the line",
    )
    .or("tackle.diameter"),
    key(
        "tackle.cast",
        quantity(Length, 2.0, 120.0, (15.0, 45.0)),
        "\"27 m\"",
        "line out when the bait lands",
    )
    .or("tackle.launch"),
    key(
        "tackle.launch",
        quantity(Speed, 5.0, 60.0, (15.0, 40.0)),
        "\"25 m/s\"",
        "speed at which the bait leaves the rod; the cast then follows from its weight",
    )
    .or("tackle.cast"),
    key(
        "tackle.speed",
        quantity(Speed, 0.02, 5.0, (0.2, 2.0)),
        "\"0.8 m/s\"",
        "speed while reeled or twitched",
    ),
    key("tackle.pause", number(0.0, 0.95, (0.0, 0.9)), "0.5", "share of the time left alone"),
    key("tackle.rod_tip", quantity(Length, 0.0, 5.0, (0.05, 1.5)), "\"0.3 m\"", "rod tip above the water"),
    key("box.use", Kind::Box, "[\"90 mm, standard lip, silent\"]", "baits by name, or \"all\"").optional(),
    key("bait.name", Kind::Text, "\"my own\"", "a name of your own").optional(),
    key("bait.like", Kind::Body, "\"90 mm, standard lip, silent\"", "the bait to start from").optional(),
    key("bait.length", quantity(Length, 0.02, 0.40, (0.06, 0.16)), "\"100 mm\"", "body length").optional(),
    key("bait.lip", Kind::Choice(Lip::LABELS), "\"standard\"", "how deep the lip takes it").optional(),
    key("bait.sound", Kind::Choice(Sound::LABELS), "\"silent\"", "whether it rattles").optional(),
    key("bait.finish", Kind::Finish, "\"half-flash\"", "its finish").optional(),
    key("bait.mass", quantity(Mass, 1e-4, 0.5, (0.004, 0.04)), "\"12 g\"", "mass with hooks").optional(),
    key("bait.lip_area", quantity(Area, 0.0, 0.01, (5e-5, 1e-3)), "\"1.9 cm2\"", "area of the lip")
        .optional(),
    key(
        "bait.lip_angle",
        quantity(Angle, 5.0, 90.0, (35.0, 70.0)),
        "\"56 deg\"",
        "lip to direction of travel",
    )
    .optional(),
    key("bait.height", quantity(Length, 0.002, 0.2, (0.008, 0.03)), "\"16 mm\"", "greatest body height")
        .optional(),
    key("bait.width", quantity(Length, 0.002, 0.2, (0.006, 0.02)), "\"12 mm\"", "greatest body width")
        .optional(),
    key("bait.trebles", number(0.0, 4.0, (0.0, 3.0)), "2", "number of treble hooks").optional(),
    key(
        "bait.buoyancy",
        quantity(Force, -0.5, 0.5, (-0.02, 0.02)),
        "\"0 N\"",
        "0 hangs still, above 0 rises",
    )
    .optional(),
    key(
        "bait.runs",
        quantity(Length, 0.05, 30.0, (0.5, 4.0)),
        "\"7 ft\"",
        "greatest running depth, given instead of worked out",
    )
    .optional(),
    key("hour.at", Kind::Text, "\"09:00\"", "the local clock time from which a row holds"),
    key("hour.cloud", number(0.0, 1.0, (0.0, 1.0)), "0.2", "share of the sky that is clouded, 0 to 1")
        .optional(),
    key("hour.wind", quantity(Speed, 0.0, 40.0, (0.0, 12.0)), "\"4 m/s\"", "wind speed").optional(),
    key("hour.rain", Kind::Choice(Rain::LABELS), "\"drizzle\"", "rain on the water").optional(),
    key("hour.secchi", quantity(Length, 0.05, 40.0, (0.3, 10.0)), "\"2.5 m\"", "Secchi depth").optional(),
    key("hour.turbidity", quantity(Turbidity, 0.05, 1000.0, (0.5, 100.0)), "\"8 NTU\"", "turbidity")
        .optional(),
];

/// The key of a path.
pub(crate) fn find(path: &str) -> Option<&'static Key> {
    KEYS.iter().find(|key| key.path == path)
}

/// The least and the greatest value that a quantity or number may have; none for what is neither.
pub(crate) fn limits(path: &str) -> Option<(f64, f64)> {
    match find(path)?.kind {
        Kind::Quantity { limits, .. } | Kind::Number { limits } => Some((limits.low, limits.high)),
        _ => None,
    }
}

/// The names of the tables of a file, in order.
pub(crate) const SECTIONS: &[&str] = &["place", "when", "sky", "water", "fish", "forage", "tackle", "box"];

/// The names of the keys of one table; `""` gives the names at the top of a file.
pub(crate) fn names(section: &str) -> Vec<&'static str> {
    let mut names: Vec<_> =
        KEYS.iter().filter(|key| key.split().0 == section).map(|key| key.split().1).collect();
    match section {
        "" => names.extend(SECTIONS.iter().chain(&["hour"])),
        "box" => names.push("bait"),
        _ => {}
    }
    names
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

impl Setting {
    /// A value of a numeric setting, written so that it can follow `path=`.
    pub fn write(&self, value: f64) -> String {
        match self.kind {
            SettingKind::Number { dimension: Some(dimension), .. } => dimension.write(value),
            _ => value.to_string(),
        }
    }
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
            (Kind::Number { limits }, _) => SettingKind::Number {
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
