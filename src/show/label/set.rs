//! Setting a label's words: as large as there is room for.

use super::{Label, LabelError, Line};
use crate::quantity::Length;
use crate::show::draw::DrawError;
use crate::show::draw::font::Weight;
use crate::show::draw::place::flow;

/// A line of words in its place on a label; all in `[mm]`, from its upper left corner.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) words: String,
    /// How far down its baseline is.
    pub(super) down: f64,
    /// Height of its letters.
    pub(super) size: f64,
    pub(super) bold: bool,
}

/// A label whose words have their places.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Set {
    pub(super) lines: Vec<Placed>,
    /// How far down the line over its cautions is. `None`: it has none.
    pub(super) rule: Option<f64>,
}

/// What stays free along the edges, `[mm]`.
pub(super) const EDGE: f64 = 3.0;
/// The largest letters, `[mm]`: 10 points of 1/72 inch.
const LARGEST: f64 = 10.0 / 72.0 * 25.4;
/// The smallest that can be read at arm's length, `[mm]`: 5 points (common practice, no source).
const SMALLEST: f64 = 5.0 / 72.0 * 25.4;
/// From one size that is tried to the next.
const SMALLER: f64 = 0.96;
/// How much larger the title's letters are, and how much smaller those of the cautions.
const TITLE: f64 = 1.25;
const CARE: f64 = 0.9;
/// From line to line, and over the line above the cautions, in heights of letters.
const PITCH: f64 = 1.3;
const OVER: f64 = 0.5;

/// Sets a label on its size in the largest letters that fit, or tells what height it would need.
pub(super) fn set(label: &Label, size: [Length; 2], key: &'static str) -> Result<Set, LabelError> {
    let [width, height] = size.map(Length::mm);
    let room = [width - 2.0 * EDGE, height - 2.0 * EDGE];
    let mut letters = LARGEST;
    loop {
        let smallest = letters * CARE <= SMALLEST;
        if smallest {
            letters = SMALLEST / CARE;
        }
        let flow = Flow::of(label, letters, room[0])?;
        if flow.height <= room[1] {
            return Ok(flow.placed(room[1]));
        }
        if smallest {
            return Err(LabelError::TooSmall {
                key,
                title: label.title.clone(),
                width_mm: width,
                height_mm: height,
                needs_mm: (flow.height + 2.0 * EDGE).ceil(),
            });
        }
        letters *= SMALLER;
    }
}

/// A label's words broken into lines for letters of one size.
struct Flow {
    letters: f64,
    title: Vec<Line>,
    lines: Vec<Line>,
    care: Vec<Line>,
    height: f64,
}

impl Flow {
    fn of(label: &Label, letters: f64, room: f64) -> Result<Self, DrawError> {
        let title = broken([&Line::bold(&label.title)], letters * TITLE, room)?;
        let lines = broken(&label.lines, letters, room)?;
        let care: Vec<Line> = label.care.iter().map(Line::plain).collect();
        let care = broken(&care, letters * CARE, room)?;
        let mut height = letters * PITCH * (count(&title) * TITLE + count(&lines));
        if !care.is_empty() {
            height += letters * CARE * (PITCH * count(&care) + 2.0 * OVER);
        }
        Ok(Self {
            letters,
            title,
            lines,
            care,
            height,
        })
    }

    /// Title and lines from the top down, the cautions at the foot.
    fn placed(self, room: f64) -> Set {
        let mut set = Set {
            lines: Vec::new(),
            rule: None,
        };
        let down = set.put(self.title, self.letters * TITLE, EDGE);
        set.put(self.lines, self.letters, down);
        if !self.care.is_empty() {
            let size = self.letters * CARE;
            let foot = EDGE + room - size * PITCH * count(&self.care);
            set.rule = Some(foot - size * OVER);
            set.put(self.care, size, foot);
        }
        set
    }
}

impl Set {
    /// Puts lines one under the other from so far down, and tells how far down they end.
    fn put(&mut self, lines: Vec<Line>, size: f64, mut down: f64) -> f64 {
        for Line { words, bold } in lines {
            down += size * PITCH;
            self.lines.push(Placed {
                words,
                down: down - size * (PITCH - 1.0),
                size,
                bold,
            });
        }
        down
    }
}

/// Lines as they fit into a room.
fn broken<'l>(
    lines: impl IntoIterator<Item = &'l Line>,
    size: f64,
    room: f64,
) -> Result<Vec<Line>, DrawError> {
    let mut all = Vec::new();
    for Line { words, bold } in lines {
        let weight = if *bold { Weight::Bold } else { Weight::Regular };
        let bold = *bold;
        let fitted = flow(words, size, weight, room)?;
        all.extend(fitted.into_iter().map(|words| Line { words, bold }));
    }
    Ok(all)
}

/// How many lines there are, to reckon with.
fn count(lines: &[Line]) -> f64 {
    lines.iter().map(|_| 1.0).sum()
}
