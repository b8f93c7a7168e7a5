//! The room that a run dries in.

use super::hours::Hours;
use super::reader::{AirWords, Book, ClockTime, Fallback, Limit, Name, Number, Section, Whole};
use crate::cure::psychro::same_vapour;
use crate::cure::{self, Enclosure, air::Draught};
use crate::drying::{self, EVENING, Recording, Written};
use crate::quantity::{AirChanges, Humidity, Speed, Temperature, TemperatureDifference, Volume};
use crate::weather::{Indoors, Place};
use jiff::civil::{DateTime, Time as Clock};

/// The room, as the file tells it.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// How warm and how damp it is.
    pub told: Told,
    /// How the air moves.
    pub air: Air,
    /// The same as coats meet it.
    pub over_time: drying::Room,
    /// The cupboard or lidded tub that coats dry in, if they do.
    pub shut_in: Option<Enclosure>,
}

impl Room {
    /// The same room heated to a temperature, where it is colder; its vapour stays, so
    /// its relative humidity falls. `None` where it is that warm already, or can't be so warm.
    #[must_use]
    pub fn heated_to(&self, to: Temperature) -> Option<Self> {
        self.changed(&|air| {
            if air.temperature() < to {
                same_vapour(air, to).ok()
            } else {
                Some(*air)
            }
        })
    }

    /// Whether it is so warm, or warmer, at some hour.
    #[must_use]
    pub fn is_ever(&self, warm: Temperature) -> bool {
        match &self.over_time {
            drying::Room::Steady(air) => air.temperature() >= warm,
            drying::Room::Changing(air) => {
                let mut spells = air.spells().iter();
                spells.any(|spell| spell.air.temperature() >= warm)
            }
        }
    }

    /// The warmest that it is at the pours and in the hours of work: what is mixed then lasts the
    /// shortest. Of a record all days count.
    #[must_use]
    pub fn warmest_at_work(&self, hours: &Hours) -> Temperature {
        let pour = self.over_time.first_air().temperature();
        let (drying::Room::Changing(air), Some(begins)) = (&self.over_time, self.begins()) else {
            return pour;
        };
        let pours = air.pours().iter().map(|&pour| air.spells()[pour].air);
        let mut passed = f64::from(begins.hour()) * 60.0 + f64::from(begins.minute());
        let at_work = air.spells().iter().filter_map(|spell| {
            let from = passed;
            passed += spell.lasts.min();
            hours.any_between(from, passed).then_some(spell.air)
        });
        let airs = pours.chain(at_work).map(|air| air.temperature());
        airs.fold(pour, |most, air| if air > most { air } else { most })
    }

    /// The clock time at which its spells of air begin. `None`: it does not change.
    fn begins(&self) -> Option<Clock> {
        match &self.told {
            Told::Steady(_) => None,
            Told::DayAndNight { pour, .. } => Some(*pour),
            Told::Recorded(record) => Some(record.begins.time()),
        }
    }

    /// The same room with another movement of its air. `None` where it moves so already, or
    /// can't move so.
    #[must_use]
    pub fn with_air(&self, air: Air) -> Option<Self> {
        let speed = air.draught().film_speed();
        let over_time = (self.over_time).changed(&|now| now.with_speed(speed).ok())?;
        let changed = Self {
            air,
            over_time,
            ..self.clone()
        };
        (changed != *self).then_some(changed)
    }

    /// The same room so much drier, in points of relative humidity.
    #[must_use]
    pub fn drier_by(&self, points: f64) -> Option<Self> {
        self.changed(&|air| {
            let drier = air.humidity().percent() - points;
            air.with_humidity(Humidity::from_percent(drier)).ok()
        })
    }

    fn changed(&self, change: &dyn Fn(&cure::air::Air) -> Option<cure::air::Air>) -> Option<Self> {
        let climate = |of: &Climate| {
            let draught = self.air.draught();
            let air = cure::air::Air::of_room(of.temperature, of.humidity, draught).ok()?;
            let air = change(&air)?;
            Some(Climate {
                temperature: air.temperature(),
                humidity: air.humidity(),
            })
        };
        let changed = Self {
            told: match &self.told {
                Told::Steady(steady) => Told::Steady(climate(steady)?),
                Told::DayAndNight { day, night, pour } => Told::DayAndNight {
                    day: climate(day)?,
                    night: climate(night)?,
                    pour: *pour,
                },
                recorded @ Told::Recorded(_) => recorded.clone(),
            },
            over_time: self.over_time.changed(change)?,
            ..self.clone()
        };
        (changed != *self).then_some(changed)
    }

    /// The room as a coat meets it that is laid at another clock time. `None` where it
    /// is the same at any, or its record has no such hour.
    #[must_use]
    pub fn poured_at(&self, clock: Clock) -> Option<drying::Room> {
        let of_room = |climate: &Climate| {
            let draught = self.air.draught();
            cure::air::Air::of_room(climate.temperature, climate.humidity, draught).ok()
        };
        match (&self.told, &self.over_time) {
            (Told::DayAndNight { day, night, .. }, _) => {
                drying::Room::day_and_night(of_room(day)?, of_room(night)?, clock).ok()
            }
            (Told::Recorded(record), drying::Room::Changing(air)) => {
                let moved = air.poured_at(record.begins, clock).ok()?;
                Some(drying::Room::Changing(moved))
            }
            _ => None,
        }
    }
}

/// How a file tells how warm and how damp a room is.
#[derive(Debug, Clone, PartialEq)]
pub enum Told {
    /// As it is, throughout.
    Steady(Climate),
    /// By day and by night, each for half of it.
    DayAndNight {
        /// From 8 in the morning.
        day: Climate,
        /// From 8 in the evening.
        night: Climate,
        /// The clock time at which coats are laid.
        pour: Clock,
    },
    /// As a record has it.
    Recorded(Box<Record>),
}

/// A record of the room's air.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The file's name.
    pub file: String,
    /// When it begins.
    pub begins: DateTime,
    /// When it ends.
    pub ends: DateTime,
    /// The clock time at which coats are laid.
    pub pour: Clock,
    /// The days on which they can be.
    pub days: usize,
    /// What was odd in it.
    pub notices: Vec<String>,
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

const HOLDS: Limit<Volume> = Limit {
    holds: |volume| (0.05..=1e6).contains(&volume.l()),
    reason: "a box that coats dry in holds 0.05 L to 1000 m3",
};
const CHANGES: Limit<Number> = Limit {
    holds: |changes| (0.0..=1e5).contains(&changes.0),
    reason: "the air of a box is changed 0 to 100000 times an hour; 0 is a lid that is on",
};
const PIECES: Limit<Whole> = Limit {
    holds: |pieces| (1..=100_000).contains(&pieces.0),
    reason: "from 1 to 100000 wet pieces lie in a box at once",
};
const MONTH: Limit<Whole> = Limit {
    holds: |month| (1..=12).contains(&month.0),
    reason: "a month is from 1 to 12",
};
const WARMER: Limit<TemperatureDifference> = Limit {
    holds: |by| (-20.0..=40.0).contains(&by.k()),
    reason: "a room is from 20 K cooler to 40 K warmer than outdoors",
};

/// Reads `[room]`.
pub(super) fn read(mut section: Section, book: &mut Book) -> Option<Room> {
    let still = Fallback {
        value: AirWords(Air::Still),
        words: "still",
        why: "an ordinary room, doors and windows shut",
    };
    let air = section.or(book, "air", &AIR, still).0;
    let shut_in = if section.has("cupboard") {
        section
            .table(
                book,
                "cupboard",
                "{ holds = \"60 L\", air_changes = 2, pieces = 24 }",
            )
            .and_then(|cupboard| shut_in(cupboard, book))
    } else {
        None
    };
    let records = ["logger", "weather"].map(|key| section.has(key));
    let (told, over_time) = match records {
        [true, true] => {
            let spot = section.spot("weather");
            book.refuse(
                &spot,
                "a room's air is from a logger or from a weather file, not both",
            );
            return None;
        }
        [false, false] => measured(section, air, book),
        _ => recorded(section, air, book),
    }?;
    Some(Room {
        told,
        air,
        over_time,
        shut_in,
    })
}

/// Reads the cupboard that coats dry in.
fn shut_in(mut section: Section, book: &mut Book) -> Option<Enclosure> {
    let holds = section.need(book, "holds", &HOLDS);
    let changes = section.need(book, "air_changes", &CHANGES);
    let pieces = section.need(book, "pieces", &PIECES);
    section.finish(book);
    let (changes, pieces) = (changes?.0, pieces?.small()?);
    // a cupboard's air moves as on a sheltered shelf, a sealed tub's less
    let inside = if changes > 0.0 {
        Draught::Sheltered
    } else {
        Draught::ClosedBox
    };
    // the limits above are the enclosure's own, so this can't fail
    Enclosure::new(holds?, AirChanges::from_per_h(changes), pieces)
        .and_then(|shut| shut.with_air_inside(inside))
        .ok()
}

/// A room whose air the file tells itself: one state, or one by day and one by night.
fn measured(mut section: Section, air: Air, book: &mut Book) -> Option<(Told, drying::Room)> {
    let temperature = section.need(book, "temperature", &TEMPERATURE);
    let humidity = section.need(book, "humidity", &HUMIDITY);
    let night = section.pair(
        book,
        "night",
        (&TEMPERATURE, &HUMIDITY),
        "a temperature and a humidity: [\"9 C\", \"90 %\"]",
    );
    let pour = if section.has("night") {
        Some(pour(&mut section, book))
    } else {
        None
    };
    let lonely = "this is of a record: it takes logger or weather beside it";
    for key in ["month", "warmer", "heated"] {
        section.refuse(book, key, lonely);
    }
    if !section.has("night") {
        section.refuse(book, "pour", "a room that does not change needs no time to pour at: it takes night, logger or weather beside it");
    }
    section.finish(book);
    let day = Climate {
        temperature: temperature?,
        humidity: humidity?,
    };
    // the limits above are those of the drying laws, so this can't fail
    let of_room = |climate: Climate| {
        cure::air::Air::of_room(climate.temperature, climate.humidity, air.draught()).ok()
    };
    let Some(pour) = pour else {
        return Some((Told::Steady(day), drying::Room::Steady(of_room(day)?)));
    };
    let (temperature, humidity) = night?;
    let night = Climate {
        temperature,
        humidity,
    };
    let room = drying::Room::day_and_night(of_room(day)?, of_room(night)?, pour).ok()?;
    Some((Told::DayAndNight { day, night, pour }, room))
}

/// The clock time at which coats are laid.
fn pour(section: &mut Section, book: &mut Book) -> Clock {
    let evening = Fallback {
        value: ClockTime(EVENING),
        words: "19:00",
        why: "makers pour in the evening (common practice, no source)",
    };
    section.or(book, "pour", &Limit::ANY, evening).0
}

/// A room as a logger or a weather file has it.
fn recorded(mut section: Section, air: Air, book: &mut Book) -> Option<(Told, drying::Room)> {
    let of_logger = section.has("logger");
    let key = if of_logger { "logger" } else { "weather" };
    let spot = section.spot(key);
    let file = section.need::<Name>(book, key, &Limit::ANY);
    let written = if of_logger {
        Written::Logger
    } else {
        let month = section.may(book, "month", &MONTH);
        Written::Weather {
            month: month.and_then(|month| i8::try_from(month.0).ok()),
        }
    };
    let warmer = section.may(book, "warmer", &WARMER);
    let heated = section.may(book, "heated", &TEMPERATURE);
    let pour = pour(&mut section, book);
    if section.has("warmer") && section.has("heated") {
        let spot = section.spot("heated");
        book.refuse(
            &spot,
            "a room is so much warmer than outdoors, or heated to a temperature, not both",
        );
        return None;
    }
    for key in ["temperature", "humidity", "night"] {
        section.refuse(
            book,
            key,
            "the room's air is its record's; leave this out, or the record",
        );
    }
    section.finish(book);
    let recording = Recording {
        written,
        indoors: match (warmer, heated) {
            (Some(by), _) => Some(Indoors::Offset(by)),
            (None, Some(to)) => Some(Indoors::Heated { to }),
            (None, None) => None,
        },
        place: Place::new(air.draught()),
        pour,
    };
    let file = file?.into_string();
    let read = book
        .beside(&file)
        .map_err(|why| format!("the record can't be read: {why}"))
        .and_then(|bytes| recording.read(&bytes, &file).map_err(|why| why.to_string()));
    let recorded = match read {
        Ok(recorded) => recorded,
        Err(why) => {
            book.refuse(&spot, why);
            return None;
        }
    };
    let record = Record {
        file,
        begins: recorded.begins,
        ends: recorded.ends,
        pour,
        days: recorded.days,
        notices: recorded.notices,
    };
    Some((Told::Recorded(Box::new(record)), recorded.room))
}
