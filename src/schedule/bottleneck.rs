//! What a run waits for most: hands, trays, or drying.

use super::line::Line;
use super::minute::DAY;
use super::prepared::Prepared;
use super::refusal::NoTimetable;
use super::task::Task;
use super::timetable::Timetable;

/// What keeps a run from being ready sooner, with the figures for one sentence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bottleneck {
    /// The maker's hours.
    Hands {
        /// Pieces that the maker's hours see through all their sittings on one working day, `[1/day]`.
        pieces_a_day: f64,
    },
    /// Trays of one kind.
    Trays {
        /// Which kind.
        kind: usize,
        /// How many there are, `[1]`.
        trays: u32,
        /// How long a tray is taken each time, `[day]`.
        days_on_tray: f64,
        /// Trays that come free a day, `[1/day]`.
        trays_a_day: f64,
        /// Pieces that leave their trays for good a day, `[1/day]`.
        pieces_a_day: f64,
        /// Pieces that the maker's hours see through all their sittings on one working day, `[1/day]`.
        hands_a_day: f64,
    },
    /// Waiting, with hands and trays to spare.
    Drying {
        /// From the first sitting of the slowest wave, all alone, until it is done, `[day]`.
        days: f64,
    },
}

/// The least days that a run takes by each of its limits, `[day]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// By the maker's hours, days off aside.
    pub hands: f64,
    /// By each kind of tray.
    pub trays: Vec<f64>,
    /// By the slowest wave all alone.
    pub drying: f64,
    /// The largest of them.
    pub bottleneck: Bottleneck,
}

/// What keeps a timetable's run from being ready sooner.
///
/// ```text
/// hands   all work / working minutes a day, over a week
/// trays   sum of (trays x time taken) / trays there are
/// drying  the slowest wave's time if it were alone, with all its goods there
/// ```
///
/// Each is time that the run takes even with the others to spare, and the largest limits it.
///
/// # Errors
///
/// [`NoTimetable`] if the task can't be timed, or has no such split.
pub fn bottleneck(task: &Task, timetable: &Timetable) -> Result<Limits, NoTimetable> {
    let at_hand = task.at_hand();
    let prepared = Prepared::of(&at_hand)?;
    let mut splits = prepared.splits.iter();
    let (place, flat) = splits
        .find(|(place, _)| *place == timetable.split)
        .ok_or(NoTimetable::Nothing)?;
    let waves = &task.splits[*place].waves;
    let pieces: f64 = waves.iter().map(|wave| f64::from(wave.pieces)).sum();
    let week = f64::from(task.shop.hours.minutes_a_week());
    let hands = f64::from(timetable.hands_on) / (week / 7.0);
    let a_working_day = week / f64::from(task.shop.hours.days_a_week());
    let hands_a_day = pieces * a_working_day / f64::from(timetable.hands_on);
    let taken = taken(timetable, task.shop.trays.len());
    let mut line = Line::default();
    let mut drying = 0;
    for wave in 0..flat.waves() {
        let start = timetable.starts.number();
        line.begin(flat, start);
        let puts: Vec<_> = (0..flat.sittings(wave))
            .map(|_| line.put(&prepared, flat, wave))
            .collect();
        let alone = puts.last().map_or(0, |last| last.next_from) - puts[0].begins;
        drying = drying.max(alone);
    }
    let drying = days(drying);
    let trays: Vec<f64> = taken
        .iter()
        .zip(&task.shop.trays)
        .map(|(taken, &have)| {
            if taken.days > 0.0 {
                taken.days / f64::from(have)
            } else {
                0.0
            }
        })
        .collect();
    let most = (0..trays.len()).max_by(|&a, &b| trays[a].total_cmp(&trays[b]));
    let bottleneck = match most {
        Some(kind) if trays[kind] > hands && trays[kind] > drying => {
            let have = task.shop.trays[kind];
            let on_trays = waves
                .iter()
                .filter(|wave| wave.trays[kind] > 0)
                .filter(|wave| wave.sittings.iter().any(|sitting| sitting.lifted.is_some()))
                .map(|wave| f64::from(wave.pieces))
                .sum::<f64>();
            let days_on_tray = taken[kind].days / taken[kind].times;
            Bottleneck::Trays {
                kind,
                trays: have,
                days_on_tray,
                trays_a_day: f64::from(have) / days_on_tray,
                pieces_a_day: on_trays / trays[kind],
                hands_a_day,
            }
        }
        _ if hands > drying => Bottleneck::Hands {
            pieces_a_day: hands_a_day,
        },
        _ => Bottleneck::Drying { days: drying },
    };
    Ok(Limits {
        hands,
        trays,
        drying,
        bottleneck,
    })
}

/// How trays of one kind are taken.
#[derive(Clone, Copy, Default)]
struct Taken {
    /// Days times trays.
    days: f64,
    /// How often a tray is taken.
    times: f64,
}

/// How the trays of each kind are taken over a timetable.
fn taken(timetable: &Timetable, kinds: usize) -> Vec<Taken> {
    let mut taken = vec![Taken::default(); kinds];
    for stay in &timetable.stays {
        for (taken, &trays) in taken.iter_mut().zip(&stay.trays) {
            taken.days += f64::from(trays) * days(stay.until.since(stay.from));
            taken.times += f64::from(trays);
        }
    }
    taken
}

#[expect(
    clippy::cast_precision_loss,
    reason = "minutes of a run are far below 2^53"
)]
fn days(minutes: i64) -> f64 {
    minutes as f64 / DAY as f64
}
