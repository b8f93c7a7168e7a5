//! The air around a piece: temperature, humidity, movement and pressure.

use crate::quantity::{Humidity, Pressure, Speed, Temperature};

/// Coldest air the drying rules take, `[°C]`.
pub const COLDEST: Temperature = Temperature::from_celsius(-20.0);
/// Warmest air the drying rules take, `[°C]`.
pub const WARMEST: Temperature = Temperature::from_celsius(60.0);
/// Fastest air the drying rules take, `[m/s]`: beyond it the laminar plate rule no longer holds.
pub const FASTEST: Speed = Speed::from_m_per_s(5.0);
/// Thinnest air the drying rules take, about 5500 m up.
pub const THINNEST: Pressure = Pressure::from_hpa(500.0);
/// Densest air the drying rules take, more than any weather brings.
pub const DENSEST: Pressure = Pressure::from_hpa(1100.0);
/// Standard pressure at sea level, exact by definition.
pub const SEA_LEVEL: Pressure = Pressure::from_pa(101_325.0);

/// Air as the drying rules see it. Always inside the ranges above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    temperature: Temperature,
    humidity: Humidity,
    speed: Speed,
    pressure: Pressure,
}

impl Air {
    /// The atmosphere that labels and standards mean: 23 °C, 50 %, an
    /// ordinary still room (0.1 m/s) at sea level.
    ///
    /// Source: ISO 3270, ISO 291 and ASTM D1640 for 23 °C and 50 %; the air
    /// speed of an ordinary still room is typical, from memory.
    pub const REFERENCE: Self = Self {
        temperature: Temperature::from_celsius(23.0),
        humidity: Humidity::from_percent(50.0),
        speed: Speed::from_m_per_s(0.1),
        pressure: SEA_LEVEL,
    };

    /// Air at sea level: `temperature` from -20 to 60 °C, relative `humidity`
    /// from 0 to 100 %, and the `speed` of the air past the film, 0 to 5 m/s.
    ///
    /// The speed is taken as it stands. A room's own speed comes from
    /// [`Draught::film_speed`], which knows that a room is never without
    /// movement.
    ///
    /// # Errors
    /// [`AirError`] where a value is outside its range or not a number.
    pub fn new(
        temperature: Temperature,
        humidity: Humidity,
        speed: Speed,
    ) -> Result<Self, AirError> {
        Self {
            temperature,
            humidity,
            speed,
            pressure: SEA_LEVEL,
        }
        .checked()
    }

    /// The air of a room with this draught, at sea level.
    ///
    /// # Errors
    /// As [`Air::new`].
    pub fn of_room(
        temperature: Temperature,
        humidity: Humidity,
        draught: Draught,
    ) -> Result<Self, AirError> {
        Self::new(temperature, humidity, draught.film_speed())
    }

    /// The same air at another temperature and the same relative humidity.
    ///
    /// # Errors
    /// As [`Air::new`].
    pub fn with_temperature(self, temperature: Temperature) -> Result<Self, AirError> {
        Self {
            temperature,
            ..self
        }
        .checked()
    }

    /// The same air at another relative humidity.
    ///
    /// # Errors
    /// As [`Air::new`].
    pub fn with_humidity(self, humidity: Humidity) -> Result<Self, AirError> {
        Self { humidity, ..self }.checked()
    }

    /// The same air at another speed past the film.
    ///
    /// # Errors
    /// As [`Air::new`].
    pub fn with_speed(self, speed: Speed) -> Result<Self, AirError> {
        Self { speed, ..self }.checked()
    }

    /// The same air at another pressure, 500 to 1100 hPa.
    ///
    /// # Errors
    /// As [`Air::new`].
    pub fn with_pressure(self, pressure: Pressure) -> Result<Self, AirError> {
        Self { pressure, ..self }.checked()
    }

    /// This air with one of its values taken from `other`.
    #[must_use]
    pub fn taking(self, value: AirValue, other: &Self) -> Self {
        match value {
            AirValue::Temperature => Self {
                temperature: other.temperature,
                ..self
            },
            AirValue::Humidity => Self {
                humidity: other.humidity,
                ..self
            },
            AirValue::Speed => Self {
                speed: other.speed,
                ..self
            },
            AirValue::Pressure => Self {
                pressure: other.pressure,
                ..self
            },
        }
    }

    /// Temperature of the air.
    #[must_use]
    pub fn temperature(&self) -> Temperature {
        self.temperature
    }
    /// Relative humidity, over water at every temperature.
    #[must_use]
    pub fn humidity(&self) -> Humidity {
        self.humidity
    }
    /// Speed of the air past the film.
    #[must_use]
    pub fn speed(&self) -> Speed {
        self.speed
    }
    /// Pressure of the air.
    #[must_use]
    pub fn pressure(&self) -> Pressure {
        self.pressure
    }

    /// Refuses values outside their ranges; `contains` is false for NaN.
    fn checked(self) -> Result<Self, AirError> {
        if !(COLDEST..=WARMEST).contains(&self.temperature) {
            return Err(AirError::Temperature(self.temperature));
        }
        if !(0.0..=1.0).contains(&self.humidity.fraction()) {
            return Err(AirError::Humidity(self.humidity));
        }
        if !(Speed::ZERO..=FASTEST).contains(&self.speed) {
            return Err(AirError::Speed(self.speed));
        }
        if !(THINNEST..=DENSEST).contains(&self.pressure) {
            return Err(AirError::Pressure(self.pressure));
        }
        Ok(self)
    }
}

/// One of the four values of [`Air`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AirValue {
    /// Its temperature.
    Temperature,
    /// Its relative humidity.
    Humidity,
    /// Its speed past the film.
    Speed,
    /// Its pressure.
    Pressure,
}

/// Why air was refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum AirError {
    /// Colder than [`COLDEST`] or warmer than [`WARMEST`].
    #[error("air at {:.1} °C is outside -20 to 60 °C", .0.celsius())]
    Temperature(Temperature),
    /// Below 0 % or above 100 %.
    #[error("a relative humidity of {:.1} % is outside 0 to 100 %", .0.percent())]
    Humidity(Humidity),
    /// Below nothing or above [`FASTEST`].
    #[error("an air speed of {:.2} m/s is outside 0 to 5 m/s", .0.m_per_s())]
    Speed(Speed),
    /// Outside [`THINNEST`] to [`DENSEST`].
    #[error("an air pressure of {:.0} hPa is outside 500 to 1100 hPa", .0.hpa())]
    Pressure(Pressure),
}

/// How the air of a place moves.
///
/// The named draughts are speeds past the film as they stand (typical, from
/// memory; published texts call anything under 0.15 m/s still air and measured
/// 0.03 to 0.12 m/s in winter rooms). A measured speed has the room's own slow
/// convection added to it, because zero wind does not exist.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Draught {
    /// A lidded box, 0.02 m/s.
    ClosedBox,
    /// A cupboard or a sheltered shelf, 0.05 m/s.
    Sheltered,
    /// An ordinary still room, 0.1 m/s: what labels mean.
    Still,
    /// By an open window, 0.3 m/s.
    OpenWindow,
    /// In front of a desk fan, 1 m/s.
    DeskFan,
    /// A speed somebody measured.
    Measured(Speed),
}

impl Draught {
    /// Slow convection of any room, `[m/s]` (typical, from memory).
    pub const ROOM_CONVECTION: Speed = Speed::from_m_per_s(0.05);

    /// Speed of the air past the film. A measured speed V gives
    ///
    /// ```text
    /// V_eff = sqrt(V^2 + 0.05^2)    [m/s]
    /// ```
    ///
    /// ```
    /// use brimful::cure::air::Draught;
    /// use brimful::quantity::Speed;
    /// let dead_calm = Draught::Measured(Speed::ZERO);
    /// assert!((dead_calm.film_speed().m_per_s() - 0.05).abs() < 1e-12);
    /// assert!((Draught::Still.film_speed().m_per_s() - 0.1).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn film_speed(self) -> Speed {
        match self {
            Self::ClosedBox => Speed::from_m_per_s(0.02),
            Self::Sheltered => Speed::from_m_per_s(0.05),
            Self::Still => Speed::from_m_per_s(0.1),
            Self::OpenWindow => Speed::from_m_per_s(0.3),
            Self::DeskFan => Speed::from_m_per_s(1.0),
            Self::Measured(v) if v < Speed::ZERO => v,
            // V_eff = sqrt(V^2 + 0.05^2)
            Self::Measured(v) => {
                Speed::from_m_per_s(v.m_per_s().hypot(Self::ROOM_CONVECTION.m_per_s()))
            }
        }
    }
}
