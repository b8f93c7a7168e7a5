//! The room that a run dries in.

use super::reader::{AirWords, Book, Fallback, Limit, Section};
use crate::quantity::{Humidity, Speed, Temperature};

/// The air of the room: one state, kept throughout.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Air temperature.
    pub temperature: Temperature,
    /// Relative humidity of the air.
    pub humidity: Humidity,
    /// How the air moves.
    pub air: Air,
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
    /// Air speed, `[m/s]`: sheltered 0.05, still 0.1, draughty 0.3, fan 1; typical, from memory.
    #[must_use]
    pub const fn speed(self) -> Speed {
        match self {
            Self::Sheltered => Speed::from_m_per_s(0.05),
            Self::Still => Speed::from_m_per_s(0.1),
            Self::Draughty => Speed::from_m_per_s(0.3),
            Self::Fan => Speed::from_m_per_s(1.0),
            Self::Moving(speed) => speed,
        }
    }
}

const TEMPERATURE: Limit<Temperature> = Limit {
    holds: |t| (-30.0..=60.0).contains(&t.celsius()),
    reason: "a room is from -30 C to 60 C (-22 F to 140 F)",
};
const HUMIDITY: Limit<Humidity> = Limit {
    holds: |humidity| (0.0..=1.0).contains(&humidity.fraction()),
    reason: "a relative humidity lies from 0 % to 100 %: air can't hold more water than it can hold",
};
const AIR: Limit<AirWords> = Limit {
    holds: |air| (0.0..=20.0).contains(&air.0.speed().m_per_s()),
    reason: "air over a tray moves at 0 to 20 m/s",
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
    Some(Room {
        temperature: temperature?,
        humidity: humidity?,
        air,
    })
}
