//! Every order of a few sittings.

use super::line::{Line, put_within};
use super::prepared::{Flat, Prepared};

/// Orders up to which all are tried.
const MOST_ORDERS: u64 = 2520;

/// Whether a split has so few orders that all are tried; a matter of the numbers of its sittings alone.
pub(super) fn suits(flat: &Flat) -> bool {
    // (n1 + n2 + ...)! / (n1! n2! ...)
    let (mut orders, mut sittings) = (1_u64, 0_u64);
    for wave in 0..flat.waves() {
        for own in 1..=flat.sittings(wave) as u64 {
            sittings += 1;
            orders = match orders.checked_mul(sittings) {
                Some(more) => more / own,
                None => return false,
            };
            if orders > MOST_ORDERS {
                return false;
            }
        }
    }
    true
}

/// Finds the order that is ready first.
pub(super) struct Exact<'a> {
    task: &'a Prepared<'a>,
    flat: &'a Flat,
    lines: &'a mut Vec<Line>,
    order: Vec<u32>,
    best: Option<(i64, Vec<u32>)>,
    limit: i64,
    /// Whether the first order within the limit will do.
    any: bool,
}

impl<'a> Exact<'a> {
    /// The earliest finish up to `limit` with its order; with `any`, the first that is found.
    pub fn search(
        task: &'a Prepared<'a>,
        flat: &'a Flat,
        lines: &'a mut Vec<Line>,
        start: i64,
        limit: i64,
        any: bool,
    ) -> Option<(i64, Vec<u32>)> {
        let depth = flat.acts.len();
        lines.resize_with(lines.len().max(depth + 1), Line::default);
        lines[0].begin(flat, start);
        let mut search = Self {
            task,
            flat,
            lines,
            order: Vec::with_capacity(depth),
            best: None,
            limit,
            any,
        };
        search.deeper();
        search.best
    }

    fn deeper(&mut self) {
        let depth = self.order.len();
        if depth == self.flat.acts.len() {
            let finish = self.lines[depth].finish;
            self.best = Some((finish, self.order.clone()));
            self.limit = finish - 1;
            return;
        }
        for wave in 0..self.flat.waves() {
            if self.any && self.best.is_some() {
                return;
            }
            if !self.worth(depth, wave) {
                continue;
            }
            let (before, after) = self.lines.split_at_mut(depth + 1);
            let line = &mut after[0];
            line.follow(&before[depth]);
            let put = put_within(line, self.task, self.flat, wave, self.limit);
            if put.is_some() && line.finish <= self.limit {
                self.order.push(u32::try_from(wave).expect("a few waves"));
                self.deeper();
                self.order.pop();
            }
        }
    }

    /// Whether a wave has a sitting left, and is not the later of two like waves that are both still to begin.
    fn worth(&self, depth: usize, wave: usize) -> bool {
        let (flat, done) = (self.flat, &self.lines[depth].done);
        if done[wave] == flat.sittings(wave) {
            return false;
        }
        let mut like = (0..wave).filter(|&other| flat.twin[other] == flat.twin[wave]);
        done[wave] > 0 || like.all(|other| done[other] > 0)
    }
}
