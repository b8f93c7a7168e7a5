//! Tables that data loggers export: one row a reading, under headings.
//!
//! Columns are told by their headings, wherever they stand: a temperature, a
//! relative humidity or else a dew point, and a time in one column or a date and a
//! time in two. Others, such as a running number, are passed over. Up to 20 lines
//! may stand above the headings.
//!
//! | what | is read |
//! | --- | --- |
//! | text | UTF-8 with or without its mark, UTF-16 with its mark, Latin-1; LF, CR LF, CR |
//! | cells | between commas, semicolons or tabs; quoted where need be |
//! | numbers | decimal point, or comma where it does not part cells |
//! | units | °C or °F named in the heading or on the line below it; humidity in % |
//! | dates | 2026-11-25, 2026/11/25, 25.11.2026, 25/11/2026 or 11/25/2026; the same with "-"; years of two digits at the end |
//! | times | 18:30, 18:30:05, 6:30 PM, 24:00 (midnight at the end of that day) |
//! | both | with a blank or a T between; an offset such as +01:00 leaves the clock as written; Z and Unix seconds are universal time |
//! | no reading | blank, dashes, "NaN", words: the row is skipped and counted |
//!
//! What could mean two things is refused with both readings: 3/4/2026 where no row
//! has a number above 12 and the heading does not name the order, a temperature
//! whose heading names no unit (a room's 60 may be either, and a single glitch would
//! tip any rule that looks at the values), a humidity that never passes 1 under a
//! heading without "%".

mod dating;
mod rows;
mod table;

use super::record::Record;
use super::text::decode;
use super::unread::{Fault, Unread};
use rows::Rows;
use table::Table;

/// Reads the table that a logger exported; `name` is what messages call it.
///
/// Temperatures from -40 to 85 °C and humidities from 0 to 105 % are read; those
/// above 100 % count as 100 %, with a notice. The work grows with the length of the
/// file.
///
/// # Errors
/// [`Unread`] with the line and the heading of the first faults.
pub fn read(bytes: &[u8], name: &str) -> Result<Record, Unread> {
    let at_the_top = |problem| {
        let heading = String::new();
        Unread::one(
            name,
            Fault {
                line: 1,
                heading,
                problem,
            },
        )
    };
    let text = decode(bytes).map_err(at_the_top)?;
    let table = Table::find(&text).map_err(|fault| Unread::one(name, fault))?;
    Rows::scan(&table, &text).into_record(name)
}
