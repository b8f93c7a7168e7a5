//! What the tests of records share.
#![allow(dead_code, reason = "each test file uses its own part")]

use brimful::weather::{Notice, Record, Unread};
use jiff::civil::DateTime;
use std::fmt::Write;

/// A moment, as "2026-11-25 18:00".
pub fn at(text: &str) -> DateTime {
    text.parse()
        .unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// The words of a record's notices.
pub fn told(record: &Record) -> Vec<String> {
    record.notices().iter().map(Notice::to_string).collect()
}

pub fn notices(record: &Record) -> &[Notice] {
    record.notices()
}

/// The message of a refusal.
pub fn refusal(read: Result<Record, Unread>) -> String {
    match read {
        Ok(record) => panic!("this was read: {:?}", record.readings().first()),
        Err(unread) => unread.to_string(),
    }
}

/// One slip in a file: where, what byte, and how it is done.
pub type Slip = (proptest::sample::Index, u8, u8);

/// A file with bytes changed, taken out, put in or cut off.
pub fn changed(mut bytes: Vec<u8>, slips: &[Slip]) -> Vec<u8> {
    for &(index, byte, how) in slips {
        if bytes.is_empty() {
            break;
        }
        let place = index.index(bytes.len());
        match how {
            0 => bytes[place] = byte,
            1 => {
                bytes.remove(place);
            }
            2 => bytes.insert(place, byte),
            _ => bytes.truncate(place),
        }
    }
    bytes
}

/// A weather file of an invented year: winter at 2 °C and 90 %, summer at 20 °C and 60 %.
pub fn seasons() -> String {
    let mut text = String::new();
    for line in [
        "LOCATION,Invented,-,-,made up,000000,0.0,0.0,0.0,0.0",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
        "COMMENTS 1,invented",
        "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Monday, 1/ 1,12/31",
    ] {
        writeln!(text, "{line}").unwrap();
    }
    let days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    for (month, days) in days.into_iter().enumerate() {
        let summer = (3..9).contains(&month);
        let (celsius, percent) = if summer { (20.0, 60) } else { (2.0, 90) };
        for day in 1..=days {
            for hour in 1..=24 {
                let month = month + 1;
                writeln!(
                    text,
                    "2001,{month},{day},{hour},60,A7,{celsius},0.0,{percent},101325,0,0,0,0,0,0,0,0,0,0,0,1.0"
                )
                .unwrap();
            }
        }
    }
    text
}
