//! How fast still or moving air takes water from a wet surface: one set of
//! formulas, continuous in size, air speed, crowding and weather.
//!
//! Absolute rates are good to about 40 %; in a ratio most of that cancels.

use super::air::Air;
use super::numeric::root;
use super::psychro::{R_DRY_AIR, density_slope, saturation_density, vapour_density};
use crate::quantity::{Area, Length, Share, Temperature};
use std::f64::consts::PI;

/// Stefan-Boltzmann constant, `[W/(m2 K4)]`; exact since 2019, rounded.
const STEFAN_BOLTZMANN: f64 = 5.670e-8;
/// Emissivity of a wet or painted surface, `[1]` (typical, from memory).
const EMISSIVITY: f64 = 0.95;
/// Heat of air at constant pressure, `[J/(kg K)]` (textbook).
const HEAT_OF_AIR: f64 = 1006.0;
/// Lewis factor, heat against mass transfer for water in air, `[1]` (textbook, Le^(2/3) for Le 0.87).
const LEWIS: f64 = 0.91;
/// Exponent that blends diffusion with flow; fitted to a boundary-element
/// solution within 2 % for Peclet numbers 0.1 to 100.
const BLEND: f64 = 1.75;

/// Newton's steps in the heat balance end at rounding after about five.
const MOST_STEPS: u32 = 60;

/// Heat that reaches the film through the piece from the shelf, `[W/(m2 K)]`.
///
/// Source: typical, assumed; 0 to 15 changes drying ratios by 1 %.
pub const BASE_COUPLING: f64 = 5.0;

/// Outline of the wet surface, as far as the air cares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Footprint {
    /// A round piece.
    Disc {
        /// Its diameter.
        diameter: Length,
    },
    /// A rectangular piece or sheet.
    Rectangle {
        /// One side.
        length: Length,
        /// The other side.
        width: Length,
    },
}

impl Footprint {
    /// The disc of the same area, for any outline without long thin parts
    /// (for a square about 2 % slow).
    #[must_use]
    pub fn disc_of_area(area: Area) -> Self {
        Self::Disc {
            diameter: Length::from_m((4.0 * area.m2() / PI).sqrt()),
        }
    }

    /// Its area.
    #[must_use]
    pub fn area(&self) -> Area {
        Area::from_m2(match self {
            Self::Disc { diameter } => PI / 4.0 * diameter.m().powi(2),
            Self::Rectangle { length, width } => length.m() * width.m(),
        })
    }

    /// Diameter for diffusion `[m]` and length for flow `[m]`.
    fn sizes(&self) -> (f64, f64) {
        match self {
            // L = 0.81 d, the chord average of a laminar plate over a disc
            Self::Disc { diameter } => (diameter.m(), 0.81 * diameter.m()),
            // d = sqrt(4 a b / pi), L = sqrt(a b)
            Self::Rectangle { length, width } => {
                let ab = length.m() * width.m();
                ((4.0 * ab / PI).sqrt(), ab.sqrt())
            }
        }
    }

    /// Sides between 1 mm and 5 m; false for NaN.
    fn sensible(&self) -> bool {
        let fits = |side: Length| (1e-3..=5.0).contains(&side.m());
        match self {
            Self::Disc { diameter } => fits(*diameter),
            Self::Rectangle { length, width } => fits(*length) && fits(*width),
        }
    }
}

/// Wet pieces spread evenly over a tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tray {
    /// One side of the tray.
    pub length: Length,
    /// The other side.
    pub width: Length,
    /// Pieces on it, this one included.
    pub pieces: u32,
}

/// How a wet surface lies in the air: alone or among its neighbours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposure {
    footprint: Footprint,
    tray: Option<Tray>,
}

/// Why an exposure was refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum ExposureError {
    /// A side outside 1 mm to 5 m.
    #[error("a wet surface must measure 1 mm to 5 m a side")]
    Footprint,
    /// A tray side outside 1 mm to 5 m, or no pieces.
    #[error("a tray must measure 1 mm to 5 m a side and hold at least one piece")]
    Tray,
    /// The pieces' area is more than the tray's.
    #[error("the pieces cover {:.0} % of the tray: they do not fit", .0.percent())]
    Overfull(Share),
}

impl Exposure {
    /// One piece alone, on a wide shelf.
    ///
    /// # Errors
    /// [`ExposureError::Footprint`] for sides outside 1 mm to 5 m.
    pub fn alone(footprint: Footprint) -> Result<Self, ExposureError> {
        if footprint.sensible() {
            Ok(Self {
                footprint,
                tray: None,
            })
        } else {
            Err(ExposureError::Footprint)
        }
    }

    /// One of many equal pieces on a tray.
    ///
    /// # Errors
    /// [`ExposureError`] for sides outside 1 mm to 5 m, no pieces, or more
    /// pieces than the tray has area for.
    pub fn among(footprint: Footprint, tray: Tray) -> Result<Self, ExposureError> {
        let alone = Self::alone(footprint)?;
        if !tray.surface().sensible() || tray.pieces == 0 {
            return Err(ExposureError::Tray);
        }
        let covered = f64::from(tray.pieces) * (footprint.area() / tray.surface().area());
        if covered > 1.0 {
            return Err(ExposureError::Overfull(Share::from_fraction(covered)));
        }
        Ok(Self {
            tray: Some(tray),
            ..alone
        })
    }

    /// The wet surface's own outline.
    #[must_use]
    pub fn footprint(&self) -> Footprint {
        self.footprint
    }
    /// The tray it shares, if any.
    #[must_use]
    pub fn tray(&self) -> Option<Tray> {
        self.tray
    }
    /// The same surface on another tray.
    ///
    /// # Errors
    /// As [`among`](Self::among).
    pub fn on(self, tray: Tray) -> Result<Self, ExposureError> {
        Self::among(self.footprint, tray)
    }
    /// The same surface with nobody near.
    #[must_use]
    pub fn without_neighbours(self) -> Self {
        Self { tray: None, ..self }
    }
}

impl Tray {
    fn surface(&self) -> Footprint {
        Footprint::Rectangle {
            length: self.length,
            width: self.width,
        }
    }
}

/// Diffusivity of water vapour in air, `[m2/s]`.
///
/// ```text
/// D = 2.178e-5 (T/273.15)^1.81 (101325/p)    T [K], p [Pa]
/// ```
///
/// Source: Massman 1998. Another common form (Marrero and Mason) reads 1 to 4 % lower.
#[must_use]
pub fn vapour_diffusivity_massman_1998(air: &Air) -> f64 {
    2.178e-5 * (air.temperature().kelvin() / 273.15).powf(1.81) * 101_325.0 / air.pressure().pa()
}

/// Kinematic viscosity of air, `[m2/s]`.
///
/// ```text
/// nu = mu/rho,  mu = 1.458e-6 T^1.5/(T + 110.4),  rho = p/(287.05 T)
/// ```
///
/// Source: Sutherland's law, constants as in ISO 2533.
#[must_use]
pub fn kinematic_viscosity_sutherland(air: &Air) -> f64 {
    let t = air.temperature().kelvin();
    1.458e-6 * t.powf(1.5) / (t + 110.4) / dry_density(air)
}

/// `rho = p/(287.05 T)` `[kg/m3]`.
fn dry_density(air: &Air) -> f64 {
    air.pressure().pa() / (R_DRY_AIR * air.temperature().kelvin())
}

/// Heat of evaporation of water, `hfg = 2.501e6 - 2370 T` `[J/kg]`, T in °C (textbook).
fn heat_of_evaporation(celsius: f64) -> f64 {
    2.501e6 - 2370.0 * celsius
}

/// Mass-transfer coefficient of one surface alone, `[m/s]`.
fn coefficient_alone(footprint: &Footprint, air: &Air) -> f64 {
    let (d, length) = footprint.sizes();
    let diffusivity = vapour_diffusivity_massman_1998(air);
    let nu = kinematic_viscosity_sutherland(air);
    // kd = 8 D/(pi d)
    let by_diffusion = 8.0 * diffusivity / (PI * d);
    // kf = 0.664 (D/L) (V L/nu)^(1/2) (nu/D)^(1/3)
    let by_flow = 0.664 * diffusivity / length
        * (air.speed().m_per_s() * length / nu).sqrt()
        * (nu / diffusivity).cbrt();
    // k = (kd^1.75 + kf^1.75)^(1/1.75)
    (by_diffusion.powf(BLEND) + by_flow.powf(BLEND)).powf(1.0 / BLEND)
}

/// Mass-transfer coefficient of a wet surface, mean over its tray, `[m/s]`.
///
/// ```text
/// phi = (N-1) A_piece/A_tray
/// 1/k_eff = (1-phi)/k(piece) + phi/k(tray),   k(tray) not above k(piece)
/// ```
///
/// Checked against a boundary-element solution in uniform flow: -18 to +5 %, and -16
/// to +6 % where the wind blows along a side of the tray that is known.
#[must_use]
pub fn transfer_coefficient(exposure: &Exposure, air: &Air) -> f64 {
    let alone = coefficient_alone(&exposure.footprint, air);
    let Some(tray) = exposure.tray else {
        return alone;
    };
    let others = f64::from(tray.pieces) - 1.0;
    let covered = others * (exposure.footprint.area() / tray.surface().area());
    let over_tray = coefficient_alone(&tray.surface(), air).min(alone);
    1.0 / ((1.0 - covered) / alone + covered / over_tray)
}

/// What the film over a wet surface exchanges with the air and the shelf.
///
/// Private numbers in SI: the drying rules call this thousands of times.
#[derive(Debug, Clone, Copy)]
pub struct AirSide {
    /// Mass-transfer coefficient, `[m/s]`.
    transfer: f64,
    /// All heat paths to the film, hc + hr + Ub, `[W/(m2 K)]`.
    heating: f64,
    /// Air temperature, `[°C]`.
    celsius: f64,
    /// Vapour the air carries, `[kg/m3]`.
    carried: f64,
}

/// A surface giving off water, or taking it up where negative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaporation {
    /// Water leaving, `[kg/(m2 s)]`.
    pub flux: f64,
    /// Temperature of the surface.
    pub surface: Temperature,
}

impl AirSide {
    /// The air side of a surface; `base_coupling` in `[W/(m2 K)]`, usually [`BASE_COUPLING`].
    #[must_use]
    pub fn new(exposure: &Exposure, air: &Air, base_coupling: f64) -> Self {
        let transfer = transfer_coefficient(exposure, air);
        // hc = k rho 1006 * 0.91
        let convection = transfer * dry_density(air) * HEAT_OF_AIR * LEWIS;
        // hr = 4 * 0.95 * sigma * T^3
        let radiation = 4.0 * EMISSIVITY * STEFAN_BOLTZMANN * air.temperature().kelvin().powi(3);
        Self {
            transfer,
            heating: convection + radiation + base_coupling,
            celsius: air.temperature().celsius(),
            carried: vapour_density(air).kg_per_m3(),
        }
    }

    /// The same in air that carries another mass of vapour, `[kg/m3]`.
    #[must_use]
    pub(super) fn carrying(self, carried: f64) -> Self {
        Self { carried, ..self }
    }

    /// Evaporation from a surface of water activity `activity`, 0 to 1, with
    /// the surface as warm as the balance of heat leaves it:
    ///
    /// ```text
    /// (hc + hr + Ub)(Ta - Ts) = hfg flux,   flux = k (aw csat(Ts) - c_air)
    /// ```
    ///
    /// By Newton's method, which cannot fail here: heat gained less heat spent
    /// falls with Ts and bends downward throughout, so after at most one step
    /// past the root every further step comes nearer from the warm side.
    #[must_use]
    pub fn evaporation(&self, activity: f64) -> Evaporation {
        let mut ts = self.celsius;
        for _ in 0..MOST_STEPS {
            let heat = heat_of_evaporation(ts);
            let saturated = saturation_density(Temperature::from_celsius(ts)).kg_per_m3();
            let flux = self.transfer * (activity * saturated - self.carried);
            let excess = self.heating * (self.celsius - ts) - heat * flux;
            let flux_slope = self.transfer * activity * saturated * density_slope(ts);
            let slope = -self.heating + 2370.0 * flux - heat * flux_slope;
            let step = excess / slope;
            ts -= step;
            if step.abs() < 1e-12 {
                break;
            }
        }
        Evaporation {
            // the heat balance gives the flux without subtracting two nearly equal densities
            flux: self.heating * (self.celsius - ts) / heat_of_evaporation(ts),
            surface: Temperature::from_celsius(ts),
        }
    }

    /// Flux from a surface that dries as it gives off water: `activity` tells the water
    /// activity that a flux `[kg/(m2 s)]` leaves it with, which never rises with the flux.
    pub(super) fn flux_through(&self, activity: impl Fn(f64) -> f64) -> f64 {
        let wettest = self.evaporation(1.0);
        if activity(wettest.flux) >= 1.0 {
            return wettest.flux;
        }
        // the balance of heat gives the flux, F = (hc + hr + Ub)(Ta - Ts)/hfg
        let flux = |ts: f64| self.heating * (self.celsius - ts) / heat_of_evaporation(ts);
        let excess = |ts: f64| {
            let saturated = saturation_density(Temperature::from_celsius(ts)).kg_per_m3();
            self.transfer * (activity(flux(ts)) * saturated - self.carried) - flux(ts)
        };
        // it rises with Ts: nothing is given off at Ta, no more than a wet surface's below,
        // and no more is taken up than by a surface that binds all that it meets
        let (cold, warm) = if excess(self.celsius) >= 0.0 {
            (wettest.surface.celsius(), self.celsius)
        } else {
            (self.celsius, self.evaporation(0.0).surface.celsius())
        };
        flux(root(excess, cold, warm))
    }

    /// Evaporation from water held at the temperature of the air, `[kg/(m2 s)]`.
    #[must_use]
    pub fn isothermal_flux(&self) -> f64 {
        // flux = k (csat(Ta) - c_air)
        let saturated = saturation_density(Temperature::from_celsius(self.celsius));
        self.transfer * (saturated.kg_per_m3() - self.carried)
    }

    /// The coefficient k, `[m/s]`.
    #[must_use]
    pub fn transfer(&self) -> f64 {
        self.transfer
    }
}
