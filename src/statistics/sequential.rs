//! A plan that stops as soon as the casts have told: a lead to reach by one of two baits.

use super::Error;
use crate::maths::{ln, pow};

/// Two baits cast turn and turn about: a plan that counts only the pairs in which just one of them struck
/// and stops when one bait leads the other by `lead` such pairs.
///
/// It always names one of the two, a tie as well, only later: it answers "which", not "whether".
/// This is Wald's test of the share pi against 1 - pi on the discordant pairs; because its steps are
/// equal, there is no overshoot and the gambler's ruin gives it exactly (Feller 1968, An Introduction to
/// Probability Theory, vol. 1, ch. XIV, from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeadPlan {
    /// Lead at which to stop.
    pub lead: u32,
    /// Probability that the worse bait gets there first.
    pub wrong: f64,
    /// Mean number of pairs (casts of each bait) at the planned rates.
    pub mean_pairs: f64,
    /// Mean number of pairs if both struck at the mean of the two rates: how long a tie would take.
    pub mean_pairs_if_alike: f64,
}

/// Share of the discordant pairs won by the first bait, `pA qB / (pA qB + qA pB)`.
pub fn discordant_share(p_a: f64, p_b: f64) -> f64 {
    let (a, b) = (p_a * (1.0 - p_b), (1.0 - p_a) * p_b);
    a / (a + b)
}

/// The smallest lead that names the worse of two baits with probability at most `error`.
///
/// With odds `rho = (1-pi)/pi < 1`: wrong = 1/(1 + rho^-k), mean discordant pairs k (1 - 2 wrong)/(2 pi - 1).
///
/// ```
/// // 14 against 7 in 100, at most 5 % wrong. Odds 0.07 x 0.86 / (0.14 x 0.93) = 0.4624, whose fourth power is
/// // the first below 1/19: lead 4, wrong in 4.4 % of cases.
/// let plan = callup::statistics::sequential::lead_plan(0.14, 0.07, 0.05)?;
/// assert_eq!(plan.lead, 4);
/// assert!((plan.wrong - 0.0437).abs() < 5e-5);
/// # Ok::<(), callup::statistics::Error>(())
/// ```
pub fn lead_plan(p_a: f64, p_b: f64, error: f64) -> Result<LeadPlan, Error> {
    Error::probability("first rate", p_a)?;
    Error::probability("second rate", p_b)?;
    Error::open_range("error rate", error, (0.0, 0.5), "above 0 and below 0.5")?;
    let (better, worse) = (p_a.max(p_b), p_a.min(p_b));
    let share = discordant_share(better, worse);
    let odds = (1.0 - share) / share;
    let exact_lead = ln(error / (1.0 - error)) / ln(odds);
    if !(exact_lead.is_finite() && exact_lead < 1e6 && odds < 1.0) {
        let range = "further from the first; this gap is too small for any plan";
        return Err(Error::OutOfRange { what: "second rate", value: p_b, range });
    }
    // A lead that reaches the error to within rounding is enough.
    let lead = (exact_lead - 1e-9).ceil().max(1.0);
    let wrong = 1.0 / (1.0 + pow(odds, -lead));
    let discordant_per_pair = better * (1.0 - worse) + (1.0 - better) * worse;
    let mean = 0.5 * (better + worse);
    Ok(LeadPlan {
        lead: lead as u32,
        wrong,
        mean_pairs: lead * (1.0 - 2.0 * wrong) / (2.0 * share - 1.0) / discordant_per_pair,
        mean_pairs_if_alike: lead * lead / (2.0 * mean * (1.0 - mean)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_baits_alike_are_refused() {
        assert!(lead_plan(0.1, 0.1, 0.05).is_err());
    }

    /// The lead plan followed pair by pair, exactly, must give the closed form.
    #[test]
    fn the_lead_plan_agrees_with_following_every_lead() {
        let (a, b) = (0.14, 0.07);
        let plan = lead_plan(a, b, 0.05).unwrap();
        let k = plan.lead as usize;
        let (win, lose) = (a * (1.0 - b), (1.0 - a) * b);
        let mut alive = vec![0.0; 2 * k + 1];
        alive[k] = 1.0;
        let (mut wrong, mut pairs) = (0.0, 0.0);
        for _ in 0..20_000 {
            pairs += alive.iter().sum::<f64>();
            let mut next = vec![0.0; 2 * k + 1];
            for j in 1..2 * k {
                next[j + 1] += alive[j] * win;
                next[j - 1] += alive[j] * lose;
                next[j] += alive[j] * (1.0 - win - lose);
            }
            wrong += next[0];
            (next[0], next[2 * k]) = (0.0, 0.0);
            alive = next;
        }
        assert!((wrong - plan.wrong).abs() < 1e-9, "{wrong} {plan:?}");
        assert!((pairs / plan.mean_pairs - 1.0).abs() < 1e-9, "{pairs} {plan:?}");
    }
}
