//! Equal rectangles, some of them turned: the pallet loading problem.
//!
//! Up to four blocks, one in each corner, each a grid of rectangles that all lie one way, and a
//! fifth in the hole between them (the four- and five-block patterns of Smith and De Cani 1980
//! and Bischoff and Dowsland 1982, from memory). Along a side, the second block is as wide as
//! the first leaves room for; where two opposite blocks would overlap, one gives way.

use super::layout::How;
use super::patterns::{Found, Spot, whole};
use super::turned::Point;

/// A grid of rectangles that lie one way.
#[derive(Debug, Clone, Copy, Default)]
struct Block {
    at: Point,
    counts: [u32; 2],
    turned: bool,
}

/// The most combinations of the four sides that are tried one by one; past it the ground is
/// parted by straight cuts only, which take few.
const MOST_TRIED: u64 = 50_000;
/// Slack where rectangles just fit, as a share of one.
const JUST: f64 = 1e-9;

/// Rectangles of these sides on a ground; gaps are within both.
#[derive(Debug, Clone, Copy)]
struct Load {
    piece: Point,
    ground: Point,
}

/// How many lengths go into a side.
fn go(side: f64, length: f64) -> u32 {
    whole((side / length + JUST).max(0.0))
}

impl Load {
    fn sides(&self, turned: bool) -> Point {
        let [a, b] = self.piece;
        if turned { [b, a] } else { [a, b] }
    }

    /// One block over a rectangle.
    fn one(&self, at: Point, size: Point, turned: bool) -> Block {
        let sides = self.sides(turned);
        Block {
            at,
            counts: [0, 1].map(|k| go(size[k], sides[k])),
            turned,
        }
    }

    fn better(&self, at: Point, size: Point) -> Block {
        let [plain, turned] = [false, true].map(|turned| self.one(at, size, turned));
        if turned.count() > plain.count() {
            turned
        } else {
            plain
        }
    }

    /// A strip along `axis`, cut across into a block of each way.
    fn strip(&self, at: Point, size: Point, axis: usize) -> [Block; 2] {
        let mut most = [self.better(at, size), Block::default()];
        let step = self.sides(false)[axis];
        for n in 1..=go(size[axis], step) {
            let [mut first, mut rest] = [size; 2];
            first[axis] = f64::from(n) * step;
            rest[axis] = size[axis] - first[axis];
            let mut next = at;
            next[axis] += first[axis];
            let cut = [self.one(at, first, false), self.one(next, rest, true)];
            if count(&cut) > count(&most) {
                most = cut;
            }
        }
        most
    }

    /// The ground cut in two, each part cut again the other way.
    fn cut(&self, axis: usize) -> Vec<Block> {
        let mut most = self.strip([0.0; 2], self.ground, axis).to_vec();
        for turned in [false, true] {
            let step = self.sides(turned)[axis];
            for n in 0..=go(self.ground[axis], step) {
                let [mut first, mut rest] = [self.ground; 2];
                first[axis] = f64::from(n) * step;
                rest[axis] = self.ground[axis] - first[axis];
                let mut next = [0.0; 2];
                next[axis] = first[axis];
                let mut cut = self.strip([0.0; 2], first, 1 - axis).to_vec();
                cut.extend(self.strip(next, rest, 1 - axis));
                if count(&cut) > count(&most) {
                    most = cut;
                }
            }
        }
        most
    }

    /// The most that its area has room for.
    fn bound(&self) -> u32 {
        let [x, y] = self.ground;
        whole(x * y / (self.piece[0] * self.piece[1]) + JUST)
    }

    fn best(&self) -> Vec<Block> {
        let mut most = self.cut(0);
        let other = self.cut(1);
        if count(&other) > count(&most) {
            most = other;
        }
        let bound = self.bound();
        let [x, y] = self.ground;
        let ([a, b], sides) = (self.piece, |side, length| u64::from(go(side, length)) + 1);
        let tried = sides(x, a) * sides(x, b) * sides(y, a) * sides(y, b);
        if tried > MOST_TRIED || count(&most) >= bound {
            return most;
        }
        self.corners(&mut most, bound);
        most
    }

    /// All four-block patterns, the hole between them filled.
    fn corners(&self, most: &mut Vec<Block>, bound: u32) {
        let ([a, b], [x, y]) = (self.piece, self.ground);
        for bottom in 0..=go(x, a) {
            let right_wide = go(x - f64::from(bottom) * a, b);
            for left in 0..=go(y, b) {
                let left_high = go(y - f64::from(left) * b, a);
                for top in 0..=go(x, b) {
                    let top_wide = go(x - f64::from(top) * b, a);
                    for right in 0..=go(y, a) {
                        let right_high = go(y - f64::from(right) * a, b);
                        let four = [
                            [bottom, left],
                            [right_wide, right],
                            [top, left_high],
                            [top_wide, right_high],
                        ];
                        self.settle(four, most);
                        if count(most) >= bound {
                            return;
                        }
                    }
                }
            }
        }
    }

    /// Four corner blocks whose opposites may overlap: each way of one giving way.
    fn settle(&self, four: [[u32; 2]; 4], most: &mut Vec<Block>) {
        let might: u32 = four.iter().map(|[m, n]| m * n).sum();
        let best = count(most);
        // blocks that touch leave no hole between them, and giving way only takes from them
        if !self.hole_free(&four) {
            if might <= best {
                return;
            }
        } else if might + self.hole_bound(&four) <= best {
            return;
        }
        let ways = |pair: [usize; 2]| if self.overlap(&four, pair) { 4 } else { 1 };
        for first in 0..ways([0, 3]) {
            for second in 0..ways([1, 2]) {
                let mut set = four;
                if self.overlap(&four, [0, 3]) {
                    self.give_way(&mut set, [0, 3], first);
                }
                if self.overlap(&set, [1, 2]) {
                    self.give_way(&mut set, [1, 2], second);
                }
                self.keep(set, most);
            }
        }
    }

    fn extent(&self, four: &[[u32; 2]; 4], corner: usize) -> Point {
        let sides = self.sides(corner == 1 || corner == 2);
        [0, 1].map(|k| f64::from(four[corner][k]) * sides[k])
    }

    fn overlap(&self, four: &[[u32; 2]; 4], [one, other]: [usize; 2]) -> bool {
        let (a, b) = (self.extent(four, one), self.extent(four, other));
        let over = |k: usize| a[k] + b[k] > self.ground[k] + JUST * self.piece[0];
        over(0) && over(1)
    }

    /// Lets one of two opposite blocks be narrower or lower.
    fn give_way(&self, four: &mut [[u32; 2]; 4], pair: [usize; 2], way: usize) {
        let (gives, stays, axis) = (pair[way % 2], pair[1 - way % 2], way / 2);
        let sides = self.sides(gives == 1 || gives == 2);
        let left = self.ground[axis] - self.extent(four, stays)[axis];
        four[gives][axis] = go(left, sides[axis]).min(four[gives][axis]);
    }

    fn hole_free(&self, four: &[[u32; 2]; 4]) -> bool {
        !self.overlap(four, [0, 3]) && !self.overlap(four, [1, 2])
    }

    /// How many the area of the hole between four blocks has room for.
    fn hole_bound(&self, four: &[[u32; 2]; 4]) -> u32 {
        let size = [0, 1, 2, 3].map(|corner| self.extent(four, corner));
        let most = self.holes(&size).map(|[left, low, right, high]| {
            (right - left).max(0.0) * (high - low).max(0.0) / (self.piece[0] * self.piece[1])
        });
        whole(most[0].max(most[1]) + JUST)
    }

    /// The holes that blocks of these sizes leave in a pinwheel of either hand: left, low, right, high.
    fn holes(&self, size: &[Point; 4]) -> [[f64; 4]; 2] {
        let [x, y] = self.ground;
        [
            [size[2][0], size[0][1], x - size[1][0], y - size[3][1]],
            [size[0][0], size[1][1], x - size[3][0], y - size[2][1]],
        ]
    }

    fn keep(&self, four: [[u32; 2]; 4], most: &mut Vec<Block>) {
        let used: u32 = four.iter().map(|[m, n]| m * n).sum();
        let hole = self.hole(&four);
        if used + hole.count() <= count(most) {
            return;
        }
        let mut blocks: Vec<Block> = (0..4)
            .map(|corner| {
                let size = self.extent(&four, corner);
                let far = [self.ground[0] - size[0], self.ground[1] - size[1]];
                Block {
                    at: [
                        if corner % 2 == 1 { far[0] } else { 0.0 },
                        if corner > 1 { far[1] } else { 0.0 },
                    ],
                    counts: four[corner],
                    turned: corner == 1 || corner == 2,
                }
            })
            .collect();
        blocks.push(hole);
        *most = blocks;
    }

    /// The best block in the hole that four leave in a pinwheel, of either hand.
    fn hole(&self, four: &[[u32; 2]; 4]) -> Block {
        let [x, y] = self.ground;
        let size = [0, 1, 2, 3].map(|corner| self.extent(four, corner));
        let mut most = Block::default();
        for [left, low, right, high] in self.holes(&size) {
            let clear = right > left
                && high > low
                && (0..4).all(|corner| {
                    let [w, h] = size[corner];
                    let beside = if corner % 2 == 0 {
                        left >= w
                    } else {
                        right <= x - w
                    };
                    let past = if corner < 2 { low >= h } else { high <= y - h };
                    w * h <= 0.0 || beside || past
                });
            if clear {
                let block = self.better([left, low], [right - left, high - low]);
                if block.count() > most.count() {
                    most = block;
                }
            }
        }
        most
    }
}

impl Block {
    fn count(&self) -> u32 {
        self.counts[0] * self.counts[1]
    }
}

fn count(blocks: &[Block]) -> u32 {
    blocks.iter().map(Block::count).sum()
}

/// The most rectangles of these sides, lying either way, on a free part of this size.
/// `angle` is how far the piece is turned as it lies along the first side.
pub(super) fn best(size: Point, gap: f64, free: Point, angle: f64) -> Found {
    let load = Load {
        piece: size.map(|side| side + gap),
        ground: free.map(|side| side + gap),
    };
    let blocks: Vec<Block> = load
        .best()
        .into_iter()
        .filter(|block| block.count() > 0)
        .collect();
    let spots = |block: &Block, row: u32| {
        let sides = load.sides(block.turned);
        let turn = if block.turned {
            std::f64::consts::FRAC_PI_2
        } else {
            0.0
        };
        let block = *block;
        (0..block.counts[0]).map(move |i| Spot {
            at: [
                block.at[0] + f64::from(i) * sides[0] + (sides[0] - gap) / 2.0,
                block.at[1] + f64::from(row) * sides[1] + (sides[1] - gap) / 2.0,
            ],
            angle: angle + turn,
        })
    };
    let (how, rows): (_, Vec<Vec<Spot>>) = if let [block] = blocks[..] {
        let rows = (0..block.counts[1]).map(|row| spots(&block, row).collect());
        (How::Straight, rows.collect())
    } else {
        let block = |block: &Block| {
            (0..block.counts[1])
                .flat_map(|row| spots(block, row))
                .collect()
        };
        (How::Mixed, blocks.iter().map(block).collect())
    };
    let turned = blocks.first().is_some_and(|block| block.turned);
    Found {
        how,
        rows,
        pitch: load.sides(turned)[0],
        across: false,
    }
}
