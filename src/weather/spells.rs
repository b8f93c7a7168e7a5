//! A record as spells of constant air.

use jiff::civil::DateTime;

use super::reading::{Reading, humidity_of, moment, time_between};
use super::record::Record;
use crate::cure::air::{Air, AirError, Draught, SEA_LEVEL};
use crate::cure::situation::Spell;
use crate::quantity::{Humidity, Pressure, Temperature, Time};

/// What a record does not say about the place where a coat lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    draught: Draught,
    pressure: Option<Pressure>,
}

impl Place {
    /// A place with this draught. Its pressure is the record's own where it has one,
    /// and that of sea level where it hasn't.
    #[must_use]
    pub const fn new(draught: Draught) -> Self {
        Self {
            draught,
            pressure: None,
        }
    }

    /// The same at a pressure that stands above the record's own.
    #[must_use]
    pub const fn at_pressure(self, pressure: Pressure) -> Self {
        Self {
            pressure: Some(pressure),
            ..self
        }
    }

    fn air(&self, reading: &Reading) -> Result<Air, AirError> {
        let pressure = self.pressure.or(reading.pressure).unwrap_or(SEA_LEVEL);
        Air::of_room(reading.temperature, reading.humidity, self.draught)?.with_pressure(pressure)
    }
}

/// What the air does between two readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hold {
    /// Each reading holds until the next.
    Step,
    /// Temperature and vapour pressure run in straight lines from one reading to the
    /// next, cut into equal pieces that last no longer than this, each with the air
    /// of its middle. Saturation rises faster than a line, so between two nearly
    /// saturated readings the vapour can come out above it: there the air is taken
    /// as saturated (the rest would be mist), which [`Spells::saturated`] counts.
    Between {
        /// The longest piece; more than nothing.
        at_most: Time,
    },
}

/// Why there are no spells from a moment on.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Uncovered {
    /// The record begins later.
    #[error("the record begins at {}, after {}", moment(*.begins), moment(*.from))]
    Before {
        /// The moment.
        from: DateTime,
        /// When the record begins.
        begins: DateTime,
    },
    /// The record ends sooner.
    #[error("the record ends at {}, before {}", moment(*.ends), moment(*.from))]
    After {
        /// The moment.
        from: DateTime,
        /// When the record ends.
        ends: DateTime,
    },
    /// The moment lies where readings are missing.
    #[error("{} lies in a gap of the record, from {} to {}", moment(*.from), moment(*.ends), moment(*.begins))]
    InGap {
        /// The moment.
        from: DateTime,
        /// Up to when the reading before the gap holds.
        ends: DateTime,
        /// When the record goes on.
        begins: DateTime,
    },
    /// Pieces can't be so short.
    #[error("pieces between readings must last at least a second, got {} s", .0.s())]
    Pieces(Time),
}

/// Why the spells of a record stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum End {
    /// The record's last reading holds no longer.
    OfRecord {
        /// Until then.
        at: DateTime,
    },
    /// Readings are missing for longer than [`Record::longest_hold`].
    Gap {
        /// Up to when the reading before it holds.
        at: DateTime,
        /// When the record goes on.
        to: DateTime,
    },
    /// A reading is outside what the drying rules take.
    OutOfRange {
        /// When it begins to hold.
        at: DateTime,
        /// What is wrong with it.
        why: AirError,
    },
}

impl std::fmt::Display for End {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::OfRecord { at } => write!(out, "the record ends at {}", moment(*at)),
            Self::Gap { at, to } => write!(
                out,
                "the record has a gap from {} to {}",
                moment(*at),
                moment(*to)
            ),
            Self::OutOfRange { at, why } => {
                write!(
                    out,
                    "the record can't be followed at {}: {why}",
                    moment(*at)
                )
            }
        }
    }
}

impl Record {
    /// Spells of constant air from a moment on, for as long as the air is known.
    /// The first one is cut short where the moment lies between two readings.
    ///
    /// Takes the time of a search in the record, and then that of each spell.
    ///
    /// # Errors
    /// [`Uncovered`] where the moment is outside the record or in one of its gaps, or
    /// pieces are shorter than a second.
    pub fn spells(
        &self,
        from: DateTime,
        place: Place,
        hold: Hold,
    ) -> Result<Spells<'_>, Uncovered> {
        if let Hold::Between { at_most } = hold
            && (at_most.s() < 1.0 || at_most.s().is_nan())
        {
            return Err(Uncovered::Pieces(at_most));
        }
        let (begins, ends) = self.span();
        let readings = self.readings();
        let after = readings.partition_point(|reading| reading.at <= from);
        let Some(index) = after.checked_sub(1) else {
            return Err(Uncovered::Before { from, begins });
        };
        let until = self.held_until(index);
        if from >= until {
            return Err(match readings.get(after) {
                None => Uncovered::After { from, ends },
                Some(next) => Uncovered::InGap {
                    from,
                    ends: until,
                    begins: next.at,
                },
            });
        }
        Ok(Spells {
            record: self,
            place,
            hold,
            index,
            passed: time_between(readings[index].at, from),
            end: None,
            saturated: 0,
        })
    }
}

/// The spells of a record; see [`Record::spells`]. Ask [`Spells::end`] why they stop.
#[derive(Debug, Clone)]
pub struct Spells<'r> {
    record: &'r Record,
    place: Place,
    hold: Hold,
    /// The reading that holds now, and for how long it has.
    index: usize,
    passed: Time,
    end: Option<End>,
    saturated: usize,
}

impl Spells<'_> {
    /// Why the spells stop, known once the last one has been handed out; `None` before.
    #[must_use]
    pub fn end(&self) -> Option<End> {
        self.end
    }

    /// How many pieces between readings were taken as saturated so far, see
    /// [`Hold::Between`].
    #[must_use]
    pub fn saturated(&self) -> usize {
        self.saturated
    }

    /// The reading that holds for the next piece, and how long the piece lasts of
    /// what is `left` until the next reading.
    fn piece(&mut self, left: Time) -> (Reading, Time) {
        let readings = self.record.readings();
        let now = readings[self.index];
        let held = self.record.held_until(self.index);
        let next = readings.get(self.index + 1).filter(|next| next.at == held);
        match (self.hold, next) {
            (Hold::Between { at_most }, Some(next)) => {
                let lasts = left / (left / at_most).ceil().max(1.0);
                let whole = time_between(now.at, next.at);
                let share = (self.passed + lasts * 0.5) / whole;
                let (reading, saturated) = between(&now, next, share);
                self.saturated += usize::from(saturated);
                (reading, lasts)
            }
            _ => (now, left),
        }
    }

    fn stop(&mut self, end: End) {
        self.end = Some(end);
    }
}

/// The air at a share of the way, with vapour pressure and temperature on straight
/// lines, and whether it was more than saturated.
fn between(from: &Reading, to: &Reading, share: f64) -> (Reading, bool) {
    let line = |a: f64, b: f64| a + (b - a) * share;
    let temperature =
        Temperature::from_celsius(line(from.temperature.celsius(), to.temperature.celsius()));
    let vapour = line(from.vapour_pressure().pa(), to.vapour_pressure().pa());
    let humidity = humidity_of(Pressure::from_pa(vapour), temperature);
    // 1e-9: two saturated readings of one temperature stay saturated, up to rounding
    let saturated = humidity.fraction() > 1.0 + 1e-9;
    let pressure = match (from.pressure, to.pressure) {
        (Some(a), Some(b)) => Some(Pressure::from_pa(line(a.pa(), b.pa()))),
        (one, other) => one.or(other),
    };
    let reading = Reading {
        at: from.at,
        temperature,
        humidity: Humidity::from_fraction(humidity.fraction().min(1.0)),
        pressure,
    };
    (reading, saturated)
}

impl Iterator for Spells<'_> {
    type Item = Spell;

    fn next(&mut self) -> Option<Spell> {
        if self.end.is_some() {
            return None;
        }
        let readings = self.record.readings();
        let (at, held) = (readings[self.index].at, self.record.held_until(self.index));
        let left = time_between(at, held) - self.passed;
        let (reading, lasts) = self.piece(left);
        let air = match self.place.air(&reading) {
            Ok(air) => air,
            Err(why) => {
                self.stop(End::OutOfRange { at, why });
                return None;
            }
        };
        if lasts < left {
            self.passed = self.passed + lasts;
            return Some(Spell { air, lasts });
        }
        match readings.get(self.index + 1) {
            Some(next) if next.at == held => {
                self.index += 1;
                self.passed = Time::ZERO;
            }
            Some(next) => self.stop(End::Gap {
                at: held,
                to: next.at,
            }),
            None => self.stop(End::OfRecord { at: held }),
        }
        Some(Spell { air, lasts })
    }
}
