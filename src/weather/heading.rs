//! What a column holds, told by its heading.
//!
//! The words are what loggers commonly write, in English and a few other languages
//! (typical, from memory).

use super::notice::DateOrder;
use crate::quantity::Temperature;

/// What a column can hold that is of use here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Meaning {
    Temperature,
    Humidity,
    DewPoint,
    Date,
    Time,
    /// Date and time in one.
    Moment,
    /// Seconds since 1970-01-01 in universal time.
    Unix,
}

impl Meaning {
    pub const fn name(self) -> &'static str {
        match self {
            Self::Temperature => "the temperature",
            Self::Humidity => "the relative humidity",
            Self::DewPoint => "the dew point",
            Self::Date => "the date",
            Self::Time => "the time",
            Self::Moment | Self::Unix => "the date and time",
        }
    }
}

/// Unit of a temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Celsius,
    Fahrenheit,
}

impl Unit {
    pub const fn temperature(self, read: f64) -> Temperature {
        match self {
            Self::Celsius => Temperature::from_celsius(read),
            Self::Fahrenheit => Temperature::from_fahrenheit(read),
        }
    }
}

/// Words that make a column something else than it seems, such as a wet bulb's
/// temperature, the elapsed time or the absolute humidity.
const ELSE: &[&str] = &[
    "absolute",
    "alarm",
    "chill",
    "code",
    "elapsed",
    "flag",
    "heat",
    "index",
    "max",
    "maximum",
    "min",
    "minimum",
    "mixing",
    "quality",
    "running",
    "setpoint",
    "source",
    "status",
    "surface",
    "uncert",
    "uncertainty",
    "vpd",
    "wet",
    "zone",
];
const CELSIUS: &[&str] = &["c", "celsius", "centigrade", "degc", "tempc"];
const FAHRENHEIT: &[&str] = &["f", "fahrenheit", "degf", "tempf"];
const DATE: &[&str] = &["date", "datum", "fecha"];
const TIME: &[&str] = &["time", "zeit", "uhrzeit", "uhr", "heure", "hora", "clock"];
const MOMENT: &[&str] = &["datetime", "timestamp", "zeitstempel"];
const UNIX: &[&str] = &["unix", "unixtime", "epoch"];

/// The words of a heading in small letters; signs, brackets and every way to write
/// a degree fall away.
fn words(heading: &str) -> Vec<String> {
    let plain = heading
        .replace('\u{2103}', " c ")
        .replace('\u{2109}', " f ")
        .to_lowercase();
    plain
        .split(|c: char| !c.is_alphanumeric() || c == 'º')
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

fn any(words: &[String], list: &[&str]) -> bool {
    words.iter().any(|word| list.contains(&word.as_str()))
}

fn any_starts(words: &[String], starts: &[&str]) -> bool {
    words
        .iter()
        .any(|word| starts.iter().any(|start| word.starts_with(start)))
}

/// What the column under this heading holds, if it is of use here.
pub(super) fn meaning(heading: &str) -> Option<Meaning> {
    let words = words(heading);
    if any(&words, ELSE) {
        return None;
    }
    if any_starts(&words, &["dew", "taupunkt"]) {
        return Some(Meaning::DewPoint);
    }
    let humidity = any(&words, &["rh", "rhum", "hum", "feuchte"])
        || any_starts(&words, &["humid", "luftfeucht", "umidit", "hygrom"]);
    let dry_bulb = words.windows(2).any(|pair| pair == ["dry", "bulb"]);
    let temperature = dry_bulb
        || words.iter().any(|word| {
            word.starts_with("temp") && word != "temps" || word.ends_with("temperatur")
        })
        || any(&words, &["celsius", "fahrenheit"]);
    match (temperature, humidity) {
        (true, false) => Some(Meaning::Temperature),
        (false, true) => Some(Meaning::Humidity),
        (true, true) => None,
        (false, false) => moment(&words),
    }
}

fn moment(words: &[String]) -> Option<Meaning> {
    let date = any(words, DATE);
    let time = any(words, TIME);
    if any(words, UNIX) {
        Some(Meaning::Unix)
    } else if any(words, MOMENT) || date && time {
        Some(Meaning::Moment)
    } else if date {
        Some(Meaning::Date)
    } else if time {
        Some(Meaning::Time)
    } else {
        None
    }
}

/// The unit of temperature that a heading names, if it names one and not both.
pub(super) fn unit(heading: &str) -> Option<Unit> {
    let words = words(heading);
    match (any(&words, CELSIUS), any(&words, FAHRENHEIT)) {
        (true, false) => Some(Unit::Celsius),
        (false, true) => Some(Unit::Fahrenheit),
        _ => None,
    }
}

/// Whether a heading says that its humidity is in per cent.
pub(super) fn per_cent(heading: &str) -> bool {
    heading.contains('%') || any(&words(heading), &["pct", "percent", "prozent"])
}

/// The order of day and month that a heading names: "Date (MM/DD/YYYY)".
pub(super) fn date_order(heading: &str) -> Option<DateOrder> {
    let words = words(heading);
    let place = |of: &[&str]| words.iter().position(|word| of.contains(&word.as_str()));
    let day = place(&["d", "dd", "day"])?;
    let month = place(&["m", "mm", "month"])?;
    Some(if day < month {
        DateOrder::DayFirst
    } else {
        DateOrder::MonthFirst
    })
}
