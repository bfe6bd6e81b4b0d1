//! Where a rule turns: a box over its conditions, with how much of the turning it covers and how pure it is.

use super::design::Design;
use super::reading::{Differences, Reading, median};
use super::{Claim, Rule};
use crate::statistics::Error;
use crate::statistics::prim::{FoundBox, Search, find_box};
use ndarray::Array2;

/// A rule that turns at fewer of its points than this share is not said to turn.
pub const SELDOM: f64 = 0.05;
/// Coverage and purity that a sentence needs.
pub const GOOD: f64 = 0.6;
/// Bins in which a condition is held against the effect.
const BINS: usize = 4;

/// Where a rule turns.
#[derive(Debug, Clone, PartialEq)]
pub struct Flip {
    /// Share of the points at which the middle of the worlds says the opposite of the middle over all (for a rule that
    /// claims no difference: at which it makes one).
    pub share: f64,
    /// The opposite of what the rule claims: `true` where the rule holds on the whole and fails there, `false` where it
    /// fails on the whole and holds there.
    pub fails_there: bool,
    /// Where, as a box; limits of words are their places in the rule's list. None where it turns (almost) nowhere.
    pub found: Option<FoundBox>,
    /// The middle of the worlds at the points of the box, mean over them; strikes per 100 passes.
    pub effect_there: f64,
    /// For each condition the share of what the effect varies over the conditions that it explains alone.
    pub matters: Vec<f64>,
}

impl Flip {
    /// Whether the box says it well enough for a sentence.
    pub fn is_told(&self) -> bool {
        self.found.as_ref().is_some_and(|b| b.coverage >= GOOD && b.density >= GOOD && !b.limits.is_empty())
    }

    /// The conditions that matter most for the effect, most first.
    pub fn most_important(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.matters.len()).collect();
        order.sort_by(|&a, &b| self.matters[b].total_cmp(&self.matters[a]).then(a.cmp(&b)));
        order
    }
}

/// Finds where a rule turns.
///
/// # Errors
/// Numbers that are none.
pub fn find(rule: &Rule, design: &Design, d: &Differences, reading: &Reading) -> Result<Flip, Error> {
    let medians = d.medians();
    let turned: Vec<bool> = match rule.claim {
        Claim::More => {
            let ahead = reading.effect.point >= 0.0;
            medians.iter().map(|m| if ahead { *m < 0.0 } else { *m > 0.0 }).collect()
        }
        Claim::Same => {
            let sizes = d.by_condition.iter().map(|c| median(&c.iter().map(|v| v.abs()).collect::<Vec<_>>()));
            let little = reading.effect.point <= rule.smallest_difference;
            sizes.map(|s| (s > rule.smallest_difference) == little).collect()
        }
    };
    let fails_there = match rule.claim {
        Claim::More => reading.effect.point >= 0.0,
        Claim::Same => reading.effect.point <= rule.smallest_difference,
    };
    let conditions = &rule.conditions;
    let at = Array2::from_shape_fn((medians.len(), conditions.len()), |(i, c)| {
        design.coordinate(conditions, i, c)
    });
    let share = turned.iter().filter(|t| **t).count() as f64 / turned.len().max(1) as f64;
    let names: Vec<&str> = conditions.iter().map(|c| c.axis.path).collect();
    let found = match share < SELDOM || conditions.is_empty() {
        true => None,
        false => find_box(at.view(), &turned, &names, Search::default())?,
    };
    let effect_there = found.as_ref().map_or(f64::NAN, |b| {
        let inside = |i: usize| {
            b.limits.iter().all(|l| {
                let x = names.iter().position(|n| *n == l.name).map_or(0.0, |c| at[(i, c)]);
                l.low.is_none_or(|low| x >= low) && l.high.is_none_or(|high| x <= high)
            })
        };
        let there: Vec<f64> = (0..medians.len()).filter(|&i| inside(i)).map(|i| medians[i]).collect();
        there.iter().sum::<f64>() / there.len().max(1) as f64
    });
    let matters = (0..conditions.len()).map(|c| alone(&at.column(c).to_vec(), &medians)).collect();
    Ok(Flip { share, fails_there, found, effect_there, matters })
}

/// Correlation ratio of the effect on one condition in bins of equally many points: the share of its variance that lies
/// between the means of the bins, less what so few points give by chance.
fn alone(x: &[f64], effect: &[f64]) -> f64 {
    let n = x.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&a, &b| x[a].total_cmp(&x[b]));
    let mean = effect.iter().sum::<f64>() / n.max(1) as f64;
    let total: f64 = effect.iter().map(|e| (e - mean) * (e - mean)).sum();
    if n < 2 * BINS || total <= 0.0 {
        return 0.0;
    }
    let between: f64 = order
        .chunks(n.div_ceil(BINS))
        .map(|bin| {
            let sum: f64 = bin.iter().map(|&i| effect[i] - mean).sum();
            sum * sum / bin.len() as f64
        })
        .sum();
    let ratio = between / total;
    let chance = (BINS - 1) as f64 / (n - 1) as f64;
    ((ratio - chance) / (1.0 - chance)).max(0.0)
}
