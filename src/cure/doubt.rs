//! How sure a ratio is: the law run again with each thing that is not known well
//! at either end of its range.

use super::air::Air;
use super::case::{Case, Ratio};
use super::enclosure::Enclosure;
use super::law::{Band, LawError};
use crate::quantity::{Humidity, Share, Temperature};
use crate::stage::Stage;

/// How far a home thermometer may be off, and the corner from the middle of the
/// room, `[K]` (typical, from memory).
pub const ROOM_TEMPERATURE: f64 = 0.5;
/// The same of a home hygrometer (typical, from memory).
pub const ROOM_HUMIDITY: Share = Share::from_percent(2.0);
/// How many times faster or slower the air past a coat may move than its word
/// says, `[1]` (our own reading: published texts give 0.03 to 0.15 m/s for still rooms);
/// and how many times more or less often a box's air may be replaced, which nobody measures.
pub const ROOM_AIR: f64 = 2.0;
/// How far a label's time may be rounded, as a share of itself (our own reading).
pub const LABEL_ROUNDED: Share = Share::from_percent(10.0);

/// The band of a ratio: each doubt alone moves it up or down, and what they do
/// is added in quadrature, in logarithms and each side for itself:
///
/// ```text
/// ln(high/likely)^2 = sum of the squares of ln(r/likely) of every r above likely
/// ```
///
/// The doubts are the law's own, the room's (half a kelvin, two points of
/// humidity, how the air moves), a box's (how its air moves, how often it is
/// replaced) and how far a label's time is rounded. The high end is infinite where
/// one of them would stop the coat.
pub(super) fn band(case: &Case, stage: Stage, likely: f64) -> Result<Band, LawError> {
    let mut spread = Spread::default();
    for case in case.doubted() {
        match case.ratio(stage) {
            // the label says that it does get there, so it can't be as bad as that
            Err(LawError::LabelNever(_)) => {}
            ratio => spread.add(ratio?, likely),
        }
    }
    for change in ROOM {
        if let Some(case) = case.in_air(change) {
            spread.add(case.ratio(stage)?, likely);
        }
    }
    for enclosure in as_it_may_be(case.here().enclosure()) {
        let case = case.lying(case.here().enclosed(Some(enclosure)));
        spread.add(case.ratio(stage)?, likely);
    }
    let rounded = LABEL_ROUNDED.fraction().ln_1p();
    spread.step(rounded);
    spread.step(-rounded);
    Ok(Band {
        low: likely * (-spread.down.sqrt()).exp(),
        likely,
        high: likely * spread.up.sqrt().exp(),
    })
}

/// A box as it may be, for all that is known of it: its air moving otherwise, or
/// replaced more or less often than was thought.
fn as_it_may_be(enclosure: Option<Enclosure>) -> Vec<Enclosure> {
    let Some(enclosure) = enclosure else {
        return Vec::new();
    };
    let (speed, changes) = (enclosure.speed_inside(), enclosure.air_changes());
    [1.0 / ROOM_AIR, ROOM_AIR]
        .into_iter()
        .flat_map(|times| {
            [
                enclosure.with_speed_inside(speed * times),
                enclosure.with_air_changes(changes * times),
            ]
        })
        .filter_map(Result::ok)
        .collect()
}

/// The squares of the steps down and up, `[1]`.
#[derive(Default)]
struct Spread {
    down: f64,
    up: f64,
}

impl Spread {
    /// Adds what one doubt makes of a ratio that is likely another.
    fn add(&mut self, ratio: Ratio, likely: f64) {
        self.step(match ratio {
            Ratio::Times(times) => (times / likely).ln(),
            Ratio::Never(_) => f64::INFINITY,
        });
    }

    fn step(&mut self, step: f64) {
        if step > 0.0 {
            self.up += step * step;
        } else {
            self.down += step * step;
        }
    }
}

/// One way in which a room may differ from what is told of it; `None` where that
/// would leave the range of [`Air`] or of humidity.
type RoomDoubt = fn(Air) -> Option<Air>;

/// The room as it may be, for all that its instruments tell.
const ROOM: [RoomDoubt; 6] = [
    |air| warmer(air, -ROOM_TEMPERATURE),
    |air| warmer(air, ROOM_TEMPERATURE),
    |air| damper(air, -ROOM_HUMIDITY.fraction()),
    |air| damper(air, ROOM_HUMIDITY.fraction()),
    |air| air.with_speed(air.speed() / ROOM_AIR).ok(),
    |air| air.with_speed(air.speed() * ROOM_AIR).ok(),
];

fn warmer(air: Air, by: f64) -> Option<Air> {
    let celsius = air.temperature().celsius() + by;
    air.with_temperature(Temperature::from_celsius(celsius))
        .ok()
}

/// A record's dampest hours are left at saturation.
fn damper(air: Air, by: f64) -> Option<Air> {
    let fraction = (air.humidity().fraction() + by).clamp(0.0, 1.0);
    air.with_humidity(Humidity::from_fraction(fraction)).ok()
}
