//! The hours at which a plan changes baits, and how sure they are over plausible worlds.

use crate::statistics::estimate::{quantile, sorted};

/// A change of the plan from one bait to another.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The bait used before.
    pub from: usize,
    /// The bait used after.
    pub to: usize,
    /// The step with which the new one begins.
    pub step: usize,
    /// Instant of the change.
    pub unix_s: f64,
    /// The same on the wall clock.
    pub clock: String,
    /// Share of plausible worlds in which changing once between the two, somewhere in the stretch that the plan
    /// gives them, pays for itself.
    pub pays_in: f64,
    /// Share in which the first is better kept throughout the stretch.
    pub stays_in: f64,
    /// Share in which the second is better from its beginning.
    pub sooner_in: f64,
    /// Instants of the best change among the worlds in which it pays: 5 %, 50 % and 95 % points.
    pub pays_at_s: Option<[f64; 3]>,
    /// The instants themselves, one for each world in which it pays, rising.
    pub all_s: Vec<f64>,
}

/// One world's strikes of the two baits over the stretch, step by step, in the unit of the cost.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Of the bait used before.
    pub from: Vec<f64>,
    /// Of the bait used after.
    pub to: Vec<f64>,
    /// What a change costs in this world.
    pub cost: f64,
}

/// Where one world would change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cut {
    /// Not at all: the first bait throughout.
    Never,
    /// The second bait throughout.
    AtOnce,
    /// Before this step of the stretch, 1 or later.
    At(usize),
}

/// The best single change of one world: before step t the first bait, from it on the second. It must beat either
/// bait throughout by more than its cost.
pub fn best_cut(pair: &Pair) -> Cut {
    let total = |v: &[f64]| v.iter().sum::<f64>();
    let (stay, at_once) = (total(&pair.from), total(&pair.to));
    let mut value = at_once;
    let mut best = (f64::NEG_INFINITY, 0);
    for t in 1..pair.from.len().min(pair.to.len()) {
        value += pair.from[t - 1] - pair.to[t - 1];
        if value > best.0 {
            best = (value, t);
        }
    }
    if best.0 - pair.cost > stay.max(at_once) {
        Cut::At(best.1)
    } else if stay >= at_once {
        Cut::Never
    } else {
        Cut::AtOnce
    }
}

/// Sums up the cuts of all worlds; `starts_s` are the beginnings of the steps of the stretch.
pub fn over_worlds(
    (from, to, step): (usize, usize, usize),
    unix_s: f64,
    cuts: &[Cut],
    starts_s: &[f64],
) -> Change {
    let share =
        |yes: &dyn Fn(&Cut) -> bool| cuts.iter().filter(|c| yes(c)).count() as f64 / cuts.len().max(1) as f64;
    let at = |cut: &Cut| match cut {
        Cut::At(t) => starts_s.get(*t).copied(),
        _ => None,
    };
    let all_s = sorted(&cuts.iter().filter_map(at).collect::<Vec<_>>());
    let point = |q: f64| quantile(&all_s, q);
    Change {
        from,
        to,
        step,
        unix_s,
        clock: String::new(),
        pays_in: share(&|c| matches!(c, Cut::At(_))),
        stays_in: share(&|c| *c == Cut::Never),
        sooner_in: share(&|c| *c == Cut::AtOnce),
        pays_at_s: point(0.05).zip(point(0.5)).zip(point(0.95)).map(|((a, b), c)| [a, b, c]),
        all_s,
    }
}
