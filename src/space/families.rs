//! Rows of any outline. The families of rows (pitches, shifts, turns) depend on the outline and
//! the gap alone, so a larger ground holds as many of each or more.

use std::f64::consts::{FRAC_PI_2, PI};

use super::blocks;
use super::layout::How;
use super::outset::Drawn;
use super::patterns::{Found, Spot, fit};
use super::turned::{Point, Turned, narrowest};

/// How many parts the pitch is stretched by, up to half as wide again, and tried shifts.
const STRETCHES: u32 = 8;
const SHIFTS: u32 = 8;
/// Heights at which a piece turned about is set beside its neighbour, to each side of level.
const RAISES: i32 = 5;
/// How many of these are tried row against row.
const KEPT: usize = 3;
/// Added to every clearance, as a share of the piece, so that rounding never eats into a
/// gap; a share, for else a piece and a tray twice as large would not hold as many.
const SURE: f64 = 1e-12;
/// A row that passes the end by so small a share of the way fits.
const JUST: f64 = 1e-9;

/// A piece of a row's repeating cell.
#[derive(Debug, Clone, Copy)]
struct Part {
    turn: usize,
    at: Point,
}

/// How the next row lies.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Next {
    /// Every other row is shifted by so much.
    Alternate(f64),
    /// Every row is shifted by so much of the one before it.
    Slanted(f64),
}

#[derive(Debug, Clone)]
struct Family {
    /// The cells of the first, third, ... row, and of the others.
    cells: [Vec<Part>; 2],
    pitch: f64,
    next: Next,
    how: How,
    /// From a row of each kind to the next, and from a row to the next but one.
    up: [f64; 2],
    twice: f64,
}

/// An outline with its gap, ready to be laid on any ground.
#[derive(Debug)]
pub(super) struct Nest {
    turns: Vec<Turned>,
    families: Vec<Family>,
    /// The closest pairs of a piece and the same turned about.
    pairs: Vec<[Part; 2]>,
    gap: f64,
    /// What is added to every clearance, mm.
    sure: f64,
}

impl Nest {
    pub fn of(drawn: &Drawn, half: Point, gap: f64) -> Self {
        let odd = narrowest(&drawn.points);
        let plain = odd.min(FRAC_PI_2 - odd) < 1e-6;
        let bases = [0.0, FRAC_PI_2, odd, odd + FRAC_PI_2];
        let bases = if plain { &bases[..2] } else { &bases[..] };
        let turns = bases
            .iter()
            .flat_map(|&base| [base, base + PI])
            .map(|angle| Turned::of(drawn, half, angle, gap))
            .collect();
        let mut nest = Self {
            turns,
            families: Vec::new(),
            pairs: Vec::new(),
            gap,
            sure: 0.0,
        };
        let [length, width] = nest.turns[0].size();
        nest.sure = SURE * (length + width + gap);
        for turn in (0..nest.turns.len()).step_by(2) {
            nest.add_singles(turn);
            nest.add_pairs(turn);
        }
        nest
    }

    /// Boxes of the piece as told, and of its narrowest rectangle: `[angle, length, width]`.
    pub fn boxes(&self) -> impl Iterator<Item = (&Turned, Point)> {
        self.turns.iter().step_by(4).map(|turn| (turn, turn.size()))
    }

    /// The most that fit on a free part of this size.
    pub fn best(&self, free: Point) -> Option<Found> {
        let mut most: Option<(u32, bool, &Family)> = None;
        for swapped in [false, true] {
            let [x, y] = if swapped { [free[1], free[0]] } else { free };
            for family in &self.families {
                let count = self.count(family, x, y);
                if most.is_none_or(|most| count > most.0) {
                    most = Some((count, swapped, family));
                }
            }
        }
        let (_, swapped, family) = most?;
        Some(if swapped {
            self.found(family, free[1], free[0]).turned_back(free[0])
        } else {
            self.found(family, free[0], free[1])
        })
    }

    /// The most that fit where close pairs are laid by their boxes, in blocks both ways.
    pub fn paired(&self, free: Point) -> Option<Found> {
        let laid = self.pairs.iter().map(|pair| {
            let high = |k: usize| {
                let tops = pair.map(|part| part.at[k] + self.turns[part.turn].high[k]);
                tops[0].max(tops[1])
            };
            let size = [high(0), high(1)];
            (pair, size, blocks::best(size, self.gap, free, 0.0))
        });
        let count = |found: &Found| found.rows.iter().map(Vec::len).sum::<usize>();
        let (pair, size, mut found) =
            laid.reduce(|a, b| if count(&b.2) > count(&a.2) { b } else { a })?;
        for row in &mut found.rows {
            let boxes = std::mem::take(row);
            row.extend(boxes.iter().flat_map(|spot| {
                pair.map(|part| {
                    let [x, y] = [0, 1].map(|k| part.at[k] - size[k] / 2.0);
                    // a box lies as told or turned by a quarter
                    let off = if spot.angle > 0.0 { [-y, x] } else { [x, y] };
                    Spot {
                        at: [spot.at[0] + off[0], spot.at[1] + off[1]],
                        angle: spot.angle + self.turns[part.turn].angle,
                    }
                })
            }));
        }
        found.how = How::Mixed;
        Some(found)
    }

    /// Rows of one piece a cell: straight, shifted, stretched, every other row turned about.
    fn add_singles(&mut self, turn: usize) {
        let Some(close) = self.turns[turn].clears_right(&self.turns[turn], 0.0) else {
            return;
        };
        let close = close + self.sure;
        for stretch in 0..=STRETCHES {
            let pitch = close * (1.0 + 0.5 * f64::from(stretch) / f64::from(STRETCHES));
            for part in 0..SHIFTS {
                if stretch > 0 && part != SHIFTS / 2 {
                    continue;
                }
                let shift = pitch * f64::from(part) / f64::from(SHIFTS);
                self.add(turn, turn, pitch, Next::Alternate(shift));
                self.add(turn, turn + 1, pitch, Next::Alternate(shift));
                if stretch == 0 && part > 0 {
                    self.add(turn, turn, pitch, Next::Slanted(shift));
                }
            }
        }
    }

    fn add(&mut self, first: usize, other: usize, pitch: f64, next: Next) {
        let cells = [first, other].map(|turn| {
            let at = self.turns[turn].low.map(|x| -x);
            vec![Part { turn, at }]
        });
        let how = match next {
            _ if first != other => How::Alternating,
            Next::Alternate(shift) if shift <= 0.0 => How::Straight,
            Next::Alternate(_) => How::Staggered,
            Next::Slanted(_) => How::Slanted,
        };
        self.push(cells, pitch, next, how);
    }

    /// Rows of a piece and the same turned about, side by side.
    fn add_pairs(&mut self, turn: usize) {
        let (piece, about) = (&self.turns[turn], &self.turns[turn + 1]);
        let [_, height] = piece.size();
        let mut pairs: Vec<(f64, f64, [Part; 2])> = Vec::new();
        for raise in -RAISES..=RAISES {
            let up =
                height * f64::from(raise) / f64::from(RAISES + 1) + piece.low[1] - about.low[1];
            let (Some(there), Some(back), Some(own)) = (
                piece.clears_right(about, up),
                about.clears_right(piece, -up),
                piece.clears_right(piece, 0.0),
            ) else {
                continue;
            };
            let pitch = (there + back).max(own) + 2.0 * self.sure;
            let cell = self.set([(turn, [0.0, 0.0]), (turn + 1, [there + self.sure, up])]);
            let level = if raise == 0 { 0.0 } else { 1.0 };
            let area = pitch * self.rise(&cell, &cell, pitch, 0.0);
            pairs.push((level * area, pitch, cell));
        }
        // the level pair is always kept, and those that take least
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (_, pitch, cell) in pairs.into_iter().take(1 + KEPT) {
            self.pairs.push(cell);
            for part in 0..SHIFTS {
                let shift = pitch * f64::from(part) / f64::from(SHIFTS);
                let cells = [cell.to_vec(), cell.to_vec()];
                self.push(cells, pitch, Next::Alternate(shift), How::Alternating);
            }
        }
    }

    /// A cell with its box's low corner at the origin.
    fn set(&self, parts: [(usize, Point); 2]) -> [Part; 2] {
        let low = [0, 1].map(|k| {
            let lows = parts.map(|(turn, at)| at[k] + self.turns[turn].low[k]);
            lows[0].min(lows[1])
        });
        parts.map(|(turn, at)| Part {
            turn,
            at: [at[0] - low[0], at[1] - low[1]],
        })
    }

    fn push(&mut self, cells: [Vec<Part>; 2], pitch: f64, next: Next, how: How) {
        let [a, b] = &cells;
        let (up, twice) = match next {
            Next::Alternate(shift) => {
                let up = [
                    self.rise(a, b, pitch, shift),
                    self.rise(b, a, pitch, -shift),
                ];
                let same = |cell| self.rise(cell, cell, pitch, 0.0);
                (up, same(a).max(same(b)))
            }
            Next::Slanted(shift) => (
                [self.rise(a, a, pitch, shift); 2],
                self.rise(a, a, pitch, 2.0 * shift),
            ),
        };
        self.families.push(Family {
            cells,
            pitch,
            next,
            how,
            up,
            twice,
        });
    }

    /// How much further a row must lie than the one before it, shifted by so much.
    fn rise(&self, row: &[Part], next: &[Part], pitch: f64, shift: f64) -> f64 {
        let mut rise: f64 = 0.0;
        for a in row {
            for b in next {
                let (one, other) = (&self.turns[a.turn], &self.turns[b.turn]);
                let base = b.at[0] - a.at[0] + shift;
                let ahead = one.high[0] - other.low[0] + self.gap;
                let behind = other.high[0] - one.low[0] + self.gap;
                let mut k = ((-behind - base) / pitch).ceil();
                while base + k * pitch < ahead {
                    if let Some(clear) = one.clears_up(other, base + k * pitch) {
                        rise = rise.max(clear + a.at[1] - b.at[1] + self.sure);
                    }
                    k += 1.0;
                }
            }
        }
        rise
    }

    /// Where the rows of a family lie: which cell, how far along, how far up.
    fn rows(&self, family: &Family, height: f64) -> impl Iterator<Item = (usize, f64, f64)> {
        let tops = [0, 1].map(|k| {
            let tops = family.cells[k].iter();
            tops.map(|part| part.at[1] + self.turns[part.turn].high[1])
                .fold(0.0, f64::max)
        });
        let (next, pitch, up, twice) = (family.next, family.pitch, family.up, family.twice);
        let mut lies = [0.0_f64; 2];
        (0_u32..).map_while(move |row| {
            let kind = usize::from(row % 2 == 1);
            let y = match row {
                0 => 0.0,
                1 => up[0],
                _ => (lies[1] + up[1 - kind]).max(lies[0] + twice),
            };
            lies = [if row == 0 { 0.0 } else { lies[1] }, y];
            let along = match next {
                Next::Alternate(shift) if kind == 1 => shift,
                Next::Alternate(_) => 0.0,
                Next::Slanted(shift) => (f64::from(row) * shift + self.sure).rem_euclid(pitch),
            };
            (y + tops[kind] <= height * (1.0 + JUST)).then_some((kind, along, y))
        })
    }

    /// How many of a part of a cell lie in a row.
    fn along(&self, part: &Part, pitch: f64, along: f64, width: f64) -> u32 {
        let reach = along + part.at[0] + self.turns[part.turn].high[0];
        fit(width - reach, pitch)
    }

    fn count(&self, family: &Family, width: f64, height: f64) -> u32 {
        self.rows(family, height)
            .flat_map(|(kind, along, _)| {
                let cell = family.cells[kind].iter();
                cell.map(move |part| self.along(part, family.pitch, along, width))
            })
            .sum()
    }

    fn found(&self, family: &Family, width: f64, height: f64) -> Found {
        let row = |(kind, along, y): (usize, f64, f64)| {
            let mut spots: Vec<Spot> = Vec::new();
            for part in &family.cells[kind] {
                for i in 0..self.along(part, family.pitch, along, width) {
                    let x = along + part.at[0] + f64::from(i) * family.pitch;
                    spots.push(Spot {
                        at: [x, y + part.at[1]],
                        angle: self.turns[part.turn].angle,
                    });
                }
            }
            spots.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]));
            spots
        };
        let rows: Vec<_> = self
            .rows(family, height)
            .map(row)
            .filter(|row| !row.is_empty())
            .collect();
        let turned = rows.iter().flatten().zip(rows.iter().flatten().skip(1));
        let all_alike = turned
            .clone()
            .all(|(a, b)| (a.angle - b.angle).abs() < 1e-9);
        let how = match family.how {
            _ if rows.len() < 2 && all_alike => How::Straight,
            How::Alternating if all_alike => How::Staggered,
            how => how,
        };
        Found {
            how,
            rows,
            pitch: family.pitch,
            across: false,
        }
    }
}
