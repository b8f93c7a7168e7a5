//! What a mix stands in, and how its heat leaves it.

use crate::cure::law::LawError;
use crate::quantity::{Area, Density, Length, Mass, Temperature, TemperatureDifference};
use std::f64::consts::PI;

/// What a mixed resin is like to heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resin {
    /// DH: heat of the whole reaction, `[J/kg]`.
    pub heat_of_reaction: f64,
    /// cp: heat to warm it, `[J/(kg K)]`.
    pub heat_capacity: f64,
    /// Density of the mix, `[kg/m3]`.
    pub density: Density,
    /// How it conducts heat, `[W/(m K)]`.
    pub conductivity: f64,
}

impl Resin {
    /// A usual dome resin. The heat of reaction: 356 J/g is published for one resin that
    /// cures at room temperature, 300 to 450 J/g typical; the rest is typical, from memory.
    pub const USUAL: Self = Self {
        heat_of_reaction: 350e3,
        heat_capacity: 1900.0,
        density: Density::from_kg_per_m3(1100.0),
        conductivity: 0.20,
    };

    /// How much it would warm if none of its heat got away: `DH / cp`.
    #[must_use]
    pub fn adiabatic_rise(&self) -> TemperatureDifference {
        TemperatureDifference::from_k(self.heat_of_reaction / self.heat_capacity)
    }
}

/// How heat leaves a cup into still air, `[W/(m2 K)]`: typical, from memory.
const AIR_FILM: f64 = 10.0;

/// What the mix stands in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cup {
    /// A beaker filled as high as it is wide.
    AsTallAsWide,
    /// A flat round tray, filled so deep.
    Tray {
        /// Depth of the resin, above 0.
        depth: Length,
    },
}

/// A mix standing in its cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// How much was mixed, 0.1 g to 10 kg.
    pub mass: Mass,
    /// What it stands in.
    pub cup: Cup,
    /// Temperature of the room, and of the parts before mixing, -20 to 60 °C.
    pub room: Temperature,
}

/// How a cup loses heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooling {
    /// U: from the middle of the resin to the air, `[W/(m2 K)]`.
    pub u: f64,
    /// A: all of its surface.
    pub area: Area,
}

impl Mix {
    /// The least that is reckoned with.
    pub const LEAST: Mass = Mass::from_g(0.1);
    /// The most.
    pub const MOST: Mass = Mass::from_kg(10.0);

    /// How the cup loses heat.
    ///
    /// ```text
    /// a beaker:  D = (4 V/pi)^(1/3)     A = 3 pi D^2/2           1/U = 1/h + (D/2)/(4 lambda)
    /// a tray:    D = (4 V/(pi s))^1/2   A = pi D^2/2 + pi D s    1/U = 1/h + (s/2)/(3 lambda)
    /// ```
    ///
    /// The paths inside are those from the mean of an evenly heated long cylinder
    /// and of an evenly heated slab to their surfaces.
    #[must_use]
    pub fn cooling(&self, resin: &Resin) -> Cooling {
        let volume = self.mass.kg() / resin.density.kg_per_m3();
        let (area, inside) = match self.cup {
            Cup::AsTallAsWide => {
                let d = (4.0 * volume / PI).cbrt();
                (1.5 * PI * d * d, d / 2.0 / (4.0 * resin.conductivity))
            }
            Cup::Tray { depth } => {
                let s = depth.m();
                let d = (4.0 * volume / (PI * s)).sqrt();
                (
                    PI * d * d / 2.0 + PI * d * s,
                    s / 2.0 / (3.0 * resin.conductivity),
                )
            }
        };
        Cooling {
            u: 1.0 / (1.0 / AIR_FILM + inside),
            area: Area::from_m2(area),
        }
    }

    pub(super) fn check(&self) -> Result<(), LawError> {
        LawError::check(
            "mass of a mix",
            self.mass.kg(),
            (Self::LEAST.kg(), Self::MOST.kg()),
        )?;
        LawError::check("temperature of a mix", self.room.celsius(), (-20.0, 60.0))?;
        match self.cup {
            Cup::AsTallAsWide => Ok(()),
            Cup::Tray { depth } => LawError::check("depth of a tray", depth.m(), (1e-4, 0.1)),
        }
    }
}
