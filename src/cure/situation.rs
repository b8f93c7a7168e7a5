//! A coat in its room: the air, how it lies in it, how deep it is.

use super::air::Air;
use super::enclosure::{Enclosure, Filling};
use super::transfer::Exposure;
use crate::quantity::{Irradiance, Length, Temperature, Time};

/// Where, how deep and in what air a coat lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Situation {
    air: Air,
    exposure: Exposure,
    wet_depth: Length,
    surroundings: Surroundings,
    light: Option<Irradiance>,
    enclosure: Option<Enclosure>,
}

/// What matters for condensation and blush beside the air itself.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Surroundings {
    /// Temperature of the piece, where it is not that of the air.
    pub surface: Option<Temperature>,
    /// What heats the room.
    pub heating: Heating,
    /// Whether the room cools while the coat sets.
    pub trend: Trend,
}

/// What heats a room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Heating {
    /// Nothing, or a heater that leaves its fumes outdoors.
    #[default]
    Clean,
    /// A gas or paraffin heater that burns into the room: water and carbon dioxide.
    BurnsIntoRoom,
}

/// Where the temperature of a room is going.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Trend {
    /// Steady or rising.
    #[default]
    Steady,
    /// Falling while the coat sets.
    Falling,
}

impl Situation {
    /// A coat of this wet film thickness, exposed so, in this air.
    #[must_use]
    pub fn new(air: Air, exposure: Exposure, wet_depth: Length) -> Self {
        Self {
            air,
            exposure,
            wet_depth,
            surroundings: Surroundings::default(),
            light: None,
            enclosure: None,
        }
    }

    /// The same with what else is known of the room.
    #[must_use]
    pub fn with_surroundings(self, surroundings: Surroundings) -> Self {
        Self {
            surroundings,
            ..self
        }
    }
    /// The same under a lamp of this irradiance at the piece; `None` for the one that
    /// the coating's times are taken to mean.
    #[must_use]
    pub fn lit_by(self, light: Option<Irradiance>) -> Self {
        Self { light, ..self }
    }
    /// The same coat in other air.
    #[must_use]
    pub fn in_air(self, air: Air) -> Self {
        Self { air, ..self }
    }
    /// The same air over a coat exposed differently.
    #[must_use]
    pub fn exposed(self, exposure: Exposure) -> Self {
        Self { exposure, ..self }
    }
    /// The same at another wet film thickness.
    #[must_use]
    pub fn at_depth(self, wet_depth: Length) -> Self {
        Self { wet_depth, ..self }
    }

    /// The same in a box, or out of one; the situation's air is then that of the room
    /// around the box.
    #[must_use]
    pub fn enclosed(self, enclosure: Option<Enclosure>) -> Self {
        Self { enclosure, ..self }
    }

    /// The air of the room.
    #[must_use]
    pub fn air(&self) -> Air {
        self.air
    }
    /// How the coat lies in the air.
    #[must_use]
    pub fn exposure(&self) -> Exposure {
        self.exposure
    }
    /// Wet film thickness, mean over the surface.
    #[must_use]
    pub fn wet_depth(&self) -> Length {
        self.wet_depth
    }
    /// A lamp's irradiance at the piece; `None` for the one that the coating's times
    /// are taken to mean.
    #[must_use]
    pub fn light(&self) -> Option<Irradiance> {
        self.light
    }
    /// The box it lies in, if any.
    #[must_use]
    pub fn enclosure(&self) -> Option<Enclosure> {
        self.enclosure
    }
    /// The air over the fresh coat: the room's, moving as the box's does where it lies
    /// in one.
    #[must_use]
    pub fn air_over_coat(&self) -> Air {
        self.enclosure
            .map_or(self.air, |enclosure| enclosure.air_inside(&self.air))
    }
    /// Its box filling with the vapour of pieces that stay wet.
    pub(super) fn filling(&self) -> Option<Filling> {
        let enclosure = self.enclosure?;
        Some(enclosure.filling(&self.exposure, &self.air))
    }
    /// Heating and trend of the room.
    #[must_use]
    pub fn surroundings(&self) -> Surroundings {
        self.surroundings
    }
    /// Temperature of the piece: the air's unless stated.
    #[must_use]
    pub fn surface(&self) -> Temperature {
        self.surroundings
            .surface
            .unwrap_or_else(|| self.air.temperature())
    }
}

/// One spell of constant air in a longer series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spell {
    /// The air.
    pub air: Air,
    /// How long it stays so.
    pub lasts: Time,
}
