//! What would make a coat dry or cure sooner, worked out by running it again.

use super::air::Air;
use super::compare::{Outcome, whole_outcome};
use super::law::{Band, Law, LawError};
use super::psychro::same_vapour;
use super::situation::Situation;
use super::warning::Warning;
use crate::quantity::{Humidity, Length, Share, Speed, Temperature};

/// One thing a maker can change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Change {
    /// Heat the room's own air, which keeps its water and so gets drier.
    Warm {
        /// To this temperature.
        to: Temperature,
        /// The relative humidity that it then has.
        humidity: Humidity,
    },
    /// Dry the air at the temperature it has.
    Dry {
        /// To this relative humidity.
        to: Humidity,
    },
    /// Move the air.
    Move {
        /// At this speed past the pieces.
        to: Speed,
    },
    /// Put the wet pieces so far apart that they do not slow each other.
    SpreadOut,
    /// Two coats of half the depth, one after the other.
    TwoCoats {
        /// Wet film thickness of each.
        each: Length,
    },
}

/// A change that helps, with what it gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Help {
    /// The change.
    pub change: Change,
    /// How many times the label's time the whole then takes (both coats, for two).
    pub ratio: Band,
    /// What is to be said against it.
    pub caution: Option<Warning>,
}

/// Temperatures worth trying: a heated room, and the label's own.
const WARMER: [Temperature; 2] = [
    Temperature::from_celsius(18.0),
    Temperature::from_celsius(23.0),
];
/// Humidity worth trying: the label's own.
const DRIER: Humidity = Humidity::from_percent(50.0);
/// Air speeds worth trying: an open window, a desk fan.
const FASTER: [Speed; 2] = [Speed::from_m_per_s(0.3), Speed::from_m_per_s(1.0)];
/// A change that saves less than this share of the time is not worth naming.
const WORTH_NAMING: f64 = 0.01;
/// A fan that saves less than this share of a coat's time does little.
const LITTLE: f64 = 0.15;

/// What would help, the greatest help first. Empty where nothing tried would.
///
/// Each is worked out by asking the law again with that one thing changed.
///
/// # Errors
/// As [`compare`](super::compare::compare).
pub fn what_would_help(
    law: &dyn Law,
    label: &Situation,
    here: &Situation,
) -> Result<Vec<Help>, LawError> {
    let now = whole_outcome(law, label, here)?;
    let mut helps = Vec::new();
    for (change, situation) in changes(label, here) {
        let Ok(outcome) = whole_outcome(law, label, &situation) else {
            // half the depth may be thinner than the law covers: then it is no advice
            continue;
        };
        if let Outcome::Times(once) = outcome {
            let ratio = match change {
                Change::TwoCoats { .. } => twice(once),
                _ => once,
            };
            helps.extend(weigh(change, ratio, now, here));
        }
    }
    helps.sort_by(|a, b| a.ratio.likely.total_cmp(&b.ratio.likely));
    Ok(helps)
}

/// Keeps a change that helps, with what is to be said against it.
fn weigh(change: Change, ratio: Band, now: Outcome, here: &Situation) -> Option<Help> {
    let saves = now.likely().map(|now| 1.0 - ratio.likely / now);
    if saves.is_some_and(|saves| saves < WORTH_NAMING) {
        return None;
    }
    let is_fan = matches!(change, Change::Move { to } if to > here.air().speed());
    let caution = saves
        .filter(|&saves| is_fan && saves < LITTLE)
        .map(|saves| Warning::FanDoesLittle {
            saves: Share::from_fraction(saves),
        });
    Some(Help {
        change,
        ratio,
        caution,
    })
}

fn twice(band: Band) -> Band {
    Band {
        low: 2.0 * band.low,
        likely: 2.0 * band.likely,
        high: 2.0 * band.high,
    }
}

/// Every change that can be made here, with the situation that it makes.
fn changes(label: &Situation, here: &Situation) -> Vec<(Change, Situation)> {
    let air = here.air();
    // the piece warms with its room
    let in_air = |air: Air| {
        let mut surroundings = here.surroundings();
        surroundings.surface = None;
        here.with_surroundings(surroundings).in_air(air)
    };
    let warmer = WARMER
        .into_iter()
        .filter(|&to| to > air.temperature())
        .filter_map(|to| same_vapour(&air, to).ok())
        .map(|warm| {
            let change = Change::Warm {
                to: warm.temperature(),
                humidity: warm.humidity(),
            };
            (change, in_air(warm))
        });
    let drier = (air.humidity() > DRIER)
        .then(|| air.with_humidity(DRIER).ok())
        .flatten()
        .map(|dry| (Change::Dry { to: DRIER }, here.in_air(dry)));
    let faster = FASTER
        .into_iter()
        .filter(|&to| to > air.speed())
        .filter_map(|to| Some((Change::Move { to }, here.in_air(air.with_speed(to).ok()?))));
    let apart = here
        .exposure()
        .tray()
        .map(|_| here.exposure().without_neighbours())
        .map(|alone| (Change::SpreadOut, here.exposed(alone)));
    let each = here.wet_depth() / 2.0;
    // A coat thinner than the label's is not promised sooner than the label.
    let thinner =
        (each >= label.wet_depth()).then(|| (Change::TwoCoats { each }, here.at_depth(each)));
    warmer
        .chain(drier)
        .chain(faster)
        .chain(apart)
        .chain(thinner)
        .collect()
}
