//! The orders in which sittings are tried.
//!
//! Which orders there are depends on the numbers of waves, groups and sittings
//! alone, never on hours, waits, trays or work. The least of their finishes
//! then moves later only if each of them does, so that more trays or hours
//! never make a run later: a rule that looks at the data, such as doing the
//! longest wait first, has no such promise. Leaving out the last wave of a group
//! leaves each order as it was, so that fewer waves are never later either.
//!
//! An order sorts sittings by a key made of the wave's rank and a lag for each
//! sitting: lags of one let a wave go ahead of the next wave, large ones
//! let every wave have its first sitting before any has its second.
//!
//! Orders are told only as far as somebody asks, and kept as a tree: most are too late after a few
//! sittings, and many begin alike.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use super::line::Line;
use super::order::{ALL, Mix, Order, Ranking, Shape, behind};
use super::walk::{Branch, Fork};

/// Sittings up to which every mix of lags is tried.
const FEW: usize = 24;

/// Sittings above which the short family is tried.
const MANY: usize = 100;

/// Mixes of lags that are at most tried.
const MIXES: usize = 128;

/// The orders of a split.
#[derive(Debug)]
pub(super) struct Family {
    /// As far as the orders were told, from the first stretch that they have in common.
    tree: RefCell<Vec<Stretch>>,
}

/// What some orders have in common, from where they part with others.
#[derive(Debug)]
struct Stretch {
    waves: Vec<u32>,
    then: Then,
}

/// How a stretch goes on.
#[derive(Debug)]
enum Then {
    /// Nobody asked yet; the orders, told so far.
    Untold(Vec<Order>),
    /// They part: which wave comes next in some of them, and their own stretch.
    Parts(Vec<(u32, usize)>),
}

impl Family {
    pub fn of(shape: &Shape) -> Self {
        let groups = shape.ranks.iter().map(|rank| rank.0).max().unwrap_or(0) + 1;
        let mixes: &[(Mix, bool)] = if groups == 1 {
            &[(Mix::InTurn, false)]
        } else {
            &[
                (Mix::InTurn, false),
                (Mix::InTurn, true),
                (Mix::Blocks, false),
                (Mix::Blocks, true),
                (Mix::Apart, false),
                (Mix::Apart, true),
            ]
        };
        let turned: &[bool] = if shape.acts() <= FEW {
            &[false, true]
        } else {
            &[false]
        };
        let rankings = mixes.iter().flat_map(|&mix| {
            let turned = turned.iter();
            turned.map(move |&last_first| Rc::new(Ranking::of(shape, groups, mix, last_first)))
        });
        let rankings: Vec<Rc<Ranking>> = rankings.collect();
        let most = (0..shape.waves()).map(|wave| shape.sittings(wave)).max();
        let lags = lags(shape, groups, most.unwrap_or(1) - 1);
        let orders = lags.iter().flat_map(|lags| {
            let lags = behind(lags);
            let rankings = rankings.iter();
            rankings.map(move |ranking| Order::of(ranking, &lags))
        });
        let all = Stretch {
            waves: Vec::new(),
            then: Then::Untold(orders.collect()),
        };
        Self {
            tree: RefCell::new(vec![all]),
        }
    }

    /// All of its orders.
    pub fn orders(&self) -> Stand<'_> {
        Stand {
            family: self,
            stretch: 0,
            along: 0,
        }
    }

    /// Tells one more wave of a stretch, the next in all of its orders; none where they part.
    fn tell(&self, stretch: usize) -> Option<u32> {
        let tree = &mut *self.tree.borrow_mut();
        let new = tree.len();
        let Stretch { waves, then } = &mut tree[stretch];
        let Then::Untold(orders) = then else {
            return None;
        };
        let wave = orders[0].wave();
        if orders.iter().all(|order| order.wave() == wave) {
            orders.iter_mut().for_each(Order::go_on);
            waves.push(wave);
            return Some(wave);
        }
        let mut apart: BTreeMap<u32, Vec<Order>> = BTreeMap::new();
        for mut order in orders.drain(..) {
            let wave = order.wave();
            order.go_on();
            apart.entry(wave).or_default().push(order);
        }
        *then = Then::Parts(apart.keys().copied().zip(new..).collect());
        tree.extend(apart.into_iter().map(|(wave, orders)| Stretch {
            waves: vec![wave],
            then: Then::Untold(orders),
        }));
        None
    }
}

/// How far a family's orders were followed that have begun alike.
#[derive(Clone, Copy)]
pub(super) struct Stand<'f> {
    family: &'f Family,
    stretch: usize,
    /// How many waves of the stretch.
    along: usize,
}

impl Branch for Stand<'_> {
    fn fork(&mut self, _: &Line) -> Fork<Self> {
        let known = {
            let tree = self.family.tree.borrow();
            tree[self.stretch].waves.get(self.along).copied()
        };
        if let Some(wave) = known.or_else(|| self.family.tell(self.stretch)) {
            self.along += 1;
            return Fork::Goes(wave);
        }
        let tree = self.family.tree.borrow();
        let Then::Parts(parts) = &tree[self.stretch].then else {
            unreachable!("a stretch has parted where no wave comes next")
        };
        let parts = parts.iter().map(|&(wave, stretch)| {
            // its own first wave is the one it parts with
            let stand = Self {
                stretch,
                along: 1,
                ..*self
            };
            (wave, stand)
        });
        Fork::Parts(parts.collect())
    }
}

/// The lags to try, one for each sitting but the first.
fn lags(shape: &Shape, groups: usize, len: usize) -> Vec<Vec<u32>> {
    let acts = shape.acts();
    let steps = u32::try_from(shape.waves()).unwrap_or(ALL);
    let known = [
        2, 3, 4, 5, 6, 7, 8, 10, 12, 16, 24, 32, 48, 64, 96, 128, 192, 256, 512, 1024, 4096,
    ];
    let finite = known
        .into_iter()
        .filter(|&lag| lag < steps.saturating_mul(u32::try_from(groups).unwrap_or(1)));
    let mut lags = Vec::new();
    if acts > MANY {
        // Coarse: doubling lags only.
        let doubling = finite.filter(|lag| lag.is_power_of_two());
        let uniform = [1, ALL].into_iter().chain(doubling);
        lags.extend(uniform.map(|lag| vec![lag; len]));
        return lags;
    }
    let each: Vec<u32> = [1, ALL].into_iter().chain(finite).collect();
    let power = u32::try_from(len).unwrap_or(u32::MAX);
    if acts <= FEW && each.len().saturating_pow(power) <= MIXES {
        return every(&each, len);
    }
    lags.extend(each.iter().map(|&lag| vec![lag; len]));
    for odd in 0..len {
        for (usual, other) in [(1, ALL), (ALL, 1)] {
            let mut mixed = vec![usual; len];
            mixed[odd] = other;
            lags.push(mixed);
        }
    }
    lags
}

/// Every row of `len` lags.
fn every(each: &[u32], len: usize) -> Vec<Vec<u32>> {
    let mut rows = vec![Vec::new()];
    for _ in 0..len {
        rows = rows
            .into_iter()
            .flat_map(|row| {
                each.iter().map(move |&lag| {
                    let mut longer = row.clone();
                    longer.push(lag);
                    longer
                })
            })
            .collect();
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three groups of waves, some with fewer sittings.
    fn shape() -> Shape {
        let sittings = [4, 4, 2, 3, 3, 4, 1];
        let mut first = vec![0];
        for count in sittings {
            first.push(first[first.len() - 1] + count);
        }
        Shape {
            ranks: vec![(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (2, 0), (2, 1)],
            first,
        }
    }

    /// All that a stand goes on to.
    fn walked(mut stand: Stand, mut so_far: Vec<u32>, acts: usize, all: &mut Vec<Vec<u32>>) {
        while so_far.len() < acts {
            match stand.fork(&Line::default()) {
                Fork::Goes(wave) => so_far.push(wave),
                Fork::Parts(parts) => {
                    for (wave, part) in parts {
                        let longer = so_far.iter().copied().chain([wave]).collect();
                        walked(part, longer, acts, all);
                    }
                    return;
                }
            }
        }
        all.push(so_far);
    }

    #[test]
    fn the_tree_holds_each_order_once_and_in_order() {
        let shape = shape();
        let family = Family::of(&shape);
        let mut expected = Vec::new();
        if let Then::Untold(orders) = &family.tree.borrow()[0].then {
            expected.extend(orders.iter().map(Order::sorted));
        }
        let tried = expected.len();
        expected.sort_unstable();
        expected.dedup();
        assert!((100..tried).contains(&expected.len()), "{}", expected.len());
        for time in ["told", "kept"] {
            let mut all = Vec::new();
            walked(family.orders(), Vec::new(), shape.acts(), &mut all);
            assert_eq!(all, expected, "{time}");
        }
    }
}
