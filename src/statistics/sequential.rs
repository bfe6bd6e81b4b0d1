//! Plans that stop as soon as the casts have told: Wald's test for one bait, a lead to reach for two.

use super::Error;
use crate::maths::roots::bracketed;
use crate::maths::{exp, ln, ln_1p, pow};

/// Wald's sequential probability ratio test of one rate, p0 against p1 > p0.
///
/// After every cast the log-likelihood ratio moves by ln(p1/p0) on a strike and ln(q1/q0) on none; stop at
/// or above ln((1-beta)/alpha) for p1, at or below ln(beta/(1-alpha)) for p0. Wald (1945), Ann. Math.
/// Stat. 16:117, doi:10.1214/aoms/1177731118.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sprt {
    p0: f64,
    p1: f64,
    alpha: f64,
    beta: f64,
}

/// How a sequential plan behaves at one true rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Operating {
    /// Probability that it ends for p0.
    pub accepts_p0: f64,
    /// Mean number of casts.
    pub mean_casts: f64,
    /// Probability still undecided when the computation was cut off (0 for Wald's formulas).
    pub undecided: f64,
}

impl Sprt {
    /// Casts after which the exact computation is cut off.
    const MOST_CASTS: usize = 200_000;
    /// Probability of still casting at which it may stop.
    const NEGLIGIBLE: f64 = 1e-13;

    /// Rates 0 < p0 < p1 < 1 and error rates with alpha + beta < 1.
    pub fn new(p0: f64, p1: f64, alpha: f64, beta: f64) -> Result<Self, Error> {
        Error::probability("lower rate", p0)?;
        Error::open_range("higher rate", p1, (p0, 1.0), "above the lower rate and below 1")?;
        Error::probability("false-alarm rate", alpha)?;
        Error::open_range(
            "miss rate",
            beta,
            (0.0, 1.0 - alpha),
            "above 0, below 1 less the false-alarm rate",
        )?;
        Ok(Self { p0, p1, alpha, beta })
    }

    /// Steps of the log-likelihood ratio on a strike and on none.
    fn steps(&self) -> (f64, f64) {
        (ln(self.p1 / self.p0), ln_1p(-self.p1) - ln_1p(-self.p0))
    }

    /// Upper and lower boundary.
    fn boundaries(&self) -> (f64, f64) {
        (ln((1.0 - self.beta) / self.alpha), ln(self.beta / (1.0 - self.alpha)))
    }

    /// Wald's approximations, which neglect the overshoot: L(p) = (A^h - 1)/(A^h - B^h) with h the nonzero
    /// root of `p (p1/p0)^h + q (q1/q0)^h = 1`, and mean (L ln B + (1-L) ln A)/(p z1 + q z0).
    pub fn wald(&self, p: f64) -> Result<Operating, Error> {
        Error::probability("true rate", p)?;
        let ((up, down), (top, bottom)) = (self.steps(), self.boundaries());
        let drift = p * up + (1.0 - p) * down;
        // Without drift both have a limit of their own.
        let no_drift = drift.abs() < 1e-9 * up;
        let accepts_p0 =
            if no_drift { top / (top - bottom) } else { self.wald_acceptance(p, drift, (top, bottom)) };
        let mean_casts = if no_drift {
            -top * bottom / (p * up * up + (1.0 - p) * down * down)
        } else {
            (accepts_p0 * bottom + (1.0 - accepts_p0) * top) / drift
        };
        Ok(Operating { accepts_p0, mean_casts, undecided: 0.0 })
    }

    fn wald_acceptance(&self, p: f64, drift: f64, (top, bottom): (f64, f64)) -> f64 {
        let (up, down) = self.steps();
        let gap = |h: f64| p * exp(h * up) + (1.0 - p) * exp(h * down) - 1.0;
        // The function is convex with roots at 0 and h: look beyond its minimum, on the side away from 0.
        let mut far = -drift.signum();
        while gap(far) < 0.0 && far.abs() < 600.0 / up.max(-down) {
            far *= 2.0;
        }
        match bracketed(near_minimum(p, up, down), far, 1e-14, gap) {
            // (A^h - 1)/(A^h - B^h), divided through by the larger of the two powers.
            Some(h) if h > 0.0 => (1.0 - exp(-h * top)) / (1.0 - exp(h * (bottom - top))),
            Some(h) => (1.0 - exp(h * top)) * exp(-h * bottom) / (1.0 - exp(h * (top - bottom))),
            // So far from both rates that the wrong end is out of reach.
            None => f64::from(u8::from(drift < 0.0)),
        }
    }

    /// Exact error rates and mean, by following the probability of every count still undecided.
    pub fn exact(&self, p: f64) -> Result<Operating, Error> {
        Error::probability("true rate", p)?;
        let ((up, down), (top, bottom)) = (self.steps(), self.boundaries());
        // alive[j]: probability of first + j strikes so far, undecided.
        let (mut first, mut alive) = (0_usize, vec![1.0]);
        let (mut accepts_p0, mut mean_casts) = (0.0, 0.0);
        for cast in 1..=Self::MOST_CASTS {
            let left: f64 = alive.iter().sum();
            if left < Self::NEGLIGIBLE {
                break;
            }
            mean_casts += left;
            let mut next = vec![0.0; alive.len() + 1];
            for (j, &mass) in alive.iter().enumerate() {
                next[j] += mass * (1.0 - p);
                next[j + 1] += mass * p;
            }
            let ratio = |j: usize| {
                let strikes = (first + j) as f64;
                strikes * up + (cast as f64 - strikes) * down
            };
            let lowest = (0..next.len()).find(|&j| ratio(j) > bottom).unwrap_or(next.len());
            let beyond = (lowest..next.len()).find(|&j| ratio(j) >= top).unwrap_or(next.len());
            accepts_p0 += next[..lowest].iter().sum::<f64>();
            alive = next[lowest..beyond].to_vec();
            first += lowest;
        }
        Ok(Operating { accepts_p0, mean_casts, undecided: alive.iter().sum() })
    }

    /// Casts of the fixed one-sided plan with the same error rates, by the normal formula
    /// `[z_alpha sqrt(p0 q0) + z_beta sqrt(p1 q1)]^2/(p1 - p0)^2`.
    pub fn fixed_size(&self) -> f64 {
        let z = crate::maths::special::normal_quantile;
        let sd = |p: f64| crate::maths::sqrt(p * (1.0 - p));
        let root = z(1.0 - self.alpha) * sd(self.p0) + z(1.0 - self.beta) * sd(self.p1);
        root * root / ((self.p1 - self.p0) * (self.p1 - self.p0))
    }
}

/// Where `p e^{hu} + q e^{hd}` is smallest: `e^{h(u-d)} = -q d / (p u)`.
fn near_minimum(p: f64, up: f64, down: f64) -> f64 {
    ln(-(1.0 - p) * down / (p * up)) / (up - down)
}

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
    fn rates_far_from_both_end_surely() {
        let t = Sprt::new(0.05, 0.1, 0.05, 0.2).unwrap();
        for (p, l) in [(1e-300, 1.0), (1e-9, 1.0), (0.9, 0.0), (1.0 - 1e-15, 0.0)] {
            let o = t.wald(p).unwrap();
            assert!((o.accepts_p0 - l).abs() < 1e-6 && o.mean_casts > 0.0, "{p}: {o:?}");
        }
    }

    #[test]
    fn wald_at_the_tested_rates_is_what_was_asked_for() {
        let t = Sprt::new(0.05, 0.1, 0.05, 0.2).unwrap();
        assert!((t.wald(0.05).unwrap().accepts_p0 - 0.95).abs() < 1e-9);
        assert!((t.wald(0.1).unwrap().accepts_p0 - 0.2).abs() < 1e-9);
        assert!(Sprt::new(0.1, 0.05, 0.05, 0.2).is_err() && Sprt::new(0.1, 0.2, 0.6, 0.5).is_err());
        assert!(lead_plan(0.1, 0.1, 0.05).is_err());
    }

    /// Without drift the general formula and its limit must meet.
    #[test]
    fn wald_is_continuous_where_the_drift_vanishes() {
        let t = Sprt::new(0.05, 0.1, 0.05, 0.2).unwrap();
        let (up, down) = t.steps();
        let p = -down / (up - down);
        let (at, near) = (t.wald(p).unwrap(), t.wald(p + 1e-6).unwrap());
        assert!((at.accepts_p0 - near.accepts_p0).abs() < 1e-4, "{at:?} {near:?}");
        assert!((at.mean_casts / near.mean_casts - 1.0).abs() < 1e-3);
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
