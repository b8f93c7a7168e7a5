//! The colours of every picture, and how well they can be told apart.
//!
//! Few, named after the quay where our invented fair is held. Lines never
//! rely on colour alone: each kind has its own dash and a label at its side.

/// An opaque colour, eight bits a channel, sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour {
    /// Red, 0 to 255.
    pub r: u8,
    /// Green, 0 to 255.
    pub g: u8,
    /// Blue, 0 to 255.
    pub b: u8,
}

const fn hex(rgb: u32) -> Colour {
    let [_, r, g, b] = rgb.to_be_bytes();
    Colour { r, g, b }
}

/// Ground of every picture: white, as the paper it is printed on.
pub const PAPER: Colour = hex(0x00FF_FFFF);
/// Words and outlines.
pub const INK: Colour = hex(0x001C_2A36);
/// Words of less weight: ticks, notes, dimensions.
pub const SLATE: Colour = hex(0x004A_5A68);
/// Thin lines that only guide the eye.
pub const MIST: Colour = hex(0x008B_98A3);
/// What is wanted: the target fill.
pub const TIDE: Colour = hex(0x0006_4F63);
/// The upper limit, where something runs over.
pub const BUOY: Colour = hex(0x00B8_400F);
/// The lower limit, where something falls short.
pub const HEATHER: Colour = hex(0x008A_3F9E);
/// Coating, wet.
pub const SHALLOW: Colour = hex(0x00BF_E1E8);
/// Coating that could still be added.
pub const SPRAY: Colour = hex(0x00E9_F5F7);
/// Coating, dry.
pub const POOL: Colour = hex(0x0084_C0CC);
/// Coating at its deepest, seen from above.
pub const DEEP: Colour = hex(0x0062_AAB9);
/// A blank, cut through.
pub const PLANK: Colour = hex(0x00F0_E3CE);
/// The hatching of a cut blank.
pub const GRAIN: Colour = hex(0x00C4_A67C);

/// A blank that drinks nothing, cut through.
pub const SLAB: Colour = hex(0x00E4_E8EC);
/// Its hatching.
pub const SCORE: Colour = hex(0x009A_A6B1);

/// Coating seen from above, from no depth at 0 to the deepest at 1: the darker the deeper.
#[must_use]
pub fn depth(share: f64) -> Colour {
    let mix = |from: u8, to: u8| {
        let value = f64::from(from) + share.clamp(0.0, 1.0) * (f64::from(to) - f64::from(from));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "it lies between two bytes"
        )]
        let byte = value.round() as u8;
        byte
    };
    Colour {
        r: mix(SPRAY.r, DEEP.r),
        g: mix(SPRAY.g, DEEP.g),
        b: mix(SPRAY.b, DEEP.b),
    }
}

/// Colours that words are set in, with their names.
pub const WORDS: [(&str, Colour); 5] = [
    ("ink", INK),
    ("slate", SLATE),
    ("tide", TIDE),
    ("buoy", BUOY),
    ("heather", HEATHER),
];

/// Colours that lines with a meaning are drawn in, with their names.
pub const LINES: [(&str, Colour); 3] = [("tide", TIDE), ("buoy", BUOY), ("heather", HEATHER)];

/// Grounds that words and lines may stand on, with their names.
pub const GROUNDS: [(&str, Colour); 5] = [
    ("paper", PAPER),
    ("shallow", SHALLOW),
    ("spray", SPRAY),
    ("plank", PLANK),
    ("slab", SLAB),
];

impl Colour {
    /// The channels as light, each `[1]` from 0 to 1: sRGB with its curve undone.
    ///
    /// ```text
    /// c / 12.92                        if c <= 0.04045
    /// ((c + 0.055) / 1.055) ^ 2.4      otherwise
    /// ```
    ///
    /// Source: IEC 61966-2-1, as WCAG 2.2 takes it over.
    #[must_use]
    pub fn light(self) -> [f64; 3] {
        [self.r, self.g, self.b].map(|channel| {
            let c = f64::from(channel) / 255.0;
            if c <= 0.040_45 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        })
    }

    /// Relative luminance, `[1]`, 0 for black and 1 for white.
    ///
    /// ```text
    /// L = 0.2126 R + 0.7152 G + 0.0722 B
    /// ```
    ///
    /// Source: WCAG 2.2, definition of "relative luminance".
    #[must_use]
    pub fn luminance(self) -> f64 {
        let [r, g, b] = self.light();
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Contrast with another colour, `[1]`, from 1 (the same) to 21 (black on white).
    ///
    /// ```text
    /// (L1 + 0.05) / (L2 + 0.05), L1 the lighter
    /// ```
    ///
    /// Source: WCAG 2.2, definition of "contrast ratio".
    #[must_use]
    pub fn contrast(self, other: Self) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }
}

impl From<Colour> for plotters::style::RGBColor {
    fn from(colour: Colour) -> Self {
        Self(colour.r, colour.g, colour.b)
    }
}
