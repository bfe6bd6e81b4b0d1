//! Length of clear view by starting distance, tabulated so that an encounter need not integrate.

use crate::maths::fast;
use crate::maths::interpolate::SmoothTable;

/// Knots of the table.
const KNOTS: usize = 97;

/// Farther than any trip, m.
const FAR_M: f64 = 1000.0;

/// Cumulative integral of [`clearness`](crate::fish::inspection::clearness) from the near point outwards, at knots that are dense near the fish:
/// `r = near + (far - near) s^2`, s from 0 to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct ClearView {
    near_m: f64,
    per_span: f64,
    by_root: SmoothTable,
}

impl ClearView {
    /// Tabulates from the near point out to `far_m`; beam attenuation `c_per_m`, detail range in metres.
    pub fn new(near_m: f64, far_m: f64, c_per_m: f64, detail_range_m: f64) -> Self {
        let span = (far_m - near_m).max(1e-3);
        let step = 1.0 / (KNOTS - 1) as f64;
        let per_detail = 1.0 / detail_range_m;
        let slope = |s: f64| {
            let r = near_m + span * s * s;
            let d = r * per_detail;
            2.0 * span * s * fast::exp(-c_per_m * r) / (1.0 + d * d)
        };
        let mut sum = 0.0;
        let mut at = slope(0.0);
        let mut knots = Vec::with_capacity(KNOTS);
        for i in 0..KNOTS {
            let s = i as f64 * step;
            knots.push([sum, at]);
            // Simpson's rule between knots.
            let next = slope(s + step);
            sum += step / 6.0 * (at + 4.0 * slope(s + 0.5 * step) + next);
            at = next;
        }
        Self { near_m, per_span: 1.0 / span, by_root: SmoothTable::from_knots(0.0, 1.0, knots) }
    }

    /// A view that is the same share of every trip.
    pub fn share_of_trip(share: f64) -> Self {
        // share r = share span s^2 with the near point at 0: a cubic holds it exactly.
        let knots = vec![[0.0, 0.0], [share * FAR_M, 2.0 * share * FAR_M]];
        Self { near_m: 0.0, per_span: 1.0 / FAR_M, by_root: SmoothTable::from_knots(0.0, 1.0, knots) }
    }

    /// A view of one length from wherever the trip starts.
    pub fn of_length(length_m: f64) -> Self {
        let knots = vec![[length_m, 0.0]; 2];
        Self { near_m: 0.0, per_span: 1.0 / FAR_M, by_root: SmoothTable::from_knots(0.0, 1.0, knots) }
    }

    /// Length of clear view of a trip that starts `from_m` away, m.
    #[inline(always)]
    pub fn at(&self, from_m: f64) -> f64 {
        self.by_root.at(((from_m - self.near_m) * self.per_span).max(0.0).sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fish::inspection::clear_view;
    use crate::maths::quadrature::gauss_legendre;

    /// Interpolation between 97 knots, as a share of the whole integral.
    const INTERPOLATION: f64 = 1e-5;

    #[test]
    fn views_without_optics_are_even() {
        let (share, length) = (ClearView::share_of_trip(0.3), ClearView::of_length(0.8));
        for i in 0..100 {
            let r = 0.2 * f64::from(i);
            assert!((share.at(r) - 0.3 * r).abs() < 1e-12 && (length.at(r) - 0.8).abs() < 1e-15);
        }
    }

    #[test]
    fn the_table_agrees_with_a_fine_quadrature() {
        let rule = gauss_legendre(64);
        for (c, detail) in [(0.5, 3.0), (3.0, 1.5), (15.0, 2.0)] {
            let table = ClearView::new(0.135, 14.0, c, detail);
            let whole = clear_view(&rule, 14.0_f64.min(0.135 + 40.0 / c), 0.135, c, detail);
            for i in 0..60 {
                let r = 0.1 + 0.05 * f64::from(i);
                let exact = clear_view(&rule, r, 0.135, c, detail);
                assert!(
                    (table.at(r) - exact).abs() < INTERPOLATION * whole,
                    "c {c}, r {r}: {} {exact}",
                    table.at(r)
                );
            }
        }
    }
}
