//! The words in the picture of a box, clear of every curve.

use super::{Course, Cupboard, LABEL, LIMIT, pen, wording};
use crate::quantity::{Humidity, Show};
use crate::show::chart::board::{Board, CLEAR, Note, strip_along};
use crate::show::chart::panel::Panel;
use crate::show::draw::font;
use crate::show::draw::palette::SLATE;
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text};

/// A note that stands further than this from its curve has a line to it, `[px]`.
const NEAR: f64 = 12.0;

/// Words, with a line to what they are about where that is not near.
pub(super) struct Words {
    note: Note,
    leader: Option<[Point; 2]>,
}

impl Words {
    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        if let Some(leader) = &self.leader {
            canvas.line(leader, Pen::solid(SLATE, 0.7))?;
        }
        self.note.draw(canvas)
    }
}

/// The words of a picture: at their lines, and for those that find no place clear of the curves
/// below them with a piece of their line.
pub(super) struct Laid {
    at_lines: Vec<Words>,
    below: Vec<(Pen, String)>,
}

/// Height of a row below the curves, and the piece of line that begins it, `[px]`.
const ROW: f64 = 22.0;
const SAMPLE: f64 = 40.0;

impl Laid {
    /// What the rows below take up, `[px]`.
    pub(super) fn height(&self) -> f64 {
        self.below.iter().map(|_| ROW).sum()
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>, left: f64, top: f64) -> Result<(), DrawError> {
        self.at_lines
            .iter()
            .try_for_each(|words| words.draw(canvas))?;
        let mut y = top;
        for (pen, words) in &self.below {
            let middle = y + ROW / 2.0;
            let line = [left, left + SAMPLE].map(|x| Point::new(x, middle));
            canvas.line(&line, *pen)?;
            let at = Point::new(left + SAMPLE + 10.0, middle + 4.0);
            canvas.text(words, at, Text::plain(font::SMALL, SLATE))?;
            y += ROW;
        }
        Ok(())
    }
}

/// The words at the lines, and of those that have no place there below.
///
/// # Errors
/// What measuring them returns.
pub(super) fn lay_out(
    cupboard: &Cupboard<'_>,
    panel: &Panel,
    courses: &[Course],
) -> Result<Laid, DrawError> {
    let plan = cupboard.plan;
    let mut board = Board::new(panel.space);
    for course in courses {
        for place in strip_along(&course.points) {
            board.keep_free(place);
        }
    }
    let mut laid = Laid {
        at_lines: Vec::new(),
        below: Vec::new(),
    };
    let levels = [
        (
            plan.limit,
            format!("from {} on very slow", plan.limit.show(cupboard.units)),
            LIMIT,
        ),
        (
            plan.label,
            format!("the label's air, {}", plan.label.show(cupboard.units)),
            LABEL,
        ),
    ];
    for (humidity, words, level_pen) in levels {
        let text = Text::plain(font::SMALL, level_pen.colour).at(Anchor::Middle);
        let lines = vec![(words.clone(), text)];
        let Some(note) = board.put(lines, |size| at_level(panel, humidity, size))? else {
            laid.below.push((level_pen, words));
            continue;
        };
        let y = panel.down(humidity.percent());
        let level = [panel.space.left, panel.space.right].map(|x| Point::new(x, y));
        let leader = leader(note.space(), &level);
        laid.at_lines.push(Words { note, leader });
    }
    for humidity in [plan.limit, plan.label] {
        let y = panel.down(humidity.percent());
        board.keep_free(Space {
            top: y - 2.0,
            bottom: y + 2.0,
            ..panel.space
        });
    }
    for (airing, course) in plan.airings.iter().zip(courses) {
        let colour = pen(airing.why).colour;
        let head = Text::plain(font::BODY, colour).bold();
        let (name, result) = (wording::name(airing), wording::result(cupboard, airing));
        let lines = vec![
            (name.clone(), head),
            (result.clone(), Text::plain(font::SMALL, SLATE)),
        ];
        let places = |size| {
            let mut places = beside(&course.points, size);
            places.extend(anywhere(panel.space, &course.points));
            places
        };
        let Some(note) = board.put(lines, places)? else {
            laid.below
                .push((pen(airing.why), format!("{name}: {result}")));
            continue;
        };
        let leader = leader(note.space(), &course.points);
        laid.at_lines.push(Words { note, leader });
    }
    Ok(laid)
}

/// Middles of words on a level line, over it and under it.
fn at_level(panel: &Panel, humidity: Humidity, [wide, high]: [f64; 2]) -> Vec<Point> {
    let (y, space) = (panel.down(humidity.percent()), panel.space);
    let off = high / 2.0 + 2.0;
    let mut places = Vec::new();
    for off in [0.0, 1.0, 1.5, 2.0, 3.0, 4.0]
        .into_iter()
        .flat_map(|times| [-times * off, times * off])
    {
        for share in [0.0, 0.3, 0.6, 0.9] {
            let x = space.right - 6.0 - wide / 2.0 - share * (space.width() - wide - 12.0);
            places.push(Point::new(x, y + off));
        }
    }
    places
}

/// Middles of words over and under a course.
fn beside(course: &[Point], [wide, high]: [f64; 2]) -> Vec<Point> {
    let (Some(first), Some(last)) = (course.first(), course.last()) else {
        return Vec::new();
    };
    let mut places = Vec::new();
    let near = high / 2.0 + CLEAR + 3.0;
    for off in [-near, near, -2.0 * high, 2.0 * high] {
        for share in [0.3, 0.2, 0.4, 0.5, 0.6, 0.12, 0.7, 0.8, 0.9] {
            let x = first.x + (last.x - first.x) * share;
            let next = course.partition_point(|point| point.x < x).max(1);
            let (Some(a), Some(b)) = (course.get(next - 1), course.get(next)) else {
                continue;
            };
            let y = a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x).max(1e-9);
            places.push(Point::new(x.max(first.x + wide / 2.0 + 8.0), y + off));
        }
    }
    places
}

/// Places all over the picture, the nearest to a course first.
fn anywhere(space: Space, course: &[Point]) -> Vec<Point> {
    let mut places: Vec<(f64, Point)> = Vec::new();
    let mut y = space.top + 12.0;
    while y < space.bottom {
        let mut x = space.left + 20.0;
        while x < space.right {
            let place = Point::new(x, y);
            let off = course.iter().map(|p| (p.x - x).hypot(p.y - y));
            places.push((off.fold(f64::INFINITY, f64::min), place));
            x += 20.0;
        }
        y += 8.0;
    }
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places.into_iter().map(|(_, place)| place).collect()
}

/// A line from words to the nearest place of their curve, where that is not near.
fn leader(space: Space, course: &[Point]) -> Option<[Point; 2]> {
    let edge = |p: &Point| {
        let x = p.x.clamp(space.left, space.right);
        Point::new(x, p.y.clamp(space.top, space.bottom))
    };
    let ends = along(course).map(|p| [edge(&p), p]);
    let length = |ends: &[Point; 2]| (ends[0].x - ends[1].x).hypot(ends[0].y - ends[1].y);
    ends.min_by(|a, b| length(a).total_cmp(&length(b)))
        .filter(|ends| length(ends) > NEAR)
}

/// Points along a curve, some pixels apart.
fn along(course: &[Point]) -> impl Iterator<Item = Point> + '_ {
    course.windows(2).flat_map(|pair| {
        let (a, b) = (pair[0], pair[1]);
        (0..=16).map(move |step| {
            let share = f64::from(step) / 16.0;
            Point::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
        })
    })
}
