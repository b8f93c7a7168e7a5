//! Every order of a few sittings.

use super::line::Line;
use super::prepared::Flat;
use super::walk::{Branch, Fork};

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

/// Every order of a split.
#[derive(Clone, Copy)]
pub(super) struct Every<'a>(pub &'a Flat);

impl Every<'_> {
    /// Whether a wave has a sitting left, and is not the later of two like waves that are both still to begin.
    fn worth(self, line: &Line, wave: usize) -> bool {
        let Self(flat) = self;
        if line.done(wave) == flat.sittings(wave) {
            return false;
        }
        let mut twins = (0..wave).filter(|&other| flat.twin[other] == flat.twin[wave]);
        line.done(wave) > 0 || twins.all(|other| line.done(other) > 0)
    }
}

impl Branch for Every<'_> {
    fn fork(&mut self, line: &Line) -> Fork<Self> {
        let waves = (0_u32..).zip(0..self.0.waves());
        let worth = waves.filter(|&(_, wave)| self.worth(line, wave));
        Fork::Parts(worth.map(|(wave, _)| (wave, *self)).collect())
    }
}
