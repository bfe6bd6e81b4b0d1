//! The order in which cells are worked out: a coarse grid first, then ever finer ones, so that a sweep that is
//! stopped has looked everywhere.

/// Level of each place of a row of `n` when it is halved again and again: 0 for the ends, 1 for the middle ...
fn levels(n: usize) -> Vec<u32> {
    let mut level = vec![0; n];
    let mut open = vec![(0, n.saturating_sub(1), 1)];
    while let Some((low, high, depth)) = open.pop() {
        if high - low < 2 {
            continue;
        }
        let middle = low + (high - low) / 2;
        level[middle] = depth;
        open.push((low, middle, depth + 1));
        open.push((middle, high, depth + 1));
    }
    level
}

/// Van der Corput's sequence in base two: the bits of `i` mirrored at the binary point, so that neighbours in the
/// order lie far apart (van der Corput 1935, from memory).
fn radical_inverse(i: usize) -> u64 {
    (i as u64).reverse_bits()
}

/// The cells of a grid of one or two sides (row by row, the first side within a row), coarse grid first.
///
/// ```
/// use callup::study::sweep::order::interleaved;
/// // Five in a row: the ends, the middle, then what lies between.
/// assert_eq!(interleaved(&[5]), vec![0, 4, 2, 1, 3]);
/// // The corners come first.
/// assert_eq!(interleaved(&[3, 3])[..4], [0, 6, 2, 8]);
/// ```
pub fn interleaved(shape: &[usize]) -> Vec<usize> {
    let (nx, ny) = (shape.first().copied().unwrap_or(0), shape.get(1).copied().unwrap_or(1));
    let (x, y) = (levels(nx), levels(ny));
    let deepest = x.iter().chain(&y).copied().max().unwrap_or(0);
    let mut order = Vec::with_capacity(nx * ny);
    for level in 0..=deepest {
        let mut here: Vec<usize> = (0..nx * ny).filter(|&c| x[c % nx].max(y[c / nx]) == level).collect();
        let mut mixed: Vec<usize> = (0..here.len()).collect();
        let bits = usize::BITS - here.len().saturating_sub(1).leading_zeros();
        mixed.sort_by_key(|&i| radical_inverse(i) >> (64 - bits.max(1)));
        here = mixed.into_iter().map(|i| here[i]).collect();
        order.append(&mut here);
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cell_comes_once() {
        for shape in [vec![1], vec![2], vec![7], vec![200], vec![40, 30], vec![3, 200], vec![0]] {
            let mut order = interleaved(&shape);
            order.sort_unstable();
            assert_eq!(order, (0..shape.iter().product()).collect::<Vec<_>>(), "{shape:?}");
        }
    }

    /// After a tenth of the cells no cell of a 40 by 30 grid is further than three columns and rows from one done.
    #[test]
    fn a_tenth_of_the_cells_lies_everywhere() {
        let (nx, ny) = (40usize, 30usize);
        let done: Vec<usize> = interleaved(&[nx, ny])[..nx * ny / 10].to_vec();
        for cell in 0..nx * ny {
            let near =
                done.iter().any(|d| (d % nx).abs_diff(cell % nx) <= 3 && (d / nx).abs_diff(cell / nx) <= 3);
            assert!(near, "{cell}");
        }
    }
}
