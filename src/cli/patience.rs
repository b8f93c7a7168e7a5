//! Showing that something goes on, to whoever sits at a terminal and waits.

use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use indicatif::ProgressBar;

/// After so long a bar shows how far it has come.
const PATIENCE: Duration = Duration::from_secs(1);
/// And so often it moves.
const BETWEEN: Duration = Duration::from_millis(100);

/// Does the work; where that takes a while, a bar tells how far it is, if anybody is there to
/// see it.
pub(super) fn watched<T>(how_far: impl Fn() -> String + Sync, work: impl FnOnce() -> T) -> T {
    let (done, wait) = mpsc::channel::<()>();
    thread::scope(|scope| {
        let how_far = &how_far;
        scope.spawn(move || {
            let done_within = |time| wait.recv_timeout(time) != Err(RecvTimeoutError::Timeout);
            if done_within(PATIENCE) {
                return;
            }
            let bar = ProgressBar::new_spinner();
            while !done_within(BETWEEN) {
                bar.set_message(how_far());
                bar.tick();
            }
            bar.finish_and_clear();
        });
        let result = work();
        drop(done);
        result
    })
}
