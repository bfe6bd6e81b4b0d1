//! Small symmetric matrices: triangular factor, linear equations, eigenvectors.

use ndarray::Array2;

/// The lower triangular L with L L' = A; `None` where A is not positive definite.
pub fn cholesky(a: &Array2<f64>) -> Option<Array2<f64>> {
    let n = a.nrows();
    let mut l = Array2::zeros((n, n));
    for i in 0..n {
        for j in 0..=i {
            let dot: f64 = (0..j).map(|k| l[(i, k)] * l[(j, k)]).sum();
            let rest = a[(i, j)] - dot;
            if i == j {
                if !(rest > 0.0 && rest.is_finite()) {
                    return None;
                }
                l[(i, i)] = rest.sqrt();
            } else {
                l[(i, j)] = rest / l[(j, j)];
            }
        }
    }
    Some(l)
}

/// The x with L x = b.
pub fn forward(l: &Array2<f64>, b: &[f64]) -> Vec<f64> {
    let mut x = b.to_vec();
    for i in 0..x.len() {
        let dot: f64 = (0..i).map(|k| l[(i, k)] * x[k]).sum();
        x[i] = (x[i] - dot) / l[(i, i)];
    }
    x
}

/// The x with L L' x = b.
pub fn solve(l: &Array2<f64>, b: &[f64]) -> Vec<f64> {
    let mut x = forward(l, b);
    for i in (0..x.len()).rev() {
        let dot: f64 = (i + 1..x.len()).map(|k| l[(k, i)] * x[k]).sum();
        x[i] = (x[i] - dot) / l[(i, i)];
    }
    x
}

/// The inverse of A = L L'.
pub fn inverse(l: &Array2<f64>) -> Array2<f64> {
    let n = l.nrows();
    let mut all = Array2::zeros((n, n));
    for j in 0..n {
        let unit: Vec<f64> = (0..n).map(|i| if i == j { 1.0 } else { 0.0 }).collect();
        solve(l, &unit).into_iter().enumerate().for_each(|(i, v)| all[(i, j)] = v);
    }
    all
}

const MOST_ROTATIONS: usize = 60;

/// Eigenvalues, largest first, and their unit eigenvectors (columns) of a symmetric matrix, by Jacobi's rotations
/// (Golub & Van Loan, Matrix Computations, from memory).
pub fn eigen(a: &Array2<f64>) -> (Vec<f64>, Array2<f64>) {
    let n = a.nrows();
    let mut a = a.clone();
    let mut vectors = Array2::eye(n);
    for _ in 0..MOST_ROTATIONS {
        let off: f64 = (0..n).flat_map(|i| (0..i).map(move |j| (i, j))).map(|ij| a[ij] * a[ij]).sum();
        let on: f64 = (0..n).map(|i| a[(i, i)] * a[(i, i)]).sum();
        if off <= 1e-24 * on.max(f64::MIN_POSITIVE) {
            break;
        }
        for p in 0..n {
            for q in p + 1..n {
                rotate(&mut a, &mut vectors, p, q);
            }
        }
    }
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&i, &j| a[(j, j)].total_cmp(&a[(i, i)]));
    let values = order.iter().map(|&i| a[(i, i)]).collect();
    (values, Array2::from_shape_fn((n, n), |(i, j)| vectors[(i, order[j])]))
}

fn rotate(a: &mut Array2<f64>, vectors: &mut Array2<f64>, p: usize, q: usize) {
    if a[(p, q)] == 0.0 {
        return;
    }
    let n = a.nrows();
    let theta = (a[(q, q)] - a[(p, p)]) / (2.0 * a[(p, q)]);
    let t = theta.signum() / (theta.abs() + (theta * theta + 1.0).sqrt());
    let t = if theta == 0.0 { 1.0 } else { t };
    let c = 1.0 / (t * t + 1.0).sqrt();
    let s = t * c;
    for k in 0..n {
        let (x, y) = (a[(k, p)], a[(k, q)]);
        (a[(k, p)], a[(k, q)]) = (c * x - s * y, s * x + c * y);
    }
    for k in 0..n {
        let (x, y) = (a[(p, k)], a[(q, k)]);
        (a[(p, k)], a[(q, k)]) = (c * x - s * y, s * x + c * y);
        let (x, y) = (vectors[(k, p)], vectors[(k, q)]);
        (vectors[(k, p)], vectors[(k, q)]) = (c * x - s * y, s * x + c * y);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ndarray::array;

    #[test]
    fn factor_inverse_and_eigenvectors_give_the_matrix_back() {
        let a = array![[4.0, 1.0, 0.5], [1.0, 3.0, -0.7], [0.5, -0.7, 2.0]];
        let l = cholesky(&a).unwrap();
        let unit = a.dot(&inverse(&l));
        let (values, vectors) = eigen(&a);
        let back = vectors.dot(&Array2::from_diag(&ndarray::Array1::from(values.clone()))).dot(&vectors.t());
        for i in 0..3 {
            for j in 0..3 {
                let want = if i == j { 1.0 } else { 0.0 };
                // Roundings of well conditioned 3 x 3 matrices.
                assert!((unit[(i, j)] - want).abs() < 1e-13 && (back[(i, j)] - a[(i, j)]).abs() < 1e-12);
            }
        }
        assert!(values[0] > values[1] && values[1] > values[2]);
        assert!(cholesky(&array![[1.0, 2.0], [2.0, 1.0]]).is_none());
    }
}
