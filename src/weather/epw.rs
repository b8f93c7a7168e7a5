//! A typical year in the EPW format.
//!
//! Eight header lines, from LOCATION to DATA PERIODS, then one row an hour without
//! headings: year, month, day, hour, minute, a text, dry bulb `[°C]`, dew point
//! `[°C]`, relative humidity `[%]`, pressure `[Pa]`, and up to 25 more, of which the
//! last may be absent. Missing are a dry bulb or dew point of 99.9, a humidity of
//! 999 and a pressure of 999999. Source: `EnergyPlus` documentation, auxiliary
//! programs, weather data format; the codes for missing values from memory.
//!
//! Hour 1 to 24 names the end of the hour that a row is for, so its reading begins
//! to hold one hour before: hour 1 of 3 May holds from midnight to 01:00. Times are
//! local standard time; the minute is not used.
//!
//! The months of a typical year come from different years. They are put into one
//! nominal year, [`NOMINAL_YEAR`], or [`NOMINAL_LEAP_YEAR`] where the file has a
//! 29 February. Wind in the file is outdoors, 10 m up, and is not read: the air
//! past a film is the caller's to tell.

use jiff::civil::{Date, date};

use super::notice::Notice;
use super::number::{Cell, cell};
use super::reading::Reading;
use super::record::Record;
use super::tally::{DEW_POINT_RANGE, HUMIDITY_RANGE, Humidities, Tally, percent_from_dew_point};
use super::text::{Line, breaks_off, decode, lines, shown};
use super::unread::{Fault, Faults, Problem, Unread};
use crate::cure::air::{DENSEST, THINNEST};
use crate::quantity::{Humidity, Pressure, Temperature};

/// The year that a typical year is put into.
pub const NOMINAL_YEAR: i16 = 2001;
/// The same where it has a 29 February.
pub const NOMINAL_LEAP_YEAR: i16 = 2004;

const HEADER_LINES: usize = 8;
/// Fields of a row: up to the wind speed at least, up to the rain's hours at most.
const FIELDS: std::ops::RangeInclusive<usize> = 22..=35;
/// The most that the format allows either side of nothing, `[°C]`.
const TEMPERATURES: std::ops::RangeInclusive<f64> = -70.0..=70.0;

/// A field: its place from 0, and its name.
struct Field(usize, &'static str);

const MONTH: Field = Field(1, "month");
const DAY: Field = Field(2, "day");
const HOUR: Field = Field(3, "hour");
const DRY_BULB: Field = Field(6, "dry bulb temperature");
const DEW_POINT: Field = Field(7, "dew point temperature");
const HUMIDITY: Field = Field(8, "relative humidity");
const PRESSURE: Field = Field(9, "atmospheric pressure");

/// Reads a typical year; `name` is what messages call the file.
///
/// Rows without a temperature, or without both humidity and dew point, are left out
/// and counted; a humidity that is missing is worked out from the dew point. Both
/// leave a [`Notice`].
///
/// # Errors
/// [`Unread`] with the line and the field of the first faults.
pub fn read(bytes: &[u8], name: &str) -> Result<Record, Unread> {
    let at_the_top = |problem| Unread::one(name, whole_line(1, problem));
    let text = decode(bytes).map_err(at_the_top)?;
    check_header(&text).map_err(|fault| Unread::one(name, fault))?;
    let mut rows = Rows::default();
    let mut all = lines(&text).skip(HEADER_LINES).peekable();
    while let Some(line) = all.next() {
        let last = all.peek().is_none() && breaks_off(&text);
        if !line.text.trim().is_empty() {
            rows.take(line, last);
        }
    }
    rows.into_record(name)
}

fn whole_line(line: usize, problem: Problem) -> Fault {
    Fault {
        line,
        heading: String::new(),
        problem,
    }
}

/// The first header line, the last, and that there is one row an hour.
fn check_header(text: &str) -> Result<(), Fault> {
    let wrong = |line: usize, read: &str, expected| {
        let read = shown(read);
        Err(whole_line(line, Problem::Wrong { read, expected }))
    };
    let begins = |line: &str, with: &str| {
        let start = line.trim_start().get(..with.len());
        start.is_some_and(|start| start.eq_ignore_ascii_case(with))
    };
    let line = |number: usize| lines(text).nth(number - 1).map_or("", |line| line.text);
    if !begins(line(1), "LOCATION") {
        return wrong(1, line(1), "LOCATION, the first line of an EPW file");
    }
    let periods = line(HEADER_LINES);
    if !begins(periods, "DATA PERIODS") {
        return wrong(
            HEADER_LINES,
            periods,
            "DATA PERIODS, an EPW file's eighth line",
        );
    }
    match periods.split(',').nth(2).map(str::trim) {
        Some("1") => Ok(()),
        _ => wrong(
            HEADER_LINES,
            periods,
            "one record an hour: DATA PERIODS,1,1,..",
        ),
    }
}

/// One row: the day in a leap year, and the hour that ends.
struct Row {
    line: usize,
    day: Date,
    hour: i8,
    temperature: Temperature,
    humidity: Humidity,
    pressure: Option<Pressure>,
}

#[derive(Default)]
struct Rows {
    hours: Vec<Row>,
    /// How many fields the first row has.
    width: Option<usize>,
    missing: Tally,
    from_dew_point: usize,
    humidities: Humidities,
    unfinished: Option<usize>,
    faults: Faults,
}

/// A fault of one field.
type Wrong = (&'static str, Problem);

/// The text of a field.
fn text<'r>(row: &[&'r str], Field(index, _): &Field) -> &'r str {
    row.get(*index).map_or("", |text| text.trim())
}

fn number(row: &[&str], field: &Field) -> Result<f64, Wrong> {
    match cell(text(row, field)) {
        Cell::Number(number) => Ok(number),
        Cell::None => Err(wrong(row, field, "a number")),
    }
}

fn wrong(row: &[&str], field: &Field, expected: &'static str) -> Wrong {
    let read = shown(text(row, field));
    (field.1, Problem::Wrong { read, expected })
}

fn refused(row: &[&str], field: &Field, reason: &'static str) -> Wrong {
    let read = shown(text(row, field));
    (field.1, Problem::Refused { read, reason })
}

fn is(read: f64, code: f64) -> bool {
    (read - code).abs() < 1e-6
}

/// A temperature, `None` where it is missing.
fn temperature(row: &[&str], field: &Field) -> Result<Option<Temperature>, Wrong> {
    let read = number(row, field)?;
    if is(read, 99.9) {
        return Ok(None);
    }
    if !TEMPERATURES.contains(&read) {
        return Err(refused(
            row,
            field,
            "an EPW temperature lies from -70 to 70 °C",
        ));
    }
    Ok(Some(Temperature::from_celsius(read)))
}

fn pressure(row: &[&str]) -> Result<Option<Pressure>, Wrong> {
    let read = number(row, &PRESSURE)?;
    if is(read, 999_999.0) {
        return Ok(None);
    }
    let pressure = Pressure::from_pa(read);
    if !(THINNEST..=DENSEST).contains(&pressure) {
        return Err(refused(
            row,
            &PRESSURE,
            "air that people work in has 50000 to 110000 Pa",
        ));
    }
    Ok(Some(pressure))
}

/// A whole number from 1.
fn counted(row: &[&str], field: &Field, most: i8, expected: &'static str) -> Result<i8, Wrong> {
    let read = text(row, field).parse::<i8>().ok();
    read.filter(|read| (1..=most).contains(read))
        .ok_or_else(|| wrong(row, field, expected))
}

fn day_and_hour(row: &[&str]) -> Result<(Date, i8), Wrong> {
    let month = counted(row, &MONTH, 12, "a month from 1 to 12")?;
    let day = counted(row, &DAY, 31, "a day from 1 to 31")?;
    let hour = counted(row, &HOUR, 24, "an hour from 1 to 24")?;
    let day = Date::new(NOMINAL_LEAP_YEAR, month, day)
        .map_err(|_| wrong(row, &DAY, "a day that the month has"))?;
    Ok((day, hour))
}

impl Rows {
    fn take(&mut self, line: Line<'_>, may_break_off: bool) {
        let fields: Vec<&str> = line.text.split(',').collect();
        let expected = self.width.unwrap_or(*FIELDS.end());
        let fits = match self.width {
            Some(width) => fields.len() == width,
            None => FIELDS.contains(&fields.len()),
        };
        if may_break_off && fields.len() < expected && self.width.is_some() {
            self.unfinished = Some(line.number);
        } else if fits {
            self.width = Some(fields.len());
            if let Err((field, problem)) = self.row(&fields, line.number) {
                self.faults.add(line.number, field, problem);
            }
        } else {
            let read = fields.len();
            let problem = Problem::Cells { read, expected };
            self.faults.add(line.number, "", problem);
        }
    }

    fn row(&mut self, row: &[&str], line: usize) -> Result<(), Wrong> {
        let (day, hour) = day_and_hour(row)?;
        let dry_bulb = temperature(row, &DRY_BULB)?;
        let percent = number(row, &HUMIDITY)?;
        let pressure = pressure(row)?;
        let Some(dry_bulb) = dry_bulb else {
            self.missing.add(line);
            return Ok(());
        };
        let humidity = if is(percent, 999.0) {
            let Some(dew_point) = temperature(row, &DEW_POINT)? else {
                self.missing.add(line);
                return Ok(());
            };
            self.from_dew_point += 1;
            let percent = percent_from_dew_point(dry_bulb, dew_point);
            let humidity = self.humidities.read(percent, line);
            humidity.ok_or_else(|| refused(row, &DEW_POINT, DEW_POINT_RANGE))?
        } else {
            let humidity = self.humidities.read(percent, line);
            humidity.ok_or_else(|| refused(row, &HUMIDITY, HUMIDITY_RANGE))?
        };
        self.hours.push(Row {
            line,
            day,
            hour,
            temperature: dry_bulb,
            humidity,
            pressure,
        });
        Ok(())
    }

    fn into_record(self, file: &str) -> Result<Record, Unread> {
        if !self.faults.is_empty() {
            return Err(self.faults.refusal(file));
        }
        let readings = self.readings().map_err(|fault| Unread::one(file, fault))?;
        Record::new(readings, self.notices())
            .map_err(|none| Unread::one(file, whole_line(HEADER_LINES, none.problem(None))))
    }

    /// The readings in the nominal year, each at the beginning of its hour.
    fn readings(&self) -> Result<Vec<Reading>, Fault> {
        let leap_day = date(NOMINAL_LEAP_YEAR, 2, 29);
        let leap = self.hours.iter().any(|row| row.day == leap_day);
        let mut readings: Vec<Reading> = Vec::with_capacity(self.hours.len());
        for row in &self.hours {
            let year = if leap {
                NOMINAL_LEAP_YEAR
            } else {
                NOMINAL_YEAR
            };
            // Only a 29 February is missing from the other year, and there is none.
            let day = Date::new(year, row.day.month(), row.day.day()).unwrap_or(row.day);
            let at = day.at(row.hour - 1, 0, 0, 0);
            if let Some(last) = readings.last()
                && at <= last.at
            {
                let (read, after) = (at, last.at);
                return Err(whole_line(row.line, Problem::NotRising { read, after }));
            }
            readings.push(Reading {
                at,
                temperature: row.temperature,
                humidity: row.humidity,
                pressure: row.pressure,
            });
        }
        Ok(readings)
    }

    fn notices(&self) -> Vec<Notice> {
        let mut notices: Vec<Notice> = self.humidities.notice().into_iter().collect();
        let Tally { rows, line } = self.missing;
        if rows > 0 {
            notices.push(Notice::Missing { rows, line });
        }
        if self.from_dew_point > 0 {
            let rows = self.from_dew_point;
            notices.push(Notice::FromDewPoint { rows });
        }
        notices.extend(self.unfinished.map(|line| Notice::Unfinished { line }));
        notices
    }
}
