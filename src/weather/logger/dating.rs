//! From rows as they were written to a record: the order of day and month, rising
//! times, and the notices.

use super::super::heading;
use super::super::notice::{DateOrder, Notice};
use super::super::order::{Row, rising};
use super::super::reading::Reading;
use super::super::record::Record;
use super::super::tally::Tally;
use super::super::text::{lines, shown};
use super::super::unread::{Fault, Problem, Unread};
use super::rows::{Rows, Seen};
use super::table::{Damp, cells};

impl Rows<'_> {
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
