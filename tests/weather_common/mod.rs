//! What the tests of records share.
#![allow(dead_code, reason = "each test file uses its own part")]

use brimful::weather::{Notice, Record, Unread};
use jiff::civil::DateTime;

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
