//! Discs in rows: straight, or every other row shifted by half a pitch.
//!
//! With `D` from middle to middle and a pitch `p` in the row, a shifted row lies
//! `sqrt(D² - p²/4)` further: the wider the pitch, the deeper the rows nest.

use super::layout::How;
use super::patterns::{Found, Spot, fit};
use super::turned::Point;

/// Rows of discs.
#[derive(Debug, Clone, Copy)]
struct Rows {
    /// Discs in the first, third, ... row, and in the others.
    counts: [u32; 2],
    pitch: f64,
    /// How far the other rows are shifted along and lie further.
    shift: f64,
    step: f64,
    /// From a row to the next but one.
    twice: f64,
}

impl Rows {
    fn straight(apart: f64, room: f64) -> Self {
        let count = fit(room, apart);
        Self {
            counts: [count; 2],
            pitch: apart,
            shift: 0.0,
            step: apart,
            twice: 2.0 * apart,
        }
    }

    fn staggered(counts: [u32; 2], pitch: f64, apart: f64) -> Self {
        let step = (apart * apart - pitch * pitch / 4.0).max(0.0).sqrt();
        Self {
            counts,
            pitch,
            shift: pitch / 2.0,
            step,
            twice: apart.max(2.0 * step),
        }
    }

    fn count(&self, room: f64) -> u32 {
        let rows = [fit(room, self.twice), fit(room - self.step, self.twice)];
        rows[0] * self.counts[0] + rows[1] * self.counts[1]
    }

    fn found(&self, room: f64, radius: f64) -> Found {
        let rows = fit(room, self.twice) + fit(room - self.step, self.twice);
        let row = |r: u32| {
            let odd = r % 2;
            let y = f64::from(r / 2) * self.twice + f64::from(odd) * self.step;
            let x = f64::from(odd) * self.shift;
            (0..self.counts[odd as usize])
                .map(|i| Spot {
                    at: [radius + x + f64::from(i) * self.pitch, radius + y],
                    angle: 0.0,
                })
                .collect::<Vec<_>>()
        };
        let rows: Vec<_> = (0..rows).map(row).filter(|row| !row.is_empty()).collect();
        let how = if self.shift > 0.0 && rows.len() > 1 {
            How::Staggered
        } else {
            How::Straight
        };
        Found {
            how,
            rows,
            pitch: self.pitch,
            across: false,
        }
    }
}

/// The most discs that these patterns lay on a free part of this size.
pub(super) fn best(diameter: f64, gap: f64, free: Point) -> Found {
    let apart = diameter + gap;
    let room = free.map(|side| side - diameter);
    let mut most = (0, false, Rows::straight(apart, room[0]));
    for swapped in [false, true] {
        let [x, y] = if swapped { [room[1], room[0]] } else { room };
        let widest = fit(x, apart);
        let straight = std::iter::once(Rows::straight(apart, x));
        let staggered = (widest / 2..=widest).flat_map(|n| nested(n, x, apart));
        for rows in straight.chain(staggered) {
            let count = rows.count(y);
            if count > most.0 {
                most = (count, swapped, rows);
            }
        }
    }
    let (count, swapped, rows) = most;
    if let Some(eight) = ring(apart, room).filter(|_| count < 8) {
        return eight_in_a_ring(eight, diameter / 2.0, apart);
    }
    if swapped {
        rows.found(room[0], diameter / 2.0).turned_back(free[0])
    } else {
        rows.found(room[1], diameter / 2.0)
    }
}

/// Rows of `n`, the others with as many or one fewer, stretched to take all the room there is.
fn nested(n: u32, room: f64, apart: f64) -> impl Iterator<Item = Rows> {
    let some = f64::from(n);
    let full = (n > 0).then(|| ([n, n], room / (some - 0.5)));
    let fewer = (n > 1).then(|| ([n, n - 1], room / (some - 1.0)));
    let close = move |pitch: f64| pitch >= apart * (1.0 - 1e-9);
    [full, fewer]
        .into_iter()
        .flatten()
        .filter(move |it| close(it.1))
        .map(move |(counts, pitch)| Rows::staggered(counts, pitch, apart))
}

/// Eight in a ring: four in the corners, and one by each side, pushed in as far as it must be.
/// No rows hold eight in so small a square.
fn ring(apart: f64, [x, y]: Point) -> Option<[Point; 8]> {
    if x.min(y) < apart {
        return None;
    }
    let pushed = |side: f64| (apart * apart - side * side / 4.0).max(0.0).sqrt();
    let (up, along) = (pushed(x), pushed(y));
    let between = (x / 2.0 - along).hypot(y / 2.0 - up);
    let across = (y - 2.0 * up).min(x - 2.0 * along);
    let inward = along <= x / 2.0 && up <= y / 2.0;
    (inward && between.min(across) >= apart * (1.0 - 1e-9)).then_some([
        [0.0, 0.0],
        [x / 2.0, up],
        [x, 0.0],
        [along, y / 2.0],
        [x - along, y / 2.0],
        [0.0, y],
        [x / 2.0, y - up],
        [x, y],
    ])
}

fn eight_in_a_ring(eight: [Point; 8], radius: f64, apart: f64) -> Found {
    let spot = |at: &Point| Spot {
        at: at.map(|x| x + radius),
        angle: 0.0,
    };
    Found {
        how: How::Mixed,
        rows: vec![eight.iter().map(spot).collect()],
        pitch: apart,
        across: false,
    }
}
