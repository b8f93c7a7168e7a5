//! How runny a coating is: with temperature, and with the reaction of a curing resin.
//!
//! ```text
//! mu  = mu23 exp(E/R (1/T - 1/296.15 K))
//! mu  = mu0 (ag / (ag - a))^(1.5 + a)           a curing resin, gel at ag
//! ```
//!
//! The second is the form of Castro and Macosko (1980), its exponents from memory.

use super::epoxy::glass::arrhenius;
use super::epoxy::kinetics::{GEL, Isotherm, STATED_AT};
use super::law::LawError;
use super::numeric::{integral, root};
use crate::quantity::{Density, Length, MolarEnergy, Temperature, Time};

/// How runny a fresh coating is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Viscosity {
    /// At 23 °C, `[Pa s]`, above 0.
    pub at_23: f64,
    /// E: how steeply it falls with warmth.
    pub energy: MolarEnergy,
}

impl Viscosity {
    /// A mixed dome resin: typical, from memory, not checked against a source.
    pub const DOME_RESIN: Self = Self {
        at_23: 0.8,
        energy: MolarEnergy::from_kj_per_mol(70.0),
    };
    /// A water-based glaze, which thins as water does: typical, from memory, not
    /// checked against a source. At the tiny stress of a bubble it is thicker still.
    pub const GLAZE: Self = Self {
        at_23: 5.0,
        energy: MolarEnergy::from_kj_per_mol(22.0),
    };

    /// At a temperature, `[Pa s]`.
    #[must_use]
    pub fn at(&self, here: Temperature) -> f64 {
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

/// A bubble that rises from the bottom of a layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rising {
    /// Diameter of the bubble, 0.001 mm up to the depth of the layer.
    pub bubble: Length,
    /// Depth of the layer, at most 50 mm.
    pub layer: Length,
    /// Density of the coating.
    pub density: Density,
}

/// Standard gravity, `[m/s2]`, exact.
const GRAVITY: f64 = 9.806_65;

/// How long a bubble takes to rise through a layer of resin that cures meanwhile,
/// kept as warm as its room; `None` if the gel holds it.
///
/// ```text
/// h - d = integral of v dt,   v = g rho d^2 / (18 mu(t))
/// ```
///
/// Stokes' speed of a rigid bubble, the slower of the two that are published: in
/// resin something always coats a bubble.
///
/// # Errors
/// [`LawError::OutOfRange`] for a bubble below 0.001 mm or larger than the layer, a
/// layer over 50 mm, a fresh viscosity outside 1e-4 to 1e4 Pa s.
pub fn rises_through_curing(
    rising: &Rising,
    fresh: f64,
    reaction: &Isotherm,
) -> Result<Option<Time>, LawError> {
    let (d, h) = (rising.bubble.m(), rising.layer.m());
    LawError::check("depth of a layer", h, (1e-6, 0.05))?;
    LawError::check("diameter of a bubble", d, (1e-6, h))?;
    LawError::check("viscosity", fresh, (1e-4, 1e4))?;
    // the time at the fresh viscosity: 18 mu0 (h - d) / (g rho d^2)
    let needed = 18.0 * fresh * (h - d) / (GRAVITY * rising.density.kg_per_m3() * d * d);
    // integral of mu0/mu dt = integral of (1 - a/ag)^(1.5 + a) / (da/dt) da
    let risen =
        |from: f64, to: f64| integral(|a| 1.0 / (thickening(a) * reaction.rate(a)), from, to, 1);
    let (mut passed, mut a) = (0.0, 0.0);
    while a < LAST {
        let end = panel_end(reaction, a);
        let step = risen(a, end);
        if passed + step >= needed {
            let there = root(|x| passed + risen(a, x) - needed, a, end);
            return Ok(Some(Time::from_s(reaction.seconds(0.0, there))));
        }
        passed += step;
        a = end;
    }
    Ok(None)
}

/// Where resin is as good as set: a hair before the gel.
const LAST: f64 = GEL * (1.0 - 1e-9);

/// Panels shrink towards the gel, where the resin thickens without bound, as they
/// do in the reaction's own quadrature.
fn panel_end(reaction: &Isotherm, a: f64) -> f64 {
    reaction.panel_end(a).min(f64::midpoint(a, GEL))
}
