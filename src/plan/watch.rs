//! How far a long piece of planning has come, for whoever waits.

use std::sync::atomic::{AtomicUsize, Ordering};

/// Counts what is done of what there is to do. It says nothing of the plan itself.
#[derive(Debug, Default)]
pub struct Watch {
    done: AtomicUsize,
    of: AtomicUsize,
}

impl Watch {
    /// Domes and ways tried that are done, and how many there are so far as is known.
    #[must_use]
    pub fn so_far(&self) -> (usize, usize) {
        let count = |of: &AtomicUsize| of.load(Ordering::Relaxed);
        (count(&self.done), count(&self.of))
    }

    /// So much more is to be done.
    pub(super) fn expect(&self, more: usize) {
        self.of.fetch_add(more, Ordering::Relaxed);
    }

    /// One more is done.
    pub(super) fn tick(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }
}
