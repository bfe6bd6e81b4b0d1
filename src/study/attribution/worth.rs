//! The effect of a rule with every set of groups acting.

use super::AttributionError;
use crate::engine::block::{FishColumns, Means, run};
use crate::engine::points::SCRAMBLES;
use crate::engine::{Budget, Passes};
use crate::engine::{Control, each_world};
use crate::models::{Assumed, Draw, Group, Groups, Models, Worlds};
use crate::statistics::Error;
use crate::study::gain;
use crate::world::ablation::{Ground, Shown, Side};

/// Two sides under one condition: the effect is that of `a` less that of `b`.
#[derive(Debug, Clone, Copy)]
pub struct Comparison<'a> {
    /// The side that is said to do better.
    pub a: Side<'a>,
    /// The side that it is compared with.
    pub b: Side<'a>,
    /// What a pass of each counts for: 1, or where they fish at different pace the passes in an hour over the usual
    /// ones. The pace belongs to the mechanics: neutral mechanics give both sides the pace of the reference.
    pub pace: [f64; 2],
}

/// Effects A - B in one world, strikes per 100 passes (at the usual pace), by the number of the set of groups that act
/// ([`Groups::number`]).
pub type Worth = [f64; Groups::COUNT];

/// Worlds and passes that every set of groups shares.
#[derive(Debug, Clone)]
pub(super) struct Plan<'a> {
    pub(super) models: &'a Models,
    pub(super) budget: Budget,
    pub(super) worlds: Worlds,
}

impl<'a> Plan<'a> {
    pub(super) fn new(models: &'a Models, budget: Budget) -> Result<Self, AttributionError> {
        Ok(Self { models, budget, worlds: budget.worlds(models)? })
    }

    pub(super) fn per_scramble(&self) -> usize {
        self.worlds.per_scramble
    }

    pub(super) fn passes(&self, world: usize) -> Passes {
        Passes::of_world(self.budget.seed, world, self.budget.passes)
    }

    pub(super) fn draw(&self, world: usize) -> &Draw {
        &self.worlds.draws[world]
    }
}

/// Effects by the scramble of the passes.
pub type Worths = [Worth; SCRAMBLES];

/// The effects in every world, means over the comparisons; those of a rule about a gain where `over` holds the same
/// comparisons elsewhere. `None` if stopped.
pub(super) fn worths(
    plan: &Plan,
    comparisons: &[Comparison],
    over: &[Comparison],
    control: &Control,
) -> Result<Option<Vec<Worths>>, AttributionError> {
    if comparisons.is_empty() {
        return Err(Error::TooFew { what: "comparisons", got: 0, need: 1 }.into());
    }
    let one = |i: usize, assumed: &Assumed| -> Worths {
        let passes = plan.passes(i);
        if !over.is_empty() {
            let mean = |all: &[Comparison]| mean_strikes(all, assumed, &passes);
            return gained(&mean(comparisons), &mean(over));
        }
        let mut mean = [[0.0; Groups::COUNT]; SCRAMBLES];
        for comparison in comparisons {
            let worths = worth(comparison, assumed, &passes);
            for (sum, value) in mean.as_flattened_mut().iter_mut().zip(worths.as_flattened()) {
                *sum += value / comparisons.len() as f64;
            }
        }
        mean
    };
    Ok(each_world(&plan.worlds, control, one).into_iter().collect())
}

/// The mean over scrambles of passes.
pub fn over_passes(worths: &Worths) -> Worth {
    std::array::from_fn(|set| worths.iter().map(|w| w[set]).sum::<f64>() / SCRAMBLES as f64)
}

/// The effects of one comparison in one world.
///
/// Each side serves as the reference once and the mean is taken, so that swapping the sides turns every sign and
/// nothing else.
pub fn worth(comparison: &Comparison, assumed: &Assumed, passes: &Passes) -> Worths {
    let [by_a, by_b] = strikes(comparison, assumed, passes).map(|[a, b]| {
        std::array::from_fn::<Worth, SCRAMBLES, _>(|k| std::array::from_fn(|set| a[k][set] - b[k][set]))
    });
    halves(&by_a, &by_b)
}

fn halves(by_a: &Worths, by_b: &Worths) -> Worths {
    std::array::from_fn(|k| std::array::from_fn(|set| 100.0 * 0.5 * (by_a[k][set] + by_b[k][set])))
}

/// Share of passes struck, by the side that serves as the reference and the side itself.
type Strikes = [[Worths; 2]; 2];

fn strikes(comparison: &Comparison, assumed: &Assumed, passes: &Passes) -> Strikes {
    let sides = [comparison.a, comparison.b].map(|side| Shown::new(side, assumed));
    let pace = comparison.pace;
    [0, 1].map(|reference| {
        [0, 1].map(|s| struck((&sides[s], pace[s]), (&sides[reference], pace[reference]), passes))
    })
}

/// The mean over comparisons.
fn mean_strikes(comparisons: &[Comparison], assumed: &Assumed, passes: &Passes) -> Strikes {
    let mut mean = [[[[0.0; Groups::COUNT]; SCRAMBLES]; 2]; 2];
    for comparison in comparisons {
        let own = strikes(comparison, assumed, passes);
        for (sum, one) in
            mean.iter_mut().flatten().flatten().flatten().zip(own.iter().flatten().flatten().flatten())
        {
            *sum += one / comparisons.len() as f64;
        }
    }
    mean
}

/// The effects of a rule about a gain: A - B x (A/B elsewhere), the ratio being that of the world with the same groups
/// acting. The luck of the ratio goes to the scrambles to first order.
fn gained(here: &Strikes, elsewhere: &Strikes) -> Worths {
    let [by_a, by_b] = [0, 1].map(|reference| {
        let [a, b] = &here[reference];
        let [over_a, over_b] = &elsewhere[reference];
        let mut worths = [[0.0; Groups::COUNT]; SCRAMBLES];
        for set in 0..Groups::COUNT {
            let mean = |of: &Worths| of.iter().map(|w| w[set]).sum::<f64>() / SCRAMBLES as f64;
            let (whole_a, whole_b) = (mean(over_a), mean(over_b));
            let (ratio, whole) = (gain(whole_a, whole_b), mean(b));
            for (k, worth) in worths.iter_mut().enumerate() {
                let luck = match whole_a > 0.0 && whole_b > 0.0 {
                    true => over_a[k][set] / whole_a - over_b[k][set] / whole_b,
                    false => 0.0,
                };
                worth[set] = a[k][set] - ratio * b[k][set] - ratio * whole * luck;
            }
        }
        worths
    });
    halves(&by_a, &by_b)
}

/// Share of passes struck of a side against its reference, times the pace, by the set of groups that act.
///
/// Optics and mechanics set the scene, four scenes in all; the other groups change numbers. What changes nothing is
/// not worked out twice.
fn struck((side, own_pace): (&Shown, f64), (reference, its_pace): (&Shown, f64), passes: &Passes) -> Worths {
    let mut all = [[0.0; Groups::COUNT]; SCRAMBLES];
    let same_path = side.shares_path_with(reference);
    let mut known: [Option<Means>; Groups::COUNT] = [None; Groups::COUNT];
    for scene in Groups::every().filter(|g| g.and(Groups::PHYSICS) == *g) {
        if same_path && scene.has(Group::Mechanics) {
            continue;
        }
        let mut ground = Ground::new(side, reference, scene);
        let touched = ground.touched();
        let fish = FishColumns::new(&ground.world, passes);
        for rest in Groups::every().filter(|g| g.and(Groups::PHYSICS) == Groups::NONE) {
            let distinct = rest.and(touched);
            let means = *known[scene.or(distinct).number()].get_or_insert_with(|| {
                ground.neutralise(distinct);
                run(&ground.world, &ground.offer, &fish)
            });
            for mechanics in [Groups::NONE, Groups::NONE.with(Group::Mechanics)] {
                // Neutral mechanics on the same path are mechanics as they are.
                if same_path || mechanics == Groups::NONE {
                    let neutral = scene.or(rest).or(mechanics);
                    let pace = if neutral.has(Group::Mechanics) { its_pace } else { own_pace };
                    let active = neutral.others().number();
                    for (worth, scramble) in all.iter_mut().zip(means.by_scramble) {
                        worth[active] = pace * scramble[STRUCK];
                    }
                }
            }
        }
    }
    all
}

/// Place of the strikes among the stages.
const STRUCK: usize = 2;

/// The effect of the comparisons in one world with everything acting, their sum, strikes per 100 passes.
pub(super) fn effect(
    comparisons: &[Comparison],
    over: &[Comparison],
    assumed: &Assumed,
    passes: &Passes,
) -> f64 {
    let both = |comparison: &Comparison| {
        let struck = |side: Side, pace: f64| {
            let shown = Shown::new(side, assumed);
            pace * run(shown.world(), shown.offer(), &FishColumns::new(shown.world(), passes)).mean(STRUCK)
        };
        [struck(comparison.a, comparison.pace[0]), struck(comparison.b, comparison.pace[1])]
    };
    let sums = |all: &[Comparison]| {
        all.iter().map(both).fold([0.0, 0.0], |sum, own| [sum[0] + own[0], sum[1] + own[1]])
    };
    if over.is_empty() {
        return comparisons.iter().map(both).map(|[a, b]| 100.0 * (a - b)).sum();
    }
    let ([a, b], [over_a, over_b]) = (sums(comparisons), sums(over));
    100.0 * (a - gain(over_a, over_b) * b)
}
