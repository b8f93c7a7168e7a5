//! Rooms whose air changes: by day and night, or as a record has it.

use super::season::Stretch;
use super::{Changing, NoPour, Room};
use crate::cure::air::Air;
use crate::cure::hours::mean_air;
use crate::cure::situation::Spell;
use crate::quantity::Time;
use crate::weather::{
    End, Hold, Indoors, IndoorsError, NoRecord, Place, Record, Uncovered, Unread, day_and_night,
    epw, indoors, logger,
};
use jiff::SignedDuration;
use jiff::civil::{DateTime, Time as Clock, time};

/// When the day's air takes over from the night's: a convention of ours.
pub const DAY_FROM: Clock = time(8, 0, 0, 0);
/// And the night's from the day's.
pub const NIGHT_FROM: Clock = time(20, 0, 0, 0);
/// When coats are laid where nobody says: makers pour in the evening, once other work is
/// done (common practice, no source).
pub const EVENING: Clock = time(19, 0, 0, 0);
/// How long days and nights follow one another before a coat counts as never there.
const DAYS_AND_NIGHTS: Time = Time::from_days(60.0);
/// Readings nearer together than this are taken together: a coat hardly sees them apart.
const COARSE: Time = Time::from_min(30.0);

/// What wrote a record down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Written {
    /// A data logger, in the room itself.
    Logger,
    /// A weather file of the open EPW format, outdoors.
    Weather {
        /// One month of it, from 1; or all of it.
        month: Option<i8>,
    },
}

/// A record, and how it becomes a room's air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recording {
    /// What wrote it.
    pub written: Written,
    /// How the room's air comes from it; as it is where this is nothing.
    pub indoors: Option<Indoors>,
    /// What the record does not say of the place.
    pub place: Place,
    /// The clock time at which coats are laid.
    pub pour: Clock,
}

/// A room as a record has it.
#[derive(Debug, Clone, PartialEq)]
pub struct Recorded {
    /// The room.
    pub room: Room,
    /// Every stretch of the record without a gap.
    pub stretches: Vec<Stretch>,
    /// When the stretch that the room is taken from begins.
    pub begins: DateTime,
    /// And ends.
    pub ends: DateTime,
    /// The days of it on which a coat may be laid.
    pub days: usize,
    /// What was odd in the record, and what was done about it.
    pub notices: Vec<String>,
}

impl Recording {
    /// Reads a record's bytes; `name` is only used in messages.
    ///
    /// # Errors
    /// [`NoRoom`].
    pub fn read(&self, bytes: &[u8], name: &str) -> Result<Recorded, NoRoom> {
        let record = match self.written {
            Written::Logger => logger::read(bytes, name)?,
            Written::Weather { month } => {
                let year = epw::read(bytes, name)?;
                match month {
                    Some(month) => year.month(month).map_err(|why| NoRoom::NoMonth {
                        file: name.to_owned(),
                        month,
                        why,
                    })?,
                    None => year,
                }
            }
        };
        let record = match self.indoors {
            Some(room) => indoors(&record, room)?,
            None => record,
        };
        let stretches = stretches(&record, self.place)?;
        let (begins, spells) = stretches
            .iter()
            .max_by(|(_, a), (_, b)| lasts(a).s().total_cmp(&lasts(b).s()))
            .ok_or(NoPour)?;
        let pours = pours((*begins, spells), self.pour);
        let days = pours.len();
        let mut notices: Vec<String> = record.notices().iter().map(ToString::to_string).collect();
        if stretches.len() > 1 {
            notices.push(format!(
                "the record has {} stretches with gaps between; the longest, from {}, is taken for the coats",
                stretches.len(),
                begins.strftime("%-d %B %Y %H:%M")
            ));
        }
        Ok(Recorded {
            room: Room::Changing(Changing::new(spells.clone(), pours)?),
            begins: *begins,
            ends: later(*begins, lasts(spells)).unwrap_or(*begins),
            days,
            notices,
            stretches,
        })
    }
}

/// Why a record makes no room.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoRoom {
    /// The record can't be read.
    #[error(transparent)]
    Unread(#[from] Unread),
    /// It has too little of what was asked for.
    #[error("{file}, month {month}: {why}")]
    NoMonth {
        /// The file's name.
        file: String,
        /// The month.
        month: i8,
        /// Why.
        why: NoRecord,
    },
    /// Outdoor air can't become the room's.
    #[error(transparent)]
    Indoors(#[from] IndoorsError),
    /// The record has no air from its beginning on.
    #[error(transparent)]
    Uncovered(#[from] Uncovered),
    /// No hour of it is one to lay coats at.
    #[error(transparent)]
    NoPour(#[from] NoPour),
}

impl Room {
    /// A room by day and by night, each for twelve hours, in which coats are laid at a
    /// clock time. One air changes to the other at once.
    ///
    /// # Errors
    /// [`NoRoom`], though a room of two airs always has an hour to lay coats at.
    pub fn day_and_night(day: Air, night: Air, pour: Clock) -> Result<Self, NoRoom> {
        let cycle = day_and_night(day, night, DAY_FROM, NIGHT_FROM).map_err(|_| NoPour)?;
        let mut left = DAYS_AND_NIGHTS;
        let spells: Vec<Spell> = cycle
            .spells_from(pour)
            .take_while(|spell| {
                let more = left > Time::ZERO;
                left = left - spell.lasts;
                more
            })
            .collect();
        Ok(Self::Changing(Changing::new(spells, vec![0])?))
    }
}

/// The stretches of a record that have no gap, each with its spells; readings less than
/// half an hour apart are taken together, by their mean temperature and vapour.
///
/// # Errors
/// [`Uncovered`] where it has no air at all.
pub fn stretches(record: &Record, place: Place) -> Result<Vec<Stretch>, Uncovered> {
    let (mut from, ends) = record.span();
    let mut stretches = Vec::new();
    loop {
        let mut spells = record.spells(from, place, Hold::Step)?;
        let air: Vec<Spell> = spells.by_ref().collect();
        if !air.is_empty() {
            stretches.push((from, coarser(&air)));
        }
        from = match spells.end() {
            Some(End::Gap { to, .. }) => to,
            Some(End::OutOfRange { at, .. }) => {
                let later = record.readings().iter().find(|reading| reading.at > at);
                match later {
                    Some(reading) if reading.at < ends => reading.at,
                    _ => break,
                }
            }
            Some(End::OfRecord { .. }) | None => break,
        };
    }
    Ok(stretches)
}

/// The same air in spells of half an hour or longer.
fn coarser(spells: &[Spell]) -> Vec<Spell> {
    let mut coarse = Vec::new();
    let mut first = 0;
    let mut so_far = Time::ZERO;
    for (index, spell) in spells.iter().enumerate() {
        so_far = so_far + spell.lasts;
        if so_far >= COARSE || index + 1 == spells.len() {
            let together = &spells[first..=index];
            coarse.push(match together {
                [only] => *only,
                many => mean(many, so_far),
            });
            (first, so_far) = (index + 1, Time::ZERO);
        }
    }
    coarse
}

/// The mean of spells that last so long together.
fn mean(spells: &[Spell], lasts: Time) -> Spell {
    let weighed = spells.iter().map(|spell| (spell, spell.lasts.s()));
    Spell {
        // means of values within their ranges are within them
        air: mean_air(weighed).unwrap_or(spells[0].air),
        lasts,
    }
}

impl Changing {
    /// The same air, begun at this moment, with coats laid at another clock time.
    ///
    /// # Errors
    /// [`NoPour`] where no spell begins within two hours after it.
    pub fn poured_at(&self, begins: DateTime, pour: Clock) -> Result<Self, NoPour> {
        let pours = pours((begins, self.spells()), pour);
        Self::new(self.spells().to_vec(), pours)
    }
}

/// The spells that begin first at or after a clock time on each day.
fn pours((begins, spells): (DateTime, &[Spell]), pour: Clock) -> Vec<usize> {
    let mut pours = Vec::new();
    let mut poured_on = None;
    let mut passed = Time::ZERO;
    for (index, spell) in spells.iter().enumerate() {
        if let Some(at) = later(begins, passed) {
            let after = minutes_after(pour, at.time());
            // a pour late in the evening may meet its reading past midnight
            let day = at
                .checked_sub(SignedDuration::from_mins(after))
                .map(DateTime::date)
                .ok();
            if after < LATEST_POUR && poured_on != day {
                pours.push(index);
                poured_on = day;
            }
        }
        passed = passed + spell.lasts;
    }
    pours
}

/// A reading may come so many minutes, and not more, after the clock time of the pour.
const LATEST_POUR: i64 = 120;

/// Minutes from one clock time to the next time that it is another.
fn minutes_after(from: Clock, to: Clock) -> i64 {
    let of = |clock: Clock| i64::from(clock.hour()) * 60 + i64::from(clock.minute());
    (of(to) - of(from)).rem_euclid(24 * 60)
}

/// A moment so much later.
pub(super) fn later(begins: DateTime, passed: Time) -> Option<DateTime> {
    let passed = SignedDuration::try_from_secs_f64(passed.s()).ok()?;
    begins.checked_add(passed).ok()
}

fn lasts(spells: &[Spell]) -> Time {
    spells.iter().map(|spell| spell.lasts).sum()
}
