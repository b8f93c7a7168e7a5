//! How runny a coating is: with temperature, and with the reaction of a curing resin.
//!
//! ```text
//! mu  = mu23 exp(E/R (1/T - 1/296.15 K))
//! mu  = mu0 (ag / (ag - a))^(1.5 + a)           a curing resin, gel at ag
//! ```
//!
//! The second is the form of Castro and Macosko (1980), its exponents from memory.

use super::epoxy::glass::arrhenius;
use super::epoxy::kinetics::{GEL, STATED_AT};
use crate::quantity::{DynamicViscosity, MolarEnergy, Temperature};

/// How runny a fresh coating is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Viscosity {
    /// At 23 °C, above 0.
    pub at_23: DynamicViscosity,
    /// E: how steeply it falls with warmth.
    pub energy: MolarEnergy,
}

impl Viscosity {
    /// At a temperature.
    #[must_use]
    pub fn at(&self, here: Temperature) -> DynamicViscosity {
        // mu = mu23 exp(E/R (1/T - 1/296.15))
        self.at_23 / arrhenius(self.energy, STATED_AT, here)
    }
}

/// How many times thicker than fresh a resin is that has reacted so far, `[1]`:
/// infinite from the gel on.
///
/// ```text
/// (ag / (ag - a))^(1.5 + a)
/// ```
#[must_use]
pub fn thickening(conversion: f64) -> f64 {
    if conversion >= GEL {
        return f64::INFINITY;
    }
    // Castro-Macosko: A = 1.5, B = 1
    (GEL / (GEL - conversion)).powf(1.5 + conversion)
}
