//! Tables with linear interpolation.

/// A function tabulated at equal steps from `from` to `to`, held constant outside.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    from: f64,
    per_step: f64,
    values: Vec<f64>,
}

impl Table {
    /// A table of values already known at equal steps (at least two) from `from` to `to`.
    pub fn from_values(from: f64, to: f64, values: Vec<f64>) -> Self {
        debug_assert!(values.len() >= 2);
        Self { from, per_step: (values.len() - 1) as f64 / (to - from), values }
    }

    /// The value at `x`, linear between the knots, the end value beyond them.
    #[inline(always)]
    pub fn at(&self, x: f64) -> f64 {
        let last = self.values.len() - 2;
        let t = ((x - self.from) * self.per_step).clamp(0.0, (last + 1) as f64);
        let i = (t as usize).min(last);
        let f = t - i as f64;
        self.values[i] + f * (self.values[i + 1] - self.values[i])
    }

    /// The knots' values.
    pub fn values(&self) -> &[f64] {
        &self.values
    }
}

/// A smooth function tabulated with its slope at equal steps, read by cubic Hermite interpolation, held constant
/// outside. The error is step^4 / 384 times the fourth derivative.
#[derive(Debug, Clone, PartialEq)]
pub struct SmoothTable {
    from: f64,
    per_step: f64,
    /// Value, and slope times step.
    knots: Vec<[f64; 2]>,
}

impl SmoothTable {
    /// A table from `from` to `to > from` of values and slopes (per unit of x) at equal steps, two at least.
    pub fn from_knots(from: f64, to: f64, mut knots: Vec<[f64; 2]>) -> Self {
        debug_assert!(knots.len() >= 2);
        let per_step = (knots.len() - 1) as f64 / (to - from);
        for knot in &mut knots {
            knot[1] /= per_step;
        }
        Self { from, per_step, knots }
    }

    /// The value at `x`.
    #[inline(always)]
    pub fn at(&self, x: f64) -> f64 {
        let last = self.knots.len() - 2;
        let s = ((x - self.from) * self.per_step).clamp(0.0, (last + 1) as f64);
        let i = (s as usize).min(last);
        let t = s - i as f64;
        let ([a, da], [b, db]) = (self.knots[i], self.knots[i + 1]);
        let rest = b - a;
        // Hermite's cubic in Horner form.
        a + t * (da + t * ((3.0 * rest - 2.0 * da - db) + t * (da + db - 2.0 * rest)))
    }
}

/// Linear interpolation in points sorted by rising `x`, the end value beyond them. Empty gives NaN.
pub fn linear(points: &[(f64, f64)], x: f64) -> f64 {
    let after = points.partition_point(|p| p.0 <= x);
    match (after.checked_sub(1).and_then(|i| points.get(i)), points.get(after)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0),
        (Some(a), None) => a.1,
        (None, Some(b)) => b.1,
        (None, None) => f64::NAN,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_smooth_table_reproduces_a_cubic() {
        let (f, slope) = (|x: f64| x * x * x - x, |x: f64| 3.0 * x * x - 1.0);
        let knots = (0..5).map(|i| -1.0 + 0.5 * f64::from(i)).map(|x| [f(x), slope(x)]).collect();
        let table = SmoothTable::from_knots(-1.0, 1.0, knots);
        for i in -10..=10 {
            let x = 0.1 * f64::from(i);
            assert!((table.at(x) - f(x)).abs() < 1e-14, "at {x}");
        }
        assert_eq!((table.at(-7.0), table.at(7.0)), (f(-1.0), f(1.0)));
    }

    #[test]
    fn a_straight_line_is_reproduced_and_ends_are_held() {
        let t = Table::from_values(-1.0, 3.0, vec![-1.0, 1.0, 3.0, 5.0, 7.0]);
        for x in [-1.0, -0.3, 0.0, 1.7, 3.0] {
            assert!((t.at(x) - (2.0 * x + 1.0)).abs() < 1e-12);
        }
        assert_eq!(t.at(-9.0), -1.0);
        assert_eq!(t.at(9.0), 7.0);
        let p = [(0.0, 1.0), (2.0, 5.0)];
        assert_eq!(linear(&p, 1.0), 3.0);
        assert_eq!(linear(&p, -1.0), 1.0);
        assert_eq!(linear(&p, 4.0), 5.0);
    }
}
