//! Lines of equal value through a grid of numbers (marching squares, linear along the cell edges).
use crate::present::scene::Point;
use std::collections::HashMap;

/// One crossing of a grid edge: the knot where the edge starts and whether it runs along x.
type Edge = (usize, usize, bool);

/// A grid of values: `values[j * xs.len() + i]` belongs to `(xs[i], ys[j])`.
#[derive(Debug, Clone, Copy)]
pub struct Grid<'a> {
    /// Places of the columns.
    pub xs: &'a [f64],
    /// Places of the rows.
    pub ys: &'a [f64],
    /// The values, row by row.
    pub values: &'a [f64],
}

impl Grid<'_> {
    /// The value at a knot; NaN where there is none.
    pub fn at(&self, i: usize, j: usize) -> f64 {
        if i < self.xs.len() {
            self.values.get(j * self.xs.len() + i).copied().unwrap_or(f64::NAN)
        } else {
            f64::NAN
        }
    }

    fn crossing(&self, (i, j, along_x): Edge, level: f64) -> Point {
        let (i2, j2) = if along_x { (i + 1, j) } else { (i, j + 1) };
        let (a, b) = (self.at(i, j), self.at(i2, j2));
        let t = if a == b { 0.5 } else { ((level - a) / (b - a)).clamp(0.0, 1.0) };
        let between = |from: f64, to: f64| from + t * (to - from);
        (between(self.xs[i], self.xs[i2]), between(self.ys[j], self.ys[j2]))
    }

    /// The pieces of the contour through the cell whose first knot is (i, j).
    fn pieces(&self, i: usize, j: usize, level: f64) -> Vec<(Edge, Edge)> {
        let corners = [self.at(i, j), self.at(i + 1, j), self.at(i + 1, j + 1), self.at(i, j + 1)];
        if corners.iter().any(|v| !v.is_finite()) {
            return vec![];
        }
        let above = corners.map(|v| v >= level);
        let edges: [Edge; 4] = [(i, j, true), (i + 1, j, false), (i, j + 1, true), (i, j, false)];
        let crossed: Vec<Edge> =
            (0..4).filter(|&k| above[k] != above[(k + 1) % 4]).map(|k| edges[k]).collect();
        match crossed[..] {
            [a, b] => vec![(a, b)],
            // A saddle: the mean decides which corners hang together.
            [a, b, c, d] if (corners.iter().sum::<f64>() / 4.0 >= level) == above[0] => vec![(a, b), (c, d)],
            [a, b, c, d] => vec![(a, d), (b, c)],
            _ => vec![],
        }
    }

    /// The contour at `level` as chains of points; closed ones end where they start.
    pub fn contour(&self, level: f64) -> Vec<Vec<Point>> {
        let mut neighbours: HashMap<Edge, Vec<Edge>> = HashMap::new();
        let mut order: Vec<Edge> = Vec::new();
        for j in 0..self.ys.len().saturating_sub(1) {
            for i in 0..self.xs.len().saturating_sub(1) {
                for (a, b) in self.pieces(i, j, level) {
                    for (from, to) in [(a, b), (b, a)] {
                        neighbours
                            .entry(from)
                            .or_insert_with(|| {
                                order.push(from);
                                vec![]
                            })
                            .push(to);
                    }
                }
            }
        }
        // Open chains first, from their ends; what is left is closed.
        order.sort_by_key(|e| neighbours.get(e).map_or(0, Vec::len));
        let mut chains = Vec::new();
        for start in order {
            let mut chain = vec![start];
            let mut here = start;
            while let Some(next) = neighbours.get_mut(&here).and_then(Vec::pop) {
                if let Some(back) = neighbours.get_mut(&next)
                    && let Some(k) = back.iter().position(|e| *e == here)
                {
                    back.swap_remove(k);
                }
                chain.push(next);
                here = next;
            }
            if chain.len() > 1 {
                chains.push(chain.into_iter().map(|e| self.crossing(e, level)).collect());
            }
        }
        chains
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cone_gives_closed_circles() {
        let xs: Vec<f64> = (0..41).map(|i| f64::from(i) * 0.1 - 2.0).collect();
        let values: Vec<f64> =
            xs.iter().flat_map(|y| xs.iter().map(move |x| (x * x + y * y).sqrt())).collect();
        let grid = Grid { xs: &xs, ys: &xs, values: &values };
        let chains = grid.contour(1.23);
        assert_eq!(chains.len(), 1);
        let ring = &chains[0];
        assert_eq!(ring.first(), ring.last());
        // Linear interpolation in cells of 0.1 misses the circle by at most a few thousandths.
        assert!(ring.iter().all(|p| (p.0.hypot(p.1) - 1.23).abs() < 0.004));
        assert!(grid.contour(9.0).is_empty());
    }

    #[test]
    fn a_plane_gives_one_open_line() {
        let (xs, ys) = ([0.0, 1.0, 2.0], [0.0, 1.0]);
        let grid = Grid { xs: &xs, ys: &ys, values: &[0.0, 1.0, 2.0, 0.0, 1.0, 2.0] };
        let chains = grid.contour(0.5);
        assert_eq!(chains.len(), 1);
        assert!(chains[0].iter().all(|p| (p.0 - 0.5).abs() < 1e-12));
    }

    #[test]
    fn holes_and_missing_values_are_harmless() {
        let xs = [0.0, 1.0, 2.0];
        let grid = Grid { xs: &xs, ys: &xs, values: &[0.0, f64::NAN, 2.0, 0.0] };
        assert!(grid.contour(1.0).is_empty());
        assert!(Grid { xs: &[], ys: &[], values: &[] }.contour(0.0).is_empty());
    }
}
