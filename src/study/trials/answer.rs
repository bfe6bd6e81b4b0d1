//! The trials worked out over plausible worlds.

use super::outputs::Ask;
use super::plan::Planned;
use super::reading::{Reading, Word, read};
use super::{NOT_FOUND, Trial};
use crate::engine::{Budget, Passes};
use crate::engine::{Control, each_world};
use crate::models::{Models, ModelsError};
use crate::study::{Context, Study, Unanswered};
use serde::Serialize;

/// A trial with what the model says.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Answered {
    /// The trial.
    pub trial: Trial,
    /// Model against measurement.
    pub reading: Reading,
    /// Whether it counts.
    pub scored: bool,
    /// Whether it counts and nothing of the model was set by it.
    pub independent: bool,
}

/// How many trials got which word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Score {
    /// All trials.
    pub trials: usize,
    /// Scored trials that agree.
    pub agree: usize,
    /// Scored trials that are near.
    pub near: usize,
    /// Scored trials that miss.
    pub miss: usize,
    /// Patterns that hold.
    pub patterns_hold: usize,
    /// Patterns that fail.
    pub patterns_fail: usize,
    /// Trials that count.
    pub scored: usize,
    /// Of these, trials by which nothing of the model was set.
    pub independent: usize,
    /// Of the independent ones, those that agree, are near, or whose pattern holds.
    pub independent_kept: usize,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Answer {
    /// Words over all trials.
    pub score: Score,
    /// The trials, in the order asked for.
    pub trials: Vec<Answered>,
    /// Trials asked for; more than there are where the work was stopped.
    #[serde(rename = "trials_asked")]
    pub asked_for: usize,
    /// What cannot be tried, for no measurement was found in print.
    pub not_found_in_print: &'static [&'static str],
}

/// Measurements by others, each run in the model.
#[derive(Debug, Clone, Copy)]
pub struct TrialsOf<'a>(pub &'a [Planned]);

impl Study for TrialsOf<'_> {
    const NAME: &'static str = "trials";
    type Answer = Answer;

    fn steps(&self, on: &Context) -> usize {
        steps(self.0, on.budget)
    }

    fn run(&self, on: &Context, control: &Control) -> Result<Answer, Unanswered> {
        let found = answer(self.0, on.models, on.budget, control)?;
        if found.trials.is_empty() {
            return Err(Unanswered::Failed("stopped before the first trial was answered".into()));
        }
        Ok(found)
    }
}

/// Steps that [`answer`] counts: one for each world of each trial.
pub fn steps(plans: &[Planned], budget: Budget) -> usize {
    plans.len() * budget.as_run().worlds
}

/// Works the trials out, the same worlds and passes in each. A stopped computation keeps the trials finished.
///
/// # Errors
/// [`ModelsError::Missing`] where the models lack a parameter.
pub fn answer(
    plans: &[Planned],
    models: &Models,
    budget: Budget,
    control: &Control,
) -> Result<Answer, ModelsError> {
    let budget = budget.as_run();
    let worlds = budget.worlds(models)?;
    let mut trials = Vec::new();
    for plan in plans {
        let by_world = each_world(&worlds, control, |i, assumed| {
            let passes = Passes::of_world(budget.seed, i, budget.passes);
            let row = |(row, prepared)| {
                let luck = (budget.seed, i);
                Ask { prepared, assumed, models, passes: &passes, luck }.answer(row)
            };
            plan.trial.rows.iter().zip(&plan.settings).map(row).collect::<Vec<f64>>()
        });
        let Some(by_world) = by_world.into_iter().collect::<Option<Vec<_>>>() else { break };
        let by_row: Vec<Vec<f64>> =
            (0..plan.trial.rows.len()).map(|row| by_world.iter().map(|w| w[row]).collect()).collect();
        trials.push(Answered::new(plan.trial.clone(), &by_row, worlds.per_scramble));
    }
    Ok(Answer { score: Score::of(&trials), trials, asked_for: plans.len(), not_found_in_print: &NOT_FOUND })
}

impl Answered {
    /// A trial with the values of its rows in every world, `worlds[row][world]`.
    pub fn new(trial: Trial, worlds: &[Vec<f64>], per_scramble: usize) -> Self {
        let scored = trial.is_scored();
        Self {
            reading: read(&trial.rows, &trial.patterns, worlds, per_scramble),
            scored,
            independent: scored && trial.used.is_independent(),
            trial,
        }
    }
}

impl Score {
    /// Counts the words.
    pub fn of(trials: &[Answered]) -> Self {
        let count = |keep: &dyn Fn(&Answered) -> bool| trials.iter().filter(|t| keep(t)).count();
        let with = |word: Word| count(&|t| t.scored && t.reading.word == word);
        let kept = |t: &Answered| !matches!(t.reading.word, Word::Misses | Word::PatternFails);
        Self {
            trials: trials.len(),
            agree: with(Word::Agrees),
            near: with(Word::Near),
            miss: with(Word::Misses),
            patterns_hold: with(Word::PatternHolds),
            patterns_fail: with(Word::PatternFails),
            scored: count(&|t| t.scored),
            independent: count(&|t| t.independent),
            independent_kept: count(&|t| t.independent && kept(t)),
        }
    }
}
