//! Measurements published by others, each run in the model as it was run in the world.
//!
//! A trial says what was measured, in what conditions, how the numbers are known and which output of the model they
//! speak to. [`mod@file`] reads trials, [`plan`] sets every row up and finds every fault first, [`outputs`] is all that
//! asks the model, [`reading`] puts model and measurement side by side and finds the word for it.
//!
//! A trial sets nothing: where one was used to choose a form or a value, it says so and no longer counts as independent.

pub mod answer;
pub mod file;
pub mod outputs;
pub mod plan;
pub mod reading;
pub mod setup;

use super::overrides::Override;
use crate::labels::labelled;
use serde::Serialize;
use setup::Setup;
use std::ops::Range;

/// The trials that come with the program: file and text, in the order of the page.
pub const EMBEDDED: [(&str, &str); 13] = [
    ("models/trials/lakes-turbidity.toml", include_str!("../../../models/trials/lakes-turbidity.toml")),
    ("models/trials/secchi-light.toml", include_str!("../../../models/trials/secchi-light.toml")),
    ("models/trials/bass-in-the-dark.toml", include_str!("../../../models/trials/bass-in-the-dark.toml")),
    ("models/trials/pumpkinseed-light.toml", include_str!("../../../models/trials/pumpkinseed-light.toml")),
    ("models/trials/chinook-turbidity.toml", include_str!("../../../models/trials/chinook-turbidity.toml")),
    (
        "models/trials/smallmouth-turbidity.toml",
        include_str!("../../../models/trials/smallmouth-turbidity.toml"),
    ),
    ("models/trials/size-by-clarity.toml", include_str!("../../../models/trials/size-by-clarity.toml")),
    ("models/trials/lure-size.toml", include_str!("../../../models/trials/lure-size.toml")),
    ("models/trials/colour-null.toml", include_str!("../../../models/trials/colour-null.toml")),
    ("models/trials/never-caught.toml", include_str!("../../../models/trials/never-caught.toml")),
    ("models/trials/catch-per-hour.toml", include_str!("../../../models/trials/catch-per-hour.toml")),
    ("models/trials/hooked-share.toml", include_str!("../../../models/trials/hooked-share.toml")),
    ("models/trials/lead-line.toml", include_str!("../../../models/trials/lead-line.toml")),
];
/// The scenario that trials start from: what a trial does not say is as there.
pub const GROUND: &str = include_str!("../../../models/trials/ground.scenario.toml");
/// The name of its file.
pub const GROUND_FILE: &str = "models/trials/ground.scenario.toml";

/// What was looked for in print and not found, so that no trial can be made of it.
pub const NOT_FOUND: [&str; 4] = [
    "how often bass turn away from a bait, how long they look it over, how far they rise for it",
    "strikes by water temperature",
    "an audiogram of largemouth bass",
    "how loud a rattling bait is",
];

/// How the numbers of a trial are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Known {
    /// The raw numbers are in hand.
    Data,
    /// Only the abstract was read.
    Abstract,
    /// As quoted or digitised by others.
    SecondHand,
    /// From memory.
    Memory,
}

labelled!(Known { Data => "data", Abstract => "abstract", SecondHand => "second-hand", Memory => "memory" });

/// What of the model was set by a trial.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Used {
    /// Nothing.
    Nothing,
    /// Nothing by these numbers, but another part of the study was used.
    OtherPart,
    /// It gave or widened the range of an assumption, or its source.
    Range,
    /// A form of the model was chosen after it.
    Form,
}

labelled!(Used { Nothing => "nothing", OtherPart => "other part", Range => "range", Form => "form" });

impl Used {
    /// Whether the trial still tests the model: nothing was set by these numbers.
    pub fn is_independent(self) -> bool {
        matches!(self, Self::Nothing | Self::OtherPart)
    }
}

/// The output of the model that a trial speaks to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Output {
    /// Secchi depth, m.
    Secchi,
    /// Attenuation of daylight, 1/m.
    Attenuation,
    /// How far a target at the fish's own level is seen, m.
    SightRange,
    /// Share of the places of an arena from which a target is seen.
    SeenInArena,
    /// Strikes per 100 passes.
    Strikes,
    /// Mean length of the fish that strike, m.
    LengthCaught,
    /// Strikes of large fish per 100 passes of the whole stock.
    LargeCaught,
    /// Share of fish that are never caught.
    NeverCaught,
    /// Fish caught in an hour.
    CatchPerHour,
    /// Share of strikes that end with a hooked fish.
    Hooked,
    /// Depth of a heavy line towed, m.
    TowedDepth,
}

labelled!(Output {
    Secchi => "Secchi depth",
    Attenuation => "attenuation of light",
    SightRange => "sight range",
    SeenInArena => "seen in an arena",
    Strikes => "strikes",
    LengthCaught => "mean length caught",
    LargeCaught => "large fish caught",
    NeverCaught => "share never caught",
    CatchPerHour => "catch per hour",
    Hooked => "share hooked",
    TowedDepth => "depth of a towed line",
});

impl Output {
    /// The unit that measured numbers stand in: `m`, `1/m`, `1/h`, `per 100 passes`, or `share`.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Secchi | Self::SightRange | Self::LengthCaught | Self::TowedDepth => "m",
            Self::Attenuation => "1/m",
            Self::Strikes | Self::LargeCaught => "per 100 passes",
            Self::CatchPerHour => "1/h",
            Self::SeenInArena | Self::NeverCaught | Self::Hooked => "share",
        }
    }

    /// What the output needs beside a scenario, keys of [`setup`].
    pub fn needs(self) -> &'static [&'static str] {
        match self {
            Self::Secchi | Self::Attenuation | Self::Strikes | Self::CatchPerHour | Self::Hooked => &[],
            Self::SightRange => &["light_lux", "target", "target_length"],
            Self::SeenInArena => &["light_lux", "target", "target_length", "arena"],
            Self::LengthCaught => &["stock_mean", "stock_spread"],
            Self::LargeCaught => &["stock_mean", "stock_spread", "large_from"],
            Self::NeverCaught => &["captures"],
            Self::TowedDepth => &["line_out", "line_diameter", "line_density", "tow_speed"],
        }
    }
}

/// A number that was measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Measured {
    /// The number, in the unit of the output.
    pub value: f64,
    /// Lower end of what was found, where one is known.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
}

/// One condition of a trial.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row {
    /// The condition in words, by which patterns name the row.
    pub at: String,
    /// The output in place of the trial's.
    pub output: Output,
    /// What was measured; none where only a pattern is known.
    pub measured: Option<Measured>,
    /// Whether it counts.
    pub scored: bool,
    /// Where it stands on the axis of the trial's picture.
    pub x: Option<f64>,
    /// Which line of that picture it belongs to; empty where there is one.
    pub line: String,
    /// Values of the scenario of this row alone.
    #[serde(skip)]
    pub world: Vec<Override>,
    /// What the output needs beside a scenario, the trial's included.
    #[serde(skip)]
    pub setup: Setup,
    /// Place of the row in its file.
    #[serde(skip)]
    pub place: Range<usize>,
}

/// What a pattern claims of its rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Claim {
    /// The last is at least the factor times the first.
    Rises,
    /// The first is at least the factor times the last.
    Falls,
    /// The largest is at most the factor times the smallest.
    Same,
}

labelled!(Claim { Rises => "rises", Falls => "falls", Same => "same" });

/// A pattern over rows.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pattern {
    /// What was found, in words.
    pub says: String,
    /// Its rows, places in the trial.
    pub rows: Vec<usize>,
    /// The claim.
    pub claim: Claim,
    /// The ratio that counts as a difference.
    pub factor: f64,
}

/// A measurement by others.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trial {
    /// Short name.
    pub id: String,
    /// What it is, in a few words.
    pub title: String,
    /// By whom: the citation.
    pub by: String,
    /// How the numbers are known.
    pub known: Known,
    /// What was measured and how it is run here.
    pub measured: String,
    /// The output it speaks to.
    pub output: Output,
    /// What of the model was set by it.
    pub used: Used,
    /// Which part, in words; empty for nothing.
    pub used_for: String,
    /// What a miss means for an angler's answer.
    pub miss: String,
    /// What to keep in mind.
    pub notes: Vec<String>,
    /// Title of the axis that the rows stand on, with its unit; empty where they stand on none.
    pub axis: String,
    /// The conditions.
    pub rows: Vec<Row>,
    /// The patterns.
    pub patterns: Vec<Pattern>,
    /// Values of the scenario in every row.
    #[serde(skip)]
    pub world: Vec<Override>,
}

impl Trial {
    /// Whether anything of it counts.
    pub fn is_scored(&self) -> bool {
        !self.patterns.is_empty() || self.rows.iter().any(|r| r.scored && r.measured.is_some())
    }
}
