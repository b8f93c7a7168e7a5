//! Several kinds that share trays or sheets.
//!
//! Each kind first fills whole grounds in its own best layout. What remains of it is laid in
//! straight rows of its box, on grounds that kinds share: the highest rows first, each piece
//! into the open row while there is room, each new row onto the first ground that has room for
//! it (first-fit by decreasing height, a published method of strip packing).

use super::error::{SpaceError, side, space};
use super::layout::{Ground, Layout, MOST_PIECES};
use super::patterns::fit;
use crate::geometry::Outline;
use crate::quantity::Length;

/// One kind of piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kind {
    /// How many of it one ground holds by itself.
    pub per_ground: u32,
    /// The sides of its box.
    pub size: [Length; 2],
    /// How many there are, up to 1,000,000,000.
    pub pieces: u64,
}

impl Kind {
    /// So many pieces of an outline, with its layout on the same ground.
    #[must_use]
    pub fn of(outline: &Outline, layout: &Layout, pieces: u64) -> Self {
        Self {
            per_ground: layout.count,
            size: outline.size(),
            pieces,
        }
    }
}

/// Pieces of one kind on one shared ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Run {
    /// The kind, by its place in the list.
    pub kind: usize,
    /// The ground among the shared ones, from 0.
    pub ground: usize,
    /// How many.
    pub pieces: u32,
}

/// How many grounds several kinds take.
#[derive(Debug, Clone, PartialEq)]
pub struct Shared {
    /// All grounds: the full ones and the shared ones.
    pub grounds: u64,
    /// Of each kind, the grounds that it fills by itself.
    pub full: Vec<u64>,
    /// The grounds that remainders lie on.
    pub shared: usize,
    /// What lies on these.
    pub runs: Vec<Run>,
}

/// The most pieces of a kind that are counted.
const MOST: u64 = 1_000_000_000;

/// Counts the grounds that several kinds take together, never more than each takes alone.
///
/// For shapes cut from sheets with a bleed `b` about each: for rounds and rectangles grow their
/// sizes by `2 b`; for any other, lay them with the gap wider by `2 b` and the margin by `b`,
/// which is the same thing, as [`with_bleed`] does.
///
/// # Errors
/// [`SpaceError`] for a ground or a box out of range, more than 1,000,000,000 pieces of a kind,
/// and a kind of which pieces are wanted while none fits.
pub fn share(kinds: &[Kind], ground: &Ground) -> Result<Shared, SpaceError> {
    let free = free(ground)?;
    let gap = space("the gap", ground.gap)?;
    let mut full = Vec::with_capacity(kinds.len());
    let mut rest: Vec<Rest> = Vec::new();
    for (kind, told) in kinds.iter().enumerate() {
        let left = check(kind, told)?;
        let per = u64::from(told.per_ground.max(1));
        full.push(told.pieces / per);
        if left > 0 {
            rest.push(Rest::of(kind, told, left, free, gap)?);
        }
    }
    // sides as told, so that equal boxes are laid after each other
    rest.sort_by(|a, b| b.box_high.total_cmp(&a.box_high).then(a.kind.cmp(&b.kind)));
    let mut floor = Floor::new(free, gap, rest.len());
    let whole: u64 = full.iter().sum();
    for rest in &rest {
        floor.lay(rest);
    }
    if floor.opened > rest.len() {
        floor.alone(&rest);
    }
    Ok(Shared {
        grounds: whole + floor.opened as u64,
        full,
        shared: floor.opened,
        runs: floor.runs,
    })
}

/// A ground on which pieces are laid with a bleed about each: the gap is wider by twice the
/// bleed, and the margin by the bleed.
#[must_use]
pub fn with_bleed(ground: Ground, bleed: Length) -> Ground {
    Ground {
        margin: ground.margin + bleed,
        gap: ground.gap + bleed + bleed,
        ..ground
    }
}

fn free(ground: &Ground) -> Result<[f64; 2], SpaceError> {
    let margin = space("the margin", ground.margin)?;
    let [length, width] = ground.size;
    let sides = [
        side("a tray's or sheet's length", length)?,
        side("a tray's or sheet's width", width)?,
    ];
    Ok(sides.map(|side| side - 2.0 * margin))
}

/// What remains of a kind once it has filled grounds by itself.
fn check(kind: usize, told: &Kind) -> Result<u32, SpaceError> {
    if told.pieces > MOST {
        return Err(SpaceError::Count {
            what: "pieces of a kind",
            read: told.pieces,
            most: MOST,
        });
    }
    if told.per_ground == 0 && told.pieces > 0 {
        let pieces = told.pieces;
        return Err(SpaceError::NoneFits { kind, pieces });
    }
    if told.per_ground > MOST_PIECES {
        return Err(SpaceError::Count {
            what: "pieces to one tray or sheet",
            read: u64::from(told.per_ground),
            most: u64::from(MOST_PIECES),
        });
    }
    let left = told.pieces % u64::from(told.per_ground.max(1));
    Ok(u32::try_from(left).unwrap_or(u32::MAX))
}

/// What remains of a kind, and the box that it is laid by.
#[derive(Debug, Clone, Copy)]
struct Rest {
    kind: usize,
    left: u32,
    /// The box's side along the rows.
    wide: f64,
    /// The height of its rows.
    box_high: f64,
    /// Whether rows of its box hold what remains on one ground.
    rows_hold: bool,
}

impl Rest {
    /// The way round that takes less height for what remains.
    fn of(
        kind: usize,
        told: &Kind,
        left: u32,
        free: [f64; 2],
        gap: f64,
    ) -> Result<Self, SpaceError> {
        let [length, width] = told.size;
        let size = [
            side("a box's length", length)?,
            side("a box's width", width)?,
        ];
        let ways = [[size[0], size[1]], [size[1], size[0]]].map(|[wide, high]| {
            let per_row = fit(free[0] - wide, wide + gap);
            let rows = left.div_ceil(per_row.max(1));
            let height = f64::from(rows) * (high + gap) - gap;
            let holds = per_row > 0 && height <= free[1] * (1.0 + 1e-12) + 1e-9;
            (wide, high, height, holds)
        });
        let [plain, turned] = ways;
        let better = turned.3 && (!plain.3 || turned.2 < plain.2);
        let (wide, box_high, _, rows_hold) = if better { turned } else { plain };
        Ok(Self {
            kind,
            left,
            wide,
            box_high,
            rows_hold,
        })
    }
}

/// The shared grounds as they fill up.
struct Floor {
    free: [f64; 2],
    gap: f64,
    opened: usize,
    /// The height still free of each ground, as a tree of maxima.
    tree: Vec<f64>,
    leaves: usize,
    /// Where the open row lies: its ground, its height, and what is free along it.
    open: Option<(usize, f64, f64)>,
    runs: Vec<Run>,
}

impl Floor {
    fn new(free: [f64; 2], gap: f64, kinds: usize) -> Self {
        // no kind opens more than one ground: its rows all fit onto one
        let leaves = (kinds + 1).next_power_of_two();
        Self {
            free,
            gap,
            opened: 0,
            tree: vec![f64::NEG_INFINITY; 2 * leaves],
            leaves,
            open: None,
            runs: Vec::new(),
        }
    }

    fn lay(&mut self, rest: &Rest) {
        if !rest.rows_hold {
            self.own(rest);
            return;
        }
        let mut left = rest.left;
        while left > 0 {
            let taken = self.fill_open_row(rest, left);
            left -= taken;
            if left > 0 {
                self.open_row(rest.box_high);
            }
        }
    }

    /// A ground of its own, in the kind's own layout, which nothing else is laid onto.
    fn own(&mut self, rest: &Rest) {
        let ground = self.start(f64::NEG_INFINITY);
        self.note(rest.kind, ground, rest.left);
    }

    /// Each kind's remainder on a ground of its own.
    fn alone(&mut self, all: &[Rest]) {
        *self = Self::new(self.free, self.gap, all.len());
        for rest in all {
            self.own(rest);
        }
    }

    /// Lays what it can of a kind into the open row, and tells how many that were.
    fn fill_open_row(&mut self, rest: &Rest, left: u32) -> u32 {
        let Some((ground, high, room)) = self.open else {
            return 0;
        };
        if high < rest.box_high - 1e-9 {
            return 0;
        }
        let taken = fit(room - rest.wide, rest.wide + self.gap).min(left);
        if taken > 0 {
            let used = f64::from(taken) * (rest.wide + self.gap);
            self.open = Some((ground, high, room - used));
            self.note(rest.kind, ground, taken);
        }
        taken
    }

    /// Opens a row on the first ground with room for it, or on a new one.
    fn open_row(&mut self, high: f64) {
        let ground = match self.first_with(high - 1e-9) {
            Some(ground) => ground,
            None => self.start(self.free[1]),
        };
        let left = self.tree[self.leaves + ground] - high - self.gap;
        self.set(ground, left);
        self.open = Some((ground, high, self.free[0]));
    }

    fn start(&mut self, height: f64) -> usize {
        if self.opened == self.leaves {
            self.grow();
        }
        self.opened += 1;
        self.set(self.opened - 1, height);
        self.opened - 1
    }

    fn grow(&mut self) {
        let heights = self.tree[self.leaves..].to_vec();
        self.leaves *= 2;
        self.tree = vec![f64::NEG_INFINITY; 2 * self.leaves];
        for (ground, height) in heights.into_iter().enumerate() {
            self.set(ground, height);
        }
    }

    fn set(&mut self, ground: usize, height: f64) {
        let mut node = self.leaves + ground;
        self.tree[node] = height;
        while node > 1 {
            node /= 2;
            self.tree[node] = self.tree[2 * node].max(self.tree[2 * node + 1]);
        }
    }

    fn first_with(&self, height: f64) -> Option<usize> {
        if self.tree[1] < height {
            return None;
        }
        let mut node = 1;
        while node < self.leaves {
            node *= 2;
            if self.tree[node] < height {
                node += 1;
            }
        }
        Some(node - self.leaves)
    }

    fn note(&mut self, kind: usize, ground: usize, pieces: u32) {
        match self.runs.last_mut() {
            Some(run) if run.kind == kind && run.ground == ground => run.pieces += pieces,
            _ => self.runs.push(Run {
                kind,
                ground,
                pieces,
            }),
        }
    }
}
