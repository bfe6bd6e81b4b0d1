//! Every rule answered in turn, so that a run that is stopped has answered the first ones in full.

use super::design::Design;
use super::flip::{self, Flip};
use super::map::{self, FlipMap, MOST_MAPS, flip_map, worth_a_map};
use super::plan::{Ground, Plan, Planned};
use super::reading::{Differences, Reading, read};
use super::table::Workshop;
use super::{Claim, Rule};
use crate::engine::Budget;
use crate::engine::Control;
use crate::models::{Models, ModelsError};
use crate::statistics;
use crate::statistics::verdict::{Unclear, Verdict};
use crate::study::attribution::{self, Attribution, AttributionError, Comparison, attribute};
use crate::study::{Context, Study, Unanswered};
use crate::world::ablation::Side;

/// Points of the conditions that go into what a rule rests on: the first of the same sequence, spread as evenly.
const EXPLAINED_POINTS: usize = 12;
/// A rule that is left open is worked out again in this many times as many worlds, of so many times as many passes:
/// the worlds settle the share, the passes settle on which side of it a world counts.
const LONGER: (usize, usize) = (2, 4);
/// Share of the rules for which the time left allows that.
const LEFT_OPEN: usize = 4;
/// An effect smaller than this, strikes per 100 passes, is not taken apart.
const LEAST_EXPLAINED: f64 = 0.1;

/// Why rules could not be answered.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RulesError {
    /// The models are incomplete.
    #[error(transparent)]
    Models(#[from] ModelsError),
    /// Numbers that are none.
    #[error(transparent)]
    Statistics(#[from] statistics::Error),
    /// What a rule rests on could not be found.
    #[error(transparent)]
    Attribution(#[from] AttributionError),
}

/// What is known of a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The rule.
    pub rule: Rule,
    /// Its points.
    pub design: Design,
    /// The verdict.
    pub reading: Reading,
    /// Where it turns.
    pub flip: Flip,
    /// What it rests on.
    pub rests_on: Attribution,
    /// The differences that it was read from.
    pub differences: Differences,
    /// Worlds that it took.
    pub draws: usize,
    /// Passes in each.
    pub points: usize,
}

/// Rules tried, each in turn.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// The rule file.
    pub file: String,
    /// What is known of each; fewer than asked for where the work was stopped.
    pub answers: Vec<Answer>,
    /// Rules asked for.
    pub asked_for: usize,
    /// Where rules turn, each with the number of its answer; where maps were wanted.
    pub maps: Vec<(usize, FlipMap)>,
    /// How many rules are claimed for other conditions, where all were tried at one place and no others.
    pub others: Option<usize>,
}

/// Rules of thumb put to the model.
#[derive(Debug, Clone, Copy)]
pub struct RulesOf<'a> {
    /// The rules, set up.
    pub plan: &'a Plan,
    /// What they start from.
    pub ground: &'a Ground<'a>,
    /// Whether a rule that is left open takes more worlds.
    pub longer: bool,
    /// Whether maps are wanted.
    pub maps: bool,
    /// How many rules are claimed for other conditions, where all are tried at one place and no others.
    pub others: Option<usize>,
}

impl Study for RulesOf<'_> {
    const NAME: &'static str = "rules";
    const USUAL: (usize, usize) = super::BUDGET;
    type Answer = Tried;

    fn steps(&self, on: &Context) -> usize {
        let maps = if self.maps { MOST_MAPS * map_budget(on.budget.as_run()).as_run().worlds } else { 0 };
        steps(self.plan, on.budget.as_run(), self.longer) + maps
    }

    fn run(&self, on: &Context, control: &Control) -> Result<Tried, Unanswered> {
        let budget = on.budget.as_run();
        let failed =
            |e: RulesError| Unanswered::Input(e.to_string(), "check the files given with --model".into());
        let answers = answers(self.plan, on.models, budget, self.longer, control).map_err(failed)?;
        if answers.is_empty() && self.asked_for() > 0 {
            return Err(Unanswered::stopped("the first rule"));
        }
        let worth = if self.maps { worth_a_map(&answers) } else { Vec::new() };
        let map = |&i: &usize| {
            let map = flip_map(&answers[i], self.ground, on.models, map_budget(budget), control);
            map.map(|m| Some((i, m?))).map_err(|e| Unanswered::Failed(e.to_string())).transpose()
        };
        let maps = worth.iter().filter_map(map).collect::<Result<_, _>>()?;
        let file = self.ground.rule_file.to_owned();
        Ok(Tried { file, answers, asked_for: self.asked_for(), maps, others: self.others })
    }
}

impl RulesOf<'_> {
    fn asked_for(&self) -> usize {
        self.plan.rules.len()
    }
}

fn map_budget(budget: Budget) -> Budget {
    Budget { worlds: budget.worlds.min(map::BUDGET.0), passes: budget.passes.min(map::BUDGET.1), ..budget }
}

/// About how many world draws [`Control::done`] will count; `longer` as for [`answers`].
pub fn steps(plan: &Plan, budget: Budget, longer: bool) -> usize {
    let draws = budget.as_run().worlds;
    let open = if longer { plan.rules.len() / LEFT_OPEN * LONGER.0 * draws } else { 0 };
    plan.rules.len() * (draws + explained_budget(budget).as_run().worlds) + open
}

fn explained_budget(budget: Budget) -> Budget {
    let (draws, points) = attribution::BUDGET;
    Budget { worlds: budget.worlds.min(draws), passes: budget.passes.min(points), ..budget }
}

/// Answers the rules of a plan; fewer if stopped. With `longer`, a rule that the simulation leaves open is worked out
/// again in twice as many worlds of four times as many passes.
///
/// # Errors
/// [`RulesError`]: models that lack a parameter.
pub fn answers(
    plan: &Plan,
    models: &Models,
    budget: Budget,
    longer: bool,
    control: &Control,
) -> Result<Vec<Answer>, RulesError> {
    let mut workshop = Workshop::new(plan, models, budget)?;
    let run = budget.as_run();
    let more = Budget { worlds: LONGER.0 * run.worlds, passes: LONGER.1 * run.passes, ..budget };
    let mut large = None;
    let mut answers = Vec::with_capacity(plan.rules.len());
    for planned in &plan.rules {
        let Some(mut found) = judged(&mut workshop, planned, control)? else { break };
        let mut points = run.passes;
        if longer && !budget.fixed && found.0.verdict == Verdict::CannotTell(Unclear::SimulationNoise) {
            let again = match &mut large {
                Some(workshop) => workshop,
                None => large.insert(Workshop::new(plan, models, more)?),
            };
            let Some(better) = judged(again, planned, control)? else { break };
            (found, points) = (better, more.passes);
            // So many worlds of one rule would only lie in the way of the next.
            again.forget();
        }
        let (reading, differences) = found;
        let flip = flip::find(&planned.rule, &planned.design, &differences, &reading)?;
        let Some(rests_on) = rests_on(plan, planned, &reading, models, budget, control)? else { break };
        let (rule, design) = (planned.rule.clone(), planned.design.clone());
        let draws = differences.mean.len();
        answers.push(Answer { rule, design, reading, flip, rests_on, differences, draws, points });
    }
    Ok(answers)
}

fn judged(
    workshop: &mut Workshop,
    planned: &Planned,
    control: &Control,
) -> Result<Option<(Reading, Differences)>, statistics::Error> {
    let Some(struck) = workshop.struck(planned, control) else { return Ok(None) };
    let differences = Differences::of(&struck);
    Ok(Some((read(&planned.rule, &struck, &differences)?, differences)))
}

fn rests_on(
    plan: &Plan,
    planned: &Planned,
    reading: &Reading,
    models: &Models,
    budget: Budget,
    control: &Control,
) -> Result<Option<Attribution>, AttributionError> {
    let side = |p: &super::plan::Place| {
        let prepared = &plan.settings[p.prepared];
        Side { prepared, bait: &prepared.baits[p.bait] }
    };
    // The same points of the conditions elsewhere.
    let compared = |cells: &[Vec<super::plan::Place>], paces: Option<&[Vec<f64>]>| -> Vec<Comparison> {
        let (Some(a), Some(b)) = (cells.first(), cells.last()) else { return Vec::new() };
        let (first, last) = (paces.and_then(<[_]>::first), paces.and_then(<[_]>::last));
        let pace = |of: Option<&Vec<f64>>, i: usize| of.and_then(|p| p.get(i)).copied().unwrap_or(1.0);
        let one = |(i, (a, b))| Comparison { a: side(a), b: side(b), pace: [pace(first, i), pace(last, i)] };
        a.iter().zip(b).take(EXPLAINED_POINTS).enumerate().map(one).collect()
    };
    let paces = planned.paces.as_ref();
    let comparisons = compared(&planned.cells, paces.map(|p| p.levels.as_slice()));
    let over = compared(&planned.over, paces.map(|p| p.over.as_slice()));
    let none = match planned.rule.claim {
        Claim::More => reading.verdict == Verdict::NoDifferenceThatMatters,
        Claim::Same => reading.verdict == Verdict::Holds,
    };
    let least = if none { planned.rule.smallest_difference } else { LEAST_EXPLAINED };
    attribute(models, &comparisons, &over, explained_budget(budget), least, control)
}
