//! The rows of a logger's table.

use csv::StringRecord;

use super::super::heading;
use super::super::notice::{DateOrder, Notice};
use super::super::number::{Cell, cell, decimals};
use super::super::order::{Row, rising};
use super::super::reading::Reading;
use super::super::record::Record;
use super::super::stamp::Stamp;
use super::super::tally::{HUMIDITY_RANGE, Humidities, Tally, percent_from_dew_point};
use super::super::text::{breaks_off, lines, shown};
use super::super::unread::{Fault, Faults, Problem, Unread};
use super::table::{Column, Damp, Table, Thermometer, cells};
use crate::quantity::{Humidity, Temperature};

const A_MOMENT: &str = "a date and time such as 2026-11-25 18:30";
const TEMPERATURE_RANGE: &str = "a logger's temperature lies from -40 to 85 °C (-40 to 185 °F)";

/// A row that is a reading, with its date as it was written.
struct Seen {
    line: usize,
    /// The byte where its line begins.
    start: usize,
    stamp: Stamp,
    temperature: Temperature,
    humidity: Humidity,
}

/// What the rows of a table hold.
pub(super) struct Rows<'t> {
    table: &'t Table,
    text: &'t str,
    seen: Vec<Seen>,
    skipped: Tally,
    first_skipped: String,
    humidities: Humidities,
    highest: f64,
    unfinished: Option<usize>,
    faults: Faults,
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
            if let Some(problem) = self.row(&record, place.line, place.at) {
                return Some(problem);
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

    fn skip(&mut self, record: &StringRecord, line: usize) {
        if self.skipped.rows == 0 {
            let cells: Vec<&str> = record.iter().collect();
            self.first_skipped = shown(&cells.join(" "));
        }
        self.skipped.add(line);
    }

    /// Takes one row. Only a heading without a unit gives a fault that ends the scan.
    fn row(&mut self, record: &StringRecord, line: usize, start: usize) -> Option<Fault> {
        let table = self.table;
        let (temperature, damp) = (&table.temperature, &table.damp);
        let number = |column: &Column| cell(column.cell(record));
        let (Cell::Number(warm), Cell::Number(moist)) =
            (number(&temperature.column), number(damp.column()))
        else {
            self.skip(record, line);
            return None;
        };
        let written = table.when.text(record);
        if !written.bytes().any(|b| b.is_ascii_digit()) {
            self.skip(record, line);
            return None;
        }
        if record
            .iter()
            .skip(table.width)
            .any(|cell| !cell.trim().is_empty())
        {
            let (read, expected) = (record.len(), table.width);
            self.faults.add(line, "", Problem::Cells { read, expected });
            return None;
        }
        let warm = match self.temperature(temperature, warm, record, line) {
            Ok(warm) => warm,
            Err(fault) => return Some(fault),
        };
        let percent = match damp {
            Damp::Humidity(_) => Some(moist),
            Damp::DewPoint(thermometer) => {
                let dew_point = match self.temperature(thermometer, moist, record, line) {
                    Ok(dew_point) => dew_point,
                    Err(fault) => return Some(fault),
                };
                let both = warm.zip(dew_point);
                both.map(|(warm, dew_point)| percent_from_dew_point(warm, dew_point))
            }
        };
        let humidity = percent.and_then(|percent| self.humidity(percent, record, line));
        let stamp = table.when.stamp(record);
        if stamp.is_none() {
            let problem = Problem::Wrong {
                read: written,
                expected: A_MOMENT,
            };
            self.faults.add(line, &table.when.column().heading, problem);
        }
        if let (Some(stamp), Some(temperature), Some(humidity)) = (stamp, warm, humidity) {
            self.seen.push(Seen {
                line,
                start,
                stamp,
                temperature,
                humidity,
            });
        }
        None
    }

    /// A temperature in its column's unit; `Ok(None)` where it is out of range, and an
    /// error where the heading names no unit.
    fn temperature(
        &mut self,
        thermometer: &Thermometer,
        read: f64,
        record: &StringRecord,
        line: usize,
    ) -> Result<Option<Temperature>, Fault> {
        let column = &thermometer.column;
        let unit = thermometer.unit.ok_or_else(|| Fault {
            line: self.table.line,
            heading: column.heading.clone(),
            problem: Problem::NoUnit { read },
        })?;
        let temperature = unit.temperature(read);
        if (-40.0..=85.0).contains(&temperature.celsius()) {
            return Ok(Some(temperature));
        }
        self.refuse(column, record, line, TEMPERATURE_RANGE);
        Ok(None)
    }

    fn humidity(&mut self, percent: f64, record: &StringRecord, line: usize) -> Option<Humidity> {
        self.highest = self.highest.max(percent);
        let humidity = self.humidities.read(percent, line);
        if humidity.is_none() {
            let reason = match self.table.damp {
                Damp::Humidity(_) => HUMIDITY_RANGE,
                Damp::DewPoint(_) => "the dew point is no higher than the temperature",
            };
            self.refuse(self.table.damp.column(), record, line, reason);
        }
        humidity
    }

    fn refuse(
        &mut self,
        column: &Column,
        record: &StringRecord,
        line: usize,
        reason: &'static str,
    ) {
        let read = shown(column.cell(record));
        let problem = Problem::Refused { read, reason };
        self.faults.add(line, &column.heading, problem);
    }

    /// The record that the rows make.
    pub fn into_record(mut self, file: &str) -> Result<Record, Unread> {
        let mut notices = Vec::new();
        self.check_per_cent();
        let order = self.order(&mut notices);
        let rows = order.map_or_else(Vec::new, |order| self.dated(order, &mut notices));
        if !self.faults.is_empty() {
            return Err(self.faults.refusal(file));
        }
        self.tell(&mut notices);
        let heading = &self.table.when.column().heading;
        let readings = rising(rows, &mut notices).map_err(|(line, problem)| {
            let heading = shown(heading);
            Unread::one(
                file,
                Fault {
                    line,
                    heading,
                    problem,
                },
            )
        })?;
        let skipped = (self.skipped.rows > 0).then_some((self.skipped.line, self.first_skipped));
        Record::new(readings, notices).map_err(|none| {
            let fault = Fault {
                line: self.table.line,
                heading: String::new(),
                problem: none.problem(skipped),
            };
            Unread::one(file, fault)
        })
    }

    fn check_per_cent(&mut self) {
        let Damp::Humidity(column) = &self.table.damp else {
            return;
        };
        if !self.seen.is_empty() && self.highest <= 1.0 && !heading::per_cent(&column.heading) {
            let most = self.highest;
            let problem = Problem::NoPercent { most };
            self.faults.add(self.table.line, &column.heading, problem);
        }
    }

    /// What stands where the time does in a row that was read.
    fn written(&self, seen: &Seen) -> String {
        let line = lines(&self.text[seen.start..]).next();
        let cells = cells(line.map_or("", |line| line.text), self.table.separator);
        self.table.when.text(&cells)
    }

    /// The order of day and month: named by the heading, or settled by a row. A fault
    /// where rows settle it differently, or none does and it matters.
    fn order(&mut self, notices: &mut Vec<Notice>) -> Option<DateOrder> {
        if self.table.order.is_some() {
            return self.table.order;
        }
        let settled = |order| {
            self.seen
                .iter()
                .find(|seen| seen.stamp.settles() == Some(order))
        };
        let day_first = settled(DateOrder::DayFirst);
        let month_first = settled(DateOrder::MonthFirst);
        let fault = match (day_first, month_first) {
            (Some(day_first), Some(month_first)) => {
                let problem = Problem::MixedDates {
                    read: self.written(day_first),
                    line: month_first.line,
                };
                Some((day_first.line, problem))
            }
            (Some(seen), None) | (None, Some(seen)) => {
                let line = seen.line;
                let order = seen.stamp.settles()?;
                notices.push(Notice::Settled { order, line });
                return Some(order);
            }
            (None, None) => self.two_dates(),
        };
        let Some((line, problem)) = fault else {
            // No date in the file asks for it.
            return Some(DateOrder::DayFirst);
        };
        self.faults
            .add(line, &self.table.when.column().heading, problem);
        None
    }

    fn two_dates(&self) -> Option<(usize, Problem)> {
        let asking = self.seen.iter().find(|seen| seen.stamp.asks_for_order())?;
        let problem = Problem::TwoDates {
            read: self.written(asking),
            day_first: asking.stamp.at(DateOrder::DayFirst)?,
            month_first: asking.stamp.at(DateOrder::MonthFirst)?,
        };
        Some((asking.line, problem))
    }

    fn dated(&mut self, order: DateOrder, notices: &mut Vec<Notice>) -> Vec<Row> {
        let heading = &self.table.when.column().heading;
        let mut rows = Vec::with_capacity(self.seen.len());
        let mut short_year = None;
        for seen in &self.seen {
            let Some(at) = seen.stamp.at(order) else {
                let problem = Problem::Wrong {
                    read: self.written(seen),
                    expected: match (self.table.order, order) {
                        (None, _) => "a day that is in the calendar",
                        (_, DateOrder::DayFirst) => "a day that is in the calendar, day first",
                        (_, DateOrder::MonthFirst) => "a day that is in the calendar, month first",
                    },
                };
                self.faults.add(seen.line, heading, problem);
                continue;
            };
            if seen.stamp.has_short_year() {
                short_year.get_or_insert((seen, at));
            }
            let reading = Reading {
                at,
                temperature: seen.temperature,
                humidity: seen.humidity,
                pressure: None,
            };
            let line = seen.line;
            rows.push(Row { line, reading });
        }
        notices.extend(short_year.map(|(seen, taken)| Notice::ShortYear {
            read: self.written(seen),
            taken,
        }));
        rows
    }

    fn tell(&self, notices: &mut Vec<Notice>) {
        if self.seen.iter().any(|seen| seen.stamp.universal) {
            notices.push(Notice::Universal);
        }
        if let Damp::DewPoint(_) = self.table.damp {
            let rows = self.seen.len();
            notices.push(Notice::FromDewPoint { rows });
        }
        notices.extend(self.humidities.notice());
        if self.skipped.rows > 0 {
            let Tally { rows, line } = self.skipped;
            notices.push(Notice::Skipped { rows, line });
        }
        notices.extend(self.unfinished.map(|line| Notice::Unfinished { line }));
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
