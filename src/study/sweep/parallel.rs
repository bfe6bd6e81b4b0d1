//! The same work for many numbers, on all threads where there are several, in order.

#[cfg(feature = "parallel")]
pub(in crate::study) fn each<T: Send>(count: usize, one: impl Fn(usize) -> T + Sync + Send) -> Vec<T> {
    use rayon::prelude::*;
    (0..count).into_par_iter().map(one).collect()
}

#[cfg(not(feature = "parallel"))]
pub(in crate::study) fn each<T>(count: usize, one: impl Fn(usize) -> T) -> Vec<T> {
    (0..count).map(one).collect()
}
