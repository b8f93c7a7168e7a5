//! Counts of rows for the notices.

use super::notice::Notice;
use super::reading::humidity_of;
use crate::cure::psychro::saturation_pressure;
use crate::quantity::{Humidity, Temperature};

/// Highest humidity that is read, `[%]`: a sensor near saturation overshoots by some
/// per cent (typical, from memory).
const MOST: f64 = 105.0;

/// What a humidity must be, in the words of a refusal.
pub(super) const HUMIDITY_RANGE: &str =
    "a relative humidity lies from 0 % to 100 %, and a sensor's no higher than 105 %";

/// What a dew point must be, in the words of a refusal.
pub(super) const DEW_POINT_RANGE: &str = "the dew point is no higher than the temperature";

/// Rows of one kind: how many, and the first one's line.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Tally {
    pub rows: usize,
    pub line: usize,
}

impl Tally {
    pub fn add(&mut self, line: usize) {
        if self.rows == 0 {
            self.line = line;
        }
        self.rows += 1;
    }
}

/// Humidities as sensors give them, with a count of those above saturation.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Humidities {
    above: Tally,
    most: f64,
}

impl Humidities {
    /// The humidity of a row; `None` outside 0 to 105 %.
    pub fn read(&mut self, percent: f64, line: usize) -> Option<Humidity> {
        if !(0.0..=MOST).contains(&percent) {
            return None;
        }
        if percent > 100.0 {
            self.above.add(line);
            self.most = self.most.max(percent);
            return Some(Humidity::from_percent(100.0));
        }
        Some(Humidity::from_percent(percent))
    }

    /// Tells of those above saturation, if there were any.
    pub fn notice(&self) -> Option<Notice> {
        (self.above.rows > 0).then_some(Notice::AboveSaturation {
            rows: self.above.rows,
            line: self.above.line,
            most: Humidity::from_percent(self.most),
        })
    }
}

/// Relative humidity from the dew point, `RH = ps(Td) / ps(T)`, in per cent.
pub(super) fn percent_from_dew_point(temperature: Temperature, dew_point: Temperature) -> f64 {
    humidity_of(saturation_pressure(dew_point), temperature).percent()
}
