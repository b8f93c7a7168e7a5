//! When the maker works, and when they are awake.

use std::collections::BTreeSet;
use std::fmt;

use jiff::civil::Date;

use super::reader::{Book, Day, Fallback, FromTo, Limit, Section, Spot};

/// The maker's hours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    /// The spells of work on each day of the week, from Monday; in order, apart.
    pub days: [Vec<ClockSpan>; 7],
    /// Days on which nothing is done.
    pub off: BTreeSet<Date>,
    /// When somebody is awake to look at wet pieces.
    pub awake: ClockSpan,
    /// Whether this kind of run is made for the first time, so that it takes longer.
    pub first_run: bool,
}

impl Hours {
    /// Whether there is work on any day of the week between two moments, in minutes after some
    /// midnight.
    pub(super) fn any_between(&self, from: f64, to: f64) -> bool {
        // a sitting that ends on a moment does not reach past it
        const HAIR: f64 = 1e-6;
        let day = f64::from(24 * 60);
        let (begins, lasts) = (from.rem_euclid(day), to - from);
        self.days.iter().flatten().any(|spell| {
            [0.0, day].into_iter().any(|later| {
                let (opens, closes) = (f64::from(spell.from) + later, f64::from(spell.to) + later);
                begins + HAIR < closes && opens + HAIR < begins + lasts
            })
        })
    }
}

/// From one clock time to a later one of the same day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClockSpan {
    /// Minutes after midnight that it begins.
    pub from: u16,
    /// Minutes after midnight that it ends, 1440 at most.
    pub to: u16,
}

impl fmt::Display for ClockSpan {
    /// As a file writes it: `18:30-21:30`.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { from, to } = *self;
        FromTo { from, to }.fmt(out)
    }
}

/// The days' keys, from Monday.
const DAYS: [&str; 7] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];

/// What a list of spells looks like.
const SPELLS: &str = "a list of spells of work, such as [\"09:00-12:30\", \"14:00-17:00\"]";

const AWAKE: Fallback<FromTo> = Fallback {
    value: FromTo {
        from: 7 * 60,
        to: 22 * 60 + 30,
    },
    words: "07:00-22:30",
    why: GUESS,
};
const FIRST_RUN: Fallback<bool> = Fallback {
    value: false,
    words: "false",
    why: "the run does not say that it is the first of its kind",
};
const GUESS: &str = "a guess: give your own";

/// Reads `[hours]`; without it, evenings and weekends are assumed.
pub(super) fn read(section: Option<Section>, book: &mut Book) -> Option<Hours> {
    match section {
        Some(section) => own(section, book),
        None => Some(assumed(book)),
    }
}

/// Hours of a maker who does not tell any.
fn assumed(book: &mut Book) -> Hours {
    let span = |from: u16, to: u16| ClockSpan {
        from: from * 60,
        to: to * 60,
    };
    book.assume("hours.weekdays".to_owned(), "19:00-21:00", GUESS);
    let weekend = "10:00-12:00 and 14:00-17:00";
    book.assume("hours.weekend".to_owned(), weekend, GUESS);
    book.assume("hours.awake".to_owned(), AWAKE.words, AWAKE.why);
    book.assume("hours.first_run".to_owned(), FIRST_RUN.words, FIRST_RUN.why);
    Hours {
        days: by_day(&[span(19, 21)], &[span(10, 12), span(14, 17)]),
        off: BTreeSet::new(),
        awake: ClockSpan {
            from: AWAKE.value.from,
            to: AWAKE.value.to,
        },
        first_run: FIRST_RUN.value,
    }
}

/// Five days of the one and two of the other.
fn by_day(weekdays: &[ClockSpan], weekend: &[ClockSpan]) -> [Vec<ClockSpan>; 7] {
    std::array::from_fn(|day| {
        if day < 5 {
            weekdays.to_vec()
        } else {
            weekend.to_vec()
        }
    })
}

/// The maker's own hours: a day that they leave out is free.
fn own(mut section: Section, book: &mut Book) -> Option<Hours> {
    let before = book.faults.len();
    let awake = Awake::read(&mut section, book);
    let weekdays = spells(&mut section, "weekdays", awake, book);
    let weekend = spells(&mut section, "weekend", awake, book);
    let mut days = by_day(&weekdays.unwrap_or_default(), &weekend.unwrap_or_default());
    for (day, key) in days.iter_mut().zip(DAYS) {
        if let Some(own) = spells(&mut section, key, awake, book) {
            *day = own;
        }
    }
    let off = off(&mut section, book);
    let first_run = section.or(book, "first_run", &Limit::ANY, FIRST_RUN);
    let keys = ["weekdays", "weekend"].into_iter().chain(DAYS);
    match keys.into_iter().find(|key| section.has(key)) {
        None => section.missing(
            "weekdays",
            format!("{SPELLS}; or weekend, or a day such as saturday"),
        ),
        Some(given) if book.faults.len() == before && days.iter().all(Vec::is_empty) => {
            let reason = "with no spell of work on any day, nothing would ever be made";
            book.refuse(&section.spot(given), reason);
        }
        Some(_) => {}
    }
    section.finish(book);
    (book.faults.len() == before).then_some(Hours {
        days,
        off,
        awake: awake.span?,
        first_run,
    })
}

/// The hours awake, as far as they are read.
#[derive(Clone, Copy)]
struct Awake {
    /// `None`: they are wrong in themselves.
    span: Option<ClockSpan>,
    told: bool,
}

impl Awake {
    fn read(section: &mut Section, book: &mut Book) -> Self {
        let told = section.has("awake");
        let before = book.faults.len();
        let read = section.or(book, "awake", &Limit::ANY, AWAKE);
        let span = if book.faults.len() > before {
            None
        } else {
            let end = "hours awake end on the day that they begin on, at \"24:00\" at the latest";
            forward(read, &section.spot("awake"), end, book)
        };
        Self { span, told }
    }

    /// Refuses a spell that is not all within the hours awake.
    fn check(self, spell: ClockSpan, spot: &Spot, book: &mut Book) {
        let Some(awake) = self.span else { return };
        if awake.from <= spell.from && spell.to <= awake.to {
            return;
        }
        let mut reason = format!("this is not all within the hours awake, {awake}");
        if !self.told {
            reason += ", which are assumed: give awake in [hours]";
        }
        book.refuse(spot, reason);
    }
}

/// The span, if it goes forward within its day; `across` says why one may not pass midnight.
fn forward(read: FromTo, spot: &Spot, across: &str, book: &mut Book) -> Option<ClockSpan> {
    let FromTo { from, to } = read;
    if from < to {
        return Some(ClockSpan { from, to });
    }
    if from == to {
        book.refuse(spot, "it ends when it begins, so there is no time in it");
    } else {
        book.refuse(spot, across);
    }
    None
}

/// The spells under a key, in order and apart. `None` where the key is left out or wrong.
fn spells(
    section: &mut Section,
    key: &'static str,
    awake: Awake,
    book: &mut Book,
) -> Option<Vec<ClockSpan>> {
    let mut spells: Vec<ClockSpan> = Vec::new();
    for (spot, read) in section.list::<FromTo>(book, key, SPELLS)? {
        let Some(spell) = forward(read, &spot, &across(read), book) else {
            continue;
        };
        awake.check(spell, &spot, book);
        if let Some(&last) = spells.last() {
            apart(last, spell, &spot, book);
        }
        spells.push(spell);
    }
    Some(spells)
}

/// What to write for a spell of work that passes midnight.
fn across(read: FromTo) -> String {
    let evening = FromTo {
        to: 24 * 60,
        ..read
    };
    let before = format!("a spell ends on the day that it begins on: write \"{evening}\"");
    if read.to == 0 {
        return before;
    }
    let morning = FromTo { from: 0, ..read };
    format!("{before} and, on the day after, \"{morning}\"")
}

/// Refuses a spell that does not begin after the `last` one's end.
fn apart(last: ClockSpan, spell: ClockSpan, spot: &Spot, book: &mut Book) {
    if spell.from > last.to {
        return;
    }
    let both = ClockSpan {
        from: last.from.min(spell.from),
        to: last.to.max(spell.to),
    };
    let reason = if spell.to < last.from {
        format!("spells stand in the order of the day, and this is before {last}")
    } else if spell.from == last.to {
        format!("it begins when {last} ends, so the two are one: write \"{both}\"")
    } else {
        format!("it overlaps {last}; write one spell, or leave a pause between the two")
    };
    book.refuse(spot, reason);
}

/// Days on which nothing is done.
fn off(section: &mut Section, book: &mut Book) -> BTreeSet<Date> {
    let expected = "a list of dates, such as [2027-04-04, 2027-04-05]";
    let days = section.list::<Day>(book, "off", expected);
    days.into_iter().flatten().map(|(_, day)| day.0).collect()
}
