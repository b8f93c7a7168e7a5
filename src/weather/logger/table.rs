//! Where the headings stand, and which column holds what.

use csv::StringRecord;

use super::super::heading::{self, Meaning, Unit};
use super::super::notice::DateOrder;
use super::super::number::{Cell, cell};
use super::super::stamp::{self, Stamp};
use super::super::text::{Line, lines, shown};
use super::super::unread::{Fault, Problem};

/// Lines that may stand above the headings.
const MOST_ABOVE: usize = 20;
/// The first that parts a line into known headings is taken. A comma comes last: it
/// also stands inside headings and numbers.
const SEPARATORS: [u8; 3] = [b'\t', b';', b','];

/// A column: its place from 0, and its heading.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub index: usize,
    pub heading: String,
}

impl Column {
    pub fn cell<'r>(&self, record: &'r StringRecord) -> &'r str {
        record.get(self.index).unwrap_or("").trim()
    }
}

/// A column of temperatures; without a unit where none is named.
#[derive(Debug, Clone)]
pub(super) struct Thermometer {
    pub column: Column,
    pub unit: Option<Unit>,
}

/// What tells how damp the air is.
#[derive(Debug, Clone)]
pub(super) enum Damp {
    Humidity(Column),
    DewPoint(Thermometer),
}

impl Damp {
    pub fn column(&self) -> &Column {
        match self {
            Self::Humidity(column) => column,
            Self::DewPoint(thermometer) => &thermometer.column,
        }
    }
}

/// Where the time stands.
#[derive(Debug, Clone)]
pub(super) enum When {
    One(Column),
    Two { date: Column, time: Column },
}

impl When {
    /// The column whose heading stands for the time in messages.
    pub fn column(&self) -> &Column {
        match self {
            Self::One(column) => column,
            Self::Two { date, .. } => date,
        }
    }

    pub fn stamp(&self, record: &StringRecord) -> Option<Stamp> {
        match self {
            Self::One(column) => stamp::moment(column.cell(record)),
            Self::Two { date, time } => stamp::in_two(date.cell(record), time.cell(record)),
        }
    }

    /// What stands there.
    pub fn text(&self, record: &StringRecord) -> String {
        match self {
            Self::One(column) => shown(column.cell(record)),
            Self::Two { date, time } => {
                shown(&format!("{} {}", date.cell(record), time.cell(record)))
            }
        }
    }
}

/// The columns of a table and where its rows begin.
#[derive(Debug, Clone)]
pub(super) struct Table {
    pub temperature: Thermometer,
    pub damp: Damp,
    pub when: When,
    /// The order of day and month that a heading names.
    pub order: Option<DateOrder>,
    pub separator: u8,
    /// How many headings there are.
    pub width: usize,
    /// The line of the headings, from 1.
    pub line: usize,
    /// The byte where the next line begins.
    pub rows_from: usize,
}

impl Table {
    /// Looks for the headings in the first lines. Where no line has all that is
    /// needed, the one that has most is blamed.
    pub fn find(text: &str) -> Result<Self, Fault> {
        let mut nearest: Option<(usize, Fault)> = None;
        for line in lines(text).take(MOST_ABOVE + 1) {
            for separator in SEPARATORS {
                let headings = Headings::of(&cells(line.text, separator));
                let known = headings.known();
                match headings.table(line, separator) {
                    Ok(table) => return Ok(table.with_units_below(text)),
                    Err(fault) if nearest.as_ref().is_none_or(|(most, _)| known > *most) => {
                        nearest = Some((known, fault));
                    }
                    Err(_) => {}
                }
            }
        }
        Err(match nearest {
            Some((known, fault)) if known > 0 => fault,
            _ => Fault {
                line: 1,
                heading: String::new(),
                problem: Problem::NoHeadings,
            },
        })
    }

    /// Where a heading names no unit, one may stand alone on the next line.
    fn with_units_below(mut self, text: &str) -> Self {
        let below = lines(&text[self.rows_from..]).next();
        let below = cells(below.map_or("", |line| line.text), self.separator);
        let unit_below = |column: &Column| match cell(column.cell(&below)) {
            Cell::Number(_) => None,
            Cell::None => heading::unit(column.cell(&below)),
        };
        let look = |thermometer: &mut Thermometer| {
            thermometer.unit = thermometer.unit.or_else(|| unit_below(&thermometer.column));
        };
        look(&mut self.temperature);
        if let Damp::DewPoint(thermometer) = &mut self.damp {
            look(thermometer);
        }
        self
    }
}

/// The cells of one line.
pub(super) fn cells(line: &str, separator: u8) -> StringRecord {
    let mut record = StringRecord::new();
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .buffer_capacity(line.len().max(16))
        .from_reader(line.as_bytes());
    // A line of valid text always parts into cells.
    match reader.read_record(&mut record) {
        Ok(_) => record,
        Err(_) => StringRecord::new(),
    }
}

/// Headings with what each column could hold.
struct Headings {
    columns: Vec<(Option<Meaning>, Column)>,
}

impl Headings {
    fn of(record: &StringRecord) -> Self {
        let column = |(index, heading): (usize, &str)| {
            let heading = heading.trim().to_owned();
            (heading::meaning(&heading), Column { index, heading })
        };
        Self {
            columns: record.iter().enumerate().map(column).collect(),
        }
    }

    /// How many columns could be of use.
    fn known(&self) -> usize {
        self.columns.iter().filter(|(m, _)| m.is_some()).count()
    }

    fn all(&self, meaning: Meaning) -> Vec<&Column> {
        let of_it = self.columns.iter().filter(|(m, _)| *m == Some(meaning));
        of_it.map(|(_, column)| column).collect()
    }

    /// The only column of a meaning, `None` if there is none.
    fn only(&self, meaning: Meaning, line: usize) -> Result<Option<Column>, Fault> {
        match self.all(meaning).as_slice() {
            [] => Ok(None),
            [one] => Ok(Some((*one).clone())),
            [one, other, ..] => Err(Fault {
                line,
                heading: shown(&one.heading),
                problem: Problem::TwoColumns {
                    what: meaning.name(),
                    other: shown(&other.heading),
                },
            }),
        }
    }

    fn table(&self, line: Line<'_>, separator: u8) -> Result<Table, Fault> {
        let number = line.number;
        let missing = |missing| Fault {
            line: number,
            heading: String::new(),
            problem: Problem::NoColumn { missing },
        };
        let temperature = self.only(Meaning::Temperature, number)?;
        let temperature = temperature.ok_or_else(|| missing(Meaning::Temperature.name()))?;
        let damp = self.damp(number)?;
        let damp = damp.ok_or_else(|| missing("the relative humidity or the dew point"))?;
        let when = self.when(number)?;
        let when = when.ok_or_else(|| missing("the date and time"))?;
        Ok(Table {
            temperature: thermometer(temperature),
            damp,
            order: heading::date_order(&when.column().heading),
            when,
            separator,
            width: self.columns.len(),
            line: number,
            rows_from: line.next,
        })
    }

    /// A humidity, or else a dew point.
    fn damp(&self, line: usize) -> Result<Option<Damp>, Fault> {
        if let Some(column) = self.only(Meaning::Humidity, line)? {
            return Ok(Some(Damp::Humidity(column)));
        }
        let dew_point = self.only(Meaning::DewPoint, line)?;
        Ok(dew_point.map(|column| Damp::DewPoint(thermometer(column))))
    }

    /// A clock's columns before universal seconds; one column of either name may
    /// hold both date and time.
    fn when(&self, line: usize) -> Result<Option<When>, Fault> {
        if let Some(column) = self.only(Meaning::Moment, line)? {
            return Ok(Some(When::One(column)));
        }
        let date = self.only(Meaning::Date, line)?;
        let time = self.only(Meaning::Time, line)?;
        Ok(match (date, time) {
            (Some(date), Some(time)) => Some(When::Two { date, time }),
            (Some(one), None) | (None, Some(one)) => Some(When::One(one)),
            (None, None) => self.only(Meaning::Unix, line)?.map(When::One),
        })
    }
}

fn thermometer(column: Column) -> Thermometer {
    Thermometer {
        unit: heading::unit(&column.heading),
        column,
    }
}
