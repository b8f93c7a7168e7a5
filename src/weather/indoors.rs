//! The air of a room, from the air outdoors.

use jiff::civil::DateTime;

use super::reading::{Reading, humidity_of, moment};
use super::record::Record;
use crate::quantity::{Temperature, TemperatureDifference};

/// How a room's temperature follows that outdoors. Its vapour is that of the outdoor
/// air, as in a room that is aired and in which nothing wet stands; a kitchen, a
/// laundry or many wet pieces make it damper. Walls that store warmth are not in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Indoors {
    /// Warmer than outdoors by so much at all times; a shed, a garage. Below zero for
    /// a cooler place.
    Offset(TemperatureDifference),
    /// Heated whenever it is colder outdoors than this, and otherwise as outdoors.
    Heated {
        /// Never cooler than this.
        to: Temperature,
    },
}

impl Indoors {
    fn temperature(self, outdoors: Temperature) -> Temperature {
        match self {
            Self::Offset(by) => outdoors + by,
            Self::Heated { to } if to > outdoors => to,
            Self::Heated { .. } => outdoors,
        }
    }
}

/// Why outdoor air does not make the air of a room.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum IndoorsError {
    /// The air would be cooled past its dew point: the room would drip, and this
    /// does not follow where the water goes.
    #[error(
        "outdoor air of {:.1} °C and {:.0} % at {} can't be cooled to {:.1} °C: it leaves dew first",
        .outdoors.temperature.celsius(), .outdoors.humidity.percent(), moment(.outdoors.at), .to.celsius()
    )]
    Dew {
        /// The reading.
        outdoors: Reading,
        /// The room's temperature.
        to: Temperature,
    },
    /// The room would be colder than -40 °C or warmer than 85 °C, or its temperature
    /// is no number.
    #[error("a room of {:.1} °C at {} is outside -40 to 85 °C", .to.celsius(), moment(*.at))]
    OutOfRange {
        /// When.
        at: DateTime,
        /// The room's temperature.
        to: Temperature,
    },
}

/// The record of a room that takes its air from outdoors: every reading at the
/// room's temperature with the vapour kept, so that relative humidity falls where
/// the air is warmed:
///
/// ```text
/// RH' = RH ps(T) / ps(T')
/// ```
///
/// ps by [`saturation_pressure`](crate::cure::psychro::saturation_pressure), as
/// [`same_vapour`](crate::cure::psychro::same_vapour) has it; here outdoor air may be
/// colder than -20 °C.
///
/// # Errors
/// [`IndoorsError`] at the first reading that would leave dew, or where the room's
/// temperature is out of range.
pub fn indoors(outdoors: &Record, room: Indoors) -> Result<Record, IndoorsError> {
    let readings = outdoors.readings().iter();
    let inside: Result<Vec<Reading>, IndoorsError> =
        readings.map(|out| inside(out, room)).collect();
    inside.map(|readings| outdoors.with_readings(readings))
}

fn inside(outdoors: &Reading, room: Indoors) -> Result<Reading, IndoorsError> {
    let to = room.temperature(outdoors.temperature);
    if to == outdoors.temperature {
        return Ok(*outdoors);
    }
    if !(-40.0..=85.0).contains(&to.celsius()) {
        return Err(IndoorsError::OutOfRange {
            at: outdoors.at,
            to,
        });
    }
    // RH' = RH ps(T) / ps(T')
    let humidity = humidity_of(outdoors.vapour_pressure(), to);
    if humidity.fraction() > 1.0 {
        return Err(IndoorsError::Dew {
            outdoors: *outdoors,
            to,
        });
    }
    Ok(Reading {
        temperature: to,
        humidity,
        ..*outdoors
    })
}
