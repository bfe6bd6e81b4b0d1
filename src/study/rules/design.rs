//! Points spread evenly over the conditions of a rule.

use super::Condition;
use crate::random::{Purpose, ScrambledSobol};
use crate::study::axis::{Axis, Values};

/// The conditions belong to the question and not to its luck: they are the same for any seed of the simulation.
const SEED: u64 = 1;

/// Overrides at each of `count` points: scrambled Sobol points, one coordinate for each condition; a range is filled
/// (evenly in the logarithm where the axis is logarithmic), of a set each value comes equally often.
///
/// Sobol (1967) with the scrambling of Owen, as in Burley (2020), J. Comput. Graph. Tech. 9(4):1-20.
pub fn points(conditions: &[Condition], count: usize) -> Design {
    let sobol = ScrambledSobol::new(SEED, Purpose::Design, 0).jointly(conditions.len());
    let columns: Vec<Axis> = conditions
        .iter()
        .enumerate()
        .map(|(d, c)| column(&c.axis, (0..count).map(|i| sobol.at(i as u32, d))))
        .collect();
    Design { columns }
}

/// The axis with its value at every point in place of its steps.
fn column(axis: &Axis, at: impl Iterator<Item = f64>) -> Axis {
    let len = axis.len();
    let pick = |u: f64| ((u * len as f64) as usize).min(len.saturating_sub(1));
    let numbers = axis.numbers();
    let number =
        |u: f64| if len == 2 { axis.between(0, u) } else { numbers.get(pick(u)).copied().unwrap_or(0.0) };
    let values = match &axis.values {
        Values::Words(words) => Values::Words(at.filter_map(|u| words.get(pick(u)).cloned()).collect()),
        Values::Hours(_) => Values::Hours(at.map(|u| (number(u) * 3600.0).round() / 3600.0).collect()),
        Values::Numbers { dimension, logarithmic, .. } => Values::Numbers {
            values: at.map(number).collect(),
            dimension: *dimension,
            logarithmic: *logarithmic,
        },
    };
    Axis { values, ..axis.clone() }
}

/// The points, condition by condition.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// For each condition its axis with one value for each point.
    pub columns: Vec<Axis>,
}

impl Design {
    /// What is put at point `i`.
    pub fn overrides(&self, i: usize) -> Vec<(String, String)> {
        self.columns.iter().map(|c| c.override_at(i)).collect()
    }

    /// The coordinate of point `i` in condition `d`: the number, or the place of the word in the list of the rule.
    pub fn coordinate(&self, conditions: &[Condition], i: usize, d: usize) -> f64 {
        match (&self.columns[d].values, &conditions[d].axis.values) {
            (Values::Words(at), Values::Words(all)) => {
                all.iter().position(|w| Some(w) == at.get(i)).unwrap_or(0) as f64
            }
            _ => self.columns[d].numbers().get(i).copied().unwrap_or(0.0),
        }
    }
}

/// The axis with the values at these places in place of its own.
pub(super) fn picked(axis: &Axis, places: impl Iterator<Item = usize>) -> Axis {
    let values = match &axis.values {
        Values::Words(words) => Values::Words(places.filter_map(|i| words.get(i).cloned()).collect()),
        Values::Hours(hours) => Values::Hours(places.filter_map(|i| hours.get(i).copied()).collect()),
        Values::Numbers { values, dimension, logarithmic } => Values::Numbers {
            values: places.filter_map(|i| values.get(i).copied()).collect(),
            dimension: *dimension,
            logarithmic: *logarithmic,
        },
    };
    Axis { values, ..axis.clone() }
}
