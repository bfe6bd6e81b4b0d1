//! Which assumptions carry the groups that carry an effect: each made neutral, or moved over its range, alone.

use super::worth::{Comparison, Plan, effect};
use super::{AttributionError, Explained};
use crate::engine::Passes;
use crate::engine::{Control, each};
use crate::models::assumed::{PHASES, PRESSURES, SPECIES};
use crate::models::{Assumed, Draw, Grade, Group, Models, Parameter, Spread};

/// Worlds that go in, spread over the draws, and comparisons, spread over the conditions: enough to name assumptions.
const WORLDS: usize = 16;
const COMPARISONS: usize = 6;
/// Where the effect in those is less than this part of the whole effect, or that many times as large, they do not
/// stand for all, and all go in.
const ENOUGH_OF_IT: f64 = 0.5;
/// Ends of the plausible range.
const LOW: f64 = 0.05;
const HIGH: f64 = 0.95;
/// Part of the effect from which an assumption matters: half of it goes, or half of it comes over the plausible range.
pub const MATTERS: f64 = 0.5;

/// An assumption of a group that carries an effect.
#[derive(Debug, Clone, PartialEq)]
pub struct Carrier {
    /// Parameter name.
    pub name: String,
    /// What it means.
    pub means: String,
    /// How well it is known.
    pub grade: Grade,
    /// Its group.
    pub group: Group,
    /// Part of the effect that goes when the assumption alone is neutral (a weight of 0, a factor of 1); below 0 where
    /// the effect grows. `None` where no value makes it neutral.
    pub lost: Option<f64>,
    /// How much the effect moves while the assumption goes over its plausible range, as a part of the effect.
    pub swing: f64,
}

impl Carrier {
    /// Whether the effect depends on it by a part that matters.
    pub fn matters(&self) -> bool {
        self.strength() >= MATTERS
    }

    fn strength(&self) -> f64 {
        self.lost.unwrap_or(0.0).abs().max(self.swing.abs())
    }
}

/// A distance that no lake has, m: no fish is unwilling.
const ANY_DISTANCE_M: f64 = 1e9;

/// The value at which an assumption does nothing, where there is one.
pub fn neutral_value(name: &str) -> Option<f64> {
    let is_phase = || SPECIES.iter().any(|s| name.starts_with(&format!("{s}.phase.")));
    match name {
        "refuse.size"
        | "refuse.sound"
        | "refuse.look"
        | "refuse.hazard"
        | "rise.bigger_meal_power"
        | "hearing.notice_rate"
        | "near.notice_rate"
        | "appetite.temperature_power" => Some(0.0),
        "rise.willing_distance" => Some(ANY_DISTANCE_M),
        _ if name.starts_with("pressure.") || is_phase() => Some(1.0),
        _ => None,
    }
}

/// Whether an assumption can act in these comparisons: a finish that neither side has cannot.
fn acts(models: &Models, (comparisons, over): (&[Comparison], &[Comparison]), name: &str) -> bool {
    let sides = || comparisons.iter().chain(over).flat_map(|c| [c.a, c.b]);
    let mut parts = name.split('.');
    let (kind, which, last) = (parts.next().unwrap_or(""), parts.next().unwrap_or(""), parts.next());
    match kind {
        "finish" => sides().any(|s| models.finishes.get(s.bait.finish).is_some_and(|f| f == which)),
        "forage" => sides().any(|s| models.forages.get(s.prepared.forage).is_some_and(|f| f.name == which)),
        "tint" => sides().any(|s| models.tints.get(s.prepared.tint_index).is_some_and(|t| t.name == which)),
        "pressure" => sides().any(|s| PRESSURES.get(s.prepared.pressure) == Some(&which)),
        _ if SPECIES.contains(&kind) => sides().any(|s| {
            let phase = which == "phase";
            SPECIES.get(s.prepared.species) == Some(&kind)
                && (!phase || PHASES.get(s.prepared.phase).copied() == last)
        }),
        _ => true,
    }
}

/// The assumptions of the groups that carry the effect, strongest first; `None` if stopped.
///
/// Assumptions that do nothing here are left out.
pub(super) fn carriers(
    plan: &Plan,
    comparisons: (&[Comparison], &[Comparison]),
    explained: &Explained,
    control: &Control,
) -> Result<Option<Vec<Carrier>>, AttributionError> {
    let carrying = explained.carrying();
    let models = plan.models;
    let tried: Vec<(usize, &Parameter)> = models
        .parameters
        .iter()
        .enumerate()
        .filter(|(_, p)| carrying.contains(&p.group) && p.spread != Spread::Fixed)
        .filter(|(_, p)| acts(models, comparisons, &p.name))
        .collect();
    if tried.is_empty() {
        return Ok(Some(Vec::new()));
    }
    let mut trial = Trial::new(plan, comparisons, (WORLDS, COMPARISONS));
    let mut whole = trial.mean(None)?;
    let stands_for_all = whole / explained.total().per_100;
    if !(ENOUGH_OF_IT..=1.0 / ENOUGH_OF_IT).contains(&stands_for_all) {
        trial = Trial::new(plan, comparisons, (usize::MAX, COMPARISONS));
        whole = trial.mean(None)?;
    }
    let part = |of: f64| if whole != 0.0 { of / whole } else { 0.0 };
    let one = |k: usize| -> Result<Option<Carrier>, AttributionError> {
        if control.stopped() {
            return Ok(None);
        }
        let (i, p) = tried[k];
        let lost = match neutral_value(&p.name) {
            Some(value) => Some(part(whole - trial.mean(Some((i, value)))?)),
            None => None,
        };
        let [low, high] = [LOW, HIGH].map(|u| trial.mean(Some((i, p.quantile(u)))));
        Ok(Some(Carrier {
            name: p.name.clone(),
            means: p.means.clone(),
            grade: p.grade,
            group: p.group,
            lost,
            swing: part(high? - low?),
        }))
    };
    let found: Result<Vec<Option<Carrier>>, _> = each(tried.len(), one).into_iter().collect();
    let Some(mut found) = found?.into_iter().collect::<Option<Vec<Carrier>>>() else { return Ok(None) };
    found.retain(|c| c.strength() > 0.0);
    found.sort_by(|a, b| b.strength().total_cmp(&a.strength()));
    Ok(Some(found))
}

/// The worlds and comparisons in which assumptions are changed one by one.
struct Trial<'p> {
    plan: &'p Plan<'p>,
    worlds: Vec<(usize, Passes)>,
    comparisons: Vec<Comparison<'p>>,
    over: Vec<Comparison<'p>>,
}

impl<'p> Trial<'p> {
    fn new(
        plan: &'p Plan<'p>,
        (comparisons, over): (&[Comparison<'p>], &[Comparison<'p>]),
        most: (usize, usize),
    ) -> Self {
        let some = |all: &[Comparison<'p>]| spread(all.len(), most.1).map(|i| all[i]).collect();
        Self {
            plan,
            worlds: spread(plan.worlds.len(), most.0).map(|w| (w, plan.passes(w))).collect(),
            comparisons: some(comparisons),
            over: some(over),
        }
    }

    /// Mean effect with parameter number `i` at a value, or with all as drawn.
    fn mean(&self, changed: Option<(usize, f64)>) -> Result<f64, AttributionError> {
        let mut sum = 0.0;
        for (world, passes) in &self.worlds {
            let assumed = match changed {
                Some((i, value)) => Assumed::of(self.plan.models, &with(self.plan.draw(*world), i, value))?,
                None => self.plan.worlds.assumed[*world].clone(),
            };
            sum += effect(&self.comparisons, &self.over, &assumed, passes);
        }
        Ok(sum / (self.worlds.len() * self.comparisons.len()) as f64)
    }
}

fn with(draw: &Draw, place: usize, value: f64) -> Draw {
    let mut changed = draw.clone();
    if let Some(slot) = changed.values.get_mut(place) {
        *slot = value;
    }
    changed
}

/// At most `most` of `count` places, evenly spread.
fn spread(count: usize, most: usize) -> impl Iterator<Item = usize> {
    let taken = count.min(most);
    (0..taken).map(move |i| i * count / taken)
}
