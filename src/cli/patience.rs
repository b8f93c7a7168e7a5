//! Showing that something goes on, to whoever sits at a terminal and waits.

use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

use crate::plan::Watch;

/// After so long a bar shows how far it has come.
const PATIENCE: Duration = Duration::from_secs(1);
/// And so often it moves.
const BETWEEN: Duration = Duration::from_millis(100);

/// Does the work; where that takes a while, a bar tells what goes on and how far it is, if anybody
/// is there to see it.
pub(super) fn watched<T>((what, watch): (&'static str, &Watch), work: impl FnOnce() -> T) -> T {
    let (done, wait) = mpsc::channel::<()>();
    thread::scope(|scope| {
        scope.spawn(move || {
            let done_within = |time| wait.recv_timeout(time) != Err(RecvTimeoutError::Timeout);
            if done_within(PATIENCE) {
                return;
            }
            let bar = bar(what);
            while !done_within(BETWEEN) {
                show(&bar, watch);
            }
            bar.finish_and_clear();
        });
        let result = work();
        drop(done);
        result
    })
}

fn bar(what: &'static str) -> ProgressBar {
    let bar = ProgressBar::new(0).with_message(what);
    match ProgressStyle::with_template("{msg} [{bar:30}] {pos} of {len}") {
        Ok(style) => bar.with_style(style),
        Err(_) => bar, // indicatif's own look tells as much
    }
}

/// More work may be found on the way, so the end may move.
fn show(bar: &ProgressBar, watch: &Watch) {
    let (done, of) = watch.so_far();
    bar.set_length(of as u64);
    bar.set_position(done as u64);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_stands_where_the_work_does_and_its_end_may_move() {
        let (bar, watch) = (bar("drawing"), Watch::default());
        for (found, done) in [(4, 1), (6, 3)] {
            watch.expect(found);
            (0..done).for_each(|_| watch.tick());
            show(&bar, &watch);
        }
        assert_eq!((bar.position(), bar.length()), (4, Some(10)));
        assert_eq!(bar.message(), "drawing");
    }
}
