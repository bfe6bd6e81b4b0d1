//! What a difference between two sides rests on: physics and measurement, or one assumption said again.
//!
//! The effect of a rule is the mean difference of its sides over conditions and plausible worlds. It is worked out
//! with every set of groups of assumptions acting and the others neutral ([`crate::world::ablation`]), 128 sets; the
//! exact Shapley shares of the seven groups add to the effect, and a group that makes no difference gets nothing.
//!
//! [`worth`] works out the 128 effects, [`explained`] turns them into shares and a flag, [`carriers`] names the
//! assumptions that carry a group.

pub mod carriers;
pub mod explained;
mod machine;
pub mod worth;

pub use carriers::Carrier;
pub use explained::{Effect, Explained, Flag, Share};
pub use worth::{Comparison, Worth};

use crate::engine::Budget;
use crate::engine::Control;
use crate::models::{Grade, Group, Models, ModelsError};
use crate::statistics;

/// Worlds and passes: enough for shares to a few hundredths.
pub const BUDGET: (usize, usize) = (128, 64);

/// Why a difference could not be explained.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AttributionError {
    /// The models are incomplete.
    #[error(transparent)]
    Models(#[from] ModelsError),
    /// Nothing to compare, or numbers that are none.
    #[error(transparent)]
    Statistics(#[from] statistics::Error),
}

/// What a difference rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Attribution {
    /// The effect, its shares and the flag.
    pub explained: Explained,
    /// Assumptions that carry the groups which carry the effect, strongest first.
    pub carriers: Vec<Carrier>,
}

impl Attribution {
    /// The effect A - B in strikes per 100 passes, all assumptions acting.
    pub fn total(&self) -> Effect {
        self.explained.total()
    }

    /// What may be said.
    pub fn flag(&self) -> Flag {
        self.explained.flag
    }

    /// The assumption that a rule restates: of the one group that carries it the assumption with which most of the
    /// effect goes, or that moves it furthest where none can be made neutral.
    pub fn restated(&self) -> Option<&Carrier> {
        let Flag::Restates(group) = self.explained.flag else { return None };
        let of_group = || self.carriers.iter().filter(|c| c.group == group);
        let lost = |c: &Carrier| c.lost.unwrap_or(0.0);
        of_group()
            .filter(|c| lost(c) > 0.0)
            .max_by(|a, b| lost(a).total_cmp(&lost(b)))
            .or_else(|| of_group().next())
    }

    /// The guesses among the assumptions that the effect rests on: the one that it restates, and those that
    /// [matter](Carrier::matters), strongest first.
    pub fn rests_on_guess(&self) -> Vec<&Carrier> {
        let restated = self.restated();
        let rests = |c: &Carrier| c.matters() || restated == Some(c);
        self.carriers.iter().filter(|c| c.grade == Grade::Guess && rests(c)).collect()
    }

    /// The groups that carry the effect, largest share first.
    pub fn carrying(&self) -> Vec<Group> {
        self.explained.carrying()
    }
}

/// Finds what the difference of the two sides rests on, over all comparisons; `None` if it was stopped.
///
/// With `over`, the same comparisons elsewhere, the effect is that of a rule about a gain: A - B x (A/B elsewhere), the
/// ratio of means being that of each world.
///
/// `smallest_difference` is in strikes per 100 passes: a smaller effect is flagged as no difference to explain.
/// [`Control::done`] counts the world draws. The same bits for any number of threads.
///
/// # Errors
/// [`AttributionError`]: no comparison, or models that lack a parameter.
pub fn attribute(
    models: &Models,
    comparisons: &[Comparison<'_>],
    over: &[Comparison<'_>],
    budget: Budget,
    smallest_difference: f64,
    control: &Control,
) -> Result<Option<Attribution>, AttributionError> {
    let plan = worth::Plan::new(models, budget)?;
    let Some(worths) = worth::worths(&plan, comparisons, over, control)? else { return Ok(None) };
    let by_world: Vec<Worth> = worths.iter().map(worth::over_passes).collect();
    // One world has no scrambles of worlds; its luck is that of its passes.
    let explained = match worths.as_slice() {
        [alone] => Explained::with_replicates(&by_world, alone, smallest_difference)?,
        _ => Explained::of(&by_world, plan.per_scramble(), smallest_difference)?,
    };
    let Some(carriers) = carriers::carriers(&plan, (comparisons, over), &explained, control)? else {
        return Ok(None);
    };
    Ok(Some(Attribution { explained, carriers }))
}
