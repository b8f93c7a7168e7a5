//! A default that the run leans on.

use crate::quantity::{Measured, Show, Units};

/// A value that the file left out, with what was taken in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assumption {
    /// The path of the key that was left out, such as `blank[0].bad`.
    pub key: String,
    /// What the maker calls the blank, step, tray... that the key is of, where it is of one.
    pub of: Option<String>,
    /// What was taken, as a run file would say it: "10 mm", "23 C and 50 %", "none".
    pub value: String,
    /// Why, or where the figure comes from.
    pub why: &'static str,
}

impl Assumption {
    /// The key as a maker would call it: `blank[0].bad` of a blank "beech disc" is
    /// "beech disc: bad".
    #[must_use]
    pub fn called(&self) -> String {
        match (&self.of, self.key.split_once("].")) {
            (Some(of), Some((_, key))) => format!("{of}: {key}"),
            _ => self.key.clone(),
        }
    }

    /// What was taken, in the reader's units: each quantity in it that has a unit of its own there
    /// is told in that.
    #[must_use]
    pub fn told(&self, units: Units) -> String {
        if units == Units::Metric {
            return self.value.clone();
        }
        let parts = self.value.split(" and ");
        let parts = parts.map(|part| shown(part, units).unwrap_or_else(|| part.to_owned()));
        parts.collect::<Vec<_>>().join(" and ")
    }
}

/// A quantity that has one unit here and another there. `None`: these are words, or say the same to
/// everyone, as hours and per cent do.
fn shown(part: &str, units: Units) -> Option<String> {
    let read: Measured = part.parse().ok()?;
    let temperature = read.temperature().map(|it| it.show(units));
    let size = || {
        let length = read.length().map(|it| it.show(units));
        length.or_else(|| read.area().map(|it| it.show(units)))
    };
    let amount = || {
        let volume = read.volume().map(|it| it.show(units));
        volume.or_else(|| read.mass().map(|it| it.show(units)))
    };
    let speed = || read.speed().map(|it| it.show(units));
    temperature.or_else(size).or_else(amount).or_else(speed)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An inch is 25.4 mm by definition, and 23 °C are 73.4 °F.
    #[test]
    fn what_was_taken_is_told_in_the_readers_units() {
        let told = |value: &str, units| {
            let assumed = Assumption {
                key: "x".to_owned(),
                of: None,
                value: value.to_owned(),
                why: "",
            };
            assumed.told(units)
        };
        for (value, us) in [
            ("12.7 mm", "1/2 in"),
            ("0 mm", "0 in"),
            ("23 C and 50 %", "73 °F and 50 %"),
            ("48 h", "48 h"),
            ("1", "1"),
            ("19:00-21:00", "19:00-21:00"),
            ("10:00-12:00 and 14:00-17:00", "10:00-12:00 and 14:00-17:00"),
            ("as the calendar has them", "as the calendar has them"),
        ] {
            assert_eq!(told(value, Units::Us), us);
            assert_eq!(told(value, Units::Metric), value);
        }
    }
}
