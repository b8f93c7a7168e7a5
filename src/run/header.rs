//! The run's own table: its name, its date, how sure to be.

use jiff::civil::DateTime;

use super::reader::{Book, Fallback, Limit, Name, Section, When, Whole};
use crate::quantity::{Share, Units};

/// What the whole run goes by.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// What the maker calls the run.
    pub name: String,
    /// When every piece must be ready, by the maker's own clock. `None`: no date is set.
    pub ready_by: Option<DateTime>,
    /// From when work can begin; what has to be ordered for it is ordered on that day. `None`: from any
    /// day on.
    pub start: Option<DateTime>,
    /// What the draws of chance begin from: the same seed gives the same answer. 1 unless the run says otherwise.
    pub seed: u64,
    /// Wanted chance of having enough, and of being ready: at least a half, less than one.
    pub sure: Share,
    /// The units that answers are shown in.
    pub units: Units,
}

const SURE: Limit<Share> = Limit {
    holds: |sure| sure.fraction() >= 0.5 && sure.fraction() <= 0.9999,
    reason: "how sure to be lies from 50 % to 99.99 %; nothing can be wholly sure",
};

const SEED: Limit<Whole> = Limit {
    holds: |seed| seed.0 >= 0,
    reason: "a seed is a whole number from 0",
};

/// Reads `[run]`.
pub(super) fn read(mut section: Section, book: &mut Book) -> Header {
    let name = Fallback {
        value: Name::from("this run"),
        words: "this run",
        why: "a run needs something to be called",
    };
    let name = section.or(book, "name", &Limit::ANY, name).into_string();
    let ready_by = section
        .may::<When>(book, "ready_by", &Limit::ANY)
        .map(|when| when.0);
    let start = section
        .may::<When>(book, "start", &Limit::ANY)
        .map(|when| when.0);
    if let (Some(start), Some(ready_by)) = (start, ready_by)
        && start >= ready_by
    {
        let reason = format!("work begins before all must be ready, {ready_by}");
        book.refuse(&section.spot("start"), reason);
    }
    let seed = section.may(book, "seed", &SEED);
    let seed = seed.and_then(|seed| u64::try_from(seed.0).ok());
    let sure = Fallback {
        value: Share::from_percent(95.0),
        words: "95 %",
        why: "common practice, no source",
    };
    let sure = section.or(book, "sure", &SURE, sure);
    let metric = Fallback {
        value: Units::Metric,
        words: "metric",
        why: "the run does not say which units to show",
    };
    let units = section.or(book, "show", &Limit::ANY, metric);
    section.finish(book);
    Header {
        name,
        ready_by,
        start,
        seed: seed.unwrap_or(1),
        sure,
        units,
    }
}
