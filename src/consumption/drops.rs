//! A pour counted in drops.

use super::UseError;
use super::check;
use crate::quantity::Volume;

/// A maker's own count: so many drops of a bottle gave so much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DropCount {
    /// Drops counted, at least one.
    pub drops: u32,
    /// The volume that they gave, `[m3]`, above 0.
    pub gave: Volume,
}

impl DropCount {
    /// The volume of one drop.
    ///
    /// # Errors
    /// [`UseError::OutOfRange`] for no drops, or a volume not above 0.
    pub fn drop(&self) -> Result<Volume, UseError> {
        check::positive("the number of drops", f64::from(self.drops))?;
        check::positive("the volume that the drops gave in m3", self.gave.m3())?;
        Ok(self.gave / f64::from(self.drops))
    }

    /// Drops in a volume, to the nearest whole one: half a drop can't be given.
    ///
    /// # Errors
    /// Those of [`DropCount::drop`]; [`UseError::OutOfRange`] for a volume
    /// below 0.
    ///
    /// ```
    /// use brimful::consumption::DropCount;
    /// use brimful::quantity::Volume;
    /// let count = DropCount { drops: 100, gave: Volume::from_ml(5.0) };
    /// assert_eq!(count.in_volume(Volume::from_ml(0.44))?, 9);
    /// # Ok::<(), brimful::consumption::UseError>(())
    /// ```
    pub fn in_volume(&self, volume: Volume) -> Result<u64, UseError> {
        let drop = self.drop()?;
        check::volume("the volume to give in m3", volume)?;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a volume is not below 0; a number past all drops is the largest"
        )]
        Ok((volume / drop).round() as u64)
    }
}
