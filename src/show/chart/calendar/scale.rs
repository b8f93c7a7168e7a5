//! Which hours of a day a calendar draws, and where.

use jiff::civil::{Date, DateTime};

use super::CalendarBars;
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::draw::DrawError;

/// Minutes from a midnight to the next.
const WHOLE_DAY: f64 = 1440.0;

/// How much a row shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// Each bar with its label.
    Labelled,
    /// Bars alone, with the day's work told beside them.
    Close,
}

/// Which part of a day is drawn, and where.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    pub(super) form: Form,
    /// Minutes after midnight.
    pub(super) from: f64,
    pub(super) to: f64,
    /// `[px]`
    pub(super) left: f64,
    pub(super) right: f64,
}

impl Scale {
    pub(super) fn of(bars: &CalendarBars<'_>, form: Form) -> Result<Self, DrawError> {
        let awake = bars.days.awake;
        if bars.days.days.is_empty() || awake.from >= awake.to {
            return Err(DrawError::NotPositive {
                what: "the count of days with hours awake",
                value: 0.0,
            });
        }
        // an hour of sleep on either side shows that there is some
        let awake = (f64::from(awake.from) - 60.0, f64::from(awake.to) + 60.0);
        let (from, to) =
            done(bars).fold(awake, |(from, to), span| (from.min(span.0), to.max(span.1)));
        let beside = match form {
            Form::Labelled => 66.0,
            Form::Close => 270.0,
        };
        Ok(Self {
            form,
            from: ((from / 60.0).floor() * 60.0).max(0.0),
            to: ((to / 60.0).ceil() * 60.0).min(WHOLE_DAY),
            left: PAD + 96.0,
            right: WIDTH - PAD - beside,
        })
    }

    /// Where a number of minutes after midnight lies, at the most at the row's ends.
    pub(super) fn across(&self, minutes: f64) -> f64 {
        let share = (minutes - self.from) / (self.to - self.from);
        self.left + (self.right - self.left) * share.clamp(0.0, 1.0)
    }

    /// Where a time lies in the row of a day that it is on.
    pub(super) fn at(&self, time: DateTime) -> f64 {
        self.across(minutes(time))
    }

    /// The same for an end: midnight is the end of the day before it.
    pub(super) fn until(&self, time: DateTime, day: Date) -> f64 {
        if time.date() > day {
            self.across(WHOLE_DAY)
        } else {
            self.at(time)
        }
    }

    /// Whether a time of the day is drawn.
    pub(super) fn shows(&self, time: DateTime) -> bool {
        (self.from..=self.to).contains(&minutes(time))
    }
}

/// From when to when anything is done or can be, in minutes after midnight.
fn done<'b>(bars: &'b CalendarBars<'_>) -> impl Iterator<Item = (f64, f64)> + 'b {
    let open = (bars.days.days.iter())
        .flat_map(|day| &day.open)
        .map(|spell| (f64::from(spell.from), f64::from(spell.to)));
    let sittings = bars.calendar.sittings.iter().flat_map(|one| {
        let ends = if one.ends.date() > one.begins.date() {
            WHOLE_DAY
        } else {
            minutes(one.ends)
        };
        let looks = (one.looks.iter()).map(|look| (minutes(*look), minutes(*look)));
        std::iter::once((minutes(one.begins), ends)).chain(looks)
    });
    open.chain(sittings)
}

/// Minutes after midnight.
pub(super) fn minutes(time: DateTime) -> f64 {
    f64::from(time.hour()) * 60.0 + f64::from(time.minute())
}
