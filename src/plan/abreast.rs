//! Work that does not depend on its order, on all of the machine's cores.

use std::iter;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// How many cores the machine gives.
pub(crate) fn cores() -> usize {
    rayon::current_num_threads()
}

/// Does the work for every item, whichever core comes to it first. Each core
/// keeps what it finds in one `S` of its own; these are handed back, as many as
/// there were cores.
///
/// # Panics
/// Where the work does.
pub(crate) fn on_all_cores<T: Sync, S: Default + Send>(
    items: &[T],
    work: impl Fn(&mut S, usize, &T) + Sync,
) -> Vec<S> {
    let next = AtomicUsize::new(0);
    let all = Mutex::new(Vec::new());
    let one = || {
        let mut found = S::default();
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(number) else {
                break;
            };
            work(&mut found, number, item);
        }
        held(&all).push(found);
    };
    rayon::in_place_scope(|scope| {
        for _ in 1..cores().min(items.len()) {
            scope.spawn(|_| one());
        }
        one();
    });
    all.into_inner().unwrap_or_else(PoisonError::into_inner)
}

/// Does the work for every item on the other cores while something else is done on this one,
/// which then helps with what is left. What is found comes in any order.
///
/// # Panics
/// Where the work does.
pub(crate) fn beside<T: Send, S: Send, R>(
    items: Vec<T>,
    work: impl Fn(T) -> S + Sync,
    meanwhile: impl FnOnce() -> R,
) -> (R, Vec<S>) {
    let others = (cores() - 1).min(items.len());
    let items = Mutex::new(items.into_iter());
    let found = Mutex::new(Vec::new());
    let next = || held(&items).next();
    let some = || {
        for item in iter::from_fn(next) {
            let done = work(item);
            held(&found).push(done);
        }
    };
    let done = rayon::in_place_scope(|scope| {
        for _ in 0..others {
            scope.spawn(|_| some());
        }
        let done = meanwhile();
        some();
        done
    });
    (
        done,
        found.into_inner().unwrap_or_else(PoisonError::into_inner),
    )
}

/// What is locked, whoever panicked with it: the panic goes on by itself.
fn held<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::{beside, on_all_cores};

    #[test]
    fn every_item_is_done_beside_something_else() {
        for count in [0, 1, 2, 1000] {
            let items: Vec<usize> = (0..count).collect();
            let (done, mut found) = beside(items.clone(), |item| 7 * item, || count + 1);
            found.sort_unstable();
            assert_eq!(done, count + 1);
            assert_eq!(found, items.iter().map(|item| 7 * item).collect::<Vec<_>>());
        }
    }

    #[test]
    fn every_item_is_done_once() {
        for count in [0, 1, 2, 1000] {
            let items: Vec<usize> = (0..count).map(|i| 7 * i).collect();
            let parts = on_all_cores(&items, |found: &mut Vec<(usize, usize)>, number, item| {
                found.push((number, *item));
            });
            let mut all: Vec<(usize, usize)> = parts.into_iter().flatten().collect();
            all.sort_unstable();
            assert_eq!(all, items.iter().copied().enumerate().collect::<Vec<_>>());
        }
    }
}
