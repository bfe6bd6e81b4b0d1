//! What a long computation tells and hears, and the same work on all threads.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Asks a computation to stop, and counts how far it is.
#[derive(Debug, Default)]
pub struct Control {
    stop: AtomicBool,
    done: AtomicUsize,
}

impl Control {
    /// Asks the computation to end early.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }
    /// Whether it was asked to.
    pub fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
    /// Tells of steps finished.
    pub fn advance(&self, steps: usize) {
        self.done.fetch_add(steps, Ordering::Relaxed);
    }
    /// Steps finished; most work counts its worlds.
    pub fn done(&self) -> usize {
        self.done.load(Ordering::Relaxed)
    }
}

/// The same work for many numbers, on all threads where there are several; results in order, the same bits for any
/// number of threads.
#[cfg(feature = "parallel")]
pub fn each<T: Send>(count: usize, one: impl Fn(usize) -> T + Sync + Send) -> Vec<T> {
    use rayon::prelude::*;
    (0..count).into_par_iter().map(one).collect()
}

/// The same work for many numbers; results in order.
#[cfg(not(feature = "parallel"))]
pub fn each<T>(count: usize, one: impl Fn(usize) -> T) -> Vec<T> {
    (0..count).map(one).collect()
}
