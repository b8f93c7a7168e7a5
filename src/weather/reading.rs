//! One reading of the air.

use jiff::civil::DateTime;

use crate::cure::psychro::saturation_pressure;
use crate::quantity::{Humidity, Pressure, Temperature, Time};

/// The air at one moment of a record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Local clock time at which the reading begins to hold.
    pub at: DateTime,
    /// Temperature of the air.
    pub temperature: Temperature,
    /// Relative humidity over water, 0 to 100 %.
    pub humidity: Humidity,
    /// Pressure of the air, where the file has it.
    pub pressure: Option<Pressure>,
}

impl Reading {
    /// Partial pressure of the vapour, `pv = RH ps(T)` `[Pa]`, by
    /// [`saturation_pressure`].
    #[must_use]
    pub fn vapour_pressure(&self) -> Pressure {
        saturation_pressure(self.temperature) * self.humidity.fraction()
    }
}

/// Relative humidity of air with this vapour at this temperature, `RH = pv / ps(T)`;
/// above 100 % where the air can't hold so much.
pub(super) fn humidity_of(vapour: Pressure, temperature: Temperature) -> Humidity {
    Humidity::from_fraction(vapour / saturation_pressure(temperature))
}

/// Time from one moment to a later one.
pub(super) fn time_between(from: DateTime, to: DateTime) -> Time {
    Time::from_s(to.duration_since(from).as_secs_f64())
}

/// A moment as messages write it: 2026-11-25 18:30, with seconds where there are any.
pub(super) fn moment(at: DateTime) -> String {
    let (date, time) = (at.date(), at.time());
    let to_the_minute = format!("{date} {:02}:{:02}", time.hour(), time.minute());
    if time.second() == 0 {
        to_the_minute
    } else {
        format!("{to_the_minute}:{:02}", time.second())
    }
}
