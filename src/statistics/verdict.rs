//! What may be said about a rule: one of seven plain verdicts.

use super::Error;
use super::intervals::{Confidence, Interval, Proportion, wilson};

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
}
