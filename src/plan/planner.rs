//! Laying a run out in time.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{DateTime, date};

use super::calendar::{By, Chance, Dates, NoDates};
use super::chain::{self, Group};
use super::hands::{hands, note_pace};
use super::numbered::{Kind, Numbered, Sure, above_middle};
use super::orders::Arrivals;
use super::space::SpacePlan;
use super::steps::Timed;
use super::undated::Undated;
use super::waves::{self, Pace, Way};
use super::{CoatingPlan, Notes, PiecePlan};
use crate::quantity::{Share, Time};
use crate::run::Run;
use crate::schedule::{
    self, Hours, HoursError, Loss, Minute, NoTimetable, Orders, Shop, Spread, Spreads, Timetable,
    WaitId, WaitSpread, Window,
};

/// Everything that the calendar rests on.
pub(super) struct Bench<'p> {
    pub run: &'p Run,
    pub pieces: &'p [PiecePlan],
    pub space: &'p SpacePlan,
    pub steps: &'p [Timed],
    pub coatings: &'p [CoatingPlan],
    /// From when what has to be ordered is there.
    pub arrivals: &'p Arrivals,
}

/// How often the run is tried for its chance of being ready.
const SAMPLES: u32 = 1000;
/// How far a single sitting is off the maker's own pace: typical, from memory.
const SITTING: Spread = Spread {
    low: 0.9,
    likely: 1.0,
    high: 1.15,
};
/// A Monday, for runs without a date.
pub(super) const MONDAY: DateTime = date(2001, 1, 1).at(0, 0, 0, 0);

/// When the run is likely ready, begun as soon as can be; where it names no start, as late as is
/// still in time. `None` where that can't be told.
pub(super) fn soonest(bench: &Bench) -> Option<DateTime> {
    let (_, _, found) = begun_soonest(bench)?;
    Some(found.ready.date_time())
}

/// How often the run so begun is ready by a date. `None`: that can't be told.
pub(super) fn soonest_chance(bench: &Bench, by: DateTime) -> Option<Share> {
    let (planner, task, found) = begun_soonest(bench)?;
    let chance = planner.chance(&task, &found, Minute::of(by))?;
    Some(chance.ready)
}

/// By name, when the run so begun first takes each of the goods that have a time of delivery.
pub(super) fn first_uses(bench: &Bench) -> Option<BTreeMap<String, DateTime>> {
    let (planner, task, found) = begun_soonest(bench)?;
    let wanted = planner.wanted(&planner.sittings(&task, &found));
    Some(wanted.into_iter().map(|it| (it.what, it.at)).collect())
}

fn begun_soonest<'p>(bench: &'p Bench<'p>) -> Option<(Planner<'p>, schedule::Task, Timetable)> {
    let planner = Planner::of(bench, &mut Notes::default()).ok()?;
    let header = &bench.run.header;
    let task = planner.task(Sure::Likely)?;
    let found = match header.start {
        Some(start) => {
            let by = header.ready_by.map(Minute::of);
            planner.earliest(&task, Minute::of(start), by)
        }
        None => planner.latest(&task, Minute::of(header.ready_by?), None),
    };
    let found = found.ok()?;
    Some((planner, task, found))
}

/// The date that a run is too late for, where it is; or that no order of work makes.
pub(super) fn too_late(run: &Run, dates: &Dates) -> Option<DateTime> {
    match dates {
        Dates::Told(calendar) => {
            let by = calendar.by.as_ref()?;
            by.too_late.then_some(by.deadline)
        }
        Dates::Never(_) | Dates::Untold { .. } => run.header.ready_by,
        Dates::Undated(_) => None,
    }
}

/// Works out when everything happens.
pub(super) fn plan(bench: &Bench, notes: &mut Notes) -> Dates {
    let run = bench.run;
    match Planner::of(bench, notes) {
        Ok(planner) => planner
            .dates()
            .unwrap_or_else(|why| Dates::Never(planner.no_dates(&why))),
        Err(Refused::Untold(step)) => Dates::Untold {
            step: run.steps[step].name.clone(),
        },
        Err(Refused::Hours(why)) => Dates::Never(NoDates::Hours(why)),
    }
}

/// Why nothing can be laid out.
enum Refused {
    Untold(usize),
    Hours(HoursError),
}

/// A run on its way to dates.
pub(super) struct Planner<'p> {
    pub bench: &'p Bench<'p>,
    pub groups: Vec<Group>,
    pub waits: Numbered,
    pub ways: Vec<Way>,
    pub hours: Hours,
    /// Those that its tasks are tried in, all of which are split alike.
    pub orders: Orders,
}

impl<'p> Planner<'p> {
    fn of(bench: &'p Bench<'p>, notes: &mut Notes) -> Result<Self, Refused> {
        let run = bench.run;
        let (groups, untold) = chain::groups(run, bench.pieces, bench.steps, bench.coatings, notes);
        note_pace(run, notes);
        if let Some(chain::Untold(step)) = untold {
            return Err(Refused::Untold(step));
        }
        let window = |span: &crate::run::ClockSpan| Window {
            from: u32::from(span.from),
            to: u32::from(span.to),
        };
        let dated = run.header.ready_by.is_some() || run.header.start.is_some();
        // days off have dates, and a run without one is of no certain week
        let off = if dated {
            run.hours.off.clone()
        } else {
            BTreeSet::new()
        };
        let days = run.hours.days.each_ref();
        let days = days.map(|day| day.iter().map(window).collect());
        Ok(Self {
            bench,
            waits: Numbered::of(run, &groups, bench.steps),
            ways: waves::ways(&groups, bench.pieces, bench.space),
            groups,
            hours: Hours::new(days, &off, window(&run.hours.awake)).map_err(Refused::Hours)?,
            orders: Orders::default(),
        })
    }

    /// The run for the scheduler. `None` where a wait can't be that sure.
    pub(super) fn task(&self, sure: Sure) -> Option<schedule::Task> {
        let run = self.bench.run;
        let [_, likely, high] = hands(run);
        let slower = match sure {
            Sure::Likely => likely,
            Sure::To(share) => likely * above_middle(high / likely, share),
        };
        let waits: Option<Vec<schedule::Wait>> = (self.waits.waits.iter())
            .map(|kind| {
                Some(schedule::Wait {
                    by_hour: kind.minutes(sure)?,
                })
            })
            .collect();
        let (arrivals, pieces) = (self.bench.arrivals, self.bench.pieces);
        let pace = Pace {
            slower,
            step_from: &|step| arrivals.step(run, step),
            piece_from: &|piece| arrivals.blank(pieces[piece].blank),
            wait: &|until| self.waits.number.get(&until).copied().map(WaitId),
        };
        Some(schedule::Task {
            shop: Shop {
                hours: self.hours.clone(),
                trays: self
                    .bench
                    .space
                    .trays
                    .iter()
                    .map(|tray| tray.usable)
                    .collect(),
            },
            waits: waits?,
            splits: (self.ways.iter())
                .map(|way| way.split(&self.groups, self.bench.space, &pace))
                .collect::<Option<_>>()?,
        })
    }

    /// The run begun on each day of a week, as long as everything likely takes.
    fn undated(&self, likely: &schedule::Task) -> Result<Undated, NoTimetable> {
        let monday = Minute::of(MONDAY);
        let mut all: Option<Undated> = None;
        for from in (0..7).filter_map(|day| monday.plus(day * 24 * 60)) {
            // whoever begins by it does so with the day's work, so no coat is held back for the next
            let found = self.orders.earliest(likely, from)?;
            // a day without work begins on the next
            if found.starts.since(from) >= 24 * 60 {
                continue;
            }
            let made = Undated::of(self.bench, &found, &self.sittings(likely, &found));
            all = Some(match all {
                Some(all) => all.or(made),
                None => made,
            });
        }
        all.ok_or(NoTimetable::NoHours)
    }

    fn dates(&self) -> Result<Dates, NoTimetable> {
        let header = &self.bench.run.header;
        let Some(likely) = self.task(Sure::Likely) else {
            // likely times are always told, so what lacks is a tray
            return Ok(Dates::Never(NoDates::NoTrays));
        };
        let start = header.start.map(Minute::of);
        let Some(deadline) = header.ready_by else {
            let Some(start) = start else {
                return Ok(Dates::Undated(Box::new(self.undated(&likely)?)));
            };
            let found = self.earliest(&likely, start, None)?;
            return self.calendar(&likely, &found, None);
        };
        let by = Minute::of(deadline);
        let last = match self.latest(&likely, by, start) {
            Ok(found) => found,
            Err(NoTimetable::TooLate { .. }) if start.is_some() => {
                let found = self.orders.earliest(&likely, start.unwrap_or(by))?;
                let late = By {
                    deadline,
                    sure_start: None,
                    likely_start: None,
                    chance: None,
                    too_late: true,
                };
                return self.calendar(&likely, &found, Some(late));
            }
            Err(why) => return Err(why),
        };
        let sure = self.sure_start(&likely, &last, (by, start))?;
        // a sure start that keeps no coat in time may come after all likely ones that do
        let after = |(found, _): &(Timetable, Chance)| found.starts > last.starts;
        let likely_start = if sure.as_ref().is_some_and(after) {
            self.orders.latest(&likely, by, start)?.starts
        } else {
            last.starts
        };
        let mut sure_start = sure.as_ref().map(|(found, _)| found.starts.date_time());
        // with a start of the maker's own the work is laid out from there
        let (found, chance) = match (start, sure) {
            (Some(start), sure) => {
                let (found, chance) = self.begun_at(&likely, (start, by), &last, sure)?;
                let does = |chance: &Chance| chance.ready >= header.sure;
                let begun = chance.as_ref().is_some_and(does).then_some(found.starts);
                sure_start = sure_start.or(begun.map(Minute::date_time));
                (found, chance)
            }
            (None, Some((found, chance))) => (found, Some(chance)),
            (None, None) => {
                let chance = self.chance(&likely, &last, by);
                (last.clone(), chance)
            }
        };
        let by = By {
            deadline,
            sure_start,
            likely_start: Some(likely_start.date_time()),
            chance,
            too_late: false,
        };
        self.calendar(&likely, &found, Some(by))
    }

    /// How often the work as laid out is ready, if it goes on as soon as it can.
    pub(super) fn chance(
        &self,
        task: &schedule::Task,
        timetable: &Timetable,
        by: Minute,
    ) -> Option<Chance> {
        let run = self.bench.run;
        let [low, likely, high] = hands(run);
        let waits: Option<Vec<WaitSpread>> = self
            .waits
            .waits
            .iter()
            .map(|kind| self.spread(kind))
            .collect();
        let losses = self.bench.pieces.iter().map(|piece| Loss {
            started: u32::try_from(piece.start).unwrap_or(u32::MAX),
            survives: 1.0 - piece.lost.fraction(),
            wanted: piece.count,
        });
        let spreads = Spreads {
            waits: waits?,
            hands: Spread {
                low: low / likely,
                likely: 1.0,
                high: high / likely,
            },
            sitting: SITTING,
            losses: losses.collect(),
        };
        let draws = schedule::Draws {
            seed: run.header.seed,
            samples: SAMPLES,
            threads: 0,
        };
        let found = schedule::chance(task, timetable, &spreads, by, draws).ok()?;
        let share = |odds: schedule::Odds| Share::from_fraction(odds.share);
        Some(Chance {
            ready: share(found.ready),
            enough: share(found.enough),
            both: share(found.both),
            when: found.finish.map(|minute| minute.map(Minute::date_time)),
            samples: found.samples,
            seed: found.seed,
        })
    }

    /// How far a wait is spread; coats of one coating share a draw. `None`: it has no upper end.
    fn spread(&self, kind: &Kind) -> Option<WaitSpread> {
        let run = self.bench.run;
        let Some((step, band)) = kind.step.zip(kind.band) else {
            return Some(WaitSpread {
                source: run.coatings.len(),
                spread: Spread::NONE,
            });
        };
        let spread = Spread {
            low: band.low / band.likely,
            likely: 1.0,
            high: band.high / band.likely,
        };
        let source = run.steps[step].work.coating()?;
        spread
            .high
            .is_finite()
            .then_some(WaitSpread { source, spread })
    }

    fn no_dates(&self, why: &NoTimetable) -> NoDates {
        let of_minutes = |minutes: u32| Time::from_min(f64::from(minutes));
        match *why {
            NoTimetable::TooLong {
                step,
                work,
                longest,
                ..
            } => NoDates::TooLong {
                what: self.what(step),
                takes: of_minutes(work),
                longest: of_minutes(longest),
            },
            NoTimetable::LooksAsleep { step, .. } => NoDates::Asleep {
                what: self.what(step),
            },
            NoTimetable::NeverThere { step, .. } => NoDates::NeverDries {
                what: self.what(step),
            },
            NoTimetable::TooFewTrays { .. } => NoDates::NoTrays,
            NoTimetable::NoHours => NoDates::NoHours,
            _ => NoDates::TooMuch,
        }
    }

    /// What a sitting is called by its number.
    fn what(&self, step: usize) -> String {
        let steps = &self.bench.run.steps;
        steps
            .get(step)
            .map_or_else(|| "looking over".to_owned(), |step| step.name.clone())
    }
}
