//! Where the sign of a rule turns, over two of the conditions that it is claimed for.

use super::answer::Answer;
use super::design::{Design, picked};
use super::flip::SELDOM;
use super::plan::{Ground, Plan};
use super::reading::{Differences, median};
use super::table::Workshop;
use super::{CONDITIONS, Claim};
use crate::engine::Budget;
use crate::engine::Control;
use crate::models::{Models, ModelsError};
use crate::study::axis::{Axis, Values};
use crate::study::sweep::reading::ENOUGH;

/// Steps of a range that is filled.
const STEPS: [usize; 2] = [12, 9];
/// Points of the other conditions that every cell is the mean over.
const OTHERS: usize = 6;
/// Worlds and passes: enough for signs.
pub const BUDGET: (usize, usize) = (64, 64);
/// A difference smaller than this, strikes in 100 passes, has no sign.
const NONE: f64 = 0.05;

/// A rule that turns by less than this, strikes in 100 passes, needs no map.
const LEAST_TURN: f64 = 0.05;
/// More maps would take longer than the rules themselves.
pub const MOST_MAPS: usize = 8;

/// The answers that are worth a map: those that turn round by something, or the only one.
pub fn worth_a_map(answers: &[Answer]) -> Vec<usize> {
    let turns = |a: &Answer| a.flip.share >= SELDOM && a.flip.effect_there.abs() >= LEAST_TURN;
    let worth = |a: &Answer| a.rule.claim == Claim::More && (answers.len() == 1 || turns(a));
    (0..answers.len()).filter(|&i| worth(&answers[i])).take(MOST_MAPS).collect()
}

/// The map.
#[derive(Debug, Clone, PartialEq)]
pub struct FlipMap {
    /// The two conditions, places in the rule.
    pub conditions: [usize; 2],
    /// Their steps.
    pub axes: [Axis; 2],
    /// Middle over the worlds of A - B in each cell, row by row (the first condition along a row).
    pub medians: Vec<f64>,
    /// Whether the sign is told: six plausible worlds in ten agree, and there is a difference at all.
    pub told: Vec<bool>,
    /// Worlds.
    pub draws: usize,
}

/// The steps of a condition: its own where it is a set, evenly spaced where it is a range.
fn steps(axis: &Axis, count: usize) -> Axis {
    if axis.len() != 2 || axis.is_words() {
        return axis.clone();
    }
    let along = (0..count).map(|i| axis.between(0, i as f64 / (count - 1) as f64)).collect();
    let values = match &axis.values {
        Values::Hours(_) => Values::Hours(along),
        Values::Numbers { dimension, logarithmic, .. } => {
            Values::Numbers { values: along, dimension: *dimension, logarithmic: *logarithmic }
        }
        Values::Words(words) => Values::Words(words.clone()),
    };
    Axis { values, ..axis.clone() }
}

/// The cells of the two conditions that matter most, each with the same few points of the others.
fn design(answer: &Answer, pair: [usize; 2], axes: &[Axis; 2]) -> Design {
    let (nx, ny) = (axes[0].len(), axes[1].len());
    let others = OTHERS.min(answer.differences.by_condition.len()).max(1);
    let all = || (0..nx * ny).flat_map(|cell| (0..others).map(move |k| (cell % nx, cell / nx, k)));
    let column = |(d, own): (usize, &Axis)| match d {
        d if d == pair[0] => picked(&axes[0], all().map(|(x, _, _)| x)),
        d if d == pair[1] => picked(&axes[1], all().map(|(_, y, _)| y)),
        _ => picked(own, all().map(|(_, _, k)| k)),
    };
    Design { columns: answer.design.columns.iter().enumerate().map(column).collect() }
}

/// Maps a rule; none where it has fewer than two conditions or claims no difference, where it cannot be set up
/// somewhere on the grid, or where it was stopped. [`Control::done`] counts the world draws.
///
/// # Errors
/// [`ModelsError`] for models that lack a parameter.
pub fn flip_map(
    answer: &Answer,
    ground: &Ground,
    models: &Models,
    budget: Budget,
    control: &Control,
) -> Result<Option<FlipMap>, ModelsError> {
    // What the sentence on the turning names comes first, then what matters most.
    let named = |c: usize| {
        let path = answer.rule.conditions[c].axis.path;
        answer.flip.found.iter().flat_map(|b| &b.limits).any(|l| l.name == path)
    };
    let mut pair = answer.flip.most_important();
    pair.sort_by_key(|&c| !(answer.flip.is_told() && named(c)));
    pair.truncate(2);
    pair.sort_by_key(|&c| answer.rule.conditions[c].axis.is_words());
    let [x, y] = pair[..] else { return Ok(None) };
    if answer.rule.claim == Claim::Same {
        return Ok(None);
    }
    let axes = [(x, STEPS[0]), (y, STEPS[1])].map(|(c, n)| steps(&answer.rule.conditions[c].axis, n));
    let design = design(answer, [x, y], &axes);
    // A corner of the grid may hold what none of the points held: a fish below the bottom, say.
    let Ok(plan) = Plan::at(answer.rule.clone(), design, ground, models) else { return Ok(None) };
    let mut workshop = Workshop::new(&plan, models, budget)?;
    let Some(struck) = workshop.struck(&plan.rules[0], control) else { return Ok(None) };
    let d = Differences::of(&struck);
    let cells = axes[0].len() * axes[1].len();
    let others = (d.by_condition.len() / cells.max(1)).clamp(1, CONDITIONS);
    let by_cell: Vec<Vec<f64>> = d
        .by_condition
        .chunks(others)
        .map(|points| {
            (0..d.mean.len()).map(|w| points.iter().map(|p| p[w]).sum::<f64>() / others as f64).collect()
        })
        .collect();
    let medians: Vec<f64> = by_cell.iter().map(|worlds| median(worlds)).collect();
    let told = by_cell.iter().zip(&medians).map(|(worlds, m)| {
        let agree = worlds.iter().filter(|v| **v * m > 0.0).count() as f64;
        m.abs() >= NONE && agree >= ENOUGH * worlds.len() as f64
    });
    Ok(Some(FlipMap { conditions: [x, y], told: told.collect(), medians, axes, draws: d.mean.len() }))
}
