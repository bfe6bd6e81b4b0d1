//! Which unknowns the spread of an answer goes with: rank correlations over the world draws.

use crate::models::{Grade, Models, Spread};
use serde::Serialize;

/// One unknown and how strongly the answer goes with it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Driver {
    /// Parameter name.
    pub name: String,
    /// What it means.
    #[serde(skip)]
    pub means: String,
    /// How well it is known.
    pub grade: Grade,
    /// Spearman's rank correlation with the answer.
    #[serde(rename = "rank_correlation")]
    pub correlation: f64,
}

/// How many are named.
const NAMED: usize = 3;
/// Correlations below this many standard errors (1/sqrt(n - 1)) are not told from chance.
const STANDARD_ERRORS: f64 = 3.0;

/// The parameters whose draws go most with `values`, strongest first: a screen, not an analysis of variance.
///
/// Only those that chance would hardly give among a hundred parameters are named.
pub fn drivers(models: &Models, draws: &[Vec<f64>], values: &[f64]) -> Vec<Driver> {
    if values.len() < 8 {
        return Vec::new();
    }
    let answer = ranks(values);
    let floor = STANDARD_ERRORS / ((values.len() - 1) as f64).sqrt();
    let mut all: Vec<Driver> = models
        .parameters
        .iter()
        .enumerate()
        .filter(|(_, p)| p.spread != Spread::Fixed && !p.alternative)
        .map(|(i, p)| {
            let column: Vec<f64> = draws.iter().map(|d| d.get(i).copied().unwrap_or(0.0)).collect();
            Driver {
                name: p.name.clone(),
                means: p.means.clone(),
                grade: p.grade,
                correlation: correlation(&ranks(&column), &answer),
            }
        })
        .filter(|d| d.correlation.abs() > floor)
        .collect();
    all.sort_by(|a, b| b.correlation.abs().total_cmp(&a.correlation.abs()));
    all.truncate(NAMED);
    all
}

/// Ranks from 0, ties sharing their mean rank.
fn ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|&a, &b| values[a].total_cmp(&values[b]));
    let mut ranks = vec![0.0; values.len()];
    let mut start = 0;
    while start < order.len() {
        let tied = order[start..].iter().take_while(|&&i| values[i] == values[order[start]]).count();
        for &i in &order[start..start + tied] {
            ranks[i] = start as f64 + 0.5 * (tied - 1) as f64;
        }
        start += tied;
    }
    ranks
}

/// Pearson's correlation; 0 where one side does not vary.
fn correlation(a: &[f64], b: &[f64]) -> f64 {
    let n = a.len() as f64;
    let (ma, mb) = (a.iter().sum::<f64>() / n, b.iter().sum::<f64>() / n);
    let mut sums = [0.0; 3];
    for (x, y) in a.iter().zip(b) {
        sums[0] += (x - ma) * (y - mb);
        sums[1] += (x - ma) * (x - ma);
        sums[2] += (y - mb) * (y - mb);
    }
    if sums[1] * sums[2] > 0.0 { sums[0] / (sums[1] * sums[2]).sqrt() } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::models::Worlds;

    #[test]
    fn the_parameter_that_makes_the_answer_is_named_first() {
        let models = Models::embedded().expect("embedded");
        let draws: Vec<Vec<f64>> =
            Worlds::drawn(&models, 3, 256).expect("complete").draws.into_iter().map(|d| d.values).collect();
        let i = models.index("refuse.hazard").expect("known");
        let answer: Vec<f64> = draws.iter().map(|d| -d[i].sqrt()).collect();
        let named = drivers(&models, &draws, &answer);
        assert_eq!(named[0].name, "refuse.hazard");
        assert!((named[0].correlation + 1.0).abs() < 1e-12);
    }

    #[test]
    fn ties_share_a_rank_and_constants_do_not_correlate() {
        assert_eq!(ranks(&[2.0, 1.0, 2.0]), vec![1.5, 0.0, 1.5]);
        assert_eq!(correlation(&[1.0, 1.0], &[0.0, 1.0]), 0.0);
    }
}
