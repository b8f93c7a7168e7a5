//! Timetables in which each coat comes while the one under it still takes it, where there are such.

use super::calendar::{By, Chance, Unkept};
use super::planner::Planner;
use crate::schedule::{Minute, NoTimetable, Task, Timetable, Wave};

/// In how many spells of work such a timetable is looked for: three weeks of evenings.
const SPELLS: usize = 21;

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
        if first.missed == 0 {
            return Ok(first);
        }
        let kept = self.orders.earliest_kept(task, start, by)?;
        Ok(kept.unwrap_or(first))
    }

    /// The same, begun later where only that keeps every coat in time for the one under it.
    pub(super) fn earliest_or_later(
        &self,
        task: &Task,
        start: Minute,
    ) -> Result<Timetable, NoTimetable> {
        let first = self.earliest(task, start, None)?;
        if first.missed == 0 {
            return Ok(first);
        }
        let later = self.spells_from(start).skip(1);
        let kept = self.first_kept(task, later, None, |_| true)?;
        Ok(kept.unwrap_or(first))
    }

    /// What could be, were the work not laid out so that each coat comes while the one under it takes it.
    pub(super) fn otherwise(
        &self,
        task: &Task,
        laid: &Timetable,
        by: Option<&By>,
    ) -> Result<Option<Unkept>, NoTimetable> {
        let closes = |wave: &Wave| {
            let mut coats = wave.sittings.iter().filter_map(|sitting| sitting.coat);
            coats.any(|coat| coat.closes.is_some())
        };
        if laid.missed > 0 || !task.splits[laid.split].waves.iter().any(closes) {
            return Ok(None);
        }
        if let Some(start) = self.bench.run.header.start {
            let first = self.orders.earliest(task, Minute::of(start))?;
            let other = (first.starts, first.ready) != (laid.starts, laid.ready);
            return Ok((first.missed > 0 && other).then(|| Unkept::From {
                begins: first.starts.date_time(),
                ready: first.ready.date_time(),
            }));
        }
        let Some(by) = by else { return Ok(None) };
        let last = self.orders.latest(task, Minute::of(by.deadline), None)?;
        let at = last.starts.date_time();
        let other = by.likely_start.is_some_and(|likely| at > likely);
        Ok((last.missed > 0 && other).then_some(Unkept::AsLateAs(at)))
    }

    /// What begins last and is ready by a deadline; where a coat of that comes too late for the one
    /// under it, what begins last, of the spells before, with none that does.
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
        let spells = self.spells_before(last.starts, start).into_iter().rev();
        let kept = self.first_kept(task, spells, Some(by), |_| true)?;
        Ok(kept.unwrap_or(last))
    }

    /// The first that keeps each coat in time for the one under it and is as surely ready by a deadline
    /// as is wanted, of those begun at the first few of some spells.
    pub(super) fn kept_and_sure(
        &self,
        task: &Task,
        spells: impl Iterator<Item = Minute>,
        by: Minute,
    ) -> Result<Option<(Timetable, Chance)>, NoTimetable> {
        let sure = self.bench.run.header.sure;
        let mut chance = None;
        let kept = self.first_kept(task, spells, Some(by), |kept| {
            chance = self.chance(task, kept, by);
            chance.as_ref().is_some_and(|chance| chance.ready >= sure)
        })?;
        Ok(kept.zip(chance))
    }

    /// The first that keeps each coat in time for the one under it, is ready by a deadline if there is one,
    /// and does, of those begun at the first few of some spells.
    fn first_kept(
        &self,
        task: &Task,
        spells: impl Iterator<Item = Minute>,
        by: Option<Minute>,
        mut does: impl FnMut(&Timetable) -> bool,
    ) -> Result<Option<Timetable>, NoTimetable> {
        for spell in spells.take(SPELLS) {
            let kept = self.orders.earliest_kept(task, spell, by)?;
            if let Some(kept) = kept.filter(|kept| does(kept)) {
                return Ok(Some(kept));
            }
        }
        Ok(None)
    }
}
