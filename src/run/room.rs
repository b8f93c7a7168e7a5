//! The room that a run dries in.

use super::reader::{AirWords, Book, Fallback, Limit, Section};
use crate::cure::{self, air::Draught};
use crate::drying;
use crate::quantity::{Humidity, Speed, Temperature};

/// The room, as the file tells it.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// How warm and how damp it is.
    pub told: Told,
    /// How the air moves.
    pub air: Air,
    /// The same as coats meet it.
    pub over_time: drying::Room,
}

/// How a file tells how warm and how damp a room is.
#[derive(Debug, Clone, PartialEq)]
pub enum Told {
    /// As it is, throughout.
    Steady(Climate),
}

/// How warm and how damp air is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Climate {
    /// Air temperature.
    pub temperature: Temperature,
    /// Relative humidity of the air.
    pub humidity: Humidity,
}

/// How the air moves over the pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Air {
    /// A sheltered shelf.
    Sheltered,
    /// An ordinary room with doors and windows shut.
    Still,
    /// A window open.
    Draughty,
    /// A desk fan.
    Fan,
    /// A speed that the maker gives.
    Moving(Speed),
}

impl Air {
    /// The draught that coats feel.
    #[must_use]
    pub const fn draught(self) -> Draught {
        match self {
            Self::Sheltered => Draught::Sheltered,
            Self::Still => Draught::Still,
            Self::Draughty => Draught::OpenWindow,
            Self::Fan => Draught::DeskFan,
            Self::Moving(speed) => Draught::Measured(speed),
        }
    }
}

const TEMPERATURE: Limit<Temperature> = Limit {
    holds: |t| (-20.0..=60.0).contains(&t.celsius()),
    reason: "a room is from -20 C to 60 C (-4 F to 140 F)",
};
const HUMIDITY: Limit<Humidity> = Limit {
    holds: |humidity| (0.0..=1.0).contains(&humidity.fraction()),
    reason: "a relative humidity lies from 0 % to 100 %: air can't hold more water than it can hold",
};
const AIR: Limit<AirWords> = Limit {
    holds: |air| match air.0 {
        Air::Moving(speed) => (0.0..=4.9).contains(&speed.m_per_s()),
        _ => true,
    },
    reason: "air over a tray moves at 0 to 4.9 m/s",
};

/// Reads `[room]`.
pub(super) fn read(mut section: Section, book: &mut Book) -> Option<Room> {
    let temperature = section.need(book, "temperature", &TEMPERATURE);
    let humidity = section.need(book, "humidity", &HUMIDITY);
    let still = Fallback {
        value: AirWords(Air::Still),
        words: "still",
        why: "an ordinary room, doors and windows shut",
    };
    let air = section.or(book, "air", &AIR, still).0;
    section.finish(book, &["logger", "weather", "month"]);
    let (temperature, humidity) = (temperature?, humidity?);
    // the limits above are those of the drying laws, so this can't fail
    let steady = cure::air::Air::of_room(temperature, humidity, air.draught()).ok()?;
    Some(Room {
        told: Told::Steady(Climate {
            temperature,
            humidity,
        }),
        air,
        over_time: drying::Room::Steady(steady),
    })
}
