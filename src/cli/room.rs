//! The room, as options tell it.

use std::path::PathBuf;

use super::beside;
use super::failure::{Failure, wrong};
use crate::ask::AirWord;
use crate::cure::air::Air;
use crate::drying::{Recorded, Recording, Room, Written};
use crate::quantity::{Humidity, Temperature, TemperatureDifference};
use crate::weather::{Indoors, Place};
use jiff::civil::Time as Clock;

/// Reads a clock time.
pub(super) fn clock(text: &str) -> Result<Clock, String> {
    let wanted = || "expected a clock time of 24 hours, such as 19:00".to_owned();
    text.trim().parse().map_err(|_| wanted())
}

/// How the air of the room moves, and where a record of it is.
#[derive(Debug, clap::Args)]
pub(super) struct RecordArgs {
    /// How the air moves: still, sheltered, draughty, fan or a speed such as "0.3 m/s"
    #[arg(long, default_value = "still", allow_hyphen_values = true)]
    air: AirWord,
    /// A data logger's CSV file of the room's temperature and humidity
    #[arg(long, value_name = "FILE", group = "record")]
    logger: Option<PathBuf>,
    /// A weather file of a typical year in the EPW format, for the air outdoors
    #[arg(long, value_name = "FILE", group = "record")]
    weather: Option<PathBuf>,
    /// The month of the weather file, 1 to 12; left out, all the year
    #[arg(long, requires = "weather", value_parser = clap::value_parser!(i8).range(1..=12))]
    month: Option<i8>,
    /// The room is so much warmer than the record's air, with the same vapour, such as "4 K"
    #[arg(
        long,
        value_name = "KELVINS",
        requires = "record",
        conflicts_with = "heated",
        allow_hyphen_values = true
    )]
    warmer: Option<TemperatureDifference>,
    /// The room is heated to this whenever the record's air is colder, with the same vapour
    #[arg(
        long,
        value_name = "TEMPERATURE",
        requires = "record",
        allow_hyphen_values = true
    )]
    heated: Option<Temperature>,
}

impl RecordArgs {
    /// Whether a record is named.
    pub(super) fn is_named(&self) -> bool {
        self.logger.is_some() || self.weather.is_some()
    }

    /// Air of this room.
    pub(super) fn air(&self, temperature: Temperature, humidity: Humidity) -> Result<Air, Failure> {
        Air::of_room(temperature, humidity, self.air.0)
            .map_err(|fault| wrong(format!("the room: {fault}")))
    }

    /// The record that is named, read; nothing where none is.
    pub(super) fn read(&self, pour: Clock) -> Result<Option<Recorded>, Failure> {
        if self.month.is_some() && self.logger.is_some() {
            return Err(wrong(
                "--month is of a weather file, not of a logger's record",
            ));
        }
        let (file, written) = match (&self.logger, &self.weather) {
            (Some(file), _) => (file, Written::Logger),
            (None, Some(file)) => (file, Written::Weather { month: self.month }),
            // clap lets these pass beside --at, which rules a record out
            (None, None) if self.month.is_some() => {
                return Err(wrong(
                    "--month is of a weather file: it takes --weather FILE",
                ));
            }
            (None, None) if self.warmer.is_some() || self.heated.is_some() => {
                return Err(wrong(
                    "--warmer and --heated are of a record's air: they take --weather FILE or --logger FILE",
                ));
            }
            (None, None) => return Ok(None),
        };
        let recording = Recording {
            written,
            indoors: match (self.warmer, self.heated) {
                (Some(by), _) => Some(Indoors::Offset(by)),
                (None, Some(to)) => Some(Indoors::Heated { to }),
                (None, None) => None,
            },
            place: Place::new(self.air.0),
            pour,
        };
        let name = file.display().to_string();
        let bytes =
            beside::read(file).map_err(|why| wrong(format!("{name} can't be read: {why}")))?;
        recording.read(&bytes, &name).map(Some).map_err(wrong)
    }
}

/// A temperature and a humidity, in this order.
pub(super) fn climate(option: &str, read: &[String]) -> Result<(Temperature, Humidity), Failure> {
    let [temperature, humidity] = read else {
        return Err(wrong(format!(
            "{option} takes a temperature and a humidity: {option} \"12 C\" \"70 %\""
        )));
    };
    let place = |fault: crate::quantity::Unreadable| wrong(format!("{option}: {fault}"));
    Ok((
        temperature.parse().map_err(place)?,
        humidity.parse().map_err(place)?,
    ))
}

/// By day and by night, for coats laid at a clock time.
pub(super) fn day_and_night(day: Air, night: Air, pour: Clock) -> Result<Room, Failure> {
    Room::day_and_night(day, night, pour).map_err(wrong)
}
