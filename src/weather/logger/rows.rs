//! The rows of a logger's table.

use csv::StringRecord;

use super::super::number::{Cell, cell, decimals};
use super::super::stamp::Stamp;
use super::super::tally::{
    DEW_POINT_RANGE, HUMIDITY_RANGE, Humidities, Tally, percent_from_dew_point,
};
use super::super::text::{breaks_off, shown};
use super::super::unread::{Fault, Faults, Problem};
use super::table::{Column, Damp, Table, Thermometer};
use crate::quantity::{Humidity, Temperature};

const A_MOMENT: &str = "a date and time such as 2026-11-25 18:30";
const TEMPERATURE_RANGE: &str = "a logger's temperature lies from -40 to 85 °C (-40 to 185 °F)";

/// A row that is a reading, with its date as it was written.
pub(super) struct Seen {
    pub line: usize,
    /// The byte where its line begins.
    pub start: usize,
    pub stamp: Stamp,
    pub temperature: Temperature,
    pub humidity: Humidity,
}

/// One row of the table: its cells, its line, and the byte where that begins.
struct Row<'r> {
    record: &'r StringRecord,
    line: usize,
    start: usize,
}

impl Row<'_> {
    fn number(&self, column: &Column) -> Cell {
        cell(column.cell(self.record))
    }
}

/// What the rows of a table hold.
pub(super) struct Rows<'t> {
    pub table: &'t Table,
    pub text: &'t str,
    pub seen: Vec<Seen>,
    pub skipped: Tally,
    pub first_skipped: String,
    pub humidities: Humidities,
    pub highest: f64,
    pub unfinished: Option<usize>,
    pub faults: Faults,
}

impl<'t> Rows<'t> {
    /// Goes through the rows once.
    pub fn scan(table: &'t Table, text: &'t str) -> Self {
        let mut rows = Self {
            table,
            text,
            seen: Vec::new(),
            skipped: Tally::default(),
            first_skipped: String::new(),
            humidities: Humidities::default(),
            highest: 0.0,
            unfinished: None,
            faults: Faults::default(),
        };
        if let Some(fault) = rows.go_through() {
            rows.faults.add(fault.line, &fault.heading, fault.problem);
        }
        rows
    }

    /// Reads row after row; a fault that leaves no sense in going on ends it.
    fn go_through(&mut self) -> Option<Fault> {
        let from = self.table.rows_from;
        let rest = &self.text[from..];
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(self.table.separator)
            .has_headers(false)
            .flexible(true)
            .from_reader(rest.as_bytes());
        let mut place = Place {
            bytes: self.text.as_bytes(),
            at: from,
            line: self.table.line + 1,
        };
        let last_line = if breaks_off(self.text) {
            self.text.rfind(['\n', '\r']).map_or(0, |end| end + 1)
        } else {
            self.text.len()
        };
        let (mut record, mut before) = (StringRecord::new(), StringRecord::new());
        while let Ok(true) = reader.read_record(&mut record) {
            let start = record.position().map_or(0, csv::Position::byte);
            place.go_to(from + usize::try_from(start).unwrap_or(usize::MAX));
            let whole_line = |problem| Fault {
                line: place.line,
                heading: String::new(),
                problem,
            };
            if record.as_slice().contains(['\n', '\r']) {
                return Some(whole_line(Problem::OpenQuote));
            }
            if place.at >= last_line && self.is_unfinished(&record, &before) {
                self.unfinished = Some(place.line);
                return None;
            }
            let row = Row {
                record: &record,
                line: place.line,
                start: place.at,
            };
            if let Err(fault) = self.take(&row) {
                return Some(fault);
            }
            std::mem::swap(&mut record, &mut before);
        }
        None
    }

    /// Whether a line without an end broke off: fewer cells than the row before, no
    /// reading, or a last number with fewer decimals.
    fn is_unfinished(&self, record: &StringRecord, before: &StringRecord) -> bool {
        let no_number = |column: &Column| cell(column.cell(record)) == Cell::None;
        let last = |of: &StringRecord| {
            let text = of.iter().next_back().unwrap_or("").to_owned();
            matches!(cell(&text), Cell::Number(_)).then(|| decimals(&text))
        };
        let shorter = matches!((last(record), last(before)), (Some(now), Some(then)) if now < then);
        record.len() < before.len()
            || shorter
            || no_number(&self.table.temperature.column)
            || no_number(self.table.damp.column())
    }

    fn skip(&mut self, row: &Row<'_>) {
        if self.skipped.rows == 0 {
            let cells: Vec<&str> = row.record.iter().collect();
            self.first_skipped = shown(&cells.join(" "));
        }
        self.skipped.add(row.line);
    }

    /// Takes one row. Only a heading without a unit gives a fault that ends the scan.
    fn take(&mut self, row: &Row<'_>) -> Result<(), Fault> {
        let table = self.table;
        let written = table.when.text(row.record);
        let numbers = (
            row.number(&table.temperature.column),
            row.number(table.damp.column()),
        );
        let dated = written.bytes().any(|b| b.is_ascii_digit());
        let (Cell::Number(warm), Cell::Number(moist), true) = (numbers.0, numbers.1, dated) else {
            self.skip(row);
            return Ok(());
        };
        let mut beyond = row.record.iter().skip(table.width);
        if beyond.any(|cell| !cell.trim().is_empty()) {
            let (read, expected) = (row.record.len(), table.width);
            let problem = Problem::Cells { read, expected };
            self.faults.add(row.line, "", problem);
            return Ok(());
        }
        let temperature = self.temperature(&table.temperature, warm, row)?;
        let humidity = self.humidity(moist, temperature, row)?;
        let stamp = table.when.stamp(row.record);
        if stamp.is_none() {
            let problem = Problem::Wrong {
                read: written,
                expected: A_MOMENT,
            };
            let heading = &table.when.column().heading;
            self.faults.add(row.line, heading, problem);
        }
        if let (Some(stamp), Some(temperature), Some(humidity)) = (stamp, temperature, humidity) {
            self.seen.push(Seen {
                line: row.line,
                start: row.start,
                stamp,
                temperature,
                humidity,
            });
        }
        Ok(())
    }

    /// A temperature in its column's unit; `Ok(None)` where it is out of range, and an
    /// error where the heading names no unit.
    fn temperature(
        &mut self,
        thermometer: &Thermometer,
        read: f64,
        row: &Row<'_>,
    ) -> Result<Option<Temperature>, Fault> {
        let column = &thermometer.column;
        let unit = thermometer.unit.ok_or_else(|| Fault {
            line: self.table.line,
            heading: shown(&column.heading),
            problem: Problem::NoUnit { read },
        })?;
        let temperature = unit.temperature(read);
        if (-40.0..=85.0).contains(&temperature.celsius()) {
            return Ok(Some(temperature));
        }
        self.refuse(column, row, TEMPERATURE_RANGE);
        Ok(None)
    }

    /// The humidity that stands in a row, or that of its dew point.
    fn humidity(
        &mut self,
        read: f64,
        temperature: Option<Temperature>,
        row: &Row<'_>,
    ) -> Result<Option<Humidity>, Fault> {
        let table = self.table;
        let (percent, reason) = match &table.damp {
            Damp::Humidity(_) => (Some(read), HUMIDITY_RANGE),
            Damp::DewPoint(thermometer) => {
                let dew_point = self.temperature(thermometer, read, row)?;
                let both = temperature.zip(dew_point);
                let percent = both.map(|(warm, dew)| percent_from_dew_point(warm, dew));
                (percent, DEW_POINT_RANGE)
            }
        };
        let Some(percent) = percent else {
            return Ok(None);
        };
        self.highest = self.highest.max(percent);
        let humidity = self.humidities.read(percent, row.line);
        if humidity.is_none() {
            self.refuse(table.damp.column(), row, reason);
        }
        Ok(humidity)
    }

    fn refuse(&mut self, column: &Column, row: &Row<'_>, reason: &'static str) {
        let read = shown(column.cell(row.record));
        let problem = Problem::Refused { read, reason };
        self.faults.add(row.line, &column.heading, problem);
    }
}

/// A place in the text: byte and line.
struct Place<'t> {
    bytes: &'t [u8],
    at: usize,
    line: usize,
}

impl Place<'_> {
    /// Goes on to a byte, and from there past empty lines.
    fn go_to(&mut self, byte: usize) {
        while let Some(&mark) = self.bytes.get(self.at) {
            let is_end = matches!(mark, b'\n' | b'\r');
            if self.at >= byte && !is_end {
                return;
            }
            let in_two = mark == b'\r' && self.bytes.get(self.at + 1) == Some(&b'\n');
            self.line += usize::from(is_end && !in_two);
            self.at += 1;
        }
    }
}
