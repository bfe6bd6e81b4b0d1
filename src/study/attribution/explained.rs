//! From the effects with every set of groups acting to shares and a flag: plain arithmetic, whatever made them.

use super::Worth;
use crate::models::{Group, Groups};
use crate::statistics::Error;
use crate::statistics::sensitivity::shapley;
use crate::study::standard_error;

/// Share of what moves the effect that a flag needs: a convention of this project.
pub const MOST: f64 = 0.8;
/// Share from which a group is told as carrying the effect.
pub const CARRIES: f64 = 0.2;
/// Simulation errors within which an effect is not told from none.
pub const STANDARD_ERRORS: f64 = 2.0;
/// Share of worlds in which a sign must hold to have survived.
const HOLDS_IN: f64 = 0.5;

/// A mean over worlds with the luck of the simulation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// Strikes per 100 passes, A - B.
    pub per_100: f64,
    /// Standard error by the luck of the simulation: so few worlds and passes.
    pub simulation_se: f64,
    /// Share of worlds in which the effect has the sign of the whole effect (all groups acting).
    pub sign_held: f64,
}

impl Effect {
    /// Whether it is told from none.
    pub fn stands_out(&self) -> bool {
        self.per_100.abs() > STANDARD_ERRORS * self.simulation_se
    }
}

/// A group's part in the effect.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// The group.
    pub group: Group,
    /// Its Shapley share, strikes per 100 passes; those of all groups add to the effect.
    pub per_100: f64,
    /// Standard error by the luck of the simulation.
    pub simulation_se: f64,
    /// Its part of all that moves the effect: `per_100` over the sum of the absolute values of all groups, positive
    /// where it works for the sign of the effect, negative where it works against. Absolute values add to 1.
    pub share: f64,
}

/// What may be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flag {
    /// The effect is smaller than the smallest that matters, or not told from none: there is nothing to explain.
    NoDifference,
    /// Optics and mechanics move at least [`MOST`] of it, and its sign survives with the other groups neutral.
    Physics,
    /// One group that is neither carries at least [`MOST`] of it.
    Restates(Group),
    /// Several groups carry it.
    Mixed,
}

impl Flag {
    /// The flag in one word, for programs.
    pub fn name(self) -> &'static str {
        match self {
            Flag::NoDifference => "no difference",
            Flag::Physics => "physics",
            Flag::Restates(_) => "restates",
            Flag::Mixed => "mixed",
        }
    }
}

/// An effect taken apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Explained {
    /// Shares in the order of [`Group::ALL`].
    pub shares: [Share; Group::ALL.len()],
    /// What may be said.
    pub flag: Flag,
    /// Smallest difference that matters, strikes per 100 passes.
    pub smallest_difference: f64,
    /// World draws that went in.
    pub draws: usize,
    effects: Vec<Effect>,
}

impl Explained {
    /// Takes the effects of every world apart. `per_scramble` worlds, one after the other, share a scramble.
    ///
    /// # Errors
    /// No world, or an effect that is not a finite number.
    pub fn of(worths: &[Worth], per_scramble: usize, smallest_difference: f64) -> Result<Self, Error> {
        let scrambles: Vec<Worth> = worths.chunks(per_scramble.max(1)).map(mean).collect();
        Self::with_replicates(worths, &scrambles, smallest_difference)
    }

    /// The same with the luck of the simulation from the spread of independent `replicates` of the mean over worlds
    /// (0 for fewer than two).
    ///
    /// # Errors
    /// No world, or an effect that is not a finite number.
    pub fn with_replicates(
        worths: &[Worth],
        replicates: &[Worth],
        smallest_difference: f64,
    ) -> Result<Self, Error> {
        if worths.is_empty() {
            return Err(Error::TooFew { what: "plausible worlds", got: 0, need: 1 });
        }
        let whole = mean(worths);
        let by_replicate: Vec<Vec<f64>> = replicates.iter().map(|w| shapley(w)).collect::<Result<_, _>>()?;
        let parts = shapley(&whole)?;
        let sign = whole[Groups::ALL.number()];
        let moved: f64 = parts.iter().map(|p| p.abs()).sum();
        let shares = std::array::from_fn(|g| Share {
            group: Group::ALL[g],
            per_100: parts[g],
            simulation_se: standard_error(&by_replicate.iter().map(|s| s[g]).collect::<Vec<_>>()),
            share: if moved > 0.0 { parts[g] * sign.signum() / moved } else { 0.0 },
        });
        let effects: Vec<Effect> = (0..Groups::COUNT)
            .map(|set| Effect {
                per_100: whole[set],
                simulation_se: standard_error(&replicates.iter().map(|s| s[set]).collect::<Vec<_>>()),
                sign_held: worths.iter().filter(|w| w[set] * sign > 0.0).count() as f64 / worths.len() as f64,
            })
            .collect();
        let flag = flag(&shares, &effects, smallest_difference);
        Ok(Self { shares, flag, smallest_difference, draws: worths.len(), effects })
    }

    /// The effect with only the groups `active` acting.
    pub fn with_only(&self, active: Groups) -> Effect {
        self.effects[active.number()]
    }

    /// The effect with everything acting.
    pub fn total(&self) -> Effect {
        self.with_only(Groups::ALL)
    }

    /// The effect with all but optics and mechanics neutral.
    pub fn physics_alone(&self) -> Effect {
        self.with_only(Groups::PHYSICS)
    }

    /// The effect with one group neutral.
    pub fn without(&self, group: Group) -> Effect {
        self.with_only(Groups::NONE.with(group).others())
    }

    /// Whether the sign survives with the opinions neutral.
    pub fn survives_on_physics(&self) -> bool {
        survives(&self.effects)
    }

    /// The share of one group.
    pub fn share_of(&self, group: Group) -> Share {
        self.shares[group as usize]
    }

    /// Whether there is no difference only because groups that would make one by themselves cancel.
    pub fn cancels(&self) -> bool {
        let beyond = |sign: f64| {
            self.shares.iter().any(|s| {
                sign * s.per_100 >= self.smallest_difference
                    && s.per_100.abs() > STANDARD_ERRORS * s.simulation_se
                    && s.per_100 != 0.0
            })
        };
        self.flag == Flag::NoDifference && beyond(1.0) && beyond(-1.0)
    }

    /// The groups that carry the effect or work against it by at least [`CARRIES`], largest share first; none where
    /// there is nothing to explain.
    pub fn carrying(&self) -> Vec<Group> {
        let mut strong: Vec<&Share> = self.shares.iter().filter(|s| s.share.abs() >= CARRIES).collect();
        strong.sort_by(|a, b| b.share.abs().total_cmp(&a.share.abs()));
        match self.flag {
            Flag::NoDifference => Vec::new(),
            _ => strong.into_iter().map(|s| s.group).collect(),
        }
    }
}

fn mean(worths: &[Worth]) -> Worth {
    std::array::from_fn(|set| worths.iter().map(|w| w[set]).sum::<f64>() / worths.len() as f64)
}

fn survives(effects: &[Effect]) -> bool {
    let (total, physics) = (effects[Groups::ALL.number()], effects[Groups::PHYSICS.number()]);
    physics.per_100 * total.per_100 > 0.0 && physics.stands_out() && physics.sign_held >= HOLDS_IN
}

/// Optics that pull one way and mechanics that pull the other are both physics: absolute values count.
fn flag(shares: &[Share], effects: &[Effect], smallest_difference: f64) -> Flag {
    let total = effects[Groups::ALL.number()];
    if total.per_100.abs() < smallest_difference || !total.stands_out() {
        return Flag::NoDifference;
    }
    let physics = shares.iter().filter(|s| Groups::PHYSICS.has(s.group));
    if physics.map(|s| s.share.abs()).sum::<f64>() >= MOST && survives(effects) {
        return Flag::Physics;
    }
    match shares.iter().find(|s| s.share >= MOST && !Groups::PHYSICS.has(s.group)) {
        Some(alone) => Flag::Restates(alone.group),
        None => Flag::Mixed,
    }
}
