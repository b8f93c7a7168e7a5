//! Rooms in which a coat is not to be laid, hatched and named on the spot.

use super::{Rooms, degrees, wording};
use crate::plan::{Cold, InAir};
use crate::show::chart::axes::Axes;
use crate::show::chart::board::{Board, Note};
use crate::show::draw::font;
use crate::show::draw::palette::{BUOY, INK, MIST, SLATE, SPRAY};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text};

/// From one stroke of hatching to the next, along the x axis, `[px]`.
const HATCH: f64 = 14.0;

/// A closed shape of rooms, and the side of it that is drawn as a line.
pub(super) struct Region {
    shape: Vec<Point>,
    edge: Vec<Point>,
}

impl Region {
    /// The side that is drawn as a line.
    pub(super) fn edge(&self) -> &[Point] {
        &self.edge
    }

    /// Fills, hatches and bounds it.
    ///
    /// # Errors
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        canvas.fill(&self.shape, SPRAY)?;
        for stroke in hatched(&self.shape) {
            canvas.line(&stroke, Pen::solid(MIST, 0.7))?;
        }
        canvas.line(&self.edge, Pen::solid(SLATE, 1.4))
    }
}

/// The regions of a map with their words.
///
/// # Errors
/// [`DrawError::Font`] if the carried faces can't be read.
pub(super) fn lay_out(
    rooms: &Rooms<'_>,
    axes: &Axes,
    board: &mut Board,
) -> Result<(Vec<Region>, Vec<Note>), DrawError> {
    let map = rooms.map;
    let space = axes.space();
    let place = |(temperature, humidity): &InAir| {
        axes.place(degrees(rooms.units, *temperature), humidity.percent())
    };
    let (mut regions, mut notes) = (Vec::new(), Vec::new());
    let strong = Text::plain(font::BODY, INK).at(Anchor::Middle);
    let mut highest = space.top;
    if let Some(limit) = map.too_damp {
        let y = axes.down(limit.percent());
        highest = y;
        regions.push(Region {
            shape: vec![
                Point::new(space.left, space.top),
                Point::new(space.right, space.top),
                Point::new(space.right, y),
                Point::new(space.left, y),
            ],
            edge: vec![Point::new(space.left, y), Point::new(space.right, y)],
        });
    }
    let mut strip = space;
    if let Some(cold) = &map.too_cold {
        let edge: Vec<Point> = cold.edge.iter().map(place).collect();
        let cold_side = edge.iter().map(|p| p.x).fold(space.left, f64::max);
        let inner: Vec<Point> = edge.iter().copied().filter(|p| p.y >= highest).collect();
        let narrow = inner.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        strip.left = edge.last().map_or(space.left, |p| p.x);
        regions.push(cold_region(edge, space));
        notes.extend(
            board.put_clear(vec![cold_words(rooms, cold.why)], |[wide, high]| {
                let inside = space.left + wide / 2.0 + 4.0;
                let beyond = cold_side + wide / 2.0 + 6.0;
                let middles = [0.45, 0.6, 0.3, 0.75, 0.15]
                    .map(|share| highest + (space.bottom - highest) * share);
                let bottom = space.bottom - high / 2.0 - 4.0;
                let fits = wide + 8.0 <= narrow - space.left;
                let x = if fits {
                    f64::midpoint(space.left, narrow).max(inside)
                } else {
                    beyond
                };
                (middles.into_iter().chain([bottom]))
                    .map(|y| Point::new(x, y))
                    .collect()
            })?,
        );
    }
    if let Some(limit) = map.too_damp {
        let words = vec![(wording::too_damp(limit, rooms.units), strong)];
        notes.extend(board.put_clear(vec![words], |size| {
            in_strip(strip, (space.top, highest), size, &[0.25, 0.2, 0.4, 0.5])
        })?);
    }
    let lowest = map.dew.iter().map(|at| place(at).y);
    let lowest = lowest.fold(f64::INFINITY, f64::min);
    if lowest < space.bottom {
        let text = Text::plain(font::BODY, BUOY).at(Anchor::Middle);
        let words = vec![(wording::dew(rooms.units), text)];
        notes.extend(board.put_clear(vec![words], |size| {
            in_strip(
                strip,
                (
                    space.top,
                    if highest > space.top { highest } else { lowest },
                ),
                size,
                &[0.75, 0.66, 0.6, 0.5, 0.4, 0.3],
            )
        })?);
    }
    Ok((regions, notes))
}

/// Middles of words in a strip across the map; under it where it is too low for them.
fn in_strip(
    space: Space,
    (top, bottom): (f64, f64),
    [wide, high]: [f64; 2],
    shares: &[f64],
) -> Vec<Point> {
    let y = if bottom - top > high + 2.0 {
        f64::midpoint(top, bottom)
    } else {
        top + high / 2.0 + 1.0
    };
    let x = |share: f64| {
        let middle = space.left + space.width() * share;
        middle.clamp(
            space.left + wide / 2.0 + 2.0,
            (space.right - wide / 2.0 - 2.0).max(space.left + wide / 2.0 + 2.0),
        )
    };
    let rows = [y, y + high, y + 2.0 * high];
    rows.iter()
        .flat_map(|&y| shares.iter().map(move |&share| Point::new(x(share), y)))
        .collect()
}

/// Rooms left of a line that runs from the driest to the dampest.
fn cold_region(edge: Vec<Point>, space: Space) -> Region {
    let mut shape = edge.clone();
    shape.push(Point::new(space.left, space.top));
    shape.push(Point::new(space.left, space.bottom));
    Region { shape, edge }
}

fn cold_words(rooms: &Rooms<'_>, why: Cold) -> Vec<(String, Text)> {
    let text = Text::plain(font::BODY, INK).at(Anchor::Middle);
    let lines = wording::too_cold(why, rooms.units);
    lines.into_iter().map(|line| (line, text)).collect()
}

/// Strokes that rise to the right through a closed shape.
fn hatched(shape: &[Point]) -> Vec<[Point; 2]> {
    // along a stroke x + y stays the same
    let sums = shape.iter().map(|p| p.x + p.y);
    let (least, most) = sums.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), sum| {
        (l.min(sum), m.max(sum))
    });
    let mut strokes = Vec::new();
    let mut sum = (least / HATCH).ceil() * HATCH;
    while sum < most {
        let mut met: Vec<Point> = (0..shape.len())
            .filter_map(|i| {
                let (a, b) = (shape[i], shape[(i + 1) % shape.len()]);
                let (from, to) = (a.x + a.y - sum, b.x + b.y - sum);
                ((from < 0.0) != (to < 0.0)).then(|| {
                    let t = from / (from - to);
                    Point::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t)
                })
            })
            .collect();
        met.sort_by(|a, b| a.x.total_cmp(&b.x));
        strokes.extend(met.chunks_exact(2).map(|pair| [pair[0], pair[1]]));
        sum += HATCH;
    }
    strokes
}
