//! Rules of thumb put to the model: does the rule hold, in how many plausible worlds, where does it flip.
//!
//! A rule has two sides, A and B, or a quantity along which the odds should fall or rise, and conditions over which it
//! is claimed. [`mod@file`] reads rules; [`design`] spreads points over the conditions; [`plan`] sets both sides up at
//! every point and finds every fault before anything is worked out; [`table`] works the strikes out, with the same
//! worlds and passes on both sides; [`reading`] reduces them to a verdict and [`flip`] to a sentence on where it turns; [`map`] shows that over two conditions.
//!
//! Nothing here knows what a rule is about: a rule gets no bonus for being well known.

pub mod answer;
pub mod design;
pub mod file;
pub mod flip;
pub mod here;
mod machine;
pub mod map;
pub mod plan;
pub mod reading;
pub mod table;

pub use super::overrides::Override;

use super::axis::Axis;
use crate::labels::labelled;
use std::ops::Range;

/// The rules that come with the program.
pub const EMBEDDED: &str = include_str!("../../../models/rules.toml");
/// The name of their file.
pub const EMBEDDED_FILE: &str = "models/rules.toml";

/// Conditions tried for a rule where its file does not say.
pub const CONDITIONS: usize = 64;
/// Worlds and passes where nothing else is said.
pub const BUDGET: (usize, usize) = (256, 64);

/// One side of a rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Side {
    /// What it is called in sentences.
    pub name: String,
    /// What makes it this side.
    pub puts: Vec<Override>,
}

/// What a rule compares.
#[derive(Debug, Clone, PartialEq)]
pub enum Test {
    /// Two sides.
    Sides {
        /// The side that is said to draw more.
        a: Side,
        /// The side that it is compared with.
        b: Side,
    },
    /// The odds along a quantity.
    Direction {
        /// The quantity and its steps.
        axis: Axis,
        /// Whether they are said to fall as it grows.
        falls: bool,
        /// Place in the rule file.
        at: Range<usize>,
    },
}

/// What is claimed of the two sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Claim {
    /// A draws more.
    More,
    /// It makes no difference that matters.
    Same,
}

/// What the literature says of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Literature {
    /// Studies support it.
    Supported,
    /// Some for, some against, or only in part.
    Mixed,
    /// No test was found.
    Untested,
}

labelled!(Literature { Supported => "supported", Mixed => "mixed", Untested => "untested" });

/// A condition over which a rule is claimed.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// What varies: two numbers are the ends of a range that is filled, more than two a set.
    pub axis: Axis,
    /// Place in the rule file.
    pub at: Range<usize>,
}

/// A rule of thumb.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// A short name.
    pub id: String,
    /// What it says, in plain words.
    pub says: String,
    /// What it compares.
    pub test: Test,
    /// What is claimed.
    pub claim: Claim,
    /// Values that hold on both sides everywhere, the bait among them.
    pub always: Vec<Override>,
    /// What varies.
    pub conditions: Vec<Condition>,
    /// Values put on both sides for the gain that the rule's own must exceed; none where A need only exceed B.
    pub gain_over: Vec<Override>,
    /// How many points are spread over the conditions.
    pub points: usize,
    /// Smallest difference that matters, strikes per 100 passes.
    pub smallest_difference: f64,
    /// What the literature says.
    pub literature: Literature,
    /// Where.
    pub source: String,
    /// Place of the rule in its file.
    pub at: Range<usize>,
}

impl Rule {
    /// What is put at each level, from the side that is said to draw more to the other; two levels for two sides.
    pub fn levels(&self) -> Vec<Vec<(String, String)>> {
        let pairs = |side: &Side| side.puts.iter().map(|p| (p.path.clone(), p.value.clone())).collect();
        match &self.test {
            Test::Sides { a, b } => vec![pairs(a), pairs(b)],
            Test::Direction { axis, falls, .. } => {
                let mut steps: Vec<_> = (0..axis.len()).map(|i| vec![axis.override_at(i)]).collect();
                if !falls {
                    steps.reverse();
                }
                steps
            }
        }
    }

    /// Every value that is put in anywhere on the sides, with its place.
    pub(crate) fn puts(&self) -> impl Iterator<Item = &Override> {
        let sides = match &self.test {
            Test::Sides { a, b } => vec![a, b],
            Test::Direction { .. } => Vec::new(),
        };
        self.always.iter().chain(sides.into_iter().flat_map(|s| s.puts.iter()))
    }
}
