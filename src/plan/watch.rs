//! How far a long piece of planning has come, for whoever waits.

use std::sync::atomic::{AtomicUsize, Ordering};

/// Counts what is done of what there is to do. It says nothing of the plan itself.
#[derive(Debug, Default)]
pub struct Watch {
    done: AtomicUsize,
    of: AtomicUsize,
}

impl Watch {
    /// How much is done, and how much there is to do so far as is known: domes and ways tried of a
    /// plan, files of what is saved.
    #[must_use]
    pub fn so_far(&self) -> (usize, usize) {
        let count = |of: &AtomicUsize| of.load(Ordering::Relaxed);
        (count(&self.done), count(&self.of))
    }

    /// So much more is to be done.
    pub(crate) fn expect(&self, more: usize) {
        self.of.fetch_add(more, Ordering::Relaxed);
    }

    /// One more is done.
    pub(crate) fn tick(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }
}
