//! Timetables in which each coat comes while the one under it still takes it, where there are such.

use super::calendar::{By, Unkept};
use super::planner::Planner;
use crate::schedule::{Minute, NoTimetable, Task, Timetable};

/// How much later than as soon as can be all is ready at the most, to keep coats in time where no date
/// says until when there is time, and how much sooner than it has to the work begins: two months, in minutes.
const LATER: i64 = 61 * 24 * 60;

impl Planner<'_> {
    /// What is ready first from a start on; where a coat of that comes too late for the one under
    /// it, what is ready first with none that does, if that is by a deadline.
    pub(super) fn earliest(
        &self,
        task: &Task,
        start: Minute,
        by: Option<Minute>,
    ) -> Result<Timetable, NoTimetable> {
        let first = self.orders.earliest(task, start)?;
        self.keeping(task, first, start, by)
    }

    /// What is ready first from a start on, or in its place what keeps each coat in time for the one under it.
    pub(super) fn keeping(
        &self,
        task: &Task,
        first: Timetable,
        start: Minute,
        by: Option<Minute>,
    ) -> Result<Timetable, NoTimetable> {
        if first.missed == 0 {
            return Ok(first);
        }
        let by = by.or_else(|| first.ready.plus(LATER));
        let kept = by.map(|by| self.orders.earliest_kept(task, start, by));
        Ok(kept.transpose()?.flatten().unwrap_or(first))
    }

    /// What begins last and is ready by a deadline; where a coat of that comes too late for the one
    /// under it, what begins last with none that does.
    pub(super) fn latest(
        &self,
        task: &Task,
        by: Minute,
        start: Option<Minute>,
    ) -> Result<Timetable, NoTimetable> {
        let last = self.orders.latest(task, by, start)?;
        if last.missed == 0 {
            return Ok(last);
        }
        // pieces that lie about for longer than that are no better off
        let from = last.starts.plus(-LATER).max(start);
        let kept = self.orders.latest_kept(task, by, from)?;
        Ok(kept.unwrap_or(last))
    }

    /// What could be, were the work not laid out so that each coat comes while the one under it takes it.
    pub(super) fn otherwise(
        &self,
        task: &Task,
        laid: &Timetable,
        by: Option<&By>,
    ) -> Result<Option<Unkept>, NoTimetable> {
        if laid.missed > 0 || !has_windows(task) {
            return Ok(None);
        }
        let sooner = laid.holds_back().then_some(Unkept::Sooner);
        if let Some(start) = self.bench.run.header.start {
            let first = self.orders.earliest(task, Minute::of(start))?;
            let other = (first.starts, first.ready) != (laid.starts, laid.ready);
            let from = (first.missed > 0 && other).then(|| Unkept::From {
                begins: first.starts.date_time(),
                ready: first.ready.date_time(),
            });
            return Ok(from.or(sooner));
        }
        let Some(by) = by else { return Ok(sooner) };
        let last = self.orders.latest(task, Minute::of(by.deadline), None)?;
        let at = last.starts.date_time();
        let other = by.likely_start.is_some_and(|likely| at > likely);
        let late = (last.missed > 0 && other).then_some(Unkept::AsLateAs(at));
        Ok(late.or(sooner))
    }
}

/// Whether some coat takes the next only for a time.
pub(super) fn has_windows(task: &Task) -> bool {
    // one split has the same coats as any other
    let waves = task
        .splits
        .first()
        .into_iter()
        .flat_map(|split| &split.waves);
    let mut coats = waves.flat_map(|wave| wave.sittings.iter().filter_map(|sitting| sitting.coat));
    coats.any(|coat| coat.closes.is_some())
}
