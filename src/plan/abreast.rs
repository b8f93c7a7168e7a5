//! Work that does not depend on its order, on all of the machine's cores.

use std::iter;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

/// How many cores the machine gives.
pub(crate) fn cores() -> usize {
    thread::available_parallelism().map_or(1, NonZero::get)
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
    let one = || {
        let mut found = S::default();
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(number) else {
                return found;
            };
            work(&mut found, number, item);
        }
    };
    thread::scope(|scope| {
        let others: Vec<_> = (1..cores().min(items.len()))
            .map(|_| scope.spawn(one))
            .collect();
        let mut all = vec![one()];
        for other in others {
            all.push(other.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        all
    })
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
    let next = || {
        let mut items = items.lock().unwrap_or_else(PoisonError::into_inner);
        items.next()
    };
    let some = || iter::from_fn(next).map(&work).collect::<Vec<S>>();
    thread::scope(|scope| {
        let others: Vec<_> = (0..others).map(|_| scope.spawn(some)).collect();
        let done = meanwhile();
        let mut found = some();
        for other in others {
            found.extend(other.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        (done, found)
    })
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
