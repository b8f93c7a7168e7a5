//! The liquid as a dome feels it: surface tension, density, capillary length.

use crate::quantity::{Density, Length, SurfaceTension};

/// Standard acceleration of free fall, exact by definition (3rd CGPM, 1901): 9.80665 m/s².
pub const GRAVITY: f64 = 9.80665;

/// A liquid at rest in air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    /// Surface tension against air, `[N/m]`.
    pub surface_tension: SurfaceTension,
    /// Density, `[kg/m3]`.
    pub density: Density,
}

impl Liquid {
    /// The capillary length `c = sqrt(γ / (ρ g))`, within which an edge bends
    /// the surface. Water at 20 °C: 2.73 mm.
    #[must_use]
    pub fn capillary_length(self) -> Length {
        let (gamma, rho) = (self.surface_tension.n_per_m(), self.density.kg_per_m3());
        Length::from_m((gamma / (rho * GRAVITY)).sqrt())
    }

    /// Whether both properties are positive, finite numbers.
    #[must_use]
    pub fn is_physical(self) -> bool {
        let positive = |x: f64| x.is_finite() && x > 0.0;
        positive(self.surface_tension.n_per_m()) && positive(self.density.kg_per_m3())
    }
}
