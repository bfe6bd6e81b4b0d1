//! Length of clear view by starting distance, tabulated so that an encounter need not integrate.

use crate::fish::inspection::clearness;

/// Knots of the table.
const KNOTS: usize = 97;

/// Cumulative integral of [`clearness`] from the near point outwards, with its derivative, at knots that are
/// dense near the fish: `r = near + (far - near) s^2`. Read by cubic Hermite interpolation.
#[derive(Debug, Clone, PartialEq)]
pub struct ClearView {
    near_m: f64,
    per_span: f64,
    /// Value and slope per knot.
    knots: Vec<[f64; 2]>,
}

impl ClearView {
    /// Tabulates from the near point out to `far_m`; beam attenuation `c_per_m`, detail range in metres.
    pub fn new(near_m: f64, far_m: f64, c_per_m: f64, detail_range_m: f64) -> Self {
        let span = (far_m - near_m).max(1e-3);
        let steps = (KNOTS - 1) as f64;
        // Three-point Gauss-Legendre between knots, in the knots' own variable.
        const NODE: f64 = 0.774_596_669_241_483_4;
        const RULE: [(f64, f64); 3] = [(-NODE, 5.0 / 18.0), (0.0, 8.0 / 18.0), (NODE, 5.0 / 18.0)];
        let slope = |s: f64| 2.0 * span * s * clearness(near_m + span * s * s, c_per_m, detail_range_m);
        let mut sum = 0.0;
        let mut knots = Vec::with_capacity(KNOTS + 1);
        for i in 0..KNOTS {
            let s = i as f64 / steps;
            knots.push([sum, slope(s) / steps]);
            sum += RULE.iter().map(|&(x, w)| w * slope(s + (0.5 + 0.5 * x) / steps)).sum::<f64>() / steps;
        }
        Self { near_m, per_span: 1.0 / span, knots }
    }

    /// Length of clear view of a trip that starts `from_m` away, m.
    #[inline(always)]
    pub fn at(&self, from_m: f64) -> f64 {
        let s = ((from_m - self.near_m) * self.per_span).clamp(0.0, 1.0).sqrt() * (KNOTS - 1) as f64;
        let i = (s as usize).min(KNOTS - 2);
        let t = s - i as f64;
        let ([a, da], [b, db]) = (self.knots[i], self.knots[i + 1]);
        let (t2, t3) = (t * t, t * t * t);
        a * (2.0 * t3 - 3.0 * t2 + 1.0) + da * (t3 - 2.0 * t2 + t) + b * (3.0 * t2 - 2.0 * t3) + db * (t3 - t2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fish::inspection::clear_view;
    use crate::maths::quadrature::gauss_legendre;

    /// Interpolation between 97 knots, as a share of the whole integral.
    const INTERPOLATION: f64 = 2e-6;

    #[test]
    fn the_table_agrees_with_a_fine_quadrature() {
        let rule = gauss_legendre(64);
        for (c, detail) in [(0.5, 3.0), (3.0, 1.5), (15.0, 2.0)] {
            let table = ClearView::new(0.135, 14.0, c, detail);
            let whole = clear_view(&rule, 14.0_f64.min(0.135 + 40.0 / c), 0.135, c, detail);
            for i in 0..60 {
                let r = 0.1 + 0.05 * f64::from(i);
                let exact = clear_view(&rule, r, 0.135, c, detail);
                assert!((table.at(r) - exact).abs() < INTERPOLATION * whole, "c {c}, r {r}: {} {exact}", table.at(r));
            }
        }
    }
}
