//! Typical years in the EPW format, made by a generator of our own: the rows are
//! invented, their layout is the format's.

use std::fmt::Write as _;

use crate::common::weather::{at, changed, refusal, told};
use brimful::weather::epw::{self, NOMINAL_LEAP_YEAR, NOMINAL_YEAR};
use jiff::civil::Date;
use proptest::prelude::*;

const NAME: &str = "harbour.epw";

const HEADER: &str = "\
LOCATION,Harbour,-,INV,Invented,000000,50.0,-4.0,0.0,10.0
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0
COMMENTS 1,invented
COMMENTS 2,invented
DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31
";

/// What follows the pressure in each row: 25 fields that are not read.
const REST: &str =
    "0,0,300,0,0,0,0,0,0,0,270,4.1,5,5,9.9,77777,9,999999999,15,0.1,0,88,0.2,0.0,0.0";

/// One row: its hour, then dry bulb, dew point, humidity and pressure as text.
fn row(year: i16, month: i8, day: i8, hour: i8, values: &str) -> String {
    format!("{year},{month},{day},{hour},60,?9?9?9,{values},{REST}\n")
}

/// An invented year: months from different source years, temperature the hour's number
/// plus a tenth of the month, humidity 50 plus the day.
fn year(leap: bool) -> String {
    let mut text = HEADER.to_owned();
    let nominal = if leap { 2004 } else { 2001 };
    let mut day = Date::new(nominal, 1, 1).unwrap();
    while day.year() == nominal {
        let month = day.month();
        let source = 1980 + i16::from(month) * 7 % 13;
        for hour in 1..=24 {
            let values = format!("{hour}.{},5.0,{},101300", month % 10, 50 + day.day());
            text += &row(source, month, day.day(), hour, &values);
        }
        day = day.tomorrow().unwrap();
    }
    text
}

#[test]
fn a_year_of_8760_rows_fills_one_nominal_year() {
    let text = year(false);
    assert_eq!(text.lines().count(), 8 + 8760);
    let record = epw::read(text.as_bytes(), NAME).unwrap();
    assert_eq!(record.readings().len(), 8760);
    assert!(record.notices().is_empty(), "{:?}", told(&record));
    let (from, to) = record.span();
    assert_eq!(from, Date::new(NOMINAL_YEAR, 1, 1).unwrap().at(0, 0, 0, 0));
    assert_eq!(
        to,
        Date::new(NOMINAL_YEAR + 1, 1, 1).unwrap().at(0, 0, 0, 0)
    );
    // hour 18 of 3 May ends at 18:00, so its row holds from 17:00
    let five = at("2001-05-03 17:00");
    let reading = record.readings().iter().find(|r| r.at == five).unwrap();
    assert!((reading.temperature.celsius() - 18.5).abs() < 1e-12);
    assert!((reading.humidity.percent() - 53.0).abs() < 1e-12);
    assert!((reading.pressure.unwrap().pa() - 101_300.0).abs() < 1e-9);
}

#[test]
fn a_leap_year_of_8784_rows_keeps_its_29_february() {
    let text = year(true).replace('\n', "\r\n");
    let record = epw::read(text.as_bytes(), NAME).unwrap();
    assert_eq!(record.readings().len(), 8784);
    assert_eq!(record.span().0.year(), NOMINAL_LEAP_YEAR);
    assert_eq!(record.month(2).unwrap().readings().len(), 29 * 24);
}

#[test]
fn a_month_is_a_record_of_its_own() {
    let record = epw::read(year(false).as_bytes(), NAME).unwrap();
    let april = record.month(4).unwrap();
    assert_eq!(april.readings().len(), 30 * 24);
    assert_eq!(
        april.span(),
        (at("2001-04-01 00:00"), at("2001-05-01 00:00"))
    );
    assert!(record.month(13).is_err());
}

#[test]
fn rows_may_end_after_the_wind_speed() {
    let long = year(false);
    let mut short = String::new();
    for (index, line) in long.lines().enumerate() {
        let fields: Vec<&str> = line.split(',').collect();
        let kept = if index < 8 { fields.len() } else { 22 };
        writeln!(short, "{}", fields[..kept].join(",")).unwrap();
    }
    let record = epw::read(short.as_bytes(), NAME).unwrap();
    assert_eq!(record, epw::read(long.as_bytes(), NAME).unwrap());
}

/// A few hours of 1 July with these values, hour by hour from 1.
fn hours(values: &[&str]) -> String {
    let mut text = HEADER.to_owned();
    for (hour, values) in (1..).zip(values) {
        text += &row(1999, 7, 1, hour, values);
    }
    text
}

const GOOD: &str = "18.0,10.0,60,101300";

#[test]
fn missing_values_leave_gaps_and_are_told() {
    let text = hours(&[
        GOOD,
        GOOD,
        "99.9,10.0,60,101300",
        "18.0,99.9,999,101300",
        "99.9,99.9,999,999999",
        GOOD,
        "18.0,18.0,999,999999",
        "18.0,17.0,101,101300",
    ]);
    let record = epw::read(text.as_bytes(), NAME).unwrap();
    assert_eq!(record.readings().len(), 5);
    assert_eq!(
        told(&record),
        [
            "1 row with a humidity above 100 % (up to 101 %), first on line 16: read as 100 %",
            "3 rows marked as missing, the first on line 11",
            "humidity worked out from the dew point in 1 row",
            "no readings from 1999-07-01 01:00 to 1999-07-01 05:00 (4 h): nothing is known of the air there",
        ]
        .map(|words| words.replace("1999", "2001"))
    );
    let from_dew_point = record.readings()[3];
    assert!((from_dew_point.humidity.percent() - 100.0).abs() < 1e-9);
    assert_eq!(from_dew_point.pressure, None);
}

#[test]
fn a_last_line_that_breaks_off_is_left_out_and_told() {
    let mut text = hours(&[GOOD, GOOD, GOOD]);
    text.truncate(text.len() - 20);
    let record = epw::read(text.as_bytes(), NAME).unwrap();
    assert_eq!(record.readings().len(), 2);
    assert_eq!(told(&record), ["the last line, 11, breaks off: left out"]);
}

/// Broken files with the whole message each is refused with.
fn broken() -> Vec<(String, &'static str)> {
    let good = hours(&[GOOD, GOOD, GOOD]);
    let with = |values: &str| hours(&[GOOD, values, GOOD]);
    let swapped = |from: &str, to: &str| {
        assert!(good.contains(from), "{from}");
        good.replacen(from, to, 1)
    };
    vec![
        (
            String::new(),
            "harbour.epw:1: there is nothing in this file",
        ),
        (
            swapped("LOCATION", "PLACE"),
            "harbour.epw:1: read \"PLACE,Harbour,-,INV,Invented,000000,50.0…\", expected LOCATION, the first line of an EPW file",
        ),
        (
            swapped("COMMENTS 2,invented\n", ""),
            "harbour.epw:8: read \"1999,7,1,1,60,?9?9?9,18.0,10.0,60,101300…\", expected DATA PERIODS, an EPW file's eighth line",
        ),
        (
            swapped("DATA PERIODS,1,1", "DATA PERIODS,1,4"),
            "harbour.epw:8: read \"DATA PERIODS,1,4,Data,Sunday, 1/ 1,12/31\", expected one record an hour: DATA PERIODS,1,1,..",
        ),
        (
            swapped("1999,7,1,2,", "1999,7,1,25,"),
            "harbour.epw:10: hour: read \"25\", expected an hour from 1 to 24",
        ),
        (
            swapped("1999,7,1,2,", "1999,6,31,2,"),
            "harbour.epw:10: day: read \"31\", expected a day that the month has",
        ),
        (
            swapped("1999,7,1,2,", "1999,July,1,2,"),
            "harbour.epw:10: month: read \"July\", expected a month from 1 to 12",
        ),
        (
            swapped("1999,7,1,3,", "1999,7,1,2,"),
            "harbour.epw:11: 2001-07-01 01:00 follows 2001-07-01 01:00, expected a later time",
        ),
        (
            with("warm,10.0,60,101300"),
            "harbour.epw:10: dry bulb temperature: read \"warm\", expected a number",
        ),
        (
            with("70.1,10.0,60,101300"),
            "harbour.epw:10: dry bulb temperature: read \"70.1\": an EPW temperature lies from -70 to 70 °C",
        ),
        (
            with("18.0,10.0,106,101300"),
            "harbour.epw:10: relative humidity: read \"106\": a relative humidity lies from 0 % to 100 %, and a sensor's no higher than 105 %",
        ),
        (
            with("18.0,19.0,999,101300"),
            "harbour.epw:10: dew point temperature: read \"19.0\": the dew point is no higher than the temperature",
        ),
        (
            with("18.0,10.0,60,1013"),
            "harbour.epw:10: atmospheric pressure: read \"1013\": air that people work in has 50000 to 110000 Pa",
        ),
        (
            with("18.0,10.0,60"),
            "harbour.epw:10: read 34 cells, expected 35",
        ),
        (
            hours(&[GOOD]),
            "harbour.epw:8: 1 row could be read, expected at least 2",
        ),
        (
            hours(&[]),
            "harbour.epw:8: 0 rows could be read, expected at least 2",
        ),
    ]
}

#[test]
fn broken_files_are_refused_with_line_and_reason() {
    let broken = broken();
    assert_eq!(broken.len(), 16);
    for (text, expected) in broken {
        assert_eq!(refusal(epw::read(text.as_bytes(), NAME)), expected);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn bytes_at_random_never_bring_the_reader_down(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = epw::read(&bytes, NAME);
        let _ = epw::read(&[HEADER.as_bytes(), &bytes].concat(), NAME);
    }

    #[test]
    fn changed_files_are_read_or_refused(
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0_u8..4), 1..5),
    ) {
        let bytes = changed(hours(&[GOOD, GOOD, GOOD, GOOD]).into_bytes(), &changes);
        match epw::read(&bytes, NAME) {
            Ok(record) => {
                for pair in record.readings().windows(2) {
                    prop_assert!(pair[0].at < pair[1].at);
                }
            }
            Err(unread) => prop_assert!(!unread.faults.is_empty()),
        }
    }
}
