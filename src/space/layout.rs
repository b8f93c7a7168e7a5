//! How many pieces of one outline lie on a tray or sheet, and where.
//!
//! The best of: straight rows, staggered rows (also with the pitch stretched so that they nest
//! deeper), slanted rows, rows and neighbours turned about, all of these with the piece turned
//! by a quarter and into its narrowest rectangle, and along either side; for boxes, and the
//! boxes of close pairs, also blocks that lie both ways. These are patterns, not a proof that no other arrangement holds more:
//! on small trays an irregular one can hold two more (15 discs in the least square that holds
//! them, four T in a square of 4 by 4).
//!
//! * **Gaps are true distances** between outlines. Discs and rectangles are exact. Any other
//!   outline is taken larger by at most 0.02 mm where it is curved, never smaller, and its box is
//!   exact as it was told.
//! * **Larger never holds fewer**: with discs, for the tray, the margin and the gap; with any
//!   outline but sharp rectangles, for the tray and the margin, as its patterns do not depend on
//!   them. Rectangles' patterns are all tried up to some 200 to a tray; past that the search
//!   tries fewer, and there a tray a little larger may be told one fewer. An odd outline's shifts
//!   go by its pitch, so that a smaller gap, too, may be told a piece or two fewer.
//! * **Magnets** jump together when they lie close. Give a wider gap: [`MAGNET_GAP`] is common
//!   practice, no source. How far is far enough depends on the magnets: try two on the tray first.

use super::error::{SpaceError, side, space};
use super::families::Nest;
use super::outset::Drawn;
use super::patterns::{Found, Spot};
use super::turned::{Point, Turned, narrowest};
use super::{blocks, disc};
use crate::geometry::{Form, Outline};
use crate::quantity::{Angle, Area, Length};

/// The most pieces that are laid out on one tray or sheet.
pub const MOST_PIECES: u32 = 100_000;

/// A gap at which small magnets are usually let lie: common practice, no source.
pub const MAGNET_GAP: Length = Length::from_mm(40.0);

/// A tray or a sheet, and the room that is kept on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground {
    /// Its two sides, each above 0 and at most 100 m.
    pub size: [Length; 2],
    /// What stays free along its edge, from 0 up.
    pub margin: Length,
    /// What stays free between two pieces, from 0 up.
    pub gap: Length,
}

/// How pieces lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// In straight rows and columns.
    Straight,
    /// Every other row shifted along.
    Staggered,
    /// Each row shifted along by as much again as the one before it.
    Slanted,
    /// Every other row, or every other piece, turned about.
    Alternating,
    /// Some one way and some another, or in no rows.
    Mixed,
}

/// One piece's place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Where the point that was the middle of its box lies, from a corner of the ground.
    pub at: [Length; 2],
    /// How far it is turned about that point, counter-clockwise, from 0 to a full turn.
    pub turned: Angle,
}

/// Rows of pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Rows {
    /// Pieces in each row, from the first.
    pub counts: Vec<u32>,
    /// From piece to piece along a row; with pieces turned about, from one to the next that lies
    /// as it does.
    pub pitch: Length,
    /// From row to row, on average; 0 with one row.
    pub step: Length,
    /// The least and the most from one row to the next; 0 with one row.
    pub steps: [Length; 2],
    /// Whether they run along the ground's second side.
    pub across: bool,
}

/// Pieces of one outline on one ground.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// How many.
    pub count: u32,
    /// How they lie.
    pub how: How,
    /// Their rows; none where they are mixed.
    pub rows: Option<Rows>,
    /// Where each lies.
    pub places: Vec<Place>,
    /// The share of the ground that the pieces cover is this over its area.
    pub covered: Area,
}

/// Lays as many pieces of one outline on a ground as the patterns above hold. None at all is an
/// answer: a count of 0. Holes in a piece play no part.
///
/// # Errors
/// [`SpaceError`] for a side, margin or gap out of range, and where the ground's area would hold
/// more than [`MOST_PIECES`].
///
/// ```
/// use brimful::geometry::Outline;
/// use brimful::quantity::Length;
/// use brimful::space::{Ground, lay};
/// let mm = Length::from_mm;
/// let tile = Outline::rectangle(mm(108.0), mm(108.0), Length::ZERO)?;
/// let tray = Ground { size: [mm(451.0), mm(356.0)], margin: mm(10.0), gap: mm(10.0) };
/// // (451 - 20 + 10) / 118 = 3.7 and (356 - 20 + 10) / 118 = 2.9
/// assert_eq!(lay(&tile, &tray)?.count, 6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lay(outline: &Outline, ground: &Ground) -> Result<Layout, SpaceError> {
    let (free, gap) = checked(ground)?;
    let margin = ground.margin.mm();
    let whole = whole_area(outline);
    let room = free.map(|side| (side + gap).max(0.0));
    let might = room[0] * room[1] / (whole.mm2() + gap * gap);
    if might > f64::from(MOST_PIECES) {
        let most = MOST_PIECES;
        return Err(SpaceError::TooMany { might, most });
    }
    let size = outline.size().map(Length::mm);
    let found = match *outline.form() {
        Form::Round { diameter } => disc::best(diameter.mm(), gap, free),
        Form::Rectangle { corner, .. } => {
            let boxes = blocks::best(size, gap, free, 0.0);
            // tight corners leave nothing for a shifted row to sink into
            if corner.mm() < size[0].min(size[1]) / 4.0 {
                boxes
            } else {
                more(odd(outline, gap, free), boxes)
            }
        }
        _ => odd(outline, gap, free),
    };
    Ok(layout(&found, margin, outline))
}

/// The free part's sides, mm, and the gap.
fn checked(ground: &Ground) -> Result<(Point, f64), SpaceError> {
    let [length, width] = ground.size;
    let sides = [
        side("a tray's or sheet's length", length)?,
        side("a tray's or sheet's width", width)?,
    ];
    let margin = space("the margin", ground.margin)?;
    let gap = space("the gap", ground.gap)?;
    Ok((sides.map(|side| side - 2.0 * margin), gap))
}

/// The smallest ground that holds one piece, its margin about it: the piece's box as it was told
/// or, where that is less in area, its narrowest rectangle.
///
/// # Errors
/// [`SpaceError::Space`] for a margin out of range.
pub fn least_ground(outline: &Outline, margin: Length) -> Result<[Length; 2], SpaceError> {
    space("the margin", margin)?;
    let told = outline.size();
    let (drawn, half) = drawn(outline);
    let angle = narrowest(&drawn.points);
    let size = Turned::of(&drawn, half, angle, 0.0).size();
    let less = size[0] * size[1] < told[0].mm() * told[1].mm() * (1.0 - 1e-6);
    let size = if less {
        size.map(Length::from_mm)
    } else {
        told
    };
    Ok(size.map(|side| side + margin + margin))
}

fn drawn(outline: &Outline) -> (Drawn, Point) {
    let half = outline.size().map(|side| side.mm() / 2.0);
    (Drawn::of(outline), half)
}

/// The area within the outer edge.
fn whole_area(outline: &Outline) -> Area {
    let hole = |d: f64| std::f64::consts::FRAC_PI_4 * d * d;
    let holes = outline.holes().iter().map(|it| hole(it.diameter.mm()));
    outline.area() + Area::from_mm2(holes.sum())
}

/// Any outline: in rows that nest, or its boxes in blocks.
fn odd(outline: &Outline, gap: f64, free: Point) -> Found {
    let (drawn, half) = drawn(outline);
    let nest = Nest::of(&drawn, half, gap);
    let boxes = nest
        .boxes()
        .map(|(turn, size)| (turn, blocks::best(size, gap, free, turn.angle)));
    let mut most = nest.best(free);
    for (turn, mut found) in boxes {
        // the box of a piece turned askew need not lie about the piece's own middle
        let middle = [0, 1].map(|k| f64::midpoint(turn.low[k], turn.high[k]));
        for spot in found.rows.iter_mut().flatten() {
            let quarter = (spot.angle - turn.angle).abs() > 1.0;
            let [x, y] = if quarter {
                [-middle[1], middle[0]]
            } else {
                middle
            };
            spot.at = [spot.at[0] - x, spot.at[1] - y];
        }
        most = Some(match most {
            Some(best) => more(best, found),
            None => found,
        });
    }
    if let Some(pairs) = nest.paired(free) {
        most = Some(match most {
            Some(best) => more(best, pairs),
            None => pairs,
        });
    }
    most.unwrap_or(Found {
        how: How::Straight,
        rows: Vec::new(),
        pitch: 0.0,
        across: false,
    })
}

/// The one with more pieces; the first where they have as many.
fn more(first: Found, other: Found) -> Found {
    let count = |found: &Found| found.rows.iter().map(Vec::len).sum::<usize>();
    if count(&other) > count(&first) {
        other
    } else {
        first
    }
}

fn layout(found: &Found, margin: f64, outline: &Outline) -> Layout {
    let counts: Vec<u32> = found
        .rows
        .iter()
        .map(|row| u32::try_from(row.len()).unwrap_or(u32::MAX))
        .collect();
    let count = counts.iter().sum();
    let place = |spot: &Spot| Place {
        at: spot.at.map(|x| Length::from_mm(x + margin)),
        turned: Angle::from_rad(spot.angle.rem_euclid(std::f64::consts::TAU)),
    };
    let how = if count < 2 { How::Straight } else { found.how };
    let rows = (how != How::Mixed).then(|| Rows {
        step: step(found),
        steps: steps(found),
        counts,
        pitch: Length::from_mm(found.pitch),
        across: found.across,
    });
    Layout {
        count,
        how,
        rows,
        places: found.rows.iter().flatten().map(place).collect(),
        covered: outline.area() * f64::from(count),
    }
}

/// From row to row on average: between the first two that lie alike, over the rows between.
fn step(found: &Found) -> Length {
    let heights = heights(found);
    let steps = u32::try_from(heights.len().saturating_sub(1)).unwrap_or(u32::MAX);
    match heights[..] {
        [first, .., last] => Length::from_mm((last - first).abs() / f64::from(steps)),
        _ => Length::ZERO,
    }
}

/// The least and the most from one row to the next.
fn steps(found: &Found) -> [Length; 2] {
    let heights = heights(found);
    let steps = || heights.windows(2).map(|two| (two[1] - two[0]).abs());
    let least = steps().reduce(f64::min).unwrap_or(0.0);
    [least, steps().fold(0.0, f64::max)].map(Length::from_mm)
}

/// How far across the rows each of them lies, mm.
fn heights(found: &Found) -> Vec<f64> {
    let axis = usize::from(!found.across);
    let rows = found.rows.iter();
    rows.filter_map(|row| row.first().map(|spot| spot.at[axis]))
        .collect()
}
