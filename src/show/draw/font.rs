//! The faces every picture is set in, and how wide words come out.

use std::sync::{Arc, OnceLock};

use ab_glyph::{Font, FontRef};
use plotters::style::{FontStyle, register_font};
use resvg::usvg;

use super::DrawError;

/// The family named in the SVG: the carried face where it is known, else the reader's own.
pub(super) const FAMILY: &str = "DejaVu Sans, sans-serif";

static REGULAR: &[u8] = include_bytes!("../../../data/fonts/DejaVuSans.ttf");
static BOLD: &[u8] = include_bytes!("../../../data/fonts/DejaVuSans-Bold.ttf");
/// For signs in names that the other two lack.
static EMOJI: &[u8] = include_bytes!("../../../data/fonts/NotoEmoji-Regular.ttf");

/// Height of the title, `[px]`.
pub const TITLE: f64 = 22.0;
/// Height of the line under the title, and of headings, `[px]`.
pub const HEAD: f64 = 15.0;
/// Height of labels, `[px]`.
pub const BODY: f64 = 14.0;
/// Height of ticks and notes, `[px]`.
pub const SMALL: f64 = 12.5;

/// How heavy words are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// For most words.
    Regular,
    /// For titles and names.
    Bold,
}

struct Faces {
    regular: Face,
    bold: Face,
    emoji: Emoji,
}

/// The face of last resort.
struct Emoji {
    font: FontRef<'static>,
    em: f64,
}

impl Emoji {
    fn of(bytes: &'static [u8]) -> Option<Self> {
        let font = FontRef::try_from_slice(bytes).ok()?;
        let em = f64::from(font.units_per_em()?);
        Some(Self { font, em })
    }

    /// How far a sign goes, in heights of letters. `None`: it lacks the sign too.
    fn advance(&self, c: char) -> Option<f64> {
        let glyph = self.font.glyph_id(c);
        (glyph.0 != 0).then(|| f64::from(self.font.h_advance_unscaled(glyph)) / self.em)
    }
}

/// A face, and the measures of its most common letters, for most of the time of a layout goes
/// into measuring.
struct Face {
    font: FontRef<'static>,
    /// Font units in the height of its letters.
    em: f64,
    /// How far each letter from [`FIRST`] on goes, in font units.
    advances: Vec<f32>,
    /// How much nearer to each letter each other one stands, in font units.
    kerns: Vec<f32>,
}

/// The letters whose measures are kept: those of ASCII that draw something, and the space.
const FIRST: char = ' ';
const LETTERS: usize = 95;

impl Face {
    fn of(bytes: &'static [u8]) -> Option<Self> {
        let font = FontRef::try_from_slice(bytes).ok()?;
        let glyphs: Vec<_> = (FIRST..).take(LETTERS).map(|c| font.glyph_id(c)).collect();
        let advances = glyphs.iter().map(|&glyph| font.h_advance_unscaled(glyph));
        let pairs = (glyphs.iter()).flat_map(|&a| glyphs.iter().map(move |&b| (a, b)));
        Some(Self {
            em: f64::from(font.units_per_em()?),
            advances: advances.collect(),
            kerns: pairs.map(|(a, b)| font.kern_unscaled(a, b)).collect(),
            font,
        })
    }

    fn lacks(&self, c: char) -> bool {
        kept(c).is_none() && self.font.glyph_id(c).0 == 0
    }

    /// How far a letter goes after the one before it, in font units.
    fn step(&self, before: Option<char>, c: char) -> f32 {
        let here = kept(c);
        let advance = here.map_or_else(
            || self.font.h_advance_unscaled(self.font.glyph_id(c)),
            |here| self.advances[here],
        );
        let kern = before.map_or(0.0, |b| match (kept(b), here) {
            (Some(b), Some(here)) => self.kerns[b * LETTERS + here],
            _ => (self.font).kern_unscaled(self.font.glyph_id(b), self.font.glyph_id(c)),
        });
        advance + kern
    }
}

/// The place of a letter among those whose measures are kept.
fn kept(c: char) -> Option<usize> {
    let place = (c as usize).checked_sub(FIRST as usize)?;
    (place < LETTERS).then_some(place)
}

impl Faces {
    fn of(&self, weight: Weight) -> &Face {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }
}

/// Reads both faces and hands them to the drawing library, once.
fn faces() -> Result<&'static Faces, DrawError> {
    static FACES: OnceLock<Option<Faces>> = OnceLock::new();
    FACES
        .get_or_init(read_faces)
        .as_ref()
        .ok_or(DrawError::Font("DejaVu Sans"))
}

fn read_faces() -> Option<Faces> {
    register_font(FAMILY, FontStyle::Normal, REGULAR).ok()?;
    register_font(FAMILY, FontStyle::Bold, BOLD).ok()?;
    Some(Faces {
        regular: Face::of(REGULAR)?,
        bold: Face::of(BOLD)?,
        emoji: Emoji::of(EMOJI)?,
    })
}

/// Makes the faces known to the drawing library. Costs nothing the second time.
///
/// # Errors
///
/// [`DrawError::Font`] if a carried face can't be read.
pub(super) fn ready() -> Result<(), DrawError> {
    faces().map(drop)
}

/// How wide one line of text comes out, `[px]`, at a size in `[px]`.
///
/// Advances and pair kerning of the carried faces; marks that draw nothing
/// (direction marks, joiners) count nothing. Letters that the faces lack
/// count as the empty box that stands for them.
///
/// # Errors
///
/// [`DrawError::Font`] if a carried face can't be read.
pub fn width(text: &str, size: f64, weight: Weight) -> Result<f64, DrawError> {
    Ok(Line::new(weight)?.with(text).width(size))
}

/// A line of text that is measured as it grows.
#[derive(Clone, Copy)]
pub(super) struct Line {
    faces: &'static Faces,
    weight: Weight,
    /// Its width, in heights of letters.
    ems: f64,
    /// The letter that the next one is kerned to.
    before: Option<char>,
}

impl Line {
    /// A line without letters.
    ///
    /// # Errors
    ///
    /// As [`width`].
    pub fn new(weight: Weight) -> Result<Self, DrawError> {
        Ok(Self {
            faces: faces()?,
            weight,
            ems: 0.0,
            before: None,
        })
    }

    /// The line with some text more.
    pub fn with(mut self, text: &str) -> Self {
        let face = self.faces.of(self.weight);
        for c in text.chars().filter(|c| !draws_nothing(*c)) {
            let elsewhere = if face.lacks(c) {
                self.faces.emoji.advance(c)
            } else {
                None
            };
            if let Some(advance) = elsewhere {
                self.ems += advance;
                // the next letter is not kerned to one of another face
                self.before = None;
            } else {
                self.ems += f64::from(face.step(self.before, c)) / face.em;
                self.before = Some(c);
            }
        }
        self
    }

    /// How wide it comes out at a size, both in `[px]`.
    pub fn width(self, size: f64) -> f64 {
        self.ems * size
    }
}

/// The characters of `text` that the carried faces have no letter for, each once.
///
/// A PNG shows an empty box for each; a browser that shows the SVG takes
/// them from its own fonts.
///
/// # Errors
///
/// [`DrawError::Font`] if a carried face can't be read.
pub fn missing(text: &str) -> Result<Vec<char>, DrawError> {
    let faces = faces()?;
    let mut lacking = Vec::new();
    for c in text.chars() {
        let lacks = faces.regular.lacks(c) && faces.emoji.advance(c).is_none();
        if !draws_nothing(c) && lacks && !lacking.contains(&c) {
            lacking.push(c);
        }
    }
    Ok(lacking)
}

/// Direction marks, joiners and variation selectors: default-ignorable in Unicode.
fn draws_nothing(c: char) -> bool {
    matches!(c, '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}')
}

/// The settings that SVG is read with: the carried faces and nothing of the machine's.
pub(super) fn options() -> &'static usvg::Options<'static> {
    static OPTIONS: OnceLock<usvg::Options<'static>> = OnceLock::new();
    OPTIONS.get_or_init(|| {
        let mut fonts = usvg::fontdb::Database::new();
        for face in [REGULAR, BOLD, EMOJI] {
            fonts.load_font_source(usvg::fontdb::Source::Binary(Arc::new(face)));
        }
        fonts.set_sans_serif_family("DejaVu Sans");
        usvg::Options {
            font_family: "DejaVu Sans".to_owned(),
            fontdb: Arc::new(fonts),
            ..usvg::Options::default()
        }
    })
}
