//! The days on which stock has to be good still: those of its last use.

use std::collections::BTreeMap;

use jiff::ToSpan;
use jiff::civil::Date;

use super::calendar::Dates;
use super::chain::Task;
use super::stock::Past;
use crate::consumption::{Bottle, keeps};
use crate::quantity::Ratio;
use crate::run::{Run, RunCoating, Supply};

/// When each thing is last used.
#[derive(Debug, Default)]
pub(super) struct Lasts<'r> {
    /// The day where the calendar tells none.
    otherwise: Option<Date>,
    coatings: BTreeMap<&'r str, Date>,
    supplies: BTreeMap<&'r str, Date>,
}

impl<'r> Lasts<'r> {
    /// Before there is a calendar, by the run's own date.
    pub(super) fn undated(run: &Run) -> Self {
        let day = run.header.ready_by.or(run.header.start);
        Self {
            otherwise: day.map(jiff::civil::DateTime::date),
            ..Self::default()
        }
    }

    /// The same, by the day of the start where there is one: no stock is past its date for it that
    /// the calendar's days would still count.
    pub(super) fn begun(run: &Run) -> Self {
        let day = run.header.start.or(run.header.ready_by);
        Self {
            otherwise: day.map(jiff::civil::DateTime::date),
            ..Self::default()
        }
    }

    /// By the calendar's last sitting that uses a thing, where dates are told.
    pub(super) fn of(run: &'r Run, dates: &Dates) -> Self {
        let mut lasts = Self::undated(run);
        let Dates::Told(calendar) = dates else {
            return lasts;
        };
        for sitting in &calendar.sittings {
            let Task::Step { step, .. } = sitting.task else {
                continue;
            };
            let (step, day) = (&run.steps[step], sitting.ends.date());
            if let Some(coating) = step.work.coating() {
                later(&mut lasts.coatings, &run.coatings[coating].name, day);
            }
            for taken in &step.uses {
                later(&mut lasts.supplies, &run.supplies[taken.supply].name, day);
            }
        }
        lasts
    }

    /// The same of a run begun so many days later.
    pub(super) fn put_off(&self, days: i32) -> Self {
        let later = |known: &BTreeMap<&'r str, Date>| {
            let moved = known.iter();
            moved
                .map(|(name, day)| (*name, day.saturating_add(days.days())))
                .collect()
        };
        Self {
            otherwise: self.otherwise,
            coatings: later(&self.coatings),
            supplies: later(&self.supplies),
        }
    }

    /// Whether a coating's bottles are past their date by then.
    pub(super) fn past_coating(&self, coating: &RunCoating) -> Option<Past> {
        let day = self.coatings.get(coating.name.as_str());
        self.past(day.copied(), coating.bottle?.best_before)
    }

    /// The same of a supply.
    pub(super) fn past_supply(&self, supply: &Supply) -> Option<Past> {
        let day = self.supplies.get(supply.name.as_str());
        self.past(day.copied(), supply.best_before)
    }

    /// A coating's bottle with the stock that counts.
    pub(super) fn bottle(&self, coating: &RunCoating) -> Option<Bottle> {
        let bottle = coating.bottle?;
        let have = match self.past_coating(coating) {
            Some(_) => 0.0,
            None => bottle.have,
        };
        Some(Bottle {
            holds: bottle.holds,
            have: Ratio::from_number(have),
        })
    }

    fn past(&self, last_use: Option<Date>, best_before: Option<Date>) -> Option<Past> {
        let used_on = last_use.or(self.otherwise)?;
        (!keeps(best_before, Some(used_on))).then_some(Past {
            best_before: best_before?,
            used_on,
            by_calendar: last_use.is_some(),
        })
    }
}

fn later<'r>(known: &mut BTreeMap<&'r str, Date>, name: &'r str, day: Date) {
    let last = known.entry(name).or_insert(day);
    *last = (*last).max(day);
}
