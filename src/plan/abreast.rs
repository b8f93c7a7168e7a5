//! Work that does not depend on its order, on all of the machine's cores.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

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
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
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
        let others: Vec<_> = (1..cores.min(items.len()))
            .map(|_| scope.spawn(one))
            .collect();
        let mut all = vec![one()];
        for other in others {
            all.push(
                other
                    .join()
                    .unwrap_or_else(|panic| std::panic::resume_unwind(panic)),
            );
        }
        all
    })
}

#[cfg(test)]
mod tests {
    use super::on_all_cores;

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
