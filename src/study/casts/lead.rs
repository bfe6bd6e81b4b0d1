//! The plan that stops as soon as one bait leads by enough, and examples of how the lead wanders.

use super::Question;
use crate::maths::{ln, ln_1p, pow};
use crate::random::{Purpose, stream};
use crate::statistics::Error;
use crate::statistics::sequential::{LeadPlan, discordant_share, lead_plan};
use rand::RngExt;

/// Examples drawn.
const WALKS: usize = 12;
/// An example is cut off after so many times the mean.
const CUT: f64 = 6.0;
/// Shares of the turns that count closer to one half than this are a tie.
const TIE: f64 = 1e-9;
/// Largest lead for which examples are drawn.
const MOST_LEAD: u32 = 2_000;

/// How the lead of the first bait wandered in one example: turns (casts of each) and lead at every change.
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    /// Turn and lead, from (0, 0).
    pub points: Vec<(f64, f64)>,
    /// Whether it named the better bait; none where it was cut off.
    pub right: Option<bool>,
}

/// Turn and turn about until one bait leads by so many turns in which it alone struck.
#[derive(Debug, Clone, PartialEq)]
pub struct Lead {
    /// The plan with its exact error and mean lengths.
    pub plan: LeadPlan,
    /// How much one turn in which only the better bait struck moves the log-likelihood ratio.
    pub step: f64,
    /// Examples at the planned rates.
    pub walks: Vec<Walk>,
}

impl Lead {
    /// Two different rates between 0 and 1; names the worse bait no oftener than the false-alarm rate asked for.
    ///
    /// # Errors
    /// [`Error`] for rates too close to each other, or an error rate of one half or more.
    pub fn new(rates: [f64; 2], question: &Question) -> Result<Self, Error> {
        let plan = lead_plan(rates[0], rates[1], question.demand.alpha)?;
        let share = discordant_share(rates[0].max(rates[1]), rates[0].min(rates[1]));
        let walks = if plan.lead > MOST_LEAD {
            Vec::new()
        } else {
            (0..WALKS).map(|k| walk(rates, &plan, question.seed, k)).collect()
        };
        Ok(Self { step: ln(share / (1.0 - share)), plan, walks })
    }
}

/// How often a plan of this lead names the worse of two baits, and its mean number of turns, at rates other than
/// those it was made for.
///
/// The gambler's ruin from the middle of two lines `k` away: wrong = 1/(1 + rho^-k), rho the odds against the better
/// one in a turn that counts; mean turns k (1 - 2 wrong)/(2 pi - 1) over the chance that a turn counts, and k^2 over
/// it for a tie, of which neither is worse. Feller (1968), An Introduction to Probability Theory, vol. 1, ch. XIV
/// (from memory).
///
/// ```
/// use callup::study::casts::lead::behaviour;
/// // Won by three of four turns that count, a lead of 2: wrong 1/(1 + 9) = 0.1, 2 x 0.8/0.5 = 3.2 such turns.
/// let (wrong, turns) = behaviour([0.6, 1.0 / 3.0], 2);
/// assert!((wrong - 0.1).abs() < 1e-12 && (turns - 3.2 / (0.4 + 0.4 / 3.0)).abs() < 1e-12);
/// ```
pub fn behaviour(rates: [f64; 2], lead: u32) -> (f64, f64) {
    let (better, worse) = (rates[0].max(rates[1]), rates[0].min(rates[1]));
    let counts = better * (1.0 - worse) + worse * (1.0 - better);
    let (share, k) = (discordant_share(better, worse), f64::from(lead));
    if counts <= 0.0 {
        return (0.0, f64::INFINITY);
    }
    if share - 0.5 < TIE {
        return (0.0, k * k / counts);
    }
    let wrong = 1.0 / (1.0 + pow(share / (1.0 - share), k));
    (wrong, k * (1.0 - 2.0 * wrong) / (2.0 * share - 1.0) / counts)
}

/// Follows the lead from one turn that changes it to the next; the turns between are a geometric number.
fn walk(rates: [f64; 2], plan: &LeadPlan, seed: u64, number: usize) -> Walk {
    let mut rng = stream(seed, Purpose::Resample, 1_000 + number as u64);
    let [a, b] = rates;
    let (only_a, only_b) = (a * (1.0 - b), b * (1.0 - a));
    let change = only_a + only_b;
    let (mut turn, mut lead, most) = (0.0, 0_i64, i64::from(plan.lead));
    let mut points = vec![(0.0, 0.0)];
    while lead.abs() < most && turn < CUT * plan.mean_pairs {
        let u: f64 = rng.random();
        // 1 - u lies in (0, 1], so the logarithm is finite.
        turn += (ln(1.0 - u) / ln_1p(-change)).floor() + 1.0;
        lead += if rng.random::<f64>() * change < only_a { 1 } else { -1 };
        points.push((turn, lead as f64));
    }
    let right = (lead.abs() >= most).then_some((lead > 0) == (a > b));
    Walk { points, right }
}
