//! Laying a run out in time.

use std::collections::BTreeMap;

use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};

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
use crate::schedule::{self, Hours, Minute, NoTimetable, Spread, Timetable, Window};

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
    ratio
        .is_finite()
        .then(|| schedule::chance::above_middle(ratio, share.fraction()))
}

/// How many times the maker's figure the hands take: low, likely and high.
fn hands(run: &Run) -> [f64; 3] {
    if run.hours.first_run {
        FIRST_RUN
    } else {
        OWN_FIGURE
    }
}

/// Works out when everything happens.
pub(super) fn plan(bench: &Bench, notes: &mut Notes) -> Dates {
    let run = bench.run;
    if run.header.ready_by.is_none() && run.header.start.is_none() {
        return Dates::NotAsked;
    }
    match Planner::of(bench, notes) {
        Ok(planner) => planner.dates(),
        Err(chain::Untold(step)) => Dates::Untold {
            step: run.steps[step].name.clone(),
        },
    }
}

/// How often the run is tried for its chance of being ready.
const SAMPLES: u32 = 1000;
/// How far a single sitting is off the maker's own pace: typical, from memory.
const SITTING: Spread = Spread {
    low: 0.9,
    high: 1.15,
};

/// When the run is likely ready, begun as soon as can be. `None` where that can't be told.
pub(super) fn soonest(bench: &Bench) -> Option<DateTime> {
    let planner = Planner::of(bench, &mut Notes::default()).ok()?;
    let start = bench.run.header.start?;
    let task = planner.task(Sure::Likely)?;
    let found = schedule::earliest(&task, planner.hours.minute(start)).ok()?;
    Some(planner.hours.moment(found.ready))
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

struct Planner<'p> {
    bench: &'p Bench<'p>,
    groups: Vec<Group>,
    waits: Numbered,
    ways: Vec<Way>,
    hours: Hours,
}

/// A task with one of its timetables.
type Laid = (schedule::Task, Timetable);

impl<'p> Planner<'p> {
    fn of(bench: &'p Bench<'p>, notes: &mut Notes) -> Result<Self, chain::Untold> {
        let run = bench.run;
        let groups = chain::groups(run, bench.pieces, bench.steps, bench.coatings, notes)?;
        let origin = run.header.start.or(run.header.ready_by);
        let window = |span: &crate::run::ClockSpan| Window {
            from: span.from,
            to: span.to,
        };
        Ok(Self {
            bench,
            waits: Numbered::of(run, &groups, bench.steps),
            ways: waves::ways(&groups, bench.pieces),
            groups,
            hours: Hours {
                origin: origin.map_or(Date::ZERO, DateTime::date),
                days: run
                    .hours
                    .days
                    .each_ref()
                    .map(|day| day.iter().map(window).collect()),
                off: run.hours.off.clone(),
                awake: window(&run.hours.awake),
            },
        })
    }

    /// The run for the scheduler. `None` where a wait can't be that sure.
    fn task(&self, sure: Sure) -> Option<schedule::Task> {
        let run = self.bench.run;
        let [_, likely, high] = hands(run);
        let slower = match sure {
            Sure::Likely => likely,
            Sure::To(share) => {
                likely * schedule::chance::above_middle(high / likely, share.fraction())
            }
        };
        let waits: Option<Vec<schedule::Wait>> = (self.waits.waits.iter())
            .map(|kind| kind.minutes(sure).map(schedule::Wait::by_hour))
            .collect();
        let pace = Pace {
            slower,
            wait: &|until| self.waits.number.get(&until).copied(),
        };
        Some(schedule::Task {
            hours: self.hours.clone(),
            trays: self
                .bench
                .space
                .trays
                .iter()
                .map(|tray| tray.usable)
                .collect(),
            waits: waits?,
            splits: (self.ways.iter())
                .map(|way| way.split(&self.groups, self.bench.space, &pace))
                .collect(),
        })
    }

    fn dates(&self) -> Dates {
        let header = &self.bench.run.header;
        let Some(likely) = self.task(Sure::Likely) else {
            // likely times are always told
            return Dates::NotAsked;
        };
        let start = header.start.map(|at| self.hours.minute(at));
        let Some(deadline) = header.ready_by else {
            let from = start.unwrap_or_default();
            return match schedule::earliest(&likely, from) {
                Ok(found) => Dates::Told(Box::new(self.calendar((likely, found), None))),
                Err(why) => Dates::Never(self.no_dates(&why)),
            };
        };
        let by = self.hours.minute(deadline);
        let likely_latest = match schedule::latest(&likely, by, start) {
            Ok(found) => found,
            Err(NoTimetable::TooLate(found)) => {
                let by = By {
                    deadline,
                    sure_start: None,
                    likely_start: None,
                    chance: None,
                    too_late: true,
                };
                return Dates::Told(Box::new(self.calendar((likely, *found), Some(by))));
            }
            Err(why) => return Dates::Never(self.no_dates(&why)),
        };
        let likely_start = Some(self.hours.moment(likely_latest.starts));
        let surely = self.task(Sure::To(header.sure));
        let sure_latest = surely.and_then(|task| {
            let found = schedule::latest(&task, by, start).ok()?;
            Some((task, found))
        });
        let sure_start = sure_latest
            .as_ref()
            .map(|(_, found)| self.hours.moment(found.starts));
        // with a start of the maker's own the work is laid out from there
        let laid = match (start, sure_latest) {
            (Some(start), _) => match schedule::earliest(&likely, start) {
                Ok(found) => (likely, found),
                Err(why) => return Dates::Never(self.no_dates(&why)),
            },
            (None, Some(laid)) => laid,
            (None, None) => (likely, likely_latest),
        };
        let chance = self.chance(&laid, by);
        let by = By {
            deadline,
            sure_start,
            likely_start,
            chance,
            too_late: false,
        };
        Dates::Told(Box::new(self.calendar(laid, Some(by))))
    }

    /// How often the work as laid out is ready, if it goes on as soon as it can.
    fn chance(&self, (laid, timetable): &Laid, by: Minute) -> Option<Chance> {
        let mut task = self.task(Sure::Likely)?;
        // the order is the laid out one's; the sittings are as long as is likely
        task.splits.truncate(laid.splits.len());
        let [low, likely, high] = hands(self.bench.run);
        let waits: Option<Vec<(Spread, usize)>> = self
            .waits
            .waits
            .iter()
            .map(|kind| self.spread(kind))
            .collect();
        let odds = schedule::chance::Odds {
            waits: waits?,
            hands: Spread {
                low: low / likely,
                high: high / likely,
            },
            sitting: SITTING,
            enough: self
                .bench
                .pieces
                .iter()
                .map(|piece| piece.start_chance.fraction())
                .collect(),
        };
        let seed = self.bench.run.header.seed;
        let found = schedule::chance::chance(&task, timetable, &odds, by, (seed, SAMPLES));
        Some(Chance {
            ready: found.ready,
            enough: found.enough,
            both: found.both,
            when: found.when.map(|minute| self.hours.moment(minute)),
            samples: found.samples,
            seed: found.seed,
        })
    }

    /// How far a wait is spread; coats of one coating share a draw. `None`: it has no upper end.
    fn spread(&self, kind: &Kind) -> Option<(Spread, usize)> {
        let run = self.bench.run;
        let Some((step, band)) = kind.step.zip(kind.band) else {
            return Some((Spread::NONE, run.coatings.len()));
        };
        let spread = Spread {
            low: band.low / band.likely,
            high: band.high / band.likely,
        };
        spread
            .high
            .is_finite()
            .then_some((spread, run.steps[step].work.coating()?))
    }

    fn no_dates(&self, why: &NoTimetable) -> NoDates {
        let of_minutes = |minutes: u32| Time::from_min(f64::from(minutes));
        match *why {
            NoTimetable::TooLong {
                step,
                work,
                longest,
            } => NoDates::TooLong {
                what: self.what(step),
                takes: of_minutes(work),
                longest: of_minutes(longest),
            },
            NoTimetable::Asleep { step } => NoDates::Asleep {
                what: self.what(step),
            },
            NoTimetable::TooFewTrays { .. } => NoDates::NoTrays,
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

    fn calendar(&self, (task, timetable): Laid, by: Option<By>) -> Calendar {
        let moment = |minute| self.hours.moment(minute);
        let sittings: Vec<Booked> = (timetable.booked.iter())
            .map(|booked| self.booked(booked, &task, &timetable))
            .collect();
        Calendar {
            start: moment(timetable.starts),
            ready: moment(timetable.ready),
            waves: task.splits[timetable.split].waves.len(),
            #[expect(clippy::cast_precision_loss, reason = "minutes of one run")]
            hands_on: Time::from_min(timetable.hands_on() as f64),
            occupied: (timetable.occupancy(&task).into_iter())
                .map(|(at, trays)| (moment(at), trays))
                .collect(),
            busiest: timetable
                .busiest(&task)
                .map(|(at, trays)| (moment(at), trays)),
            bottleneck: timetable.bottleneck(&task),
            order_by: self.order_by(&sittings),
            sittings,
            by,
        }
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
        let moment = |minute| self.hours.moment(minute);
        Booked {
            task: stint.task,
            what: self.words(stint),
            wave: booked.wave + 1,
            pieces: (load.iter())
                .map(|&(piece, count)| (self.bench.pieces[piece].name.clone(), stint.reach(count)))
                .collect(),
            begins: moment(booked.begins),
            ends: moment(booked.ends),
            next_from: moment(booked.next_from),
            lifted: booked.lifted.map(moment),
            looks: booked
                .looks(task, timetable.split)
                .into_iter()
                .map(moment)
                .collect(),
            trays: match booked.lifted {
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
