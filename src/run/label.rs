//! What a bottle's label says about time, read from the run file.

use super::reader::{Book, Limit, Section};
use crate::coating::{Key, Label, Source, StageTime};
use crate::quantity::{Humidity, Temperature, Time};
use crate::stage::Stage;
use std::collections::BTreeMap;

const TEMPERATURE: Limit<Temperature> = Limit {
    holds: |t| (5.0..=40.0).contains(&t.celsius()),
    reason: "a label's times hold at a temperature from 5 C to 40 C (41 F to 104 F)",
};
const HUMIDITY: Limit<Humidity> = Limit {
    holds: |humidity| (0.05..=0.84).contains(&humidity.fraction()),
    reason: "a label's times hold at a relative humidity from 5 % to 84 %",
};
const TIME: Limit<Time> = Limit {
    holds: |time| time.s() >= 1.0 && time.days() <= 365.0,
    reason: "a label's time is from 1 s to a year",
};

/// What a label table holds, before its family fills the gaps.
struct Read {
    at: Option<(Temperature, Humidity)>,
    times: BTreeMap<Stage, Time>,
}

/// Reads a coating's `label`. Times that it leaves out are its family's, where its air is its family's too.
pub(super) fn read(section: Section, usual: &Label, book: &mut Book) -> Option<Label> {
    let (path, spot) = (section.path("at"), section.own_spot());
    let before = book.faults.len();
    let gave_at = section.has("at");
    let read = own(section, book);
    if book.faults.len() > before {
        return None;
    }
    let mut label = usual.clone();
    if let Some((temperature, humidity)) = read.at {
        (label.temperature, label.humidity, label.at_source) =
            (temperature, humidity, Source::MakersFile);
    } else {
        book.assume(path, air(usual), "ISO 3270 reference atmosphere");
    }
    let same_air = same_air(&label, usual);
    if gave_at && !same_air && read.times.is_empty() {
        book.refuse(
            &spot,
            "a label with its own air needs at least one time, such as handle or recoat",
        );
        return None;
    }
    for stage in Stage::ALL {
        let own = read.times.get(&stage).map(|&time| StageTime {
            time,
            source: Source::MakersFile,
        });
        let time = own.or_else(|| {
            let usual = usual
                .stage(stage)
                .filter(|usual| same_air && fits(stage, usual.time, &read.times))?;
            book.assume(
                format!("{}.{}", spot.key, stage.name()),
                hours(usual.time),
                "common practice, no source",
            );
            Some(usual.clone())
        });
        match time {
            Some(time) => label.times.insert(stage, time),
            None => label.times.remove(&stage),
        };
    }
    Some(label)
}

/// The family's own label, each of its times an assumption.
pub(super) fn assumed(usual: &Label, path: &str, book: &mut Book) -> Label {
    book.assume(
        format!("{path}.at"),
        air(usual),
        "ISO 3270 reference atmosphere",
    );
    for stage in Stage::ALL {
        if let Some(usual) = usual.stage(stage) {
            book.assume(
                format!("{path}.{}", stage.name()),
                hours(usual.time),
                "common practice, no source",
            );
        }
    }
    usual.clone()
}

/// Tells the mistakes in a label whose family is unknown.
pub(super) fn check_only(section: Section, book: &mut Book) {
    own(section, book);
}

fn own(mut section: Section, book: &mut Book) -> Read {
    let at = section.pair(
        book,
        "at",
        (&TEMPERATURE, &HUMIDITY),
        "a temperature and a humidity: [\"23 C\", \"50 %\"]",
    );
    let times: BTreeMap<Stage, Time> = Stage::ALL
        .into_iter()
        .filter_map(|stage| Some((stage, section.may(book, stage.name(), &TIME)?)))
        .collect();
    let late = times.iter().find_map(|(earlier, sooner)| {
        let (later, _) = times
            .iter()
            .find(|(later, time)| earlier.precedes(**later) && *time < sooner)?;
        Some((earlier, later))
    });
    if let Some((earlier, later)) = late {
        let words = format!(
            "a coat does not reach {} before {}",
            later.name(),
            earlier.name()
        );
        book.refuse(&section.spot(later.name()), words);
    }
    section.elsewhere(
        |key| Key::named(key).is_some(),
        "in [[coating]] itself, beside label",
    );
    section.finish(book);
    Read { at, times }
}

/// Whether a family's time may stand among the maker's without breaking their order.
fn fits(stage: Stage, time: Time, times: &BTreeMap<Stage, Time>) -> bool {
    // a usual time for the next coat lies between tack-free and dry through
    let usually = |one: Stage, other: Stage| {
        one.precedes(other)
            || matches!(
                (one, other),
                (Stage::TackFree, Stage::Recoat) | (Stage::Recoat, Stage::Through)
            )
    };
    times.iter().all(|(&other, &own)| {
        let late = usually(stage, other) && time > own;
        let early = usually(other, stage) && own > time;
        !late && !early
    })
}

/// Whether two labels name the same air, but for what turning units loses.
fn same_air(one: &Label, other: &Label) -> bool {
    let apart = (one.temperature - other.temperature).k().abs();
    apart < 0.05 && (one.humidity - other.humidity).percent().abs() < 0.05
}

fn air(label: &Label) -> String {
    format!(
        "{} C and {} %",
        tidy(label.temperature.celsius()),
        tidy(label.humidity.percent())
    )
}

fn hours(time: Time) -> String {
    format!("{} h", tidy(time.h()))
}

/// At most three decimals.
fn tidy(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}
