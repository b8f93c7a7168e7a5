//! Looking the pieces over, twice.

use super::reader::{Book, Fallback, Limit, Section};
use crate::quantity::{Share, Time};

/// Two looks at every piece: when its last coat may be handled, and again later, for
/// some faults only show after days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inspection {
    /// Hands-on time for one piece, each time.
    pub hands_on: Time,
    /// How long after the first look the second is.
    pub again_after: Time,
    /// Share of pieces that passed the first look and are found bad at the second, less than one.
    pub late: Share,
    /// Share of sound pieces that are fit to sell as seconds only, less than one.
    pub seconds: Share,
}

const HANDS_ON: Limit<Time> = Limit {
    holds: |time| time.s() >= 0.0 && time.h() <= 1.0,
    reason: "looking a piece over takes at most an hour",
};
const AGAIN: Limit<Time> = Limit {
    holds: |time| time.s() >= 0.0 && time.days() <= 90.0,
    reason: "the second look is at most 90 days after the first",
};
const LATE: Limit<Share> = Limit {
    holds: |late| (0.0..=0.95).contains(&late.fraction()),
    reason: "the share found bad at the second look lies from 0 % to 95 %: with all of them bad, no number of pieces would do",
};
const SECONDS: Limit<Share> = Limit {
    holds: |seconds| (0.0..=0.95).contains(&seconds.fraction()),
    reason: "the share fit to sell as seconds only lies from 0 % to 95 %: with all of them seconds, no number of pieces would do",
};

/// Reads `[inspect]`.
pub(super) fn read(mut section: Section, book: &mut Book) -> Inspection {
    let hands_on = Fallback {
        value: Time::from_s(10.0),
        words: "10 s",
        why: "a guess: time your own",
    };
    let again_after = Fallback {
        value: Time::from_h(48.0),
        words: "48 h",
        why: "common practice, no source",
    };
    let none = |why| Fallback {
        value: Share::ZERO,
        words: "0 %",
        why,
    };
    let late = none("the file names no share that is found bad late");
    let seconds = none("the file names no share of seconds");
    let inspection = Inspection {
        hands_on: section.or(book, "hands_on", &HANDS_ON, hands_on),
        again_after: section.or(book, "again_after", &AGAIN, again_after),
        late: section.or(book, "late", &LATE, late),
        seconds: section.or(book, "seconds", &SECONDS, seconds),
    };
    section.finish(book);
    inspection
}
