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
