//! What every picture has around it: its finding on top, its cautions at the foot.

use super::care::Care;
use crate::show::draw::font::{self, Weight};
use crate::show::draw::palette::{INK, MIST, SLATE};
use crate::show::draw::place::{Fit, Space, wrap};
use crate::show::draw::{Canvas, DrawError, Pen, Picture, Point, Text, Words};

/// The width of every picture, `[px]`.
pub(super) const WIDTH: f64 = 960.0;
/// The margin around it, `[px]`.
pub(super) const PAD: f64 = 40.0;
/// From one line of words to the next: of the title, the line under it, and the foot, `[px]`.
const PITCH: [f64; 3] = [29.0, 21.0, 17.0];

/// The words around a picture, broken into lines.
pub(super) struct Frame {
    title: Vec<String>,
    under: Vec<String>,
    foot: Vec<String>,
}

impl Frame {
    /// Breaks the finding, the line under it and the cautions into lines.
    ///
    /// # Errors
    /// [`DrawError::Font`] if the carried faces can't be read.
    pub(super) fn lay_out(
        title: &str,
        under: &str,
        care: Option<&Care>,
    ) -> Result<Self, DrawError> {
        let foot = care.map_or("", Care::words);
        Ok(Self {
            title: lines(title, (font::TITLE, Weight::Bold), 3)?,
            under: lines(under, (font::HEAD, Weight::Regular), 3)?,
            // every word of a caution is said, however many lines it takes
            foot: lines(foot, (font::SMALL, Weight::Regular), usize::MAX)?,
        })
    }

    /// Where the picture itself begins, `[px]` from the top.
    pub(super) fn top(&self) -> f64 {
        PAD + block(&self.title, PITCH[0]) + block(&self.under, PITCH[1]) + 14.0
    }

    /// The space for a picture that takes up `height`, `[px]`.
    pub(super) fn body(&self, height: f64) -> Space {
        Space {
            left: PAD,
            top: self.top(),
            right: WIDTH - PAD,
            bottom: self.top() + height,
        }
    }

    /// The picture whose own part ends at `bottom`, `[px]` from the top.
    ///
    /// # Errors
    /// What [`Picture::draw`] returns.
    pub(super) fn picture(
        &self,
        words: Words,
        bottom: f64,
        draw: impl FnOnce(&Canvas<'_>) -> Result<(), DrawError>,
    ) -> Result<Picture, DrawError> {
        let foot = if self.foot.is_empty() {
            0.0
        } else {
            18.0 + block(&self.foot, PITCH[2])
        };
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a cast from f64 saturates, and the height is a sum of some hundreds"
        )]
        let size = (WIDTH as u32, (bottom + foot + 28.0).ceil() as u32);
        Picture::draw(size, words, |canvas| {
            let title = Text::plain(font::TITLE, INK).bold();
            write(canvas, &self.title, PAD + 18.0, (PITCH[0], title))?;
            let under = PAD + block(&self.title, PITCH[0]) + 17.0;
            let slate = |size| Text::plain(size, SLATE);
            write(canvas, &self.under, under, (PITCH[1], slate(font::HEAD)))?;
            if !self.foot.is_empty() {
                let rule = [PAD, WIDTH - PAD].map(|x| Point::new(x, bottom + 18.0));
                canvas.line(&rule, Pen::solid(MIST, 0.8))?;
                let first = bottom + 18.0 + PITCH[2];
                write(canvas, &self.foot, first, (PITCH[2], slate(font::SMALL)))?;
            }
            draw(canvas)
        })
    }
}

/// Height of lines of words set `pitch` apart, `[px]`.
fn block(lines: &[String], pitch: f64) -> f64 {
    pitch * lines.iter().map(|_| 1.0).sum::<f64>()
}

fn lines(
    text: &str,
    (size, weight): (f64, Weight),
    lines: usize,
) -> Result<Vec<String>, DrawError> {
    if text.is_empty() {
        return Ok(Vec::new());
    }
    wrap(
        text,
        Fit {
            size,
            weight,
            room: WIDTH - 2.0 * PAD,
            lines,
        },
    )
}

fn write(
    canvas: &Canvas<'_>,
    lines: &[String],
    first: f64,
    (pitch, text): (f64, Text),
) -> Result<(), DrawError> {
    let mut y = first;
    for line in lines {
        canvas.text(line, Point::new(PAD, y), text)?;
        y += pitch;
    }
    Ok(())
}
