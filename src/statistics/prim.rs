//! Where something happens, said as a box: "visibility below 0.6 m and the fish more than 2.5 m below".
//!
//! Patient rule induction: peel a thin slice off the box where that raises the density of hits most, again
//! and again; then paste back what was taken too much. Friedman & Fisher (1999), Stat. Comput. 9:123,
//! doi:10.1023/A:1008894516817; coverage and density as in Bryant & Lempert (2010), Technol. Forecast. Soc.
//! Change 77:34, doi:10.1016/j.techfore.2009.08.002.

use super::Error;
use ndarray::ArrayView2;

/// One side or both of a box in one named dimension; ends included.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// Name of the dimension.
    pub name: String,
    /// Lower end, `None` where the box is open below.
    pub low: Option<f64>,
    /// Upper end, `None` where the box is open above.
    pub high: Option<f64>,
}

/// A box and how well it describes the hits.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundBox {
    /// Only dimensions that are limited.
    pub limits: Vec<Limit>,
    /// Share of all hits that lie in the box.
    pub coverage: f64,
    /// Share of the points in the box that are hits.
    pub density: f64,
    /// Share of all points that lie in the box.
    pub support: f64,
}

/// How to search.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Search {
    /// Share of the box peeled in one step, above 0 and at most 1/2.
    pub peel: f64,
    /// Smallest share of all points the box may keep.
    pub least_support: f64,
}

impl Default for Search {
    /// Slices of 5 %, at least 5 % of the points: the values of Friedman & Fisher.
    fn default() -> Self {
        Self { peel: 0.05, least_support: 0.05 }
    }
}

/// Loss of balance (harmonic mean of coverage and density) at which a limit is still worth dropping.
const SIMPLER: f64 = 0.99;

/// The box with the best balance of coverage and density, their harmonic mean; `Ok(None)` without any hit.
///
/// `points` is points by dimensions, `hit` says at which points it happens. The search is greedy: it finds
/// a good box, not certainly the best.
pub fn find_box(
    points: ArrayView2<'_, f64>,
    hit: &[bool],
    names: &[&str],
    search: Search,
) -> Result<Option<FoundBox>, Error> {
    Error::same_length("hits", hit.len(), points.nrows())?;
    Error::same_length("names of the dimensions", names.len(), points.ncols())?;
    Error::at_least("points", points.nrows(), 1)?;
    Error::all_finite("points", points.iter())?;
    Error::open_range("share peeled", search.peel, (0.0, 0.5 + f64::EPSILON), "above 0 and at most 0.5")?;
    if !hit.contains(&true) {
        return Ok(None);
    }
    let task = Task { points, hit, search };
    let mut bounds = task.peel();
    task.paste(&mut bounds);
    task.simplify(&mut bounds);
    Ok(Some(task.describe(&bounds, names)))
}

/// Lower and upper end by dimension.
type Bounds = Vec<(f64, f64)>;

struct Task<'a> {
    points: ArrayView2<'a, f64>,
    hit: &'a [bool],
    search: Search,
}

/// Points and hits inside a box.
#[derive(Clone, Copy)]
struct Inside {
    points: usize,
    hits: usize,
}

impl Inside {
    fn density(self) -> f64 {
        if self.points == 0 { 0.0 } else { self.hits as f64 / self.points as f64 }
    }

    /// Harmonic mean of coverage h/H and density h/n: 2h/(H + n).
    fn balance(self, all_hits: usize) -> f64 {
        2.0 * self.hits as f64 / (all_hits + self.points) as f64
    }
}

impl Task<'_> {
    fn members(&self, bounds: &Bounds) -> Vec<usize> {
        let inside = |i: usize| self.points.row(i).iter().zip(bounds).all(|(x, b)| b.0 <= *x && *x <= b.1);
        (0..self.points.nrows()).filter(|&i| inside(i)).collect()
    }

    fn count(&self, bounds: &Bounds) -> Inside {
        self.tally(&self.members(bounds))
    }

    fn tally(&self, members: &[usize]) -> Inside {
        Inside { points: members.len(), hits: members.iter().filter(|&&i| self.hit[i]).count() }
    }

    fn all_hits(&self) -> usize {
        self.hit.iter().filter(|h| **h).count()
    }

    /// Peels to the least support and returns the best balanced box on the way.
    fn peel(&self) -> Bounds {
        let all_hits = self.all_hits();
        let least = ((self.search.least_support * self.points.nrows() as f64).ceil() as usize).max(1);
        let mut bounds = vec![(f64::NEG_INFINITY, f64::INFINITY); self.points.ncols()];
        let mut best = (self.count(&bounds).balance(all_hits), bounds.clone());
        while let Some(next) = self.best_slice(&bounds, least) {
            let inside = self.count(&next);
            bounds = next;
            if inside.balance(all_hits) > best.0 {
                best = (inside.balance(all_hits), bounds.clone());
            }
            if inside.hits == inside.points || inside.hits == 0 {
                break;
            }
        }
        best.1
    }

    /// The one slice whose removal leaves the highest density (of equal ones, the most points).
    fn best_slice(&self, bounds: &Bounds, least: usize) -> Option<Bounds> {
        let members = self.members(bounds);
        let mut best: Option<(Inside, Bounds)> = None;
        for dimension in 0..self.points.ncols() {
            let mut values: Vec<f64> = members.iter().map(|&i| self.points[(i, dimension)]).collect();
            values.sort_by(f64::total_cmp);
            for cut in [self.cut_low(&values), self.cut_high(&values)].into_iter().flatten() {
                let mut candidate = bounds.clone();
                candidate[dimension] = (bounds[dimension].0.max(cut.0), bounds[dimension].1.min(cut.1));
                let inside = self.count(&candidate);
                let better = best
                    .as_ref()
                    .is_none_or(|(b, _)| (inside.density(), inside.points) > (b.density(), b.points));
                if inside.points >= least && better {
                    best = Some((inside, candidate));
                }
            }
        }
        best.map(|b| b.1)
    }

    fn slice(&self, n: usize) -> usize {
        ((self.search.peel * n as f64) as usize).max(1)
    }

    /// Keeps what lies above the lowest slice; equal values go together.
    fn cut_low(&self, sorted: &[f64]) -> Option<(f64, f64)> {
        let at = *sorted.get(self.slice(sorted.len()))?;
        let first = *sorted.first()?;
        let low = if at > first { at } else { *sorted.iter().find(|v| **v > first)? };
        Some((low, f64::INFINITY))
    }

    fn cut_high(&self, sorted: &[f64]) -> Option<(f64, f64)> {
        let last = *sorted.last()?;
        let at = *sorted.get((sorted.len() - 1).checked_sub(self.slice(sorted.len()))?)?;
        let high = if at < last { at } else { *sorted.iter().rev().find(|v| **v < last)? };
        Some((f64::NEG_INFINITY, high))
    }

    /// Moves single ends outwards by a slice while that improves the balance.
    fn paste(&self, bounds: &mut Bounds) {
        let all_hits = self.all_hits();
        let mut now = self.count(bounds).balance(all_hits);
        loop {
            let wider = (0..bounds.len())
                .flat_map(|d| [self.widened(bounds, d, true), self.widened(bounds, d, false)]);
            let best = wider
                .flatten()
                .map(|b| (self.count(&b).balance(all_hits), b))
                .reduce(|a, b| if b.0 > a.0 { b } else { a });
            match best {
                Some((balance, next)) if balance > now => (now, *bounds) = (balance, next),
                _ => return,
            }
        }
    }

    fn widened(&self, bounds: &Bounds, dimension: usize, below: bool) -> Option<Bounds> {
        let mut open = bounds.clone();
        let (low, high) = bounds[dimension];
        open[dimension] = if below { (f64::NEG_INFINITY, high) } else { (low, f64::INFINITY) };
        let beyond = |x: f64| if below { x < low } else { x > high };
        let members = self.members(&open);
        let mut outside: Vec<f64> =
            members.iter().map(|&i| self.points[(i, dimension)]).filter(|&x| beyond(x)).collect();
        outside.sort_by(|a, b| if below { b.total_cmp(a) } else { a.total_cmp(b) });
        let reach = self.slice(members.len() - outside.len()).min(outside.len());
        let end = *outside.get(reach.checked_sub(1)?)?;
        // The last slice outwards opens the side.
        let end = match (reach == outside.len(), below) {
            (true, true) => f64::NEG_INFINITY,
            (true, false) => f64::INFINITY,
            (false, _) => end,
        };
        let mut next = bounds.clone();
        next[dimension] = if below { (end, high) } else { (low, end) };
        Some(next)
    }

    /// Drops limits that hardly matter, the least important first.
    fn simplify(&self, bounds: &mut Bounds) {
        let all_hits = self.all_hits();
        let reference = self.count(bounds).balance(all_hits);
        loop {
            let sides = (0..bounds.len()).flat_map(|d| [(d, true), (d, false)]);
            let dropped = sides.filter_map(|(d, below)| {
                let end = if below { bounds[d].0 } else { bounds[d].1 };
                end.is_finite().then(|| {
                    let mut next = bounds.clone();
                    if below {
                        next[d].0 = f64::NEG_INFINITY
                    } else {
                        next[d].1 = f64::INFINITY
                    }
                    (self.count(&next).balance(all_hits), next)
                })
            });
            match dropped.reduce(|a, b| if b.0 > a.0 { b } else { a }) {
                Some((balance, next)) if balance >= SIMPLER * reference => *bounds = next,
                _ => return,
            }
        }
    }

    fn describe(&self, bounds: &Bounds, names: &[&str]) -> FoundBox {
        let inside = self.count(bounds);
        let finite = |x: f64| x.is_finite().then_some(x);
        let limits = bounds
            .iter()
            .zip(names)
            .map(|(b, name)| Limit { name: (*name).to_string(), low: finite(b.0), high: finite(b.1) })
            .filter(|l| l.low.is_some() || l.high.is_some())
            .collect();
        FoundBox {
            limits,
            coverage: inside.hits as f64 / self.all_hits().max(1) as f64,
            density: inside.density(),
            support: inside.points as f64 / self.points.nrows() as f64,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ndarray::Array2;

    /// A grid of 20 x 20 x 5 points in the unit cube.
    fn grid() -> Array2<f64> {
        Array2::from_shape_fn((2_000, 3), |(i, d)| match d {
            0 => (i % 20) as f64 / 19.0,
            1 => (i / 20 % 20) as f64 / 19.0,
            _ => (i / 400) as f64 / 4.0,
        })
    }

    #[test]
    fn a_true_box_is_found_and_the_idle_dimension_left_out() {
        let points = grid();
        let hit: Vec<bool> = points.rows().into_iter().map(|r| r[0] < 0.33 && r[1] > 0.6).collect();
        let found = find_box(points.view(), &hit, &["visibility", "gap", "wind"], Search::default());
        let found = found.unwrap().unwrap();
        let names: Vec<&str> = found.limits.iter().map(|l| l.name.as_str()).collect();
        assert_eq!(names, ["visibility", "gap"]);
        assert!(found.coverage > 0.99 && found.density > 0.99, "{found:?}");
        let (visibility, gap) = (&found.limits[0], &found.limits[1]);
        assert!(visibility.low.is_none() && (visibility.high.unwrap() - 0.316).abs() < 0.001);
        assert!(gap.high.is_none() && (gap.low.unwrap() - 0.632).abs() < 0.001);
    }

    #[test]
    fn nothing_or_everything_hit() {
        let points = grid();
        let none = find_box(points.view(), &[false; 2_000], &["a", "b", "c"], Search::default());
        assert_eq!(none, Ok(None));
        let all = find_box(points.view(), &[true; 2_000], &["a", "b", "c"], Search::default());
        let all = all.unwrap().unwrap();
        assert!(all.limits.is_empty() && all.coverage == 1.0 && all.density == 1.0);
        assert!(find_box(points.view(), &[true; 3], &["a", "b", "c"], Search::default()).is_err());
    }
}
