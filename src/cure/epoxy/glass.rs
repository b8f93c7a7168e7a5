//! A resin that turns glassy as it cures.

use crate::quantity::{MolarEnergy, Temperature};

/// How the glass transition climbs as the resin reacts, after `DiBenedetto` (1987):
///
/// ```text
/// Tg = Tg0 + (TgInf - Tg0) L a / (1 - (1 - L) a)
/// ```
///
/// with the conversion `a` from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glass {
    /// Tg0: of the fresh mix.
    pub fresh: Temperature,
    /// `TgInf`: of the resin once all of it has reacted.
    pub cured: Temperature,
    /// L: how late the climb comes, above 0 and at most 1, `[1]`.
    pub bend: f64,
}

impl Glass {
    /// A soft dome resin: typical, from memory, not checked against a source.
    pub const DOME_RESIN: Self = Self {
        fresh: Temperature::from_celsius(-35.0),
        cured: Temperature::from_celsius(55.0),
        bend: 0.45,
    };

    /// The glass transition at a conversion from 0 to 1.
    #[must_use]
    pub fn transition(&self, conversion: f64) -> Temperature {
        let (tg0, l, a) = (self.fresh.celsius(), self.bend, conversion);
        // Tg = Tg0 + (TgInf - Tg0) L a / (1 - (1 - L) a)
        let climb = (self.cured.celsius() - tg0) * l * a / (1.0 - (1.0 - l) * a);
        Temperature::from_celsius(tg0 + climb)
    }

    /// The conversion `av` at which the glass transition has climbed to the coat's
    /// own temperature, `[1]`. Below `fresh` it is negative, above `cured` over 1.
    ///
    /// ```text
    /// av = r / (L + (1 - L) r),   r = (T - Tg0) / (TgInf - Tg0)
    /// ```
    #[must_use]
    pub fn conversion(&self, here: Temperature) -> f64 {
        let (tg0, tg_inf) = (self.fresh.celsius(), self.cured.celsius());
        let r = (here.celsius() - tg0) / (tg_inf - tg0);
        r / (self.bend + (1.0 - self.bend) * r)
    }
}

/// `exp(-E/R (1/T - 1/T0))`: how many times faster than at `from` a step of this energy goes.
pub(in crate::cure) fn arrhenius(energy: MolarEnergy, from: Temperature, here: Temperature) -> f64 {
    (energy.j_per_mol() / crate::cure::numeric::GAS_CONSTANT
        * (1.0 / from.kelvin() - 1.0 / here.kelvin()))
    .exp()
}
