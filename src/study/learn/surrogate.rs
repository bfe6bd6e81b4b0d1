//! Where in the space of unknowns a log has its say: a linear picture of ln p, used only to place draws.
//!
//! Of a hundred unknowns a log informs a few combinations. They are found as the main directions of
//! `sum_c I_c b_c b_c'`, b_c being the regression of ln p of cell c on the standard scores and I_c the strikes that
//! speak about it (a likelihood-informed subspace; Cui et al. 2014, Inverse Problems 30:114015, from memory). Across
//! these directions draws are left as they are. Whatever is wrong with the picture costs draws, not truth: weights
//! are worked out with the model itself.

use super::counts::Counts;
use super::matrix::{cholesky, eigen, inverse, solve};
use crate::maths::{exp, ln};
use crate::models::Parameter;
use ndarray::Array2;

/// Most directions that draws are shaped in.
const MOST_DIRECTIONS: usize = 8;
/// Most unknowns in the regression, those that go most with ln p.
const MOST_PREDICTORS: usize = 60;
/// Correlations below this many standard errors are taken for chance.
const STANDARD_ERRORS: f64 = 3.5;
/// Directions in which the log holds less than this share of the prior's own information are left alone.
const LEAST_INFORMATION: f64 = 0.2;
/// Strikes under this share of the cell's median are held there, so that worlds without any do not bend the line.
const FLOOR: f64 = 0.02;

/// The two unknowns that turn passes into casts and tell days apart; they need no simulation.
#[derive(Debug, Clone, Copy)]
pub struct Pair<'a> {
    /// Passes near such a fish per cast.
    pub per_cast: &'a Parameter,
    /// Standard deviation of ln of the days' factor.
    pub day_spread: &'a Parameter,
}

/// A linear picture of ln p along a few directions.
#[derive(Debug, Clone, PartialEq)]
pub struct Surrogate {
    /// Unit directions, one column each.
    pub basis: Array2<f64>,
    level: Vec<f64>,
    slopes: Vec<Vec<f64>>,
}

/// The most likely place and the spread around it.
#[derive(Debug, Clone, PartialEq)]
pub struct Peak {
    /// Along the directions.
    pub mean: Vec<f64>,
    /// Covariance along the directions.
    pub covariance: Array2<f64>,
    /// Standard score of the day's spread: middle and standard deviation.
    pub day: (f64, f64),
}

impl Surrogate {
    /// Fits ln p (one list of cells per world) on the worlds' scores, each world counting by its weight; the weights
    /// add up to 1.
    pub fn fit(scores: &[Vec<f64>], p: &[Vec<f64>], weights: &[f64], counts: &Counts) -> Self {
        let cells = counts.cells;
        let logs: Vec<Vec<f64>> = (0..cells).map(|c| held_logs(p, c)).collect();
        let information = information(counts);
        let predictors = predictors(scores, &logs, weights, &information);
        let centre: Vec<f64> =
            predictors.iter().map(|&j| scores.iter().zip(weights).map(|(z, w)| w * z[j]).sum()).collect();
        let slopes = regress(scores, &logs, weights, (&predictors, &centre));
        // The line's height at the middle of the plain draws.
        let level: Vec<f64> = logs
            .iter()
            .zip(&slopes)
            .map(|(l, b)| mean(l, weights) - b.iter().zip(&centre).map(|(b, c)| b * c).sum::<f64>())
            .collect();
        let main = directions(&slopes, &information);
        let d = scores.first().map_or(0, Vec::len);
        let mut basis = Array2::zeros((d, main.ncols()));
        for (row, &j) in predictors.iter().enumerate() {
            for k in 0..main.ncols() {
                basis[(j, k)] = main[(row, k)];
            }
        }
        let along = |b: &Vec<f64>| -> Vec<f64> {
            (0..main.ncols()).map(|k| b.iter().enumerate().map(|(i, v)| v * main[(i, k)]).sum()).collect()
        };
        Self { basis, level, slopes: slopes.iter().map(along).collect() }
    }

    /// Number of directions.
    pub fn directions(&self) -> usize {
        self.basis.ncols()
    }

    /// ln of prior times likelihood, up to a constant: directions, then the scores of the pair.
    fn height(&self, x: &[f64], counts: &Counts, pair: Pair) -> f64 {
        let r = self.directions();
        let a = pair.per_cast.from_normal(x[r]);
        let rates: Vec<f64> = self
            .level
            .iter()
            .zip(&self.slopes)
            .map(|(l, b)| a * exp((l + b.iter().zip(x).map(|(b, s)| b * s).sum::<f64>()).min(0.0)))
            .collect();
        let prior: f64 = x.iter().map(|v| 0.5 * v * v).sum();
        counts.ln_likelihood(&rates, pair.day_spread.from_normal(x[r + 1])) - prior
    }

    /// The peak of prior times likelihood by Newton's method with differences, and the spread from its curvature.
    pub fn peak(&self, counts: &Counts, pair: Pair) -> Peak {
        let n = self.directions() + 2;
        let f = |x: &[f64]| self.height(x, counts, pair);
        let mut x = vec![0.0; n];
        let mut here = f(&x);
        for _ in 0..NEWTON_STEPS {
            let (gradient, curvature) = derivatives(&f, &x, here);
            let step = solve(&definite(curvature), &gradient);
            let Some((next, value)) = climb(&f, &x, &step, here) else { break };
            let gain = value - here;
            (x, here) = (next, value);
            if gain < 1e-4 {
                break;
            }
        }
        let (_, curvature) = derivatives(&f, &x, here);
        let covariance = inverse(&definite(curvature));
        let r = self.directions();
        Peak {
            mean: x[..r].to_vec(),
            covariance: Array2::from_shape_fn((r, r), |ij| covariance[ij]),
            day: (x[r + 1], covariance[(r + 1, r + 1)].sqrt()),
        }
    }
}

const NEWTON_STEPS: usize = 20;
/// Step of the differences, in standard scores: small against 1, large against roundings.
const DIFFERENCE: f64 = 0.02;

/// Gradient and minus the second derivatives.
fn derivatives(f: &impl Fn(&[f64]) -> f64, x: &[f64], here: f64) -> (Vec<f64>, Array2<f64>) {
    let n = x.len();
    let at = |moves: &[(usize, f64)]| {
        let mut y = x.to_vec();
        moves.iter().for_each(|&(i, h)| y[i] += h);
        f(&y)
    };
    let h = DIFFERENCE;
    let up: Vec<f64> = (0..n).map(|i| at(&[(i, h)])).collect();
    let down: Vec<f64> = (0..n).map(|i| at(&[(i, -h)])).collect();
    let gradient = (0..n).map(|i| (up[i] - down[i]) / (2.0 * h)).collect();
    let mut curvature = Array2::zeros((n, n));
    for i in 0..n {
        curvature[(i, i)] = (2.0 * here - up[i] - down[i]) / (h * h);
        for j in 0..i {
            let both = at(&[(i, h), (j, h)]) + here - up[i] - up[j];
            curvature[(i, j)] = -both / (h * h);
            curvature[(j, i)] = curvature[(i, j)];
        }
    }
    (gradient, curvature)
}

/// The factor of a matrix, lifted on its diagonal until it has one.
fn definite(mut a: Array2<f64>) -> Array2<f64> {
    a.mapv_inplace(|v| if v.is_finite() { v } else { 0.0 });
    // Prior information is 1 in every direction; lifts much above that end in it alone.
    let mut lift = 1e-9;
    for _ in 0..24 {
        let lifted = &a + &(Array2::<f64>::eye(a.nrows()) * lift);
        if let Some(l) = cholesky(&lifted) {
            return l;
        }
        lift *= 10.0;
    }
    Array2::eye(a.nrows())
}

/// A point further up along a step, halved until it is; none where there is none.
fn climb(f: &impl Fn(&[f64]) -> f64, x: &[f64], step: &[f64], here: f64) -> Option<(Vec<f64>, f64)> {
    let mut share = 1.0;
    for _ in 0..12 {
        let next: Vec<f64> = x.iter().zip(step).map(|(x, s)| (x + share * s).clamp(-6.0, 6.0)).collect();
        let value = f(&next);
        if value > here {
            return Some((next, value));
        }
        share *= 0.5;
    }
    None
}

fn mean(values: &[f64], weights: &[f64]) -> f64 {
    values.iter().zip(weights).map(|(v, w)| v * w).sum()
}

fn held_logs(p: &[Vec<f64>], cell: usize) -> Vec<f64> {
    let mut column: Vec<f64> = p.iter().map(|world| world[cell]).collect();
    let mut order = column.clone();
    order.sort_by(f64::total_cmp);
    let floor = (FLOOR * order.get(order.len() / 2).copied().unwrap_or(0.0)).max(1e-9);
    column.iter_mut().for_each(|v| *v = ln(v.max(floor)));
    column
}

/// Strikes that speak about each cell: its casts at the log's own rate, a strike more or less in all.
fn information(counts: &Counts) -> Vec<f64> {
    let rate = (counts.strikes() + 1.0) / (counts.casts() + 1.0);
    counts.by_cell().iter().map(|(casts, _)| casts * rate).collect()
}

/// The unknowns that go with ln p of some cell the log tells about, strongest first.
fn predictors(scores: &[Vec<f64>], logs: &[Vec<f64>], weights: &[f64], information: &[f64]) -> Vec<usize> {
    let d = scores.first().map_or(0, Vec::len);
    let floor = STANDARD_ERRORS / crate::statistics::psis::effective_size(weights).max(1.0).sqrt();
    let columns: Vec<Vec<f64>> =
        (0..d).map(|j| standard(scores.iter().map(|z| z[j]).collect(), weights)).collect();
    let told: Vec<Vec<f64>> = logs
        .iter()
        .zip(information)
        .filter(|(_, i)| **i > 0.0)
        .map(|(l, _)| standard(l.clone(), weights))
        .collect();
    let strength = |j: usize| {
        let with = |l: &Vec<f64>| columns[j].iter().zip(l).map(|(x, y)| x * y).sum::<f64>().abs();
        told.iter().map(with).fold(0.0, f64::max)
    };
    let mut found: Vec<(usize, f64)> = (0..d).map(|j| (j, strength(j))).filter(|f| f.1 > floor).collect();
    found.sort_by(|a, b| b.1.total_cmp(&a.1));
    found.into_iter().take(MOST_PREDICTORS).map(|f| f.0).collect()
}

/// Less its mean, over its standard deviation, times the root of the weight, so that products add up to a correlation;
/// zeros where it does not vary.
fn standard(mut values: Vec<f64>, weights: &[f64]) -> Vec<f64> {
    let centre = mean(&values, weights);
    values.iter_mut().for_each(|v| *v -= centre);
    let spread = values.iter().zip(weights).map(|(v, w)| w * v * v).sum::<f64>().sqrt();
    let scaled = |(v, w): (&mut f64, &f64)| *v = if spread > 1e-9 { *v / spread * w.sqrt() } else { 0.0 };
    values.iter_mut().zip(weights).for_each(scaled);
    values
}

/// Weighted least squares of each cell's ln p on the chosen scores, less their centres; drawn a little towards no
/// slope, as by one more world.
fn regress(
    scores: &[Vec<f64>],
    logs: &[Vec<f64>],
    weights: &[f64],
    (chosen, centre): (&[usize], &[f64]),
) -> Vec<Vec<f64>> {
    let k = chosen.len();
    let own: Vec<Vec<f64>> =
        scores.iter().map(|z| chosen.iter().zip(centre).map(|(&j, c)| z[j] - c).collect()).collect();
    let mut normal = Array2::<f64>::eye(k) / crate::statistics::psis::effective_size(weights).max(1.0);
    for (z, w) in own.iter().zip(weights) {
        for a in 0..k {
            for b in 0..=a {
                normal[(a, b)] += w * z[a] * z[b];
            }
        }
    }
    for a in 0..k {
        for b in a + 1..k {
            normal[(a, b)] = normal[(b, a)];
        }
    }
    let factor = definite(normal);
    let one = |l: &Vec<f64>| {
        let level = mean(l, weights);
        let mut right = vec![0.0; k];
        for ((z, y), w) in own.iter().zip(l).zip(weights) {
            right.iter_mut().zip(z).for_each(|(r, z)| *r += w * z * (y - level));
        }
        solve(&factor, &right)
    };
    logs.iter().map(one).collect()
}

/// Main directions of what the cells say, among the chosen scores; the level common to all cells counts for as much
/// as passes per cast, which move it too, leave to be learnt.
fn directions(slopes: &[Vec<f64>], information: &[f64]) -> Array2<f64> {
    /// Standard deviation of ln of passes per cast that is taken for granted here; only placing rests on it.
    const LEVEL_SPREAD: f64 = 1.4;
    let k = slopes.first().map_or(0, Vec::len);
    let total: f64 = information.iter().sum();
    if k == 0 || total <= 0.0 {
        return Array2::zeros((k, 0));
    }
    let mut common = vec![0.0; k];
    for (b, i) in slopes.iter().zip(information) {
        common.iter_mut().zip(b).for_each(|(c, b)| *c += i * b / total);
    }
    let mut sum = Array2::zeros((k, k));
    let mut add = |b: &[f64], weight: f64| {
        for i in 0..k {
            for j in 0..k {
                sum[(i, j)] += weight * b[i] * b[j];
            }
        }
    };
    for (b, i) in slopes.iter().zip(information) {
        let own: Vec<f64> = b.iter().zip(&common).map(|(b, c)| b - c).collect();
        add(&own, *i);
    }
    add(&common, 1.0 / (LEVEL_SPREAD * LEVEL_SPREAD + 1.0 / total));
    let (values, vectors) = eigen(&sum);
    let keep = values.iter().take(MOST_DIRECTIONS).filter(|v| **v > LEAST_INFORMATION).count();
    Array2::from_shape_fn((k, keep), |ij| vectors[ij])
}
