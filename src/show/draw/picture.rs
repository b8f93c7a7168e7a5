//! A finished picture: SVG, and PNG from the same SVG.

use plotters::prelude::{IntoDrawingArea, SVGBackend};
use plotters::style::RGBColor;

use super::canvas::{Canvas, UNITS_PER_PX, refused};
use super::{DrawError, Painter, font, palette, xml};

/// What a picture says to someone who can't see it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// What it finds, in a sentence.
    pub title: String,
    /// What it shows, with its numbers.
    pub description: String,
}

/// A finished picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The drawing as SVG text. It refers to nothing outside itself.
    pub svg: String,
    /// Width, `[px]` at single size.
    pub width: u32,
    /// Height, `[px]` at single size.
    pub height: u32,
    /// What it says in words, also inside the SVG.
    pub words: Words,
}

impl Picture {
    /// Draws a picture of a size in `[px]` on white.
    ///
    /// # Errors
    ///
    /// Whatever `draw` returns, and [`DrawError::Font`] or [`DrawError::Plot`].
    pub fn draw(
        (width, height): (u32, u32),
        words: Words,
        draw: impl FnOnce(&Canvas<'_>) -> Result<(), DrawError>,
    ) -> Result<Self, DrawError> {
        font::ready()?;
        let units = UNITS_PER_PX.unsigned_abs();
        let mut body = String::new();
        {
            let root = SVGBackend::with_string(&mut body, (width * units, height * units))
                .into_drawing_area();
            root.fill(&RGBColor::from(palette::PAPER))
                .map_err(refused)?;
            draw(&Canvas::new(root.clone()))?;
            root.present().map_err(refused)?;
        }
        let svg = head(&body, (width, height), &words)?;
        Ok(Self {
            svg,
            width,
            height,
            words,
        })
    }

    /// The picture as a PNG, `scale` times its size: 1 for a screen, 2 or 3 for paper.
    ///
    /// # Errors
    ///
    /// As [`Painter::png`].
    pub fn png(&self, scale: f32) -> Result<Vec<u8>, DrawError> {
        Painter::default().png(self, scale)
    }
}

/// Gives the drawing its shown size and its words.
fn head(body: &str, (width, height): (u32, u32), words: &Words) -> Result<String, DrawError> {
    let units = UNITS_PER_PX.unsigned_abs();
    let size = format!(r#"width="{}" height="{}""#, width * units, height * units);
    let (before, rest) = body
        .split_once(&size)
        .ok_or_else(|| DrawError::Plot("its size is not where it was".to_owned()))?;
    let (attributes, rest) = rest
        .split_once('>')
        .ok_or_else(|| DrawError::Plot("its head does not end".to_owned()))?;
    let title = xml::escape(&words.title);
    let description = xml::escape(&words.description);
    Ok(format!(
        "{before}width=\"{width}\" height=\"{height}\" role=\"img\"{attributes}>\n<title>{title}</title>\n<desc>{description}</desc>{rest}"
    ))
}
