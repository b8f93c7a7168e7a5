//! PNGs of pictures.

use resvg::{tiny_skia, usvg};

use super::{DrawError, Picture, font};

/// Paints pictures, and keeps its memory from one to the next: millions of pixels that come anew
/// from the system each time take a good part of the time of painting them.
#[derive(Debug, Default)]
pub struct Painter {
    /// Red, green, blue and how opaque, pixel by pixel.
    pixels: Vec<u8>,
}

impl Painter {
    /// A picture as a PNG, `scale` times its size: 1 for a screen, 2 or 3 for paper.
    ///
    /// # Errors
    ///
    /// [`DrawError::Scale`] if `scale` is not within 0.1 to 8; [`DrawError::Svg`]
    /// or [`DrawError::Png`] if painting fails.
    pub fn png(&mut self, picture: &Picture, scale: f32) -> Result<Vec<u8>, DrawError> {
        if !(0.1..=8.0).contains(&scale) {
            return Err(DrawError::Scale(scale));
        }
        let tree = usvg::Tree::from_str(&picture.svg, font::options())?;
        let pixels = |px: f32| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a picture's side is some hundreds of pixels, times at most 8"
            )]
            let whole = (px * scale).round().max(1.0) as u32;
            whole
        };
        let (width, height) = (pixels(tree.size().width()), pixels(tree.size().height()));
        // Its paper covers all that was painted here before, but for pixels that it covers in part.
        let sides = [tree.size().width(), tree.size().height()];
        if sides.iter().any(|side| (side * scale).fract() != 0.0) {
            self.pixels.clear();
        }
        (self.pixels).resize(4 * width as usize * height as usize, WHITE);
        let mut map = tiny_skia::PixmapMut::from_bytes(&mut self.pixels, width, height)
            .ok_or(DrawError::Scale(scale))?;
        let transform = tiny_skia::Transform::from_scale(scale, scale);
        resvg::render(&tree, transform, &mut map);
        packed(colours(&mut self.pixels), width, height).map_err(|e| DrawError::Png(e.to_string()))
    }
}

/// What each channel of white paper is, and how opaque that is.
const WHITE: u8 = u8::MAX;

/// The red, green and blue of each pixel, written over the pixels: on white paper each is opaque,
/// and its channels are as they are shown.
fn colours(pixels: &mut [u8]) -> &[u8] {
    let mut some = [[0; 4]; 256];
    let count = pixels.len() / 4;
    for first in (0..count).step_by(some.len()) {
        let some = &mut some[..(count - first).min(256)];
        let from = &pixels.as_chunks().0[first..][..some.len()];
        some.copy_from_slice(from);
        let (colours, _) = pixels[3 * first..].as_chunks_mut();
        for (colour, [r, g, b, _]) in colours.iter_mut().zip(some) {
            *colour = [*r, *g, *b];
        }
    }
    &pixels[..3 * count]
}

/// An opaque picture packed as PNG: three channels, and the quickest packing. The
/// usual one takes three times as long as all the drawing, for files of a quarter of the size.
fn packed(colours: &[u8], width: u32, height: u32) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    encoder.set_filter(png::Filter::Sub);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(colours)?;
    writer.finish()?;
    Ok(bytes)
}
