//! Laying a run out in time.

use std::collections::BTreeMap;

use jiff::SignedDuration;
use jiff::civil::DateTime;
use statrs::distribution::{ContinuousCDF, Normal};

use super::calendar::{Booked, By, Calendar, Chance, Dates, NoDates, OrderBy};
use super::chain::{self, FIRST_RUN, Group, OWN_FIGURE, Stint, Task, Until};
use super::space::SpacePlan;
use super::steps::Timed;
use super::waits::{Wait, Waits};
use super::waves::{self, Pace, Way, minutes};
use super::{CoatingPlan, Notes, PiecePlan};
use crate::drying::TimeBand;
use crate::quantity::{Share, Time};
use crate::run::Run;
use crate::schedule::{
    self, Hours, HoursError, Loss, Minute, NoTimetable, Shop, Spread, Spreads, Timetable, WaitId,
    WaitSpread, Window,
};

/// Everything that the calendar rests on.
pub(super) struct Bench<'p> {
    pub run: &'p Run,
    pub pieces: &'p [PiecePlan],
    pub space: &'p SpacePlan,
    pub steps: &'p [Timed],
    pub coatings: &'p [CoatingPlan],
}

/// How sure the times are that a task is built with.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Sure {
    /// As long as is likely.
    Likely,
    /// So long that they are this surely not longer.
    To(Share),
}

/// The waits of a run, each with its number.
struct Numbered {
    /// The number of each.
    number: BTreeMap<Until, usize>,
    /// What is waited for, by number.
    waits: Vec<Kind>,
}

/// One wait.
struct Kind {
    /// The step whose coat dries. `None`: the second look, which is as long as it is said to be.
    step: Option<usize>,
    /// By the clock hour.
    by_hour: [Time; 24],
    /// How sure the time is. `None`: exactly so long.
    band: Option<TimeBand>,
}

impl Numbered {
    fn of(run: &Run, groups: &[Group], steps: &[Timed]) -> Self {
        let mut all = Self {
            number: BTreeMap::new(),
            waits: Vec::new(),
        };
        for stint in groups.iter().flat_map(|group| &group.stints) {
            for until in [stint.next, stint.lifted] {
                if until == Until::Now || all.number.contains_key(&until) {
                    continue;
                }
                if let Some(kind) = Kind::of(run, steps, until) {
                    all.number.insert(until, all.waits.len());
                    all.waits.push(kind);
                }
            }
        }
        all
    }
}

impl Kind {
    fn of(run: &Run, steps: &[Timed], until: Until) -> Option<Self> {
        let step = match until {
            Until::Now => return None,
            Until::SecondLook => {
                return Some(Self {
                    step: None,
                    by_hour: [run.inspection?.again_after; 24],
                    band: None,
                });
            }
            Until::Recoat(step) | Until::Handle(step) | Until::Both(step) | Until::Bag(step) => {
                step
            }
        };
        let timed = steps.iter().find(|timed| timed.step == step)?;
        let Waits::Told {
            recoat,
            handle,
            bag,
        } = &timed.waits
        else {
            return None;
        };
        let wait = match until {
            Until::Recoat(_) => recoat.clone(),
            Until::Handle(_) => handle.clone(),
            Until::Both(_) => later(recoat, handle),
            _ => later(bag.as_ref().unwrap_or(handle), handle),
        };
        Some(Self {
            step: Some(step),
            by_hour: wait.by_hour,
            band: Some(wait.band),
        })
    }

    /// By the clock hour, in whole minutes.
    fn minutes(&self, sure: Sure) -> Option<[u32; 24]> {
        let longer = match (sure, self.band) {
            (Sure::To(share), Some(band)) => longer(band, share)?,
            _ => 1.0,
        };
        Some(self.by_hour.map(|time| minutes(time * longer)))
    }
}

/// The later of two waits, hour by hour.
fn later(a: &Wait, b: &Wait) -> Wait {
    let max = |a: Time, b: Time| if a > b { a } else { b };
    Wait {
        stage: a.stage,
        band: if a.band.likely > b.band.likely {
            a.band
        } else {
            b.band
        },
        by_hour: std::array::from_fn(|hour| max(a.by_hour[hour], b.by_hour[hour])),
    }
}

/// How many times the likely time is not passed, this surely: the band's ends are its 5 %
/// and 95 % points, and above the middle it is lognormal. `None`: it has no upper end.
fn longer(band: TimeBand, share: Share) -> Option<f64> {
    let ratio = band.high / band.likely;
    ratio.is_finite().then(|| above_middle(ratio, share))
}

/// How many times the middle is not passed with a probability from a half up, where the
/// 95 % point is `high` times it and above the middle it is lognormal.
fn above_middle(high: f64, share: Share) -> f64 {
    let normal = Normal::standard();
    let z = |probability| normal.inverse_cdf(probability);
    high.powf(z(share.fraction()) / z(0.95))
}

/// How many times the maker's figure the hands take: low, likely and high.
fn hands(run: &Run) -> [f64; 3] {
    if run.hours.first_run {
        FIRST_RUN
    } else {
        OWN_FIGURE
    }
}

/// How often the run is tried for its chance of being ready.
const SAMPLES: u32 = 1000;
/// How far a single sitting is off the maker's own pace: typical, from memory.
const SITTING: Spread = Spread {
    low: 0.9,
    likely: 1.0,
    high: 1.15,
};
/// Spells of work that a sure start is looked for in.
const MOST_SPELLS: usize = 60;

/// When the run is likely ready, begun as soon as can be. `None` where that can't be told.
pub(super) fn soonest(bench: &Bench) -> Option<DateTime> {
    let planner = Planner::of(bench, &mut Notes::default()).ok()?;
    let start = bench.run.header.start?;
    let task = planner.task(Sure::Likely)?;
    let found = schedule::earliest(&task, Minute::of(start)).ok()?;
    Some(found.ready.date_time())
}

/// The date that a run is too late for, where it is.
pub(super) fn too_late(dates: &Dates) -> Option<DateTime> {
    match dates {
        Dates::Told(calendar) => {
            let by = calendar.by.as_ref()?;
            by.too_late.then_some(by.deadline)
        }
        Dates::NotAsked | Dates::Untold { .. } | Dates::Never(_) => None,
    }
}

/// Works out when everything happens.
pub(super) fn plan(bench: &Bench, notes: &mut Notes) -> Dates {
    let run = bench.run;
    if run.header.ready_by.is_none() && run.header.start.is_none() {
        return Dates::NotAsked;
    }
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

impl From<chain::Untold> for Refused {
    fn from(chain::Untold(step): chain::Untold) -> Self {
        Self::Untold(step)
    }
}

struct Planner<'p> {
    bench: &'p Bench<'p>,
    groups: Vec<Group>,
    waits: Numbered,
    ways: Vec<Way>,
    hours: Hours,
}

impl<'p> Planner<'p> {
    fn of(bench: &'p Bench<'p>, notes: &mut Notes) -> Result<Self, Refused> {
        let run = bench.run;
        let groups = chain::groups(run, bench.pieces, bench.steps, bench.coatings, notes)?;
        let window = |span: &crate::run::ClockSpan| Window {
            from: u32::from(span.from),
            to: u32::from(span.to),
        };
        let days = run.hours.days.each_ref();
        let days = days.map(|day| day.iter().map(window).collect());
        Ok(Self {
            bench,
            waits: Numbered::of(run, &groups, bench.steps),
            ways: waves::ways(&groups, bench.pieces),
            groups,
            hours: Hours::new(days, &run.hours.off, window(&run.hours.awake))
                .map_err(Refused::Hours)?,
        })
    }

    /// The run for the scheduler. `None` where a wait can't be that sure.
    fn task(&self, sure: Sure) -> Option<schedule::Task> {
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
        let pace = Pace {
            slower,
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
                .collect(),
        })
    }

    fn dates(&self) -> Result<Dates, NoTimetable> {
        let header = &self.bench.run.header;
        let Some(likely) = self.task(Sure::Likely) else {
            // likely times are always told
            return Ok(Dates::NotAsked);
        };
        let start = header.start.map(Minute::of);
        let Some(deadline) = header.ready_by else {
            let Some(start) = start else {
                return Ok(Dates::NotAsked);
            };
            let found = schedule::earliest(&likely, start)?;
            return self.calendar(&likely, &found, None);
        };
        let by = Minute::of(deadline);
        let last = match schedule::latest(&likely, by, start) {
            Ok(found) => found,
            Err(NoTimetable::TooLate { .. }) if start.is_some() => {
                let found = schedule::earliest(&likely, start.unwrap_or(by))?;
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
        let sure_start = sure.as_ref().map(|(found, _)| found.starts.date_time());
        // with a start of the maker's own the work is laid out from there
        let (found, chance) = match (start, sure) {
            (Some(start), _) => {
                let found = schedule::earliest(&likely, start)?;
                let chance = self.chance(&likely, &found, by);
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
            likely_start: Some(last.starts.date_time()),
            chance,
            too_late: false,
        };
        self.calendar(&likely, &found, Some(by))
    }

    /// The last spell of work to begin with and be as surely ready as wanted: first by a task
    /// of which everything is that slow, then spell by spell by doing it many times over.
    fn sure_start(
        &self,
        likely: &schedule::Task,
        last: &Timetable,
        (by, start): (Minute, Option<Minute>),
    ) -> Result<Option<(Timetable, Chance)>, NoTimetable> {
        let sure = self.bench.run.header.sure;
        let Some(slow) = self.task(Sure::To(sure)) else {
            return Ok(None);
        };
        let guess = match schedule::latest(&slow, by, start) {
            Ok(found) => found.starts,
            Err(_) => last.starts,
        };
        let Some(first) = guess.plus(-120 * 24 * 60) else {
            return Ok(None);
        };
        let spells: Vec<Minute> = (self.hours.spells(first))
            .map(|spell| spell.from)
            .take_while(|&from| from <= guess)
            .collect();
        for &from in spells.iter().rev().take(MOST_SPELLS) {
            if start.is_some_and(|start| from < start) {
                break;
            }
            let found = schedule::earliest(likely, from)?;
            match self.chance(likely, &found, by) {
                Some(chance) if chance.ready >= sure => return Ok(Some((found, chance))),
                Some(_) => {}
                None => break,
            }
        }
        Ok(None)
    }

    /// How often the work as laid out is ready, if it goes on as soon as it can.
    fn chance(&self, task: &schedule::Task, timetable: &Timetable, by: Minute) -> Option<Chance> {
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

    fn calendar(
        &self,
        task: &schedule::Task,
        timetable: &Timetable,
        by: Option<By>,
    ) -> Result<Dates, NoTimetable> {
        let sittings: Vec<Booked> = (timetable.booked.iter())
            .map(|booked| self.booked(booked, task, timetable))
            .collect();
        let occupied: Vec<(DateTime, Vec<u32>)> = (timetable.occupancy().iter())
            .map(|(at, trays)| (at.date_time(), trays.clone()))
            .collect();
        let most = |trays: &[u32]| trays.iter().sum::<u32>();
        let top = occupied.iter().map(|(_, trays)| most(trays)).max();
        let busiest = occupied.iter().find(|(_, trays)| Some(most(trays)) == top);
        Ok(Dates::Told(Box::new(Calendar {
            start: timetable.starts.date_time(),
            ready: timetable.ready.date_time(),
            waves: task.splits[timetable.split].waves.len(),
            hands_on: Time::from_min(f64::from(timetable.hands_on)),
            busiest: busiest.cloned(),
            occupied,
            limits: schedule::bottleneck(task, timetable)?,
            order_by: self.order_by(&sittings),
            sittings,
            by,
        })))
    }

    fn booked(
        &self,
        booked: &schedule::Booked,
        task: &schedule::Task,
        timetable: &Timetable,
    ) -> Booked {
        let (group, load) = &self.ways[timetable.split].loads[booked.wave];
        let stint = &self.groups[*group].stints[booked.sitting];
        let started: u64 = load.iter().map(|(_, count)| count).sum();
        let wave = &task.splits[timetable.split].waves[booked.wave];
        Booked {
            task: stint.task,
            what: self.words(stint),
            wave: booked.wave + 1,
            pieces: (load.iter())
                .map(|&(piece, count)| (self.bench.pieces[piece].name.clone(), stint.reach(count)))
                .collect(),
            begins: booked.begins.date_time(),
            ends: booked.ends.date_time(),
            next_from: booked.next_from.date_time(),
            lifted: booked.lifted_at.map(Minute::date_time),
            looks: booked
                .looks
                .iter()
                .copied()
                .map(Minute::date_time)
                .collect(),
            trays: match booked.lifted_at {
                Some(_) => wave.trays.clone(),
                None => Vec::new(),
            },
            mixes: stint
                .one_mix
                .map(|serves| stint.reach(started).div_ceil(serves)),
        }
    }

    fn words(&self, stint: &Stint) -> String {
        match stint.task {
            Task::Step { step, .. } => self.bench.run.steps[step].name.clone(),
            Task::Look { time: 1 } => "look every piece over".to_owned(),
            Task::Look { .. } => "look every piece over again".to_owned(),
        }
    }

    /// What a supplier brings, and the last day to order it.
    fn order_by(&self, sittings: &[Booked]) -> Vec<OrderBy> {
        let run = self.bench.run;
        let mut orders = Vec::new();
        let mut order = |what: &str, delivery: Option<Time>, wanted: Option<DateTime>| {
            let (Some(delivery), Some(wanted)) = (delivery, wanted) else {
                return;
            };
            let days = SignedDuration::try_from_secs_f64(delivery.s()).unwrap_or_default();
            orders.push(OrderBy {
                what: what.to_owned(),
                by: wanted.saturating_sub(days).date(),
                wanted,
            });
        };
        let first = |holds: &dyn Fn(usize) -> bool| {
            sittings
                .iter()
                .find(|sitting| matches!(sitting.task, Task::Step { step, .. } if holds(step)))
                .map(|sitting| sitting.begins)
        };
        let begins = sittings.first().map(|sitting| sitting.begins);
        for blank in &run.blanks {
            order(&blank.name, blank.delivery, begins);
        }
        for (index, coating) in run.coatings.iter().enumerate() {
            let delivery = coating.bottle.and_then(|bottle| bottle.delivery);
            let wanted = first(&|step| run.steps[step].work.coating() == Some(index));
            order(&coating.name, delivery, wanted);
        }
        for (index, supply) in run.supplies.iter().enumerate() {
            let wanted = first(&|step| run.steps[step].uses.iter().any(|of| of.supply == index));
            order(&supply.name, supply.delivery, wanted);
        }
        orders.sort_by_key(|order| order.by);
        orders
    }
}
