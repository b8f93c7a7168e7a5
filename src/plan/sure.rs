//! The start that is as sure as wanted, and the work as laid out from the maker's own.

use super::calendar::Chance;
use super::kept::has_windows;
use super::numbered::Sure;
use super::planner::Planner;
use crate::schedule::{self, Minute, NoTimetable, Orders, Timetable};

/// How far back from the likely start a sure one is looked for, minutes: four months.
const SPELLS_WITHIN: i64 = 120 * 24 * 60;

impl Planner<'_> {
    /// The work as laid out from the maker's own start: of the ways that are ready first from there, or
    /// from one of the spells after it, and the one that is sure, that which is most often in
    /// time. One way and one set of draws is never more often in time for beginning later, and
    /// the ways from the beginning of a later spell are among those from a sooner one. If one is
    /// sure in which each coat comes in time for the one under it, that is taken.
    pub(super) fn begun_at(
        &self,
        likely: &schedule::Task,
        (start, by): (Minute, Minute),
        last: &Timetable,
        sure: Option<(Timetable, Chance)>,
    ) -> Result<(Timetable, Option<Chance>), NoTimetable> {
        let plain = self.orders.earliest(likely, start)?;
        let first = self.keeping(likely, plain.clone(), start, Some(by))?;
        let keeps = first.missed == 0;
        let Some(chance) = self.chance(likely, &first, by) else {
            return Ok((first, None));
        };
        // of those in which nothing is held back, what is put in another order
        let mut ways: Vec<Timetable> = Vec::new();
        ways.extend((!first.holds_back()).then(|| first.clone()));
        let mut best = (first, chance);
        let wanted = self.bench.run.header.sure;
        let rank = |laid: &Timetable, chance: &Chance| {
            let (sure, keeps) = (chance.ready >= wanted, laid.missed == 0);
            (sure && keeps, sure, chance.ready, keeps)
        };
        // being sure comes before coats in time, and what does not keep them may be surer
        let plain = (plain.missed > 0 && keeps && best.1.ready < wanted).then_some(Ok(plain));
        let windows = has_windows(likely);
        let later = self.spells_before(last.starts, Some(start)).into_iter();
        let later = later.map(|later| self.orders.earliest(likely, later));
        let sure = sure.map(|(way, _)| Ok(way));
        for way in sure.into_iter().chain(plain).chain(later) {
            // no way is more often in time than always; and coats in time are worth more than a few more times
            let enough = windows && best.1.ready >= wanted;
            if best.0.missed == 0 && (enough || best.1.ready.fraction() >= 1.0) {
                break;
            }
            let way = way?;
            let laid = if way.holds_back() {
                way
            } else if ways.iter().any(|known| Orders::are_alike(known, &way)) {
                continue;
            } else {
                let laid = schedule::again(likely, &way, start)?;
                ways.push(way);
                laid
            };
            if let Some(chance) = self.chance(likely, &laid, by)
                && rank(&laid, &chance) > rank(&best.0, &best.1)
            {
                best = (laid, chance);
            }
        }
        Ok((best.0, Some(best.1)))
    }

    /// The last spell of work to begin with and be as surely ready as wanted: first by a task
    /// of which everything is that slow, then spell by spell by doing it many times over.
    pub(super) fn sure_start(
        &self,
        likely: &schedule::Task,
        last: &Timetable,
        until: (Minute, Option<Minute>),
    ) -> Result<Option<(Timetable, Chance)>, NoTimetable> {
        if last.missed == 0
            && let Some(found) = self.sure_before(likely, last, until, true)?
        {
            return Ok(Some(found));
        }
        // none keeps each coat in time for the one under it and is sure
        if !has_windows(likely) {
            return Ok(None);
        }
        let (by, start) = until;
        let last = self.orders.latest(likely, by, start)?;
        self.sure_before(likely, &last, until, false)
    }

    /// The same up to the likely last start, keeping each coat in time for the one under it or not.
    fn sure_before(
        &self,
        likely: &schedule::Task,
        last: &Timetable,
        until @ (by, start): (Minute, Option<Minute>),
        keeps: bool,
    ) -> Result<Option<(Timetable, Chance)>, NoTimetable> {
        let sure = self.bench.run.header.sure;
        let Some(slow) = self.task(Sure::To(sure)) else {
            return Ok(None);
        };
        let guess = if keeps {
            self.latest(&slow, by, start)
        } else {
            self.orders.latest(&slow, by, start)
        };
        // split as the slow one is: to try every way for every spell takes long
        let split = guess.map_or(last.split, |guess| guess.split);
        let found = self.sure_split(likely, (split, last.starts), until, keeps)?;
        if found.is_some() || !keeps || split == last.split {
            return Ok(found);
        }
        // what is that slow may keep no coats in time split as it is, or in no way at all
        self.sure_split(likely, (last.split, last.starts), until, keeps)
    }

    /// The same of one way of splitting.
    fn sure_split(
        &self,
        likely: &schedule::Task,
        (split, last): (usize, Minute),
        (by, start): (Minute, Option<Minute>),
        keeps: bool,
    ) -> Result<Option<(Timetable, Chance)>, NoTimetable> {
        let sure = self.bench.run.header.sure;
        let one = schedule::Task {
            splits: vec![likely.splits[split].clone()],
            ..likely.clone()
        };
        let spells = self.spells_before(last, start);
        let mut found: Option<(Timetable, Chance)> = None;
        last_that(spells.len(), |place| {
            let mut laid = if keeps {
                self.earliest(&one, spells[place], Some(by))?
            } else {
                self.orders.earliest(&one, spells[place])?
            };
            if keeps && laid.missed > 0 {
                return Ok(false);
            }
            let chance = self.chance(&one, &laid, by);
            let does = chance.filter(|chance| chance.ready >= sure);
            let is_sure = does.is_some();
            laid.split = split;
            found = does.map(|chance| (laid, chance)).or(found.take());
            Ok::<bool, NoTimetable>(is_sure)
        })?;
        Ok(found)
    }

    /// The beginnings of the last spells of work up to a minute, from the maker's start on.
    fn spells_before(&self, last: Minute, start: Option<Minute>) -> Vec<Minute> {
        let Some(far) = last.plus(-SPELLS_WITHIN) else {
            return Vec::new();
        };
        let from = start.map_or(far, |start| start.max(far));
        let spells = self.hours.spells(from).map(|spell| spell.from.max(from));
        spells.take_while(|&from| from <= last).collect()
    }
}

/// Goes ever further back from the last of so many places to one that does, then by halving to the last
/// that does.
fn last_that<E>(places: usize, mut does: impl FnMut(usize) -> Result<bool, E>) -> Result<(), E> {
    let (mut late, mut back) = (places, 1);
    let mut good = loop {
        let Some(place) = late.checked_sub(back).or(late.checked_sub(1).map(|_| 0)) else {
            return Ok(());
        };
        if does(place)? {
            break place;
        }
        (late, back) = (place, back * 2);
    };
    while late - good > 1 {
        let between = usize::midpoint(good, late);
        if does(between)? {
            good = between;
        } else {
            late = between;
        }
    }
    Ok(())
}
