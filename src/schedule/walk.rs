//! Orders of sittings, tried together for as long as they begin alike.
//!
//! They stand in a tree: orders that begin with the same waves share a branch, and what is put
//! for one of them is put for all. Where a sitting is too late, so is every order on its branch.

use super::deadlines::Deadlines;
use super::line::{EFFORT, Line};
use super::prepared::{Flat, Prepared};

/// Orders that have begun alike.
pub(super) trait Branch: Sized {
    /// Which wave comes next on it, or which do, given the line as filled so far.
    fn fork(&mut self, line: &Line) -> Fork<Self>;
}

/// How a branch goes on.
pub(super) enum Fork<B> {
    /// With the same wave in all of its orders.
    Goes(u32),
    /// With one wave in some and others in others, in order of the waves.
    Parts(Vec<(u32, B)>),
}

/// An order that is in time.
pub(super) struct Found {
    pub order: Vec<u32>,
    /// When its first sitting begins.
    pub begins: i64,
    /// When its last wave is done.
    pub finish: i64,
}

/// How orders are tried.
#[derive(Clone, Copy)]
pub(super) struct Trial<'a> {
    pub task: &'a Prepared<'a>,
    pub flat: &'a Flat,
    /// When the work may begin.
    pub start: i64,
    /// The last minute at which it may be done.
    pub limit: i64,
    /// Whether the first order within the limit will do.
    pub any: bool,
    /// Whether every coat must come while the one under it takes it.
    pub keeps: bool,
}

impl Trial<'_> {
    /// The first of a branch's orders that is ready first, within the limit.
    pub fn of(self, all: impl Branch, lines: &mut Vec<Line>) -> Option<Found> {
        let mut walk = Walk {
            deadlines: Deadlines::of(self.task, self.flat, self.limit),
            trial: self,
            lines,
            order: Vec::with_capacity(self.flat.acts.len()),
            best: None,
            effort: EFFORT,
        };
        walk.line(0).begin(self.flat, self.start);
        walk.along(all, 0);
        walk.best
    }
}

/// A walk over the tree, where it has come to.
struct Walk<'a> {
    trial: Trial<'a>,
    /// Those of the limit.
    deadlines: Deadlines,
    /// The maker's line as filled up to each fork on the way, and after the last.
    lines: &'a mut Vec<Line>,
    order: Vec<u32>,
    best: Option<Found>,
    /// What is left of it; see [`EFFORT`].
    effort: usize,
}

impl Walk<'_> {
    fn line(&mut self, forks: usize) -> &mut Line {
        if self.lines.len() <= forks {
            self.lines.resize_with(forks + 1, Line::default);
        }
        &mut self.lines[forks]
    }

    fn along(&mut self, mut branch: impl Branch, forks: usize) {
        loop {
            if self.order.len() == self.trial.flat.acts.len() {
                let Line { finish, begun, .. } = self.lines[forks];
                self.best = Some(Found {
                    order: self.order.clone(),
                    begins: begun.unwrap_or(self.trial.start),
                    finish,
                });
                let Trial { task, flat, .. } = self.trial;
                self.trial.limit = finish - 1;
                self.deadlines = Deadlines::of(task, flat, self.trial.limit);
                return;
            }
            match branch.fork(&self.lines[forks]) {
                Fork::Goes(wave) => {
                    if !self.put(wave, forks) {
                        return;
                    }
                }
                Fork::Parts(parts) => return self.apart(parts, forks),
            }
        }
    }

    fn apart(&mut self, parts: Vec<(u32, impl Branch)>, forks: usize) {
        let begun = self.order.len();
        for (wave, part) in parts {
            if self.trial.any && self.best.is_some() {
                return;
            }
            self.line(forks + 1);
            let (before, after) = self.lines.split_at_mut(forks + 1);
            after[0].follow(&before[forks]);
            if self.put(wave, forks + 1) {
                self.along(part, forks + 1);
            }
            self.order.truncate(begun);
        }
    }

    /// Puts a wave's next sitting; whether the order may still be in time.
    fn put(&mut self, wave: u32, forks: usize) -> bool {
        let Trial {
            task,
            flat,
            start,
            limit,
            keeps,
            ..
        } = self.trial;
        let line = &mut self.lines[forks];
        let put = if keeps {
            let order = (&self.order[..], start);
            let until = (&self.deadlines, &mut self.effort);
            line.put_kept(task, flat, order, wave, until)
        } else {
            let put = line.put_in_time(task, flat, wave as usize, &self.deadlines);
            put.map(|_| ())
        };
        if put.is_none() {
            return false;
        }
        self.order.push(wave);
        // The limit may have been another when its first waves were put.
        line.finish <= limit
    }
}
