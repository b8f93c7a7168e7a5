//! A task checked and laid out for quick reckoning.

use std::collections::HashMap;

use super::hours::Hours;
use super::minute::{HORIZON, Minute};
use super::refusal::NoTimetable;
use super::starts::{Starts, longest};
use super::task::{OnFace, Sitting, Split, Task, Wave};
use super::wait::{Barred, Reach, WaitId};

/// A task laid out for quick reckoning.
pub(super) struct Prepared<'a> {
    pub task: &'a Task,
    pub hours: &'a Hours,
    pub working: Starts,
    pub starts: Vec<Starts>,
    pub reaches: Vec<Reach>,
    /// The splits that can be timed at all, with their places in the task.
    pub splits: Vec<(usize, Flat)>,
}

/// A split with its waves' sittings one after another.
pub(super) struct Flat {
    pub acts: Vec<Act>,
    /// By wave, the place of its first sitting; and at last their number.
    pub first: Vec<usize>,
    /// By wave, its group, counted from 0 in the order of their numbers, and its place within that.
    pub ranks: Vec<(usize, usize)>,
    /// By wave and kind of tray, how many it takes.
    pub trays: Vec<u32>,
    /// How many kinds of tray there are.
    pub kinds: usize,
    /// By wave, the first wave that is just like it.
    pub twin: Vec<usize>,
    /// Whether some coat takes the next only for a time.
    pub closes: bool,
}

/// A sitting, as the reckoning needs it.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Act {
    pub work: i64,
    /// Which of the prepared [`Starts`].
    pub starts: usize,
    pub next: Option<WaitId>,
    pub lifted: Option<WaitId>,
    pub through: Option<WaitId>,
    /// Whether the wave's next sitting, or being done, waits until all its coats so far are dry through.
    pub until_through: bool,
    /// Whether it waits until they may be lifted.
    pub until_handled: bool,
    /// The first minute in which it may begin; the least there is if it is any.
    pub not_before: i64,
    /// The coat that it lays; none where no coat of its wave takes the next only for a time.
    pub coat: Option<Coat>,
}

/// A coat, as the reckoning needs it.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Coat {
    /// Which of two faces it is on.
    pub face: usize,
    /// How long after it the next on its face may come; the most there is where that is any time.
    pub closes: i64,
}

/// Stands for a coat that takes the next at any time.
const NO_CLOSE: i64 = i64::MAX / 4;

impl Flat {
    pub fn waves(&self) -> usize {
        self.ranks.len()
    }

    /// How many sittings a wave has.
    pub fn sittings(&self, wave: usize) -> usize {
        self.first[wave + 1] - self.first[wave]
    }

    pub fn trays_of(&self, wave: usize) -> &[u32] {
        &self.trays[wave * self.kinds..(wave + 1) * self.kinds]
    }
}

impl<'a> Prepared<'a> {
    pub fn of(task: &'a Task) -> Result<Self, NoTimetable> {
        let hours = &task.shop.hours;
        if hours.minutes_a_week() == 0 {
            return Err(NoTimetable::NoHours);
        }
        if task.splits.is_empty() {
            return Err(NoTimetable::Nothing);
        }
        let reaches: Vec<Reach> = task.waits.iter().map(Reach::from).collect();
        let mut layout = Layout {
            task,
            reaches: &reaches,
            starts: Vec::new(),
            known: HashMap::new(),
            longest: HashMap::new(),
        };
        let mut splits = Vec::new();
        let mut nearest: Option<Far> = None;
        for (place, split) in task.splits.iter().enumerate() {
            check(task, &reaches, split)?;
            match layout.flat(split) {
                Ok(flat) => splits.push((place, flat)),
                Err(refused) => {
                    if nearest.is_none_or(|(by, _)| refused.0 < by) {
                        nearest = Some(refused);
                    }
                }
            }
        }
        let starts = layout.starts;
        match nearest {
            Some((_, refusal)) if splits.is_empty() => Err(refusal),
            _ => Ok(Self {
                task,
                hours,
                working: Starts::working(hours),
                starts,
                reaches,
                splits,
            }),
        }
    }
}

/// Refuses what makes no sense whatever the hours.
fn check(task: &Task, reaches: &[Reach], split: &Split) -> Result<(), NoTimetable> {
    if split.waves.is_empty() || split.waves.iter().any(|wave| wave.sittings.is_empty()) {
        return Err(NoTimetable::Nothing);
    }
    let (kinds, waits) = (task.shop.trays.len(), task.waits.len());
    for (wave, of) in split.waves.iter().enumerate() {
        if of.trays.len() != kinds {
            let told = of.trays.len();
            return Err(NoTimetable::TrayKinds { wave, told, kinds });
        }
        for (sitting, of) in of.sittings.iter().enumerate() {
            if of.look.is_some_and(|look| i64::from(look) > HORIZON) {
                return Err(NoTimetable::TooFar);
            }
            for WaitId(wait) in [of.next, of.lifted, of.through].into_iter().flatten() {
                if wait >= waits {
                    return Err(NoTimetable::UnknownWait {
                        wave,
                        sitting,
                        wait,
                        waits,
                    });
                }
                if reaches[wait].longest() > HORIZON {
                    return Err(NoTimetable::TooFar);
                }
            }
        }
    }
    Ok(())
}

/// What is shared by the splits as they are laid out.
struct Layout<'a> {
    task: &'a Task,
    reaches: &'a [Reach],
    starts: Vec<Starts>,
    known: HashMap<(u32, Option<u32>, Barred), usize>,
    /// The longest part of a spell outside of hours that are barred.
    longest: HashMap<Barred, u32>,
}

/// Why a split can't be timed, with how far it is from being possible: where it has its trays, minutes too many;
/// then trays too many; and what nothing can mend last.
type Far = ((u8, u64), NoTimetable);

impl Layout<'_> {
    fn flat(&mut self, split: &Split) -> Result<Flat, Far> {
        let kinds = self.task.shop.trays.len();
        let mut flat = Flat {
            acts: Vec::new(),
            first: vec![0],
            ranks: ranks(split),
            trays: Vec::with_capacity(split.waves.len() * kinds),
            kinds,
            twin: Vec::with_capacity(split.waves.len()),
            closes: false,
        };
        let mut twins: HashMap<(&[u32], &[Sitting]), usize> = HashMap::new();
        for (place, wave) in split.waves.iter().enumerate() {
            // As a rule a wave is just like the one before it.
            let last = place.checked_sub(1).filter(|&last| {
                let last = &split.waves[last];
                last.trays == wave.trays && last.sittings == wave.sittings
            });
            let twin = match last {
                Some(last) => flat.twin[last],
                None => *twins.entry((&wave.trays, &wave.sittings)).or_insert(place),
            };
            if twin == place {
                self.enough_trays(place, wave)?;
                self.acts(place, wave, &mut flat.acts)?;
            } else {
                let acts = flat.first[twin]..flat.first[twin + 1];
                flat.acts.extend_from_within(acts);
            }
            flat.first.push(flat.acts.len());
            flat.trays.extend(&wave.trays);
            flat.twin.push(twin);
        }
        flat.closes = flat.acts.iter().any(|act| act.coat.is_some());
        Ok(flat)
    }

    fn enough_trays(&self, place: usize, wave: &Wave) -> Result<(), Far> {
        if wave.sittings.iter().all(|sitting| sitting.lifted.is_none()) {
            return Ok(());
        }
        let have = &self.task.shop.trays;
        let mut short = wave.trays.iter().zip(have).enumerate();
        match short.find(|(_, (needed, have))| needed > have) {
            None => Ok(()),
            Some((kind, (&needed, &have))) => Err((
                (1, u64::from(needed - have)),
                NoTimetable::TooFewTrays {
                    wave: place,
                    kind,
                    needed,
                    have,
                },
            )),
        }
    }

    /// Adds what is done to a wave.
    fn acts(&mut self, place: usize, wave: &Wave, acts: &mut Vec<Act>) -> Result<(), Far> {
        let from = acts.len();
        for (sitting, of) in wave.sittings.iter().enumerate() {
            let next = wave.sittings.get(sitting + 1);
            acts.push(Act {
                until_through: next.is_none_or(|next| next.after_through),
                until_handled: next.is_none() || !of.as_it_lies,
                coat: of.coat.map(|coat| Coat {
                    face: usize::from(coat.second),
                    closes: self.closes(wave, sitting, coat),
                }),
                ..self.act(place, of)?
            });
        }
        let closes = |act: &Act| act.coat.is_some_and(|coat| coat.closes < NO_CLOSE);
        if !acts[from..].iter().any(closes) {
            for act in &mut acts[from..] {
                act.coat = None;
            }
        }
        Ok(())
    }

    /// How long after a sitting's coat the next on its face may come. Where work and waits in between take
    /// longer than that anyway, it is past in every timetable, and nothing is held back for it.
    fn closes(&self, wave: &Wave, sitting: usize, coat: OnFace) -> i64 {
        let Some(closes) = coat.closes.map(i64::from) else {
            return NO_CLOSE;
        };
        let shortest =
            |wait: Option<WaitId>| wait.map_or(0, |wait| self.reaches[wait.0].shortest());
        // as this wave would go by itself, at any hour
        let (mut begins, mut through, mut handled) = (0, 0, 0);
        let first_ends = i64::from(wave.sittings[sitting].work);
        let mut gap = 0;
        for (of, next) in wave.sittings[sitting..]
            .iter()
            .zip(&wave.sittings[sitting + 1..])
        {
            let ends = begins + i64::from(of.work);
            through = through.max(ends + shortest(of.through));
            handled = handled.max(ends + shortest(of.lifted));
            begins = ends + shortest(of.next);
            if next.after_through {
                begins = begins.max(through);
            }
            if !of.as_it_lies {
                begins = begins.max(handled);
            }
            gap = begins.max(begins + i64::from(next.work) - first_ends);
            if next.coat.is_some_and(|next| next.second == coat.second) {
                break;
            }
        }
        if gap > closes { NO_CLOSE } else { closes }
    }

    fn act(&mut self, wave: usize, sitting: &Sitting) -> Result<Act, Far> {
        let Sitting {
            step, work, look, ..
        } = *sitting;
        let hours = &self.task.shop.hours;
        let waits = [sitting.next, sitting.lifted, sitting.through];
        let waits = waits.into_iter().flatten();
        let barred = waits.map(|wait| self.task.waits[wait.0].barred());
        let barred = barred.fold(Barred::default(), Barred::and);
        let longest = *(self.longest.entry(barred)).or_insert_with(|| longest(hours, barred));
        if longest == 0 {
            return Err(((2, 0), NoTimetable::NeverThere { step, wave }));
        }
        if work > longest {
            let refusal = NoTimetable::TooLong {
                step,
                wave,
                work,
                longest,
            };
            return Err(((0, u64::from(work - longest)), refusal));
        }
        let starts = *self.known.entry((work, look, barred)).or_insert_with(|| {
            self.starts.push(Starts::of(hours, work, look, barred));
            self.starts.len() - 1
        });
        if let (true, Some(look)) = (self.starts[starts].never(), look) {
            let refusal = NoTimetable::LooksAsleep {
                step,
                wave,
                look,
                work,
            };
            return Err(((2, 0), refusal));
        }
        Ok(Act {
            work: i64::from(work),
            starts,
            next: sitting.next,
            lifted: sitting.lifted,
            through: sitting.through,
            until_through: false,
            until_handled: true,
            not_before: sitting.not_before.map_or(i64::MIN, Minute::number),
            coat: None,
        })
    }
}

/// Each wave's group, counted from 0, and its place within that.
fn ranks(split: &Split) -> Vec<(usize, usize)> {
    let mut groups: Vec<usize> = split.waves.iter().map(|wave| wave.group).collect();
    groups.sort_unstable();
    groups.dedup();
    let mut seen = vec![0; groups.len()];
    let waves = split.waves.iter();
    waves
        .map(|wave| {
            let group = groups.binary_search(&wave.group).expect("it is among them");
            seen[group] += 1;
            (group, seen[group] - 1)
        })
        .collect()
}
