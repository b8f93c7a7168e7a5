//! A coating mixed from two parts.

use crate::quantity::{Density, Ratio};

/// The two parts of a mixed coating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoParts {
    /// Part A over part B, by volume.
    pub volume_ratio: Ratio,
    /// Density of part A.
    pub density_a: Density,
    /// Density of part B.
    pub density_b: Density,
}

impl TwoParts {
    /// Part A over part B, by mass: `m_A/m_B = (V_A/V_B) rho_A/rho_B`.
    #[must_use]
    pub fn mass_ratio(self) -> Ratio {
        self.volume_ratio * (self.density_a / self.density_b)
    }

    /// Density of the fresh mix, taking volumes as additive.
    #[must_use]
    pub fn mixed_density(self) -> Density {
        // rho = (r rho_A + rho_B)/(r + 1), r = V_A/V_B
        let r = self.volume_ratio.number();
        (self.density_a * r + self.density_b) / (r + 1.0)
    }
}

#[cfg(test)]
mod tests {
    use crate::coating::{Coating, family};

    fn close(a: f64, b: f64) -> bool {
        (a - b).abs() <= 1e-9 * b.abs()
    }

    #[test]
    fn equal_volumes_of_110_and_099_are_100_to_90_by_weight() {
        // Case C13: a trade report's two densities, 1.10 and 0.99 g/mL.
        let parts = Coating::of(family("two-part dome epoxy").unwrap())
            .two_parts()
            .unwrap();
        assert!(close(parts.mass_ratio().number(), 100.0 / 90.0));
        assert!(close(parts.mixed_density().g_per_ml(), 1.045));
    }
}
