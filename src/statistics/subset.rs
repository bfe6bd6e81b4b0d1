//! The best few of many: which k baits to carry for a spread of conditions.
//!
//! The value of a set is `F(S) = sum_c w_c max_{i in S} p_ic`: in every condition the best of those carried
//! is thrown, knowing the condition. F is monotone and submodular (each further bait adds less).

use super::Error;
use ndarray::ArrayView2;

/// A set of alternatives and its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Subset {
    /// Row numbers, in the order found by [`greedy`], rising for [`best`].
    pub members: Vec<usize>,
    /// F of the set.
    pub value: f64,
    /// Nodes of the search tree looked at.
    pub nodes: usize,
    /// Whether the search was finished, so that no better set exists.
    pub proven: bool,
}

/// Nodes after which [`best`] hands over the best set so far, marked as not proven.
pub const MOST_NODES: usize = 2_000_000;

/// Value of a set of rows of `p` (alternatives by conditions) under weights of the conditions.
///
/// Rates and weights are 0 or above; the empty set is worth 0.
pub fn value(p: ArrayView2<'_, f64>, weights: &[f64], members: &[usize]) -> f64 {
    let best =
        members.iter().filter(|&&i| i < p.nrows()).fold(vec![0.0; p.ncols()], |best, &i| raised(&best, p, i));
    best.iter().zip(weights).map(|(b, w)| b * w).sum()
}

/// Column maxima after row i joins.
fn raised(best: &[f64], p: ArrayView2<'_, f64>, i: usize) -> Vec<f64> {
    best.iter().zip(p.row(i)).map(|(b, v)| b.max(*v)).collect()
}

/// What row i would add to a set with the given column maxima.
fn gain(best: &[f64], p: ArrayView2<'_, f64>, weights: &[f64], i: usize) -> f64 {
    best.iter().zip(p.row(i)).zip(weights).map(|((b, v), w)| w * (v - b).max(0.0)).sum()
}

fn check(p: ArrayView2<'_, f64>, weights: &[f64], size: usize) -> Result<(), Error> {
    Error::same_length("weights of the conditions", weights.len(), p.ncols())?;
    Error::at_least("alternatives to choose from", p.nrows(), 1)?;
    Error::at_least("size of the set", size, 1)?;
    Error::all_finite("rates", p.iter())?;
    Error::all_finite("weights", weights)?;
    match p.iter().chain(weights).find(|v| **v < 0.0) {
        Some(&value) => Err(Error::OutOfRange { what: "rate or weight", value, range: "of 0 or above" }),
        None => Ok(()),
    }
}

/// The set built by adding the most useful alternative k times; worth at least
/// `1 - (1 - 1/k)^k > 1 - 1/e` of the best.
///
/// Nemhauser, Wolsey & Fisher (1978), Math. Program. 14:265, doi:10.1007/BF01588971. Ties go to the lower row.
pub fn greedy(p: ArrayView2<'_, f64>, weights: &[f64], size: usize) -> Result<Subset, Error> {
    check(p, weights, size)?;
    let (mut best, mut members) = (vec![0.0; p.ncols()], Vec::new());
    for _ in 0..size.min(p.nrows()) {
        let candidates = (0..p.nrows()).filter(|i| !members.contains(i));
        let with_gain = candidates.map(|i| (i, gain(&best, p, weights, i)));
        let Some((i, _)) = with_gain.reduce(|a, b| if b.1 > a.1 { b } else { a }) else { break };
        best = raised(&best, p, i);
        members.push(i);
    }
    let value = value(p, weights, &members);
    Ok(Subset { members, value, nodes: size, proven: size == 1 })
}

/// The best set of at most `size` alternatives, by branch and bound.
///
/// A set with r places left can gain no more than its r largest single gains (submodularity), so a node
/// whose bound does not beat the best set so far is cut. Starts from [`greedy`].
pub fn best(p: ArrayView2<'_, f64>, weights: &[f64], size: usize) -> Result<Subset, Error> {
    best_within(p, weights, size, MOST_NODES)
}

/// [`best`] with a limit of one's own on the nodes looked at: where many sets are searched one after the other.
pub fn best_within(
    p: ArrayView2<'_, f64>,
    weights: &[f64],
    size: usize,
    most_nodes: usize,
) -> Result<Subset, Error> {
    let start = greedy(p, weights, size)?;
    let mut search = Search { p, weights, size: size.min(p.nrows()), incumbent: start, nodes: 0, most_nodes };
    let mut chosen = Vec::with_capacity(search.size);
    search.visit(&mut chosen, 0.0, &vec![0.0; p.ncols()], &(0..p.nrows()).collect::<Vec<_>>());
    let mut found = search.incumbent;
    found.members.sort_unstable();
    Ok(Subset { nodes: search.nodes, proven: search.nodes < most_nodes, ..found })
}

struct Search<'a> {
    p: ArrayView2<'a, f64>,
    weights: &'a [f64],
    size: usize,
    incumbent: Subset,
    nodes: usize,
    most_nodes: usize,
}

impl Search<'_> {
    fn visit(&mut self, chosen: &mut Vec<usize>, value: f64, best: &[f64], candidates: &[usize]) {
        self.nodes += 1;
        if value > self.incumbent.value * (1.0 + 1e-14) {
            self.incumbent.members = chosen.clone();
            self.incumbent.value = value;
        }
        let places = self.size - chosen.len();
        if places == 0 || self.nodes >= self.most_nodes {
            return;
        }
        let mut gains: Vec<(usize, f64)> =
            candidates.iter().map(|&i| (i, gain(best, self.p, self.weights, i))).collect();
        gains.sort_by(|a, b| b.1.total_cmp(&a.1));
        let order: Vec<usize> = gains.iter().map(|g| g.0).collect();
        for (rank, &(i, own)) in gains.iter().enumerate() {
            // Sets through i and those after it in this order; the ones before were tried already.
            let bound: f64 = value + gains[rank..].iter().take(places).map(|g| g.1).sum::<f64>();
            if bound <= self.incumbent.value * (1.0 + 1e-14) {
                break;
            }
            chosen.push(i);
            let next = raised(best, self.p, i);
            self.visit(chosen, value + own, &next, &order[rank + 1..]);
            chosen.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_places_than_alternatives_and_impossible_rates() {
        let p = ndarray::array![[0.1, 0.0], [0.0, 0.2]];
        let all = best(p.view(), &[0.5, 0.5], 9).unwrap();
        assert_eq!((all.members, all.proven), (vec![0, 1], true));
        assert!(best(p.view(), &[0.5], 1).is_err() && best(p.view(), &[0.5, -0.5], 1).is_err());
        assert!(greedy(p.view(), &[0.5, 0.5], 0).is_err());
    }
}
