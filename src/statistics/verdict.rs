//! What may be said about a rule: two uncertainties taken apart, then one of seven plain verdicts.

use super::Error;
use super::estimate::{mean, variance};
use super::intervals::{Confidence, Interval, Proportion, wilson};
use crate::maths::special::normal_cdf;
use crate::maths::sqrt;

/// Differences found in many plausible worlds, with the noise of the simulation taken apart from the
/// disagreement of the worlds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Decomposition {
    /// Mean difference over worlds.
    pub mean: f64,
    /// Its standard error, `sqrt(S_b^2/M)`; holds both uncertainties.
    pub se: f64,
    /// Variance between the worlds' estimates, S_b^2.
    pub between: f64,
    /// Mean variance of one world's estimate by simulation noise, W.
    pub noise: f64,
    /// Variance between worlds with the noise taken off, `max(0, S_b^2 - W)`.
    pub tau2: f64,
    /// Share of worlds whose estimate is above 0; noise draws it towards one half.
    pub naive_share: f64,
    /// `Phi(mean/tau)`, the share with the noise taken off for normally spread worlds; `None` at tau = 0.
    pub corrected_share: Option<f64>,
    worlds: usize,
}

impl Decomposition {
    /// From one estimated difference per world and the variance of each by simulation noise (0 where the
    /// probability itself was carried and the points are fine enough).
    ///
    /// One-way random effects, DerSimonian & Laird (1986), Control. Clin. Trials 7:177,
    /// doi:10.1016/0197-2456(86)90046-2, with equal weights.
    pub fn of(differences: &[f64], noise_variances: &[f64]) -> Result<Self, Error> {
        Error::all_finite("differences", differences)?;
        Error::all_finite("noise variances", noise_variances)?;
        Error::same_length("noise variances", noise_variances.len(), differences.len())?;
        let too_few = Error::TooFew { what: "plausible worlds", got: differences.len(), need: 2 };
        let worlds = differences.len();
        let (mean_difference, between) = mean(differences).zip(variance(differences)).ok_or(too_few)?;
        let noise = mean(noise_variances).unwrap_or(0.0);
        let tau2 = (between - noise).max(0.0);
        let above = differences.iter().filter(|d| **d > 0.0).count();
        Ok(Self {
            mean: mean_difference,
            se: sqrt(between / worlds as f64),
            between,
            noise,
            tau2,
            naive_share: above as f64 / worlds as f64,
            corrected_share: (tau2 > 0.0).then(|| normal_cdf(mean_difference / sqrt(tau2))),
            worlds,
        })
    }

    /// Whether the noise hides how much the worlds disagree: tau^2 is below two standard errors of
    /// S_b^2 (`S_b^2 sqrt(2/(M-1))`, for normal spread). Then even the corrected share is biased and the
    /// only honest word is that the simulation was too short.
    pub fn too_short(&self) -> bool {
        let se = self.between * sqrt(2.0 / (self.worlds as f64 - 1.0));
        self.noise > 0.0 && self.tau2 < 2.0 * se
    }
}

/// The share above 0 that noisy estimates show, where the truth is normal with `mean` and `tau2` and each
/// estimate adds noise of variance `noise`: `Phi(mean / sqrt(tau^2 + noise))`.
pub fn expected_naive_share(mean: f64, tau2: f64, noise: f64) -> f64 {
    normal_cdf(mean / sqrt(tau2 + noise))
}

/// Where one verdict ends and the next begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thresholds {
    /// Smallest difference that matters, in the unit of the differences, 0 or above.
    pub smallest_difference: f64,
    /// Share of plausible worlds a statement needs; above one half, so that opposites exclude each other.
    pub share: f64,
    /// Share of the sign's variance that conditions must explain for "depends on conditions".
    pub conditions: f64,
    /// Confidence of the intervals that tell simulation noise from disagreement.
    pub confidence: Confidence,
}

impl Default for Thresholds {
    /// 1 per 100, nine worlds in ten, half the variance, 95 %: conventions of this project.
    fn default() -> Self {
        Self { smallest_difference: 0.01, share: 0.9, conditions: 0.5, confidence: Confidence::NINETY_FIVE }
    }
}

/// Share of worlds in which a statement is true, with what the simulation leaves open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// Best guess.
    pub point: f64,
    /// What the number of worlds and the noise within each allow.
    pub interval: Interval,
}

/// What the worlds say about a difference D and the smallest one that matters, delta.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evidence {
    /// D > delta.
    pub above: Share,
    /// D < -delta.
    pub below: Share,
    /// |D| <= delta.
    pub within: Share,
    /// D > 0.
    pub positive: Share,
    /// D < 0.
    pub negative: Share,
    /// Share of the variance of D's sign that the conditions explain, where that was computed.
    pub conditions: Option<f64>,
}

impl Evidence {
    /// From one difference per plausible world and its simulation standard error.
    ///
    /// A world counts for the lower end of a share only if its difference fulfils the statement with the
    /// whole of its own interval, and for the upper end if any part does; Wilson's interval adds the luck of
    /// having drawn only so many worlds. Wide on purpose: it decides only what may not be said yet.
    pub fn from_worlds(
        differences: &[f64],
        standard_errors: &[f64],
        conditions: Option<f64>,
        thresholds: &Thresholds,
    ) -> Result<Self, Error> {
        Error::at_least("plausible worlds", differences.len(), 1)?;
        Error::same_length("standard errors", standard_errors.len(), differences.len())?;
        Error::all_finite("differences", differences)?;
        Error::all_finite("standard errors", standard_errors)?;
        let (delta, z) = (thresholds.smallest_difference, thresholds.confidence.z());
        let reach: Vec<Interval> = differences
            .iter()
            .zip(standard_errors)
            .map(|(d, se)| Interval { low: d - z * se.abs(), high: d + z * se.abs() })
            .collect();
        let share = |sure: &dyn Fn(&Interval) -> bool,
                     open: &dyn Fn(&Interval) -> bool,
                     is: &dyn Fn(f64) -> bool| {
            let total = differences.len() as u64;
            let count = |n: usize| Proportion::new(n as u64, total).map(|p| wilson(p, thresholds.confidence));
            let point = differences.iter().filter(|d| is(**d)).count() as f64 / total as f64;
            let low = count(reach.iter().filter(|r| sure(r)).count())?.low;
            let high = count(reach.iter().filter(|r| open(r)).count())?.high;
            Ok(Share { point, interval: Interval { low, high } })
        };
        Ok(Self {
            above: share(&|r| r.low > delta, &|r| r.high > delta, &|d| d > delta)?,
            below: share(&|r| r.high < -delta, &|r| r.low < -delta, &|d| d < -delta)?,
            within: share(
                &|r| r.low >= -delta && r.high <= delta,
                &|r| r.low <= delta && r.high >= -delta,
                &|d| d.abs() <= delta,
            )?,
            positive: share(&|r| r.low > 0.0, &|r| r.high > 0.0, &|d| d > 0.0)?,
            negative: share(&|r| r.high < 0.0, &|r| r.low < 0.0, &|d| d < 0.0)?,
            conditions,
        })
    }
}

/// Why nothing can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unclear {
    /// More draws or points would decide it.
    SimulationNoise,
    /// What nobody knows decides it; more computing will not.
    AssumptionsDisagree,
}

/// What may be said about a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// The difference is above the smallest that matters in the needed share of worlds.
    Holds,
    /// It is above 0 in the needed share, above the smallest that matters in fewer.
    HoldsWeakly,
    /// It is below 0 in the needed share of worlds, and not too small to matter.
    Reversed,
    /// It is too small to matter in the needed share of worlds.
    NoDifferenceThatMatters,
    /// None of these over all conditions, but the conditions explain which way it goes.
    DependsOnConditions,
    /// None of these, for the reason given.
    CannotTell(Unclear),
}

impl Verdict {
    /// In two or three words; the same in machine output.
    pub fn words(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::HoldsWeakly => "holds weakly",
            Self::Reversed => "reversed",
            Self::DependsOnConditions => "depends on conditions",
            Self::NoDifferenceThatMatters => "no difference that matters",
            Self::CannotTell(Unclear::AssumptionsDisagree) => "cannot tell: assumptions disagree",
            Self::CannotTell(Unclear::SimulationNoise) => "cannot tell: simulation noise",
        }
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Reached {
    Yes,
    No,
    Open,
}

/// The verdict for the evidence.
///
/// A statement is *reached* where the whole interval of its share is at or above the needed share, *not
/// reached* where the whole lies below, else *open*. In this order:
/// 1. too small to matter, above, or below is reached: no difference that matters, holds, reversed;
/// 2. any of these three is open: cannot tell, simulation noise;
/// 3. D > 0, or D < 0, is reached: holds weakly, reversed;
/// 4. either of these two is open: cannot tell, simulation noise;
/// 5. the conditions explain more than their threshold: depends on conditions;
/// 6. else cannot tell, assumptions disagree.
///
/// So more simulation can turn only "cannot tell: simulation noise" into something else, up to the
/// error rate of the intervals.
pub fn classify(evidence: &Evidence, thresholds: &Thresholds) -> Verdict {
    let reached = |share: Share| {
        if share.interval.low >= thresholds.share {
            Reached::Yes
        } else if share.interval.high < thresholds.share {
            Reached::No
        } else {
            Reached::Open
        }
    };
    let decide = |statements: &[(Share, Verdict)]| {
        let states: Vec<(Reached, Verdict)> = statements.iter().map(|&(s, v)| (reached(s), v)).collect();
        let open = states.iter().any(|s| s.0 == Reached::Open);
        let yes = states.iter().find(|s| s.0 == Reached::Yes).map(|s| s.1);
        yes.or(open.then_some(Verdict::CannotTell(Unclear::SimulationNoise)))
    };
    let strong = [
        (evidence.within, Verdict::NoDifferenceThatMatters),
        (evidence.above, Verdict::Holds),
        (evidence.below, Verdict::Reversed),
    ];
    let weak = [(evidence.positive, Verdict::HoldsWeakly), (evidence.negative, Verdict::Reversed)];
    let by_conditions = evidence.conditions.is_some_and(|share| share > thresholds.conditions);
    decide(&strong).or_else(|| decide(&weak)).unwrap_or(if by_conditions {
        Verdict::DependsOnConditions
    } else {
        Verdict::CannotTell(Unclear::AssumptionsDisagree)
    })
}

/// Whether a finding all but vanishes when one assumption is neutralised: `|without| < share |full|`.
pub fn rests_on(full: f64, without: f64, share: f64) -> bool {
    without.abs() < share * full.abs()
}

/// Holm's step-down adjustment of p-values, in the order given; claims with an adjusted value of at most
/// alpha hold together with error at most alpha. Holm (1979), Scand. J. Stat. 6:65 (from memory).
pub fn holm(p_values: &[f64]) -> Vec<f64> {
    let m = p_values.len();
    let mut order: Vec<usize> = (0..m).collect();
    order.sort_by(|&i, &j| p_values[i].total_cmp(&p_values[j]));
    let mut adjusted = vec![0.0; m];
    let mut largest = 0.0_f64;
    for (rank, &i) in order.iter().enumerate() {
        largest = largest.max(p_values[i] * (m - rank) as f64).min(1.0);
        adjusted[i] = largest;
    }
    adjusted
}

#[cfg(test)]
mod tests {
    use super::*;

    fn verdict(differences: &[f64], se: f64, conditions: Option<f64>) -> Verdict {
        let t = Thresholds::default();
        let errors = vec![se; differences.len()];
        classify(&Evidence::from_worlds(differences, &errors, conditions, &t).unwrap(), &t)
    }

    /// `n` worlds, the given numbers of them at each difference.
    fn worlds(groups: &[(usize, f64)]) -> Vec<f64> {
        groups.iter().flat_map(|&(n, d)| vec![d; n]).collect()
    }

    #[test]
    fn every_verdict_is_reached_by_its_case() {
        let noise = Verdict::CannotTell(Unclear::SimulationNoise);
        let disagree = Verdict::CannotTell(Unclear::AssumptionsDisagree);
        assert_eq!(verdict(&worlds(&[(970, 0.03), (30, -0.03)]), 0.0, None), Verdict::Holds);
        assert_eq!(verdict(&worlds(&[(970, -0.03), (30, 0.03)]), 0.0, None), Verdict::Reversed);
        assert_eq!(verdict(&worlds(&[(500, 0.03), (500, 0.004)]), 0.0, None), Verdict::HoldsWeakly);
        assert_eq!(verdict(&worlds(&[(500, -0.03), (500, -0.004)]), 0.0, None), Verdict::Reversed);
        assert_eq!(verdict(&worlds(&[(1000, 0.004)]), 0.0, None), Verdict::NoDifferenceThatMatters);
        assert_eq!(verdict(&worlds(&[(500, 0.03), (500, -0.03)]), 0.0, None), disagree);
        assert_eq!(
            verdict(&worlds(&[(500, 0.03), (500, -0.03)]), 0.0, Some(0.8)),
            Verdict::DependsOnConditions
        );
        assert_eq!(verdict(&worlds(&[(500, 0.03), (500, -0.03)]), 0.0, Some(0.5)), disagree);
        // On the boundary, with few worlds, or with noise as large as the difference.
        assert_eq!(verdict(&worlds(&[(900, 0.03), (100, -0.03)]), 0.0, None), noise);
        assert_eq!(verdict(&worlds(&[(9, 0.03)]), 0.0, None), noise);
        assert_eq!(verdict(&worlds(&[(970, 0.03), (30, -0.03)]), 0.02, None), noise);
    }

    #[test]
    fn more_worlds_change_only_simulation_noise() {
        for holding in 0..=50 {
            let shape = [(holding, 0.03), (50 - holding, -0.02)];
            let few = verdict(&worlds(&shape), 0.0, None);
            let many = verdict(&worlds(&shape.map(|(n, d)| (4 * n, d))), 0.0, None);
            assert!(few == many || few == Verdict::CannotTell(Unclear::SimulationNoise), "{few:?} {many:?}");
        }
    }

    #[test]
    fn shares_rests_on_and_holm() {
        assert!(rests_on(0.02, 0.003, 0.2) && !rests_on(0.02, -0.01, 0.2));
        // Holm by hand: 0.01 x 3, max(0.03, 0.02 x 2), max(0.04, 0.03 x 1).
        let adjusted = holm(&[0.03, 0.01, 0.02]);
        for (got, expected) in adjusted.iter().zip([0.04, 0.03, 0.04]) {
            assert!((got - expected).abs() < 1e-15);
        }
        assert!(Decomposition::of(&[0.1], &[0.0]).is_err());
        let quiet = Decomposition::of(&[0.125; 3], &[0.0; 3]).unwrap();
        assert_eq!((quiet.corrected_share, quiet.naive_share, quiet.too_short()), (None, 1.0, false));
    }
}
