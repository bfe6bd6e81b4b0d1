//! Fish differ for good: the chance of each of many fish, and how alike casts at one of them are.
//!
//! Eye, wariness and easy speed stay with a fish and go into every pass of the engine. Readiness and attention have
//! a part that lasts too (`appetite.ready_alike`, `appetite.attention_alike`); both are factors of every chance, so the
//! part moves no mean odds and the engine need not know of it. Here it counts: a share of fish is hardly ever caught,
//! and ten casts at one fish say less than one cast at each of ten.

use crate::engine::Passes;
use crate::engine::encounter::{Pass, encounter};
use crate::models::Assumed;
use crate::random::{Purpose, stream};
use crate::world::{BaitInWater, Prepared, World};
use rand_distr::{Beta, Distribution};

/// One fish: its chance of a strike per pass, found twice with independent luck, so that what differs between fish can
/// be told from the luck of the passes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnChance(pub [f64; 2]);

impl OwnChance {
    /// The chance, by all passes.
    pub fn mean(&self) -> f64 {
        0.5 * (self.0[0] + self.0[1])
    }
}

/// A share of mean `mean` that lasts with a fish, drawn from the beta distribution whose variance is `alike` times
/// that of a yes or no: two of its passes are then so correlated.
///
/// Skellam 1948, J. R. Stat. Soc. B 10:257-261 (the beta-binomial; from memory).
fn lasting(mean: f64, alike: f64, rng: &mut impl rand::Rng) -> f64 {
    if mean <= 0.0 || mean >= 1.0 || alike <= 0.0 {
        return mean;
    }
    let size = 1.0 / alike - 1.0;
    Beta::new(mean * size, (1.0 - mean) * size).map_or(mean, |beta| beta.sample(rng))
}

/// The own chances of `fish` fish in one world, each by twice `luck` passes of the bait.
pub fn own_chances(
    prepared: &Prepared,
    bait: &BaitInWater,
    assumed: &Assumed,
    (fish, luck): (usize, usize),
    seed: u64,
) -> Vec<OwnChance> {
    let world = World::new(prepared, assumed);
    let offer = world.offer(prepared, assumed, bait);
    // Traits and luck from sets of passes of their own.
    let traits = Passes::of_world(seed, 0, fish);
    let chances = Passes::of_world(seed, 1, 2 * luck);
    let mut rng = stream(seed, Purpose::Resample, 2);
    (0..fish)
        .map(|f| {
            let of_fish = traits.get(f);
            let ready = lasting(offer.ready, assumed.ready_alike, &mut rng);
            let attention = lasting(offer.attention, assumed.attention_alike, &mut rng);
            let factor = |own: f64, mean: f64| if mean > 0.0 { own / mean } else { 0.0 };
            let lasting = factor(ready, offer.ready) * factor(attention, offer.attention);
            let mean = |half: usize| {
                // A stride that shares no factor with the count takes every fish through other luck.
                let pass = |i: usize| {
                    let luck = chances.get((f * LUCK_STRIDE + 2 * i + half) % chances.len());
                    Pass { eye: of_fish.eye, wary: of_fish.wary, pace: of_fish.pace, ..luck }
                };
                let strikes = (0..luck).map(|i| encounter(&world, &offer, &pass(i)).strike()).sum::<f64>();
                lasting * strikes / luck as f64
            };
            OwnChance([mean(0), mean(1)])
        })
        .collect()
}

/// Steps of the luck from fish to fish.
const LUCK_STRIDE: usize = 37;

/// How much fish differ: the variance of their own chances over the square of the mean; 0 where none strikes.
///
/// By the covariance of the two halves, from which the luck of the passes drops out.
pub fn squared_variation(own: &[OwnChance]) -> f64 {
    let n = own.len() as f64;
    let mean = own.iter().map(OwnChance::mean).sum::<f64>() / n;
    let halves = [0, 1].map(|h| own.iter().map(|o| o.0[h]).sum::<f64>() / n);
    let covariance =
        own.iter().map(|o| (o.0[0] - halves[0]) * (o.0[1] - halves[1])).sum::<f64>() / (n - 1.0).max(1.0);
    if mean > 0.0 { (covariance / (mean * mean)).max(0.0) } else { 0.0 }
}

/// How many times as many casts it takes where `casts` in a row pass the same fish and each ends in a strike with the
/// chance `rate`: `1 + (casts - 1) rho`, rho the correlation of two casts at one fish.
///
/// Kish 1965, Survey Sampling, ch. 5 (the design effect; from memory). With baits cast turn and turn about at the same
/// fish a part of it cancels; this is the most it can be.
///
/// ```
/// // Chances of 0 and 0.2, equally often: rate 0.1, variation 1, rho = 1 x 0.1/0.9; 5 casts: 1 + 4/9.
/// let times = callup::study::alike::times_as_many(1.0, 0.1, 5.0);
/// assert!((times - 13.0 / 9.0).abs() < 1e-12);
/// ```
pub fn times_as_many(squared_variation: f64, rate: f64, casts: f64) -> f64 {
    let rho = if rate < 1.0 { (squared_variation * rate / (1.0 - rate)).min(1.0) } else { 1.0 };
    1.0 + (casts - 1.0).max(0.0) * rho
}

/// Fish and halves of passes by which [`of_bait`] finds how much fish differ: good to about a tenth.
const SAMPLE: (usize, usize) = (512, 64);

/// How much fish differ with one bait, every assumption at its default.
pub fn of_bait(prepared: &Prepared, bait: &BaitInWater, defaults: &Assumed, seed: u64) -> f64 {
    squared_variation(&own_chances(prepared, bait, defaults, SAMPLE, seed))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 40,000 draws: the standard errors are below 0.003 of the mean and 2 % of the variance.
    #[test]
    fn a_lasting_share_keeps_its_mean_and_is_as_alike_as_asked() {
        let mut rng = stream(3, Purpose::Resample, 9);
        for (mean, alike) in [(0.3, 0.2), (0.75, 0.5), (0.93, 0.05)] {
            let all: Vec<f64> = (0..40_000).map(|_| lasting(mean, alike, &mut rng)).collect();
            let m = all.iter().sum::<f64>() / 4e4;
            let v = all.iter().map(|x| (x - m) * (x - m)).sum::<f64>() / 4e4;
            assert!(
                (m - mean).abs() < 0.01 && (v / (mean * (1.0 - mean)) / alike - 1.0).abs() < 0.1,
                "{m} {v}"
            );
        }
        assert_eq!(lasting(0.4, 0.0, &mut rng), 0.4);
    }

    #[test]
    fn variation_is_that_between_fish_and_not_that_of_luck() {
        let unlike: Vec<OwnChance> =
            [0.0, 0.2].iter().cycle().take(100).map(|&p| OwnChance([p; 2])).collect();
        assert!((squared_variation(&unlike) - 100.0 / 99.0).abs() < 1e-12);
        // Luck alone: what one half has more the other has less.
        let lucky: Vec<OwnChance> =
            (0..100).map(|i| OwnChance([0.1, 0.1 + 0.01 * f64::from(i % 3 - 1)])).collect();
        assert!(squared_variation(&lucky) < 1e-9);
        assert_eq!(squared_variation(&[OwnChance([0.0; 2]); 3]), 0.0);
    }
}
