//! Which unknowns drive the answer, and what finding out would be worth.
//!
//! Jansen's total indices of the chance of a strike itself (no yes or no is rolled) for the leading bait, and of
//! the difference between it and the next: an unknown may move the odds of all baits alike and not matter to the
//! choice. Groups of assumptions first, then the parameters of the groups that matter. Every point of the design
//! has passes of its own, the same for all its variants; which passes these are is the last input, and its share
//! is the floor ([`design`]).
//!
//! Members of a product are drawn against each other, so none has an index of its own: they move together, as one
//! input called readiness, and everything else is independent of it.

pub mod by_worth;
pub mod design;
mod input;
mod machine;
pub mod one_at_a_time;
pub mod waters;
mod worth;

pub use input::{Input, Kind, Share};

use super::sweep::two_baits;
use super::{Context, SMALLEST_DIFFERENCE, Unanswered, over_worlds};
use crate::engine::{Budget, Condition, Control, each, simulate};
use crate::models::draw::draw_at;
use crate::models::{Assumed, Group, Models, ModelsError, Spread, Worlds};
use crate::statistics;
use crate::statistics::distributions::t_quantile;
use crate::statistics::estimate::{Estimate, ReplicateMean};
use crate::statistics::sensitivity::IndexEstimate;
use crate::world::{Prepared, World};
use design::{Design, Outputs, Scramble, Site, index_estimates};
use one_at_a_time::Given;

/// Rows of the design in all scrambles together, unless the budget says otherwise.
pub const DRAWS: usize = 1024;
/// Passes at each point of the design, unless the budget says otherwise.
pub const POINTS: usize = 256;
/// Independent scrambles: enough for a standard error with 7 degrees of freedom.
pub const SCRAMBLES: usize = 8;
/// Worlds in which a parameter must move no bit of any bait's odds to count as idle here.
const SCREENED: usize = 16;
/// Passes of a world looked at for that.
const SCREEN_PASSES: usize = 64;
/// Two-sided chance of taking an input that does nothing for one that stands out of the floor.
const FALSE_ALARM: f64 = 0.05;

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WhyError {
    /// Nothing is unknown.
    #[error("with every assumption at its default nothing is unknown, so nothing drives the answer")]
    Fixed,
    /// Stopped too early.
    #[error("stopped before anything could be told")]
    Stopped,
    /// Incomplete models.
    #[error(transparent)]
    Models(#[from] ModelsError),
    /// Numbers that no index can be worked out from.
    #[error(transparent)]
    Statistics(#[from] statistics::Error),
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// Names of the baits, in the order of the box.
    pub baits: Vec<String>,
    /// The bait with the most strikes (median over worlds), or the first asked for.
    pub leader: usize,
    /// The next, or the second asked for; none for a box of one.
    pub next: Option<usize>,
    /// Strikes of the leader per 100 passes.
    pub strikes: Estimate,
    /// How many more than the next.
    pub difference: Option<Estimate>,
    /// Share of the spread of the leader's odds that is the luck of the passes.
    pub floor: IndexEstimate,
    /// The same of the difference.
    pub difference_floor: Option<IndexEstimate>,
    /// Groups of assumptions, the greatest share first.
    pub groups: Vec<Input>,
    /// Parameters of the groups that matter, the greatest share first; none where the work was stopped before.
    pub parameters: Option<Vec<Input>>,
    /// What knowing everything would add, strikes per 100 passes.
    pub evpi: ReplicateMean,
    /// The bait to throw as long as nothing more is known: most strikes in the mean over worlds.
    pub best_now: usize,
    /// Parameters that vary, and how many of them move nothing here.
    pub varied: (usize, usize),
    /// Plausible worlds in the two halves of the design.
    pub worlds: usize,
    /// Whether all scrambles asked for went in.
    pub complete: bool,
    /// What becomes of the answer where a value that was given is off.
    pub given: Vec<Given>,
}

/// Which unknowns drive the answer.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WhyOf {
    /// The two baits to compare; by default the two that strike most.
    pub baits: Option<[String; 2]>,
}

impl super::Study for WhyOf {
    const NAME: &'static str = "why";
    const USUAL: (usize, usize) = (DRAWS, POINTS);
    type Answer = Why;

    fn steps(&self, on: &Context) -> usize {
        // The design with every parameter that is drawn; those that move nothing are left out later.
        let drawn = on.models.parameters.iter().filter(|p| p.spread != Spread::Fixed).count();
        on.budget.as_run().worlds * (drawn + 2)
    }

    fn run(&self, on: &Context, control: &Control) -> Result<Why, Unanswered> {
        let names: Vec<String> = on.prepared.baits.iter().map(|b| b.name.clone()).collect();
        let pair = self.baits.as_ref().map(|two| two_baits(&names, two)).transpose()?;
        let why = Study::prepare(on.models, on.prepared, on.budget)?.run(pair.map(Into::into), control)?;
        let given =
            one_at_a_time::given(on.models, on.scenario, (why.leader, why.next), on.budget.seed, control)?;
        Ok(Why { given, ..why })
    }
}

impl From<WhyError> for Unanswered {
    fn from(why: WhyError) -> Self {
        match why {
            WhyError::Models(e) => e.into(),
            WhyError::Fixed => Self::Input(
                why.to_string(),
                "leave --fixed out; `callup odds --fixed` shows that one world".into(),
            ),
            other => Self::Failed(other.to_string()),
        }
    }
}

/// A question prepared: what varies, what moves anything here.
#[derive(Debug, Clone)]
pub struct Study<'a> {
    models: &'a Models,
    prepared: &'a Prepared,
    budget: Budget,
    design: Design,
    /// For each parameter the baits that it moves.
    moves: Vec<Vec<bool>>,
    varied: Vec<usize>,
}

impl<'a> Study<'a> {
    /// Lays the design out and finds which parameters move anything.
    ///
    /// # Errors
    /// [`WhyError::Fixed`], or incomplete models.
    pub fn prepare(models: &'a Models, prepared: &'a Prepared, budget: Budget) -> Result<Self, WhyError> {
        if budget.fixed {
            return Err(WhyError::Fixed);
        }
        let budget = budget.as_run();
        let varies = |i: &usize| models.parameters[*i].spread != Spread::Fixed;
        let varied: Vec<usize> = (0..models.parameters.len()).filter(varies).collect();
        let names: Vec<Option<&str>> = models
            .parameters
            .iter()
            .map(|p| (p.spread != Spread::Fixed).then_some(p.name.as_str()))
            .collect();
        let design = Design::new(budget.seed, &names, budget.worlds / SCRAMBLES, SCRAMBLES);
        let mut study = Self { models, prepared, budget, design, moves: Vec::new(), varied };
        study.moves = study.screen()?;
        Ok(study)
    }

    /// Steps that [`Control::done`] will count at most.
    pub fn steps(&self) -> usize {
        let acting = self.moves.iter().filter(|m| m.contains(&true)).count();
        self.design.rows() * SCRAMBLES * (2 + self.groups().len() + 1 + acting + 1)
    }

    /// The worlds at some points of the design.
    fn worlds(&self, sites: &[Site]) -> Result<Worlds, ModelsError> {
        let one = |i: usize| {
            let draw = draw_at(self.models, |d| sites[i].scores[d]);
            Ok((Assumed::of(self.models, &draw)?, draw))
        };
        let made = each(sites.len(), one).into_iter().collect::<Result<Vec<_>, ModelsError>>()?;
        let (assumed, draws) = made.into_iter().unzip();
        let luck = sites.iter().map(|s| s.luck).collect();
        Ok(Worlds { draws, assumed, luck, per_scramble: sites.len() })
    }

    /// Strikes per 100 passes of the chosen baits at each point; fewer where it was stopped.
    fn outputs(&self, worlds: &Worlds, points: usize, baits: &[usize], control: &Control) -> Vec<Outputs> {
        let chosen = baits.iter().map(|&b| self.prepared.baits[b].clone()).collect();
        let prepared = Prepared { baits: chosen, ..self.prepared.clone() };
        let budget = Budget { passes: points, ..self.budget };
        let strikes = simulate(&[Condition { prepared: &prepared, luck: 0 }], worlds, budget, control);
        strikes.per_100(0).columns().into_iter().map(|world| world.to_vec()).collect()
    }

    /// The same of all baits in the halves of the design, and last the readiness of its fish.
    fn halves(&self, control: &Control) -> Result<Vec<Scramble<Vec<Outputs>>>, ModelsError> {
        let all: Vec<usize> = (0..self.prepared.baits.len()).collect();
        self.design.halves(|sites| {
            let worlds = self.worlds(sites)?;
            let mut outputs = self.outputs(&worlds, self.budget.passes, &all, control);
            for (own, assumed) in outputs.iter_mut().zip(&worlds.assumed) {
                own.push(World::new(self.prepared, assumed).ready * assumed.attention);
            }
            Ok(outputs)
        })
    }

    /// Which baits each parameter moves: by a bit of the odds in any of a few worlds.
    fn screen(&self) -> Result<Vec<Vec<bool>>, ModelsError> {
        let all: Vec<usize> = (0..self.prepared.baits.len()).collect();
        let mut moved = vec![vec![false; all.len()]; self.models.parameters.len()];
        for k in 0..SCREENED.min(SCRAMBLES * self.design.rows()) {
            let (scramble, row) = (k % SCRAMBLES, k / SCRAMBLES);
            let (first, second) = (self.design.site(scramble, row, 0), self.design.site(scramble, row, 1));
            let changed = self.varied.iter().map(|&d| {
                let mut site = first.clone();
                site.scores[d] = second.scores[d];
                site
            });
            let sites: Vec<Site> = std::iter::once(first.clone()).chain(changed).collect();
            let outputs = self.outputs(&self.worlds(&sites)?, SCREEN_PASSES, &all, &Control::default());
            for (&d, other) in self.varied.iter().zip(&outputs[1..]) {
                for ((moved, a), b) in moved[d].iter_mut().zip(&outputs[0]).zip(other) {
                    *moved |= a != b;
                }
            }
        }
        Ok(moved)
    }

    /// Groups of parameters that move together: readiness, then what is left of each group of assumptions.
    fn groups(&self) -> Vec<(Kind, Vec<usize>)> {
        let p = &self.models.parameters;
        let joint = self.varied.iter().copied().filter(|&d| p[d].product.is_some()).collect();
        let rest = Group::ALL.map(|group| {
            let own = |d: &usize| p[*d].product.is_none() && p[*d].group == group;
            (Kind::Group(group), self.varied.iter().copied().filter(own).collect::<Vec<usize>>())
        });
        std::iter::once((Kind::Readiness, joint))
            .chain(rest)
            .filter(|(_, members)| !members.is_empty())
            .collect()
    }

    /// Parameters that move the odds of these baits, of the kinds that matter; readiness as one.
    fn single(&self, matters: impl Fn(&Kind) -> bool, baits: &[usize]) -> Vec<(Kind, Vec<usize>)> {
        let p = &self.models.parameters;
        let mut all = self.groups();
        all.retain(|(kind, _)| *kind == Kind::Readiness && matters(kind));
        for &d in &self.varied {
            let acts = baits.iter().any(|&b| self.moves[d].get(b) == Some(&true));
            if acts && p[d].product.is_none() && matters(&Kind::Group(p[d].group)) {
                all.push((Kind::Parameter(d), vec![d]));
            }
        }
        all
    }

    /// Works everything out; a stop leaves out what was not finished.
    ///
    /// `pair` names the baits to compare, by default the two that strike most.
    ///
    /// # Errors
    /// [`WhyError::Stopped`] where not even the groups can be told, and faults of the models.
    pub fn run(&self, pair: Option<(usize, usize)>, control: &Control) -> Result<Why, WhyError> {
        let all: Vec<usize> = (0..self.prepared.baits.len()).collect();
        let halves = self.halves(control)?;
        if halves.len() < 2 {
            return Err(WhyError::Stopped);
        }
        let worlds: Vec<&Outputs> = halves.iter().flatten().flatten().collect();
        let per_scramble = 2 * self.design.rows();
        let column = |b: usize| worlds.iter().map(|w| w[b]).collect::<Vec<f64>>();
        let (leader, next) = pair.map_or_else(|| top_two(&all, &column), |(a, b)| (a, Some(b)));
        let baits: Vec<usize> = std::iter::once(leader).chain(next).collect();
        let compared = Compared { models: self.models, halves: &halves, leader, next };

        let groups = self.groups();
        let mixed = self.mixed(&groups, &baits, control)?;
        if mixed.len() < 2 {
            return Err(WhyError::Stopped);
        }
        let (mut groups, floors) = compared.inputs(&groups, &mixed)?;
        let mattering: Vec<&Input> = groups.iter().filter(|g| g.drives()).collect();
        let single = self.single(|kind| mattering.iter().any(|g| g.kind == *kind), &baits);
        let mixed_single = self.mixed(&single, &baits, control)?;
        let parameters = if mixed_single.len() < 2 {
            None
        } else {
            let (mut inputs, _) = compared.inputs(&single, &mixed_single)?;
            let worth = worth::Worth::of(&halves, &all, self.budget.seed);
            for input in &mut inputs {
                let theta = self.theta(&input.kind, &halves, all.len());
                input.worth = Some(worth.evppi(&theta)?);
            }
            input::by_share(&mut inputs);
            Some(inputs)
        };
        input::by_share(&mut groups);
        let (evpi, best_now) = worth::evpi(&halves, &all)?;
        let strikes = column(leader);
        let more = next.map(|n| strikes.iter().zip(column(n)).map(|(a, b)| a - b).collect::<Vec<f64>>());
        let idle = self.varied.iter().filter(|&&d| !self.moves[d].contains(&true)).count();
        Ok(Why {
            baits: self.prepared.baits.iter().map(|b| b.name.clone()).collect(),
            leader,
            next,
            strikes: over_worlds(&strikes, per_scramble),
            difference: more.map(|d| over_worlds(&d, per_scramble)),
            floor: floors.0,
            difference_floor: floors.1,
            complete: parameters.is_some() && halves.len() == SCRAMBLES && mixed_single.len() == SCRAMBLES,
            groups,
            parameters,
            evpi,
            best_now,
            varied: (self.varied.len(), idle),
            worlds: worlds.len(),
            given: Vec::new(),
        })
    }

    fn mixed(
        &self,
        inputs: &[(Kind, Vec<usize>)],
        baits: &[usize],
        control: &Control,
    ) -> Result<Vec<Scramble<Vec<Outputs>>>, ModelsError> {
        let sets: Vec<Vec<usize>> = inputs.iter().map(|(_, members)| members.clone()).collect();
        self.design
            .mixed(&sets, |sites| Ok(self.outputs(&self.worlds(sites)?, self.budget.passes, baits, control)))
    }

    /// What is known when an input is: the score of a parameter, or the share of fish ready to feed and attentive.
    fn theta(&self, kind: &Kind, halves: &[Scramble<Vec<Outputs>>], ready: usize) -> Vec<f64> {
        let mut all = Vec::new();
        for (scramble, rows) in halves.iter().enumerate() {
            for (row, both) in rows.iter().enumerate() {
                for (half, outputs) in both.iter().enumerate() {
                    all.push(match kind {
                        Kind::Parameter(d) => self.design.score(scramble, row, *d, half),
                        _ => outputs[ready],
                    });
                }
            }
        }
        all
    }
}

/// The two baits that strike most, by the median over worlds.
fn top_two(baits: &[usize], column: &dyn Fn(usize) -> Vec<f64>) -> (usize, Option<usize>) {
    let mut order: Vec<(f64, usize)> = baits.iter().map(|&b| (over_worlds(&column(b), 1).point, b)).collect();
    order.sort_by(|a, b| b.0.total_cmp(&a.0));
    (order.first().map_or(0, |o| o.1), order.get(1).map(|o| o.1))
}

/// The halves of the design and the baits compared.
struct Compared<'a> {
    models: &'a Models,
    halves: &'a [Scramble<Vec<Outputs>>],
    leader: usize,
    next: Option<usize>,
}

/// The floor of the odds, and of the difference.
type Floors = (IndexEstimate, Option<IndexEstimate>);

impl Compared<'_> {
    /// The inputs with their shares, and the floors.
    fn inputs(
        &self,
        kinds: &[(Kind, Vec<usize>)],
        mixed: &[Scramble<Vec<Outputs>>],
    ) -> Result<(Vec<Input>, Floors), WhyError> {
        let odds = index_estimates(self.halves, mixed, |o| o[self.leader], |o| o[0])?;
        let difference = self
            .next
            .map(|n| index_estimates(self.halves, mixed, |o| o[self.leader] - o[n], |o| o[0] - o[1]))
            .transpose()?;
        let too_few = statistics::Error::TooFew { what: "inputs of the design", got: 0, need: 1 };
        let floor = *odds.last().ok_or(too_few)?;
        let difference_floor = difference.as_ref().and_then(|d| d.last().copied());
        let replicates = self.halves.len().min(mixed.len());
        let z = t_quantile(1.0 - 0.5 * FALSE_ALARM, (replicates - 1) as f64);
        let share = |of: &IndexEstimate, floor: &IndexEstimate| Share {
            index: *of,
            stands_out: of.stands_out_from(floor, z),
        };
        let inputs = kinds.iter().enumerate().map(|(k, (kind, members))| Input {
            odds: share(&odds[k], &floor),
            difference: difference.as_ref().zip(difference_floor.as_ref()).map(|(d, f)| share(&d[k], f)),
            ..Input::new(kind.clone(), members.len(), self.models)
        });
        Ok((inputs.collect(), (floor, difference_floor)))
    }
}

impl Why {
    /// Whether knowing everything would add a difference that matters.
    pub fn finding_out_matters(&self) -> bool {
        self.evpi.mean >= SMALLEST_DIFFERENCE
    }
}
