//! How long a step's coat takes by the hour at which it is laid.

use super::drying::{Coat, Drying};
use crate::coating::Coating;
use crate::drying::{Drier, Room, TimeBand};
use crate::quantity::Time;
use crate::run::Run;
use crate::stage::Stage;
use jiff::civil::Time as Clock;

/// What must be reached before a maker goes on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wait {
    /// The stage that is waited for.
    pub stage: Stage,
    /// How long it takes, laid at the run's own hour.
    pub band: TimeBand,
    /// How long it likely takes, laid in each clock hour from midnight: the longer of what the hour's first
    /// and last minute take. `None`: laid at either it is never there, or nobody can tell.
    pub by_hour: [Option<Time>; 24],
}

/// The waits of one step's slowest coat.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Waits {
    /// Nothing dries.
    None,
    /// It is never there, or nobody can tell when.
    Untold,
    /// As told.
    Told(Box<ToldWaits>),
}

/// The waits of a coat whose times are told.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ToldWaits {
    /// Until the next coat.
    pub recoat: Wait,
    /// Until the piece may be picked up.
    pub handle: Wait,
    /// Until it is dry through and may lie against others, where its label tells either.
    pub through: Option<Wait>,
}

impl Wait {
    /// The later of two waits, hour by hour.
    pub(super) fn or_later(&self, other: &Self) -> Self {
        let longer = if self.band.likely > other.band.likely {
            self
        } else {
            other
        };
        Self {
            stage: longer.stage,
            band: longer.band,
            by_hour: std::array::from_fn(|hour| later(self.by_hour[hour], other.by_hour[hour])),
        }
    }
}

impl Waits {
    /// The waits of a coat, from its outlook.
    pub(super) fn of(
        run: &Run,
        coating: Option<&Coating>,
        coat: Option<&Coat>,
        drying: &Drying,
    ) -> Self {
        let (Some(coating), Some(coat)) = (coating, coat) else {
            return Self::None;
        };
        let Some(timed) = drying.timed() else {
            return Self::Untold;
        };
        let here = |stage: Stage| {
            let told = timed.stages.iter().find(|times| times.stage == stage)?;
            Some((stage, told.here))
        };
        let handle = timed.handled().map(|told| (told.stage, told.here));
        let Some((handle, Some(handled))) = handle else {
            return Self::Untold;
        };
        // bubbles are looked for while the lamp is still off
        let before = timed.before_the_lamp();
        let wait = |stage, band: TimeBand| Wait {
            stage,
            band: band.after(before),
            by_hour: by_hour(run, coating, coat, stage, band.likely)
                .map(|time| Some(time? + before)),
        };
        let recoat = match here(Stage::Recoat) {
            None => wait(handle, handled),
            Some((stage, Some(band))) => wait(stage, band),
            Some((_, None)) => return Self::Untold,
        };
        let mut through: Option<Wait> = None;
        for stage in [Stage::Through, Stage::Bag] {
            match here(stage) {
                None => {}
                Some((stage, Some(band))) => {
                    let told = wait(stage, band);
                    through = Some(match &through {
                        // of two at once the first is what it is called by
                        Some(before) => told.or_later(before),
                        None => told,
                    });
                }
                Some((_, None)) => return Self::Untold,
            }
        }
        Self::Told(Box::new(ToldWaits {
            recoat,
            handle: wait(handle, handled),
            through,
        }))
    }
}

/// The longer of two times; none where either is none.
fn later(a: Option<Time>, b: Option<Time>) -> Option<Time> {
    let (a, b) = (a?, b?);
    Some(if a > b { a } else { b })
}

/// In air that changes each hour has its own time, or none: whatever minute of it a coat is laid at, it
/// is judged by the worse of the hour's two ends.
fn by_hour(
    run: &Run,
    coating: &Coating,
    coat: &Coat,
    stage: Stage,
    likely: Time,
) -> [Option<Time>; 24] {
    if matches!(run.room.over_time, Room::Steady(_)) {
        return [Some(likely); 24];
    }
    let on_the_hour: [Option<Time>; 24] = std::array::from_fn(|hour| {
        let clock = Clock::constant(i8::try_from(hour).unwrap_or(0), 0, 0, 0);
        let room = run.room.poured_at(clock)?;
        let drier = Drier::new(coating, &room).ok()?;
        coat.takes(&drier, stage)
    });
    // an hour ends where the next one begins
    std::array::from_fn(|hour| later(on_the_hour[hour], on_the_hour[(hour + 1) % 24]))
}
