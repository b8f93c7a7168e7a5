//! Tables of data loggers: layouts that are read, broken ones that are refused, and
//! three real weeks. The short tables here are invented.

use std::fmt::Write as _;
use std::time::Instant;

use crate::common::weather::{at, changed, notices, refusal, told};
use brimful::weather::{Notice, Record, logger};
use jiff::civil::DateTime;
use proptest::prelude::*;

const NAME: &str = "loft.csv";

fn read(bytes: &[u8]) -> Record {
    logger::read(bytes, NAME).unwrap_or_else(|unread| panic!("{unread}"))
}

/// Text in UTF-16 with its mark, low byte first.
fn utf16(text: &str) -> Vec<u8> {
    let units = std::iter::once(0xFEFF).chain(text.encode_utf16());
    units.flat_map(u16::to_le_bytes).collect()
}

/// Text in Latin-1.
fn latin(text: &str) -> Vec<u8> {
    let byte = |c: char| u8::try_from(u32::from(c)).expect("a Latin-1 character");
    text.chars().map(byte).collect()
}

/// What the two readings of every layout below are.
const EVENING: [(&str, f64, f64); 2] = [
    ("2026-11-25 18:00", 12.5, 81.0),
    ("2026-11-25 18:30", 12.0, 83.5),
];

/// Layouts of the same two readings, and the notices that each leaves.
fn layouts() -> Vec<(&'static str, Vec<u8>, &'static [&'static str])> {
    let plain = |text: &str| text.as_bytes().to_vec();
    vec![
        (
            "comma, ISO with a blank",
            plain(
                "Time,Temperature (C),Humidity (%)\n2026-11-25 18:00,12.5,81\n2026-11-25 18:30,12.0,83.5\n",
            ),
            &[],
        ),
        (
            "ISO with T and seconds, columns the other way round, a running number, CRLF",
            plain(
                "No.,RH %,Temp. [°C],Timestamp\r\n1,81.0,12.5,2026-11-25T18:00:00\r\n2,83.5,12.0,2026-11-25T18:30:00\r\n",
            ),
            &[],
        ),
        (
            "preamble, semicolon, decimal comma, dots in the date, UTF-8 mark",
            plain(
                "\u{feff}Logger 0042\nOrt: Dachboden\n\nNr;Datum;Uhrzeit;Temperatur in °C;Luftfeuchte %\n1;25.11.2026;18:00;12,5;81,0\n2;25.11.2026;18:30;12,0;83,5\n",
            ),
            &[],
        ),
        (
            "tab, two columns of time, 12 h, month first",
            plain(
                "Date\tTime\tTemperature(°C)\tHumidity(%rh)\n11/25/2026\t6:00 PM\t12.5\t81\n11/25/2026\t6:30 PM\t12.0\t83.5\n",
            ),
            &["dates are month, day, year: line 2 settles it"],
        ),
        (
            "Fahrenheit, day first with dashes, a year of two digits",
            plain(
                "Date/Time,Temperature (°F),RH (%)\n25-11-26 18:00:00,54.5,81\n25-11-26 18:30:00,53.6,83.5\n",
            ),
            &[
                "dates are day, month, year: line 2 settles it",
                "years have two digits: \"25-11-26 18:00:00\" is taken for 2026-11-25",
            ],
        ),
        (
            "UTF-16, semicolon, quoted cells",
            utf16(
                "\"Time\";\"Celsius(°C)\";\"Humidity(%rh)\"\r\n\"2026-11-25 18:00:00\";\"12,5\";\"81,0\"\r\n\"2026-11-25 18:30:00\";\"12,0\";\"83,5\"\r\n",
            ),
            &[],
        ),
        (
            "Latin-1 degree sign, events and blanks between the rows",
            latin(
                "Time,Temp °C,RH %\n2026-11-25 18:00,12.5,81\n2026-11-25 18:10,Button pressed,\n2026-11-25 18:20,--,NaN\n2026-11-25 18:30,12.0,83.5\n",
            ),
            &["2 rows with text or blank cells skipped, the first on line 3"],
        ),
        (
            "a lost degree sign, Unix seconds",
            plain("epoch,Temperature(?C),Humidity(%)\n1795629600,12.5,81\n1795631400,12.0,83.5\n"),
            &["times are in universal time (UTC), not moved: the clock on the wall may differ"],
        ),
        (
            "units on a line of their own, a name for the order",
            plain(
                "Date (D/M/Y),Time,Temperature,Relative humidity\n,,°C,%\n25/11/2026,18:00,12.5,81\n25/11/2026,18:30,12.0,83.5\n",
            ),
            &["1 row with text or blank cells skipped, the first on line 2"],
        ),
        (
            "newest row first",
            plain(
                "Time,Temperature (C),Humidity (%)\n2026-11-25 18:30,12.0,83.5\n2026-11-25 18:00,12.5,81\n",
            ),
            &["the newest row comes first: read from the end"],
        ),
        (
            "a comma in quoted headings, other temperatures beside, an offset",
            plain(
                "\"#\",\"Date Time, GMT+01:00\",\"Temp, °C\",\"Wet bulb temp, °C\",\"RH, %\"\n1,2026-11-25T18:00:00+01:00,12.5,10.9,81\n2,2026-11-25T18:30:00+01:00,12.0,10.6,83.5\n",
            ),
            &[],
        ),
        (
            "a last line that breaks off in its number, old line ends",
            plain(
                "Time,Temperature (C),Humidity (%)\r2026-11-25 18:00,12.5,81.0\r2026-11-25 18:30,12.0,83.5\r2026-11-25 19:00,11.8,8",
            ),
            &["the last line, 4, breaks off: left out"],
        ),
    ]
}

#[test]
fn every_layout_gives_the_readings_that_stand_in_it() {
    let layouts = layouts();
    assert_eq!(layouts.len(), 12);
    for (layout, bytes, expected) in layouts {
        let record = read(&bytes);
        assert_eq!(record.readings().len(), 2, "{layout}");
        for (reading, (time, celsius, percent)) in record.readings().iter().zip(EVENING) {
            assert_eq!(reading.at, at(time), "{layout}");
            // 1e-9: Fahrenheit is turned into Celsius
            assert!(
                (reading.temperature.celsius() - celsius).abs() < 1e-9,
                "{layout}"
            );
            assert!(
                (reading.humidity.percent() - percent).abs() < 1e-9,
                "{layout}"
            );
        }
        assert_eq!(told(&record), expected, "{layout}");
    }
}

/// Broken tables with the whole message each is refused with.
const BROKEN: &[(&str, &str)] = &[
    ("", "loft.csv:1: there is nothing in this file"),
    (
        "a\0b\n",
        "loft.csv:1: this is not text: expected a table in UTF-8, UTF-16 with its mark, or Latin-1",
    ),
    (
        "one,two\n1,2\n3,4\n",
        "loft.csv:1: no headings found in the first lines: expected one line that names a time, a temperature and a relative humidity",
    ),
    (
        "loft\nTime,Temperature (C)\n2026-11-25 18:00,12.5\n",
        "loft.csv:2: no heading here names the relative humidity or the dew point",
    ),
    (
        "Time,Temp 1 (C),Temp 2 (C),RH %\n2026-11-25 18:00,12.5,13,81\n",
        "loft.csv:1: Temp 1 (C): this could be the temperature, and so could \"Temp 2 (C)\": take one of them out",
    ),
    (
        "Time,Temperature,RH %\n2026-11-25 18:00,54.5,81\n2026-11-25 18:30,54,81\n",
        "loft.csv:1: Temperature: no unit in the heading: 54.5 would be 54.5 °C, or 12.5 °C if it is in °F; write (C) or (F) behind the heading",
    ),
    (
        "Time,Temp C,RH\n2026-11-25 18:00,12.5,0.81\n2026-11-25 18:30,12.5,0.5\n",
        "loft.csv:1: RH: never above 0.81, and no % in the heading: it would be 0.81 %, or 81 % if it is a fraction; write (%) behind the heading, and per cents below it",
    ),
    (
        "Time,Temp C,RH %\n2026-11-25 18:00,12.5,81\n2026-11-25 18:30,85.1,81\n2026-11-25 19:00,12.5,106\n2026-11-25 25:00,12,80\n",
        "loft.csv:3: Temp C: read \"85.1\": a logger's temperature lies from -40 to 85 °C (-40 to 185 °F)\n\
         loft.csv:4: RH %: read \"106\": a relative humidity lies from 0 % to 100 %, and a sensor's no higher than 105 %\n\
         loft.csv:5: Time: read \"2026-11-25 25:00\", expected a date and time such as 2026-11-25 18:30",
    ),
    (
        "Time,Temp C,RH %\n3/4/2026 18:00,12.5,81\n3/4/2026 18:30,12.5,81\n",
        "loft.csv:2: Time: read \"3/4/2026 18:00\", which is 2026-04-03 if the day comes first and 2026-03-04 if the month does; write D/M/Y or M/D/Y behind the heading",
    ),
    (
        "Time,Temp C,RH %\n3/25/2026 18:00,12.5,81\n25/3/2026 18:30,12.5,81\n",
        "loft.csv:3: Time: read \"25/3/2026 18:30\", where the day comes first, but on line 2 the month does",
    ),
    (
        "Time (M/D/Y),Temp C,RH %\n3/24/2026 18:00,12.5,81\n25/3/2026 18:30,12.5,81\n",
        "loft.csv:3: Time (M/D/Y): read \"25/3/2026 18:30\", expected a day that is in the calendar, month first",
    ),
    (
        "Time,Temp C,RH %\n31.6.2026 18:00,12.5,81\n1.7.2026 18:30,12.5,81\n",
        "loft.csv:2: Time: read \"31.6.2026 18:00\", expected a day that is in the calendar",
    ),
    (
        "Time,Temp C,RH %\n2026-11-25 18:00,12,5,81\n2026-11-25 18:30,12,0,81\n",
        "loft.csv:2: read 4 cells, expected 3\nloft.csv:3: read 4 cells, expected 3",
    ),
    (
        "Time,Temp C,RH %\n2026-11-25 18:00,12.5 C,81\n2026-11-25 18:30,12.0,81\n",
        "loft.csv:1: 1 row could be read, expected at least 2; on line 2 stands \"2026-11-25 18:00 12.5 C 81\"",
    ),
    (
        "Time,Temp C,RH %\n2026-11-25 18:00,12.5,81\n\n\"2026-11-25 18:30,12.0,81\n2026-11-25 19:00,12.0,81\n",
        "loft.csv:4: a quotation mark is not closed on this line",
    ),
    (
        "Time,Temp C,RH %\n2026-11-25 18:00,12.5,81\n2026-11-25 18:30,12.5,81\n2026-11-25 15:00,12.0,81\n",
        "loft.csv:4: Time: 2026-11-25 15:00 comes after 2026-11-25 18:30: times run backward by more than a change of the clock",
    ),
    (
        "Time,Temp C,RH %\n2026-11-25 18:00,12.5,81\n2026-11-26 19:00,12.5,81\n",
        "loft.csv:1: readings lie 25 h apart, expected at most 6 h",
    ),
    (
        "Time,Temp C,Dew point C\n2026-11-25 18:00,12.5,9\n2026-11-25 18:30,12.5,14\n",
        "loft.csv:3: Dew point C: read \"14\": the dew point is no higher than the temperature",
    ),
];

#[test]
fn broken_tables_are_refused_with_line_and_reason() {
    assert_eq!(BROKEN.len(), 18);
    for (text, expected) in BROKEN {
        assert_eq!(
            refusal(logger::read(text.as_bytes(), NAME)),
            *expected,
            "{text:?}"
        );
    }
}

#[test]
fn a_long_list_of_faults_is_cut_and_counted() {
    let mut text = String::from("Time,Temp C,RH %\n");
    for minute in 0..60 {
        writeln!(text, "2026-11-25 18:{minute:02},12.5,140").unwrap();
    }
    let message = refusal(logger::read(text.as_bytes(), NAME));
    assert_eq!(message.lines().count(), 11);
    assert!(
        message.ends_with("\nloft.csv: 50 more like these"),
        "{message}"
    );
}

#[test]
fn midnight_at_the_end_of_a_day_is_that_of_the_next() {
    let record = read(b"Date,Time,Temp C,RH %\n2026-12-31,23:00,1,80\n2026-12-31,24:00,2,81\n2027-01-01,01:00,3,82\n");
    let times: Vec<DateTime> = record.readings().iter().map(|r| r.at).collect();
    assert_eq!(
        times,
        ["2026-12-31 23:00", "2027-01-01 00:00", "2027-01-01 01:00"].map(at)
    );
    let noon = read(b"Time,Temp C,RH %\n2026-12-31 12:30 AM,1,80\n2026-12-31 12:30 PM,2,81\n2026-12-31 1:00 pm,2,81\n2026-12-31 1:30 p.m.,2,81\n");
    let first: Vec<DateTime> = noon.readings().iter().map(|r| r.at).take(2).collect();
    assert_eq!(first, ["2026-12-31 00:30", "2026-12-31 12:30"].map(at));
}

#[test]
fn an_hour_that_the_clock_repeats_is_left_out_and_told() {
    let record = read(
        b"Time,Temp C,RH %\n2026-10-25 01:30,9,80\n2026-10-25 02:00,8,80\n2026-10-25 02:30,7,80\n\
          2026-10-25 02:00,6,80\n2026-10-25 02:30,5,80\n2026-10-25 03:00,4,80\n",
    );
    let celsius: Vec<f64> = record
        .readings()
        .iter()
        .map(|r| r.temperature.celsius())
        .collect();
    assert_eq!(celsius, [9.0, 8.0, 7.0, 4.0]);
    assert_eq!(
        told(&record),
        [
            "2 rows left out: the clock goes back or repeats, first on line 5, where 2026-10-25 02:00 follows 2026-10-25 02:30"
        ]
    );
}

#[test]
fn humidity_above_saturation_is_read_as_saturation_and_told() {
    let record = read(b"Time,Temp C,RH %\n2026-10-25 01:30,9,100\n2026-10-25 02:00,8,104.5\n2026-10-25 02:30,7,105\n");
    let percent: Vec<f64> = record
        .readings()
        .iter()
        .map(|r| r.humidity.percent())
        .collect();
    assert_eq!(percent, [100.0; 3]);
    assert_eq!(
        told(&record),
        ["2 rows with a humidity above 100 % (up to 105 %), first on line 3: read as 100 %"]
    );
}

/// Magnus by hand: e(9.3) / e(12.0) with 611.2 exp(17.62 T/(243.12 + T)) is
/// exp(17.62 (9.3/252.42 - 12/255.12)) = exp(-0.17959) = 0.8356.
#[test]
fn humidity_is_worked_out_where_only_the_dew_point_stands() {
    let record =
        read(b"Time,Temp C,Dew point C\n2026-10-25 01:30,12,9.3\n2026-10-25 02:00,12,12\n");
    let percent: Vec<f64> = record
        .readings()
        .iter()
        .map(|r| r.humidity.percent())
        .collect();
    assert!((percent[0] - 83.56).abs() < 0.01, "{percent:?}");
    assert!((percent[1] - 100.0).abs() < 1e-9, "{percent:?}");
    assert_eq!(
        told(&record),
        ["humidity worked out from the dew point in 2 rows"]
    );
}

#[test]
fn gaps_are_told_with_their_ends() {
    let record = read(
        b"Time,Temp C,RH %\n2026-10-25 01:00,9,80\n2026-10-25 01:10,9,80\n2026-10-25 01:20,9,80\n\
          2026-10-25 02:00,9,80\n2026-10-25 02:10,9,80\n2026-10-25 05:30,9,80\n",
    );
    assert_eq!(
        told(&record),
        [
            "no readings from 2026-10-25 01:20 to 2026-10-25 02:00 (40 min): the reading before is held",
            "no readings from 2026-10-25 02:10 to 2026-10-25 05:30 (3.3 h): nothing is known of the air there",
        ]
    );
    assert!(matches!(
        notices(&record)[1],
        Notice::Gap { held: false, .. }
    ));
}

/// The weeks with their means and ranges as the stations' table states them, to its
/// printed digits, and with the dew points that stand in the same rows.
#[test]
fn three_real_weeks_are_read() {
    let weeks = [
        (
            "weather_cold_damp_week.csv",
            7.8,
            91.0,
            (6.0, 10.5),
            (77.0, 100.0),
        ),
        (
            "weather_cool_variable_week.csv",
            9.0,
            82.0,
            (1.0, 17.0),
            (26.0, 100.0),
        ),
        (
            "weather_hot_dry_week.csv",
            28.0,
            31.0,
            (18.0, 38.0),
            (7.0, 68.0),
        ),
    ];
    for (file, celsius, percent, warm, damp) in weeks {
        let path = format!("{}/data/reference/cure/{file}", env!("CARGO_MANIFEST_DIR"));
        let bytes = std::fs::read(path).unwrap();
        let record = logger::read(&bytes, file).unwrap_or_else(|unread| panic!("{unread}"));
        assert_eq!(record.readings().len(), 168, "{file}");
        assert!(
            record.notices().is_empty(),
            "{file}: {:?}",
            record.notices()
        );
        assert!((record.usual_interval().h() - 1.0).abs() < 1e-12);
        let (from, to) = record.span();
        assert_eq!(to.duration_since(from).as_hours(), 168, "{file}");
        let temperatures = record.readings().iter().map(|r| r.temperature.celsius());
        check(file, &temperatures.collect::<Vec<_>>(), celsius, 0.05, warm);
        let humidities = record.readings().iter().map(|r| r.humidity.percent());
        check(file, &humidities.collect::<Vec<_>>(), percent, 0.5, damp);
        magnus_agrees(file, &bytes, &record);
    }
}

/// Mean within half of the last printed digit, range within a half of a degree or a per cent.
fn check(file: &str, values: &[f64], mean: f64, near: f64, (low, high): (f64, f64)) {
    let count: f64 = values.iter().map(|_| 1.0).sum();
    let got = values.iter().sum::<f64>() / count;
    assert!(
        (got - mean).abs() <= near,
        "{file}: mean {got}, stated {mean}"
    );
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    assert!(
        (least - low).abs() <= 0.5 && (most - high).abs() <= 0.5,
        "{file}: {least} to {most}"
    );
}

/// The same file without its humidity reads the dew point instead. Its humidity is
/// then within 1.1 points of the file's, which the table of the stations states.
fn magnus_agrees(file: &str, bytes: &[u8], record: &Record) {
    let text = String::from_utf8(bytes.to_vec()).unwrap();
    let dewy = text.replacen("relative_humidity_pct", "left_aside", 1);
    let dewy = logger::read(dewy.as_bytes(), file).unwrap_or_else(|unread| panic!("{unread}"));
    assert_eq!(dewy.readings().len(), 168, "{file}");
    for (by_dew_point, stated) in dewy.readings().iter().zip(record.readings()) {
        let off = by_dew_point.humidity.percent() - stated.humidity.percent();
        assert!(off.abs() <= 1.1, "{file} at {}: off by {off}", stated.at);
    }
}

/// A year by the minute: 525,600 rows.
fn minutes_of_a_year() -> String {
    let mut text = String::with_capacity(525_600 * 32);
    text += "Time,Temp C,RH %\n";
    let mut now = at("2026-01-01 00:00");
    for _ in 0..525_600 {
        writeln!(text, "{} {},12.5,81.0", now.date(), now.time()).unwrap();
        now += jiff::SignedDuration::from_mins(1);
    }
    text
}

/// The aim is about a second in an optimised build; this one is not, and the machine
/// may be busy, so the limit is wide. It fails where the work grows with the square.
#[test]
fn a_year_by_the_minute_is_read_in_seconds() {
    let text = minutes_of_a_year();
    let begun = Instant::now();
    let record = read(text.as_bytes());
    let took = begun.elapsed();
    println!("525,600 rows in {took:?}");
    assert_eq!(record.readings().len(), 525_600);
    assert!(took.as_secs() < 20, "{took:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn bytes_at_random_never_bring_the_reader_down(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = logger::read(&bytes, NAME);
    }

    /// Good files with some bytes changed, cut out or doubled: read with rising times
    /// in range, or refused with a line that the file has.
    #[test]
    fn changed_files_are_read_or_refused(
        layout in 0_usize..12,
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0_u8..4), 1..6),
    ) {
        let bytes = changed(layouts().swap_remove(layout).1, &changes);
        match logger::read(&bytes, NAME) {
            Ok(record) => {
                for pair in record.readings().windows(2) {
                    prop_assert!(pair[0].at < pair[1].at);
                }
                for reading in record.readings() {
                    prop_assert!((0.0..=1.0).contains(&reading.humidity.fraction()));
                    prop_assert!((-40.0..=85.0).contains(&reading.temperature.celsius()));
                }
            }
            Err(unread) => {
                prop_assert!(!unread.faults.is_empty());
                let message = unread.to_string();
                prop_assert!(message.starts_with("loft.csv:"), "{}", message);
                for fault in &unread.faults {
                    prop_assert!((1..=bytes.len() + 1).contains(&fault.line));
                }
            }
        }
    }
}
