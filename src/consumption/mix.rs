//! A two-part coating: how much of each part, by volume and by weight.

use super::UseError;
use super::check::{self, MOST_COUNTED, number};
use crate::quantity::{Density, Mass, Ratio, Share, Volume};

/// How the label states the ratio of part A to part B, each above 0, `[1]`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MixRatio {
    /// By volume, "2:1 by volume".
    ByVolume {
        /// Parts of A.
        a: Ratio,
        /// Parts of B.
        b: Ratio,
    },
    /// By weight, "100:90 by weight".
    ByWeight {
        /// Parts of A.
        a: Ratio,
        /// Parts of B.
        b: Ratio,
    },
}

/// A two-part coating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoPart {
    /// The label's ratio.
    pub ratio: MixRatio,
    /// Density of part A, `[kg/m3]`, above 0.
    pub density_a: Density,
    /// Density of part B, `[kg/m3]`, above 0.
    pub density_b: Density,
}

impl From<crate::coating::TwoParts> for TwoPart {
    fn from(parts: crate::coating::TwoParts) -> Self {
        Self {
            ratio: MixRatio::ByVolume {
                a: parts.volume_ratio,
                b: Ratio::from_number(1.0),
            },
            density_a: parts.density_a,
            density_b: parts.density_b,
        }
    }
}

/// One part of a mix, in both measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// By volume, `[m3]`.
    pub volume: Volume,
    /// By weight, `[kg]`.
    pub mass: Mass,
}

/// A mix in its two parts. Volumes are taken to add up: mixing shrinks the
/// whole by a little, which is left out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// Part A.
    pub a: Part,
    /// Part B.
    pub b: Part,
}

impl TwoPart {
    /// The share of part A in the volume of the mix, `[1]`.
    ///
    /// ```text
    /// by volume:  x = a / (a + b)
    /// by weight:  x = (a / rhoA) / (a / rhoA + b / rhoB)
    /// ```
    fn share_of_a(&self) -> Result<f64, UseError> {
        let rho_a = check::positive("the density of part A in kg/m3", self.density_a.kg_per_m3())?;
        let rho_b = check::positive("the density of part B in kg/m3", self.density_b.kg_per_m3())?;
        let (MixRatio::ByVolume { a, b } | MixRatio::ByWeight { a, b }) = self.ratio;
        let a = check::positive("the parts of A", a.number())?;
        let b = check::positive("the parts of B", b.number())?;
        let (a, b) = match self.ratio {
            MixRatio::ByVolume { .. } => (a, b),
            MixRatio::ByWeight { .. } => (a / rho_a, b / rho_b),
        };
        // x = 1 / (1 + b / a), the same without a sum that could overflow
        Ok(1.0 / (1.0 + b / a))
    }

    /// Splits a volume of mix.
    ///
    /// ```text
    /// VA = x V    VB = V - VA    mA = rhoA VA    mB = rhoB VB
    /// ```
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a volume below 0, or a ratio or density not above 0.
    ///
    /// ```
    /// use brimful::consumption::{MixRatio, TwoPart};
    /// use brimful::quantity::{Density, Ratio, Volume};
    /// let one = Ratio::from_number(1.0);
    /// let glaze = TwoPart {
    ///     ratio: MixRatio::ByVolume { a: one, b: one },
    ///     density_a: Density::from_g_per_ml(1.10),
    ///     density_b: Density::from_g_per_ml(0.99),
    /// };
    /// let split = glaze.split(Volume::from_ml(200.0))?;
    /// assert!((split.a.mass.g() - 110.0).abs() < 1e-9 && (split.b.mass.g() - 99.0).abs() < 1e-9);
    /// # Ok::<(), brimful::consumption::UseError>(())
    /// ```
    pub fn split(&self, total: Volume) -> Result<Split, UseError> {
        let x = self.share_of_a()?;
        check::volume("the volume to mix in m3", total)?;
        let a = total * x;
        let b = total - a;
        Ok(Split {
            a: Part {
                volume: a,
                mass: a * self.density_a,
            },
            b: Part {
                volume: b,
                mass: b * self.density_b,
            },
        })
    }

    /// Splits a mass of mix.
    ///
    /// ```text
    /// V = m / (x rhoA + (1 - x) rhoB), then as for a volume
    /// ```
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a mass below 0, or a ratio or density not above 0.
    pub fn split_mass(&self, total: Mass) -> Result<Split, UseError> {
        let x = self.share_of_a()?;
        check::not_negative("the mass to mix in kg", total.kg())?;
        let density = self.density_a * x + self.density_b * (1.0 - x);
        self.split(total / density)
    }
}

impl TwoPart {
    /// How far out the smaller part may be for a mix to be worth weighing: our own
    /// choice, for labels ask for the ratio within a few per cent (common practice, no source).
    pub const WORTH_WEIGHING: Share = Share::from_percent(5.0);

    /// The smallest mix worth weighing: its smaller part is at most this share out
    /// on a scale with this step, `[kg]`.
    ///
    /// ```text
    /// m = (step / 2) / share / min(mA, mB)  for mA + mB = 1
    /// ```
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a step or a share not above 0, or a ratio or density not above 0.
    ///
    /// ```
    /// use brimful::consumption::{MixRatio, TwoPart};
    /// use brimful::quantity::{Density, Mass, Ratio, Share};
    /// let resin = TwoPart {
    ///     ratio: MixRatio::ByWeight { a: Ratio::from_number(2.0), b: Ratio::from_number(1.0) },
    ///     density_a: Density::from_g_per_ml(1.10),
    ///     density_b: Density::from_g_per_ml(0.99),
    /// };
    /// let least = resin.smallest_worth_weighing(Mass::from_g(0.1), Share::from_percent(2.0))?;
    /// assert!((least.g() - 7.5).abs() < 1e-9); // 2.5 g of part B, give or take 0.05 g
    /// # Ok::<(), brimful::consumption::UseError>(())
    /// ```
    pub fn smallest_worth_weighing(&self, step: Mass, share: Share) -> Result<Mass, UseError> {
        let share = check::positive("the share that a part may be out", share.fraction())?;
        let unit = Mass::from_kg(1.0);
        // the error of a mix goes as 1 / m
        let of_one = self.split_mass(unit)?.weighing_error(step)?.fraction();
        Ok(unit * (of_one / share))
    }
}

impl Split {
    /// Both parts' volume, `[m3]`.
    #[must_use]
    pub fn volume(&self) -> Volume {
        self.a.volume + self.b.volume
    }

    /// Both parts' mass, `[kg]`.
    #[must_use]
    pub fn mass(&self) -> Mass {
        self.a.mass + self.b.mass
    }

    /// Steps of a scale for part A, part B and the mix, `[1]`.
    ///
    /// ```text
    /// mix = round(m / step)    A = round(mA / step)    B = mix - A
    /// ```
    ///
    /// Whole steps, so that A and B make exactly the mix that is shown. B may
    /// so be a step off its own rounding.
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a step not above 0,
    /// [`UseError::TooMany`] above 1 000 000 000 steps.
    pub fn scale_steps(&self, step: Mass) -> Result<[u64; 3], UseError> {
        let step = check::positive("the scale's step in kg", step.kg())?;
        steps(self.a.mass.kg() / step, self.mass().kg() / step)
    }

    /// Steps of a measuring cup for part A, part B and the mix, `[1]`, as [`Split::scale_steps`].
    ///
    /// # Errors
    ///
    /// Those of [`Split::scale_steps`].
    pub fn cup_steps(&self, step: Volume) -> Result<[u64; 3], UseError> {
        let step = check::some_volume("the cup's step in m3", step)?;
        steps(self.a.volume.m3() / step, self.volume().m3() / step)
    }

    /// How far out the smaller part may be on a scale with this step, as a share of it, `[1]`.
    ///
    /// ```text
    /// (step / 2) / min(mA, mB)
    /// ```
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a step not above 0 or a mix of nothing.
    pub fn weighing_error(&self, step: Mass) -> Result<Share, UseError> {
        let step = check::positive("the scale's step in kg", step.kg())?;
        let least = check::positive(
            "the smaller part in kg",
            self.a.mass.kg().min(self.b.mass.kg()),
        )?;
        Ok(Share::from_fraction(step / 2.0 / least))
    }
}

/// Part A and the mix in whole steps, part B as what is left.
fn steps(a: f64, mix: f64) -> Result<[u64; 3], UseError> {
    if mix.is_nan() || mix > number(MOST_COUNTED) {
        return Err(UseError::TooMany {
            what: "the steps to weigh or measure",
            most: MOST_COUNTED,
        });
    }
    let mix = check::whole(mix.round());
    let a = check::whole(a.round());
    // a <= mix before rounding, and rounding keeps order
    Ok([a, mix - a, mix])
}
