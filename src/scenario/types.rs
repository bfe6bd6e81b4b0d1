//! A checked scenario: everything in it is possible, in SI, and known to the catalogue.

use jiff::civil::{Date, Time};
use serde::{Serialize, Serializer};

pub use crate::bait::body::{Lip, Sound};
use crate::labels::labelled;

/// One place, one hour, one kind of fish, one rod, and the baits to choose from.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Scenario {
    /// What the scenario is called.
    pub title: String,
    /// Where on Earth, and whose clock.
    pub place: Place,
    /// The date and the time of day.
    pub when: When,
    /// Cloud, wind and rain at that time.
    pub sky: Sky,
    /// The water and how far one sees in it at that time.
    pub water: Water,
    /// How sky and clarity change over the day; empty where they do not.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hours: Vec<Hour>,
    /// The fish and where they hang.
    pub fish: Fish,
    /// What the fish eat.
    pub forage: Forage,
    /// Line, cast and retrieve.
    pub tackle: Tackle,
    /// The baits to choose from; never empty, and no two with one name.
    pub baits: Vec<Bait>,
}

/// Where on Earth, and whose clock.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Place {
    /// Degrees north of the equator, -90 to 90.
    pub latitude_deg: f64,
    /// Degrees east of Greenwich, -180 to 180; negative in the Americas.
    pub longitude_deg: f64,
    /// An IANA time zone such as `America/Chicago`, or a fixed offset such as `-05:00`.
    pub zone: String,
}

/// A date and a time of day, and the instant they name.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct When {
    /// The date on the wall calendar.
    #[serde(serialize_with = "as_text")]
    pub date: Date,
    /// The time on the wall clock.
    #[serde(serialize_with = "as_text")]
    pub time: Time,
    /// Seconds since 1970-01-01 00:00 UTC.
    pub unix_s: f64,
    /// Local time less UTC, in seconds, at this instant.
    pub utc_offset_s: i32,
}

fn as_text<T: std::fmt::Display, S: Serializer>(value: &T, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(value)
}

/// Cloud, wind and rain.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Sky {
    /// The share of the sky that is clouded, 0 to 1.
    pub cloud: f64,
    /// Wind speed at the usual 10 m above ground.
    pub wind_m_s: f64,
    /// Rain on the water.
    pub rain: Rain,
    /// Lit share of the moon, if it is up; else 0.
    pub moon: f64,
}

/// Sky and clarity from a time of the day on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Hour {
    /// The time on the wall clock; the first is midnight.
    #[serde(serialize_with = "as_text")]
    pub at: Time,
    /// The same in seconds since 1970-01-01 00:00 UTC.
    pub unix_s: f64,
    /// Cloud, wind and rain.
    pub sky: Sky,
    /// How clear the water is.
    pub clarity: Clarity,
}

impl Scenario {
    /// Sky and clarity at an instant of the scenario's day, and after it.
    pub fn conditions_at(&self, unix_s: f64) -> (&Sky, Clarity) {
        let in_force = self.hours.iter().rev().find(|hour| hour.unix_s <= unix_s).or(self.hours.first());
        in_force.map_or((&self.sky, self.water.clarity), |hour| (&hour.sky, hour.clarity))
    }
}

/// How hard it rains.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rain {
    /// Dry.
    #[default]
    None,
    /// Drizzle: the surface is dimpled.
    Drizzle,
    /// Steady rain.
    Rain,
}

/// The water and how far one sees in it.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Water {
    /// Clarity, measured one way or the other.
    pub clarity: Clarity,
    /// What colours the water.
    pub tint: Tint,
    /// Water temperature where the fish are.
    pub temperature_c: f64,
    /// Depth of the bottom under the retrieve.
    pub bottom_m: f64,
}

/// Water clarity, as it was measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum Clarity {
    /// The depth in metres at which a Secchi disc disappears.
    #[serde(rename = "secchi_m")]
    Secchi(f64),
    /// Turbidity in nephelometric turbidity units.
    #[serde(rename = "turbidity_ntu")]
    Turbidity(f64),
}

impl Default for Clarity {
    fn default() -> Self {
        Clarity::Secchi(0.0)
    }
}

/// What colours the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tint {
    /// Nothing much: blue-green to the eye.
    #[default]
    Clear,
    /// Dissolved organic matter: brown.
    TeaStained,
    /// Algae: green.
    AlgaeGreen,
    /// Suspended clay: milky to muddy.
    Clay,
}

/// The fish and where they hang.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Fish {
    /// Which bass.
    pub species: Species,
    /// Total length.
    pub length_m: f64,
    /// Mean depth at which they hang.
    pub depth_m: f64,
    /// Standard deviation of that depth among fish.
    pub depth_spread_m: f64,
    /// The season of their lives, given or to be read from the temperature.
    pub phase: PhaseChoice,
    /// How much they have been fished for.
    pub pressure: Pressure,
    /// Fish per hectare of water, where somebody knows it.
    pub density_per_ha: Option<f64>,
    /// Share of them that hang where a bait passes, where somebody knows it.
    pub reachable: Option<f64>,
}

/// Which bass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Species {
    /// Largemouth bass, *Micropterus salmoides* or *nigricans*.
    #[default]
    Largemouth,
    /// Smallmouth bass, *Micropterus dolomieu*.
    Smallmouth,
}

/// The season of a bass's life, in the order of the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    /// Cold water.
    Winter,
    /// Warming water before the spawn.
    PreSpawn,
    /// On and about the nests.
    Spawn,
    /// The weeks after.
    PostSpawn,
    /// Warm water.
    Summer,
    /// Cooling water.
    Fall,
}

/// Whether the phase was given or is to be found from the water temperature and the date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PhaseChoice {
    /// To be found by [`super::phase::phase_at`].
    #[default]
    FromTemperature,
    /// Given by the user.
    Named(Phase),
}

impl PhaseChoice {
    /// Every word of `fish.phase`.
    pub const LABELS: &'static [&'static str] =
        &["from temperature", "winter", "pre-spawn", "spawn", "post-spawn", "summer", "fall"];

    /// The word in scenario files.
    pub fn label(self) -> &'static str {
        match self {
            PhaseChoice::FromTemperature => Self::LABELS[0],
            PhaseChoice::Named(phase) => phase.label(),
        }
    }

    /// The choice of that word.
    pub fn from_label(label: &str) -> Option<PhaseChoice> {
        let named = Phase::from_label(label).map(PhaseChoice::Named);
        named.or((label == Self::LABELS[0]).then_some(PhaseChoice::FromTemperature))
    }
}

/// How much the fish have been fished for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pressure {
    /// Hardly ever.
    #[default]
    Unfished,
    /// Now and then.
    Light,
    /// Most weekends.
    Moderate,
    /// Every day.
    Heavy,
}

/// What the fish eat.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Forage {
    /// A kind of forage of the catalogue.
    pub kind: String,
    /// Its total length.
    pub length_m: f64,
}

/// Line, cast and retrieve.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Tackle {
    /// A line material of the catalogue.
    pub line: String,
    /// Line diameter, given or found from its strength.
    pub diameter_m: f64,
    /// How far the bait is cast.
    pub cast: Cast,
    /// Speed of the line while it is reeled or twitched.
    pub speed_m_s: f64,
    /// The share of the time in which the bait is left alone, 0 to 0.95.
    pub pause: f64,
    /// Height of the rod tip above the water.
    pub rod_tip_m: f64,
}

/// How far a bait is cast.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum Cast {
    /// This much line is out when it lands, whatever the bait.
    #[serde(rename = "line_out_m")]
    LineOut(f64),
    /// It leaves the rod at this speed, and flies as far as its weight takes it.
    #[serde(rename = "launch_m_s")]
    Launch(f64),
}

impl Default for Cast {
    fn default() -> Self {
        Cast::LineOut(0.0)
    }
}

/// One bait of the box, with everything the simulator needs of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bait {
    /// Its name, unique in the box.
    pub name: String,
    /// Body length without the lip.
    pub length_m: f64,
    /// How deep the lip takes it.
    pub lip: Lip,
    /// Whether it rattles.
    pub sound: Sound,
    /// A finish of the catalogue.
    pub finish: String,
    /// Number of treble hooks.
    pub trebles: u32,
    /// Greatest height of the body.
    pub height_m: f64,
    /// Greatest width of the body.
    pub width_m: f64,
    /// Mass with hooks.
    pub mass_kg: f64,
    /// Area of the lip's face.
    pub lip_area_m2: f64,
    /// Angle between the lip and the direction of travel.
    pub lip_incidence_deg: f64,
    /// Net buoyancy at rest: 0 hangs still, positive rises, negative sinks.
    pub buoyancy_n: f64,
    /// The greatest depth it reaches on this tackle, where the user says so instead of having it worked out.
    pub runs_m: Option<f64>,
}

labelled!(Rain { None => "none", Drizzle => "drizzle", Rain => "rain" });
labelled!(Tint {
    Clear => "clear", TeaStained => "tea-stained", AlgaeGreen => "algae-green", Clay => "clay",
});
labelled!(Species { Largemouth => "largemouth", Smallmouth => "smallmouth" });
labelled!(Phase {
    Winter => "winter", PreSpawn => "pre-spawn", Spawn => "spawn", PostSpawn => "post-spawn",
    Summer => "summer", Fall => "fall",
});
labelled!(Pressure {
    Unfished => "unfished", Light => "light", Moderate => "moderate", Heavy => "heavy",
});
