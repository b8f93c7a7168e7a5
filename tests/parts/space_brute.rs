//! Counts against exhaustive searches that share nothing with the library, on small trays.

use crate::common::space::{Point, Random, ground, keeps_its_room, mm, points, rectangle, round};
use brimful::quantity::Length;
use brimful::space::{Kind, Shelf, lay, levels_of, share, shelf_area, with_bleed};

/// The most pieces that a set of choices holds: masks of cells taken, branch and bound. Pieces
/// are laid in the order of their lowest cells; `area` is that of one.
struct Cells {
    /// The places of a piece, by the first cell that each takes.
    places: Vec<Vec<u128>>,
    count: usize,
    area: usize,
    most: usize,
    steps: usize,
}

impl Cells {
    fn search(&mut self, cell: usize, taken: u128, count: usize) {
        self.most = self.most.max(count);
        self.steps += 1;
        if self.steps > 3_000_000 {
            return;
        }
        let left = (cell..self.count).filter(|&c| taken >> c & 1 == 0).count();
        if cell == self.count || count + left / self.area <= self.most {
            return;
        }
        for i in 0..self.places[cell].len() {
            let place = self.places[cell][i];
            if place & taken == 0 {
                self.search(cell + 1, taken | place, count + 1);
            }
        }
        self.search(cell + 1, taken, count);
    }

    /// The shapes are lists of cells from their own corner.
    fn most(shapes: &[Vec<[usize; 2]>], [wide, high]: [usize; 2]) -> usize {
        let mut places = vec![Vec::new(); wide * high];
        for shape in shapes {
            let w = shape.iter().map(|c| c[0] + 1).max().unwrap();
            let h = shape.iter().map(|c| c[1] + 1).max().unwrap();
            if w > wide || h > high {
                continue;
            }
            for y in 0..=high - h {
                for x in 0..=wide - w {
                    let cells: Vec<usize> =
                        shape.iter().map(|c| (y + c[1]) * wide + x + c[0]).collect();
                    let mask = cells.iter().fold(0, |mask, &c| mask | 1_u128 << c);
                    let first = *cells.iter().min().unwrap();
                    if !places[first].contains(&mask) {
                        places[first].push(mask);
                    }
                }
            }
        }
        let mut cells = Self {
            places,
            count: wide * high,
            area: shapes[0].len(),
            most: 0,
            steps: 0,
        };
        cells.search(0, 0, 0);
        cells.most
    }
}

fn quarter(shape: &[[usize; 2]]) -> Vec<[usize; 2]> {
    let high = shape.iter().map(|c| c[1]).max().unwrap();
    shape.iter().map(|c| [high - c[1], c[0]]).collect()
}

fn turns(shape: Vec<[usize; 2]>) -> Vec<Vec<[usize; 2]>> {
    let mut all = vec![shape];
    for _ in 0..3 {
        let next = quarter(all.last().unwrap());
        all.push(next);
    }
    all
}

fn block(wide: usize, high: usize) -> Vec<[usize; 2]> {
    (0..high)
        .flat_map(|y| (0..wide).map(move |x| [x, y]))
        .collect()
}

/// 300 trays: rectangles of whole cells, the gap a part of the piece's cells and the tray's.
#[test]
fn rectangles_come_within_one_of_every_arrangement_on_a_grid() {
    let mut random = Random(1);
    let mut fewer = 0;
    for _ in 0..300 {
        let piece = [random.within(2, 5), random.within(1, 4)];
        let tray = [random.within(4, 12), random.within(4, 10)];
        let gap = f64::from(random.within(0, 9)) / 10.0;
        let cells = |side: u32| side as usize;
        let best = Cells::most(
            &turns(block(cells(piece[0]), cells(piece[1]))),
            tray.map(cells),
        );
        let outline = rectangle(piece.map(|side| 10.0 * (f64::from(side) - gap)));
        let tray = ground(
            tray.map(|side| 10.0 * (f64::from(side) - gap) + 6.0),
            3.0,
            10.0 * gap,
        );
        let lies = lay(&outline, &tray).unwrap();
        keeps_its_room(&outline, &tray, &lies);
        let held = lies.count as usize;
        assert!(held + 1 >= best, "{held} of {best}: {piece:?} on {tray:?}");
        fewer += usize::from(held < best);
    }
    assert!(fewer <= 15, "{fewer} of 300 hold one fewer");
}

/// The most places of a lattice that are pairwise a disc's diameter apart, by branch and bound.
fn discs(size: [i64; 2], apart: i64) -> usize {
    fn search(free: &[[i64; 2]], apart: i64, count: usize, most: &mut usize, steps: &mut usize) {
        *most = (*most).max(count);
        *steps += 1;
        if *steps > 200_000 || count + free.len() <= *most {
            return;
        }
        for (i, p) in free.iter().enumerate() {
            if count + free.len() - i <= *most {
                return;
            }
            let clear =
                |q: &&[i64; 2]| (p[0] - q[0]).pow(2) + (p[1] - q[1]).pow(2) >= apart * apart;
            let rest: Vec<_> = free[i + 1..].iter().filter(clear).copied().collect();
            search(&rest, apart, count + 1, most, steps);
        }
    }
    let all: Vec<_> = (0..=size[1])
        .flat_map(|y| (0..=size[0]).map(move |x| [x, y]))
        .collect();
    let (mut most, mut steps) = (0, 0);
    search(&all, apart, 0, &mut most, &mut steps);
    most
}

/// 120 trays: middles on a lattice of a fifth to a third of the diameter.
#[test]
fn rounds_come_within_one_of_every_arrangement_on_a_lattice() {
    let mut random = Random(2);
    for _ in 0..120 {
        let apart = random.within(3, 5);
        let size = [random.within(2, 14), random.within(2, 10)];
        let best = discs(size.map(i64::from), i64::from(apart));
        let apart = f64::from(apart);
        // a lattice step is 4 mm, a gap of 2 mm being part of the distance
        let outline = round(4.0 * apart - 2.0);
        let tray = ground(
            size.map(|side| 4.0 * f64::from(side) + 4.0 * apart - 2.0 + 10.0),
            5.0,
            2.0,
        );
        let lies = lay(&outline, &tray).unwrap();
        keeps_its_room(&outline, &tray, &lies);
        let held = lies.count as usize;
        assert!(
            held + 1 >= best,
            "{held} of {best}: {apart} apart on {size:?}"
        );
    }
}

/// 80 trays: shapes of three and four squares that are no rectangles, in all four turns on a grid.
#[test]
fn angles_come_within_one_of_every_arrangement_but_for_two_known() {
    // each as its cells and its corners
    let shapes: [(&[[usize; 2]], &[Point]); 3] = [
        (
            &[[0, 0], [1, 0], [0, 1]],
            &[
                [0.0, 0.0],
                [2.0, 0.0],
                [2.0, 1.0],
                [1.0, 1.0],
                [1.0, 2.0],
                [0.0, 2.0],
            ],
        ),
        (
            &[[0, 0], [1, 0], [2, 0], [0, 1]],
            &[
                [0.0, 0.0],
                [3.0, 0.0],
                [3.0, 1.0],
                [1.0, 1.0],
                [1.0, 2.0],
                [0.0, 2.0],
            ],
        ),
        (
            &[[0, 0], [1, 0], [2, 0], [1, 1]],
            &[
                [0.0, 0.0],
                [3.0, 0.0],
                [3.0, 1.0],
                [2.0, 1.0],
                [2.0, 2.0],
                [1.0, 2.0],
                [1.0, 1.0],
                [0.0, 1.0],
            ],
        ),
    ];
    let mut random = Random(3);
    let mut short = Vec::new();
    for case in 0..80 {
        let (cells, corners) = shapes[case % 3];
        let size = [random.within(2, 6), random.within(2, 5)];
        let best = Cells::most(&turns(cells.to_vec()), size.map(|side| side as usize));
        let outline = points(
            &corners
                .iter()
                .map(|p| p.map(|x| 10.0 * x))
                .collect::<Vec<_>>(),
        );
        let tray = ground(size.map(|side| 10.0 * f64::from(side) + 0.001), 0.0, 0.0);
        let lies = lay(&outline, &tray).unwrap();
        keeps_its_room(&outline, &tray, &lies);
        let held = lies.count as usize;
        assert!(
            held + 2 >= best,
            "{held} of {best}: {corners:?} on {size:?}"
        );
        if held + 1 < best {
            short.push((case % 3, size));
        }
    }
    // irregular fillings of squares hold two more: three pairs of four squares' angles about the
    // middle of five by five, four T about that of four by four
    let known = [(1, [5, 5]), (2, [4, 4])];
    assert!(short.iter().all(|it| known.contains(it)), "{short:?}");
}

/// The fewest sheets that hold all boxes, over every order and every way to part them in rows of
/// whole cells: exact for boxes one cell high on a sheet of rows.
fn fewest(widths: &[u32], row: u32, rows: usize) -> usize {
    fn bins(left: &[u32], room: &mut Vec<u32>, row: u32, best: &mut usize) {
        let Some((first, rest)) = left.split_first() else {
            *best = (*best).min(room.len());
            return;
        };
        if room.len() >= *best {
            return;
        }
        for i in 0..room.len() {
            if room[i] >= *first {
                room[i] -= first;
                bins(rest, room, row, best);
                room[i] += first;
            }
        }
        room.push(row - first);
        bins(rest, room, row, best);
        room.pop();
    }
    let mut best = widths.len() + 1;
    bins(widths, &mut Vec::new(), row, &mut best);
    best.div_ceil(rows)
}

#[test]
fn kinds_that_share_sheets_take_at_most_one_more_than_the_fewest() {
    let mut random = Random(4);
    for _ in 0..200 {
        let kinds = random.within(2, 4) as usize;
        let (row, rows) = (random.within(6, 9), random.within(2, 3));
        // boxes taller than half the sheet's rows are wide can't be turned
        let high = 40.0;
        let sheet = ground([10.0 * f64::from(row), high * f64::from(rows)], 0.0, 0.0);
        let mut told = Vec::new();
        let mut widths = Vec::new();
        for _ in 0..kinds {
            let wide = random.within(2, 4);
            let size = [10.0 * f64::from(wide) - 0.5, high - 0.5];
            let per = lay(&rectangle(size), &sheet).unwrap().count;
            let pieces = random.below(4);
            told.push(Kind {
                per_ground: per,
                size: size.map(mm),
                pieces,
            });
            widths.extend((0..pieces).map(|_| wide));
        }
        let shared = share(&told, &sheet).unwrap();
        let alone: u64 = told
            .iter()
            .map(|kind| kind.pieces.div_ceil(u64::from(kind.per_ground)))
            .sum();
        assert!(shared.grounds <= alone, "{shared:?} of {told:?}");
        let best = fewest(&widths, row, rows as usize) as u64;
        assert!(
            shared.grounds <= best + 1,
            "{} of {best}: {told:?}",
            shared.grounds
        );
        for (i, kind) in told.iter().enumerate() {
            let runs = shared.runs.iter().filter(|run| run.kind == i);
            let laid: u64 = runs.map(|run| u64::from(run.pieces)).sum();
            assert_eq!(
                laid + shared.full[i] * u64::from(kind.per_ground),
                kind.pieces
            );
        }
        assert!(shared.runs.iter().all(|run| run.ground < shared.shared));
    }
}

/// Ten thousand kinds, three of each: rows of three 30 mm boxes, 12 to a sheet of 100 by 130.
#[test]
fn ten_thousand_kinds_share_their_sheets() {
    let sheet = ground([100.0, 130.0], 0.0, 2.0);
    let kind = Kind {
        per_ground: 12,
        size: [mm(30.0); 2],
        pieces: 3,
    };
    let shared = share(&vec![kind; 10_000], &sheet).unwrap();
    assert_eq!(shared.grounds, 2_500);
    assert_eq!(shared.runs.len(), 10_000);
    let none = Kind {
        per_ground: 0,
        ..kind
    };
    let refused = share(&[kind, none], &sheet).unwrap_err();
    assert!(
        refused.to_string().contains("none of kind 1 fits"),
        "{refused}"
    );
}

/// A bleed of 2 mm about each is as if each round were 4 mm larger.
#[test]
fn a_bleed_is_a_larger_shape() {
    for gap in [0.0, 3.0] {
        let sheet = ground([210.0, 297.0], 5.0, gap);
        let larger = lay(&round(34.0), &sheet).unwrap().count;
        let bleeding = lay(&round(30.0), &with_bleed(sheet, mm(2.0)))
            .unwrap()
            .count;
        assert_eq!(larger, bleeding);
    }
}

#[test]
fn shelves_hold_trays_straight_turned_and_mixed() {
    let shelf = |size: Point, levels| Shelf {
        size: size.map(mm),
        levels,
    };
    let trays = |shelf: Shelf, tray: Point| shelf.trays(tray.map(mm)).unwrap();
    assert_eq!(trays(shelf([900.0, 400.0], 4), [400.0, 300.0]), 12);
    // one straight beside two turned: 300 + 400 wide, 400 and 2 x 200 deep
    assert_eq!(trays(shelf([500.0, 400.0], 1), [200.0, 300.0]), 3);
    // a pinwheel of four 3 by 2 about a hole
    assert_eq!(trays(shelf([500.0, 500.0], 2), [300.0, 200.0]), 8);
    assert_eq!(trays(shelf([500.0, 500.0], 0), [300.0, 200.0]), 0);
    assert_eq!(levels_of(mm(300.0), None).unwrap(), 3);
    assert_eq!(levels_of(mm(299.0), None).unwrap(), 2);
    assert_eq!(levels_of(mm(1800.0), Some(mm(150.0))).unwrap(), 12);
    assert!(levels_of(Length::ZERO, None).is_err());
    let area = shelf_area(18, [mm(300.0), mm(400.0)]).unwrap();
    assert!((area.m2() - 2.16).abs() < 1e-12);
    assert!(shelf([500.0, 500.0], 1).trays([mm(0.0), mm(5.0)]).is_err());
}
