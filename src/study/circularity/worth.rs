//! The effect of a rule with every set of groups acting.

use super::CircularityError;
use crate::engine::block::{FishColumns, run};
use crate::engine::table::{Control, each_draw};
use crate::engine::{Budget, Passes};
use crate::models::{Assumed, Draw, Group, Groups, Models, Worlds};
use crate::statistics::Error;
use crate::world::neutral::{Ground, Shown, Side};

/// Two sides under one condition: the effect is that of `a` less that of `b`.
#[derive(Debug, Clone, Copy)]
pub struct Comparison<'a> {
    /// The side that is said to do better.
    pub a: Side<'a>,
    /// The side that it is compared with.
    pub b: Side<'a>,
}

/// Effects A - B in one world, strikes per 100 passes, by the number of the set of groups that act
/// ([`Groups::number`]).
pub type Worth = [f64; Groups::COUNT];

/// Worlds and passes that every set of groups shares.
#[derive(Debug, Clone)]
pub(super) struct Plan<'a> {
    pub(super) models: &'a Models,
    pub(super) budget: Budget,
    pub(super) worlds: Worlds,
    pub(super) assumed: Vec<Assumed>,
}

impl<'a> Plan<'a> {
    pub(super) fn new(models: &'a Models, budget: Budget) -> Result<Self, CircularityError> {
        let worlds = if budget.fixed {
            Worlds::fixed(models)
        } else {
            Worlds::drawn(models, budget.seed, budget.draws)
        };
        let assumed = worlds.draws.iter().map(|d| Assumed::of(models, d)).collect::<Result<_, _>>()?;
        Ok(Self { models, budget, worlds, assumed })
    }

    pub(super) fn per_scramble(&self) -> usize {
        self.worlds.per_scramble
    }

    pub(super) fn passes(&self, world: usize) -> Passes {
        Passes::of_world(self.budget.seed, world, self.budget.points)
    }

    pub(super) fn draw(&self, world: usize) -> &Draw {
        &self.worlds.draws[world]
    }
}

/// The effects in every world, means over the comparisons; `None` if stopped.
pub(super) fn worths(
    plan: &Plan,
    comparisons: &[Comparison],
    control: &Control,
) -> Result<Option<Vec<Worth>>, CircularityError> {
    if comparisons.is_empty() {
        return Err(Error::TooFew { what: "comparisons", got: 0, need: 1 }.into());
    }
    let one = |i: usize| -> Option<Worth> {
        if control.stopped() {
            return None;
        }
        let passes = plan.passes(i);
        let mut mean = [0.0; Groups::COUNT];
        for comparison in comparisons {
            let worth = worth(comparison, &plan.assumed[i], &passes);
            for (sum, value) in mean.iter_mut().zip(worth) {
                *sum += value / comparisons.len() as f64;
            }
        }
        control.count();
        Some(mean)
    };
    Ok(each_draw(plan.assumed.len(), one).into_iter().collect())
}

/// The effects of one comparison in one world.
///
/// Each side serves as the reference once and the mean is taken, so that swapping the sides turns every sign and
/// nothing else.
pub fn worth(comparison: &Comparison, assumed: &Assumed, passes: &Passes) -> Worth {
    let sides = [comparison.a, comparison.b].map(|side| Shown::new(side, assumed));
    let mut worth = [0.0; Groups::COUNT];
    for reference in &sides {
        let [a, b] = [0, 1].map(|s| struck(&sides[s], reference, passes));
        for (value, (a, b)) in worth.iter_mut().zip(a.into_iter().zip(b)) {
            *value += 100.0 * 0.5 * (a - b);
        }
    }
    worth
}

/// Share of passes struck of a side against its reference, by the set of groups that act.
///
/// Optics and mechanics set the scene, four scenes in all; the other groups change numbers, and those that change
/// none are not worked out twice.
fn struck(side: &Shown, reference: &Shown, passes: &Passes) -> Worth {
    let mut all = [0.0; Groups::COUNT];
    for scene in Groups::every().filter(|g| g.and(Groups::PHYSICS) == *g) {
        let mut ground = Ground::new(side, reference, scene);
        let touched = ground.touched();
        let fish = FishColumns::new(&ground.world, passes);
        let mut known = [None; Groups::COUNT];
        for rest in Groups::every().filter(|g| !g.has(Group::Optics) && !g.has(Group::Mechanics)) {
            let distinct = rest.and(touched);
            let struck = *known[distinct.number()].get_or_insert_with(|| {
                ground.neutralise(distinct);
                run(&ground.world, &ground.offer, &fish).mean(STRUCK)
            });
            all[scene.or(rest).others().number()] = struck;
        }
    }
    all
}

/// Place of the strikes among the stages.
const STRUCK: usize = 2;

/// The effect of one comparison in one world with everything acting, strikes per 100 passes.
pub(super) fn effect(comparison: &Comparison, assumed: &Assumed, passes: &Passes) -> f64 {
    let [a, b] = [comparison.a, comparison.b].map(|side| {
        let shown = Shown::new(side, assumed);
        run(shown.world(), shown.offer(), &FishColumns::new(shown.world(), passes)).mean(STRUCK)
    });
    100.0 * (a - b)
}
