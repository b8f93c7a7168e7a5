//! Coats spread at a wet film thickness: sealer, glue, a level film.

use super::UseError;
use super::check;
use crate::quantity::{Area, Length, Volume};

/// A film spread over an area, on one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brushed {
    /// The area coated, `[m2]`, 0 or more.
    pub area: Area,
    /// Wet film thickness of a coat, `[m]`, 0 or more.
    pub wet: Length,
    /// Coats, `[1]`.
    pub coats: u32,
    /// What a porous ground drinks before a film forms, as a depth of liquid
    /// over the area, `[m]`, 0 or more; taken once, by the first coat, which
    /// fills the pores for the next (common practice, no source). 1 mm is
    /// 1 L/m2.
    pub soak: Length,
}

/// What a brushed film takes, `[m3]`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BrushedVolume {
    /// The films of all the coats.
    pub film: Volume,
    /// What soaks in.
    pub soak: Volume,
}

impl BrushedVolume {
    /// Film and soak together, `[m3]`.
    #[must_use]
    pub fn total(&self) -> Volume {
        self.film + self.soak
    }
}

impl Brushed {
    /// The volume on one piece, before drips, tool and heel.
    ///
    /// ```text
    /// film = A t k        soak = A e   (where there is a coat at all)
    /// ```
    ///
    /// A `[m2]` area, t `[m]` wet film thickness, k `[1]` coats, e `[m]` soak.
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for an area or a length below 0 or not finite.
    ///
    /// ```
    /// use brimful::consumption::Brushed;
    /// use brimful::quantity::{Area, Length};
    /// let tile = Brushed {
    ///     area: Area::from_mm2(108.0 * 108.0),
    ///     wet: Length::from_mm(0.9),
    ///     coats: 1,
    ///     soak: Length::ZERO,
    /// };
    /// assert!((tile.volume()?.total().ml() - 10.5).abs() < 0.05);
    /// # Ok::<(), brimful::consumption::UseError>(())
    /// ```
    pub fn volume(&self) -> Result<BrushedVolume, UseError> {
        check::area("the area in m2", self.area)?;
        check::length("the wet film thickness in m", self.wet)?;
        check::length("the soak in m", self.soak)?;
        let soak = if self.coats == 0 {
            Length::ZERO
        } else {
            self.soak
        };
        Ok(BrushedVolume {
            // A t k
            film: self.area * self.wet * f64::from(self.coats),
            // A e
            soak: self.area * soak,
        })
    }
}

/// The area that a volume covers at a wet film thickness, `[m2]`.
///
/// ```text
/// A = V / t        spreading rate = 1 / t: 1 mm is 1 m2/L, or 10 cm2/mL
/// ```
///
/// # Errors
///
/// [`UseError::OutOfRange`] for a volume below 0 or a thickness not above 0.
pub fn covers(volume: Volume, wet: Length) -> Result<Area, UseError> {
    check::volume("the volume in m3", volume)?;
    check::positive("the wet film thickness in m", wet.m())?;
    Ok(Area::from_m2(volume.m3() / wet.m()))
}

/// The wet film thickness that a label's spreading rate means, `[m]`: a volume over the area it covers.
///
/// ```text
/// t = V / A
/// ```
///
/// # Errors
///
/// [`UseError::OutOfRange`] for a volume below 0 or an area not above 0.
pub fn wet_film(volume: Volume, over: Area) -> Result<Length, UseError> {
    check::volume("the volume in m3", volume)?;
    check::positive("the area covered in m2", over.m2())?;
    Ok(volume / over)
}
