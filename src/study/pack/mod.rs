//! What to carry: the best few baits over a spread of conditions.
//!
//! A set is worth the mean over conditions of what its best bait draws, *thrown knowing the condition* but not which
//! of the plausible worlds is the true one: so the best bait of a condition is the one with the greatest mean over
//! worlds. How far the worlds agree with the set is told beside.

pub mod conditions;
mod machine;
mod search;

use super::sweep::Cube;
use super::{Context, Study, Unanswered, many};
use crate::engine::Control;
use crate::engine::{Budget, prepare};
use crate::models::Models;
use crate::scenario::Diagnostic;
use crate::statistics;
use crate::statistics::estimate::Estimate;
use crate::study::axis::Axis;
use crate::world::PrepareError;
use conditions::{Condition, Conditions, Source};
use search::Search;

/// More conditions than this are a slip.
pub const MOST_CONDITIONS: usize = 1024;

/// What to carry over several scenarios, a spread of conditions, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct PackOf {
    /// Text, name and weight of each scenario; the first is the one opened.
    pub sources: Vec<(String, String, f64)>,
    /// The spread.
    pub axes: Vec<Axis>,
    /// Whether the spread is the usual one, for none was asked for.
    pub usual: bool,
    /// Conditions drawn from the spread.
    pub conditions: usize,
    /// Baits to carry.
    pub carry: usize,
}

impl Study for PackOf {
    const NAME: &'static str = "pack";
    const USUAL: (usize, usize) = (256, 128);
    type Answer = Pack;

    fn run(&self, on: &Context, control: &Control) -> Result<Pack, Unanswered> {
        let sources: Vec<Source> = (self.sources.iter())
            .map(|(text, file, weight)| Source { text, file, weight: *weight })
            .collect();
        let drawn = conditions::conditions(
            &sources,
            on.overrides,
            on.models,
            &self.axes,
            self.conditions,
            on.budget.seed,
        )?;
        let shares: Vec<f64> = self.sources.iter().map(|s| s.2).collect();
        let packed = pack(&drawn, &shares, on.models, &self.axes, (self.carry, on.budget), control)?;
        Ok(Pack { usual: self.usual, doubts: drawn.doubts, ..packed })
    }
}

impl From<PackError> for Unanswered {
    fn from(why: PackError) -> Self {
        let said = why.to_string();
        match why {
            PackError::Stopped => Self::Failed(said),
            PackError::Faults { faults, text, .. } => Self::Faults {
                over: Some((said, "mend the file, narrow the spread, or leave the scenario out".into())),
                faults,
                source: Some(text),
            },
            _ => Self::Input(said, String::new()),
        }
    }
}

/// Why no box can be packed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PackError {
    /// A bait is what is chosen.
    #[error("`{path}` is a property of the baits, which are what is chosen: vary a condition instead")]
    BaitAxis {
        /// Path of the axis.
        path: &'static str,
    },
    /// One value varied twice.
    #[error("`{path}` is varied twice: leave one away")]
    Twice {
        /// Path of the axis.
        path: &'static str,
    },
    /// Too many conditions.
    #[error("{conditions} conditions are more than {MOST_CONDITIONS}: write a smaller --conditions")]
    TooMany {
        /// How many.
        conditions: usize,
    },
    /// Too much to hold.
    #[error(
        "{numbers} numbers (conditions times baits times worlds) are more than {} can be held; take fewer --conditions, \
         fewer baits or fewer --worlds",
        many::MOST_NUMBERS
    )]
    TooLarge {
        /// Conditions times baits times worlds.
        numbers: usize,
    },
    /// A condition that is impossible.
    #[error("{at} is impossible")]
    Faults {
        /// Text of the file.
        text: String,
        /// Which file, and under which values.
        at: String,
        /// What is wrong.
        faults: Vec<Diagnostic>,
    },
    /// One name, two baits.
    #[error("`{name}` is one bait in {first} and another in {second}: give them names of their own")]
    TwoBaits {
        /// The name.
        name: String,
        /// File of the one.
        first: String,
        /// File of the other.
        second: String,
    },
    /// More to carry than there is.
    #[error(
        "{carry} baits cannot be carried out of {baits}: write --carry from 1 to {baits}, or fill the box"
    )]
    Carry {
        /// Baits wanted.
        carry: usize,
        /// Baits there are.
        baits: usize,
    },
    /// A condition cannot be set up.
    #[error(transparent)]
    Prepared(#[from] PrepareError),
    /// No set can be found for the rates.
    #[error("no set can be found: {0}")]
    Statistics(#[from] statistics::Error),
    /// Stopped before the first world was finished.
    #[error("stopped before the first world was finished")]
    Stopped,
}

/// A set of baits to carry.
#[derive(Debug, Clone, PartialEq)]
pub struct Set {
    /// The baits that are the best carried one somewhere, the most useful first; fewer than wanted where no further
    /// one adds anything.
    pub baits: Vec<usize>,
    /// Strikes per 100 passes over all conditions, mean over worlds.
    pub mean: f64,
    /// The same over plausible worlds.
    pub strikes: Estimate,
    /// Standard error of the mean by the sample of conditions; 0 for conditions that are given.
    pub sampling_se: f64,
    /// Whether it is proven that no other set of the size is better.
    pub proven: bool,
}

/// The best set of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Baits allowed.
    pub size: usize,
    /// The best of them.
    pub best: Set,
    /// The set found by adding the most useful bait one at a time.
    pub greedy: Set,
    /// What the best set draws more than the best one of a bait fewer, over plausible worlds.
    pub adds: Estimate,
    /// Its mean.
    pub mean_adds: f64,
}

/// What one bait of the set does.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// The bait.
    pub bait: usize,
    /// Share of the conditions in which it is the one to throw.
    pub thrown: f64,
    /// Mean strikes per 100 passes lost without it.
    pub without: f64,
    /// The bait not carried that replaces it best, and the mean strikes per 100 passes lost by the swap.
    pub substitute: Option<(usize, f64)>,
    /// For each axis the 10 %, 50 % and 90 % points of the conditions in which it is thrown.
    pub where_thrown: Vec<[f64; 3]>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Pack {
    /// Titles of the scenarios and their shares.
    pub sources: Vec<(String, f64)>,
    /// The spread.
    pub axes: Vec<Axis>,
    /// The conditions.
    pub conditions: Vec<Condition>,
    /// Names of the baits to choose from.
    pub baits: Vec<String>,
    /// Strikes per 100 passes: condition x bait x world.
    pub cube: Cube,
    /// Baits wanted.
    pub carry: usize,
    /// The best set of each size, from 1 on; the one wanted is among them.
    pub sizes: Vec<Size>,
    /// The baits of the set wanted.
    pub members: Vec<Member>,
    /// The bait to throw in each condition, out of the set.
    pub throw: Vec<usize>,
    /// Share of worlds in whose own best set each bait is.
    pub inclusion: Vec<f64>,
    /// Share of worlds in which no other set of the size is better.
    pub stays_best: f64,
    /// Share of worlds in which the best set of that world is better by less than the smallest difference that matters.
    pub nearly_best: f64,
    /// What the set lacks in each world against the best set of that world, over worlds: strikes per 100 passes.
    pub regret: Estimate,
    /// Its mean.
    pub mean_regret: f64,
    /// What carrying every bait would add, over worlds.
    pub whole_box_adds: Estimate,
    /// Its mean.
    pub mean_whole_box_adds: f64,
    /// Worlds whose best set was searched to the end.
    pub worlds_proven: usize,
    /// Whether the spread is the usual one, for none was asked for.
    pub usual: bool,
    /// Conditions that are doubtful, and the first doubt.
    pub doubts: Option<(usize, Diagnostic)>,
}

impl Pack {
    /// The best set of the size wanted.
    pub fn chosen(&self) -> Option<&Size> {
        self.sizes.iter().find(|s| s.size == self.carry)
    }

    /// What a bait draws under a condition, mean over worlds.
    pub fn mean_of(&self, condition: usize, bait: usize) -> f64 {
        self.cube.strikes(condition, bait).and_then(crate::statistics::estimate::mean).unwrap_or(f64::NAN)
    }
}

/// Packs a box for conditions already drawn.
///
/// # Errors
/// [`PackError`].
pub fn pack(
    conditions: &Conditions,
    shares: &[f64],
    models: &Models,
    axes: &[Axis],
    (carry, budget): (usize, Budget),
    control: &Control,
) -> Result<Pack, PackError> {
    let baits = conditions.scenarios.first().map_or(0, |s| s.baits.len());
    if carry == 0 || carry > baits {
        return Err(PackError::Carry { carry, baits });
    }
    let numbers = conditions.list.len() * baits * budget.as_run().worlds;
    if numbers > many::MOST_NUMBERS {
        return Err(PackError::TooLarge { numbers });
    }
    let settings = prepare(&conditions.scenarios, models).map_err(|(_, e)| e)?;
    let (cube, _) = many::strikes(models, &settings, budget, control)?;
    if cube.draws == 0 {
        return Err(PackError::Stopped);
    }
    let total: f64 = shares.iter().sum();
    let sources = conditions.titles.iter().cloned().zip(shares.iter().map(|w| w / total)).collect();
    let search = Search::new(&conditions.list, &cube);
    let sizes = search.sizes(carry)?;
    let chosen = sizes.iter().find(|s| s.size == carry).map_or(Vec::new(), |s| s.best.baits.clone());
    let own = search.own_sets(carry)?;
    let lost = search.lost_to(&chosen, &own);
    let regret = search.over_worlds(&lost);
    let whole = search.without_limit(&chosen);
    Ok(Pack {
        sources,
        axes: axes.to_vec(),
        conditions: conditions.list.clone(),
        baits: cube.baits.clone(),
        carry,
        members: search.members(&chosen),
        throw: search.thrown(&chosen),
        inclusion: search.inclusion(&own),
        stays_best: search::share(&lost, |v| v <= search::SAME),
        nearly_best: search::share(&lost, |v| v < super::SMALLEST_DIFFERENCE),
        regret: regret.0,
        mean_regret: regret.1,
        whole_box_adds: whole.0,
        mean_whole_box_adds: whole.1,
        worlds_proven: own.iter().filter(|s| s.proven).count(),
        usual: false,
        doubts: None,
        sizes,
        cube,
    })
}
